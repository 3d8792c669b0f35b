//! Ring final circuits: currents from both ends.

use super::load::ring_nodes;
use super::topology::House;
use crate::figures::ring::{Leg, Ring};
use crate::findings::Lack;
use crate::plan::Service;
use crate::units::{Current, unit};

/// A circuit's ring with its currents.
#[derive(Debug)]
pub struct SolvedRing {
    pub ring: Ring,
    /// Out-and-back ohms of each leg.
    ohms: Vec<f64>,
    /// A load on the ring that is missing.
    pub lack: Option<Lack>,
}

impl SolvedRing {
    /// Solves a ring; none where a leg's length or conductor is missing, since its currents
    /// cannot be known then.
    pub fn of(house: &House<'_>, circuit: usize, runs: &[usize]) -> Option<Self> {
        let volts = house.plan.circuits[circuit].volts.value()?.base();
        let celsius = house.power_celsius().ok()?;
        let mut legs = Vec::with_capacity(runs.len());
        let mut ohms = Vec::with_capacity(runs.len());
        for run in runs {
            legs.push(Leg {
                length: house.length(*run).ok()?.distance(),
                wire: house.wire(*run, Service::Power, celsius).ok()?,
            });
            ohms.push(house.power_ohms(*run).ok()?);
        }
        let mut lack = None;
        let mut taps = Vec::with_capacity(runs.len());
        for node in ring_nodes(house, runs) {
            let demand = house.demands()[node.index()];
            lack = lack.or(demand.whole(house).err());
            taps.push(Current::new::<unit::ampere>(demand.watts() / volts));
        }
        Some(Self { ring: Ring::solve(legs, &taps)?, ohms, lack })
    }

    /// Volts lost to each tap, in order: the sum of current times resistance from the first end,
    /// where a current that comes from the other end counts negative.
    pub fn volts(&self) -> Vec<f64> {
        let mut volts = 0.0;
        self.ring
            .currents()
            .zip(&self.ohms)
            .map(|(current, ohms)| {
                volts += current.get::<unit::ampere>() * ohms;
                volts
            })
            .collect()
    }
}
