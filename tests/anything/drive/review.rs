//! A text to a review in writing: text and JSON of every one, the other forms of some.

use std::io::{Result, Write};
use std::path::Path;

use nailplate::forms::{Page, System, Words, figures, json, letter, lines, markdown, sarif, text};
use nailplate::house::House;
use nailplate::plan;
use nailplate::review::{Review, quantities, unread};
use nailplate::rules::Rulebook;
use nailplate::yaml::Sources;
use serde_json::Value;

use super::parts::Parts;
use super::{DAY, PLAN, kept, lot, reviewed};

pub fn drive(bytes: &[u8]) {
    let all = String::from_utf8_lossy(bytes);
    let parts = Parts::of(&all);
    let Some(review) = reviewed(parts.first, &parts) else {
        return;
    };
    kept::review(&review);
    let lot = lot(&all);
    let written = forms(&review, lot);
    if lot.is_multiple_of(16) {
        // Hashes are seeded anew each time; nothing that is written may depend on their order.
        let again = reviewed(parts.first, &parts).expect("it was YAML before");
        assert!(
            written == forms(&again, lot),
            "a second review of the same plan is another"
        );
    }
    if lot.is_multiple_of(3) {
        all_figures(parts.first, &parts);
    }
}

/// Everything that is written of a review: JSON, text, and one form more.
pub fn forms(review: &Review, lot: u32) -> Vec<String> {
    let mut written = vec![as_json(review), as_text(review, lot)];
    written.push(match lot / 16 % 5 {
        0 => as_lines(review),
        1 => as_sarif(review),
        2 => wrote(|out| markdown::review(review, &mut Words::default(), out)),
        3 => as_letter(review),
        _ => as_json_line(review),
    });
    written
}

fn wrote(write: impl FnOnce(&mut Vec<u8>) -> Result<()>) -> String {
    let mut out = Vec::new();
    write(&mut out).expect("a Vec takes everything");
    String::from_utf8(out).expect("what is written is text")
}

fn parsed(json: &str) -> Value {
    serde_json::from_str(json).unwrap_or_else(|error| panic!("no JSON: {error}\n{json}"))
}

fn as_json(review: &Review) -> String {
    let written = wrote(|out| {
        let mut document = json::Json::start(out, Words::default())?;
        document.file(review)?;
        document.finish()
    });
    let found = parsed(&written)["files"][0]["findings"]
        .as_array()
        .map(Vec::len);
    assert_eq!(found, Some(review.findings.len()), "all that was found");
    written
}

fn as_json_line(review: &Review) -> String {
    let written = wrote(|out| json::line(review, &mut Words::default(), out));
    parsed(&written);
    assert_eq!(written.find('\n'), Some(written.len() - 1), "one line");
    written
}

fn as_text(review: &Review, lot: u32) -> String {
    let page = Page::new(40 + (lot / 64 % 161) as usize, false);
    let written = wrote(|out| text::review(review, &mut Words::default(), page, out));
    // Whatever a terminal obeys; line ends are the page's own.
    let obeyed = written.chars().find(|c| c.is_control() && *c != '\n');
    assert_eq!(obeyed, None, "a terminal would obey");
    written
}

fn as_lines(review: &Review) -> String {
    let written = wrote(|out| lines::review(review, true, out));
    let lines = review.findings.len() + review.gaps.len();
    assert!(written.lines().count() >= lines, "a line each");
    let obeyed = written.chars().find(|c| c.is_control() && *c != '\n');
    assert_eq!(obeyed, None, "a terminal would obey");
    written
}

fn as_sarif(review: &Review) -> String {
    let written = wrote(|out| {
        let mut log = sarif::Sarif::start(out)?;
        let part = log.next_plan(&sarif::files(review))?;
        sarif::results(review, &mut Words::default(), part)?;
        log.finish(true, 0)
    });
    parsed(&written);
    written
}

fn as_letter(review: &Review) -> String {
    let written = wrote(|out| {
        let place = letter::Place {
            number: 1,
            alone: true,
        };
        letter::letter(review, &mut Words::default(), Some(DAY), place, out)
    });
    // Whatever the plan says, it has become no element of the page.
    assert!(!written.contains("<script"), "a script in the letter");
    written
}

fn all_figures(text: &str, parts: &Parts<'_>) {
    let mut sources = Sources::default();
    let (file, _) = sources.add(Path::new(PLAN), text.to_owned());
    let (plan, _) = plan::read(&mut sources, file, parts);
    let house = House::build(&plan, &sources);
    let (quantities, mut gaps) = quantities(&house, Rulebook::built_in());
    gaps.extend(unread(&plan));
    let page = Page::new(80, false).in_units(System::of(plan.region.value().copied()));
    wrote(|out| figures::table(PLAN, &quantities, &gaps, page, out));
    let json = wrote(|out| {
        let mut json = figures::Json::start(out)?;
        json.file(PLAN, &quantities)?;
        json.finish()?;
        out.flush()
    });
    parsed(&json);
}
