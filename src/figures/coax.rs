//! Loss of a coaxial channel.

use super::text::sum;
use super::{Figure, sound};
use crate::tables::coax::{Series, splitter_loss};
use crate::units::{Decibels, Dimension, Distance, LevelDim, SignalLevel, figure3};

/// One thing on the way from the source to the outlet.
#[derive(Debug, Clone, Copy)]
pub enum Part {
    Cable {
        series: Series,
        length: Distance,
    },
    /// A splitter with so many outputs.
    Splitter(u8),
    /// A loss stated by whoever asks, in dB: a tap, a filter, an outlet.
    Stated(Decibels),
}

impl Part {
    fn decibels(&self, megahertz: f64) -> Option<f64> {
        match *self {
            Self::Cable { series, length } => {
                sound(series.loss_per_metre(megahertz)? * sound(length.base())?)
            }
            Self::Splitter(ways) => splitter_loss(ways),
            Self::Stated(Decibels(loss)) => sound(loss),
        }
    }

    fn text(&self, megahertz: f64) -> String {
        match *self {
            Self::Cable { series, length } => {
                let per_100 = 100.0 * series.loss_per_metre(megahertz).unwrap_or(0.0);
                format!(
                    "{length} of {} × {} dB/100 m",
                    series.name,
                    figure3(per_100)
                )
            }
            Self::Splitter(ways) => {
                let loss = splitter_loss(ways).unwrap_or(0.0);
                format!("{} dB in a {ways}-way splitter", figure3(loss))
            }
            Self::Stated(Decibels(loss)) => format!("{} dB as stated", figure3(loss)),
        }
    }
}

/// Loss of a coaxial channel at one frequency, in dB at 20 °C: `Σ L (k1 √f + k2 f)` of its cables, and its splitters.
#[derive(Debug, Clone)]
pub struct CoaxLoss {
    parts: Vec<Part>,
    megahertz: f64,
    decibels: f64,
}

impl CoaxLoss {
    /// `None` when a length or a loss is negative, a splitter is none that is sold, the frequency lies outside what
    /// a cable's series is known for, or anything overflows.
    pub fn of(parts: Vec<Part>, megahertz: f64) -> Option<Self> {
        let mut decibels = 0.0;
        for part in &parts {
            decibels += part.decibels(megahertz)?;
        }
        if !megahertz.is_finite() {
            return None;
        }
        Some(Self {
            parts,
            megahertz,
            decibels: sound(decibels)?,
        })
    }

    /// The level at the end of the channel, in the unit of the level at its start.
    pub fn level_from(&self, start: SignalLevel) -> SignalLevel {
        start.same_unit(LevelDim::quantity(start.base() - self.decibels))
    }
}

impl Figure for CoaxLoss {
    const NAME: &'static str = "coax-loss";
    const UNIT: &'static str = "dB";

    fn value(&self) -> f64 {
        self.decibels
    }

    fn working(&self) -> String {
        let loss = |part: &Part| part.decibels(self.megahertz).unwrap_or(0.0);
        let text = |part: &Part| part.text(self.megahertz);
        let terms = match self.parts.as_slice() {
            [] => "nothing on the way".into(),
            parts => sum(parts, loss, text, "dB"),
        };
        let (loss, at) = (figure3(self.decibels), figure3(self.megahertz));
        format!("{terms} = {loss} dB at {at} MHz")
    }
}
