//! Lengths that cannot be (geometry; the hundredth, and the slack of an estimate: common practice, no source) and ends
//! that nothing reaches (common practice, no source).

use std::path::Path;

use nailplate::findings::Level::Fault;
use nailplate::house::{SLACK_FEET, SLACK_SHARE};
use nailplate::rules::plan::length_impossible::Limits;
use nailplate::review::{Selection, review_text};
use nailplate::rules::sheet;

use super::{Shelf, found, gaps};

const LENGTH: &str = "plan.length-impossible";
const LOOSE: &str = "plan.loose-end";

#[track_caller]
fn check(text: &str, rule: &str, expected: &[&str], lacks: &[&str]) {
    let expected: Vec<_> = expected.iter().map(|id| ((*id).to_owned(), Fault)).collect();
    assert_eq!(found(text, rule), expected, "{text}");
    assert_eq!(gaps(text, rule), lacks, "{text}");
}

/// A run from one point to another, by way of a conduit.
fn run(from: &str, to: &str, conduit: &str, run: &str) -> String {
    let at = |point: &str| {
        if point.is_empty() { String::new() } else { format!(", at: {point}") }
    };
    format!(
        "nailplate: 1\nregion: us\nstock:\n  s: {{for: data}}\npathways:\n  c: {{kind: conduit{conduit}}}\n  d: {{kind: conduit, length: 5 m, inside: c}}\n  \
         e: {{kind: wall, length: 90 m}}\nendpoints:\n  a: {{kind: rack{}}}\n  b: {{kind: keypad{}}}\n  p: {{kind: patch-panel, in: a}}\n\
         circuits:\n  C1: {{breaker: 15 A}}\nruns:\n  R1: {{from: p, to: b, stock: s, {run}}}\n",
        at(from),
        at(to),
    )
}

#[test]
fn no_shorter_than_the_straight_line_less_a_hundredth() {
    // 3, 4, 12: a box whose diagonal is 13.
    let (from, to) = ("[0 m, 0 m, 0 m]", "[3 m, 4 m, 12 m]");
    for (length, expected) in [
        ("13 m", &[][..]),
        ("12.87 m", &[]),
        ("12.869 m", &["R1"]),
        ("42.3 ft", &[]),
        ("42 ft", &["R1"]),
        ("900 m", &[]),
    ] {
        check(&run(from, to, "", &format!("length: {length}")), LENGTH, expected, &[]);
        check(&run(from, to, "", &format!("length: {length}, spare: yes")), LENGTH, expected, &[]);
    }
    // Not stated, nothing to judge; not readable, reported already.
    check(&run(from, to, "", "tie: 1"), LENGTH, &[], &[]);
    check(&run(from, to, "", "length: 3"), LENGTH, &[], &[]);
}

#[test]
fn no_shorter_than_its_conduits_together() {
    let here = "[0 m, 0 m, 0 m]";
    let pipe = ", length: 10 m";
    check(&run(here, here, pipe, "length: 10 m, through: [c]"), LENGTH, &[], &[]);
    check(&run(here, here, pipe, "length: 9.99 m, through: [c]"), LENGTH, &["R1"], &[]);
    // One inside the other is not twice as long, a wall's length is no matter, and twice through is once.
    check(&run(here, here, pipe, "length: 10 m, through: [d, c, e, c]"), LENGTH, &[], &[]);
    check(&run(here, here, pipe, "length: 9 m, through: [d, c]"), LENGTH, &["R1"], &[]);
    check(&run(here, here, pipe, "length: 4 m, through: [d]"), LENGTH, &["R1"], &[]);
    // Known to be too short though its ends are not known.
    check(&run("", "", pipe, "length: 9 m, through: [c]"), LENGTH, &["R1"], &[]);
}

