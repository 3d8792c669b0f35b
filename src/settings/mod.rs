//! A firm's settings, `nailplate.yaml`: which rules it goes by, at what level and limits, on whose authority.
//!
//! Knows: the settings' keys, which rules there are, what their sheets say. Must not know: where settings are
//! looked for, what a review finds, how anything is printed.
//!
//! Reading cannot fail, as that of a plan: what is mistaken is reported and stays as built in, the rest is in
//! effect. Settings are read once, however many plans go by them.

mod draft;
mod file;
mod mistake;
mod read;
mod rules;
mod sheets;

pub use file::{File, LimitEntry, RuleEntry, SheetFile, SheetLimit, schema};
pub use mistake::MISTAKES;
pub use read::{Cabinet, Read, read};

use std::path::PathBuf;
use std::sync::Arc;

use crate::findings::Level;
use crate::rules::Rulebook;

/// What a settings file comes to.
#[derive(Debug)]
pub struct Settings {
    /// The file, as it was named.
    pub path: PathBuf,
    /// The lowest level that holds a plan up.
    pub hold: Option<Level>,
    /// Catalogues of plans that name none; the file itself where it does not come out which.
    pub catalogue: Vec<PathBuf>,
    pub rulebook: Arc<Rulebook>,
    /// Where the firm's own sheets lie.
    pub folders: Vec<PathBuf>,
    /// How many mistakes were found in it.
    pub mistakes: usize,
}
