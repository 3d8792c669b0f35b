//! Which punch list holds for which plan: read once, before the first review.

use std::collections::{HashMap, HashSet};
use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use super::input::{self, Files};
use super::nearby::{Upwards, called};
use super::out::complain;
use super::{Outcome, plans};
use crate::plan::Library as _;
use crate::review::{Entry, Mistake, PunchList};

/// What a punch list is called.
pub const NAME: &str = "nailplate.punchlist.yaml";

/// Mistakes of one list that are told; who has mended these sees the next ones.
const MOST: usize = 20;

/// Where lists are looked for.
#[derive(Debug, Clone, Copy)]
pub enum Which<'a> {
    /// Nothing is owed.
    None,
    /// In a plan's folder, else in the next one above it that has one, up to the root of the
    /// repository.
    Nearest,
    /// This one for all plans below its folder.
    Named(&'a Path),
    /// One that is not there yet, for all plans below its folder.
    New(&'a Path),
}

/// Which punch list a review goes by.
#[derive(Debug, clap::Args)]
pub struct Owing {
    /// The punch list to go by; if left out, the nearest nailplate.punchlist.yaml in a plan's folder
    /// or above it
    #[arg(long, value_name = "FILE")]
    list: Option<PathBuf>,
    /// Take nothing as owed, whatever a punch list says
    #[arg(long, conflicts_with = "list")]
    nothing_owed: bool,
}

impl Owing {
    pub fn which(&self) -> Which<'_> {
        match &self.list {
            _ if self.nothing_owed => Which::None,
            Some(path) => Which::Named(path),
            None => Which::Nearest,
        }
    }

    /// The list that is named, whatever it is called.
    pub fn named(&self) -> Option<&Path> {
        self.list.as_deref()
    }
}

/// The lists of some plans.
#[derive(Debug, Default)]
pub struct Lists {
    lists: Vec<Found>,
    /// By the folder of a plan, as it is named on the command line.
    folders: HashMap<PathBuf, Option<Below>>,
}

/// A list and where it lies.
#[derive(Debug)]
pub struct Found {
    /// As it is called in messages.
    pub name: String,
    pub path: PathBuf,
    /// The list's folder, all links resolved.
    folder: PathBuf,
    /// As it was read.
    pub text: String,
    pub list: PunchList,
    /// It cannot be used, which has been said.
    broken: bool,
}

/// A folder below that of a list.
#[derive(Debug)]
struct Below {
    list: usize,
    /// From the list's folder, with a `/` behind each step.
    way: String,
}

impl Lists {
    /// The lists of some plans. Complains of those that cannot be used, and then the outcome is
    /// unusable.
    pub fn of(plans: &[PathBuf], which: Which<'_>, files: &Files) -> (Self, Outcome) {
        let mut lists = Self::default();
        match which {
            Which::None => return (lists, Outcome::Clean),
            Which::Nearest => {}
            Which::Named(path) => lists.named(path, files.load(path)),
            Which::New(path) => lists.named(path, Ok(PunchList::default().text())),
        }
        let mut above = Upwards::default();
        for folder in plans.iter().filter_map(|plan| folder(plan)) {
            if lists.folders.contains_key(folder) {
                continue;
            }
            let whole = fs::canonicalize(folder).unwrap_or_else(|_| folder.to_owned());
            let list = match which {
                Which::Named(_) | Which::New(_) => Some(0),
                Which::None | Which::Nearest => {
                    above.nearest(&whole, |folder| lists.within(folder, files))
                }
            };
            let below = list.and_then(|list| {
                let way = steps(whole.strip_prefix(&lists.lists[list].folder).ok()?)?;
                Some(Below { list, way })
            });
            lists.folders.insert(folder.to_owned(), below);
        }
        let broken = lists.lists.iter().any(|found| found.broken);
        let outcome = if broken {
            Outcome::Unusable
        } else {
            Outcome::Clean
        };
        (lists, outcome)
    }

    /// The list that holds for a plan, and the plan's path from the list's folder.
    pub fn holding(&self, plan: &Path) -> Option<(usize, String)> {
        let below = self.folders.get(folder(plan)?)?.as_ref()?;
        let name = plan.file_name()?.to_str()?;
        Some((below.list, format!("{}{name}", below.way)))
    }

    /// All lists, in the order in which they were found.
    pub fn all(&self) -> &[Found] {
        &self.lists
    }

    /// What is owed by a plan.
    pub fn entries(&self, plan: &Path) -> &[Entry] {
        match self.holding(plan) {
            Some((list, path)) => self.lists[list].list.of(&path),
            None => &[],
        }
    }

