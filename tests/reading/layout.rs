//! The same plan in other clothes gives the same mistakes at the same lines.

use super::read;

/// A mistake in each of its parts.
const PLAN: &str = "\
# before
nailplate: 1
region: us
titel: Möwenweg 14 – Keller
rooms:
  media: {size: [22 ft, 15 ft, 9], floor: 0}   # a bare number
  \"bath\":
    kind: cellar
    notes: |
      first line: x

      ünd noch eine
  closet: &c
    size: [6 ft, 5 ft, nine ft]
endpoints:
  sofa: {kind: seat, room: medai}
  lamp:
    kind: >-
      ligt
    load:
  rack: {kind: rack, room: closet,
         load: 900 V}
";

/// Rule, line and column of each mistake.
fn places(text: &str) -> Vec<(&'static str, usize, usize)> {
    let read = read(text);
    let mut places: Vec<_> = read
        .findings
        .iter()
        .map(|finding| {
            let spot = read.sources.spots(finding.marks[0].span).0;
            let at = read.sources.file(spot.file).position(spot.start);
            (finding.rule, at.line, at.column)
        })
        .collect();
    places.sort_by_key(|(rule, line, column)| (*line, *column, *rule));
    places
}

#[test]
fn line_ends_and_marks_of_byte_order_change_nothing() {
    let expected = [
        ("plan.unknown-key", 4, 1),
        ("plan.no-unit", 6, 32),
        ("plan.unknown-word", 8, 11),
        ("plan.unreadable", 14, 24),
        ("plan.no-such-id", 16, 28),
        ("plan.unknown-word", 18, 11),
        ("plan.wrong-kind", 20, 5),
        ("plan.wrong-unit", 22, 16),
    ];
    assert_eq!(places(PLAN), expected);
    for end in ["\r\n", "\r"] {
        assert_eq!(places(&PLAN.replace('\n', end)), expected, "{end:?}");
        assert_eq!(
            places(&format!("\u{feff}{}", PLAN.replace('\n', end))),
            expected,
            "{end:?} with a mark"
        );
    }
    assert_eq!(places(&format!("\u{feff}{PLAN}")), expected);
    assert_eq!(places(PLAN.trim_end()), expected, "without a last line end");
}

#[test]
fn letters_of_any_script_move_bytes_and_not_columns() {
    for (from, to) in [
        ("media", "mëdïä"),
        ("closet", "物置の部屋"),
        ("bath", "b\u{1f6c1}th"),
    ] {
        let width = to.chars().count() as isize - from.chars().count() as isize;
        let changed = places(&PLAN.replace(from, to));
        for ((rule, line, column), (was, on, at)) in changed.iter().zip(places(PLAN)) {
            let moved = (*column as isize - at as isize) % width.max(1);
            assert_eq!((*rule, *line, moved), (was, on, 0), "{to}");
        }
        assert_eq!(changed.len(), places(PLAN).len(), "{to}");
    }
}

#[test]
fn edits_keep_the_line_ends_of_the_file() {
    for end in ["\n", "\r\n", "\r"] {
        let read = read(&format!("region: us{end}title: x{end}"));
        let redline = &read.findings[0].redlines[0];
        let source = &read.sources.file(redline.edits[0].at.file).text;
        let text = nailplate::yaml::apply(source, &redline.edits).expect("it fits");
        assert_eq!(
            text,
            format!("nailplate: 1{end}region: us{end}title: x{end}")
        );
    }
}
