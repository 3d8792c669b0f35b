//! Heat in a closed room, the air that takes it away, and the supply behind it.

use super::text::sum;
use super::{Figure, positive, sound};
use crate::tables::heat::{air_heat_per_volume, btu_per_hour};
use crate::units::{Watts, figure3};

/// Cubic metre per hour in one cubic foot per minute: 0.3048³ × 60.
const CFM: f64 = 1.699_010_795_52;

/// Heat that devices leave in a room, in W: all that they draw, less what leaves the room by speaker lines.
#[derive(Debug, Clone, PartialEq)]
pub struct Heat {
    drawn: Vec<Watts>,
    delivered: Vec<Watts>,
    watts: f64,
}

impl Heat {
    /// `None` when a power is negative, more is delivered than drawn, or anything overflows.
    pub fn of(drawn: Vec<Watts>, delivered: Vec<Watts>) -> Option<Self> {
        let total = |powers: &[Watts]| {
            let mut watts = 0.0;
            for power in powers {
                watts += sound(power.base())?;
            }
            Some(watts)
        };
        let watts = sound(total(&drawn)? - total(&delivered)?)?;
        Some(Self {
            drawn,
            delivered,
            watts,
        })
    }

    /// In BTU/h.
    pub fn btu_per_hour(&self) -> f64 {
        self.watts * btu_per_hour()
    }
}

impl Figure for Heat {
    const NAME: &'static str = "heat";
    const UNIT: &'static str = "W";

    fn value(&self) -> f64 {
        self.watts
    }

    fn working(&self) -> String {
        let text = |power: &Watts| power.to_string();
        let size = |power: &Watts| power.base();
        let mut terms = match self.drawn.as_slice() {
            [] => "no load".into(),
            drawn => sum(drawn, size, text, "W"),
        };
        if !self.delivered.is_empty() {
            terms = format!("{terms} − ({})", sum(&self.delivered, size, text, "W"));
        }
        let (watts, btu) = (figure3(self.watts), figure3(self.btu_per_hour()));
        format!("{terms} = {watts} W ({btu} BTU/h)")
    }
}

/// Air that must pass a room to hold its temperature, in m3/h: `P / (ρ c ΔT)`, with air at 20 °C.
#[derive(Debug, Clone, PartialEq)]
pub struct Airflow {
    heat: f64,
    rise: f64,
    cubic_metres: f64,
}

impl Airflow {
    /// `rise` in kelvin over the air that comes in. `None` when it is not above zero, or anything overflows.
    pub fn of(heat: &Heat, rise: f64) -> Option<Self> {
        let per_second = heat.watts / positive(air_heat_per_volume() * positive(rise)?)?;
        Some(Self {
            heat: heat.watts,
            rise,
            cubic_metres: sound(per_second * 3600.0)?,
        })
    }

    /// In cubic foot per minute.
    pub fn cubic_feet_per_minute(&self) -> f64 {
        self.cubic_metres / CFM
    }
}

impl Figure for Airflow {
    const NAME: &'static str = "airflow";
    const UNIT: &'static str = "m3/h";

    fn value(&self) -> f64 {
        self.cubic_metres
    }

    fn working(&self) -> String {
        let (heat, rise) = (figure3(self.heat), figure3(self.rise));
        let (metric, feet) = (
            figure3(self.cubic_metres),
            figure3(self.cubic_feet_per_minute()),
        );
        let air = figure3(air_heat_per_volume());
        format!("{heat} W × 3600 s/h ÷ ({air} J/(m3 K) × {rise} K) = {metric} m3/h ({feet} CFM)")
    }
}

/// Mains power that amplifiers draw at a share of their rated output: `idle + n P s / η`, an estimate, in W.
/// `None` when a number is negative, the efficiency is not above 0 and at most 1, or anything overflows.
pub fn amplifier_draw(
    channels: u32,
    rated: Watts,
    share: f64,
    efficiency: f64,
    idle: Watts,
) -> Option<f64> {
    let efficiency = positive(efficiency).filter(|&efficiency| efficiency <= 1.0)?;
    let output = sound(f64::from(channels) * sound(rated.base())? * sound(share)?)?;
    sound(sound(idle.base())? + sound(output / efficiency)?)
}

/// Apparent power of loads behind an uninterruptible supply, in VA: `P / cos φ`.
#[derive(Debug, Clone, PartialEq)]
pub struct ApparentPower {
    loads: Vec<Watts>,
    power_factor: f64,
    volt_amperes: f64,
}

impl ApparentPower {
    /// `None` when a load is negative, the power factor is not above 0 and at most 1, or anything overflows.
    pub fn of(loads: Vec<Watts>, power_factor: f64) -> Option<Self> {
        let factor = positive(power_factor).filter(|&factor| factor <= 1.0)?;
        let mut watts = 0.0;
        for load in &loads {
            watts += sound(load.base())?;
        }
        Some(Self {
            loads,
            power_factor,
            volt_amperes: sound(watts / factor)?,
        })
    }
}

impl Figure for ApparentPower {
    const NAME: &'static str = "apparent-power";
    const UNIT: &'static str = "VA";

    fn value(&self) -> f64 {
        self.volt_amperes
    }

    fn working(&self) -> String {
        let terms = match self.loads.as_slice() {
            [] => "no load".into(),
            loads => sum(loads, |load| load.base(), Watts::to_string, "W"),
        };
        let (factor, result) = (figure3(self.power_factor), figure3(self.volt_amperes));
        format!("({terms}) ÷ {factor} = {result} VA")
    }
}
