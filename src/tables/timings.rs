//! Total timings of pictures: CTA-861.

use std::sync::LazyLock;

use serde::Deserialize;
use serde::de::{Deserializer, Error as _};

use super::read;
use crate::units::{Frequency, unit};

/// Width, height, interlaced, refresh, total width, total lines, clock, codes.
#[derive(Debug)]
struct Row(u32, u32, u8, f64, u32, u32, f64, Vec<u16>);

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    source: String,
    #[serde(deserialize_with = "rows")]
    rows: Vec<Row>,
}

fn rows<'de, D: Deserializer<'de>>(text: D) -> Result<Vec<Row>, D::Error> {
    let text = String::deserialize(text)?;
    let rows = text.lines().map(|line| row(line).ok_or(line));
    rows.collect::<Result<_, _>>()
        .map_err(|line| D::Error::custom(format!("this is no row: {line}")))
}

fn row(line: &str) -> Option<Row> {
    let words: Vec<_> = line.split(' ').collect();
    let [
        width,
        height,
        interlaced,
        refresh,
        total_width,
        total_lines,
        clock,
        codes,
    ] = words[..]
    else {
        return None;
    };
    let codes = codes.split(',').map(str::parse);
    Some(Row(
        width.parse().ok()?,
        height.parse().ok()?,
        interlaced.parse().ok()?,
        refresh.parse().ok()?,
        total_width.parse().ok()?,
        total_lines.parse().ok()?,
        clock.parse().ok()?,
        codes.collect::<Result<_, _>>().ok()?,
    ))
}

static TABLE: LazyLock<Table> =
    LazyLock::new(|| read("timings", include_str!("../../rules/tables/timings.yaml")));

/// Ratio between a whole refresh rate and its television variant (60 and 59.94 Hz).
const TELEVISION: f64 = 1.001;

/// How near a written rate must come: 23.98 for 24/1.001 is off by 0.017 %, while a whole rate and
/// its variant lie 0.1 % apart.
const NEAR: f64 = 2e-4;

/// The timing of a picture, blanking included.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Timing {
    /// Pixels per line.
    pub total_width: u32,
    /// Lines per frame.
    pub total_lines: u32,
    /// Pixel clock.
    pub clock: Frequency,
    /// Video identification codes of the row.
    pub codes: &'static [u16],
    /// The clock is that of the row, moved by 1.001 to the rate asked for.
    pub variant: bool,
}

/// The CTA-861 timing of `width × height` at `refresh` Hz (fields per second where interlaced).
/// Rates such as 59.94 or 23.976 are taken as variants of 60 and 24. Where several rows hold the picture, the greatest
/// clock is given. `None` when no row does.
pub fn timing(width: u32, height: u32, refresh: f64, interlaced: bool) -> Option<Timing> {
    let rows = TABLE.rows.iter();
    let same = rows.filter(|r| r.0 == width && r.1 == height && (r.2 == 1) == interlaced);
    let timings = same.filter_map(|row| {
        let factor = factor(row.3, refresh)?;
        Some(Timing {
            total_width: row.4,
            total_lines: row.5,
            clock: Frequency::new::<unit::megahertz>(row.6 * factor),
            codes: &row.7,
            variant: factor != 1.0,
        })
    });
    timings.max_by(|a, b| a.clock.value.total_cmp(&b.clock.value))
}

/// What the row's clock must be multiplied by to give the wanted rate.
fn factor(printed: f64, wanted: f64) -> Option<f64> {
    let near = |a: f64, b: f64| (a / b - 1.0).abs() < NEAR;
    if near(printed, wanted) {
        return Some(1.0);
    }
    let whole = |rate: f64| near(rate, rate.round());
    if whole(printed) && near(printed / TELEVISION, wanted) {
        return Some(1.0 / TELEVISION);
    }
    let back = printed * TELEVISION;
    (whole(back) && near(back, wanted)).then_some(TELEVISION)
}

/// Every row: width, height, interlaced, refresh in Hz, and its timing.
pub fn all() -> impl Iterator<Item = (u32, u32, bool, f64, Timing)> {
    TABLE.rows.iter().map(|row| {
        let timing = Timing {
            total_width: row.4,
            total_lines: row.5,
            clock: Frequency::new::<unit::megahertz>(row.6),
            codes: &row.7,
            variant: false,
        };
        (row.0, row.1, row.2 == 1, row.3, timing)
    })
}

/// Where the rows come from.
pub fn source() -> &'static str {
    &TABLE.source
}
