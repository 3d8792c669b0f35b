//! Lengths that leave nothing to connect with (10 ft, 6 ft, 1 ft: common practice, no source; the way: geometry).

use nailplate::findings::Level::{Advice, Fault};
use nailplate::house::House;
use nailplate::rules::plan::{length_impossible, no_tail};
use nailplate::rules::sheet;

use super::{found, gaps, reviewed};

const TAIL: &str = "plan.no-tail";

/// Two ends 20 ft apart along the axes (8, 9, 3), 12.4 ft as the crow flies; more things and runs by name.
fn plan(a: &str, b: &str, run: &str) -> String {
    let point = |end: &str, at: &str| if end.contains("at:") || end.contains("in:") { end.to_owned() } else { format!("{end}, at: {at}") };
    format!(
        "nailplate: 1\nregion: us\nrooms:\n  r: {{origin: [0 ft, 0 ft, 0 ft], size: [30 ft, 30 ft, 9 ft]}}\n  q: {{kind: room}}\n\
         stock:\n  d: {{for: data}}\n  p: {{for: power}}\n  x: {{rating: CM}}\npathways:\n  w: {{kind: wall, length: 90 ft}}\n  c: {{kind: conduit, length: 30 ft}}\n  \
         i: {{kind: conduit, length: 9 ft, inside: c}}\n  u: {{kind: conduit}}\n  t: {{kind: attic}}\n  f: {{kind: crawl-space}}\ncircuits:\n  C1: {{breaker: 15 A}}\n  C2: {{breaker: 15 A}}\nendpoints:\n  \
         rack: {{kind: rack, at: [0 ft, 0 ft, 0 ft], room: r}}\n  a: {{{}}}\n  b: {{{}}}\nruns:\n  R: {{{run}}}\n",
        point(a, "[0 ft, 0 ft, 1 ft]"),
        point(b, "[8 ft, 9 ft, 4 ft]")
    )
}

#[track_caller]
fn check(text: &str, is_short: bool, lacks: &[&str]) {
    let short: Vec<String> = found(text, TAIL).into_iter().map(|(on, _)| on).collect();
    assert_eq!(short, vec!["R".to_owned(); usize::from(is_short)], "{text}");
    assert_eq!(gaps(text, TAIL), lacks, "{text}");
}

#[test]
fn the_way_and_what_each_end_needs() {
    for (a, b, stock, least) in [
        ("kind: wall-plate", "kind: display", "d", 22.0),
        ("kind: wall-plate", "kind: projector", "d", 27.0),
        ("kind: rack", "kind: wall-plate", "d", 31.0),
        ("kind: rack", "kind: projector", "d", 36.0),
        ("kind: rack", "kind: rack", "d", 40.0),
        // Building wire ends in boxes.
        ("kind: rack", "kind: projector", "p", 22.0),
    ] {
        for (from, to) in [("a", "b"), ("b", "a")] {
            for spare in ["", ", spare: yes"] {
                let run = |length: f64| plan(a, b, &format!("from: {from}, to: {to}, stock: {stock}, length: {length} ft{spare}"));
                check(&run(least), false, &[]);
                // A measure is good to a hundredth (common practice, no source).
                check(&run(least * 0.991), false, &[]);
                check(&run(least * 0.989), true, &[]);
            }
        }
    }
    // In the rack, and at its place: 17 ft along the axes, and no way up of 1 ft.
    let inside = |length| plan("kind: patch-panel, in: rack", "kind: display", &format!("from: a, to: b, stock: d, length: {length}"));
    check(&inside("32 ft"), false, &[]);
    check(&inside("31.6 ft"), true, &[]);
    check(&inside("9.65 m"), true, &[]);
    check(&inside("9.66 m"), false, &[]);
}

/// Common practice, no source: 3 m at a rack, 1.8 m at a projector, 0.3 m at any other end.
#[test]
fn metric_regions_have_metric_limits() {
    for region in ["gb", "eu", "au"] {
        let metric = |a: &str, b: &str, length: f64| {
            let text = plan(&format!("{a}, at: [0 m, 0 m, 1 m]"), &format!("{b}, at: [4 m, 5 m, 2 m]"), &format!("from: a, to: b, stock: d, length: {length} m"));
            text.replace("region: us", &format!("region: {region}"))
        };
        // 10 m along the axes, 6.48 m as the crow flies.
        for (a, b, tails) in [("kind: wall-plate", "kind: display", 0.6), ("kind: rack", "kind: wall-plate", 3.3), ("kind: rack", "kind: projector", 4.8), ("kind: rack", "kind: rack", 6.0)] {
            check(&metric(a, b, 10.0 + tails), false, &[]);
            check(&metric(a, b, (10.0 + tails) * 0.991), false, &[]);
            check(&metric(a, b, (10.0 + tails) * 0.989), true, &[]);
        }
        let review = reviewed(&metric("kind: rack", "kind: projector", 14.0), TAIL);
        let finding = &review.findings[0];
        assert!(finding.says.ends_with("its way takes 10 m along walls and joists and its ends 4.8 m more"), "{}", finding.says);
        let figure = finding.figure.as_ref().expect("a figure");
        assert_eq!(figure.working, "10 m along the axes + 3 m at a + 1.8 m at b = 14.8 m");
    }
}

