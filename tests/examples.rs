//! The shipped houses, whole: the clean ones are silent, the submitted one gives what was planted in it, and its page is
//! stored as a reader sees it.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use nailplate::findings::{Gap, RedlineKind};
use nailplate::forms::{Page, Words, text};
use nailplate::plan::{Date, Library};
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
    let day = Date::parse("2026-11-25").expect("a day");
    review_text(path, text, &Disk, Selection::All.on_day(day))
        .unwrap_or_else(|(_, broken)| panic!("{}", broken.reason))
}

fn review_shipped(name: &str) -> Review {
    let (path, text) = shipped(name);
    review(&path, text)
}

/// What was planted in a submitted house, a line each: rule and the thing at fault.
fn planted(name: &str) -> Vec<(String, String)> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("tests/planted/{name}.txt"));
    let text = std::fs::read_to_string(path).expect("the list is there");
    let row = |line: &str| {
        let (rule, on) = line.split_once(' ').expect("a rule and a thing");
        (rule.to_owned(), on.to_owned())
    };
    let rows = text.lines().filter(|line| !line.starts_with('#'));
    rows.map(row).collect()
}

fn found(review: &Review) -> Vec<(String, String)> {
    let mut found: Vec<_> = review
        .findings
        .iter()
        .map(|f| (f.rule.to_owned(), f.on[0].to_string()))
        .collect();
    found.sort();
    found
}

/// What no key of a plan can settle: a limit that the region has none of here.
fn is_of_the_region(gap: &Gap) -> bool {
    gap.lacks.starts_with("a limit for ")
        || gap.lacks.starts_with("a table of conductor currents for ")
}

#[test]
fn clean_houses_are_silent() {
    for (name, let_pass) in [
        ("kestrel-row", 1),
        ("heron-mill", 0),
        ("plover-lane", 0),
        ("tern-quay", 0),
    ] {
        let review = review_shipped(&format!("{name}.plan.yaml"));
        assert_eq!(found(&review), [], "{name}");
        let gaps = review.gaps.iter().filter(|gap| !is_of_the_region(gap));
        let gaps: Vec<_> = gaps.collect();
        assert!(gaps.is_empty(), "{name} leaves nothing unjudged: {gaps:?}");
        assert_eq!(review.let_pass.len(), let_pass, "{name}");
        assert!(review.checks > 100, "{name} was judged");
    }
    let us = review_shipped("heron-mill.plan.yaml");
    assert_eq!(us.gaps, [], "every rule has its limits in the us");
}

#[test]
fn the_submitted_houses_give_what_was_planted_and_nothing_else() {
    for name in ["kestrel-row", "heron-mill", "tern-quay"] {
        let review = review_shipped(&format!("{name}-submitted.plan.yaml"));
        assert_eq!(found(&review), planted(name), "{name}");
    }
}

/// Every key of the language stands in some shipped house or in the catalogue, as its example.
#[test]
fn every_key_is_shown_in_a_house() {
    let mut text = String::new();
    for entry in
        std::fs::read_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join("examples")).expect("a folder")
    {
        text += &std::fs::read_to_string(entry.expect("a file").path()).expect("text");
    }
    let mut missing = Vec::new();
    for (what, keys) in crate::schema::RECORDS {
        for key in keys.iter().filter(|key| key.name != "notes") {
            let shown = [
                format!(" {}:", key.name),
                format!("{{{}:", key.name),
                format!("\n{}:", key.name),
            ];
            if !shown.iter().any(|shown| text.contains(shown.as_str())) {
                missing.push(format!("{} of {what}", key.name));
            }
        }
    }
    assert!(missing.is_empty(), "in no shipped house: {missing:?}");
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
    for name in ["kestrel-row", "heron-mill", "tern-quay"] {
        try_each_edit(&format!("{name}-submitted.plan.yaml"));
    }
}

fn try_each_edit(name: &str) {
    let (path, text) = shipped(name);
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
