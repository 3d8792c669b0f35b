//! Rules on plans of a few lines: each branch, each region, the limits themselves, the gaps.

// The cases of several files stand in rows, one a line.
#[rustfmt::skip]
mod channels;
#[rustfmt::skip]
mod joined_runs;
#[rustfmt::skip]
mod coax;
#[rustfmt::skip]
mod data;
#[rustfmt::skip]
mod editions;
#[rustfmt::skip]
mod fire;
#[rustfmt::skip]
mod fire_class;
#[rustfmt::skip]
mod fire_more;
#[rustfmt::skip]
mod guards;
#[rustfmt::skip]
mod half_read;
#[rustfmt::skip]
mod framing;
mod line;
mod many;
#[rustfmt::skip]
mod line_absent;
#[rustfmt::skip]
mod line_earths;
#[rustfmt::skip]
mod line_more;
#[rustfmt::skip]
mod line_treble;
#[rustfmt::skip]
pub mod optional_keys;
#[rustfmt::skip]
mod pathway;
#[rustfmt::skip]
mod pathway_more;
#[rustfmt::skip]
mod pathway_place;
#[rustfmt::skip]
mod pathway_pulling;
#[rustfmt::skip]
mod plan;
#[rustfmt::skip]
mod plan_record;
#[rustfmt::skip]
mod plan_tail;
#[rustfmt::skip]
mod plates;
#[rustfmt::skip]
mod poe;
mod power;
#[rustfmt::skip]
mod power_apart;
#[rustfmt::skip]
mod power_close;
#[rustfmt::skip]
mod power_feeds;
#[rustfmt::skip]
mod power_mends;
#[rustfmt::skip]
mod rack;
#[rustfmt::skip]
mod room;
mod speaker;
#[rustfmt::skip]
mod theatre;
#[rustfmt::skip]
mod speaker_levels;
#[rustfmt::skip]
mod speaker_rooms;
mod variances;
mod video;
#[rustfmt::skip]
mod video_lines;

use std::path::Path;

use nailplate::findings::{Level, RedlineKind};
use nailplate::plan::Library;
use nailplate::review::{Review, Selection, ink, review_text};

/// One catalogue, `shelf.yaml`.
struct Shelf;

impl Library for Shelf {
    fn load(&self, path: &Path) -> Result<String, String> {
        let text = "stock:\n  shelf-bare: {for: data, rating: none}\n  shelf-p: {for: video, rating: CL3P}\n";
        let there = path.ends_with("shelf.yaml").then(|| text.to_owned());
        there.ok_or_else(|| "no such file".into())
    }
}

#[track_caller]
pub fn reviewed(text: &str, rule: &str) -> Review {
    let only = Selection::Only(rule);
    review_text(Path::new("case.plan.yaml"), text.to_owned(), &Shelf, only)
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

/// A rule finds exactly these in a plan, by the first thing that each is on, and lacks exactly that.
#[track_caller]
pub fn exactly(text: &str, rule: &str, expected: &[(&str, Level)], lacks: &[&str]) {
    let expected: Vec<_> = expected
        .iter()
        .map(|(on, level)| ((*on).to_owned(), *level))
        .collect();
    assert_eq!(found(text, rule), expected, "{text}");
    assert_eq!(gaps(text, rule), lacks, "{text}");
}

/// Lines of a section, from a case that parts them by `; `.
pub fn lines(text: &str) -> String {
    text.split("; ")
        .filter(|line| !line.is_empty())
        .fold(String::new(), |all, line| all + "  " + line + "\n")
}

/// The plan with every edit made that a rule offers.
#[track_caller]
pub fn edited(text: &str, rule: &str) -> String {
    let review = reviewed(text, rule);
    let marked = ink(&review, &[RedlineKind::Same, RedlineKind::Change]);
    let first = marked.into_iter().next();
    first.map_or_else(|| text.to_owned(), |marked| marked.text)
}
