//! A pull of cables through a conduit: its sections, how the cables lie, the tension behind each section.

use super::{positive, sound};
use crate::units::{Degrees, Distance, KilogramsPerMetre, Newtons, figure3};

/// Newton per kilogram (standard gravity).
const GRAVITY: f64 = 9.806_65;
const NEWTONS_PER_POUND: f64 = 4.448_221_615_260_5;
const METRES_PER_FOOT: f64 = 0.3048;
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
    pub(super) fn side_share(self) -> Option<f64> {
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
    pub(super) fn tensions(&self) -> Option<Vec<f64>> {
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

    /// A pressure on the side of a bend in the units that the pull was written in: lbf/ft or N/m.
    pub fn shown_pressure(&self, newtons_per_metre: f64) -> String {
        if self.is_us() {
            let pounds_per_foot = newtons_per_metre / NEWTONS_PER_POUND * METRES_PER_FOOT;
            format!("{} lbf/ft", figure3(pounds_per_foot))
        } else {
            format!("{} N/m", figure3(newtons_per_metre))
        }
    }

    pub(super) fn is_us(&self) -> bool {
        !matches!(self.weight.unit().spelling, "kg/m" | "kg/km" | "N/m")
    }

    /// A force in the units that the pull was written in: lbf or N.
    pub fn shown(&self, newtons: f64) -> String {
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
