//! Ring final circuits: currents from both ends.

use super::load::ring_nodes;
use super::topology::House;
use crate::figures::ring::{Leg, Ring};
use crate::findings::Lack;
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
    /// Solves a ring, of aluminium where stock states no material if so asked, else of copper.
    ///
    /// # Errors
    /// A leg's length or conductor is missing, so that its currents cannot be known.
    pub fn of(
        house: &House<'_>,
        circuit: usize,
        runs: &[usize],
        aluminium: bool,
    ) -> Result<Self, Lack> {
        let entry = &house.plan.circuits[circuit];
        let volts = entry.volts.want("volts", &entry.id)?.base();
        let mut legs = Vec::with_capacity(runs.len());
        let mut ohms = Vec::with_capacity(runs.len());
        for run in runs {
            legs.push(Leg {
                length: house.length(*run)?.distance(),
                wire: house.power_wire(*run, aluminium)?,
            });
            ohms.push(house.power_ohms_as(*run, aluminium)?);
        }
        let mut lack = None;
        let mut taps = Vec::with_capacity(runs.len());
        for node in ring_nodes(house, circuit, runs) {
            let demand = house.demands()[node.index()];
            lack = lack.or(demand.whole(house).err());
            taps.push(Current::new::<unit::ampere>(demand.watts() / volts));
        }
        let ring = Ring::solve(legs, &taps).ok_or_else(|| {
            Lack::absent(format!("currents that a house could hold on {}", entry.id))
        })?;
        Ok(Self { ring, ohms, lack })
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
