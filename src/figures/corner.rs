//! Where a line's treble begins to fall.

use std::f64::consts::TAU;

use super::text::sum;
use super::{Figure, positive, sound};
use crate::units::{Distance, FaradsPerMetre, Hertz, Length, Ohms, figure3, unit};

/// One cable of a line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stretch {
    pub length: Distance,
    pub capacitance: FaradsPerMetre,
}

impl Stretch {
    fn farads(&self) -> Option<f64> {
        sound(sound(self.length.base())? * sound(self.capacitance.base())?)
    }

    fn text(&self) -> String {
        format!("{} × {}", self.length, self.capacitance)
    }
}

/// Frequency at which the source's resistance and the cables' capacitance take 3 dB: `f = 1 / (2π R C)`, in Hz.
/// The load's own capacitance is left out.
#[derive(Debug, Clone, PartialEq)]
pub struct CornerFrequency {
    source: Ohms,
    cables: Vec<Stretch>,
    hertz: f64,
}

impl CornerFrequency {
    /// `None` when resistance or capacitance is not above zero, a length is negative, or anything overflows.
    pub fn of(source: Ohms, cables: Vec<Stretch>) -> Option<Self> {
        let mut farads = 0.0;
        for cable in &cables {
            farads += cable.farads()?;
        }
        let seconds = positive(positive(source.base())? * positive(farads)?)?;
        let hertz = positive(1.0 / (TAU * seconds))?;
        Some(Self {
            source,
            cables,
            hertz,
        })
    }
}

impl Figure for CornerFrequency {
    const NAME: &'static str = "corner-frequency";
    const UNIT: &'static str = "Hz";

    fn value(&self) -> f64 {
        self.hertz
    }

    fn working(&self) -> String {
        let farads = |cable: &Stretch| cable.farads().unwrap_or(0.0) * 1e12;
        let cables = sum(&self.cables, farads, Stretch::text, "pF");
        let hertz = figure3(self.hertz);
        format!("1 ÷ (2π × {} × ({cables})) = {hertz} Hz", self.source)
    }
}

/// The longest cable that keeps the corner at `corner` or above: `L = 1 / (2π R f c)`.
pub fn greatest_length(source: Ohms, capacitance: FaradsPerMetre, corner: Hertz) -> Option<Length> {
    let ohms = positive(source.base())?;
    let farads = positive(capacitance.base())?;
    let product = positive(TAU * ohms * farads * positive(corner.base())?)?;
    Some(Length::new::<unit::meter>(positive(1.0 / product)?))
}
