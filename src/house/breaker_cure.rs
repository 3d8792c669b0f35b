//! What may be offered for a breaker that its conductors do not suit.

use super::breaker::{Basis, Wiring};
use super::topology::{House, Node};
use crate::plan::{Entry, Region, Stock};
use crate::tables::ampacity::standard_breakers;
use crate::units::WireSize;

/// Preferred ratings of BS EN 60898, from memory; offered, never judged by.
const METRIC_BREAKERS: [f64; 9] = [6.0, 10.0, 16.0, 20.0, 25.0, 32.0, 40.0, 50.0, 63.0];

/// Sizes of building wire, the thinnest first; offered, never judged by.
const AWG: [i8; 9] = [14, 12, 10, 8, 6, 4, 3, 2, 1];
const METRIC: [f64; 7] = [1.0, 1.5, 2.5, 4.0, 6.0, 10.0, 16.0];

/// A rounding between what a table and what a plan writes.
const ROUNDING: f64 = 1e-9;

fn over(value: f64, limit: f64) -> bool {
    value > limit * (1.0 + ROUNDING)
}

/// The largest breaker made that is no larger than so many ampere: of NEC 240.6(A) in us and ca, of
/// BS EN 60898 elsewhere. `None` below the smallest.
pub fn made_breaker(region: Region, amperes: f64) -> Option<f64> {
    let standard = if region.is_north_american() {
        standard_breakers()
    } else {
        &METRIC_BREAKERS
    };
    let mut sizes = standard.iter().rev().copied();
    sizes.find(|size| !over(*size, amperes))
}

/// What a circuit's breaker must carry.
#[derive(Debug, Clone, Copy)]
pub struct CircuitNeeds {
    /// In ampere, as far as it is known.
    amperes: Option<f64>,
    whole: bool,
}

impl CircuitNeeds {
    /// Whether a breaker carries the load; `None` where that is not known.
    pub fn fits(self, breaker: f64) -> Option<bool> {
        match self.amperes? {
            needs if over(needs, breaker) => Some(false),
            _ => self.whole.then_some(true),
        }
    }
}

impl House<'_> {
    /// The load of a circuit, its continuous part counted by `factor`.
    pub fn circuit_needs(&self, circuit: usize, factor: f64) -> CircuitNeeds {
        let demand = self.demand(Node::of_circuit(circuit));
        let volts = self.plan.circuits[circuit].volts.value();
        let watts = demand.continuous * factor + demand.other;
        CircuitNeeds {
            amperes: volts
                .zip(self.phases(circuit).ok())
                .map(|(volts, phases)| watts / volts.base() / phases.root()),
            whole: demand.whole(self).is_ok(),
        }
    }
}

impl Wiring<'_, '_> {
    /// The thinnest conductor of the same metal, thicker than that of a run's stock, that suits a
    /// breaker of so many ampere where the run lies. Where its method of installation is not stated
    /// no size can be promised: it is then the least that some method allows, as its basis tells.
    pub fn next_size(
        &self,
        run: usize,
        stock: &Entry<Stock>,
        breaker: f64,
    ) -> Option<(WireSize, Basis)> {
        let present = stock.cores.value()?.size;
        let entry = &self.house.plan.runs[run];
        let place = self.place(run);
        let thicker = |size: WireSize| {
            if size.area() <= present.area() {
                return None;
            }
            let allowed = self.allows_size(size, entry, stock, place).ok()?;
            let carries = match allowed.basis {
                Basis::Method { assumed: true, .. } => allowed.most,
                _ => allowed.copper.unwrap_or(allowed.least),
            };
            (!over(breaker, carries)).then_some((size, allowed.basis))
        };
        match present {
            WireSize::Awg(_) => AWG.into_iter().map(WireSize::Awg).find_map(thicker),
            WireSize::Metric(_) => METRIC.into_iter().map(WireSize::Metric).find_map(thicker),
        }
    }
}
