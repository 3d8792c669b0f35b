//! A ring final circuit: a circuit fed from both ends of its runs.

use super::conductor::OneWay;
use super::drop::Segment;
use super::phases::Phases;
use super::sound;
use crate::units::{Current, Distance, unit};

/// One run of a ring.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Leg {
    pub length: Distance,
    /// One conductor.
    pub wire: OneWay,
}

/// A ring with its currents solved.
///
/// By superposition: a tap's current divides over the two ways to it as the other way's resistance stands
/// to the whole ring's, `I × R_other ÷ (R1 + R2)`; so for one tap the resistance is `R1 R2 ÷ (R1 +
/// R2)`, and at the middle of a ring a quarter of the single run's.
#[derive(Debug, Clone, PartialEq)]
pub struct Ring {
    legs: Vec<Leg>,
    /// Current in each leg, in ampere, counted from the first end; negative from the other.
    amperes: Vec<f64>,
}

impl Ring {
    /// `legs` in order from one end of the ring to the other, `taps` the current drawn between each
    /// leg and the next. `None` unless there is one leg more than taps, or for a negative length
    /// or current, or an overflow.
    pub fn solve(legs: Vec<Leg>, taps: &[Current]) -> Option<Self> {
        if legs.len() != taps.len() + 1 {
            return None;
        }
        let mut total = 0.0;
        for leg in &legs {
            total += leg.wire.loop_ohms(leg.length)?;
        }
        let total = sound(total)?;
        let mut from_start = 0.0;
        let mut first = 0.0;
        for (leg, tap) in legs.iter().zip(taps) {
            from_start += leg.wire.loop_ohms(leg.length)?;
            let amperes = sound(tap.get::<unit::ampere>())?;
            // A ring without length drops nothing, however its currents divide.
            let share = if total > 0.0 {
                (total - from_start) / total
            } else {
                0.5
            };
            first += amperes * share.max(0.0);
        }
        let mut amperes = Vec::with_capacity(legs.len());
        let mut current = sound(first)?;
        amperes.push(current);
        for tap in taps {
            current -= tap.get::<unit::ampere>();
            amperes.push(current);
        }
        let finite = amperes.iter().all(|current| current.is_finite());
        finite.then_some(Self { legs, amperes })
    }

    /// Current in each leg, counted from the first end; negative where it comes from the other.
    pub fn currents(&self) -> impl Iterator<Item = Current> + '_ {
        self.amperes
            .iter()
            .map(|&amperes| Current::new::<unit::ampere>(amperes))
    }

    /// The legs from a tap's nearer end (the one its current comes from) to it, with their currents:
    /// the first segments of a [`super::drop::VoltageDrop`]. `None` for no such tap.
    pub fn path_to(&self, tap: usize) -> Option<Vec<Segment>> {
        if tap + 1 >= self.legs.len() {
            return None;
        }
        let segment = |(leg, &amperes): (&Leg, &f64)| Segment {
            length: leg.length,
            wire: leg.wire,
            current: Current::new::<unit::ampere>(f64::abs(amperes)),
            phases: Phases::One,
        };
        let legs = self.legs.iter().zip(&self.amperes);
        // Along the first end's current only what it feeds; past that point the other end feeds.
        let fed_from_start = self.amperes[tap] >= 0.0;
        Some(if fed_from_start {
            legs.take(tap + 1).map(segment).collect()
        } else {
            legs.skip(tap + 1).rev().map(segment).collect()
        })
    }
}
