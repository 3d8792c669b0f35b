//! How far data cabling must lie from power cabling.

use super::{Figure, sound};
use crate::tables::separation::{Class, Containment, basic, circuit_factor};
use crate::units::figure3;

/// Least separation in mm: `A = S × P` (EN 50174-2 from the 2009 edition on, tables 4 and 5).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Separation {
    class: Class,
    circuits: u32,
    basic: f64,
    factor: f64,
    memory: bool,
}

impl Separation {
    /// Beside so many single-phase circuits of at most 20 A. `None` for none.
    pub fn of(class: Class, containment: Containment, circuits: u32) -> Option<Self> {
        let printed = basic(class, containment)?;
        let factor = circuit_factor(circuits)?;
        sound(printed.millimetres * factor)?;
        Some(Self {
            class,
            circuits,
            basic: printed.millimetres,
            factor,
            memory: printed.memory,
        })
    }

    /// The basic separation is from memory, not seen in print.
    pub fn is_from_memory(&self) -> bool {
        self.memory
    }
}

impl Figure for Separation {
    const NAME: &'static str = "separation";
    const UNIT: &'static str = "mm";

    fn value(&self) -> f64 {
        self.basic * self.factor
    }

    fn working(&self) -> String {
        let (basic, factor) = (figure3(self.basic), figure3(self.factor));
        let (class, circuits) = (self.class.letter(), self.circuits);
        let result = figure3(self.value());
        let plural = if circuits == 1 { "" } else { "s" };
        format!(
            "{basic} mm (class {class}) × {factor} ({circuits} circuit{plural} of at most 20 A) = {result} mm"
        )
    }
}
