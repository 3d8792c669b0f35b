//! Where a loudspeaker stands, seen from a seat.

use super::{Figure, positive, sound};
use crate::figures::route::Point;
use crate::units::figure3;

/// A difference in metre, in the unit of the seat.
fn shown(seat: &Point, metres: f64) -> String {
    seat[0].show_metres(metres.abs())
}

fn apart(from: &Point, to: &Point, axis: usize) -> Option<f64> {
    let metres = to[axis].base() - from[axis].base();
    sound(metres.abs()).map(|_| metres)
}

/// Direction of a loudspeaker in the horizontal plane, in degree: 0 straight ahead, left is plus, from −180 to 180
/// (ITU-R BS.2051). The house's frame is right-handed: x, y and height.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Azimuth {
    seat: Point,
    ahead: f64,
    left: f64,
    degrees: f64,
}

impl Azimuth {
    /// From a seat that looks towards `front`. `None` when the seat stands under or over one of the two points, or
    /// anything is no finite number.
    pub fn of(seat: Point, front: Point, speaker: Point) -> Option<Self> {
        let (x, y) = (apart(&seat, &front, 0)?, apart(&seat, &front, 1)?);
        let reach = positive(x.hypot(y))?;
        let (x, y) = (x / reach, y / reach);
        let (to_x, to_y) = (apart(&seat, &speaker, 0)?, apart(&seat, &speaker, 1)?);
        positive(to_x.hypot(to_y))?;
        let (ahead, left) = (x * to_x + y * to_y, x * to_y - y * to_x);
        Some(Self {
            seat,
            ahead,
            left,
            degrees: left.atan2(ahead).to_degrees(),
        })
    }
}

impl Figure for Azimuth {
    const NAME: &'static str = "azimuth";
    const UNIT: &'static str = "deg";

    fn value(&self) -> f64 {
        self.degrees
    }

    fn working(&self) -> String {
        let side = if self.left < 0.0 {
            "to the right"
        } else {
            "to the left"
        };
        let way = if self.ahead < 0.0 { "behind" } else { "ahead" };
        let (left, ahead) = (shown(&self.seat, self.left), shown(&self.seat, self.ahead));
        let degrees = figure3(self.degrees);
        format!("{left} {side}, {ahead} {way}: {degrees} deg from straight ahead, left is plus")
    }
}

/// Direction of a loudspeaker over the horizontal plane through the ear, in degree, above is plus.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Elevation {
    seat: Point,
    away: f64,
    up: f64,
    degrees: f64,
}

impl Elevation {
    /// `None` when seat and loudspeaker are one point, or anything is no finite number.
    pub fn of(seat: Point, speaker: Point) -> Option<Self> {
        let away = apart(&seat, &speaker, 0)?.hypot(apart(&seat, &speaker, 1)?);
        let up = apart(&seat, &speaker, 2)?;
        positive(away.hypot(up))?;
        Some(Self {
            seat,
            away,
            up,
            degrees: up.atan2(away).to_degrees(),
        })
    }
}

impl Figure for Elevation {
    const NAME: &'static str = "elevation";
    const UNIT: &'static str = "deg";

    fn value(&self) -> f64 {
        self.degrees
    }

    fn working(&self) -> String {
        let way = if self.up < 0.0 { "below" } else { "above" };
        let (up, away) = (shown(&self.seat, self.up), shown(&self.seat, self.away));
        format!(
            "atan({up} {way} ÷ {away} away) = {} deg",
            figure3(self.degrees)
        )
    }
}
