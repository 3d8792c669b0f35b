//! Voltage drop along a path of a circuit.

use super::conductor::OneWay;
use super::phases::Phases;
use super::text::{at_temperature, per_length, sum};
use super::{Figure, positive, sound};
use crate::units::{Current, Distance, Percent, Volts, figure3, unit};

/// One run on the way from the breaker.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Segment {
    pub length: Distance,
    /// One conductor.
    pub wire: OneWay,
    /// What flows in this run.
    pub current: Current,
    pub phases: Phases,
}

impl Segment {
    /// `2 × L × r × I`, with three phases `√3 × L × r × I`, in volt.
    fn volts(&self) -> Option<f64> {
        let amperes = sound(self.current.get::<unit::ampere>())?;
        let ohms = self.wire.loop_ohms(self.length)? * self.phases.of_loop();
        sound(ohms * amperes)
    }

    /// `2 × 48 ft × 1.93 Ω/1000 ft × 7.5 A`.
    fn text(&self) -> String {
        let amperes = figure3(self.current.get::<unit::ampere>());
        let per_length = per_length(self.wire, self.length);
        let ways = match self.phases {
            Phases::One => "2",
            Phases::Three => "√3",
        };
        format!("{ways} × {} × {per_length} × {amperes} A", self.length)
    }
}

/// The stated drop ahead of the breaker.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Feeder {
    Share(Percent),
    Drop(Volts),
}

/// Drop from the breaker to a node, in percent of the nominal voltage: `Σ 2 L r I` (constant
/// current, power factor 1), and what is stated of the feeder.
#[derive(Debug, Clone, PartialEq)]
pub struct VoltageDrop {
    segments: Vec<Segment>,
    nominal: Volts,
    feeder: Option<Feeder>,
    volts: f64,
}

impl VoltageDrop {
    /// `None` when the nominal voltage is not above zero, a length, current or feeder drop is negative, or
    /// anything overflows. No segments is a drop of nothing.
    pub fn of(segments: Vec<Segment>, nominal: Volts, feeder: Option<Feeder>) -> Option<Self> {
        let nominal_volts = positive(nominal.base())?;
        let mut volts = match feeder {
            None => 0.0,
            Some(Feeder::Share(share)) => sound(share.base())? * nominal_volts,
            Some(Feeder::Drop(drop)) => sound(drop.base())?,
        };
        for segment in &segments {
            volts += segment.volts()?;
        }
        // Both the drop and its share must be finite.
        sound(volts / nominal_volts * 100.0)?;
        Some(Self {
            segments,
            nominal,
            feeder,
            volts: sound(volts)?,
        })
    }

    /// In volt.
    pub fn volts(&self) -> f64 {
        self.volts
    }
}

impl Figure for VoltageDrop {
    const NAME: &'static str = "voltage-drop";
    const UNIT: &'static str = "%";

    fn value(&self) -> f64 {
        self.volts / self.nominal.base() * 100.0
    }

    fn working(&self) -> String {
        let volts = |segment: &Segment| segment.volts().unwrap_or(0.0);
        let mut terms = sum(&self.segments, volts, Segment::text, "V");
        let feeder = match self.feeder {
            None => None,
            Some(Feeder::Share(share)) => {
                Some(format!("{share} of {} in the feeder", self.nominal))
            }
            Some(Feeder::Drop(drop)) => Some(format!("{drop} in the feeder")),
        };
        if let Some(feeder) = feeder {
            if !terms.is_empty() {
                terms.push_str(" + ");
            }
            terms.push_str(&feeder);
        }
        if terms.is_empty() {
            terms.push_str("no run on the way");
        }
        let at = at_temperature(self.segments.iter().map(|segment| segment.wire));
        let (volts, share) = (figure3(self.volts), figure3(self.value()));
        format!("{terms} = {volts} V, {share} % of {}{at}", self.nominal)
    }
}
