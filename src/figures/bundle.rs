//! What power conductors may carry when they are bundled.

use super::{Figure, positive};
use crate::tables::ampacity::{Column, adjustment, ampacity};
use crate::tables::conductors::Material;
use crate::units::{Current, WireSize, figure3, unit};

/// Surroundings that NEC table 310.16 is for, in °C.
const TABLE_CELSIUS: f64 = 30.0;

/// Ampacity of bundled conductors, in A: the column of their insulation times the adjustment of NEC 310.15(C)(1), in
/// warmer surroundings times √((T − ambient) ÷ (T − 30 °C)) (equation 310.15(B), from memory), and never more than a
/// lower column allows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BundledAmpacity {
    size: WireSize,
    conductors: u32,
    column: Column,
    base: f64,
    factor: f64,
    /// Of the surroundings, in °C, where they are warmer than the table's.
    ambient: Option<f64>,
    most: Column,
    ceiling: f64,
}

impl BundledAmpacity {
    /// For so many current-carrying conductors together over more than 24 in: from the column of their insulation, never
    /// more than another (of NM cable the 90 °C and the 60 °C column, NEC 334.80, from memory), in surroundings of so
    /// many °C: 30 where they are not known. Colder ones allow no more here. `None` for no conductors, and for sizes that
    /// the table lacks.
    pub fn of(
        size: WireSize,
        material: Material,
        conductors: u32,
        [column, most]: [Column; 2],
        ambient: Option<f64>,
    ) -> Option<Self> {
        Some(Self {
            size,
            conductors,
            column,
            base: positive(ampacity(size, material, column)?.amperes)?,
            factor: adjustment(conductors)?,
            ambient: ambient.filter(|celsius| *celsius > TABLE_CELSIUS),
            most,
            ceiling: positive(ampacity(size, material, most)?.amperes)?,
        })
    }

    /// What the warmth leaves: nothing where the surroundings are as warm as the insulation may be.
    fn correction(&self) -> f64 {
        let degrees = self.column.degrees();
        self.ambient.map_or(1.0, |celsius| {
            ((degrees - celsius) / (degrees - TABLE_CELSIUS))
                .max(0.0)
                .sqrt()
        })
    }

    /// Before the lower column cuts it off, in ampere.
    pub fn adjusted(&self) -> f64 {
        self.base * self.factor * self.correction()
    }

    /// Whether the lower column cuts it off anyway, so that lying together takes nothing away.
    pub fn is_cut_off(&self) -> bool {
        self.adjusted() >= self.ceiling
    }

    /// The column that it is never more than.
    pub fn most(&self) -> Column {
        self.most
    }

    /// Whether the surroundings count.
    pub fn is_warm(&self) -> bool {
        self.ambient.is_some()
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
        let (adjusted, degrees) = (figure3(self.adjusted()), figure3(self.column.degrees()));
        let warm = self.ambient.map_or_else(String::new, |celsius| {
            let left = figure3(self.correction() * 100.0);
            format!(" × {left} % at {} °C", figure3(celsius))
        });
        let mut text = format!(
            "{base} A ({}, {degrees} °C column) × {percent} % for {} conductors{warm} = {adjusted} A",
            self.size, self.conductors
        );
        if self.adjusted() > self.ceiling {
            let (ceiling, degrees) = (figure3(self.ceiling), figure3(self.most.degrees()));
            text += &format!(", at most {ceiling} A of the {degrees} °C column");
        }
        text
    }
}
