//! The Markdown form, read by a parser that is not ours: the structure is as meant, and no text of a plan has become
//! markup.

pub mod parsed;

use std::fmt::Write as _;
use std::path::Path;

use nailplate::findings::{Finding, Gap, Id, Level};
use nailplate::forms::{Words, markdown};
use nailplate::plan::Library;
use nailplate::review::{Review, Selection, review_text};
use proptest::prelude::*;

use super::cli::{command, folder, ran};
use super::forms::random::{comments, marked};

use parsed::{Piece, pieces, structure};

struct Disk;

impl Library for Disk {
    fn load(&self, path: &Path) -> Result<String, String> {
        std::fs::read_to_string(path).map_err(|error| error.to_string())
    }
}

fn reviewed(name: &str, text: &str) -> Review {
    review_text(Path::new(name), text.to_owned(), &Disk, Selection::All)
        .unwrap_or_else(|(_, broken)| panic!("{name}: {}", broken.reason))
}

fn shipped(name: &str) -> Review {
    let path = format!("examples/{name}.plan.yaml");
    let whole = Path::new(env!("CARGO_MANIFEST_DIR")).join(&path);
    reviewed(&path, &std::fs::read_to_string(whole).expect("shipped"))
}

fn page(review: &Review) -> String {
    let mut out = Vec::new();
    markdown::review(review, &mut Words::default(), &mut out).expect("a Vec takes everything");
    String::from_utf8(out).expect("UTF-8")
}

/// Headings of the levels that have findings, and of the sections below.
fn headings(review: &Review) -> Vec<String> {
    let path = review.sources.file(review.file).path.to_string_lossy();
    let mut headings = vec![format!("Review of {path}")];
    for (level, heading) in [
        (Level::Hazard, "Hazards"),
        (Level::Fault, "Faults"),
        (Level::Advice, "Advice"),
    ] {
        if review.findings.iter().any(|finding| finding.level == level) {
            headings.push(heading.into());
        }
    }
    let below = [
        (review.gaps.is_empty(), "Not judged"),
        (review.let_pass.is_empty(), "Let pass"),
    ];
    headings.extend(
        below
            .iter()
            .filter(|(none, _)| !none)
            .map(|(_, heading)| (*heading).into()),
    );
    headings
}

#[test]
fn the_shipped_plans_are_structured_as_meant() {
    let (mut edits, mut findings) = (0, 0);
    for name in [
        "kestrel-row-submitted",
        "kestrel-row",
        "heron-mill-submitted",
        "heron-mill",
        "plover-lane",
        "tern-quay-submitted",
        "tern-quay",
    ] {
        let review = shipped(name);
        let page = page(&review);
        let parts = structure(&page);
        let found: Vec<_> = parts.headings().collect();
        assert_eq!(found, headings(&review), "{name}");
        let mut order: Vec<_> = review.findings.iter().collect();
        order.sort_by_key(|finding| std::cmp::Reverse(finding.level));
        let titles: Vec<_> = parts.titles().collect();
        for (number, (title, finding)) in titles.iter().zip(&order).enumerate() {
            let says = finding.says.replace('`', "");
            assert_eq!(*title, format!("{}. {says}", number + 1), "{name}");
        }
        findings += titles.len();
        for diff in parts.blocks("diff") {
            edits += 1;
            // What goes stands in the plan, at the line that the diff names.
            let mut at = 0;
            for line in diff.lines() {
                if let Some(place) = line.strip_prefix("@@ ") {
                    let (_, number) = place
                        .trim_end_matches(" @@")
                        .rsplit_once(':')
                        .expect("a line");
                    at = number.parse().expect("a number");
                } else if !line.starts_with('+') {
                    let source = review
                        .sources
                        .files()
                        .find(|(_, source)| source.text.lines().nth(at - 1) == Some(&line[1..]));
                    assert!(source.is_some(), "{name}: {line}");
                    at += 1;
                }
            }
        }
    }
    assert!(edits > 10 && findings > 60, "{edits} {findings}");
}

