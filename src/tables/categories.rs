//! Balanced data cabling by category: loss, lengths, what it carries.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::Deserialize;

use super::read;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    top: f64,
    cable: [f64; 3],
    connector: f64,
    connectors: u8,
    share: f64,
    deviation: f64,
    channel: f64,
    link: f64,
    ohms: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Cords {
    awg_24: f64,
    awg_26: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Table {
    source: String,
    grades: BTreeMap<String, Row>,
    cords_source: String,
    cords: Cords,
    warmth_source: String,
    warmth: [f64; 3],
    rates_source: String,
    rates: Vec<(f64, BTreeMap<String, f64>)>,
    controlled: BTreeMap<String, f64>,
}

static TABLE: LazyLock<Table> = LazyLock::new(|| {
    read(
        "categories",
        include_str!("../../rules/tables/categories.yaml"),
    )
});

/// One category, with the numbers of its standard (all from memory).
#[derive(Debug, Clone, Copy)]
pub struct Category {
    pub name: &'static str,
    row: &'static Row,
}

/// The category of a data grade (`cat6a`).
pub fn named(grade: &str) -> Option<Category> {
    let (name, row) = TABLE.grades.get_key_value(grade)?;
    Some(Category { name, row })
}

/// All categories, the weakest first.
pub fn all() -> impl Iterator<Item = Category> {
    let grades = TABLE.grades.iter();
    grades.map(|(name, row)| Category { name, row })
}

impl Category {
    /// The highest frequency that it is specified to, in MHz.
    pub fn top_megahertz(self) -> f64 {
        self.row.top
    }

    /// Greatest loss of 100 m of its cable at 20 °C, in dB: `k1 √f + k2 f + k3 / √f`, f in MHz.
    pub fn cable_loss(self, megahertz: f64) -> f64 {
        let root = megahertz.sqrt();
        let [k1, k2, k3] = self.row.cable;
        k1 * root + k2 * megahertz + k3 / root
    }

    /// Loss of one connector, in dB: a factor times √f, f in MHz.
    pub fn connector_loss(self, megahertz: f64) -> f64 {
        self.row.connector * megahertz.sqrt()
    }

    /// Connectors of the standard's longest channel.
    pub fn connectors(self) -> u8 {
        self.row.connectors
    }

    /// What mismatched parts may add, in dB: a factor times f^1.5, f in MHz.
    pub fn deviation(self, megahertz: f64) -> f64 {
        self.row.deviation * megahertz.powf(1.5)
    }

    /// The channel's limit in dB at a frequency in MHz.
    pub fn channel_limit(self, megahertz: f64) -> f64 {
        self.row.share * self.cable_loss(megahertz)
            + f64::from(self.row.connectors) * self.connector_loss(megahertz)
            + self.deviation(megahertz)
    }

    /// Longest channel, in m, cords included.
    pub fn channel_metres(self) -> f64 {
        self.row.channel
    }

    /// Longest permanent link, in m, cords not included.
    pub fn link_metres(self) -> f64 {
        self.row.link
    }

    /// Greatest resistance of one conductor at 20 °C, in ohm per metre.
    pub fn greatest_ohm_per_metre(self) -> f64 {
        self.row.ohms / 100.0
    }

    /// Longest channel in m for a data rate in Gbit/s. `None` where the category does not carry it.
    pub fn reach(self, gigabits: f64, alien_crosstalk_controlled: bool) -> Option<f64> {
        let (rate, lengths) = TABLE.rates.iter().find(|row| gigabits <= row.0)?;
        let length = *lengths.get(self.name)?;
        let controlled = TABLE.controlled.get(self.name);
        match controlled {
            Some(&longer) if alien_crosstalk_controlled && *rate >= 10.0 => Some(longer),
            _ => Some(length),
        }
    }
}

/// The data rates that lengths are given for, in Gbit/s, the lowest first.
pub fn rates() -> impl DoubleEndedIterator<Item = f64> {
    TABLE.rates.iter().map(|row| row.0)
}

/// How much more a stranded cord loses than the same length of link cable, as a factor: 1.2 to 24 AWG, 1.5 thinner.
pub fn cord_factor(gauge: i8) -> f64 {
    let percent = if gauge <= 24 {
        TABLE.cords.awg_24
    } else {
        TABLE.cords.awg_26
    };
    1.0 + percent / 100.0
}

/// Factor on the loss at a temperature in °C: 1 up to 20 °C. `None` over 60 °C, where the standard stops.
pub fn warmth(celsius: f64, screened: bool) -> Option<f64> {
    let [low, high, screened_rise] = TABLE.warmth;
    let over = |from: f64, to: f64| (celsius.min(to) - from).max(0.0);
    if !(-60.0..=60.0).contains(&celsius) {
        return None;
    }
    let percent = if screened {
        screened_rise * over(20.0, 60.0)
    } else {
        low * over(20.0, 40.0) + high * over(40.0, 60.0)
    };
    Some(1.0 + percent / 100.0)
}

/// Sources of the grades, the cords, the warmth and the rates.
pub fn sources() -> [&'static str; 4] {
    [
        &TABLE.source,
        &TABLE.cords_source,
        &TABLE.warmth_source,
        &TABLE.rates_source,
    ]
}
