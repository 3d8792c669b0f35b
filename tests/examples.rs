//! The shipped houses, whole: the clean ones are silent, the submitted one gives what was planted in it, and its page is
//! stored as a reader sees it.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use nailplate::findings::RedlineKind;
use nailplate::forms::{Page, Words, text};
use nailplate::plan::Library;
use nailplate::review::{Review, Selection, ink, review_text};

struct Disk;

impl Library for Disk {
    fn load(&self, path: &Path) -> Result<String, String> {
        std::fs::read_to_string(path).map_err(|error| error.to_string())
    }
}

fn shipped(name: &str) -> (PathBuf, String) {
    let path = Path::new("examples").join(name);
    let text = std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(&path))
        .expect("the example is there");
    (path, text)
}

fn review(path: &Path, text: String) -> Review {
    // Catalogues are looked up beside the plan; tests run in the crate's folder.
    review_text(path, text, &Disk, Selection::All)
        .unwrap_or_else(|(_, broken)| panic!("{}", broken.reason))
}

fn review_shipped(name: &str) -> Review {
    let (path, text) = shipped(name);
    review(&path, text)
}

/// What was planted: rule and the thing at fault.
const PLANTED: &[(&str, &str)] = &[
    ("fire.dwelling-only-cable", "S4"),
    ("fire.underrated", "V1"),
    ("fire.unrated-in-wall", "S2"),
    ("line.unbalanced-sub", "L1"),
    ("pathway.no-pull-string", "front-pipe"),
    ("pathway.no-pull-string", "front-pipe"),
    ("pathway.no-spare-way", "projector"),
    ("pathway.no-spare-way", "rack"),
    ("pathway.overbent", "front-pipe"),
    ("pathway.overfull", "front-pipe"),
    ("plan.length-impossible", "D1"),
    ("plan.loose-end", "keypad"),
    ("power.breaker-over-wire", "C1"),
    ("power.breaker-overloaded", "C1"),
    ("power.dedicated-shares", "C1"),
    ("power.subwoofer-shares", "C3"),
    ("power.voltage-drop", "lamps"),
    ("speaker.no-line", "side-r"),
    ("speaker.undersized", "S1"),
    ("video.no-conduit", "projector"),
    ("video.over-reach", "V1"),
    ("video.undergraded", "V1"),
];

fn found(review: &Review) -> Vec<(&'static str, String)> {
    let mut found: Vec<_> = review
        .findings
        .iter()
        .map(|f| (f.rule, f.on[0].to_string()))
        .collect();
    found.sort();
    found
}

#[test]
fn clean_houses_are_silent() {
    for name in ["kestrel-row.plan.yaml", "plover-lane.plan.yaml"] {
        let review = review_shipped(name);
        assert_eq!(found(&review), [], "{name}");
        assert_eq!(review.gaps, [], "{name} leaves nothing unjudged");
        assert!(review.checks > 30, "{name} was judged");
    }
}

#[test]
fn the_submitted_house_gives_what_was_planted_and_nothing_else() {
    let review = review_shipped("kestrel-row-submitted.plan.yaml");
    let planted: Vec<_> = PLANTED
        .iter()
        .map(|(rule, on)| (*rule, (*on).to_owned()))
        .collect();
    assert_eq!(found(&review), planted);
    assert_eq!(review.gaps, []);
}

#[test]
fn the_page_of_the_submitted_house() {
    let review = review_shipped("kestrel-row-submitted.plan.yaml");
    let mut page = Vec::new();
    text::review(
        &review,
        &mut Words::default(),
        Page::new(80, false),
        &mut page,
    )
    .expect("a Vec takes everything");
    insta::assert_snapshot!(String::from_utf8(page).expect("a page is text"));
}

/// A fix is a promise: each offered edit by itself clears its finding and brings no finding that was not there.
#[test]
fn each_edit_clears_its_finding_and_brings_none() {
    let (path, text) = shipped("kestrel-row-submitted.plan.yaml");
    let mut before = review(&path, text.clone());
    let count = |review: &Review| -> BTreeMap<(&'static str, String, &'static str), usize> {
        let mut counts = BTreeMap::new();
        for f in &review.findings {
            *counts
                .entry((f.rule, f.on[0].to_string(), f.level.word()))
                .or_insert(0) += 1;
        }
        counts
    };
    let known = count(&before);
    let all = std::mem::take(&mut before.findings);
    let mut tried = 0;
    for finding in all.iter().filter(|finding| !finding.redlines.is_empty()) {
        let key = (
            finding.rule,
            finding.on[0].to_string(),
            finding.level.word(),
        );
        before.findings = vec![finding.clone()];
        let marked = ink(&before, &[RedlineKind::Same, RedlineKind::Change]);
        let own = marked
            .iter()
            .find(|marked| marked.file == before.file)
            .expect("the edit is in the plan");
        let after = count(&review(&path, own.text.clone()));
        let left = |counts: &BTreeMap<_, usize>, key| counts.get(key).copied().unwrap_or(0);
        assert!(
            left(&after, &key) < left(&known, &key),
            "{} on {} is cleared",
            key.0,
            key.1
        );
        for (new, times) in &after {
            assert!(
                *times <= left(&known, new),
                "the edit for {} on {} brings {new:?}",
                key.0,
                key.1
            );
        }
        tried += 1;
    }
    assert!(tried >= 5, "{tried} edits were offered");
}
