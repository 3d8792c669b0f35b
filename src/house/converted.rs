//! What hangs behind a device that passes on another voltage.

use std::collections::HashMap;

use super::power::FeedKind;
use super::topology::{House, Node};
use crate::findings::Lack;
use crate::plan::EndpointKind as Kind;

impl House<'_> {
    /// The supply unit ahead of what is made for less than half of the voltage of a circuit that feeds it.
    pub fn supply_unit_ahead(&self, node: Node, circuit: usize) -> Option<usize> {
        let index = node.endpoint()?;
        let (_, greatest) = self.plan.endpoints[index].made_for()?;
        let volts = self.plan.circuits[circuit].volts.value()?;
        let low = greatest.base() < volts.base() / 2.0;
        self.converter_ahead(index).filter(|_| low)
    }

    /// What is missing of what hangs behind a supply unit.
    pub fn passed_on(&self, unit: usize) -> Lack {
        let id = &self.plan.endpoints[unit].id;
        Lack::absent(format!("the voltage that {id} passes on"))
    }

    /// The power runs on the way from a supply unit (an appliance or a power conditioner) to something that is made for
    /// less than half of its circuit's voltage, each with the unit.
    pub fn behind_supply_units(&self) -> &HashMap<usize, usize> {
        self.converted.get_or_init(|| {
            let mut runs = HashMap::new();
            let mut ends = self.plan.endpoints.iter();
            if ends.any(|end| end.volts.value().is_some()) {
                for circuit in 0..self.plan.circuits.len() {
                    self.find_converted(circuit, &mut runs);
                }
            }
            runs
        })
    }

    fn find_converted(&self, circuit: usize, runs: &mut HashMap<usize, usize>) {
        let Some(volts) = self.plan.circuits[circuit].volts.value() else {
            return;
        };
        let half = volts.base() / 2.0;
        let tree = self.tree(circuit);
        // The nearest unit ahead of each place, and itself where it is one. Places come in the order of their distance.
        let mut units: Vec<Option<usize>> = Vec::with_capacity(tree.len());
        for (at, reached) in tree.iter().enumerate() {
            let ahead = reached.before.and_then(|before| units[before]);
            let end = self.endpoint(reached.node);
            let is_unit = end.and_then(|end| end.kind.value());
            let is_unit = matches!(is_unit, Some(Kind::Appliance | Kind::PowerConditioner));
            units.push(if is_unit { Some(at) } else { ahead });
            let low = end.and_then(|end| end.made_for());
            let (Some((_, greatest)), Some(ahead)) = (low, ahead) else {
                continue;
            };
            let Some(unit) = tree[ahead].node.endpoint() else {
                continue;
            };
            let mut next = (greatest.base() < half).then_some(at);
            while let Some(place) = next.filter(|place| *place != ahead) {
                let FeedKind::Run(run) = tree[place].by else {
                    next = tree[place].before;
                    continue;
                };
                // What is ahead of a run that is known is known too.
                next = match runs.insert(run, unit) {
                    Some(_) => None,
                    None => tree[place].before,
                };
            }
        }
    }
}
