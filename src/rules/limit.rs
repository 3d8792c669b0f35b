//! A limit as a sheet states it.

use serde::Deserialize;

use crate::findings::Level;
use crate::plan::Region;

/// A number that a rule holds something against.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limit<T> {
    pub value: T,
    /// Clause, table, or "common practice".
    pub authority: String,
    /// Where it differs from the sheet's.
    #[serde(default)]
    pub level: Option<Level>,
    /// Where it holds; everywhere if left out.
    #[serde(default)]
    pub regions: Option<Vec<Region>>,
}

impl<T> Limit<T> {
    pub fn holds_in(&self, region: Region) -> bool {
        self.regions
            .as_ref()
            .is_none_or(|regions| regions.contains(&region))
    }
}

/// For rules that hold nothing against a number.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct NoLimits {}

/// Whether a computed value is over a limit by more than rounding.
pub fn over(value: f64, limit: f64) -> bool {
    value > limit * (1.0 + 1e-9)
}