#[test]
fn by_way_of_ceiling_floor_and_conduit() {
    let run = |through: &str, length: f64| {
        let ends = ("kind: wall-plate, room: r, at: [0 ft, 0 ft, 1 ft]", "kind: display, room: r, at: [8 ft, 9 ft, 4 ft]");
        plan(ends.0, ends.1, &format!("from: a, to: b, stock: d, through: [{through}], length: {length} ft"))
    };
    // Up 8, over 17, down 5; or down 1, over 17, up 4; or 30 ft of conduit; 2 ft for the ends each time.
    for (through, least) in [("t", 32.0), ("f", 24.0), ("c", 32.0), ("i, c", 32.0), ("i", 22.0), ("w", 22.0), ("t, c", 32.0)] {
        check(&run(through, least), false, &[]);
        check(&run(through, least * 0.98), true, &[]);
    }
    // Slantwise 12.04 ft over the room: up 8 and down 5; down 1 and up 4; as the crow flies 12.41 ft; conduit as it is.
    for (through, least) in [("t", 27.04), ("f", 19.04), ("w", 14.41), ("c", 32.0), ("t, c", 32.0)] {
        let level = |length| found(&run(through, length), TAIL).pop().map(|(_, level)| level);
        assert_eq!(level(least - 0.05), Some(Fault), "{through}");
        assert_eq!(level(least + 0.05), (least < 30.0).then_some(Advice), "{through}");
    }
    check(&run("u", 22.0), false, &["length of u"]);
    check(&run("u", 21.0), true, &[]);
    check(&run("nowhere", 22.0), false, &[]);
    // The ceiling is not known: short in any case, or perhaps.
    let low = |room: &str, length: f64| {
        let text = run("t", length);
        text.replace("kind: wall-plate, room: r", &format!("kind: wall-plate{room}"))
    };
    check(&low("", 21.0), true, &[]);
    check(&low("", 50.0), false, &["room of a"]);
    check(&low(", room: q", 50.0), false, &["origin and size of q"]);
}

#[test]
fn what_another_rule_finds_or_what_is_no_run_of_the_house() {
    let ends = ("kind: wall-plate", "kind: display");
    // 12.41 ft as the crow flies, less 1 %.
    for (length, expected) in [("12.2 ft", false), ("12.3 ft", true), ("13 ft", true)] {
        check(&plan(ends.0, ends.1, &format!("from: a, to: b, stock: d, length: {length}")), expected, &[]);
    }
    check(&plan(ends.0, ends.1, "from: a, to: b, stock: d, through: [c], length: 29 ft"), false, &[]);
    // No length is stated, or none that can be read.
    check(&plan(ends.0, ends.1, "from: a, to: b, stock: d"), false, &[]);
    check(&plan(ends.0, ends.1, "from: a, to: b, stock: d, length: 3"), false, &[]);
    // A cord.
    check(&plan("kind: patch-panel, in: rack", "kind: amplifier, in: rack", "from: a, to: b, stock: d, length: 3 ft"), false, &[]);
}

#[test]
fn what_is_missing_once() {
    let text = plan("kind: rack, at: [0 ft, 0 ft, 1 ft]", "kind: display", "from: a, to: b, stock: d, length: 90 ft")
        .replace("b: {kind: display, at: [8 ft, 9 ft, 4 ft]}", "b: {kind: display}");
    check(&text, false, &["at of b"]);
    let runs = "  S: {from: b, to: a, stock: d, length: 80 ft}\n  P: {from: C1, to: a, stock: p, length: 80 ft}\n  \
                Q: {from: C2, to: b, stock: p, length: 80 ft}\n  T: {from: C1, to: b, stock: p, length: 80 ft}\n";
    check(&(text + runs), false, &["at of b", "panel of C1 and 1 more"]);
    // What it carries, or what it ends on, may decide; or not.
    let (a, b) = ("kind: rack", "kind: display");
    for (length, expected, lacks) in [("21 ft", true, &[][..]), ("25 ft", false, &["`for` of x"]), ("31 ft", false, &[])] {
        check(&plan(a, b, &format!("from: a, to: b, stock: x, length: {length}")), expected, lacks);
    }
    for (length, expected, lacks) in [("21 ft", true, &[][..]), ("25 ft", false, &["kind of a"]), ("31 ft", false, &[])] {
        check(&plan("load: 9 W", b, &format!("from: a, to: b, stock: d, length: {length}")), expected, lacks);
    }
}

#[test]
fn both_rules_of_length_share_their_hundredth() {
    let impossible: &length_impossible::Limits = sheet("plan.length-impossible").and_then(|sheet| sheet.limits()).expect("its limits");
    let tail: &no_tail::Limits = sheet(TAIL).and_then(|sheet| sheet.limits()).expect("its limits");
    assert_eq!(impossible.short_of_line.value.base(), tail.short_of_line.value.base());
}

/// An estimate is never less than the run's conduits; a wall's length is none, nor is a pipe in a pipe twice.
#[test]
fn conduits_of_an_estimate() {
    let estimate = |through: &str| {
        let text = plan("kind: wall-plate", "kind: display", &format!("from: a, to: b, stock: d, through: [{through}]"));
        let review = reviewed(&text, TAIL);
        let house = House::build(&review.plan, &review.sources);
        house.length(0).map(|length| length.distance().to_string())
    };
    // 20 ft or 30 ft, 10 % and 6 ft (common practice, no source).
    assert_eq!(estimate("w"), Ok("28 ft".to_owned()));
    assert_eq!(estimate("c, i, w"), Ok("39 ft".to_owned()));
}