/// A plan's review with everything in it that a plan may have a word in.
fn hostile(words: &[String]) -> Review {
    let word = |n: usize| &words[n % words.len()];
    let comment = word(0).replace(['\n', '\r'], " ");
    let text = format!("nailplate: 1\nregion: us\n# {comment}\n# end\n");
    let path = word(1).replace(['\0', '\n'], "");
    let mut review = reviewed(&format!("a{path}.plan.yaml"), "nailplate: 1\nregion: us\n");
    if let Ok(other) = review_text(Path::new("b"), text, &Disk, Selection::All) {
        let path = review.sources.file(review.file).path.clone();
        let text = other.sources.file(other.file).text.clone();
        review = reviewed(&path.to_string_lossy(), &text);
    }
    let source = review.sources.file(review.file);
    let at = source.text.find("# ").unwrap_or(0);
    let span = source.span_of(at..source.text.len().min(at + 3));
    let spot = source.spot_of(at..at + 1);
    let edit = nailplate::yaml::Edit {
        at: spot,
        text: word(5).clone(),
    };
    let redline = nailplate::findings::Redline {
        kind: nailplate::findings::RedlineKind::Change,
        title: word(4).clone(),
        edits: vec![edit],
    };
    let finding = Finding::new(
        "plan.unknown-key",
        Level::Fault,
        Id::new(word(2)),
        word(2),
        span,
        word(3),
    )
    .with_put_right(word(3).clone())
    .with_authority(word(4).clone())
    .with_redline(Some(redline));
    let gap = |loud| Gap {
        rule: "speaker.undersized",
        on: vec![Id::new(word(1)), Id::new(word(2))],
        lacks: word(3).clone(),
        loud,
    };
    review.findings = vec![finding.clone(), finding.clone()];
    review.gaps = vec![gap(true), gap(false)];
    review.let_pass = vec![nailplate::review::LetPass {
        at: span,
        finding,
        reason: word(4).clone(),
        by: word(5).clone(),
        until: Some(word(1).clone()),
        approval: Some(word(2).clone()),
    }];
    review
}

fn words() -> impl Strategy<Value = Vec<String>> {
    let signs = r"[-+*_`~#>=|<&\[\](){}!@:/.\\$^ \n\ta-z0-9é右]{0,24}";
    let traps = proptest::sample::select(vec![
        "[x](https://x.example)",
        "![x](y)",
        "<script>alert(1)</script>",
        "<https://x.example>",
        "www.x.example",
        "https://x.example",
        "a@x.example",
        "@everyone",
        "**bold**",
        "_it_",
        "~~out~~",
        "`code`",
        "``",
        "```",
        "~~~",
        "# heading",
        "- item",
        "1. item",
        "> quote",
        "| a | b |",
        "---",
        "===",
        "&lt;",
        "&#64;",
        "$x$",
        "x^2^",
        "[^1]",
        "[x]: y",
        "</details>",
        "<!--",
        "\\",
        "\\`",
        "  x",
        "\tx",
        "x  \ny",
        "a\u{202e}b",
        "[ ] task",
        "==x==",
        ": x",
        "#12",
    ]);
    let word = prop_oneof![signs.prop_map(String::from), traps.prop_map(String::from)];
    let joined = proptest::collection::vec(word, 1..4).prop_map(|words| words.concat());
    proptest::collection::vec(joined, 6)
}

proptest! {
    #[test]
    fn no_text_of_a_plan_becomes_markup(words in words()) {
        let review = hostile(&words);
        let page = page(&review);
        let parts = structure(&page);
        let found: Vec<_> = parts.headings().collect();
        let bare = |text: &str| text.replace(['`', ' ', '\u{fffd}'], "");
        prop_assert_eq!(found[1..].to_vec(), headings(&review)[1..].to_vec(), "{}", page);
        let path = review.sources.file(review.file).path.to_string_lossy().into_owned();
        let clean = nailplate::forms::clean(&path).into_owned();
        prop_assert_eq!(bare(&found[0]), bare(&format!("Review of {clean}")), "{}", page);
        // Each text is there, as it is: only backticks may stand for code.
        let all = bare(&pieces(&page).iter().map(Piece::text).collect::<String>());
        for word in &words[2..] {
            let word = nailplate::forms::clean(word.trim()).into_owned();
            prop_assert!(all.contains(&bare(&word)), "{word:?}\n{page}");
        }
        prop_assert_eq!(parts.titles().count(), 2, "{}", page);
        prop_assert_eq!(parts.blocks("text").count(), 2, "{}", page);
        prop_assert_eq!(parts.blocks("diff").count(), 2, "{}", page);
    }
}

