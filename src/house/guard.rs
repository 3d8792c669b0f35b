//! Protective devices of circuits and outlets, and what they guard.

use petgraph::graph::NodeIndex;

use super::power::{FeedKind, Reached};
use super::topology::House;
use crate::findings::{Lack, Redline};
use crate::plan::{EndpointKind, Entry, Field, List, Protection};

type Devices = Field<List<Protection>>;

impl House<'_> {
    /// Whether a circuit's breaker has a protective device.
    ///
    /// # Errors
    /// The circuit states no `protection`, which is not the same as `protection: []`.
    pub fn circuit_has(&self, circuit: usize, device: Protection) -> Result<bool, Lack> {
        let circuit = &self.plan.circuits[circuit];
        let devices = circuit.protection.want("protection", &circuit.id)?;
        Ok(devices.values().any(|known| *known == device))
    }

    /// Whether a circuit feeds anything.
    pub fn feeds_any(&self, circuit: usize) -> bool {
        let feeds = &self.power().feeds;
        feeds.edges(NodeIndex::new(circuit)).next().is_some()
    }

    /// For each place of a circuit's tree, whether a protective device in it, or in an endpoint
    /// ahead of it, guards it. The breaker's own device is not asked for.
    pub fn guarded(&self, tree: &[Reached], device: Protection) -> Vec<bool> {
        let mut guarded: Vec<bool> = Vec::with_capacity(tree.len());
        // The nodes of a tree come in the order of their distance.
        for reached in tree {
            let ahead = reached.before.is_some_and(|before| guarded[before]);
            let own = self
                .endpoint(reached.node)
                .is_some_and(|endpoint| has(&endpoint.protection, device));
            guarded.push(ahead || own);
        }
        guarded
    }

    /// The lights of a circuit that no protective device in an endpoint ahead guards; `None` if it
    /// feeds none. A lamp on a plug is no light of the circuit, nor is one fed by what hangs on a plug, nor one that is
    /// made for extra-low voltage, up to so many volts.
    pub fn bare_lights(
        &self,
        circuit: usize,
        device: Protection,
        extra_low: f64,
    ) -> Option<Vec<usize>> {
        let tree = self.tree(circuit);
        let guarded = self.guarded(&tree, device);
        let mut wired: Vec<bool> = Vec::with_capacity(tree.len());
        let mut bare: Option<Vec<usize>> = None;
        for (reached, guarded) in tree.iter().zip(guarded) {
            let is_wired = reached
                .before
                .is_none_or(|before| wired[before] && matches!(reached.by, FeedKind::Run(_)));
            wired.push(is_wired);
            let Some(index) = reached.node.endpoint().filter(|_| is_wired) else {
                continue;
            };
            let endpoint = &self.plan.endpoints[index];
            let low = endpoint.made_for();
            if low.is_some_and(|(_, greatest)| greatest.base() <= extra_low) {
                continue;
            }
            if endpoint.kind.value() == Some(&EndpointKind::Light) {
                let bare = bare.get_or_insert_default();
                if !guarded {
                    bare.push(index);
                }
            }
        }
        bare
    }

    /// The redline that adds a protective device to those of a circuit or an endpoint.
    pub fn fit_device<T>(
        &self,
        entry: &Entry<T>,
        devices: &Devices,
        device: Protection,
        title: String,
    ) -> Option<Redline> {
        let mut words: Vec<&str> = devices
            .value()
            .into_iter()
            .flat_map(|list| list.values())
            .map(|known| known.word())
            .collect();
        words.push(device.word());
        let list = format!("[{}]", words.join(", "));
        self.change(title, self.edit(entry, devices, "protection", &list))
    }
}

/// Whether a protective device is named.
pub(super) fn has(devices: &Devices, device: Protection) -> bool {
    devices
        .value()
        .is_some_and(|list| list.values().any(|known| *known == device))
}
