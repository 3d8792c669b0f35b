//! Quantities as values of keys, with the bounds that a house sets.

use std::ops::Deref;

use serde_json::{Value, json};

use super::patterns;
use super::reader::Reader;
use super::shape::Shape;
use crate::schema::{Defs, Schema};
use crate::units::{Dimension, LengthDim, Measured, Misspelling, WireSize};
use crate::yaml::NodeId;

/// What a quantity may be.
pub const SIGNED: u8 = 0;
/// Zero or more.
pub const FROM_ZERO: u8 = 1;
/// More than zero.
pub const OVER_ZERO: u8 = 2;
/// More than zero, and usually small: inches or millimetres are the likely unit of a length.
pub const SMALL: u8 = 3;
/// Zero or more, and usually small.
pub const SMALL_FROM_ZERO: u8 = 4;

/// A quantity within a bound, and at most `MOST` base units of its dimension: 0 where the dimension's own greatest will do.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bounded<D: Dimension, const BOUND: u8, const MOST: u32 = 0>(pub Measured<D>);

/// The side of a cinema's screen, and more than any hole, depth or bend (common sense, no source).
pub const SMALL_MOST: u32 = 20;

/// A place on one axis of the house; may be negative.
pub type Coordinate = Bounded<LengthDim, SIGNED>;
pub type NonNegative<D> = Bounded<D, FROM_ZERO>;
pub type Positive<D> = Bounded<D, OVER_ZERO>;
/// A length of a room or a run.
pub type Long = Positive<LengthDim>;
/// A diameter, a bore, a screen's width.
pub type Small = Bounded<LengthDim, SMALL, SMALL_MOST>;
/// The same, or nothing.
pub type SmallFromZero = Bounded<LengthDim, SMALL_FROM_ZERO, SMALL_MOST>;
/// A side of a room or of what stands in it, a span: at most 300 m, a hall's (common sense, no source).
pub type Side = Bounded<LengthDim, OVER_ZERO, 300>;

impl<D: Dimension, const BOUND: u8, const MOST: u32> Deref for Bounded<D, BOUND, MOST> {
    type Target = Measured<D>;
    fn deref(&self) -> &Measured<D> {
        &self.0
    }
}

impl<D: Dimension, const BOUND: u8, const MOST: u32> Schema for Bounded<D, BOUND, MOST> {
    fn schema(defs: &mut Defs) -> Value {
        let (suffix, bound) = match BOUND {
            SIGNED => ("", ""),
            FROM_ZERO | SMALL_FROM_ZERO => (" from zero", ", zero or more"),
            _ => (" over zero", ", more than zero"),
        };
        defs.define(&format!("{}{suffix}", D::NAME), |_| {
            let units: Vec<_> = D::UNITS.iter().map(|unit| unit.spelling).collect();
            let what = format!("{}{bound}, with its unit: {}", D::NAME, units.join(", "));
            let pattern = patterns::alone(BOUND, &patterns::quantity::<D>(BOUND));
            json!({"type": "string", "pattern": pattern, "description": what})
        })
    }
}

impl<D: Dimension, const BOUND: u8, const MOST: u32> Shape for Bounded<D, BOUND, MOST> {
    const WANTS: &'static str = D::NAME;
    fn read(reader: &mut Reader<'_>, node: NodeId) -> Option<Self> {
        let text = reader.scalar(node, D::NAME)?;
        Some(Self(reader.quantity::<D>(node, text, BOUND, MOST)?))
    }
}

/// Whether a number is within a bound.
fn fits(bound: u8, number: f64) -> bool {
    match bound {
        SIGNED => true,
        FROM_ZERO | SMALL_FROM_ZERO => number >= 0.0,
        _ => number > 0.0,
    }
}

impl Reader<'_> {
    /// Reads a quantity of one dimension out of a text, reporting what is wrong with it. `most` as in [`Bounded`].
    pub(super) fn quantity<D: Dimension>(
        &mut self,
        node: NodeId,
        text: &str,
        bound: u8,
        most: u32,
    ) -> Option<Measured<D>> {
        let small = bound >= SMALL;
        match Measured::<D>::parse(text) {
            Ok(measured) if most > 0 && measured.base() > f64::from(most) => {
                let base = D::UNITS.iter().find(|unit| unit.size == 1.0);
                let base = base.map_or("", |unit| unit.spelling);
                self.out_of_range(
                    node,
                    &measured.to_string(),
                    &format!("at most {most} {base}"),
                );
                None
            }
            Ok(measured) if fits(bound, measured.number()) => Some(measured),
            Ok(measured) => {
                let allowed = if fits(bound, 0.0) {
                    "zero or more"
                } else {
                    "more than zero"
                };
                self.out_of_range(node, &measured.to_string(), allowed);
                None
            }
            Err(slip) => {
                let units: Vec<_> = D::UNITS.iter().map(|unit| unit.spelling).collect();
                let small_length = |metric| {
                    units
                        .iter()
                        .position(|unit| *unit == if metric { "mm" } else { "in" })
                };
                let likely = match D::LIKELY {
                    _ if small => small_length(self.metric).unwrap_or(0),
                    (_, metric) if self.metric => metric,
                    (us, _) => us,
                };
                let likely = units.get(likely).copied().filter(|unit| match slip {
                    Misspelling::NoUnit { number } => {
                        fits(bound, number)
                            && Measured::<D>::parse(&format!("{text} {unit}")).is_ok()
                    }
                    _ => true,
                });
                self.misspelt(node, text, &slip, D::NAME, likely, &units);
                None
            }
        }
    }
}

impl Schema for WireSize {
    fn schema(defs: &mut Defs) -> Value {
        defs.define("conductor size", |_| {
            let pattern = patterns::alone(FROM_ZERO, &patterns::wire_size());
            json!({"type": "string", "pattern": pattern, "description": Self::WANTS})
        })
    }
}

impl Shape for WireSize {
    const WANTS: &'static str = "a conductor size, such as 12 AWG or 2.5 mm2";
    fn read(reader: &mut Reader<'_>, node: NodeId) -> Option<Self> {
        let text = reader.scalar(node, "a conductor size")?;
        reader.wire_size(node, text)
    }
}

impl Reader<'_> {
    pub(super) fn wire_size(&mut self, node: NodeId, text: &str) -> Option<WireSize> {
        match WireSize::parse(text) {
            Ok(size) => Some(size),
            Err(Misspelling::NotANumber) => {
                self.unreadable(node, text, "a conductor size, such as 12 AWG or 2.5 mm2");
                None
            }
            Err(slip) => {
                let likely = if self.metric { "mm2" } else { "AWG" };
                let likely =
                    Some(likely).filter(|unit| WireSize::parse(&format!("{text} {unit}")).is_ok());
                self.misspelt(
                    node,
                    text,
                    &slip,
                    "a conductor size",
                    likely,
                    &["AWG", "mm2"],
                );
                None
            }
        }
    }
}
