//! Conductor sizes: American wire gauge and square millimetres.

use std::fmt;

use super::spelled::{Misspelling, split_number};
use super::{Area, Length, plain, unit};

/// The size of one conductor, as written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum WireSize {
    /// American wire gauge (ASTM B258): 14 for 14 AWG, 0 for 1/0, -3 for 4/0.
    Awg(i8),
    /// Nominal cross-section in square millimetres (IEC 60228).
    Metric(f64),
}

impl WireSize {
    /// Reads `14 AWG`, `1/0 AWG`, `2.5 mm2`, `2.5 mm²`.
    ///
    /// # Errors
    /// What is wrong with the spelling; sizes outside 4/0 to 40 AWG or 0.01 to 1000 mm² are
    /// [`Misspelling::Unthinkable`].
    pub fn parse(text: &str) -> Result<Self, Misspelling> {
        let text = text.trim();
        if let Some((oughts, rest)) = text.split_once("/0") {
            let rest = rest.trim();
            return match oughts.trim().parse::<i8>() {
                Ok(n @ 1..=4) if is_awg(rest) => Ok(Self::Awg(1 - n)),
                Ok(_) if is_awg(rest) => Err(Misspelling::Unthinkable),
                Ok(_) if rest.is_empty() => Err(Misspelling::NoUnit { number: 0.0 }),
                Ok(_) => Err(Misspelling::NoSuchUnit { unit: rest.into() }),
                Err(_) => Err(Misspelling::NotANumber),
            };
        }
        let (number, rest) = split_number(text).ok_or(Misspelling::NotANumber)?;
        match rest {
            "" => Err(Misspelling::NoUnit { number }),
            _ if is_awg(rest) => {
                if number.fract() != 0.0 || !(0.0..=40.0).contains(&number) {
                    return Err(Misspelling::Unthinkable);
                }
                #[expect(clippy::cast_possible_truncation, reason = "0..=40")]
                Ok(Self::Awg(number as i8))
            }
            "mm2" | "mm²" | "mm^2" | "sqmm" => {
                if !(0.01..=1000.0).contains(&number) {
                    return Err(Misspelling::Unthinkable);
                }
                Ok(Self::Metric(number))
            }
            _ => Err(Misspelling::NoSuchUnit { unit: rest.into() }),
        }
    }

    /// Diameter of a solid conductor of this size: ASTM B258, `0.127 mm × 92^((36 − n)/39)`, or
    /// that of a circle of the nominal area.
    pub fn diameter(self) -> Length {
        match self {
            Self::Awg(n) => {
                Length::new::<unit::millimeter>(0.127 * 92f64.powf((36.0 - f64::from(n)) / 39.0))
            }
            Self::Metric(area) => {
                Length::new::<unit::millimeter>(2.0 * (area / std::f64::consts::PI).sqrt())
            }
        }
    }

    /// Cross-section of copper.
    pub fn area(self) -> Area {
        match self {
            Self::Awg(_) => {
                let diameter = self.diameter();
                std::f64::consts::FRAC_PI_4 * (diameter * diameter)
            }
            Self::Metric(area) => Area::new::<unit::square_millimeter>(area),
        }
    }
}

fn is_awg(unit: &str) -> bool {
    unit.eq_ignore_ascii_case("awg") || unit == "ga" || unit == "gauge"
}

impl fmt::Display for WireSize {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self::Awg(n) if n < 0 => write!(f, "{}/0 AWG", 1 - i16::from(n)),
            Self::Awg(0) => write!(f, "1/0 AWG"),
            Self::Awg(n) => write!(f, "{n} AWG"),
            Self::Metric(area) => write!(f, "{} mm2", plain(area)),
        }
    }
}
