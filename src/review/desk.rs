//! A plan and its catalogues on the desk: what they would be with some redlines made, and whether
//! that is better.

use std::collections::{HashMap, HashSet};
use std::hash::{DefaultHasher, Hash, Hasher};
use std::path::{Path, PathBuf};

use super::redline::{Marked, Suggestion, Why};
use super::run::{Review, Scope, review_text};
use crate::findings::{Finding, Id, Level, Redline};
use crate::plan::Library;

/// By what a redline is known again after others have been made: its rule, the thing at fault, how
/// grave that is, and what it does.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Key {
    rule: &'static str,
    on: Option<Id>,
    level: Level,
    title: String,
}

impl Key {
    pub fn of(finding: &Finding, redline: &Redline) -> Self {
        Self {
            rule: finding.rule,
            on: finding.on.first().cloned(),
            level: finding.level,
            title: redline.title.clone(),
        }
    }
}

/// What redlines have to keep when they are made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kept {
    /// The plan and its catalogues can still be read.
    Reads,
    /// Besides, each clears its finding, and there is none that was not there.
    Better,
}

pub(super) struct Desk<'l> {
    path: PathBuf,
    scope: Scope<'l>,
    changed: Changed<'l>,
    /// All texts that have lain here, as numbers.
    seen: HashSet<u64>,
}

/// Catalogues as changed so far, the others as they are.
struct Changed<'l> {
    library: &'l dyn Library,
    texts: HashMap<PathBuf, String>,
}

impl Library for Changed<'_> {
    fn load(&self, path: &Path) -> Result<String, String> {
        self.texts
            .get(path)
            .map_or_else(|| self.library.load(path), |text| Ok(text.clone()))
    }

    fn usual(&self) -> &[PathBuf] {
        self.library.usual()
    }
}

impl<'l> Desk<'l> {
    pub(super) fn new(path: &Path, library: &'l dyn Library, scope: Scope<'l>) -> Self {
        Self {
            path: path.to_owned(),
            scope,
            changed: Changed {
                library,
                texts: HashMap::new(),
            },
            seen: HashSet::new(),
        }
    }

    /// Lays the texts of a review on the desk. Gives those that are not as the library has them,
    /// and the plan.
    pub(super) fn lay(&mut self, review: &Review) -> Vec<(PathBuf, String)> {
        self.seen.insert(state_of(review));
        let mut files = Vec::new();
        for (id, source) in review.sources.files() {
            let file = (source.path.clone(), source.text.clone());
            if id == review.file {
                files.insert(0, file);
            } else if let Some(text) = self.changed.texts.get_mut(&source.path) {
                text.clone_from(&file.1);
                files.push(file);
            }
        }
        files
    }

    /// The review after redlines are made.
    ///
    /// # Errors
    /// What they do not keep.
    pub(super) fn attempt(
        &mut self,
        before: &Review,
        marked: &[Marked],
        kept: Kept,
    ) -> Result<Review, Why> {
        let mut plan = before.sources.file(before.file).text.clone();
        let outer = self.changed.texts.clone();
        for file in marked.iter().filter(|file| !file.made.is_empty()) {
            if file.file == before.file {
                plan.clone_from(&file.text);
            } else {
                let path = before.sources.file(file.file).path.clone();
                self.changed.texts.insert(path, file.text.clone());
            }
        }
        let after = review_text(&self.path, plan, &self.changed, self.scope);
        let made = || marked.iter().flat_map(|file| &file.made);
        let came = match after {
            Ok(after) if unread_catalogues(&after) > unread_catalogues(before) => Err(Why::Broken),
            Ok(after) if self.seen.contains(&state_of(&after)) => Err(Why::Circle),
            Ok(after) if kept == Kept::Better && !is_better(before, &after, made()) => {
                Err(Why::Broken)
            }
            Ok(after) => Ok(after),
            Err(_) => Err(Why::Broken),
        };
        if came.is_err() {
            self.changed.texts = outer;
        }
        came
    }
}

/// A rule and the thing at fault.
type Told<'r> = (&'r str, Option<&'r Id>);

/// How many findings there are of each level or a graver one.
type Counts = [usize; Level::ALL.len()];

/// Whether each redline made has cleared its finding, and none is there that was not. One that has
/// become less grave is no new one.
fn is_better<'r>(
    before: &Review,
    after: &Review,
    made: impl Iterator<Item = &'r Suggestion>,
) -> bool {
    let mut most = counted(&before.findings);
    for Suggestion { key, .. } in made {
        if let Some(counts) = most.get_mut(&(key.rule, key.on.as_ref())) {
            for count in &mut counts[..=key.level as usize] {
                *count = count.saturating_sub(1);
            }
        }
    }
    counted(&after.findings).iter().all(|(told, counts)| {
        let most = most.get(told);
        most.is_some_and(|most| counts.iter().zip(most).all(|(count, most)| count <= most))
    })
}

fn counted(findings: &[Finding]) -> HashMap<Told<'_>, Counts> {
    let mut counts: HashMap<Told<'_>, Counts> = HashMap::new();
    for finding in findings {
        let counts = counts
            .entry((finding.rule, finding.on.first()))
            .or_default();
        for count in &mut counts[..=finding.level as usize] {
            *count += 1;
        }
    }
    counts
}

/// All texts of a review as one number.
fn state_of(review: &Review) -> u64 {
    let mut hasher = DefaultHasher::new();
    for (_, source) in review.sources.files() {
        (&source.path, &source.text).hash(&mut hasher);
    }
    hasher.finish()
}

fn unread_catalogues(review: &Review) -> usize {
    review
        .findings
        .iter()
        .filter(|finding| finding.rule == "plan.catalogue-unread")
        .count()
        + review.plan.usual_unread.len()
}
