//! Distributed loudspeaker lines of 100 V or 70.7 V.

use super::line::Segment;
use super::text::{at_temperature, sum};
use super::{Figure, positive, sound};
use crate::units::{Area, Distance, Ohms, Volts, Watts, figure3, unit};

/// Impedance of a loudspeaker's transformer tap: `U² / P`. `None` when the voltage or the power is not above zero.
pub fn tap_impedance(nominal: Volts, tap: Watts) -> Option<Ohms> {
    let volts = positive(nominal.base())?;
    let ohms = positive(positive(volts * volts)? / positive(tap.base())?)?;
    Ohms::new(ohms, "ohm")
}

/// Part of the voltage, and so of the power that the amplifier gives, lost in a line, in percent: `1 − Π Z / (Z + R)`
/// over its segments, each with the impedance beyond it. Exact for one segment; with taps the impedance beyond
/// leaves out the cable beyond, which overstates the loss slightly.
#[derive(Debug, Clone, PartialEq)]
pub struct LineVoltageLoss {
    segments: Vec<Segment>,
    share: f64,
}

impl LineVoltageLoss {
    /// `None` for no segment, an impedance that is not above zero, a negative length, an overflow.
    pub fn of(segments: Vec<Segment>) -> Option<Self> {
        let mut left = 1.0;
        for segment in &segments {
            left /= 1.0 + segment.share()?;
        }
        if segments.is_empty() {
            return None;
        }
        let share = sound(1.0 - left)?;
        Some(Self { segments, share })
    }
}

impl Figure for LineVoltageLoss {
    const NAME: &'static str = "line-voltage-loss";
    const UNIT: &'static str = "%";

    fn value(&self) -> f64 {
        self.share * 100.0
    }

    fn working(&self) -> String {
        let ratio = |segment: &Segment| segment.share().unwrap_or(0.0);
        let text = |segment: &Segment| {
            let (ohms, beyond) = (segment.ohms(), segment.beyond.base());
            let (whole, ohms) = (figure3(beyond + ohms), figure3(ohms));
            format!("{ohms} Ω ÷ {whole} Ω")
        };
        let terms = sum(&self.segments, ratio, text, "");
        let at = at_temperature(self.segments.iter().map(|segment| segment.part.wire));
        let note = if self.segments.len() > 1 {
            ", each of what is left"
        } else {
            ""
        };
        format!("{terms}{note} = {} %{at}", figure3(self.value()))
    }
}

/// Copper cross-section of a line that loses `percent` of the amplifier's power: `0.035 (100 − n) l P / (n U²)` in mm²,
/// with l one way in m, and 0.035 for twice the resistivity of copper, 0.0175 Ω·mm²/m (a handbook formula for 70 and
/// 100 V lines). `None` unless everything is above zero and the percentage below 100.
pub fn smallest_area(length: Distance, power: Watts, nominal: Volts, percent: f64) -> Option<Area> {
    let percent = positive(percent).filter(|&percent| percent < 100.0)?;
    let volts = positive(nominal.base())?;
    let load = positive(sound(length.base())? * sound(power.base())?)?;
    let area = positive(0.035 * (100.0 - percent) * load / positive(percent * volts * volts)?)?;
    Some(Area::new::<unit::square_millimeter>(area))
}
