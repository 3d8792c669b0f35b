//! How results look: whole pages as stored text.
//!
//! Long because every form has its page here, and they share one plan.

mod letter;
mod letter_text;
pub mod random;
mod riser;

use std::path::Path;
use std::sync::LazyLock;

use insta::assert_snapshot;
use nailplate::findings::{Finding, Gap, Id, Level, Shown};
use nailplate::forms::{Page, Words, figures, json, lines, markdown, redline, rulebook, text};
use nailplate::house::Quantity;
use nailplate::plan::{Library, MISTAKES};
use nailplate::review::{Review, Selection, ink, review_text};
use nailplate::rules::{Rulebook, Sheet};
use nailplate::yaml::Span;

/// A library of one catalogue.
struct Shelf;

impl Library for Shelf {
    fn load(&self, path: &Path) -> Result<String, String> {
        match path.to_str() {
            Some("../stock.yaml") => {
                Ok("stock:\n  nm-12: {for: power, cores: 2 x 12 AWG + earth}\n".into())
            }
            _ => Err("there is no such file".into()),
        }
    }
}

const PLAN: &str = "\
nailplate: 1
region: us
building: one-family
catalogue: [../stock.yaml]
stock:
  spk-16: {for: speaker, cores: 2 x 16 AWG, rating: CL3}
circuits:
  C1: {breaker: 15 A, volts: 120 V, serves: rack, protection: [arc-fault]}
endpoints:
  rack: {kind: rack, load: &load 1900 W, earthed: yes, protects: [surge, battery], notes: \"der Schrank im Flur – 右のラック\"}
  left: {kind: speaker, impedance: 8 ohm, place: left}
runs:
  P1: {from: C1, to: rack, stock: nm-12, length: 48 ft}
  S1: {from: rack, to: left, stock: spk-16, length: 98 ft}
";

/// A plan read and not judged: these pages must not change with the rulebook.
fn reviewed(path: &str, plan: &str) -> Review {
    let review = review_text(Path::new(path), plan.to_owned(), &Shelf, Selection::All);
    let mut review = review.expect("the plan is YAML");
    review
        .findings
        .retain(|finding| MISTAKES.contains(&finding.rule));
    review.gaps.clear();
    review.checks = review.findings.len() + review.let_pass.len();
    review
}

/// The span of the `nth` occurrence (from 0) of `what` in any of the files.
fn span(review: &Review, what: &str, nth: usize) -> Span {
    let mut found = review.sources.files().flat_map(|(_, source)| {
        source
            .text
            .match_indices(what)
            .map(|(at, _)| source.span_of(at..at + what.len()))
    });
    found
        .nth(nth)
        .unwrap_or_else(|| panic!("`{what}` stands in the plan"))
}

fn sheet(id: &str) -> Option<&'static Sheet> {
    const TEXT: &str = "\
id: power.breaker-over
title: More load on a breaker than it carries
level: hazard
authority: NEC 210.19(A)(1)
regions: [us, ca]
limits:
  share: {value: 80 %, authority: NEC 210.20(A), level: hazard, regions: [us]}
why: >
  A breaker that carries more than it is made for trips in the middle of the evening, or ages until it no longer
  trips at all. Its wires in the wall run hot for hours.
put-right: >
  Give the load a circuit of its own, or a larger breaker on larger wire.
wrong: |
  nailplate: 1
  circuits:
    C1: {breaker: 15 A}
right: |
  nailplate: 1
  circuits:
    C1: {breaker: 20 A}
";
    static SHEET: LazyLock<Sheet> =
        LazyLock::new(|| Sheet::new("power.breaker-over", "rules/power/breaker-over.yaml", TEXT));
    (id == "power.breaker-over").then(|| &*SHEET)
}

