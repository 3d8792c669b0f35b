//! Distributed loudspeaker lines of 100 V or 70.7 V.

use super::line::Segment;
use super::text::{at_temperature, sum};
use super::{Figure, positive, sound};
use crate::units::{Ohms, Volts, Watts, figure3};

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
