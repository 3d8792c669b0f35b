//! The reviews as one SARIF 2.1.0 log (Static Analysis Results Interchange Format, an OASIS
//! standard), for programs that gather what checkers of all kinds have found.
//!
//! Knows: the standard's objects. Must not know: how many plans there are, what stands in front of
//! or behind their results.
//!
//! One run holds all plans. Their results are written as they come; what has to stand behind them
//! (files, what went wrong) waits in a temporary file once it is long.
//!
//! Hazard, fault and advice are the standard's error, warning and note, so that no two of ours fall
//! together; our own word stands in the properties. A check that could not be made is a result of
//! the kind "open". A variance is a suppression in the source, since it stands in the plan; what a punch
//! list has as owed is an external one.

mod artifact;
mod log;
mod place;
mod result;
mod rules;
mod suggestion;
mod suppression;
mod uri;
mod wording;

pub use artifact::files;
pub use log::Sarif;
pub use result::results;

use serde::Serialize;

use crate::findings::Level;

/// A level as the standard has it.
fn level(level: Level) -> &'static str {
    match level {
        Level::Hazard => "error",
        Level::Fault => "warning",
        Level::Advice => "note",
    }
}

/// A message in plain words.
#[derive(Debug, Serialize)]
struct Message {
    text: String,
}

impl Message {
    /// A message of words that may come from a plan.
    fn of(words: &str) -> Self {
        Self {
            text: wording::plain(words),
        }
    }
}