/// A review with a finding of each level: with a figure, in two files, at far-apart lines.
fn of_all_sorts() -> Review {
    let mut review = reviewed("kestrel.plan.yaml", PLAN);
    assert_eq!(review.findings, [], "the plan itself reads");
    let over = |review: &Review| {
        Finding::new(
            "power.breaker-over",
            Level::Hazard,
            Id::new("C1"),
            "circuit C1 carries 15.83 A, more than the 12 A that a 15 A breaker may carry for hours",
            span(review, "15 A", 0),
            "its breaker",
        )
        .with_mark(span(review, "&load 1900 W", 0), "the load")
        .with_mark(span(review, "nm-12", 1), "the wire")
        .with_figure(
            Shown { name: "circuit-load", value: 15.833, unit: "A", working: "1900 W ÷ 120 V = 15.83 A".into() },
            12.0,
        )
    };
    let undersized = Finding::new(
        "speaker.undersized",
        Level::Fault,
        Id::new("S1"),
        "the speaker line S1 has 0.4004 ohm, allowed is 0.4 ohm (5 % of 8 ohm)",
        span(&review, "98 ft", 0),
        "a long way",
    )
    .with_figure(
        Shown {
            name: "loop",
            value: 0.400_4,
            unit: "ohm",
            working: "2 × 98 ft × 2.04 Ω/1000 ft".into(),
        },
        0.4,
    )
    .with_authority("common practice")
    .with_put_right("pull 14 AWG or thicker");
    let bare = Finding::new(
        "line.hum",
        Level::Advice,
        Id::new("rack"),
        "may hum",
        span(&review, "rack", 1),
        "here",
    );
    review.findings = vec![over(&review), over(&review), undersized, bare];
    let gap = |rule, on: &str, lacks: &str, loud| Gap {
        rule,
        on: vec![Id::new(on)],
        lacks: lacks.into(),
        loud,
    };
    review.gaps = vec![
        gap("speaker.undersized", "S4", "length of S4", false),
        gap("video.over-reach", "S4", "length of S4", false),
        gap("fire.unrated-in-wall", "P1", "rating of nm-12", true),
        gap("fire.unrated-in-wall", "P2", "rating of nm-12", true),
    ];
    review.checks = 214;
    review
}

fn page(write: impl FnOnce(&mut dyn std::io::Write) -> std::io::Result<()>) -> String {
    let mut out = Vec::new();
    write(&mut out).expect("a Vec takes everything");
    String::from_utf8(out).expect("forms write UTF-8")
}

fn as_text(review: &Review, width: usize) -> String {
    page(|out| text::review(review, &mut Words::of(sheet), Page::new(width, false), out))
}

#[test]
fn text_at_80_columns() {
    assert_snapshot!(as_text(&of_all_sorts(), 80));
}

#[test]
fn text_at_120_columns() {
    assert_snapshot!(as_text(&of_all_sorts(), 120));
}

#[test]
fn colour_changes_nothing_but_colour() {
    let review = of_all_sorts();
    let coloured =
        page(|out| text::review(&review, &mut Words::of(sheet), Page::new(80, true), out));
    let mut plain = String::new();
    let mut rest = &*coloured;
    while let Some((before, after)) = rest.split_once('\u{1b}') {
        plain.push_str(before);
        rest = after.split_once('m').map_or("", |(_, rest)| rest);
    }
    plain.push_str(rest);
    assert!(coloured.contains('\u{1b}'));
    // The panel has a blank on either side of its word.
    let plain = plain
        .replace("   HAZARD   ", "  HAZARD  ")
        .replace("   FAULT   ", "  FAULT  ")
        .replace("   ADVICE   ", "  ADVICE  ");
    assert_eq!(plain, as_text(&review, 80));
}

#[test]
fn no_line_is_wider_than_the_page() {
    let review = of_all_sorts();
    for width in [60, 80, 100, 120] {
        for line in as_text(&review, width).lines() {
            assert!(
                textwrap::core::display_width(line) <= width,
                "{width}: {line}"
            );
        }
    }
}

#[test]
fn nothing_found() {
    assert_snapshot!(as_text(&reviewed("kestrel.plan.yaml", PLAN), 80), @"kestrel.plan.yaml: 0 checks: nothing found; no check lacked a figure.");
}

