//! What power conductors may carry when they are bundled.

use super::{Figure, positive};
use crate::tables::ampacity::{Column, adjustment, ampacity};
use crate::tables::conductors::Material;
use crate::units::{Current, WireSize, figure3, unit};

/// Ampacity of bundled NM cable, in A: the 90 °C column times the adjustment of NEC 310.15(C)(1), and never more than
/// the 60 °C column (NEC 334.80, from memory).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BundledAmpacity {
    size: WireSize,
    conductors: u32,
    base: f64,
    factor: f64,
    ceiling: f64,
}

impl BundledAmpacity {
    /// For so many current-carrying conductors together over more than 24 in. `None` for none, and for sizes that
    /// the table lacks.
    pub fn of(size: WireSize, material: Material, conductors: u32) -> Option<Self> {
        Some(Self {
            size,
            conductors,
            base: positive(ampacity(size, material, Column::C90)?.amperes)?,
            factor: adjustment(conductors)?,
            ceiling: positive(ampacity(size, material, Column::C60)?.amperes)?,
        })
    }

    /// Before the 60 °C column cuts it off, in ampere.
    pub fn adjusted(&self) -> f64 {
        self.base * self.factor
    }

    /// How many conductors lie together.
    pub fn conductors(&self) -> u32 {
        self.conductors
    }

    pub fn current(&self) -> Current {
        Current::new::<unit::ampere>(self.value())
    }
}

impl Figure for BundledAmpacity {
    const NAME: &'static str = "bundled-ampacity";
    const UNIT: &'static str = "A";

    fn value(&self) -> f64 {
        self.adjusted().min(self.ceiling)
    }

    fn working(&self) -> String {
        let (base, percent) = (figure3(self.base), figure3(self.factor * 100.0));
        let adjusted = figure3(self.adjusted());
        let mut text = format!(
            "{base} A ({}, 90 °C column) × {percent} % for {} conductors = {adjusted} A",
            self.size, self.conductors
        );
        if self.adjusted() > self.ceiling {
            let ceiling = figure3(self.ceiling);
            text += &format!(", at most {ceiling} A of the 60 °C column");
        }
        text
    }
}
