//! The rulebook: one file per rule, and its sheet beside it under `rules/`.
//!
//! Knows: the house and its figures, what a sheet says. Must not know: files, how anything is
//! printed, what other rules found.
//!
//! `build.rs` pairs `rules/<area>/<name>.yaml` with `src/rules/<area>/<name>.rs` and writes the
//! table of rules; a file without its twin stops the build.

pub mod sheet;

mod beside;
mod fill_limits;
mod limit;
mod low_impedance;
mod record;
mod rulebook;
mod view;

pub use beside::{in_units_of, lead_away, stated_distance, under};
pub use fill_limits::FillLimits;
pub use limit::{Limit, NoLimits, over};
pub use low_impedance::judge_low_impedance;
pub use record::{due_at_stage, is_record_judged};
pub use rulebook::{Departure, Place, Rulebook, What};
pub use sheet::Sheet;

use std::sync::LazyLock;

use crate::figures::Figure;
use crate::findings::{Report, Shown};
use crate::house::House;

/// One rule: its sheet and the function that judges.
pub struct Rule {
    /// `area.name`, from the names of its files.
    pub id: &'static str,
    /// Where the sheet stands in the source tree.
    pub path: &'static str,
    /// The sheet as written.
    pub sheet: &'static str,
    /// Whether its findings may be hazards: its sheet or its function names that level.
    pub hazards: bool,
    pub judge: fn(&House<'_>, &Sheet, &mut Report),
    /// Decodes the sheet's limits into the rule's own type, to find a limit that either side lacks.
    pub decode: fn(&Sheet) -> Result<(), String>,
}

/// A sheet for a mistake that reading a plan or settings reports.
pub struct ReadingSheet {
    pub id: &'static str,
    pub path: &'static str,
    pub sheet: &'static str,
}

include!(concat!(env!("OUT_DIR"), "/rulebook.rs"));

/// A figure as a finding shows it: for findings only, since it writes the working.
pub fn shown<F: Figure>(figure: &F) -> Shown {
    Shown {
        name: F::NAME,
        value: figure.value(),
        unit: F::UNIT,
        working: figure.working(),
    }
}

/// The sheets of the rules, in the order of [`RULES`], read once.
pub static SHEETS: LazyLock<Vec<Sheet>> = LazyLock::new(|| {
    let sheet = |rule: &Rule| Sheet::new(rule.id, rule.path, rule.sheet);
    RULES.iter().map(sheet).collect()
});

static READING_SHEETS: LazyLock<Vec<Sheet>> = LazyLock::new(|| {
    let sheet = |sheet: &ReadingSheet| Sheet::new(sheet.id, sheet.path, sheet.sheet);
    READING.iter().map(sheet).collect()
});

/// Every sheet of the built-in rulebook, rules first, each in the order of its id.
pub fn all_sheets() -> impl Iterator<Item = &'static Sheet> {
    SHEETS.iter().chain(READING_SHEETS.iter())
}

/// Whether a function judges by the sheet; the others are of mistakes that reading reports.
pub fn is_judged(id: &str) -> bool {
    RULES.binary_search_by(|rule| rule.id.cmp(id)).is_ok()
}

/// The sheet of a rule or of a mistake.
pub fn sheet(id: &str) -> Option<&'static Sheet> {
    match RULES.binary_search_by(|rule| rule.id.cmp(id)) {
        Ok(at) => Some(&SHEETS[at]),
        Err(_) => READING_SHEETS.iter().find(|sheet| sheet.id == id),
    }
}
