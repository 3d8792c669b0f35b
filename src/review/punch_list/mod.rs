//! The punch list: a file of findings that are known and still owed.
//!
//! Knows: the file's text, findings. Must not know: where the file lies, how anything is printed.

mod changes;
mod entry;
mod line;
mod open;
mod read;
mod settle_up;
mod write;

pub use changes::{Changes, New};
pub use entry::Entry;
pub use read::Mistake;
pub use settle_up::{Became, NotFound, Owed, settle_up};

/// A punch list as it was read, its entries in order, each once.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PunchList {
    /// The text up to the first entry and the comments that belong to it.
    head: String,
    entries: Vec<Entry>,
    /// What stands below the last entry.
    tail: String,
    line_end: &'static str,
}

impl PunchList {
    /// All entries, in order.
    pub fn entries(&self) -> &[Entry] {
        &self.entries
    }

    /// The entries of one plan, by its path from the list's folder.
    pub fn of(&self, plan: &str) -> &[Entry] {
        let start = self.entries.partition_point(|entry| *entry.plan < *plan);
        let count = self.entries[start..].partition_point(|entry| *entry.plan == *plan);
        &self.entries[start..start + count]
    }
}
