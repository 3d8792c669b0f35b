//! Figures in the units of who reads the plan. JSON keeps one unit a figure; a page says feet where
//! the plan's region does.

use crate::plan::Region;
use crate::units::{
    AirFlowDim, Dimension, ForceDim, ForcePerLengthDim, LengthDim, Measured, VolumeDim,
};

/// Units of a region's building trade.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum System {
    #[default]
    Metric,
    /// Feet, inches, pounds.
    Customary,
}

impl System {
    /// What the building trade of a region measures in; metric where the plan has no region.
    pub fn of(region: Option<Region>) -> Self {
        if region.is_some_and(Region::is_north_american) {
            Self::Customary
        } else {
            Self::Metric
        }
    }

    /// A value in a figure's fixed unit, and its unit, as this system has them; a unit that a
    /// number does without is empty.
    pub(super) fn own(self, value: f64, unit: &'static str) -> (f64, &'static str) {
        let other = match (self, unit) {
            (Self::Customary, "m") => within::<LengthDim>(value, unit, "ft"),
            (Self::Customary, "mm") => within::<LengthDim>(value, unit, "in"),
            (Self::Customary, "N") => within::<ForceDim>(value, unit, "lbf"),
            (Self::Customary, "N/m") => within::<ForcePerLengthDim>(value, unit, "lbf/ft"),
            (Self::Customary, "cm3") => within::<VolumeDim>(value, unit, "in3"),
            (Self::Customary, "m3/h") => within::<AirFlowDim>(value, unit, "CFM"),
            (_, "1") => Some((value, "")),
            (_, "Hz") if value.abs() >= 1000.0 => Some((value / 1000.0, "kHz")),
            _ => None,
        };
        other.unwrap_or((value, unit))
    }
}

fn within<D: Dimension>(
    value: f64,
    from: &'static str,
    to: &'static str,
) -> Option<(f64, &'static str)> {
    let measured = Measured::<D>::new(value, from)?;
    let other = Measured::<D>::new(1.0, to)?.same_unit(measured.quantity());
    Some((other.number(), to))
}