    /// Entries of plans that are no more, each with its list: of those plans that are named, or would
    /// lie below a folder that is. `is_there` tells of a plan of a list that it has been seen.
    pub fn lost(
        &self,
        paths: &[PathBuf],
        is_there: impl Fn(usize, &str) -> bool,
    ) -> Vec<(usize, &Entry)> {
        let named = paths.iter().map(|path| match fs::canonicalize(path) {
            Ok(folder) if path.is_dir() => folder,
            _ => plans::place(path),
        });
        let named: Vec<PathBuf> = named.collect();
        let mut lost = Vec::new();
        for (list, found) in self.lists.iter().enumerate() {
            let of_plan = |a: &Entry, b: &Entry| a.plan == b.plan;
            for entries in found.list.entries().chunk_by(of_plan) {
                let name = &*entries[0].plan;
                if is_there(list, name) {
                    continue;
                }
                let plan = found.folder.join(name);
                if named.iter().any(|named| plan.starts_with(named)) && is_gone(&plan) {
                    lost.extend(entries.iter().map(|entry| (list, entry)));
                }
            }
        }
        lost
    }

    /// Complains of the entries of plans that are no more below the folders that were reviewed.
    pub fn complain_of_lost<'p>(
        &self,
        paths: &[PathBuf],
        reviewed: impl Iterator<Item = &'p Path>,
    ) {
        let folders: Vec<PathBuf> = paths.iter().filter(|path| path.is_dir()).cloned().collect();
        if folders.is_empty() || self.lists.is_empty() {
            return;
        }
        let there: HashSet<(usize, String)> =
            reviewed.filter_map(|plan| self.holding(plan)).collect();
        let lost = self.lost(&folders, |list, name| {
            there.contains(&(list, name.to_owned()))
        });
        for lost in lost.chunk_by(|(a, _), (b, _)| a == b) {
            let (list, first) = lost[0];
            complain(&format!(
                "{}: {} owed by plans that are no more, the first of them {}; `nailplate punchlist --close-out` takes that off",
                self.lists[list].name,
                lost.len(),
                first.plan
            ));
        }
    }

    /// The list in a folder.
    fn within(&mut self, folder: &Path, files: &Files) -> Option<usize> {
        let path = folder.join(NAME);
        if !files.has(&path) {
            return None;
        }
        let (name, text) = (called(&path).display().to_string(), files.load(&path));
        Some(self.add(folder.to_owned(), path, name, text))
    }

    fn named(&mut self, path: &Path, text: Result<String, String>) {
        let folder = folder(path).unwrap_or(Path::new("."));
        let whole = fs::canonicalize(folder).unwrap_or_else(|_| folder.to_owned());
        self.add(whole, path.to_owned(), path.display().to_string(), text);
    }

    fn add(
        &mut self,
        folder: PathBuf,
        path: PathBuf,
        name: String,
        text: Result<String, String>,
    ) -> usize {
        let read = text.and_then(|text| match PunchList::read(&text) {
            Ok(list) => Ok((text, list)),
            Err(mistakes) => {
                for mistake in mistakes.iter().take(MOST) {
                    let Mistake { line, column, says } = mistake;
                    complain(&format!("{name}:{line}:{column}: {says}"));
                }
                Err(match mistakes.len().saturating_sub(MOST) {
                    0 => "it has mistakes".to_owned(),
                    more => format!("{more} mistakes more"),
                })
            }
        });
        let broken = read.is_err();
        let (text, list) = read.unwrap_or_else(|reason| {
            complain(&format!(
                "{name}: {reason}; nothing is taken as owed by this list"
            ));
            Default::default()
        });
        self.lists.push(Found {
            name,
            path,
            folder,
            text,
            list,
            broken,
        });
        self.lists.len() - 1
    }
}

/// The folder of a plan; none for standard input.
fn folder(plan: &Path) -> Option<&Path> {
    if input::is_stdin(plan) {
        return None;
    }
    let parent = plan.parent()?;
    Some(if parent == Path::new("") {
        Path::new(".")
    } else {
        parent
    })
}

/// A way down as text, with a `/` behind each step; none where a step is no text.
fn steps(way: &Path) -> Option<String> {
    let mut text = String::new();
    for step in way.components() {
        text.push_str(step.as_os_str().to_str()?);
        text.push('/');
    }
    Some(text)
}

/// What may not be looked at is not gone.
fn is_gone(plan: &Path) -> bool {
    let error = plan.symlink_metadata().err().map(|error| error.kind());
    matches!(error, Some(ErrorKind::NotFound | ErrorKind::NotADirectory))
}
