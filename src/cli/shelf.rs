//! Catalogues read once, however many plans share them.

use std::collections::HashMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

use crate::plan::Library;

/// Bytes of catalogues and their names kept at most; what comes after that is read each time.
const MOST: usize = 64 * 1024 * 1024;

/// Keeps what another library gives. May be used from several threads: of two that want the same
/// text one reads it and the other waits.
#[derive(Debug)]
pub struct Shelf<L> {
    behind: L,
    most: usize,
    kept: Mutex<Kept>,
}

#[derive(Debug, Default)]
struct Kept {
    texts: HashMap<PathBuf, Arc<Text>>,
    bytes: usize,
}

/// The text or why there is none, once somebody has looked. A reason is kept, too, so that all
/// plans hear the same.
type Text = OnceLock<Result<Arc<str>, String>>;

impl<L> Shelf<L> {
    pub fn before(behind: L) -> Self {
        Self {
            behind,
            most: MOST,
            kept: Mutex::default(),
        }
    }
}

impl<L: Library> Library for Shelf<L> {
    fn load(&self, path: &Path) -> Result<String, String> {
        // One catalogue may be named from many folders.
        let key = fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
        let text = {
            let mut kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
            Arc::clone(kept.texts.entry(key.clone()).or_default())
        };
        let mut fresh = false;
        let loaded = text
            .get_or_init(|| {
                fresh = true;
                self.behind.load(path).map(Arc::from)
            })
            .clone();
        if fresh {
            let size =
                key.as_os_str().len() + loaded.as_ref().map_or_else(String::len, |t| t.len());
            let mut kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
            if kept.bytes.saturating_add(size) > self.most {
                kept.texts.remove(&key);
            } else {
                kept.bytes += size;
            }
        }
        loaded.map(|text| text.as_ref().to_owned())
    }
}

#[cfg(test)]
mod tests {
    use std::sync::atomic::{AtomicUsize, Ordering};

    use super::*;

    /// Gives every path as its own text, and counts how often it was asked.
    #[derive(Default)]
    struct Counting(AtomicUsize);

    impl Library for &Counting {
        fn load(&self, path: &Path) -> Result<String, String> {
            self.0.fetch_add(1, Ordering::SeqCst);
            match path.to_str() {
                Some(path) if path.contains("lost") => Err("there is no such file".into()),
                other => Ok(other.unwrap_or_default().to_owned()),
            }
        }
    }

    #[test]
    fn the_same_catalogue_is_read_once_by_all_threads() {
        let disk = Counting::default();
        let shelf = Shelf::before(&disk);
        std::thread::scope(|scope| {
            for _ in 0..8 {
                scope.spawn(|| {
                    for _ in 0..100 {
                        assert_eq!(shelf.load(Path::new("a")), Ok("a".to_owned()));
                    }
                });
            }
        });
        assert_eq!(disk.0.load(Ordering::SeqCst), 1);
        assert_eq!(shelf.load(Path::new("b")), Ok("b".to_owned()));
        assert_eq!(disk.0.load(Ordering::SeqCst), 2);
    }

    #[test]
    fn a_reason_is_kept_too() {
        let disk = Counting::default();
        let shelf = Shelf::before(&disk);
        for _ in 0..3 {
            let lost = shelf.load(Path::new("lost"));
            assert_eq!(lost, Err("there is no such file".to_owned()));
        }
        assert_eq!(disk.0.load(Ordering::SeqCst), 1);
    }

    #[test]
    fn one_file_by_two_ways_is_one() {
        let folder = tempfile::tempdir().expect("a temporary folder");
        fs::create_dir(folder.path().join("inner")).expect("made");
        fs::write(folder.path().join("stock.yaml"), "").expect("written");
        let disk = Counting::default();
        let shelf = Shelf::before(&disk);
        let straight = shelf.load(&folder.path().join("stock.yaml"));
        let around = shelf.load(&folder.path().join("inner/../stock.yaml"));
        assert!(straight.is_ok());
        assert_eq!(straight, around);
        assert_eq!(disk.0.load(Ordering::SeqCst), 1);
    }

    #[test]
    fn what_has_no_room_is_read_again() {
        let disk = Counting::default();
        let shelf = Shelf {
            // Name and text of one path of two letters.
            most: 4,
            ..Shelf::before(&disk)
        };
        for path in ["aa", "bb", "aa", "bb", "aa"] {
            assert_eq!(shelf.load(Path::new(path)), Ok(path.to_owned()));
        }
        assert_eq!(disk.0.load(Ordering::SeqCst), 3, "aa once, bb twice");
        let kept = shelf.kept.lock().expect("no thread failed");
        assert_eq!((kept.bytes, kept.texts.len()), (4, 1));
    }
}
