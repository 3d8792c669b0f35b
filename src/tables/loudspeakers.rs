//! Where loudspeakers stand, seen from the seat: ITU-R BS.775, BS.2051.

use std::sync::LazyLock;

use serde::Deserialize;

use super::read;

#[derive(Debug, Deserialize)]
struct Row(String, u8, String, String, f64, f64, f64, f64, f64, f64);

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    source: String,
    rows: Vec<Row>,
}

static TABLE: LazyLock<Table> = LazyLock::new(|| {
    read(
        "loudspeakers",
        include_str!("../../rules/tables/loudspeakers.yaml"),
    )
});

/// How many loudspeakers stand at ear height.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Bed {
    /// Without a rear pair.
    Five,
    /// With a rear pair.
    Seven,
}

/// A nominal angle and its range, in degree.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Range {
    pub nominal: f64,
    pub least: f64,
    pub greatest: f64,
}

impl Range {
    /// How far outside an angle lies, in degree: 0 within.
    pub fn off(self, degrees: f64) -> f64 {
        (self.least - degrees).max(degrees - self.greatest).max(0.0)
    }

    fn mirrored(self) -> Self {
        Self {
            // A plain nought, not its negative.
            nominal: 0.0 - self.nominal,
            least: 0.0 - self.greatest,
            greatest: 0.0 - self.least,
        }
    }
}

/// Where a loudspeaker stands by the recommendation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Target {
    /// BS.2051 layout and the channel in it, of the left side.
    pub layout: &'static str,
    pub channel: &'static str,
    /// Left of straight ahead is plus.
    pub azimuth: Range,
    /// Above the ear is plus.
    pub elevation: Range,
}

/// The target of a `place` word (`surround-left`). `None` for a place that the bed does not have.
pub fn target(place: &str, bed: Bed) -> Option<Target> {
    let (left, mirrored) = match place.strip_suffix("right") {
        Some(stem) => (format!("{stem}left"), true),
        None => (place.to_owned(), false),
    };
    let bed = match bed {
        Bed::Five => 5,
        Bed::Seven => 7,
    };
    let mut rows = TABLE.rows.iter();
    let row = rows.find(|row| row.0 == left && (row.1 == bed || row.1 == 0))?;
    let azimuth = Range {
        nominal: row.4,
        least: row.5,
        greatest: row.6,
    };
    Some(Target {
        layout: &row.2,
        channel: &row.3,
        azimuth: if mirrored {
            azimuth.mirrored()
        } else {
            azimuth
        },
        elevation: Range {
            nominal: row.7,
            least: row.8,
            greatest: row.9,
        },
    })
}

/// Where the angles come from.
pub fn source() -> &'static str {
    &TABLE.source
}
