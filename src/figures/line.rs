//! Speaker lines: loop resistance, its share of the load, the level lost in it.

use super::conductor::{Material, OneWay, Stranding, one_way};
use super::text::{at_temperature, per_length, sum};
use super::{Figure, positive, sound};
use crate::units::{Distance, Ohms, Resistance, WireSize, figure3, unit};

/// Even AWG sizes in which speaker cable is sold, the smallest first.
pub const AWG_SIZES: [WireSize; 6] = [
    WireSize::Awg(18),
    WireSize::Awg(16),
    WireSize::Awg(14),
    WireSize::Awg(12),
    WireSize::Awg(10),
    WireSize::Awg(8),
];

/// Metric sizes in which speaker cable is sold, the smallest first.
pub const METRIC_SIZES: [WireSize; 6] = [
    WireSize::Metric(0.75),
    WireSize::Metric(1.0),
    WireSize::Metric(1.5),
    WireSize::Metric(2.5),
    WireSize::Metric(4.0),
    WireSize::Metric(6.0),
];

/// One cable of a line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Part {
    pub length: Distance,
    /// One core.
    pub wire: OneWay,
    /// Cores tied together in each leg; they divide the resistance.
    pub tied: u8,
}

impl Part {
    /// Out and back, in ohm: `2 × L × r ÷ n`. `None` without cores or with a negative length.
    fn ohms(&self) -> Option<f64> {
        let tied = (self.tied > 0).then_some(f64::from(self.tied))?;
        sound(self.wire.loop_ohms(self.length)? / tied)
    }

    /// `2 × 42 ft × 1.59 Ω/1000 ft`.
    fn text(&self) -> String {
        let per_length = per_length(self.wire, self.length);
        let text = format!("2 × {} × {per_length}", self.length);
        match self.tied {
            0 | 1 => text,
            tied => format!("{text} ÷ {tied} tied"),
        }
    }
}

/// Resistance out and back of cables in series.
#[derive(Debug, Clone, PartialEq)]
pub struct LoopResistance {
    parts: Vec<Part>,
    ohms: f64,
}

impl LoopResistance {
    /// `None` for no part, a part without cores, a negative length, or an overflow.
    pub fn of(parts: Vec<Part>) -> Option<Self> {
        let mut ohms = 0.0;
        for part in &parts {
            ohms += part.ohms()?;
        }
        let ohms = sound(ohms).filter(|_| !parts.is_empty())?;
        Some(Self { parts, ohms })
    }
}

impl Figure for LoopResistance {
    const NAME: &'static str = "loop-resistance";
    const UNIT: &'static str = "ohm";

    fn value(&self) -> f64 {
        self.ohms
    }

    fn working(&self) -> String {
        let ohms = |part: &Part| part.ohms().unwrap_or(0.0);
        let terms = sum(&self.parts, ohms, Part::text, "Ω");
        let at = at_temperature(self.parts.iter().map(|part| part.wire));
        format!("{terms} = {} Ω{at}", figure3(self.ohms))
    }
}

/// A part of a line, and the speakers that it feeds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Segment {
    pub part: Part,
    /// Impedance of all speakers beyond it, in parallel.
    pub beyond: Ohms,
}

impl Segment {
    /// Loop resistance of the part in ohm, 0 where it has none.
    pub(super) fn ohms(&self) -> f64 {
        self.part.ohms().unwrap_or(0.0)
    }

    pub(super) fn share(&self) -> Option<f64> {
        sound(self.part.ohms()? / positive(self.beyond.base())?)
    }
}

/// Impedance of loads in parallel, in the unit of the first. `None` for none, or for a load that is not above zero.
pub fn parallel(loads: impl IntoIterator<Item = Ohms>) -> Option<Ohms> {
    let mut loads = loads.into_iter();
    let first = loads.next()?;
    let mut conductance = 1.0 / positive(first.base())?;
    let mut alone = true;
    for load in loads {
        conductance += 1.0 / positive(load.base())?;
        alone = false;
    }
    if alone {
        return Some(first);
    }
    let ohms = positive(1.0 / conductance)?;
    Some(first.same_unit(Resistance::new::<unit::ohm>(ohms)))
}

/// Share of the load's impedance that a line's resistance makes: the sum over its segments of
/// loop resistance ÷ impedance beyond. A single speaker is R ÷ Z.
#[derive(Debug, Clone, PartialEq)]
pub struct LoopShare {
    segments: Vec<Segment>,
    share: f64,
}

