//! One text that holds several files.

use std::path::{Path, PathBuf};

use nailplate::plan::Library;
use nailplate::settings::Cabinet;

/// What begins a line that begins a file; the file's path stands behind it. To YAML it is a comment.
const MARK: &str = "#> ";

/// A text taken apart at its `#> path` lines.
pub struct Parts<'t> {
    /// What stands before the first of them: the file that it is all about.
    pub first: &'t str,
    files: Vec<(&'t str, &'t str)>,
}

impl<'t> Parts<'t> {
    pub fn of(text: &'t str) -> Self {
        let mut starts = vec![];
        let mut at = 0;
        for line in text.split_inclusive('\n') {
            if let Some(path) = line.strip_prefix(MARK) {
                starts.push((at, path.trim_end(), at + line.len()));
            }
            at += line.len();
        }
        let ends = starts.iter().skip(1).map(|(at, ..)| *at);
        let ends = ends.chain([text.len()]);
        let files = starts
            .iter()
            .zip(ends)
            .map(|((_, path, from), to)| (*path, &text[*from..to]));
        Self {
            first: &text[..starts.first().map_or(text.len(), |(at, ..)| *at)],
            files: files.collect(),
        }
    }

    /// The first file of a path.
    pub fn file(&self, path: &str) -> Option<&'t str> {
        let mut files = self.files.iter();
        files.find(|(name, _)| *name == path).map(|(_, text)| *text)
    }
}

impl Library for Parts<'_> {
    fn load(&self, path: &Path) -> Result<String, String> {
        let found = path.to_str().and_then(|path| self.file(path));
        found
            .map(str::to_owned)
            .ok_or_else(|| "there is no such file".into())
    }
}

impl Cabinet for Parts<'_> {
    fn below(&self, folder: &Path) -> Result<Vec<PathBuf>, String> {
        let paths = self.files.iter().map(|(path, _)| Path::new(*path));
        let mut below: Vec<PathBuf> = paths
            .filter_map(|path| path.strip_prefix(folder).ok())
            .filter(|path| !path.as_os_str().is_empty())
            .map(Path::to_owned)
            .collect();
        below.sort();
        below.dedup();
        match below.is_empty() {
            true => Err("there is no such folder".into()),
            false => Ok(below),
        }
    }
}
