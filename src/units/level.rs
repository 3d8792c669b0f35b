//! Losses and levels in decibel.

use super::dimension::{Dimension, Unit, shifted, unit_of};
use super::{Voltage, unit};

/// A ratio of powers in decibel: a loss, a gain, a difference of two levels.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Decibels(pub f64);

/// A level on a line of 75 ohm, in decibel over one millivolt.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Level {
    pub dbmv: f64,
}

impl Level {
    /// The voltage that it stands for: `1 mV × 10^(L/20)`. Not finite for a level that no line has.
    pub fn voltage(self) -> Voltage {
        Voltage::new::<unit::volt>(0.001 * 10f64.powf(self.dbmv / 20.0))
    }
}

/// 0 dBm across 75 ohm, in dBmV: `10 log10(1 mW × 75 Ω ÷ (1 mV)²)` = 10 log10(75 000).
const MILLIWATT: f64 = 48.750_612_633_917;

/// Base unit: decibel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DecibelDim;

impl Dimension for DecibelDim {
    type Quantity = Decibels;
    const NAME: &'static str = "a loss or gain";
    const UNITS: &'static [Unit] = &[unit_of("dB", &["db", "decibel", "decibels"], 1.0)];
    const LIKELY: (usize, usize) = (0, 0);
    const LEAST: f64 = 0.001;
    const GREATEST: f64 = 200.0;
    fn quantity(base: f64) -> Decibels {
        Decibels(base)
    }
    fn base(quantity: Decibels) -> f64 {
        quantity.0
    }
}

/// Base unit: dBmV, across 75 ohm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LevelDim;

impl Dimension for LevelDim {
    type Quantity = Level;
    const NAME: &'static str = "a level";
    const UNITS: &'static [Unit] = &[
        unit_of("dBmV", &[], 1.0),
        // One millivolt is a thousand microvolt: 60 dB.
        shifted("dBµV", &["dBμV", "dBuV"], 1.0, -60.0),
        shifted("dBm", &[], 1.0, MILLIWATT),
    ];
    const LIKELY: (usize, usize) = (0, 1);
    const LEAST: f64 = 0.0;
    const GREATEST: f64 = 200.0;
    fn quantity(base: f64) -> Level {
        Level { dbmv: base }
    }
    fn base(quantity: Level) -> f64 {
        quantity.dbmv
    }
}
