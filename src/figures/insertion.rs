//! Loss of a data channel.

use super::{Figure, positive, sound};
use crate::tables::categories::{Category, cord_factor, warmth};
use crate::units::{Distance, figure3};

/// A balanced data channel from active device to active device.
#[derive(Debug, Clone, Copy)]
pub struct DataChannel {
    pub category: Category,
    /// The fixed cable.
    pub link: Distance,
    /// All cords together.
    pub cords: Distance,
    /// Conductor size of the cords (24 AWG is usual); thinner ones lose more.
    pub cord_gauge: i8,
    /// Plugs into jacks, without those at the devices: at most 4 by the standard.
    pub connectors: u8,
    /// °C.
    pub celsius: f64,
    pub screened: bool,
}

/// Loss of a data channel at one frequency, in dB: the category's greatest cable loss over the link and over the cords
/// as longer link (TIA-568: 24 AWG cords × 1.2), times the rise with temperature, and the connectors; with what the
/// standard allows for mismatched parts, as its own channel limit has it.
#[derive(Debug, Clone, Copy)]
pub struct InsertionLoss {
    channel: DataChannel,
    megahertz: f64,
    decibels: f64,
}

impl InsertionLoss {
    /// At the category's top frequency.
    pub fn at_top(channel: DataChannel) -> Option<Self> {
        Self::at(channel, channel.category.top_megahertz())
    }

    /// `None` when a length is negative, the temperature is over 60 °C or no number, the frequency is not from 1 MHz
    /// to the category's top, or anything overflows.
    pub fn at(channel: DataChannel, megahertz: f64) -> Option<Self> {
        let category = channel.category;
        if !(1.0..=category.top_megahertz()).contains(&megahertz) {
            return None;
        }
        let cords = sound(channel.cords.base())? * cord_factor(channel.cord_gauge);
        let metres = sound(channel.link.base())? + cords;
        let cable = metres / 100.0 * category.cable_loss(megahertz);
        let cable = cable * warmth(channel.celsius, channel.screened)?;
        let connectors = f64::from(channel.connectors) * category.connector_loss(megahertz);
        let decibels = sound(cable + connectors + category.deviation(megahertz))?;
        Some(Self {
            channel,
            megahertz,
            decibels,
        })
    }

    /// What the standard lets a channel of this category lose at this frequency, in dB.
    pub fn limit(&self) -> f64 {
        self.channel.category.channel_limit(self.megahertz)
    }

    pub fn megahertz(&self) -> f64 {
        self.megahertz
    }
}

impl Figure for InsertionLoss {
    const NAME: &'static str = "insertion-loss";
    const UNIT: &'static str = "dB";

    fn value(&self) -> f64 {
        self.decibels
    }

    fn working(&self) -> String {
        let channel = &self.channel;
        let category = channel.category;
        let per_100 = figure3(category.cable_loss(self.megahertz));
        let mut text = format!("({}", channel.link);
        if channel.cords.base() > 0.0 {
            let factor = figure3(cord_factor(channel.cord_gauge));
            text += &format!(" + {factor} × {} of cords", channel.cords);
        }
        text += &format!(") × {per_100} dB/100 m");
        let warm = warmth(channel.celsius, channel.screened).unwrap_or(1.0);
        if warm > 1.0 {
            text += &format!(" × {} at {} °C", figure3(warm), figure3(channel.celsius));
        }
        if channel.connectors > 0 {
            let each = figure3(category.connector_loss(self.megahertz));
            text += &format!(" + {} × {each} dB", channel.connectors);
        }
        let deviation = category.deviation(self.megahertz);
        if deviation > 0.0 {
            text += &format!(" + {} dB for mismatch", figure3(deviation));
        }
        let decibels = figure3(self.decibels);
        format!("{text} = {decibels} dB at {} MHz", figure3(self.megahertz))
    }
}

/// Cords in all that a link leaves room for: `C = (102 m − H) / (1 + D)`, D = 0.2 for 24 AWG (TIA-568), in metre.
/// `None` when the link alone is too long.
pub fn greatest_cords(link: Distance, cord_gauge: i8) -> Option<f64> {
    positive((102.0 - sound(link.base())?) / cord_factor(cord_gauge))
}
