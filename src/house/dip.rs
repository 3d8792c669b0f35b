//! How far lights dip when a subwoofer on their circuit draws its peak.

use super::power::{FeedKind, Reached};
use super::topology::House;
use crate::figures::dip::LampDip;
use crate::figures::line::{LoopResistance, Part};
use crate::findings::Lack;
use crate::plan::Service;

impl House<'_> {
    /// The dip at a light, both it and the subwoofer given by their places in the circuit's tree.
    ///
    /// # Errors
    /// The peak or load of the subwoofer, the circuit's volts, a length or conductor of a shared
    /// run is missing; the circuit is a ring, or the two share no run.
    pub fn lamp_dip(
        &self,
        circuit: usize,
        tree: &[Reached],
        subwoofer: usize,
        light: usize,
    ) -> Result<LampDip, Lack> {
        let entry = &self.plan.circuits[circuit];
        let volts = entry.volts.want("volts", &entry.id)?;
        let sub = self.endpoint(tree[subwoofer].node).ok_or(Lack::Reported)?;
        let (peak, load) = (
            sub.peak.want("peak", &sub.id)?,
            sub.load.want("load", &sub.id)?,
        );
        if self.power().rings[circuit].is_some() {
            return Err(Lack::absent(format!(
                "one shared way to the lights of {}",
                entry.id
            )));
        }
        let celsius = self.power_celsius()?;
        let shared = self
            .way(tree, subwoofer)
            .into_iter()
            .zip(self.way(tree, light));
        let parts: Result<Vec<Part>, Lack> = shared
            .take_while(|(a, b)| a == b)
            .map(|(run, _)| {
                let wire = self.wire(run, Service::Power, celsius)?;
                Ok(Part {
                    length: self.length(run)?.distance(),
                    wire,
                    tied: 1,
                })
            })
            .collect();
        let none = || Lack::absent(format!("a run shared by {} and the lights", sub.id));
        let shared = LoopResistance::of(parts?).ok_or_else(none)?;
        LampDip::of(***peak, ***load, ***volts, shared)
            .ok_or_else(|| Lack::absent(format!("a peak of {} above its load", sub.id)))
    }

    /// Runs on the way to a node of a circuit's tree, from the circuit on.
    pub fn way(&self, tree: &[Reached], at: usize) -> Vec<usize> {
        let steps = std::iter::successors(Some(at), |at| tree[*at].before);
        let mut runs: Vec<usize> = steps
            .filter_map(|at| match tree[at].by {
                FeedKind::Run(run) => Some(run),
                FeedKind::Plug | FeedKind::Cord => None,
            })
            .collect();
        runs.reverse();
        runs
    }
}
