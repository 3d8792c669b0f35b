//! More cases for each rule, data only: a plan's text in, what is found out.

// Cases stand in rows, one a line.
#[rustfmt::skip]
mod fire;
#[rustfmt::skip]
mod pathway;
#[rustfmt::skip]
mod plan;

use std::path::Path;

use nailplate::findings::{Level, RedlineKind};
use nailplate::plan::Library;
use nailplate::review::{Review, Selection, ink, review_text};

/// One catalogue, `shelf.yaml`.
struct Shelf;

impl Library for Shelf {
    fn load(&self, path: &Path) -> Result<String, String> {
        if path.ends_with("shelf.yaml") {
            return Ok("stock:\n  shelf-bare: {for: data, rating: none}\n  shelf-p: {for: video, rating: CL3P}\n".into());
        }
        Err("no such file".into())
    }
}

#[track_caller]
fn reviewed(text: &str, rule: &str) -> Review {
    let read = review_text(
        Path::new("case.plan.yaml"),
        text.to_owned(),
        &Shelf,
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
