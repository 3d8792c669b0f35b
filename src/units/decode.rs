//! Quantities in sheets and settings, spelled as in a plan.

use serde::{Deserialize, Deserializer, de::Error};

use super::dimension::Dimension;
use super::measured::Measured;
use super::spelled::Misspelling;
use super::wire::WireSize;

impl<'de, D: Dimension> Deserialize<'de> for Measured<D> {
    fn deserialize<R: Deserializer<'de>>(from: R) -> Result<Self, R::Error> {
        let text = String::deserialize(from)?;
        Self::parse(&text).map_err(|slip| {
            let units: Vec<_> = D::UNITS.iter().map(|unit| unit.spelling).collect();
            R::Error::custom(match slip {
                Misspelling::NotANumber => format!("`{text}` is not {}", D::NAME),
                Misspelling::NoUnit { .. } => {
                    format!("`{text}` has no unit; units are {}", units.join(", "))
                }
                Misspelling::NoSuchUnit { unit } => {
                    format!(
                        "`{unit}` is no unit of {}; units are {}",
                        D::NAME,
                        units.join(", ")
                    )
                }
                Misspelling::Unthinkable => format!("`{text}` is beyond reason"),
            })
        })
    }
}

impl<'de> Deserialize<'de> for WireSize {
    fn deserialize<R: Deserializer<'de>>(from: R) -> Result<Self, R::Error> {
        let text = String::deserialize(from)?;
        Self::parse(&text).map_err(|_| R::Error::custom(format!("`{text}` is no conductor size")))
    }
}
