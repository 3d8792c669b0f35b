//! What reaches a device that is fed over its data cable.
//!
//! Power flows out on both conductors of a pair and back on both of another, so a two-pair line has two
//! conductors tied in each leg, and a four-pair line four: [`leg`]. IEEE 802.3's channel resistance is that of the
//! two-pair line; it is half the loop resistance of one pair, and a four-pair line has half of it again.

use super::conductor::OneWay;
use super::line::{LoopResistance, Part};
use super::{Figure, positive, sound};
use crate::units::{Distance, Volts, Watts, figure3};

/// One cable of a powered line. `pairs` is 2 or 4.
pub fn leg(length: Distance, wire: OneWay, pairs: u8) -> Option<Part> {
    matches!(pairs, 2 | 4).then_some(Part {
        length,
        wire,
        tied: pairs,
    })
}

/// Voltage at a device that draws constant power: `V = (Vs + √(Vs² − 4 R P)) / 2`, the upper solution of
/// `P = V (Vs − V) / R`, in V.
#[derive(Debug, Clone, PartialEq)]
pub struct PoeVoltage {
    source: Volts,
    load: Watts,
    line: LoopResistance,
    volts: f64,
}

impl PoeVoltage {
    /// `None` when the voltage is not above zero, the load is negative, anything overflows, or the line cannot
    /// carry the load at all: its voltage collapses. [`PoePower`] tells that case apart, as it is then below the load.
    pub fn of(source: Volts, load: Watts, line: LoopResistance) -> Option<Self> {
        let volts = positive(source.base())?;
        // Shares of the source's voltage, so that no square overflows or dies away.
        let nominal = sound(sound(load.base())? / volts)?;
        let root = 1.0 - 4.0 * sound(line.value() * nominal / volts)?;
        // At the very edge rounding can leave a little less than nothing.
        let root = if root.abs() <= 1e-12 { 0.0 } else { root };
        let volts = positive(volts * (1.0 + sound(root)?.sqrt()) / 2.0)?;
        sound(load.base() / volts)?;
        Some(Self {
            source,
            load,
            line,
            volts,
        })
    }

    /// Current in all conductors of a leg together, in ampere.
    pub fn amperes(&self) -> f64 {
        self.load.base() / self.volts
    }
}

impl Figure for PoeVoltage {
    const NAME: &'static str = "poe-voltage";
    const UNIT: &'static str = "V";

    fn value(&self) -> f64 {
        self.volts
    }

    fn working(&self) -> String {
        let (source, load) = (self.source, self.load);
        let (ohms, volts) = (figure3(self.line.value()), figure3(self.volts));
        let line = self.line.working();
        format!("({source} + √(({source})² − 4 × {ohms} Ω × {load})) ÷ 2 = {volts} V, where {line}")
    }
}

/// Power left for the device when the source gives all that it may, in W: `P − (P / Vs)² R`, and never more than
/// the line can carry at any current, `Vs² / 4R`.
#[derive(Debug, Clone, PartialEq)]
pub struct PoePower {
    volts: Volts,
    power: Watts,
    line: LoopResistance,
    watts: f64,
}

impl PoePower {
    /// `None` when the voltage is not above zero, the power is negative, or anything overflows.
    pub fn of(volts: Volts, power: Watts, line: LoopResistance) -> Option<Self> {
        let (source, ohms) = (positive(volts.base())?, line.value());
        let amperes = sound(sound(power.base())? / source)?;
        let watts = if sound(2.0 * amperes * ohms)? > source {
            source / (4.0 * ohms) * source
        } else {
            power.base() - sound(amperes * amperes * ohms)?
        };
        Some(Self {
            volts,
            power,
            line,
            watts: sound(watts)?,
        })
    }

    fn is_carried(&self) -> bool {
        let amperes = self.power.base() / self.volts.base();
        2.0 * amperes * self.line.value() <= self.volts.base()
    }
}

impl Figure for PoePower {
    const NAME: &'static str = "poe-power";
    const UNIT: &'static str = "W";

    fn value(&self) -> f64 {
        self.watts
    }

    fn working(&self) -> String {
        let (volts, power) = (self.volts, self.power);
        let (ohms, watts) = (figure3(self.line.value()), figure3(self.watts));
        let line = self.line.working();
        if self.is_carried() {
            format!("{power} − ({power} ÷ {volts})² × {ohms} Ω = {watts} W, where {line}")
        } else {
            format!(
                "({volts})² ÷ (4 × {ohms} Ω) = {watts} W, all that the line can carry, where {line}"
            )
        }
    }
}

/// Current in each conductor of a powered cable, for the bundle tables: `P / Vs / pairs`, in A, as each leg is
/// `pairs` conductors.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ConductorCurrent {
    volts: Volts,
    power: Watts,
    pairs: u8,
    amperes: f64,
}

impl ConductorCurrent {
    /// From the source's power and voltage. `None` when the voltage is not above zero, the power is negative, the
    /// pairs are not 2 or 4, or anything overflows.
    pub fn of(volts: Volts, power: Watts, pairs: u8) -> Option<Self> {
        let tied = matches!(pairs, 2 | 4).then_some(f64::from(pairs))?;
        let amperes = sound(sound(power.base())? / positive(volts.base())? / tied)?;
        Some(Self {
            volts,
            power,
            pairs,
            amperes,
        })
    }
}

impl Figure for ConductorCurrent {
    const NAME: &'static str = "poe-current";
    const UNIT: &'static str = "A";

    fn value(&self) -> f64 {
        self.amperes
    }

    fn working(&self) -> String {
        let amperes = figure3(self.amperes);
        let (power, volts, pairs) = (self.power, self.volts, self.pairs);
        format!("{power} ÷ {volts} ÷ {pairs} conductors a leg = {amperes} A in each")
    }
}
