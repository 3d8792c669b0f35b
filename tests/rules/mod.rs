//! More cases for each rule, data only: a plan's text in, what is found out.

mod fire;
mod pathway;
mod plan;

use std::path::Path;

use nailplate::findings::{Level, RedlineKind};
use nailplate::plan::Library;
use nailplate::review::{Review, Selection, ink, review_text};

struct Nothing;

impl Library for Nothing {
    fn load(&self, _: &Path) -> Result<String, String> {
        Err("no such file".into())
    }
}

#[track_caller]
fn reviewed(text: &str, rule: &str) -> Review {
    let read = review_text(
        Path::new("case.plan.yaml"),
        text.to_owned(),
        &Nothing,
        Selection::Only(rule),
    );
    read.unwrap_or_else(|(_, broken)| panic!("no YAML: {} at {}", broken.reason, broken.byte))
}

/// What a rule finds in a plan: the thing at fault, and how grave it is.
#[track_caller]
pub fn found(text: &str, rule: &str) -> Vec<(String, Level)> {
    reviewed(text, rule)
        .findings
        .iter()
        .map(|finding| (finding.on[0].to_string(), finding.level))
        .collect()
}

/// What a rule lacks in a plan.
#[track_caller]
pub fn gaps(text: &str, rule: &str) -> Vec<String> {
    reviewed(text, rule)
        .gaps
        .into_iter()
        .map(|gap| gap.lacks)
        .collect()
}

/// The plan with every edit made that a rule offers.
#[track_caller]
pub fn edited(text: &str, rule: &str) -> String {
    let review = reviewed(text, rule);
    let marked = ink(&review, &[RedlineKind::Same, RedlineKind::Change]);
    marked
        .into_iter()
        .next()
        .map_or_else(|| text.to_owned(), |marked| marked.text)
}
