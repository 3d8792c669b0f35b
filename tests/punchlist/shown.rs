//! How each form shows what is owed and what became of the rest.

use insta::assert_snapshot;
use nailplate::forms::{Page, Words, json, lines, text};
use nailplate::review::Review;

use super::fates::{UNDERSIZED, plan, with_second};
use super::{owed_on, settled};

/// One hazard and one fault owed, one fault new, and each of what can become of an entry.
fn of_all_sorts() -> Review {
    let before = with_second(&plan(", length: 52 ft", ""));
    let mut entries = owed_on(&before, "2026-01-05");
    entries.retain(|entry| ["power.breaker-over-wire", UNDERSIZED].contains(&&*entry.rule));
    let like = entries[0].clone();
    let of = |rule: &str, on: &str| {
        let mut entry = like.clone();
        entry.rule = rule.into();
        entry.on = vec![on.into()];
        entry
    };
    entries.push(of("speaker.no-such", "S7"));
    entries.push(of("speaker.few-cores", "S1"));
    entries.push(of("speaker.few-cores", "S2"));
    let after = before
        .replace("right, stock: s, length: 52 ft", "right, stock: s")
        .replace(
            "runs:\n",
            "  mid: {kind: speaker, impedance: 4 ohm}\nruns:\n",
        )
        + "  S3: {from: rack, to: mid, stock: s, length: 52 ft}\n";
    let mut review = settled(&after, &entries);
    review.findings.retain(|found| found.rule == UNDERSIZED);
    review.gaps.clear();
    review.checks = 40;
    review
}

fn page(write: impl FnOnce(&mut dyn std::io::Write) -> std::io::Result<()>) -> String {
    let mut out = Vec::new();
    write(&mut out).expect("a Vec takes everything");
    String::from_utf8(out).expect("forms write UTF-8")
}

#[test]
fn as_text() {
    let review = of_all_sorts();
    assert_snapshot!(page(|out| text::review(
        &review,
        &mut Words::default(),
        Page::new(80, false),
        out
    )));
}

#[test]
fn as_lines_hazards_are_never_left_out() {
    let review = of_all_sorts();
    let lines = page(|out| lines::review(&review, false, out));
    let shown: Vec<_> = lines
        .lines()
        .map(|line| line.split(": ").nth(1).unwrap_or(""))
        .collect();
    assert_eq!(shown, ["fault", "owed hazard"], "{lines}");
}

#[test]
fn as_json() {
    let review = of_all_sorts();
    let file = page(|out| json::file(&review, &mut Words::default(), out));
    let file: serde_json::Value = serde_json::from_str(&file).expect("JSON");
    let owed: Vec<_> = file["owed"]
        .as_array()
        .expect("a list")
        .iter()
        .map(|owed| {
            (
                owed["rule"].as_str(),
                owed["since"].as_str(),
                owed["fingerprint"].as_str().map(str::len),
            )
        })
        .collect();
    assert_eq!(
        owed,
        [
            (
                Some("power.breaker-over-wire"),
                Some("2026-01-05"),
                Some(16)
            ),
            (Some(UNDERSIZED), Some("2026-01-05"), Some(16)),
        ]
    );
    let became: Vec<_> = file["not_found"]
        .as_array()
        .expect("a list")
        .iter()
        .map(|gone| {
            (
                gone["on"][0].as_str(),
                gone["became"].as_str(),
                gone["lacks"].as_str(),
            )
        })
        .collect();
    assert_eq!(
        became,
        [
            (Some("S2"), Some("not-judged"), Some("length of S2")),
            (Some("S7"), Some("no-rule"), None),
            (Some("S1"), Some("put-right"), None),
            (Some("S2"), Some("put-right"), None),
        ]
    );
}