#[test]
fn what_could_not_be_read_is_not_passed_in_silence() {
    let text = as_text(
        &reviewed("a.plan.yaml", &PLAN.replace("15 A", "15 apples")),
        80,
    );
    assert!(
        text.contains("what could not be read was not checked"),
        "{text}"
    );
}

#[test]
fn an_alias_is_marked_with_its_anchor() {
    let plan = PLAN.replace("8 ohm", "*z").replace("&load", "&z");
    assert_snapshot!(as_text(&reviewed("kestrel.plan.yaml", &plan), 80));
}

#[test]
fn a_variance_is_shown_as_let_pass() {
    let plan = PLAN.replace("earthed", "earhted")
        + "variances:\n  - {rule: plan.unknown-key, on: rack, reason: the client wants it, by: JR, until: 2027-03-01}\n";
    assert_snapshot!(as_text(&reviewed("kestrel.plan.yaml", &plan), 80));
}

#[test]
fn awkward_places() {
    let mut review = reviewed(
        "awkward.plan.yaml",
        "\u{feff}nailplate: 1\r\nregion: us\r\nbuilding: \r\n\r\nstage: rough-in\r\n",
    );
    review.findings.clear();
    let source = review.sources.file(review.file);
    let end = source.text.len();
    // Nothing at all, an empty line, several lines, the end of the text, the mark before it.
    for (from, to) in [(38, 38), (40, 40), (3, 60), (end, end), (0, 3)] {
        let span = source.span_of(from..to);
        review.findings.push(Finding::new(
            "plan.unreadable",
            Level::Fault,
            Id::new("x"),
            "says",
            span,
            "here",
        ));
    }
    assert_snapshot!(as_text(&review, 80));
}

#[test]
fn a_label_beyond_column_65535_is_cropped_to() {
    let plan = PLAN.replace(
        "left: {",
        &format!("left: {{notes: \"{}\", ", "ü".repeat(70_000)),
    );
    let mut review = reviewed("long.plan.yaml", &plan);
    let at = span(&review, "8 ohm", 0);
    let note = span(&review, "left: {notes", 0);
    review.findings = vec![
        Finding::new(
            "speaker.undersized",
            Level::Fault,
            Id::new("left"),
            "says",
            at,
            "here",
        )
        .with_mark(note, "and here"),
    ];
    assert_snapshot!(as_text(&review, 80));
}

#[test]
fn a_plan_cannot_steer_the_terminal() {
    let plan = PLAN
        .replace("place: left", "place: \"\\e[2J\u{202e}tfel\"")
        .replace("notes: \"der", "notes: \"\u{202e}der");
    let mut review = reviewed("hostile.plan.yaml", &plan);
    let at = span(&review, "rack: {kind", 0);
    review.findings.push(Finding::new(
        "line.hum",
        Level::Advice,
        Id::new("rack"),
        "may hum\nor not",
        at,
        "here",
    ));
    for form in [
        as_text(&review, 120),
        page(|out| lines::review(&review, true, out)),
    ] {
        assert!(!form.contains(['\u{1b}', '\u{202e}', '\r']), "{form}");
        assert!(form.contains("may hum or not"), "{form}");
    }
}

#[test]
fn what_several_rules_lack_is_one_line() {
    let mut review = reviewed("gaps.plan.yaml", PLAN);
    let gap = |rule, on: &str, lacks: &str| Gap {
        rule,
        on: vec![Id::new(on)],
        lacks: lacks.into(),
        loud: true,
    };
    review.gaps = vec![
        gap("power.signal-too-close", "s4", "through of s4"),
        gap("fire.underrated", "s4", "through of s4"),
        gap("fire.underrated", "s5", "through of s5"),
        gap("fire.underrated", "s4", "through of s4"),
        gap("line.hum", "s6", "through of s4"),
    ];
    let text = as_text(&review, 120);
    let merged = "    through of s4, for s4, s6: fire.underrated, line.hum, power.signal-too-close\n    through of s5, for s5: fire.underrated\n";
    assert!(text.contains(merged), "{text}");
    assert_eq!(text.matches("through of s4").count(), 1, "{text}");
    assert!(text.contains("5 checks could not be made"), "{text}");
}