#[test]
fn what_is_missing_for_a_length() {
    check(&run("", "", "", "length: 9 m"), LENGTH, &[], &["at of b", "at of p"]);
    // Each end and each conduit once, however many runs end there.
    let many = run("", "", "", "length: 9 m, through: [c]") + "  R2: {from: p, to: b, stock: s, length: 9 m, through: [c]}\n";
    check(&many, LENGTH, &[], &["at of b", "length of c", "at of p"]);
    check(&run("[0 m, 0 m, 0 m]", "", "", "length: 9 m"), LENGTH, &[], &["at of b"]);
    check(&run("[0 m, 0 m, 0 m]", "[1 m, 0 m, 0 m]", "", "length: 9 m, through: [c]"), LENGTH, &[], &["length of c"]);
    check(&run("[0 m, 0 m, 0]", "[1 m, 0 m, 0 m]", "", "length: 9 m"), LENGTH, &[], &[]);
    let circuit = run("[0 m, 0 m, 0 m]", "[1 m, 0 m, 0 m]", "", "length: 9 m").replace("from: p", "from: C1");
    check(&circuit, LENGTH, &[], &["panel of C1"]);
}

#[test]
fn the_slack_of_the_sheet_is_that_of_the_house() {
    let limits: &Limits = sheet(LENGTH).and_then(|sheet| sheet.limits()).expect("the sheet has its limits");
    assert_eq!(limits.slack_share.value.number(), SLACK_SHARE * 100.0);
    assert_eq!(limits.slack_fixed.value.number(), SLACK_FEET);
    assert_eq!(limits.slack_fixed.value.unit().spelling, "ft");
}

/// A plan with endpoints, and a run N from `z` to `z`.
fn ends(endpoints: &str, pathways: &str, runs: &str) -> String {
    let lines = |text: &str| {
        text.split("; ").filter(|line| !line.is_empty()).fold(String::new(), |all, line| all + "  " + line + "\n")
    };
    let pathways = if pathways.is_empty() { String::new() } else { format!("pathways:\n{}", lines(pathways)) };
    let carrying = lines(runs).replace("{from:", "{carries: control, from:");
    format!(
        "nailplate: 1\nregion: us\n{pathways}endpoints:\n  z: {{kind: rack}}\n{}runs:\n  N: {{carries: control, from: z, to: z}}\n{carrying}",
        lines(endpoints)
    )
}

#[test]
fn an_end_that_nothing_reaches() {
    for kind in [
        "keypad",
        "camera",
        "box",
        "wall-plate",
        "outlet",
        "data-outlet",
        "distribution",
        "display",
        "projector",
        "rack",
        "light",
        "motor",
    ] {
        let e = format!("e: {{kind: {kind}}}");
        check(&ends(&e, "", ""), LOOSE, &["e"], &[]);
        check(&ends(&e, "", "R: {from: z, to: e}"), LOOSE, &[], &[]);
        check(&ends(&e, "", "R: {from: e, to: z, spare: yes}"), LOOSE, &[], &[]);
        check(&ends(&e, "c: {kind: conduit, from: z, to: e}", ""), LOOSE, &[], &[]);
        // What stands in it is reached, and so is it; what stands beside it is not the same, save for a picture, whose
        // lines may end at a plate.
        let plate: &[&str] = if ["display", "projector"].contains(&kind) { &[] } else { &["e"] };
        check(&ends(&(e.clone() + "; f: {kind: box, in: e}"), "", "R: {from: z, to: f}"), LOOSE, &[], &[]);
        check(&ends(&(e.clone() + "; f: {kind: box, beside: e}"), "", "R: {from: z, to: f}"), LOOSE, plate, &[]);
        check(&ends(&(e + "; f: {kind: box, beside: e}"), "", "R: {from: z, to: e}"), LOOSE, &["f"], &[]);
    }
}

