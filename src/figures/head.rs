//! Whether a cable's connector passes a pipe and its bends.

use super::{Figure, positive, sound};
use crate::units::{Degrees, Distance, Length, unit};

/// The inside diameter that a rigid box needs to pass a round pipe, lying the better of its two ways.
///
/// Straight pipe: the diagonal of its section, `D = √(w² + h²)`. In a bend of radius R to the centre line the box
/// rests with the middle of its inner long side on the inner wall, and its outer ends touch the outer wall. At the
/// height of its flat sides, `h / 2`, the pipe is `2ρ` wide between the radii `R − ρ` and `R + ρ`, so that
/// `(R − ρ + w)² + (L / 2)² = (R + ρ)²`, and with it
/// `2ρ = w + L² / (4 (2R + w))`, `D = √((2ρ)² + h²)`.
/// In a bend of so small an angle θ that the ends stand in the straight pipe behind it, the outer wall there is the
/// tangent: `ρ (1 + cos θ/2) = (R + w) cos θ/2 − R + (L / 2) sin θ/2`.
/// Plane geometry; the cable behind the box and other cables in the pipe are left out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeadBore {
    /// The side in the plane of the bend, and what the bend makes of it, in metre.
    side: f64,
    in_bend: f64,
    /// The other side.
    other: f64,
    long: Distance,
    bend: Option<(Distance, Degrees)>,
    /// Its ends stand in the bend itself.
    is_within: bool,
    bore: f64,
}

/// `2ρ` of one way to lie, and whether the ends stand within the bend.
fn in_bend(side: f64, long: f64, radius: f64, half: f64) -> Option<(f64, bool)> {
    let within = side + long * long / (4.0 * (2.0 * radius + side));
    if long / 2.0 <= (radius + within / 2.0) * half.sin() {
        return Some((sound(within)?, true));
    }
    let (sine, cosine) = half.sin_cos();
    let rho = ((radius + side) * cosine - radius + long / 2.0 * sine) / (1.0 + cosine);
    Some((sound(2.0 * rho.max(side / 2.0))?, false))
}

impl HeadBore {
    /// Through straight pipe. `None` when a side is not above zero, or anything overflows.
    pub fn straight(wide: Distance, high: Distance, long: Distance) -> Option<Self> {
        let (side, other) = (positive(high.base())?, positive(wide.base())?);
        positive(long.base())?;
        Some(Self {
            side,
            in_bend: side,
            other,
            long,
            bend: None,
            is_within: false,
            bore: positive(side.hypot(other))?,
        })
    }

    /// Through a bend of a radius to the centre line and an angle. `None` when a length is not above zero, the
    /// angle is below zero, or anything overflows.
    pub fn bent(
        wide: Distance,
        high: Distance,
        long: Distance,
        radius: Distance,
        angle: Degrees,
    ) -> Option<Self> {
        let straight = Self::straight(wide, high, long)?;
        let reach = positive(radius.base())?;
        // A half circle is the most that one bend can be.
        let half = (sound(angle.base())? / 2.0).min(90.0).to_radians();
        let lying = |side: f64, other: f64| {
            let (in_bend, is_within) = in_bend(side, long.base(), reach, half)?;
            Some(Self {
                side,
                in_bend,
                other,
                bend: Some((radius, angle)),
                is_within,
                bore: positive(in_bend.hypot(other))?,
                ..straight
            })
        };
        let flat = lying(straight.side, straight.other)?;
        let upright = lying(straight.other, straight.side)?;
        Some(if upright.bore < flat.bore {
            upright
        } else {
            flat
        })
    }

    /// In the unit of the box's length.
    pub fn distance(&self) -> Distance {
        self.long.same_unit(Length::new::<unit::meter>(self.bore))
    }
}

impl Figure for HeadBore {
    const NAME: &'static str = "head-bore";
    const UNIT: &'static str = "mm";

    fn value(&self) -> f64 {
        self.bore * 1000.0
    }

    fn working(&self) -> String {
        let shown = |metres: f64| self.long.show_metres(metres);
        let (side, other) = (shown(self.side), shown(self.other));
        let root = format!(
            "√(({})² + ({other})²) = {}",
            shown(self.in_bend),
            shown(self.bore)
        );
        let Some((radius, angle)) = self.bend else {
            return root;
        };
        let radius = shown(radius.base());
        if self.is_within {
            format!(
                "{side} + ({})² ÷ (4 × (2 × {radius} + {side})) = {}; {root}",
                self.long,
                shown(self.in_bend)
            )
        } else {
            format!(
                "{side} asks for {} in a bend of {angle} at {radius} with a length of {}; {root}",
                shown(self.in_bend),
                self.long
            )
        }
    }
}
