//! Makes redlines again and again, until no more can be made.

use std::collections::{HashMap, HashSet};
use std::hash::{DefaultHasher, Hash, Hasher};
use std::path::{Path, PathBuf};

use super::redline::{Suggestion, Why, ink};
use super::run::{Review, Scope, Selection, review_text};
use crate::findings::RedlineKind;
use crate::plan::{Date, Library};
use crate::yaml::{Broken, Sources};

/// A redline can make room for another one; more rounds than this no plan needs.
const ROUNDS: usize = 32;

/// What became of a plan and its catalogues.
#[derive(Debug, Default)]
pub struct Settled {
    /// Only those that changed; the plan first.
    pub files: Vec<Rewritten>,
    pub made: Vec<Suggestion>,
    pub left: Vec<(Suggestion, Why)>,
    /// Why everything was taken back.
    pub reverted: Option<String>,
}

/// A file with redlines made in it.
#[derive(Debug)]
pub struct Rewritten {
    pub path: PathBuf,
    pub before: String,
    pub after: String,
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
}

/// Makes all redlines of the given kinds in a plan and its catalogues, and reviews the result,
/// until nothing more can be made. What a variance lets pass on the day `today` is left. If the result could no longer be read, nothing is changed.
///
/// # Errors
/// The sources, and where and why the text is no YAML.
pub fn settle(
    path: &Path,
    text: String,
    library: &dyn Library,
    kinds: &[RedlineKind],
    today: Option<Date>,
) -> Result<Settled, (Box<Sources>, Broken)> {
    let mut changed = Changed {
        library,
        texts: HashMap::new(),
    };
    let scope = Scope {
        selection: Selection::All,
        today,
    };
    let mut settled = Settled::default();
    let plan_path = path.to_owned();
    let mut seen = HashSet::new();
    let mut current = review_text(path, text, &changed, scope)?;
    let unread = unread_catalogues(&current);
    seen.insert(state_of(&current, |_| None));
    for round in 0..=ROUNDS {
        let marked = ink(&current, kinds);
        let made: Vec<Suggestion> = marked.iter().flat_map(|file| file.made.clone()).collect();
        settled.left = marked.iter().flat_map(|file| file.left.clone()).collect();
        if made.is_empty() {
            break;
        }
        let mut plan = current.sources.file(current.file).text.clone();
        let mut texts = changed.texts.clone();
        for file in marked.into_iter().filter(|file| !file.made.is_empty()) {
            let source = current.sources.file(file.file);
            if file.file == current.file {
                plan = file.text;
            } else {
                texts.insert(source.path.clone(), file.text);
            }
        }
        let state = state_of(&current, |path| {
            if *path == plan_path {
                Some(&plan)
            } else {
                texts.get(path)
            }
        });
        if round == ROUNDS || !seen.insert(state) {
            settled
                .left
                .extend(made.into_iter().map(|suggestion| (suggestion, Why::Circle)));
            break;
        }
        for (_, source) in current.sources.files() {
            let after = if source.path == path {
                Some(&plan)
            } else {
                texts.get(&source.path)
            };
            if let Some(after) = after {
                note(&mut settled.files, &source.path, &source.text, after);
            }
        }
        changed.texts = texts;
        current = match review_text(path, plan, &changed, scope) {
            Ok(review) if unread_catalogues(&review) <= unread => review,
            Ok(_) => {
                return Ok(reverted(
                    settled,
                    made,
                    "a catalogue could no longer be read",
                ));
            }
            Err((_, broken)) => return Ok(reverted(settled, made, &broken.reason)),
        };
        settled.made.extend(made);
    }
    settled.files.retain(|file| file.before != file.after);
    Ok(settled)
}

/// All texts of a review as one number, some of them changed.
fn state_of<'t>(review: &Review, changed: impl Fn(&PathBuf) -> Option<&'t String>) -> u64 {
    let mut hasher = DefaultHasher::new();
    for (_, source) in review.sources.files() {
        (&source.path, changed(&source.path).unwrap_or(&source.text)).hash(&mut hasher);
    }
    hasher.finish()
}

fn note(files: &mut Vec<Rewritten>, path: &Path, before: &str, after: &str) {
    match files.iter_mut().find(|file| file.path == path) {
        Some(file) => after.clone_into(&mut file.after),
        None => files.push(Rewritten {
            path: path.to_owned(),
            before: before.to_owned(),
            after: after.to_owned(),
        }),
    }
}

fn reverted(settled: Settled, made: Vec<Suggestion>, reason: &str) -> Settled {
    let undone = settled
        .made
        .into_iter()
        .chain(made)
        .map(|suggestion| (suggestion, Why::Circle));
    Settled {
        left: settled.left.into_iter().chain(undone).collect(),
        reverted: Some(reason.to_owned()),
        ..Settled::default()
    }
}

fn unread_catalogues(review: &Review) -> usize {
    review
        .findings
        .iter()
        .filter(|finding| finding.rule == "plan.catalogue-unread")
        .count()
}
