//! Edits on offer: each by itself, and all of them made until still.

use std::collections::BTreeMap;
use std::env;
use std::path::Path;

use nailplate::findings::{Level, RedlineKind};
use nailplate::forms::{Page, redline as form};
use nailplate::review::{Marked, Review, Settled, ink, ink_of, settle};
use nailplate::rules::is_judged;

use super::parts::Parts;
use super::{DAY, PLAN, kept, lot, reviewed};

const BOTH: [RedlineKind; 2] = [RedlineKind::Same, RedlineKind::Change];

/// Single edits tried of one text: each costs a review.
const MOST: usize = 4;

pub fn drive(bytes: &[u8]) {
    let all = String::from_utf8_lossy(bytes);
    let parts = Parts::of(&all);
    let Some(before) = reviewed(parts.first, &parts) else {
        return;
    };
    kept::review(&before);
    shown(&before);
    let edited: Vec<usize> = (0..before.findings.len())
        .filter(|index| !before.findings[*index].redlines.is_empty())
        .collect();
    if edited.is_empty() {
        return;
    }
    let known = counted(&before);
    let first = lot(&all) as usize % edited.len();
    for index in edited.iter().cycle().skip(first).take(MOST) {
        alone(&before, *index, &known, &parts);
    }
    settled(parts.first, &before, &known, &parts);
}

/// The diff of everything on offer.
fn shown(review: &Review) {
    for marked in ink(review, &BOTH) {
        let source = review.sources.file(marked.file);
        let mut out = Vec::new();
        form::diff(source, &marked, Page::new(80, false), &mut out)
            .and_then(|()| form::left(&marked.left, &mut out))
            .expect("a Vec takes everything");
        assert!(String::from_utf8(out).is_ok(), "a diff is text");
    }
}

/// How often each rule finds something on each thing at each level or a graver one, so that a finding which has become
/// less grave is no new one.
type Counts = BTreeMap<(&'static str, String, Level), usize>;

fn counted(review: &Review) -> Counts {
    let mut counts = Counts::new();
    for finding in &review.findings {
        for level in Level::ALL {
            if level <= finding.level {
                let key = (finding.rule, finding.on[0].to_string(), level);
                *counts.entry(key).or_default() += 1;
            }
        }
    }
    counts
}

/// The plan as it is with edits made in it; `None` where one was left, or a catalogue would change.
fn with(review: &Review, marked: &[Marked]) -> Option<String> {
    match marked {
        [one] if one.file == review.file && one.left.is_empty() => Some(one.text.clone()),
        _ => None,
    }
}

/// Each edit of a finding by itself: the plan still reads, and where the run asks for it (`PROMISES=1`), it has that finding
/// no more and none that was not there. What a rule offers in a house that nobody would build is not to keep other work from
/// landing, as with `tests/redline/promise.rs`.
fn alone(before: &Review, index: usize, known: &Counts, parts: &Parts<'_>) {
    let finding = &before.findings[index];
    for wanted in &finding.redlines {
        let marked = ink_of(before, &[index], |_, redline| redline == wanted);
        let Some(with) = with(before, &marked) else {
            continue;
        };
        let told = || format!("{}: {} ({})", wanted.title, finding.says, finding.rule);
        let Some(after) = reviewed(&with, parts) else {
            panic!("no YAML any more: {}\n{with}", told());
        };
        if env::var_os("PROMISES").is_none() {
            continue;
        }
        let after = counted(&after);
        let key = (finding.rule, finding.on[0].to_string(), Level::Advice);
        let left = after.get(&key).copied().unwrap_or(0);
        assert!(left < known[&key], "not cleared: {}", told());
        // What a slip of spelling hid may come to light.
        for (new, count) in after.iter().filter(|_| is_judged(finding.rule)) {
            let was = known.get(new).copied().unwrap_or(0);
            assert!(*count <= was, "brings {new:?}: {}", told());
        }
    }
}

/// Made until still: the plan reads, nothing is found that was not there, and a second time nothing is left to make.
fn settled(text: &str, before: &Review, known: &Counts, parts: &Parts<'_>) {
    let settle = |text: &str| -> Settled {
        settle(Path::new(PLAN), text.to_owned(), parts, &BOTH, Some(DAY))
            .unwrap_or_else(|(_, broken)| panic!("no YAML: {}\n{text}", broken.reason))
    };
    let came = settle(text);
    if came.files.iter().any(|file| file.path != Path::new(PLAN)) {
        // The catalogues on the shelf are as they were.
        return;
    }
    let after = came.files.first().map_or(text, |file| &file.after);
    let review = reviewed(after, parts).expect("it still reads");
    kept::review(&review);
    if before
        .findings
        .iter()
        .all(|finding| is_judged(finding.rule))
    {
        for (new, count) in counted(&review) {
            let was = known.get(&new).copied().unwrap_or(0);
            assert!(count <= was, "{new:?} was not there");
        }
    }
}
