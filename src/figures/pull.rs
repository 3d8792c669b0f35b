//! Tension of a pull through a conduit, and pressure on the sides of its bends.

use super::{Figure, positive, sound};
use crate::units::{
    Degrees, Distance, Force, ForcePerLength, KilogramsPerMetre, Newtons, figure3, unit,
};

/// Newton per kilogram (standard gravity).
const GRAVITY: f64 = 9.806_65;
const NEWTONS_PER_POUND: f64 = 4.448_221_615_260_5;
/// Bounds of conduit over cable diameter for how three cables lie (IEEE 1185, AEIC, from memory): triangular below
/// the first; above it they may lie cradled, which counts heavier.
const TRIANGULAR_BELOW: f64 = 2.5;

/// One part of a conduit, in the order of the pull.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Section {
    /// Straight; `rise` in degree upwards in the direction of the pull, 0 for level.
    Straight { length: Distance, rise: f64 },
    /// Bend; its radius to the inside of the curve is needed for the sidewall pressure alone.
    Bend {
        angle: Degrees,
        radius: Option<Distance>,
    },
}

/// How the cables lie, which weighs on the friction.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Lay {
    One,
    /// Three of one diameter side by side; the ratio is conduit over cable diameter.
    Cradled(f64),
    /// Three of one diameter in a triangle; the ratio is conduit over cable diameter.
    Triangular(f64),
    /// Any other number: no correction is published, and none is made.
    Uncorrected(usize),
}

impl Lay {
    /// How cables of these diameters lie in a conduit. `None` when a diameter is not above zero, or there is no cable.
    pub fn of(bore: Distance, cables: &[Distance]) -> Option<Self> {
        let bore = positive(bore.base())?;
        for cable in cables {
            positive(cable.base())?;
        }
        Some(match cables {
            [] => return None,
            [_] => Self::One,
            [a, b, c] if alike(*a, *b) && alike(*a, *c) => {
                let ratio = positive(bore / a.base())?;
                if ratio < TRIANGULAR_BELOW {
                    Self::Triangular(ratio)
                } else {
                    Self::Cradled(ratio)
                }
            }
            others => Self::Uncorrected(others.len()),
        })
    }

    /// The weight correction K: `1 + 4/3 (d/(D − d))²` cradled, `1/√(1 − (d/(D − d))²)` triangular (IEEE 1185, AEIC,
    /// from memory), else 1. `None` where three such cables do not fit.
    pub fn weight_correction(self) -> Option<f64> {
        let share = |ratio: f64| positive(ratio - 1.0).map(|over| (1.0 / over).powi(2));
        match self {
            Self::One | Self::Uncorrected(_) => Some(1.0),
            Self::Cradled(ratio) => sound(1.0 + 4.0 / 3.0 * share(ratio)?),
            Self::Triangular(ratio) => positive(1.0 / positive(1.0 - share(ratio)?)?.sqrt()),
        }
    }

    /// Share of the tension over the radius that presses the worst cable: `(3K − 2)/3` cradled, `K/2` triangular
    /// (IEEE 1185, from memory), else all of it.
    fn side_share(self) -> Option<f64> {
        let correction = self.weight_correction()?;
        Some(match self {
            Self::One | Self::Uncorrected(_) => 1.0,
            Self::Cradled(_) => (3.0 * correction - 2.0) / 3.0,
            Self::Triangular(_) => correction / 2.0,
        })
    }
}

fn alike(a: Distance, b: Distance) -> bool {
    (a.base() - b.base()).abs() <= 0.01 * a.base()
}

/// A pull of all cables of a conduit together.
#[derive(Debug, Clone, PartialEq)]
pub struct Pull {
    /// In the order of the pull.
    pub sections: Vec<Section>,
    /// All cables together.
    pub weight: KilogramsPerMetre,
    /// Coefficient of friction.
    pub friction: f64,
    pub lay: Lay,
    /// Tension at the reels.
    pub start: Newtons,
}

impl Pull {
    /// The same conduit pulled from its other end.
    pub fn reversed(&self) -> Self {
        let turned = |section: &Section| match *section {
            Section::Straight { length, rise } => Section::Straight {
                length,
                rise: -rise,
            },
            bend @ Section::Bend { .. } => bend,
        };
        Self {
            sections: self.sections.iter().rev().map(turned).collect(),
            ..self.clone()
        }
    }

    /// Tension in newton behind each section.
    fn tensions(&self) -> Option<Vec<f64>> {
        let friction = sound(self.friction)? * self.lay.weight_correction()?;
        let weight = sound(sound(self.weight.base())? * GRAVITY)?;
        let mut tension = sound(self.start.base())?;
        let mut tensions = Vec::with_capacity(self.sections.len());
        for section in &self.sections {
            tension = match *section {
                Section::Straight { length, rise } => {
                    let rise = (-90.0..=90.0).contains(&rise).then(|| rise.to_radians())?;
                    let share = rise.sin() + friction * rise.cos();
                    let more = sound(sound(length.base())? * weight)? * share;
                    // A cable does not push: where its weight outruns friction the tension ends at nothing.
                    sound((tension + more).max(0.0))?
                }
                Section::Bend { angle, .. } => {
                    let radians = sound(angle.base())?.to_radians();
                    sound(tension * sound((friction * radians).exp())?)?
                }
            };
            tensions.push(tension);
        }
        Some(tensions)
    }

    fn is_us(&self) -> bool {
        !matches!(self.weight.unit().spelling, "kg/m" | "kg/km" | "N/m")
    }

    fn shown(&self, newtons: f64) -> String {
        if self.is_us() {
            format!("{} lbf", figure3(newtons / NEWTONS_PER_POUND))
        } else {
            format!("{} N", figure3(newtons))
        }
    }
}

/// Sections of a conduit of which only its length and its bends are known: the bends in their order, the straights
/// between and around them all of one length. `None` when the length is negative or no number.
pub fn even_spread(
    length: Distance,
    bends: &[Degrees],
    radius: Option<Distance>,
) -> Option<Vec<Section>> {
    sound(length.base())?;
    #[expect(clippy::cast_precision_loss, reason = "a conduit has a few bends")]
    let share = length.number() / (bends.len() + 1) as f64;
    let length = Distance::new(share, length.unit().spelling)?;
    let straight = Section::Straight { length, rise: 0.0 };
    let mut sections = vec![straight];
    for &angle in bends {
        sections.push(Section::Bend { angle, radius });
        sections.push(straight);
    }
    Some(sections)
}

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

    pub fn force_per_length(&self) -> ForcePerLength {
        Force::new::<unit::newton>(self.pressure) / crate::units::Length::new::<unit::meter>(1.0)
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
        let pressure = if self.pull.is_us() {
            format!(
                "{} lbf/ft",
                figure3(self.pressure / NEWTONS_PER_POUND * 0.3048)
            )
        } else {
            format!("{} N/m", figure3(self.pressure))
        };
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
