//! What cores tied together amount to.

use super::{Figure, positive};
use crate::units::{Area, WireSize, figure3, unit};

/// Cross-section of cores tied in parallel, and the AWG number that it would have.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EquivalentSize {
    core: WireSize,
    tied: u8,
    area: f64,
}

impl EquivalentSize {
    /// `None` for no core.
    pub fn of(core: WireSize, tied: u8) -> Option<Self> {
        let area = core.area().get::<unit::square_millimeter>() * f64::from(tied);
        Some(Self {
            core,
            tied,
            area: positive(area)?,
        })
    }

    pub fn area(&self) -> Area {
        Area::new::<unit::square_millimeter>(self.area)
    }

    /// The AWG number of a solid conductor of this area, real-valued, below zero from 2/0 up: ASTM
    /// B258 solved for it, `36 − 39 log92(d / 0.127 mm)`.
    pub fn awg(&self) -> f64 {
        let diameter = 2.0 * (self.area / std::f64::consts::PI).sqrt();
        36.0 - 39.0 * (diameter / 0.127).ln() / 92f64.ln()
    }
}

impl Figure for EquivalentSize {
    const NAME: &'static str = "equivalent-size";
    const UNIT: &'static str = "mm2";

    fn value(&self) -> f64 {
        self.area
    }

    fn working(&self) -> String {
        let awg = format!("{:.1}", self.awg());
        let awg = awg.trim_end_matches(".0");
        let area = figure3(self.area);
        format!(
            "{} × {} = {area} mm2, about {awg} AWG",
            self.tied, self.core
        )
    }
}
