//! A quantity as its author wrote it.

use std::fmt;
use std::marker::PhantomData;

use super::dimension::{Dimension, Unit};
use super::number::{figure3, plain};
use super::spelled::{Misspelling, split_number};

/// Which of a dimension's units. An enumeration and no number, so that the compiler has room in it
/// to say that a value is absent: a plan holds very many that are.
#[derive(Clone, Copy, PartialEq, Eq)]
enum At {
    First,
    Second,
    Third,
    Fourth,
    Fifth,
    Sixth,
    Seventh,
    Eighth,
}

const ALL: [At; 8] = [
    At::First,
    At::Second,
    At::Third,
    At::Fourth,
    At::Fifth,
    At::Sixth,
    At::Seventh,
    At::Eighth,
];

/// No author writes a smaller number, whatever its unit, but nought (common sense, no source).
const SMALLEST: f64 = 1e-9;

/// A number with its unit as written, and the typed quantity on demand.
#[derive(Clone, Copy, PartialEq)]
pub struct Measured<D> {
    number: f64,
    unit: At,
    dimension: PhantomData<D>,
}

impl<D: Dimension> Measured<D> {
    /// `number` of the unit spelled `spelling`; the unit must be one of the dimension's.
    pub fn new(number: f64, spelling: &str) -> Option<Self> {
        let unit = unit_index::<D>(spelling)?;
        Some(Self {
            number,
            unit,
            dimension: PhantomData,
        })
    }

    /// Reads `42 ft`, `42ft`, `8 ft 6 in`, `1-1/4 in`.
    ///
    /// # Errors
    /// What is wrong with the spelling. Infinite and not-a-number values are never accepted,
    /// nor any whose magnitude no house could hold.
    pub fn parse(text: &str) -> Result<Self, Misspelling> {
        let (number, rest) = split_number(text).ok_or(Misspelling::NotANumber)?;
        if rest.is_empty() {
            return Err(Misspelling::NoUnit { number });
        }
        let measured = match unit_index::<D>(rest) {
            Some(unit) => Self {
                number,
                unit,
                dimension: PhantomData,
            },
            None => Self::compound(number, rest).ok_or_else(|| Misspelling::NoSuchUnit {
                unit: rest.to_owned(),
            })?,
        };
        let (number, base) = (measured.number.abs(), measured.base().abs());
        let is_too_small = number != 0.0 && (base < D::LEAST || number < SMALLEST);
        // `contains` is false for NaN, which must not pass.
        if is_too_small || !(0.0..=D::GREATEST).contains(&base) {
            return Err(Misspelling::Unthinkable);
        }
        Ok(measured)
    }

    /// `8 ft 6 in`, `8'-6"`: a second quantity in a smaller unit, kept in the first one's unit.
    fn compound(number: f64, rest: &str) -> Option<Self> {
        let gap = rest.find(|c: char| c.is_ascii_digit())?;
        let first = rest[..gap].trim_end();
        let unit = unit_index::<D>(first.strip_suffix('-').unwrap_or(first))?;
        let (second, second_unit) = split_number(&rest[gap..])?;
        let second_unit = &D::UNITS[unit_index::<D>(second_unit)? as usize];
        let first_unit = &D::UNITS[unit as usize];
        // `20 °C 5 °F` has no meaning.
        let shifted = first_unit.nought != 0.0 || second_unit.nought != 0.0;
        if second < 0.0 || shifted || second_unit.size >= first_unit.size {
            return None;
        }
        let part = second * second_unit.size / first_unit.size;
        Some(Self {
            number: number
                + if number.is_sign_negative() {
                    -part
                } else {
                    part
                },
            unit,
            dimension: PhantomData,
        })
    }

    /// The number as written.
    pub fn number(self) -> f64 {
        self.number
    }

    /// The unit as written.
    pub fn unit(self) -> &'static Unit {
        &D::UNITS[self.unit as usize]
    }

    /// The value in the dimension's base unit.
    pub fn base(self) -> f64 {
        self.number * self.unit().size + self.unit().nought
    }

    /// The typed quantity, for physics.
    pub fn quantity(self) -> D::Quantity {
        D::quantity(self.base())
    }

    /// The nearest hundredth of its unit.
    pub fn to_hundredths(self) -> Self {
        Self {
            number: (self.number * 100.0).round() / 100.0,
            ..self
        }
    }

    /// The next lower hundredth of its unit; a number that is one but for rounding stays.
    pub fn down_to_hundredths(self) -> Self {
        Self {
            number: (self.number * 100.0 + 1e-6).floor() / 100.0,
            ..self
        }
    }

    /// The number to three figures, with its unit: `1.19 in`.
    pub fn rounded_words(self) -> String {
        format!("{} {}", figure3(self.number()), self.unit().spelling)
    }

    /// Another quantity of the same dimension, shown in this one's unit: a sum or a limit that
    /// stands beside what the author wrote.
    pub fn same_unit(self, quantity: D::Quantity) -> Self {
        Self {
            number: (D::base(quantity) - self.unit().nought) / self.unit().size,
            ..self
        }
    }
}

fn unit_index<D: Dimension>(spelling: &str) -> Option<At> {
    D::UNITS
        .iter()
        .position(|unit| unit.spelling == spelling || unit.also.contains(&spelling))
        .and_then(|index| ALL.get(index).copied())
}

impl<D: Dimension> fmt::Display for Measured<D> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", plain(self.number), self.unit().spelling)
    }
}

impl<D: Dimension> fmt::Debug for Measured<D> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}
