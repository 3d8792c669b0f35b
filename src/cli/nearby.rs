//! Files that hold for everything below their folder: how far up they are looked for, and what they are called.

use std::path::{Path, PathBuf};
use std::{env, fs};

/// Whether a folder is the root of a repository: what lies above is not of its work.
pub fn is_root(folder: &Path) -> bool {
    folder.join(".git").symlink_metadata().is_ok()
}

/// A file, all links in its path resolved, as it is called from the current folder.
pub fn called(path: &Path) -> PathBuf {
    let Ok(here) = env::current_dir().and_then(fs::canonicalize) else {
        return path.to_owned();
    };
    for (steps, above) in here.ancestors().enumerate() {
        // What has nothing but the disk's root in common is not near.
        if above.parent().is_none() && steps > 0 {
            break;
        }
        if let Ok(below) = path.strip_prefix(above) {
            let up = std::iter::repeat_n(Path::new(".."), steps);
            return up.chain([below]).collect();
        }
    }
    path.to_owned()
}