#[test]
fn gaps_beyond_twenty_are_counted() {
    let mut review = reviewed("gaps.plan.yaml", PLAN);
    review.gaps = (0..23)
        .map(|n| Gap {
            rule: "speaker.undersized",
            on: vec![Id::new("S")],
            lacks: format!("length of S{n}"),
            loud: false,
        })
        .collect();
    let text = as_text(&review, 80);
    assert!(text.contains("length of S19: speaker.undersized"), "{text}");
    assert!(!text.contains("length of S20"), "{text}");
    assert!(text.contains("and 3 more (--as json has all)"), "{text}");
    assert!(text.contains("23 checks could not be made"), "{text}");
}

#[test]
fn markdown_for_a_thread() {
    let review = of_all_sorts();
    assert_snapshot!(page(|out| markdown::review(
        &review,
        &mut Words::of(sheet),
        out
    )));
}

#[test]
fn one_finding_a_line() {
    assert_snapshot!(page(|out| lines::review(&of_all_sorts(), false, out)));
    let all = page(|out| lines::review(&of_all_sorts(), true, out));
    for lacks in [
        "S4: lacks length of S4 (speaker.undersized)",
        "P1: lacks rating of nm-12 (fire.unrated-in-wall)",
    ] {
        assert!(
            all.contains(&format!("kestrel.plan.yaml: gap: {lacks}\n")),
            "gaps that hold are told one by one: {all}"
        );
    }
}

fn as_json(reviews: &[Review]) -> serde_json::Value {
    let text = page(|out| {
        let mut json = json::Json::start(out, Words::of(sheet))?;
        reviews.iter().try_for_each(|review| json.file(review))?;
        json.finish()
    });
    assert!(text.ends_with("}\n"));
    serde_json::from_str(&text).expect("JSON")
}

#[test]
fn json_has_everything() {
    let document = as_json(&[of_all_sorts()]);
    assert_snapshot!(serde_json::to_string_pretty(&document).expect("a Value is JSON"));
}

#[test]
fn json_of_several_files_and_of_none() {
    let document = as_json(&[of_all_sorts(), reviewed("clean.plan.yaml", PLAN)]);
    assert_eq!(document["files"][1]["path"], "clean.plan.yaml");
    assert_eq!(document["files"][1]["findings"], serde_json::json!([]));
    assert_eq!(
        as_json(&[]),
        serde_json::json!({"format": "nailplate-review/1", "files": []})
    );
}

#[test]
fn json_positions_count_characters_from_one_and_bytes_from_zero() {
    // Several places on one line, forth and back, behind letters of two and three bytes.
    let plan = PLAN.replace(
        "impedance: 8 ohm, place: left",
        "notes: \"ü右\", impedence: 8 ohm, plcae: left",
    );
    let document = as_json(&[reviewed("a.plan.yaml", &plan)]);
    let line = plan.lines().nth(10).expect("a line");
    let start = plan
        .lines()
        .take(10)
        .map(|line| line.len() + 1)
        .sum::<usize>();
    for finding in document["files"][0]["findings"].as_array().expect("a list") {
        for place in [&finding["places"][0], &finding["redlines"][0]["edits"][0]] {
            let byte = place["from"]["byte"].as_u64().expect("a number") as usize;
            let column = line[..byte - start].chars().count() + 1;
            assert_eq!(
                (
                    place["from"]["line"].as_u64(),
                    place["from"]["column"].as_u64()
                ),
                (Some(11), Some(column as u64))
            );
        }
    }
    assert_eq!(document["files"][0]["tally"]["fault"], 2);
}

