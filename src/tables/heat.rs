//! Constants of heat and air.

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

/// Source of the constants.
pub fn source() -> &'static str {
    &TABLE.source
}
