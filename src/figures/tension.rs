//! Tension of a pull through a conduit, and pressure on the sides of its bends.

use super::pull::{Lay, Pull, Section};
use super::{Figure, positive, sound};
use crate::units::{Distance, Force, figure3, unit};

/// Greatest tension of a pull, in N: `T + w L (sin θ + K µ cos θ)` along a straight, `T e^(K µ θ)` round a bend (capstan
/// equation; IEEE 1185). The weight inside a bend is left out.
#[derive(Debug, Clone, PartialEq)]
pub struct PullTension {
    pull: Pull,
    tensions: Vec<f64>,
}

impl PullTension {
    /// `None` when a weight, length, angle, friction or start is negative, a rise is over 90°, three cables do not
    /// fit, or anything overflows.
    pub fn of(pull: Pull) -> Option<Self> {
        let tensions = pull.tensions()?;
        Some(Self { pull, tensions })
    }

    /// Of the two directions the one with the less tension, and whether that is the reverse.
    pub fn better(pull: Pull) -> Option<(Self, bool)> {
        let back = Self::of(pull.reversed())?;
        let forth = Self::of(pull)?;
        Some(if back.value() < forth.value() {
            (back, true)
        } else {
            (forth, false)
        })
    }

    pub fn force(&self) -> Force {
        Force::new::<unit::newton>(self.value())
    }

    pub fn pull(&self) -> &Pull {
        &self.pull
    }

    fn step(&self, index: usize) -> String {
        let tension = self.pull.shown(self.tensions[index]);
        match self.pull.sections[index] {
            Section::Straight { length, rise: 0.0 } => {
                format!("{length} straight: {tension}")
            }
            Section::Straight { length, rise } => {
                format!("{length} at {} deg: {tension}", figure3(rise))
            }
            Section::Bend { angle, .. } => format!("{angle} bend: {tension}"),
        }
    }
}

/// Steps that a working writes out before it leaves some out.
const SHOWN: usize = 8;

impl Figure for PullTension {
    const NAME: &'static str = "pull-tension";
    const UNIT: &'static str = "N";

    fn value(&self) -> f64 {
        self.tensions
            .iter()
            .copied()
            .fold(self.pull.start.base(), f64::max)
    }

    fn working(&self) -> String {
        let count = self.tensions.len();
        let mut steps = Vec::new();
        for index in 0..count {
            if count <= SHOWN || index < 3 || index + 3 >= count {
                steps.push(self.step(index));
            } else if index == 3 {
                steps.push(format!("{} more", count - 6));
            }
        }
        if steps.is_empty() {
            steps.push("no section".into());
        }
        let pull = &self.pull;
        let correction = match pull.lay {
            Lay::One => String::new(),
            Lay::Uncorrected(cables) => format!(", no weight correction for {cables} cables"),
            Lay::Cradled(_) | Lay::Triangular(_) => {
                let lie = if matches!(pull.lay, Lay::Cradled(_)) {
                    "cradled"
                } else {
                    "triangular"
                };
                let factor = figure3(pull.lay.weight_correction().unwrap_or(1.0));
                format!(", weight correction {factor} (three cables, {lie})")
            }
        };
        format!(
            "{}, with {} and friction {}{correction}",
            steps.join(", "),
            pull.weight,
            figure3(pull.friction)
        )
    }
}

/// Greatest pressure on the side of a bend, in N per m of its radius: tension behind the bend over the radius, times
/// the share that the worst of three cables bears.
#[derive(Debug, Clone, PartialEq)]
pub struct SidewallPressure {
    pull: Pull,
    /// Tension in N, radius as written, of the worst bend.
    worst: Option<(f64, Distance)>,
    pressure: f64,
}

impl SidewallPressure {
    /// `None` when there is no tension ([`PullTension::of`]), or a bend has no radius above zero. No bend is no pressure.
    pub fn of(pull: Pull) -> Option<Self> {
        let share = pull.lay.side_share()?;
        let tensions = pull.tensions()?;
        let (mut worst, mut pressure) = (None, 0.0);
        for (section, tension) in pull.sections.iter().zip(tensions) {
            let Section::Bend { radius, .. } = *section else {
                continue;
            };
            let radius = radius?;
            let here = sound(share * tension / positive(radius.base())?)?;
            if here >= pressure {
                (worst, pressure) = (Some((tension, radius)), here);
            }
        }
        Some(Self {
            pull,
            worst,
            pressure,
        })
    }
}

impl Figure for SidewallPressure {
    const NAME: &'static str = "sidewall-pressure";
    const UNIT: &'static str = "N/m";

    fn value(&self) -> f64 {
        self.pressure
    }

    fn working(&self) -> String {
        let Some((tension, radius)) = self.worst else {
            return "no bend = 0 N/m".into();
        };
        let pressure = self.pull.shown_pressure(self.pressure);
        let share = match self.pull.lay.side_share() {
            Some(share) if share != 1.0 => format!("{} × ", figure3(share)),
            _ => String::new(),
        };
        format!(
            "{share}{} ÷ {radius} = {pressure}",
            self.pull.shown(tension)
        )
    }
}
