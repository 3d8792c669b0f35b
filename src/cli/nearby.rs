//! Files that hold for everything below their folder: how far up they are looked for, and what they are called.

use std::collections::HashMap;
use std::path::{Path, PathBuf};
use std::{env, fs};

/// What holds for the plans of each folder, as far as it is known: what lies nearest, in the folder or above it.
#[derive(Debug)]
pub struct Upwards<T>(HashMap<PathBuf, Option<T>>);

impl<T> Default for Upwards<T> {
    fn default() -> Self {
        Self(HashMap::new())
    }
}

impl<T: Clone> Upwards<T> {
    /// What lies in a folder, without looking.
    pub fn know(&mut self, folder: PathBuf, what: T) {
        self.0.insert(folder, Some(what));
    }

    /// What is nearest of that which `look` finds in folders; it is asked once about each. What lies above a
    /// repository is not the repository's.
    pub fn nearest(
        &mut self,
        folder: &Path,
        mut look: impl FnMut(&Path) -> Option<T>,
    ) -> Option<T> {
        let (mut passed, mut nearest) = (Vec::new(), None);
        for folder in folder.ancestors() {
            if let Some(known) = self.0.get(folder) {
                nearest = known.clone();
                break;
            }
            passed.push(folder);
            nearest = look(folder);
            if nearest.is_some() || is_root(folder) {
                break;
            }
        }
        let passed = passed.into_iter();
        self.0
            .extend(passed.map(|folder| (folder.to_owned(), nearest.clone())));
        nearest
    }
}

/// Whether a folder is the root of a repository.
fn is_root(folder: &Path) -> bool {
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
