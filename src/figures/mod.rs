//! Pure physics: typed quantities in, a quantity and its working out.
//!
//! Knows: formulas, the standards' tables, how a working is written.
//! Must not know: plans, rules, YAML.
//!
//! A figure is made by a constructor that gives `None` where no sensible value exists (a negative
//! length, no volts, an overflow), so that a value is always finite. Its text is written only when
//! [`Figure::working`] is called: most figures are within their limits and are never shown.

pub mod apart;
pub mod boxfill;
pub mod bundle;
pub mod coax;
pub mod conductor;
pub mod constant_voltage;
pub mod corner;
pub mod damping;
pub mod dip;
pub mod direction;
pub mod drop;
pub mod fill;
pub mod framing;
pub mod head;
pub mod heat;
pub mod insertion;
pub mod jam;
pub mod line;
pub mod load;
pub mod phases;
pub mod picture;
pub mod poe;
pub mod pull;
pub mod ring;
pub mod route;
pub mod tension;
pub mod tied;
pub mod video;

mod text;

/// A computed quantity: its name in RULES.md, the fixed unit of data output, its value in that
/// unit, and how it came about.
pub trait Figure {
    const NAME: &'static str;
    const UNIT: &'static str;
    /// The value in [`Figure::UNIT`]; never infinite, never not a number.
    fn value(&self) -> f64;
    /// How the value came about, in the units that its inputs were written in.
    fn working(&self) -> String;
}

/// Beyond this a change of unit could overflow, and no house holds it.
const GREATEST: f64 = 1e200;

/// A magnitude that physics can use: not negative, and far from overflow.
fn sound(value: f64) -> Option<f64> {
    (0.0..=GREATEST).contains(&value).then_some(value)
}

/// A divisor that physics can use: a magnitude above zero.
fn positive(value: f64) -> Option<f64> {
    sound(value).filter(|&value| value > 0.0)
}
