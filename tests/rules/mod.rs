//! Rules on plans of a few lines: each branch, each region, the limits themselves, the gaps.

mod line;
mod power;
mod speaker;
mod video;

use std::path::Path;

use nailplate::findings::Level;
use nailplate::plan::Library;
use nailplate::review::{Review, Selection, review_text};

struct Nothing;

impl Library for Nothing {
    fn load(&self, _: &Path) -> Result<String, String> {
        Err("no such file".into())
    }
}

#[track_caller]
pub fn reviewed(text: &str, rule: &str) -> Review {
    let only = Selection::Only(rule);
    review_text(Path::new("case.plan.yaml"), text.to_owned(), &Nothing, only)
        .unwrap_or_else(|(_, broken)| panic!("no YAML: {} at {}", broken.reason, broken.byte))
}

/// First thing that each finding is on, and its level.
#[track_caller]
pub fn found(text: &str, rule: &str) -> Vec<(String, Level)> {
    let review = reviewed(text, rule);
    review
        .findings
        .iter()
        .map(|found| (found.on[0].to_string(), found.level))
        .collect()
}

/// What the gaps lack.
#[track_caller]
pub fn gaps(text: &str, rule: &str) -> Vec<String> {
    reviewed(text, rule)
        .gaps
        .iter()
        .map(|gap| gap.lacks.clone())
        .collect()
}
