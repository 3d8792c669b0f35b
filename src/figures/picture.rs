//! Where a projector and a seat stand before a picture.

use super::{Figure, positive};
use crate::units::{Distance, Length, figure3, unit};

macro_rules! length_figure {
    ($(#[$doc:meta])* $figure:ident, $name:literal) => {
        $(#[$doc])*
        #[derive(Debug, Clone, PartialEq)]
        pub struct $figure {
            metres: f64,
            /// The length that it was computed from.
            from: Distance,
            how: How,
        }

        impl $figure {
            pub fn length(&self) -> Length {
                Length::new::<unit::meter>(self.metres)
            }

            /// In the unit of the length that it was computed from.
            pub fn distance(&self) -> Distance {
                self.from.same_unit(self.length())
            }
        }

        impl Figure for $figure {
            const NAME: &'static str = $name;
            const UNIT: &'static str = "m";

            fn value(&self) -> f64 {
                self.metres
            }

            fn working(&self) -> String {
                let (from, result) = (self.from, self.from.show_metres(self.metres));
                match self.how {
                    How::TimesRatio(ratio) => format!("{} × {from} = {result}", figure3(ratio)),
                    How::OverRatio(ratio) => {
                        let distance = from.rounded_words();
                        format!("{distance} ÷ {} = {result}", figure3(ratio))
                    }
                    How::Diagonal(wide, high) => {
                        let (wide, high) = (figure3(wide), figure3(high));
                        format!("{from} × {wide} ÷ √({wide}² + {high}²) = {result}")
                    }
                    How::Angle(degrees) => {
                        format!("2 × {from} × tan({} deg ÷ 2) = {result}", figure3(degrees))
                    }
                }
            }
        }
    };
}

/// How a length came about.
#[derive(Debug, Clone, Copy, PartialEq)]
enum How {
    TimesRatio(f64),
    OverRatio(f64),
    Diagonal(f64, f64),
    Angle(f64),
}

length_figure!(
    /// Distance from lens to screen, in m: throw ratio × image width (the definition of the ratio).
    ThrowDistance,
    "throw-distance"
);
length_figure!(
    /// Width of an image, in m.
    ImageWidth,
    "image-width"
);

impl ThrowDistance {
    /// `None` when the ratio or the width is not above zero, or anything overflows.
    pub fn of(ratio: f64, width: Distance) -> Option<Self> {
        Some(Self {
            metres: positive(positive(ratio)? * positive(width.base())?)?,
            from: width,
            how: How::TimesRatio(ratio),
        })
    }
}

impl ImageWidth {
    /// What a projector at a distance throws. `None` when the distance or the ratio is not above zero, or anything
    /// overflows.
    pub fn of_throw(distance: Distance, ratio: f64) -> Option<Self> {
        Some(Self {
            metres: positive(positive(distance.base())? / positive(ratio)?)?,
            from: distance,
            how: How::OverRatio(ratio),
        })
    }

    /// Of a diagonal and the picture's shape, 16 and 9 for most: `D w / √(w² + h²)`.
    pub fn of_diagonal(diagonal: Distance, wide: f64, high: f64) -> Option<Self> {
        let share = positive(positive(wide)? / positive(wide.hypot(positive(high)?))?)?;
        Some(Self {
            metres: positive(positive(diagonal.base())? * share)?,
            from: diagonal,
            how: How::Diagonal(wide, high),
        })
    }

    /// That fills an angle seen from a seat: `2 d tan(α/2)`. `None` unless the angle lies between 0 and 180 degree.
    pub fn of_angle(distance: Distance, degrees: f64) -> Option<Self> {
        let half = half_angle(degrees)?;
        Some(Self {
            metres: positive(2.0 * positive(distance.base())? * half.tan())?,
            from: distance,
            how: How::Angle(degrees),
        })
    }
}

/// Half of an angle between 0 and 180 degree, in radian.
fn half_angle(degrees: f64) -> Option<f64> {
    let degrees = positive(degrees).filter(|&degrees| degrees < 180.0)?;
    Some(degrees.to_radians() / 2.0)
}

/// Angle that an image fills from a seat before its middle, in degree: `2 atan(w / 2d)`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ViewAngle {
    width: Distance,
    distance: Distance,
    degrees: f64,
}

impl ViewAngle {
    /// `None` when the width or the distance is not above zero, or anything overflows.
    pub fn of(width: Distance, distance: Distance) -> Option<Self> {
        let ratio = positive(positive(width.base())? / positive(distance.base())? / 2.0)?;
        Some(Self {
            width,
            distance,
            degrees: positive(2.0 * ratio.atan().to_degrees())?,
        })
    }
}

impl Figure for ViewAngle {
    const NAME: &'static str = "view-angle";
    const UNIT: &'static str = "deg";

    fn value(&self) -> f64 {
        self.degrees
    }

    fn working(&self) -> String {
        let degrees = figure3(self.degrees);
        format!(
            "2 × atan({} ÷ (2 × {})) = {degrees} deg",
            self.width,
            self.distance.rounded_words()
        )
    }
}

/// Distance from which an image fills an angle: `w / (2 tan(α/2))`, in metre.
pub fn distance_for_angle(width: Distance, degrees: f64) -> Option<Length> {
    let half = half_angle(degrees)?;
    let metres = positive(positive(width.base())? / positive(2.0 * half.tan())?)?;
    Some(Length::new::<unit::meter>(metres))
}

/// Distance in picture heights at which one line fills one minute of arc: `1 / (n tan(1/60°))`, the acuity that
/// ITU-R BT.500 and BT.2022 design for (from memory).
pub fn design_distance(lines: u32) -> Option<f64> {
    let minute = (1.0_f64 / 60.0).to_radians();
    positive(1.0 / positive(f64::from(lines) * minute.tan())?)
}
