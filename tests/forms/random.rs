//! No text, place or width makes a form panic.

use std::path::Path;

use nailplate::findings::{Finding, Id, Level};
use nailplate::forms::{Page, Words, json, letter, lines, text};
use nailplate::review::{Review, Selection, review_text};
use proptest::prelude::*;

use super::Shelf;

/// Comments of every kind of letter: narrow, wide, none at all, tabs, emoji, direction marks.
pub fn comments() -> impl Strategy<Value = String> {
    let line = prop_oneof![
        "[ -~]{0,120}",
        "[右ラüß\u{301}\t\u{200d}\u{202e}👩\u{fe0f}a ]{0,90}",
        Just(String::new()),
        (0usize..5000).prop_map(|n| "ü".repeat(n)),
    ];
    let ends = prop_oneof![Just("\n"), Just("\r\n"), Just("\r")];
    (proptest::collection::vec(line, 1..8), ends, any::<bool>()).prop_map(|(lines, end, marked)| {
        let mark = if marked { "\u{feff}" } else { "" };
        format!(
            "{mark}region: us{end}{}",
            lines
                .iter()
                .map(|line| format!("# {line}{end}"))
                .collect::<String>()
        )
    })
}

/// A review whose findings are at any places of the plan, also in the middle of a letter, and beyond
/// the end; `None` for a text that is no YAML.
pub fn marked(plan: String, places: &[(usize, usize)]) -> Option<Review> {
    let mut review = review_text(Path::new("a.plan.yaml"), plan, &Shelf, Selection::All).ok()?;
    let source = review.sources.file(review.file);
    let spans: Vec<_> = places
        .iter()
        .map(|(at, len)| {
            let at = at % (source.text.len() + 2);
            source.span_of(at..at + len)
        })
        .collect();
    let marked = |first: usize| {
        spans.iter().cycle().skip(first).take(spans.len()).fold(
            Finding::new(
                "plan.unreadable",
                Level::Hazard,
                Id::new("x"),
                "says",
                spans[first],
                "a few words on this place",
            ),
            |finding, span| finding.with_mark(*span, "another one"),
        )
    };
    review.findings = (0..spans.len()).map(marked).collect();
    Some(review)
}

proptest! {
    #[test]
    fn every_place_can_be_shown(
        plan in comments(),
        places in proptest::collection::vec((0usize..6000, 0usize..200), 1..5),
        width in 0usize..200,
    ) {
        let Some(review) = marked(plan, &places) else { return Ok(()) };
        for colour in [false, true] {
            let mut out = Vec::new();
            text::review(&review, &mut Words::default(), Page::new(width, colour), &mut out).expect("a Vec takes everything");
            if width >= 60 && !colour {
                let shown = String::from_utf8_lossy(&out).into_owned();
                for line in shown.lines() {
                    prop_assert!(textwrap::core::display_width(line) <= width, "{}: {}", width, line);
                }
            }
            let steered = String::from_utf8(out).map(|text| text.contains('\u{202e}'));
            prop_assert_eq!(steered, Ok(false));
        }
        let mut out = Vec::new();
        lines::review(&review, true, &mut out).expect("a Vec takes everything");
        prop_assert_eq!(out.iter().filter(|byte| **byte == b'\n').count(), review.findings.len() + review.gaps.len());
        let mut out = Vec::new();
        let mut document = json::Json::start(&mut out, Words::default()).expect("a Vec takes everything");
        document.file(&review).and_then(|()| document.finish()).expect("a Vec takes everything");
        prop_assert!(serde_json::from_slice::<serde_json::Value>(&out).is_ok());
        let mut out = Vec::new();
        let place = letter::Place { number: 1, alone: true };
        letter::letter(&review, &mut Words::default(), None, place, &mut out).expect("a Vec takes everything");
        let steered = String::from_utf8(out).map(|text| text.contains('\u{202e}'));
        prop_assert_eq!(steered, Ok(false));
    }
}