impl LoopShare {
    /// `None` for no segment, an impedance that is not above zero, a negative length, an overflow.
    pub fn of(segments: Vec<Segment>) -> Option<Self> {
        let mut share = 0.0;
        for segment in &segments {
            share += segment.share()?;
        }
        let share = sound(share * 100.0).filter(|_| !segments.is_empty())? / 100.0;
        Some(Self { segments, share })
    }

    /// As a ratio, not percent.
    pub fn ratio(&self) -> f64 {
        self.share
    }
}

impl Figure for LoopShare {
    const NAME: &'static str = "loop-share";
    const UNIT: &'static str = "%";

    fn value(&self) -> f64 {
        self.share * 100.0
    }

    fn working(&self) -> String {
        let share = |segment: &Segment| segment.share().unwrap_or(0.0) * 100.0;
        let text = |segment: &Segment| {
            format!(
                "{} ÷ {}",
                segment.part.text(),
                segment.beyond.rounded_words()
            )
        };
        let terms = sum(&self.segments, share, text, "%");
        let at = at_temperature(self.segments.iter().map(|segment| segment.part.wire));
        format!("{terms} = {} %{at}", figure3(self.value()))
    }
}

/// The first of `sizes` (smallest first) that, pulled all the way in copper with `tied` cores a leg
/// and at the same temperature, does what is asked.
pub fn smallest_size(
    segments: &[Segment],
    sizes: &[WireSize],
    stranding: Stranding,
    tied: u8,
    does: impl Fn(Vec<Segment>) -> bool,
) -> Option<WireSize> {
    sizes.iter().copied().find(|&size| {
        let changed: Option<Vec<Segment>> = segments
            .iter()
            .map(|segment| {
                let celsius = segment.part.wire.celsius();
                let wire = one_way(size, Material::Copper, stranding, celsius)?;
                let part = Part {
                    wire,
                    tied,
                    ..segment.part
                };
                Some(Segment { part, ..*segment })
            })
            .collect();
        changed.is_some_and(&does)
    })
}

/// How many cores of the present sizes (2, 3 or 4), tied in each leg all the way, do what is asked.
pub fn tied_cores(segments: &[Segment], does: impl Fn(Vec<Segment>) -> bool) -> Option<u8> {
    (2..=4).find(|&tied| {
        let changed = segments.iter().map(|segment| {
            let part = Part {
                tied,
                ..segment.part
            };
            Segment { part, ..*segment }
        });
        does(changed.collect())
    })
}

/// Level lost in a resistance before a load: `20 log10((Z + R) / Z)` dB (voltage divider).
pub fn loss_in_decibels(share: f64) -> Option<f64> {
    sound(20.0 * (1.0 + sound(share)?).log10())
}

/// Level lost between amplifier and the speaker at the end of a line: the sum over its segments of
/// `20 log10((Z + R) / Z)` dB. With one segment exact; with taps the impedance beyond leaves out the
/// cable beyond, which overstates the loss slightly.
#[derive(Debug, Clone, PartialEq)]
pub struct LineLoss {
    segments: Vec<Segment>,
    decibels: f64,
}

impl LineLoss {
    /// `None` for no segment, an impedance that is not above zero, a negative length, an overflow.
    pub fn of(segments: Vec<Segment>) -> Option<Self> {
        let mut decibels = 0.0;
        for segment in &segments {
            decibels += loss_in_decibels(segment.share()?)?;
        }
        let decibels = sound(decibels).filter(|_| !segments.is_empty())?;
        Some(Self { segments, decibels })
    }
}

impl Figure for LineLoss {
    const NAME: &'static str = "line-loss";
    const UNIT: &'static str = "dB";

    fn value(&self) -> f64 {
        self.decibels
    }

    fn working(&self) -> String {
        let loss = |segment: &Segment| segment.share().and_then(loss_in_decibels).unwrap_or(0.0);
        let text = |segment: &Segment| {
            let ohms = figure3(segment.part.ohms().unwrap_or(0.0));
            format!(
                "20 log10(1 + {ohms} Ω ÷ {})",
                segment.beyond.rounded_words()
            )
        };
        let terms = sum(&self.segments, loss, text, "dB");
        let at = at_temperature(self.segments.iter().map(|segment| segment.part.wire));
        format!("{terms} = {} dB{at}", figure3(self.decibels))
    }
}
