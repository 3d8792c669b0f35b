//! Quantities as values of keys, with the bounds that a house sets.

use std::ops::Deref;

use super::reader::Reader;
use super::shape::Shape;
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

/// A quantity within a bound.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bounded<D: Dimension, const BOUND: u8>(pub Measured<D>);

/// A place on one axis of the house; may be negative.
pub type Coordinate = Bounded<LengthDim, SIGNED>;
pub type NonNegative<D> = Bounded<D, FROM_ZERO>;
pub type Positive<D> = Bounded<D, OVER_ZERO>;
/// A length of a room or a run.
pub type Long = Positive<LengthDim>;
/// A diameter, a bore, a screen's width.
pub type Small = Bounded<LengthDim, SMALL>;

impl<D: Dimension, const BOUND: u8> Deref for Bounded<D, BOUND> {
    type Target = Measured<D>;
    fn deref(&self) -> &Measured<D> {
        &self.0
    }
}

impl<D: Dimension, const BOUND: u8> Shape for Bounded<D, BOUND> {
    const WANTS: &'static str = D::NAME;
    fn read(reader: &mut Reader<'_>, node: NodeId) -> Option<Self> {
        let text = reader.scalar(node, D::NAME)?;
        let measured = reader.quantity::<D>(node, text, BOUND >= SMALL)?;
        let fits = match BOUND {
            SIGNED => true,
            FROM_ZERO | SMALL_FROM_ZERO => measured.number() >= 0.0,
            _ => measured.number() > 0.0,
        };
        if fits {
            return Some(Self(measured));
        }
        let allowed = if BOUND == FROM_ZERO || BOUND == SMALL_FROM_ZERO { "zero or more" } else { "more than zero" };
        reader.out_of_range(node, &measured.to_string(), allowed);
        None
    }
}

impl Reader<'_> {
    /// Reads a quantity of one dimension out of a text, reporting what is wrong with it.
    pub(super) fn quantity<D: Dimension>(
        &mut self,
        node: NodeId,
        text: &str,
        small: bool,
    ) -> Option<Measured<D>> {
        match Measured::<D>::parse(text) {
            Ok(measured) => Some(measured),
            Err(slip) => {
                let likely = match (D::LIKELY, small, self.metric) {
                    (_, true, false) => 1,
                    (_, true, true) => 3,
                    ((us, _), false, false) => us,
                    ((_, metric), false, true) => metric,
                };
                let units: Vec<_> = D::UNITS.iter().map(|unit| unit.spelling).collect();
                self.misspelt(node, text, &slip, D::NAME, units[likely], &units);
                None
            }
        }
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
                self.misspelt(node, text, &slip, "a conductor size", likely, &["AWG", "mm2"]);
                None
            }
        }
    }
}
