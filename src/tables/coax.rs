//! Coaxial cable by series, and the loss of splitters.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::Deserialize;

use super::read;
use crate::units::Distance;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    also: Vec<String>,
    k: [f64; 2],
    to: f64,
    diameter: f64,
    memory: bool,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Table {
    source: String,
    series: BTreeMap<String, Row>,
    from: f64,
    splitter_source: String,
    splitters: Vec<(u8, f64)>,
}

static TABLE: LazyLock<Table> =
    LazyLock::new(|| read("coax", include_str!("../../rules/tables/coax.yaml")));

const METRES_PER_100_FEET: f64 = 30.48;

/// One series of cable.
#[derive(Debug, Clone, Copy)]
pub struct Series {
    pub name: &'static str,
    row: &'static Row,
}

/// The series of a name (`RG-6`, `RG6`).
pub fn series(name: &str) -> Option<Series> {
    let mut rows = TABLE.series.iter();
    let same = |known: &String| known.eq_ignore_ascii_case(name);
    let (name, row) = rows.find(|(known, row)| same(known) || row.also.iter().any(same))?;
    Some(Series { name, row })
}

/// All series, in alphabetical order.
pub fn all() -> impl Iterator<Item = Series> {
    let rows = TABLE.series.iter();
    rows.map(|(name, row)| Series { name, row })
}

impl Series {
    /// Loss in dB per metre at 20 °C. `None` outside the frequencies that the series was fitted to.
    pub fn loss_per_metre(self, megahertz: f64) -> Option<f64> {
        if !(TABLE.from..=self.row.to).contains(&megahertz) {
            return None;
        }
        let [k1, k2] = self.row.k;
        Some((k1 * megahertz.sqrt() + k2 * megahertz) / METRES_PER_100_FEET)
    }

    /// Over all.
    pub fn diameter(self) -> Option<Distance> {
        Distance::new(self.row.diameter, "in")
    }

    /// The rows that it was fitted to are from memory, not seen in print.
    pub fn is_from_memory(self) -> bool {
        self.row.memory
    }
}

/// Typical loss of a splitter in dB by its number of outputs. `None` for a number that is not sold.
pub fn splitter_loss(ways: u8) -> Option<f64> {
    let row = TABLE.splitters.iter().find(|row| row.0 == ways)?;
    Some(row.1)
}

/// Sources of the cables and of the splitters.
pub fn sources() -> [&'static str; 2] {
    [&TABLE.source, &TABLE.splitter_source]
}
