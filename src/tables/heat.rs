//! Constants of heat and air, and what amplifiers draw.

use std::sync::LazyLock;

use serde::Deserialize;

use super::read;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Table {
    source: String,
    btu_per_hour: f64,
    air_density: f64,
    air_heat: f64,
    amplifier_source: String,
    ordinary_share: f64,
    heavy_share: f64,
    supply_source: String,
    supply_load: f64,
}

static TABLE: LazyLock<Table> =
    LazyLock::new(|| read("heat", include_str!("../../rules/tables/heat.yaml")));

/// BTU/h in one watt.
pub fn btu_per_hour() -> f64 {
    TABLE.btu_per_hour
}

/// Heat that warms one cubic metre of air at 20 °C by one kelvin, in joule.
pub fn air_heat_per_volume() -> f64 {
    TABLE.air_density * TABLE.air_heat
}

/// Share of its rated output that an amplifier gives in ordinary use, and clipped hard.
pub fn amplifier_shares() -> (f64, f64) {
    (TABLE.ordinary_share, TABLE.heavy_share)
}

/// Share of an uninterruptible supply's rating that it is loaded to at most, as a ratio.
pub fn supply_load() -> f64 {
    TABLE.supply_load / 100.0
}

/// Sources of the constants, the amplifier shares and the supply's load.
pub fn sources() -> [&'static str; 3] {
    [&TABLE.source, &TABLE.amplifier_source, &TABLE.supply_source]
}
