//! Which plans use a file that is no plan: as a catalogue, as what governs all plans below its
//! folder, or by way of that.

use std::collections::HashMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::rc::Rc;

use super::git::{Repository, lexical};
use super::input::Files;
use super::nearby::Upwards;
use super::out::complain;
use super::plans::{self, List};
use super::{lists, settings};
use crate::plan::catalogues_of;
use crate::settings::read;

/// Names of files of which the nearest in a plan's folder or above it holds for the plan; each
/// kind by itself.
const GOVERNING: [&[&str]; 2] = [&[lists::NAME], &settings::NAMES];
const LISTS: usize = 0;
const SETTINGS: usize = 1;

/// Adds the plans of the repository that use one of `others`, and says how many more plans are
/// reviewed for the sake of which. `named` is the punch list of the command line, if it names one.
pub fn add(list: &mut List, others: &[PathBuf], named: Option<&Path>, files: &Files) {
    let mut users = Users::of(others, named, files);
    let mut added: HashMap<&Path, usize> = HashMap::new();
    for plan in plans_around() {
        if let Some(used) = users.used_by(&plan)
            && list.add(&plan)
            && let Some(path) = used.file()
        {
            *added.entry(path).or_default() += 1;
        }
    }
    let mut added: Vec<_> = added.into_iter().collect();
    added.sort_unstable();
    for (path, count) in added {
        let plans = match count {
            1 => "1 plan that uses it is".to_owned(),
            _ => format!("{count} plans that use it are"),
        };
        complain(&format!(
            "{} was revised: {plans} checked with it",
            path.display()
        ));
    }
}

/// The plans of the repository, or where there is none, those below the current folder.
fn plans_around() -> Vec<PathBuf> {
    let known = Repository::here().and_then(|repository| repository.plans());
    known.unwrap_or_else(|_| plans::below_here())
}

struct Users<'r> {
    files: &'r Files,
    /// Revised files that do not govern, by their places.
    others: HashMap<PathBuf, &'r Path>,
    /// The command line names a punch list, which goes before the nearest one.
    list_is_named: bool,
    /// For each kind, what governs a folder's plans, as far as it is known.
    governing: [Upwards<Nearest<'r>>; GOVERNING.len()],
    /// Settings that were read, by their places.
    settings: HashMap<PathBuf, Rc<ByWayOf<'r>>>,
    places: Places,
}

#[derive(Debug, Clone)]
enum Nearest<'r> {
    Revised(&'r Path),
    /// One that is not revised, at this place.
    Same(PathBuf),
}

/// What plans use by way of their settings.
#[derive(Debug, Default)]
struct ByWayOf<'r> {
    /// A revised file in a folder of the firm's sheets.
    sheet: Option<&'r Path>,
    /// A revised catalogue of plans that name none.
    catalogue: Option<&'r Path>,
    /// It cannot be said which those catalogues are.
    unknown: bool,
}

/// Why a plan counts as a user.
enum Used<'r> {
    File(&'r Path),
    /// It does not read, and what it names cannot be said.
    Unknown,
}

impl<'r> Used<'r> {
    fn file(&self) -> Option<&'r Path> {
        match self {
            Self::File(path) => Some(path),
            Self::Unknown => None,
        }
    }
}

impl<'r> Users<'r> {
    fn of(others: &'r [PathBuf], named: Option<&Path>, files: &'r Files) -> Self {
        let mut users = Self {
            files,
            others: HashMap::new(),
            list_is_named: named.is_some(),
            governing: Default::default(),
            settings: HashMap::new(),
            places: Places::default(),
        };
        let named = named.map(|path| users.places.of(path.to_owned()));
        for path in others {
            let place = users.places.of(path.clone());
            let kind = if named.as_ref() == Some(&place) {
                Some(LISTS)
            } else {
                GOVERNING.iter().position(|names| {
                    let name = path.file_name().and_then(|name| name.to_str());
                    name.is_some_and(|name| names.contains(&name))
                })
            };
            match (kind, place.parent()) {
                (Some(kind), Some(folder)) => {
                    users.governing[kind].know(folder.to_owned(), Nearest::Revised(path));
                }
                _ => {
                    users.others.insert(place, path);
                }
            }
        }
        users
    }