proptest! {
    #[test]
    fn every_place_can_be_quoted(
        plan in comments(),
        places in proptest::collection::vec((0usize..6000, 0usize..200), 1..5),
    ) {
        let Some(review) = marked(plan, &places) else { return Ok(()) };
        let page = page(&review);
        prop_assert_eq!(structure(&page).titles().count(), review.findings.len(), "{}", page);
        prop_assert_eq!(page.find('\u{202e}'), None);
    }
}

#[test]
fn a_long_review_fits_and_says_what_it_leaves_out() {
    for (keys, long) in [(40, 0), (300, 0), (3000, 0), (60, 900)] {
        let mut plan = String::from("nailplate: 1\nregion: us\nrooms:\n");
        for n in 0..keys {
            let _ = writeln!(plan, "  r{n}: {{siz{}: 1}}", "x".repeat(long));
        }
        let review = reviewed("long.plan.yaml", &plan);
        let page = page(&review);
        assert!(page.len() <= 65_536, "{keys}: {}", page.len());
        let parts = structure(&page);
        let (whole, lines) = (parts.titles().count(), parts.lines_with("long.plan.yaml:"));
        let left = page.split_once("\nAnd ").map_or(0, |(_, rest)| {
            let count = rest.split(' ').next().expect("a number");
            count.parse::<usize>().expect("a number")
        });
        assert_eq!(
            whole + lines + left,
            review.findings.len(),
            "{keys}\n{page}"
        );
        let others = review.findings.len() - whole;
        let said = format!("\nThe other {others} in a line each: ");
        assert_eq!(page.contains(&said), others > 0, "{keys}");
        assert!(whole > 20 || long > 0, "{keys}: {whole}");
    }
}

#[test]
fn a_plan_of_one_line_is_quoted_in_part() {
    let rooms: Vec<_> = (0..2000).map(|n| format!("r{n}: {{siz: 1}}")).collect();
    let plan = format!(
        "{{nailplate: 1, region: us, rooms: {{{}}}}}",
        rooms.join(", ")
    );
    let page = page(&reviewed("line.plan.yaml", &plan));
    assert!(page.len() <= 65_536, "{}", page.len());
    assert!(structure(&page).titles().count() > 20, "{page}");
    assert!(page.contains("`nailplate redline` shows it"), "{page}");
}

#[test]
fn a_clean_plan_is_two_lines() {
    let page = page(&shipped("heron-mill"));
    assert!(page.lines().count() <= 3, "{page}");
    assert!(page.contains("nothing found"), "{page}");
}

#[test]
fn what_is_owed_has_a_section_and_each_hazard_a_line() {
    let name = "kestrel-row-submitted.plan.yaml";
    let read = |name: &str| {
        let path = Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("examples")
            .join(name);
        std::fs::read_to_string(path).expect("shipped")
    };
    let (plan, stock) = (read(name), read("stock.yaml"));
    let folder = folder(&[(name, plan.as_bytes()), ("stock.yaml", stock.as_bytes())]);
    let run = |arguments: &[&str]| ran(command(folder.path(), arguments));
    assert_eq!(run(&["punchlist", name]).status, Some(0));
    let changed = plan.replace("length: 52 ft", "length: 5 ft");
    std::fs::write(folder.path().join(name), changed).expect("written");
    let page = run(&["review", "--as", "markdown", name]).out;
    let found: Vec<_> = structure(&page).headings().collect();
    for heading in ["Owed", "Still on the punch list, not found again"] {
        assert!(found.iter().any(|found| found == heading), "{page}");
    }
    let hazards = structure(&page).lines_with(name);
    assert_eq!(
        hazards,
        shipped("kestrel-row-submitted").tally().hazard,
        "{page}"
    );
    assert!(
        page.contains("have hazards put right by a licensed person"),
        "{page}"
    );
}

#[test]
fn what_settings_change_has_a_section() {
    let folder = folder(&[
        ("a.plan.yaml", b"nailplate: 1\nregion: us\n"),
        (
            "nailplate.yaml",
            b"nailplate: 1\nrules:\n  fire.underrated: {not-adopted: judged *by* hand}\n",
        ),
    ]);
    let page = ran(command(
        folder.path(),
        &["review", "--as", "markdown", "a.plan.yaml"],
    ))
    .out;
    assert!(
        structure(&page)
            .headings()
            .any(|heading| heading == "The rulebook"),
        "{page}"
    );
    assert!(
        page.contains("- may hide a hazard; not adopted: fire.underrated"),
        "{page}"
    );
}