#[test]
fn ends_that_need_no_run_or_are_named_by_another_rule() {
    for endpoint in [
        "kind: seat",
        "kind: screen",
        "kind: breaker-panel",
        "kind: subwoofer",
        "kind: subwoofer, active: no",
        "kind: speaker",
        "kind: speaker, active: no",
        "kind: projector, load: 430 W",
        "kind: screen, load: 90 W",
        "kind: keypad, in: z",
        "kind: keypad, in: nowhere",
        "kind: lamp",
    ] {
        check(&ends(&format!("e: {{{endpoint}}}"), "", ""), LOOSE, &[], &[]);
    }
    check(&ends("o: {kind: outlet}; e: {kind: display, at-outlet: o}", "", "R: {from: z, to: o}"), LOOSE, &[], &[]);
    check(&ends("e: {kind: speaker, active: yes}", "", ""), LOOSE, &["e"], &[]);
    // A load on the data line is nobody's else.
    check(&ends("e: {kind: camera, load: 9 W, poe: type 1}", "", ""), LOOSE, &["e"], &[]);
    // A screen that is driven wants its motor wired; whichever way the motor belongs to it.
    check(&ends("e: {kind: screen}; m: {kind: motor, in: e}", "", ""), LOOSE, &["e"], &[]);
    check(&ends("e: {kind: screen}; m: {kind: motor, in: e}", "", "R: {from: z, to: m}"), LOOSE, &[], &[]);
    check(&ends("e: {kind: screen}; m: {kind: motor, beside: e}", "", "R: {from: z, to: m}"), LOOSE, &[], &[]);
    // It may be a seat.
    check(&ends("e: {room: r}", "", "").replace("room: r", "access: yes"), LOOSE, &[], &["kind of e"]);
    check(&ends("e: {access: yes}", "", "R: {from: z, to: e}"), LOOSE, &[], &[]);
}

#[test]
fn circles_and_long_chains_end() {
    check(&ends("e: {kind: rack, in: f}; f: {kind: rack, in: e}", "", "R: {from: z, to: e}"), LOOSE, &[], &[]);
}

#[test]
fn a_run_says_what_it_carries() {
    let runs = "  A: {from: z, to: z}\n  B: {from: z, to: z, stock: s}\n  C: {from: z, to: z, stock: s}\n  D: {from: z, to: z, stock: t}\n  E: {from: z, to: z, stock: s, carries: data}\n";
    let text = format!("nailplate: 1\nregion: us\nstock:\n  s: {{rating: CM}}\n  t: {{for: data}}\nendpoints:\n  z: {{kind: rack}}\nruns:\n{runs}");
    check(&text, LOOSE, &[], &["stock of A", "`for` of s"]);
}

/// A house whose runs are all unknown would be said to lack every one of them: nothing is judged, and that is said aloud.
#[test]
fn a_section_that_cannot_be_read_brings_one_mistake() {
    let plan = |runs: &str| format!("nailplate: 1\nregion: us\ncircuits: {{C1: {{breaker: 20 A, volts: 120 V}}}}\nendpoints: {{rack: {{kind: rack, load: 300 W}}, tv: {{kind: display}}}}\nruns:{runs}\n");
    let whole = |runs: &str| review_text(Path::new("case.plan.yaml"), plan(runs), &Shelf, Selection::All).unwrap_or_else(|_| panic!("{runs} is YAML"));
    for runs in [" [P1, P2]", "\n  - {from: C1, to: rack}", " none"] {
        let review = whole(runs);
        let rules: Vec<_> = review.findings.iter().map(|finding| finding.rule).collect();
        assert_eq!(rules, ["plan.wrong-kind"], "{runs}");
        let gaps: Vec<_> = review.gaps.iter().map(|gap| (gap.rule, gap.loud, gap.lacks.split(',').next())).collect();
        assert_eq!(gaps, [("plan.wrong-kind", true, Some("runs of the plan"))], "{runs}");
    }
    // Nothing behind the key is a section without entries, and said to be a mistake.
    let rules: Vec<_> = whole("").findings.iter().map(|finding| finding.rule).collect();
    assert!(rules.contains(&"plan.wrong-kind") && rules.contains(&"power.no-feed"), "{rules:?}");
}
