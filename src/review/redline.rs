//! Writing suggested edits into a text, once.

use std::collections::{BTreeSet, HashSet};

use super::desk::Key;
use super::run::Review;
use crate::findings::{Finding, Redline, RedlineKind};
use crate::yaml::{Edit, FileId, Sources, apply, has_comment};

/// A text with redlines made in it.
#[derive(Debug)]
pub struct Marked {
    pub file: FileId,
    pub text: String,
    pub made: Vec<Suggestion>,
    pub left: Vec<(Suggestion, Why)>,
}

/// A redline on offer, and the rule whose finding it clears.
#[derive(Debug, Clone, PartialEq)]
pub struct Suggestion {
    pub rule: &'static str,
    /// By what it is known again once others have been made.
    pub key: Key,
    pub kind: RedlineKind,
    pub title: String,
    /// Where its edits start, as bytes of the text before.
    pub at: Vec<usize>,
}

/// Why a redline was not made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Why {
    /// It would change bytes that another one changes, or add a key that another one adds.
    Overlap,
    /// What it replaces may hold a comment.
    Comment,
    /// Not of a kind that was asked for.
    Kind,
    /// Made again and again, it would undo what others do.
    Circle,
    /// With it the finding still stood, or there was another that had not been there.
    Broken,
    /// So many had been tried already that it was not.
    Untried,
}

impl Why {
    pub fn words(self) -> &'static str {
        match self {
            Self::Overlap => "another redline changes the same place",
            Self::Comment => "it would take out a comment",
            Self::Kind => "it changes what gets built",
            Self::Circle => "others undo it",
            Self::Broken => "with it the plan is no better",
            Self::Untried => "it was not tried; run the command again",
        }
    }
}

/// Makes the redlines of a review in its files: one for each finding, in the order of the
/// findings, those of the given kinds only. A redline is made whole or not at all; one that would
/// overlap an earlier one, or whose edits span a comment, is left.
pub fn ink(review: &Review, kinds: &[RedlineKind]) -> Vec<Marked> {
    let all: Vec<usize> = (0..review.findings.len()).collect();
    ink_of(review, &all, |_, redline| kinds.contains(&redline.kind))
}

/// The same for some of the findings, given by their places in the review, and of each the first
/// redline that is wanted.
pub fn ink_of(
    review: &Review,
    findings: &[usize],
    wants: impl Fn(&Finding, &Redline) -> bool,
) -> Vec<Marked> {
    let mut inked = Inked::default();
    let (mut made, mut left) = (Vec::new(), Vec::new());
    for finding in findings.iter().map(|index| &review.findings[*index]) {
        let wanted = finding
            .redlines
            .iter()
            .find(|redline| wants(finding, redline));
        let Some(redline) = wanted.or(finding.redlines.first()) else {
            continue;
        };
        let file = redline
            .edits
            .first()
            .map_or(review.file, |edit| edit.at.file);
        let suggestion = Suggestion {
            rule: finding.rule,
            key: Key::of(finding, redline),
            kind: redline.kind,
            title: redline.title.clone(),
            at: redline
                .edits
                .iter()
                .filter(|edit| edit.at.file == file)
                .map(|edit| edit.at.start)
                .collect(),
        };
        let outcome = if wanted.is_none() {
            Err(Why::Kind)
        } else {
            inked.make(redline, &review.sources)
        };
        match outcome {
            Ok(true) => made.push((file, suggestion)),
            Ok(false) => {}
            Err(why) => left.push((file, (suggestion, why))),
        }
    }
    let mut edits = inked.edits;
    // Stable, so that insertions at one byte stay in the order in which they were made.
    edits.sort_by_key(|edit| edit.at);
    let mut files: Vec<FileId> = edits
        .iter()
        .map(|edit| edit.at.file)
        .chain(left.iter().map(|(file, _)| *file))
        .collect();
    files.sort_unstable();
    files.dedup();
    files
        .into_iter()
        .filter_map(|file| {
            let own = edits.partition_point(|edit| edit.at.file < file)
                ..edits.partition_point(|edit| edit.at.file <= file);
            Some(Marked {
                file,
                text: apply(&review.sources.file(file).text, &edits[own])?,
                made: of(file, &made),
                left: of(file, &left),
            })
        })
        .collect()
}

fn of<T: Clone>(file: FileId, all: &[(FileId, T)]) -> Vec<T> {
    all.iter()
        .filter(|(at, _)| *at == file)
        .map(|(_, one)| one.clone())
        .collect()
}

/// Edits made so far; disjoint.
#[derive(Default)]
struct Inked {
    edits: Vec<Edit>,
    known: HashSet<(FileId, usize, usize, String)>,
    /// File, start, end, index into `edits`.
    taken: BTreeSet<(FileId, usize, usize, usize)>,
}

impl Inked {
    /// Makes a redline. `Ok(false)` where another one has made all of its edits.
    fn make(&mut self, redline: &Redline, sources: &Sources) -> Result<bool, Why> {
        let fresh: Vec<&Edit> = redline
            .edits
            .iter()
            .filter(|edit| !self.known.contains(&key(edit)))
            .collect();
        for (index, edit) in fresh.iter().enumerate() {
            if has_comment(sources.slice(edit.at)) {
                return Err(Why::Comment);
            }
            let own = fresh[..index].iter().any(|earlier| collide(earlier, edit));
            if own || self.overlaps(edit) {
                return Err(Why::Overlap);
            }
        }
        for edit in &fresh {
            self.taken
                .insert((edit.at.file, edit.at.start, edit.at.end, self.edits.len()));
            self.known.insert(key(edit));
            self.edits.push((*edit).clone());
        }
        Ok(!fresh.is_empty())
    }

    /// Whether an edit collides with one made. Those are disjoint, so the search ends at the first
    /// one that lies wholly before it.
    fn overlaps(&self, edit: &Edit) -> bool {
        let at = edit.at;
        self.taken
            .range(..(at.file, at.end, usize::MAX, usize::MAX))
            .rev()
            .take_while(|(file, _, end, _)| *file == at.file && *end >= at.start)
            .any(|(.., index)| collide(&self.edits[*index], edit))
    }
}

fn key(edit: &Edit) -> (FileId, usize, usize, String) {
    (edit.at.file, edit.at.start, edit.at.end, edit.text.clone())
}

/// Whether two edits cannot both be made. Two insertions at one byte can, if they add different
/// keys and a separator stands between them.
fn collide(one: &Edit, other: &Edit) -> bool {
    let (a, b) = (one.at, other.at);
    if a.file != b.file {
        return false;
    }
    if a == b && a.start == a.end {
        let apart =
            one.text.ends_with(char::is_whitespace) || other.text.starts_with([',', '\n', '\r']);
        return !apart || added_key(&one.text) == added_key(&other.text);
    }
    a.start < b.end.max(b.start + 1) && b.start < a.end.max(a.start + 1)
}

/// The key that an insertion adds to a mapping.
fn added_key(text: &str) -> &str {
    let text = text.trim_start_matches([',', ' ', '\n', '\r']);
    text.split_once(':').map_or(text, |(key, _)| key)
}