/// A plan that is one line, as JSON is: places at its start and far from it in turns.
#[test]
fn json_positions_in_a_plan_of_one_line() {
    let each = |one: fn(usize) -> String| (0..400).map(one).collect::<Vec<_>>().join(", ");
    let plan = format!(
        "{{nailplate: 1, region: us, stock: {{thin: {{for: speaker, cores: 2 x 18 AWG}}}}, \
         endpoints: {{amp: {{kind: amplifier}}, {}}}, runs: {{{}}}}}\n",
        each(|n| format!("l{n}: {{kind: speaker, notes: \"右\", impedance: 4 ohm}}")),
        each(|n| format!("r{n}: {{from: amp, to: l{n}, stock: thin, length: 200 ft}}"))
    );
    let only = Selection::Only("speaker.undersized");
    let review = review_text(Path::new("a.plan.yaml"), plan.clone(), &Shelf, only);
    let document = as_json(&[review.expect("the plan is YAML")]);
    let findings = document["files"][0]["findings"].as_array().expect("a list");
    assert_eq!(findings.len(), 400);
    for place in findings
        .iter()
        .flat_map(|finding| finding["places"].as_array().expect("a list"))
    {
        for end in [&place["from"], &place["to"]] {
            let byte = end["byte"].as_u64().expect("a number") as usize;
            let column = plan[..byte].chars().count() + 1;
            assert_eq!(end["line"], 1);
            assert_eq!(end["column"], column);
        }
    }
}

#[test]
fn redlines_as_a_diff() {
    let plan = PLAN
        .replace("impedance", "impedence")
        .replace("98 ft", "98")
        .replace("nailplate: 1\n", "");
    let review = reviewed("kestrel.plan.yaml", &plan);
    let kinds = [
        nailplate::findings::RedlineKind::Same,
        nailplate::findings::RedlineKind::Change,
    ];
    let marked = ink(&review, &kinds);
    assert_eq!(marked.len(), 1);
    let source = review.sources.file(review.file);
    assert_snapshot!(page(|out| redline::diff(
        source,
        &marked[0],
        Page::new(80, false),
        out
    )));
}

fn quantities() -> Vec<Quantity> {
    let quantity = |on: &str, value, working: &str, estimated| Quantity {
        figure: "route-length",
        on: vec![Id::new(on)],
        value,
        unit: "m",
        working: working.into(),
        estimated,
    };
    vec![
        quantity("P1", 14.6304, "48 ft as stated", false),
        quantity(
            "S1",
            20.772,
            "56.5 ft along the axes by way of the ceiling + 10 % + 6 ft = 68.2 ft, estimated",
            true,
        ),
    ]
}

#[test]
fn figures_as_a_table() {
    let gap = Gap {
        rule: "route-length",
        on: vec![Id::new("S2")],
        lacks: "length of S2".into(),
        loud: false,
    };
    assert_snapshot!(page(|out| figures::table(
        "kestrel.plan.yaml",
        &quantities(),
        &[gap],
        Page::new(80, false),
        out
    )));
}

#[test]
fn figures_as_json() {
    assert_snapshot!(page(|out| {
        let mut json = figures::Json::start(out)?;
        json.file("kestrel.plan.yaml", &quantities())?;
        json.finish()
    }));
}

#[test]
fn rulebook_as_a_list() {
    assert_snapshot!(page(|out| rulebook::list(
        sheet("power.breaker-over").into_iter(),
        Rulebook::built_in(),
        Page::new(80, false),
        out
    )));
}

#[test]
fn one_sheet_in_full() {
    let sheet = sheet("power.breaker-over").expect("the test's own");
    let whole = sheet.whole().expect("complete");
    assert_snapshot!(page(|out| rulebook::sheet(
        sheet,
        &whole,
        Rulebook::built_in(),
        Page::new(80, false),
        out
    )));
}

#[test]
fn a_number_is_not_parted_from_its_unit() {
    let mut review = reviewed("kestrel.plan.yaml", PLAN);
    let at = span(&review, "98 ft", 0);
    for blanks in 0..12 {
        let says = format!(
            "{} a sentence that is as long as the page, allowed is 5 %",
            "x".repeat(blanks)
        );
        review.findings.push(Finding::new(
            "line.hum",
            Level::Advice,
            Id::new("S1"),
            says,
            at,
            "here",
        ));
    }
    let text = as_text(&review, 60);
    assert_eq!(text.matches("5 %").count(), 12, "{text}");
    assert!(!text.contains('\u{a0}'));
}