    fn used_by(&mut self, plan: &Path) -> Option<Used<'r>> {
        let folder = match plan.parent() {
            Some(folder) if folder != Path::new("") => folder,
            _ => Path::new("."),
        };
        let whole = self.places.of(folder.to_owned());
        for kind in 0..GOVERNING.len() {
            if let Some(Nearest::Revised(path)) = self.nearest(kind, &whole) {
                return Some(Used::File(path));
            }
        }
        if self.others.is_empty() {
            return None;
        }
        let by_way = match self.nearest(SETTINGS, &whole) {
            Some(Nearest::Same(settings)) => self.by_way_of(settings),
            _ => Rc::default(),
        };
        if let Some(sheet) = by_way.sheet {
            return Some(Used::File(sheet));
        }
        // One that is gone or cannot be read has its own complaint when it is revised itself.
        let text = self.files.peek(plan).ok()?;
        match catalogues_of(&text) {
            Some(Some(names)) => {
                let mut named = names.into_iter().map(|name| folder.join(name));
                let used = named.find_map(|path| self.others.get(&self.places.of(path)));
                used.map(|path| Used::File(path))
            }
            Some(None) if by_way.unknown => Some(Used::Unknown),
            Some(None) => by_way.catalogue.map(Used::File),
            None => Some(Used::Unknown),
        }
    }

    /// What governs the plans in a folder.
    fn nearest(&mut self, kind: usize, folder: &Path) -> Option<Nearest<'r>> {
        let by_name = kind != LISTS || !self.list_is_named;
        self.governing[kind].nearest(folder, |folder| {
            if !by_name {
                return None;
            }
            let mut here = GOVERNING[kind].iter().map(|name| folder.join(name));
            let there = here.find(|path| self.files.has(path));
            there.map(Nearest::Same)
        })
    }

    /// Settings that cannot be used say so when a plan is reviewed; here nothing is used by their way.
    fn by_way_of(&mut self, settings: PathBuf) -> Rc<ByWayOf<'r>> {
        if let Some(known) = self.settings.get(&settings) {
            return Rc::clone(known);
        }
        let mut by_way = ByWayOf::default();
        if let Ok(text) = self.files.peek(&settings)
            && let Ok(read) = read(&settings, text, self.files)
        {
            let lies_in = |folder: &PathBuf, places: &mut Places| {
                let folder = places.of(folder.clone());
                let mut below = self
                    .others
                    .iter()
                    .filter(|(place, _)| place.starts_with(&folder));
                below.next().map(|(_, path)| *path)
            };
            let folders = &read.settings.folders;
            by_way.sheet = folders
                .iter()
                .find_map(|folder| lies_in(folder, &mut self.places));
            for catalogue in read.settings.catalogue {
                by_way.unknown |= catalogue == settings;
                let used = self.others.get(&self.places.of(catalogue));
                by_way.catalogue = by_way.catalogue.or(used.copied());
            }
        }
        let by_way = Rc::new(by_way);
        self.settings.insert(settings, Rc::clone(&by_way));
        by_way
    }
}

/// Where files are, whichever way they are named. Kept, since many plans name the same.
#[derive(Default)]
struct Places(HashMap<PathBuf, PathBuf>);

impl Places {
    fn of(&mut self, path: PathBuf) -> PathBuf {
        if let Some(place) = self.0.get(&path) {
            return place.clone();
        }
        // What is gone is where it was.
        let place = fs::canonicalize(&path).unwrap_or_else(|_| {
            let folder = path.parent().map(|folder| Path::new(".").join(folder));
            match (
                folder.and_then(|folder| fs::canonicalize(folder).ok()),
                path.file_name(),
            ) {
                (Some(folder), Some(name)) => folder.join(name),
                _ => lexical(&fs::canonicalize(".").unwrap_or_default(), &path),
            }
        });
        self.0.insert(path, place.clone());
        place
    }
}
