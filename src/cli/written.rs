//! Writing a file: to a temporary beside it, then renamed.

use std::fs;
use std::io::{ErrorKind, Write};
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
    let permissions = fs::metadata(&path)
        .map_err(|error| reason(&error))?
        .permissions();
    if permissions.readonly() {
        return Err("the file is read-only".into());
    }
    let folder = path.parent().unwrap_or(Path::new("."));
    let mut temporary = tempfile::NamedTempFile::new_in(folder).map_err(|error| reason(&error))?;
    let written = temporary
        .write_all(after.as_bytes())
        .and_then(|()| temporary.as_file().set_permissions(permissions));
    written
        .and_then(|()| temporary.as_file().sync_all())
        .map_err(|error| reason(&error))?;
    if Disk.load(&path).as_deref() != Ok(before) {
        return Err("the file has changed since it was read".into());
    }
    temporary
        .persist(&path)
        .map_err(|error| reason(&error.error))?;
    Ok(())
}

/// Writes a file that is not there yet.
///
/// # Errors
/// There is such a file by now, or it could not be written.
pub fn create(path: &Path, text: &str) -> Result<(), String> {
    let folder = match path.parent() {
        Some(folder) if folder != Path::new("") => folder,
        _ => Path::new("."),
    };
    let mut new = tempfile::Builder::new();
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        // As any new file has it; the user's mask takes away from it.
        new.permissions(fs::Permissions::from_mode(0o666));
    }
    let mut temporary = new.tempfile_in(folder).map_err(|error| reason(&error))?;
    temporary
        .write_all(text.as_bytes())
        .and_then(|()| temporary.as_file().sync_all())
        .map_err(|error| reason(&error))?;
    temporary
        .persist_noclobber(path)
        .map_err(|error| match error.error.kind() {
            ErrorKind::AlreadyExists => "there is such a file by now".into(),
            _ => reason(&error.error),
        })?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_that_changed_meanwhile_is_left() {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let path = folder.path().join("a.plan.yaml");
        fs::write(&path, "theirs").expect("written");
        let refused = replace(&path, "as read", "ours");
        assert_eq!(
            refused,
            Err("the file has changed since it was read".to_owned())
        );
        assert_eq!(fs::read_to_string(&path).expect("read"), "theirs");
        assert_eq!(
            fs::read_dir(folder.path()).expect("read").count(),
            1,
            "nothing is left beside it"
        );
    }

    #[test]
    #[cfg(unix)]
    fn a_link_stays_a_link() {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let (path, link) = (
            folder.path().join("a.plan.yaml"),
            folder.path().join("link.plan.yaml"),
        );
        fs::write(&path, "before").expect("written");
        std::os::unix::fs::symlink(&path, &link).expect("linked");
        assert_eq!(replace(&link, "before", "after"), Ok(()));
        assert_eq!(fs::read_to_string(&path).expect("read"), "after");
        assert!(
            fs::symlink_metadata(&link)
                .expect("there")
                .file_type()
                .is_symlink()
        );
    }
}
