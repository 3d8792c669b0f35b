//! Makes redlines again and again, until no more can be made.
//!
//! A redline is a promise: made, it clears its finding and brings no new one. Here the promise is
//! held: the plan is reviewed with the redlines made, and those that do not keep it are left.

use std::collections::HashMap;
use std::path::{Path, PathBuf};

use super::desk::{Desk, Kept, Key};
use super::redline::{Suggestion, Why, ink_of};
use super::run::{Review, Scope, review_text};
use crate::findings::{Finding, Redline, RedlineKind};
use crate::plan::Library;
use crate::rules;
use crate::yaml::{Broken, Sources};

/// Reviews at most that look for redlines that keep their promise. A house needs a few; each costs
/// as much as the plan is long.
const TRIES: usize = 100;

/// What became of a plan and its catalogues.
#[derive(Debug, Default)]
pub struct Settled {
    /// Only those that changed; the plan first.
    pub files: Vec<Rewritten>,
    pub made: Vec<Suggestion>,
    pub left: Vec<(Suggestion, Why)>,
}

/// A file with redlines made in it.
#[derive(Debug)]
pub struct Rewritten {
    pub path: PathBuf,
    pub before: String,
    pub after: String,
}

/// Makes all redlines of the given kinds in a plan and its catalogues, and reviews the result,
/// until nothing more can be made. What a variance lets pass by the scope is left.
///
/// # Errors
/// The sources, and where and why the text is no YAML.
pub fn settle<'l>(
    path: &Path,
    text: String,
    library: &'l dyn Library,
    kinds: &'l [RedlineKind],
    scope: impl Into<Scope<'l>>,
) -> Result<Settled, (Box<Sources>, Broken)> {
    let scope = scope.into();
    let mut settling = Settling {
        desk: Desk::new(path, library, scope),
        kinds,
        refused: HashMap::new(),
        tries: TRIES,
        settled: Settled::default(),
    };
    let mut current = review_text(path, text, library, scope)?;
    settling.desk.lay(&current);
    // What a slip of spelling hides is judged only once it is mended, so that comes first, and what
    // comes to light by it is not held against it.
    for kept in [Kept::Reads, Kept::Better] {
        current = settling.settle(current, kept);
    }
    Ok(settling.finish(&current))
}

struct Settling<'l> {
    desk: Desk<'l>,
    kinds: &'l [RedlineKind],
    /// Redlines that did not keep their promise.
    refused: HashMap<Key, Why>,
    tries: usize,
    settled: Settled,
}

impl Settling<'_> {
    /// Makes redlines of one part of the rulebook until none is left that can be.
    fn settle(&mut self, mut current: Review, kept: Kept) -> Review {
        while self.tries > 0 {
            let judged = |finding: &Finding| rules::is_judged(finding.rule);
            let open = current.findings.iter().enumerate().filter(|(_, finding)| {
                judged(finding) == (kept == Kept::Better)
                    && finding
                        .redlines
                        .iter()
                        .any(|redline| self.wants(finding, redline))
            });
            let open: Vec<usize> = open.map(|(index, _)| index).collect();
            if open.is_empty() {
                break;
            }
            let refused = self.refused.len();
            match self.find(&current, &open, kept) {
                Some((next, made)) => {
                    for file in self.desk.lay(&next) {
                        note(&mut self.settled.files, &current, file);
                    }
                    self.settled.made.extend(made);
                    current = next;
                }
                // One refused may give way to another that its finding offers.
                None if self.refused.len() > refused => {}
                None => break,
            }
        }
        current
    }

    fn wants(&self, finding: &Finding, redline: &Redline) -> bool {
        self.kinds.contains(&redline.kind) && !self.refused.contains_key(&Key::of(finding, redline))
    }

    /// The review after as many of the redlines as keep their promise together: all of them, else
    /// those of the first part in which some do. One that alone does not is refused.
    fn find(
        &mut self,
        current: &Review,
        open: &[usize],
        kept: Kept,
    ) -> Option<(Review, Vec<Suggestion>)> {
        if open.is_empty() || self.tries == 0 {
            return None;
        }
        let marked = ink_of(current, open, |finding, redline| {
            self.wants(finding, redline)
        });
        let made: Vec<Suggestion> = marked.iter().flat_map(|file| file.made.clone()).collect();
        if made.is_empty() {
            return None;
        }
        self.tries -= 1;
        let why = match self.desk.attempt(current, &marked, kept) {
            Ok(next) => return Some((next, made)),
            Err(why) => why,
        };
        if made.len() == 1 {
            let key = made[0].key.clone();
            self.refused.insert(key, why);
            return None;
        }
        let (first, rest) = open.split_at(open.len() / 2);
        self.find(current, first, kept)
            .or_else(|| self.find(current, rest, kept))
    }

    fn finish(mut self, current: &Review) -> Settled {
        let all: Vec<usize> = (0..current.findings.len()).collect();
        let offered = ink_of(current, &all, |finding, redline| {
            self.wants(finding, redline)
        });
        for file in offered {
            let untried = file.made.into_iter().map(|made| (made, Why::Untried));
            let left = file.left.into_iter().chain(untried).map(|(one, why)| {
                let why = self.refused.get(&one.key).copied().unwrap_or(why);
                (one, why)
            });
            self.settled.left.extend(left);
        }
        self.settled.files.retain(|file| file.before != file.after);
        self.settled
    }
}

/// Keeps what a file was before its first change, and what it is now.
fn note(files: &mut Vec<Rewritten>, before: &Review, (path, after): (PathBuf, String)) {
    if let Some(file) = files.iter_mut().find(|file| file.path == path) {
        file.after = after;
    } else if let Some((_, source)) = before
        .sources
        .files()
        .find(|(_, source)| source.path == path)
    {
        files.push(Rewritten {
            before: source.text.clone(),
            path,
            after,
        });
    }
}
