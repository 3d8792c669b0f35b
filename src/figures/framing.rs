//! Holes and notches in wood framing.

use super::{Figure, positive, sound};
use crate::tables::framing::{joist, plate_within, stud};
use crate::units::{Distance, figure3};

/// Slack of lengths that were turned from inch to metre.
const ROUNDING: f64 = 1e-9;

/// Wood between a bored hole and the nearest edge of its member, in mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EdgeDistance {
    width: Distance,
    hole: Distance,
    /// Centre of the hole from the nearest edge; centred where not stated.
    centre: Option<Distance>,
    metres: f64,
}

impl EdgeDistance {
    /// A hole of a diameter in a member of a width. `None` when a size is not above zero, or the hole breaks out of
    /// the member: that is no hole but a notch.
    pub fn of(width: Distance, hole: Distance, centre: Option<Distance>) -> Option<Self> {
        let across = positive(width.base())?;
        let radius = positive(hole.base())? / 2.0;
        let from_edge = match centre {
            Some(centre) => {
                let centre = sound(centre.base())?;
                centre.min(sound(across - centre)?)
            }
            None => across / 2.0,
        };
        Some(Self {
            width,
            hole,
            centre,
            metres: sound(from_edge - radius)?,
        })
    }

    /// Whether a steel plate is wanted (NEC 300.4(A)(1): nearer than 1-1/4 in).
    pub fn wants_plate(&self) -> bool {
        plate_within().is_some_and(|edge| self.metres < edge.base() - ROUNDING)
    }

    /// Whether there is enough wood left for a stud (IRC R602.6: 5/8 in).
    pub fn weakens_stud(&self) -> bool {
        stud(true, false).is_some_and(|stud| self.metres < stud.edge.base() - ROUNDING)
    }
}

impl Figure for EdgeDistance {
    const NAME: &'static str = "edge-distance";
    const UNIT: &'static str = "mm";

    fn value(&self) -> f64 {
        self.metres * 1000.0
    }

    fn working(&self) -> String {
        let unit = self.width.unit();
        let result = format!("{} {}", figure3(self.metres / unit.size), unit.spelling);
        match self.centre {
            Some(centre) => format!("{centre} to the nearer edge − {} ÷ 2 = {result}", self.hole),
            None => format!("({} − {}) ÷ 2 = {result}, centred", self.width, self.hole),
        }
    }
}

fn share(of: Distance, share: f64) -> Option<Distance> {
    positive(of.base())?;
    Distance::new(of.number() * share, of.unit().spelling)
}

/// What a stud may lose.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StudLimits {
    /// Greatest diameter of a hole.
    pub hole: Distance,
    /// Greatest depth of a notch.
    pub notch: Distance,
    /// Least wood between a hole and the edge.
    pub edge: Distance,
}

/// Limits of IRC R602.6 for a stud of a width, in the width's unit. `None` unless it is above zero.
pub fn stud_limits(width: Distance, bearing: bool, doubled: bool) -> Option<StudLimits> {
    let shares = stud(bearing, doubled)?;
    Some(StudLimits {
        hole: share(width, shares.hole)?,
        notch: share(width, shares.notch)?,
        edge: shares.edge,
    })
}

/// What a solid-sawn joist may lose.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct JoistLimits {
    /// Greatest diameter of a hole.
    pub hole: Distance,
    /// Greatest depth and length of a notch outside the middle third of the span; within it, none.
    pub notch_depth: Distance,
    pub notch_length: Distance,
    /// Greatest depth of a notch at the end.
    pub end_notch_depth: Distance,
    /// Least wood between a hole and the edges, other holes and notches.
    pub clear: Distance,
}

/// Limits of IRC R502.8.1 for a joist of a depth, in the depth's unit. `None` unless it is above zero.
pub fn joist_limits(depth: Distance) -> Option<JoistLimits> {
    let shares = joist()?;
    Some(JoistLimits {
        hole: share(depth, shares.hole)?,
        notch_depth: share(depth, shares.notch_depth)?,
        notch_length: share(depth, shares.notch_length)?,
        end_notch_depth: share(depth, shares.end_notch_depth)?,
        clear: shares.clear,
    })
}
