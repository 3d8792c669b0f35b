//! The standards' tables, read from `rules/tables/*.yaml`.
//!
//! Knows: what the tables print, with their sources, and how to look a row up.
//! Must not know: plans, rules, what is judged.
//!
//! Each table is parsed once, when first asked for. A lookup that no row answers gives `None`: the
//! caller makes it a gap, never a guess.

pub mod ampacity;
pub mod bends;
pub mod boxes;
pub mod categories;
pub mod coax;
pub mod conductors;
pub mod conduit;
pub mod cpr;
pub mod edition;
pub mod framing;
pub mod heat;
pub mod listings;
pub mod loudspeakers;
pub mod poe;
pub mod protection;
pub mod pulling;
pub mod separation;
pub mod timings;
pub mod video_grades;
pub mod wiring;

use serde::Deserialize;
use serde::de::DeserializeOwned;

/// Rows of a table by how they were come by.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Rows<R> {
    /// Seen in print.
    read: Vec<R>,
    /// Not seen in print.
    memory: Vec<R>,
}

impl<R> Rows<R> {
    /// The row that `wanted` picks, and whether it is from memory.
    fn find(&self, wanted: impl Fn(&R) -> bool) -> Option<(&R, bool)> {
        let read = self.read.iter().find(|row| wanted(row));
        let found = read.map(|row| (row, false));
        found.or_else(|| {
            let row = self.memory.iter().find(|row| wanted(row))?;
            Some((row, true))
        })
    }
}

/// Parses a table that was built into the program.
///
/// # Panics
/// When the built-in text is no such table: a fault of the build, which a test of every table
/// shows, and never of a plan.
fn read<T: DeserializeOwned>(name: &str, text: &str) -> T {
    let mut options = serde_yaml::Options::default();
    // The limits guard against hostile documents; this text is our own.
    options.budget = None;
    match serde_yaml::from_str_with_options(text, options) {
        Ok(table) => table,
        Err(error) => panic!("rules/tables/{name}.yaml: {error}"),
    }
}

/// Whether a size is the printed one: tables and authors write the same few decimals.
fn same(printed: f64, wanted: f64) -> bool {
    (printed - wanted).abs() <= 1e-9 * printed.abs()
}
