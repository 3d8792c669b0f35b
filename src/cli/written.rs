//! Writing a file: to a temporary beside it, then renamed.

use std::fs;
use std::io::Write;
use std::path::Path;

use super::input::{Disk, reason};
use crate::plan::Library;

/// Puts `after` in the place of `before`, keeping the file's permissions. The file is either as it
/// was or wholly new, whatever happens.
///
/// # Errors
/// The file no longer holds `before`, may not be written, or could not be.
pub fn replace(path: &Path, before: &str, after: &str) -> Result<(), String> {
    // Through a link, so that the link stays one.
    let path = fs::canonicalize(path).map_err(|error| reason(&error))?;
    let permissions = fs::metadata(&path).map_err(|error| reason(&error))?.permissions();
    if permissions.readonly() {
        return Err("the file is read-only".into());
    }
    let folder = path.parent().unwrap_or(Path::new("."));
    let mut temporary = tempfile::NamedTempFile::new_in(folder).map_err(|error| reason(&error))?;
    let written = temporary.write_all(after.as_bytes()).and_then(|()| temporary.as_file().set_permissions(permissions));
    written.and_then(|()| temporary.as_file().sync_all()).map_err(|error| reason(&error))?;
    if Disk.load(&path).as_deref() != Ok(before) {
        return Err("the file has changed since it was read".into());
    }
    temporary.persist(&path).map_err(|error| reason(&error.error))?;
    Ok(())
}
