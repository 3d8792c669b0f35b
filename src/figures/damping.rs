//! Damping that is left at a loudspeaker.

use super::line::LoopResistance;
use super::{Figure, positive, sound};
use crate::units::{Ohms, figure3};

/// Damping factor at the loudspeaker's terminals: impedance over the resistance of amplifier output and line,
/// `Z / (Ra + R)`, without unit.
#[derive(Debug, Clone, PartialEq)]
pub struct DampingFactor {
    load: Ohms,
    output: Ohms,
    line: LoopResistance,
    factor: f64,
}

impl DampingFactor {
    /// `None` when the impedance is not above zero, the output's resistance is negative, both resistances are
    /// nothing, or anything overflows.
    pub fn of(load: Ohms, output: Ohms, line: LoopResistance) -> Option<Self> {
        let resistance = positive(sound(output.base())? + line.value())?;
        let factor = positive(positive(load.base())? / resistance)?;
        Some(Self {
            load,
            output,
            line,
            factor,
        })
    }
}

impl Figure for DampingFactor {
    const NAME: &'static str = "damping-factor";
    const UNIT: &'static str = "1";

    fn value(&self) -> f64 {
        self.factor
    }

    fn working(&self) -> String {
        let (ohms, factor) = (figure3(self.line.value()), figure3(self.factor));
        let line = self.line.working();
        format!(
            "{} ÷ ({} + {ohms} Ω) = {factor}, where {line}",
            self.load, self.output
        )
    }
}
