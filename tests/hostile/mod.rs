//! Absurd and hostile input, whole: each quantity of each shipped house, plans that hold themselves, ids that nobody can type, texts
//! that are cut off or in another encoding, through the library and through the built program.

mod circles;
mod ids;
mod keys;
mod limits;
mod program;
mod quantities;
mod texts;
mod truncated;

use std::path::Path;

use nailplate::plan::Library;

pub const HOUSES: [&str; 7] = [
    "kestrel-row",
    "kestrel-row-submitted",
    "heron-mill",
    "heron-mill-submitted",
    "plover-lane",
    "tern-quay",
    "tern-quay-submitted",
];

/// Catalogues lie beside the examples.
pub struct Disk;

impl Library for Disk {
    fn load(&self, path: &Path) -> Result<String, String> {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(path);
        std::fs::read_to_string(path).map_err(|error| error.to_string())
    }
}
