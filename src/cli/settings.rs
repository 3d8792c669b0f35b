//! Which settings a plan goes by: the nearest `nailplate.yaml` at or above its folder, read once.

use std::collections::HashMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::{env, fs, mem};

use super::Outcome;
use super::input::{self, Files, is_stdin};
use super::nearby::{Upwards, called};
use super::out::complain;
use crate::findings::Level;
use crate::plan::Library;
use crate::review::{Review, Scope, of_settings};
use crate::rules::Rulebook;
use crate::settings::{Settings, read};

/// What settings are called.
pub const NAMES: [&str; 2] = ["nailplate.yaml", "nailplate.yml"];

/// A plan and the settings that were found for it.
#[derive(Debug)]
pub struct Governed {
    pub path: PathBuf,
    pub settings: Option<Arc<Settings>>,
    /// Why it cannot be judged by its settings, which has been told.
    pub unusable: Option<Arc<str>>,
}

impl Governed {
    /// What the plan is reviewed by.
    pub fn scope(&self) -> Scope<'_> {
        let settings = self.settings.as_ref();
        Scope {
            rulebook: settings.map_or(Rulebook::built_in(), |settings| &settings.rulebook),
            ..Scope::default()
        }
    }

    pub fn hold(&self) -> Option<Level> {
        self.settings.as_ref()?.hold
    }

    /// A library with the usual catalogues of the settings.
    pub fn stocked<'a>(&'a self, library: &'a dyn Library) -> Stocked<'a> {
        Stocked {
            library,
            settings: self.settings.as_deref(),
        }
    }
}

/// A library, and which catalogues are usual.
pub struct Stocked<'a> {
    library: &'a dyn Library,
    settings: Option<&'a Settings>,
}

impl Library for Stocked<'_> {
    fn load(&self, path: &Path) -> Result<String, String> {
        match self.settings {
            Some(settings) if settings.path == path => {
                Err("these are settings, and no catalogue".into())
            }
            _ => self.library.load(path),
        }
    }

    fn usual(&self) -> &[PathBuf] {
        self.settings.map_or(&[], |settings| &settings.catalogue)
    }
}

/// Finds the settings of every plan. Gives the plans, the mistaken settings, each once and to be told before all
/// plans, and the worst outcome so far. Complains once of settings that cannot be used.
pub fn govern(
    plans: Vec<PathBuf>,
    worst: Outcome,
    files: &Files,
) -> (Vec<Governed>, Vec<Review>, Outcome) {
    let mut office = Office::new(files);
    let mut worst = worst;
    let mut governed = Vec::with_capacity(plans.len());
    for path in plans {
        let (settings, unusable) = match office.of_plan(&path) {
            Found::None => (None, None),
            Found::Read(settings) => (Some(settings), None),
            Found::Unusable(reason) => (None, Some(reason)),
        };
        if unusable.is_some() {
            worst = worst.max(Outcome::Unusable);
        }
        governed.push(Governed {
            path,
            settings,
            unusable,
        });
    }
    if !office.mistaken.is_empty() {
        worst = worst.max(Outcome::Found);
    }
    (governed, office.mistaken, worst)
}

/// Says that settings have mistakes, for the verbs that do not list them.
pub fn complain_of(review: &Review) {
    let count = review.findings.len();
    let mistakes = if count == 1 { "mistake" } else { "mistakes" };
    complain(&format!(
        "{}: {count} {mistakes} in the settings, which are not in effect; `nailplate review` lists them",
        review.sources.file(review.file).path.display()
    ));
}

/// What was found for a folder.
#[derive(Debug, Clone)]
pub enum Found {
    None,
    Read(Arc<Settings>),
    /// They are there and cannot be used, for this reason, which has been told.
    Unusable(Arc<str>),
}

/// Settings by folder, each file read once.
#[derive(Debug)]
pub struct Office<'f> {
    files: &'f Files,
    /// By folders as plans name them.
    named: HashMap<PathBuf, Found>,
    /// By folders as they are.
    known: Upwards<Found>,
    /// Settings with mistakes, in the order in which they were met.
    pub mistaken: Vec<Review>,
}

impl<'f> Office<'f> {
    pub fn new(files: &'f Files) -> Self {
        Self {
            files,
            named: HashMap::new(),
            known: Upwards::default(),
            mistaken: Vec::new(),
        }
    }

    /// The settings of a plan; those of standard input are found from the current folder.
    pub fn of_plan(&mut self, plan: &Path) -> Found {
        let folder = plan.parent().filter(|_| !is_stdin(plan));
        self.of_folder(folder.unwrap_or(Path::new("")))
    }

    pub fn of_folder(&mut self, folder: &Path) -> Found {
        if let Some(found) = self.named.get(folder) {
            return found.clone();
        }
        let whole = match folder.as_os_str().is_empty() {
            true => env::current_dir().and_then(fs::canonicalize),
            false => fs::canonicalize(folder),
        };
        // A folder that is not there holds no plan, which its plan will tell.
        let whole = whole.ok();
        let mut known = mem::take(&mut self.known);
        let found = whole.and_then(|whole| known.nearest(&whole, |folder| self.within(folder)));
        self.known = known;
        let found = found.unwrap_or(Found::None);
        self.named.insert(folder.to_owned(), found.clone());
        found
    }

    /// The settings in a folder.
    fn within(&mut self, folder: &Path) -> Option<Found> {
        let there: Vec<PathBuf> = NAMES
            .iter()
            .map(|name| folder.join(name))
            .filter(|path| self.files.has(path))
            .collect();
        match &there[..] {
            [] => None,
            [one] => Some(self.open(&called(one))),
            [one, other, ..] => Some(unusable(&format!(
                "{}: {} lies beside it; keep one of the two",
                called(one).display(),
                other.file_name().unwrap_or_default().display()
            ))),
        }
    }

    /// Reads settings, or complains of what makes them useless.
    pub fn open(&mut self, path: &Path) -> Found {
        let text = match self.files.text(path) {
            Ok(text) => text,
            Err(reason) => return unusable(&reason),
        };
        match read(path, text, self.files) {
            Err((sources, broken)) => unusable(&input::no_yaml(&sources, &broken)),
            Ok(read) => {
                if !read.findings.is_empty() {
                    let review = of_settings(read.sources, read.file, read.findings);
                    self.mistaken.push(review);
                }
                Found::Read(Arc::new(read.settings))
            }
        }
    }
}

/// Complains, once for all plans that go by these settings.
fn unusable(reason: &str) -> Found {
    complain(&format!(
        "{reason}; no plan that goes by these settings is judged until then"
    ));
    Found::Unusable(reason.into())
}
