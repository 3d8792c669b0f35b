//! What of a review is owed, and what became of the entries whose findings are no longer there.

use std::collections::HashSet;

use super::Entry;
use super::open::Open;
use crate::findings::{Finding, fingerprints};
use crate::plan::{Date, MISTAKES};
use crate::review::Review;
use crate::review::lacks::Lacks;

/// A finding that a punch list has as owed.
#[derive(Debug)]
pub struct Owed {
    /// Its place among all findings, had none been owed.
    pub at: usize,
    pub finding: Finding,
    pub fingerprint: String,
    /// By what it is owed: found again as it stands there, or with fewer things concerned.
    pub entry: Entry,
}

/// An entry whose finding was not found again.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotFound {
    pub entry: Entry,
    pub became: Became,
}

/// What became of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Became {
    PutRight,
    /// A variance lets it pass now.
    LetPass,
    /// Its plan is no more.
    NoPlan,
    /// No rule has its name.
    NoRule,
    /// The rule could not judge, for want of what is said here: it may be owed still.
    Unjudged(String),
}

impl Became {
    /// Whether nothing of it is owed any more.
    pub fn is_done(&self) -> bool {
        !matches!(self, Self::Unjudged(_))
    }

    /// In a few words.
    pub fn word(&self) -> &'static str {
        match self {
            Self::PutRight => "put-right",
            Self::LetPass => "let-pass",
            Self::NoPlan => "no-plan",
            Self::NoRule => "no-rule",
            Self::Unjudged(_) => "not-judged",
        }
    }
}

/// Takes the findings out of a review that the entries of its plan have as owed, and looks what
/// became of the other entries. A finding that is graver than what is owed stays among the findings,
/// and so does one that concerns more things. What variances let pass has been taken out before.
pub fn settle_up(review: &mut Review, entries: &[Entry]) {
    if entries.is_empty() {
        return;
    }
    let prints = fingerprints(&review.findings);
    let mut open = Open::of(entries);
    let exact: Vec<Option<&Entry>> = review
        .findings
        .iter()
        .zip(&prints)
        .map(|(finding, print)| open.exact(finding.rule, print))
        .collect();
    let (mut left, mut owed) = (Vec::new(), Vec::new());
    let all = std::mem::take(&mut review.findings).into_iter().zip(prints);
    for (at, ((finding, fingerprint), exact)) in all.zip(exact).enumerate() {
        let kin = exact.or_else(|| open.kin(&finding));
        let has_grown = |entry: &Entry| exact.is_none() && finding.on.len() > entry.on.len();
        match kin {
            Some(entry) if finding.level <= entry.level && !has_grown(entry) => {
                owed.push(Owed {
                    at,
                    finding,
                    fingerprint,
                    entry: entry.clone(),
                });
            }
            _ => left.push(finding),
        }
    }
    (review.findings, review.owed) = (left, owed);
    let lost = open.rest();
    if !lost.is_empty() {
        review.not_found = became(review, &lost);
    }
}

fn became(review: &Review, lost: &[&Entry]) -> Vec<NotFound> {
    let passed = review.let_pass.iter().map(|let_pass| &let_pass.finding);
    let passed: HashSet<String> = fingerprints(passed).into_iter().collect();
    let rules: HashSet<&str> = lost.iter().map(|entry| &*entry.rule).collect();
    let lacks = Lacks::of(&review.plan, &review.gaps, |rule| rules.contains(rule));
    let (region, stage) = (
        review.plan.region.value().copied(),
        review.plan.stage.value().copied(),
    );
    let hidden = hidden_since(review);
    let became = |entry: &Entry| {
        if passed.contains(&*entry.fingerprint) {
            return Became::LetPass;
        }
        let Some(sheet) = review.rulebook.sheet(&entry.rule) else {
            return Became::NoRule;
        };
        if !review.rulebook.adopts(sheet.id) {
            return Became::Unjudged("a rulebook that adopts its rule".to_owned());
        }
        if !MISTAKES.contains(&sheet.id) && !sheet.applies(region, stage) {
            return Became::Unjudged("a region and a stage in which its rule judges".to_owned());
        }
        if let Some(lack) = lacks.of_thing(&entry.rule, entry.at_fault()) {
            return Became::Unjudged(lack.to_owned());
        }
        if hidden.is_some_and(|since| since.is_none_or(|since| since > entry.since)) {
            return Became::Unjudged("a plan that could be read in full".to_owned());
        }
        Became::PutRight
    };
    let told = lost.iter().map(|entry| NotFound {
        entry: (*entry).clone(),
        became: became(entry),
    });
    told.collect()
}

/// A mistake of reading may hide what an entry is about, unless it was owed already when the entry
/// was made. Since when the latest mistake has been there: a day, or from now on.
fn hidden_since(review: &Review) -> Option<Option<Date>> {
    let is_mistake = |finding: &Finding| MISTAKES.contains(&finding.rule);
    if review.findings.iter().any(is_mistake) || !review.plan.usual_unread.is_empty() {
        return Some(None);
    }
    let owed = review.owed.iter().filter(|owed| is_mistake(&owed.finding));
    owed.map(|owed| owed.entry.since).max().map(Some)
}
