//! Which plans a command line names: files, and what lies below folders.

use std::collections::HashSet;
use std::fs;
use std::path::{Path, PathBuf};

use ignore::{Walk, WalkBuilder};

use super::Outcome;
use super::input::{is_stdin, reason};
use super::out::complain;

/// How a file below a folder has to end to be taken for a plan.
const ENDINGS: [&[u8]; 2] = [b".plan.yaml", b".plan.yml"];

/// The plans in the order of the command line, each once; of a folder all that lie below it,
/// sorted by name folder by folder. Complains of what could not be looked into, and then the
/// outcome is unusable.
pub fn named(paths: &[PathBuf]) -> (Vec<PathBuf>, Outcome) {
    let mut list = List::default();
    for path in paths {
        if !is_stdin(path) && path.is_dir() {
            list.folder(path);
        } else {
            list.add(path);
        }
    }
    (list.plans, list.outcome)
}

/// Plans, each once.
#[derive(Default)]
pub struct List {
    pub plans: Vec<PathBuf>,
    known: HashSet<PathBuf>,
    pub outcome: Outcome,
}

impl List {
    /// Adds a plan; whether it was not there yet.
    pub fn add(&mut self, path: &Path) -> bool {
        self.add_at(path, place(path))
    }

    fn add_at(&mut self, path: &Path, place: PathBuf) -> bool {
        let fresh = self.known.insert(place);
        if fresh {
            self.plans.push(path.to_owned());
        }
        fresh
    }

    /// Adds the plans below a folder, and complains if there are none.
    pub fn folder(&mut self, folder: &Path) {
        let whole = fs::canonicalize(folder).unwrap_or_else(|_| folder.to_owned());
        let (mut empty, mut seen_all) = (true, true);
        for entry in walk(folder) {
            let entry = match entry {
                Ok(entry) => entry,
                Err(error) => {
                    complain(&told(&error, folder));
                    self.outcome = Outcome::Unusable;
                    seen_all = false;
                    continue;
                }
            };
            if let Some(error) = entry.error() {
                // A line of an ignore file that is no pattern; the other lines hold.
                complain(&told(error, entry.path()));
            }
            if !is_plan(entry.path()) || entry.depth() == 0 {
                continue;
            }
            if entry.path_is_symlink() {
                complain(&format!(
                    "{}: a link; below a folder links are not followed",
                    entry.path().display()
                ));
                continue;
            }
            if !entry.file_type().is_some_and(|kind| kind.is_file()) {
                continue;
            }
            empty = false;
            let below = entry.path().strip_prefix(folder).unwrap_or(entry.path());
            // What lies in the current folder is called as if it had been named itself.
            let path = if folder == Path::new(".") {
                below
            } else {
                entry.path()
            };
            self.add_at(path, whole.join(below));
        }
        if empty && seen_all {
            complain(&format!(
                "{}: no plan below this folder (*.plan.yaml, *.plan.yml)",
                folder.display()
            ));
        }
    }
}

/// The plans below the current folder, in order; what cannot be looked into is passed over.
pub fn below_here() -> Vec<PathBuf> {
    let files = walk(Path::new(".")).flatten().filter(|entry| {
        is_plan(entry.path()) && entry.file_type().is_some_and(|kind| kind.is_file())
    });
    let paths = files.map(ignore::DirEntry::into_path);
    paths
        .map(|path| path.strip_prefix(".").map(Path::to_owned).unwrap_or(path))
        .collect()
}

/// Everything below a folder that its ignore files let through, and nothing hidden.
fn walk(folder: &Path) -> Walk {
    WalkBuilder::new(folder)
        .follow_links(false)
        .require_git(false)
        // What is reviewed must not hang on whose computer it is.
        .git_global(false)
        .git_exclude(false)
        .sort_by_file_name(Ord::cmp)
        .build()
}

/// Whether a file is a plan by its name.
pub fn is_plan(path: &Path) -> bool {
    path.file_name().is_some_and(|name| {
        let name = name.as_encoded_bytes();
        ENDINGS.iter().any(|ending| name.ends_with(ending))
    })
}

/// By what two names are known to be the same plan. A link is another plan than what it leads to:
/// catalogues are looked up from the folder that the plan is named in.
pub(super) fn place(path: &Path) -> PathBuf {
    if is_stdin(path) {
        return path.to_owned();
    }
    let folder = match path.parent() {
        Some(folder) if folder != Path::new("") => folder,
        _ => Path::new("."),
    };
    match (fs::canonicalize(folder), path.file_name()) {
        (Ok(folder), Some(name)) => folder.join(name),
        _ => path.to_owned(),
    }
}

/// `path: reason`, with the path that the error is about where it knows one.
fn told(error: &ignore::Error, near: &Path) -> String {
    fn about(error: &ignore::Error) -> Option<&Path> {
        match error {
            ignore::Error::WithPath { path, .. } => Some(path),
            ignore::Error::WithDepth { err, .. } | ignore::Error::WithLineNumber { err, .. } => {
                about(err)
            }
            _ => None,
        }
    }
    match error.io_error() {
        Some(io) => {
            let path = about(error).unwrap_or(near);
            format!("{}: {}", path.display(), reason(io))
        }
        None => error.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use std::io;

    use super::*;

    #[test]
    fn an_error_is_told_with_its_path_and_without_a_number() {
        let closed = |raw: io::Error| ignore::Error::WithDepth {
            depth: 2,
            err: Box::new(ignore::Error::WithPath {
                path: "plans/a".into(),
                err: Box::new(raw.into()),
            }),
        };
        let denied = closed(io::ErrorKind::PermissionDenied.into());
        assert_eq!(told(&denied, Path::new("plans")), "plans/a: no permission");
        let bare = ignore::Error::from(io::Error::from(io::ErrorKind::NotFound));
        assert_eq!(
            told(&bare, Path::new("plans")),
            "plans: there is no such file"
        );
    }

    #[test]
    fn a_plan_is_known_by_the_end_of_its_name() {
        for (name, plan) in [
            ("a.plan.yaml", true),
            ("b/a.plan.yml", true),
            ("a.yaml", false),
            ("a.plan.yaml.txt", false),
            ("a.plan.yaml/stock.yml", false),
            ("aplan.yaml", false),
        ] {
            assert_eq!(is_plan(Path::new(name)), plan, "{name}");
        }
    }
}
