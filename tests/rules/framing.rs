//! Holes and notches: NEC 300.4 (steel plates), IRC R602.6, R502.8.1, R802.7.1 (the last from memory). Low voltage:
//! common practice, no source.

use nailplate::findings::Level::{self, Fault, Hazard};

use super::{edited, found, gaps, reviewed};

const BARE: &str = "pathway.unguarded";
const WEAK: &str = "pathway.weakens-framing";
const REGIONS: [&str; 5] = ["us", "ca", "gb", "eu", "au"];

/// A plan with a pathway `w`, another `p` inside it, and a run for each of `runs`.
fn plan(region: &str, w: &str, p: &str, runs: &[&str]) -> String {
    let mut text = format!(
        "nailplate: 1\nregion: {region}\nstock:\n  data: {{for: data}}\n  nm: {{for: power}}\n  odd: {{rating: CM}}\npathways:\n  \
         w: {{{w}}}\n  p: {{{p}, inside: w}}\nendpoints:\n  a: {{kind: rack}}\n  b: {{kind: keypad}}\nruns:\n  N: {{from: a, to: b, stock: nm}}\n"
    );
    for (n, run) in runs.iter().enumerate() {
        text += &format!("  R{n}: {{from: a, to: b, {run}}}\n");
    }
    text
}

/// A wall with one hole or notch, and a run of a stock in it.
fn wall(region: &str, framing: &str, stock: &str) -> String {
    let w = format!("kind: wall, framing: {{{framing}}}");
    plan(region, &w, "kind: conduit", &[&format!("stock: {stock}, through: w")])
}

#[track_caller]
fn check(text: &str, rule: &str, expected: &[Level], lacks: &[&str]) {
    let expected: Vec<_> = expected.iter().map(|level| ("w".to_owned(), *level)).collect();
    assert_eq!(found(text, rule), expected, "{text}");
    assert_eq!(gaps(text, rule), lacks, "{text}");
}

#[test]
fn holes_near_the_edge() {
    for (region, metric) in [("us", "31.8 mm"), ("ca", "32 mm")] {
        // NEC 300.4(A)(1): 1-1/4 in; CE Code 12-516, from memory.
        for (edge, expected) in [("1-1/4 in", &[][..]), (metric, &[]), ("1.24 in", &[Hazard]), ("0 in", &[Hazard])] {
            check(&wall(region, &format!("member: stud, edge: {edge}"), "nm"), BARE, expected, &[]);
        }
    }
    for region in REGIONS {
        check(&wall(region, "member: stud, edge: 1-1/4 in", "data"), BARE, &[], &[]);
        check(&wall(region, "member: stud, edge: 1.24 in", "data"), BARE, &[Fault], &[]);
        check(&wall(region, "edge: 1 in, guarded: yes", "nm"), BARE, &[], &[]);
    }
    // worked_examples.csv FR07, FR08: in a 2x4 a centred hole of 1.0 in leaves 1.25 in, one of 1.125 in 1.1875 in. That it is
    // centred is not said: only the second is sure.
    check(&wall("us", "member: stud, depth: 3.5 in, hole: 1 in", "nm"), BARE, &[], &["edge of a hole in the framing of w"]);
    check(&wall("us", "member: stud, depth: 3.5 in, hole: 1.125 in", "nm"), BARE, &[Hazard], &[]);
    let says = |text: &str| reviewed(text, BARE).findings[0].says.clone();
    assert_eq!(
        says(&wall("us", "member: stud, depth: 3.5 in, hole: 1.2 in", "nm")),
        "w takes R0 through a stud at most 1.15 in from its edge without a steel plate, 1.25 in needs none"
    );
    assert_eq!(
        says(&wall("eu", "member: stud, edge: 20 mm", "data")),
        "w takes R0 through a stud 20 mm from its edge without a steel plate, 31.8 mm needs none"
    );
    assert_eq!(says(&wall("us", "notch: 1/2 in", "data")), "w takes R0 through a notch in a framing member without a steel plate");
}

#[test]
fn power_where_no_distance_is_known() {
    let lack = |region: &str| format!("a limit for {region} on power in the framing of w");
    for region in ["eu", "au", "gb"] {
        check(&wall(region, "member: stud, edge: 5 mm", "nm"), BARE, &[], &[&lack(region)]);
    }
    // BS 7671, 522.6.201, from memory: 50 mm in joists.
    check(&wall("gb", "member: joist, edge: 50 mm", "nm"), BARE, &[], &[]);
    check(&wall("gb", "member: joist, edge: 49 mm", "nm"), BARE, &[Hazard], &[]);
    check(&wall("gb", "member: joist, notch: 10 mm", "nm"), BARE, &[Hazard], &[]);
    check(&wall("gb", "edge: 49 mm", "nm"), BARE, &[], &["member in the framing of w"]);
    // Data beside it is judged by practice all the same.
    let both = ["stock: nm, through: w", "stock: data, through: w"];
    let text = |region: &str| plan(region, "kind: wall, framing: {member: stud, edge: 5 mm}", "kind: conduit", &both);
    check(&text("eu"), BARE, &[Fault], &[&lack("eu")]);
    check(&text("us"), BARE, &[Hazard], &[]);
}

#[test]
fn every_hole_is_judged_and_a_lack_told_once() {
    let framing = "[{edge: 1 in}, {edge: 2 in}, {notch: 1 in}, {hole: 1 in}, {hole: 2 in}, {member: stud}, {guarded: yes}]";
    let text = plan("us", &format!("kind: wall, framing: {framing}"), "kind: conduit", &["stock: nm, through: w"]);
    let lacks = ["edge of a hole in the framing of w", "hole or notch in the framing of w"];
    check(&text, BARE, &[Hazard, Hazard], &lacks);
    // The lacks may hide a hazard.
    assert!(reviewed(&text, BARE).gaps.iter().all(|gap| gap.loud));
    let after = edited(&text, BARE);
    assert!(after.contains("{edge: 1 in, guarded: yes}, {edge: 2 in}, {notch: 1 in, guarded: yes}"), "{after}");
    check(&after, BARE, &[], &lacks);
    let text = wall("us", "edge: 1 in, guarded: no", "nm");
    check(&edited(&text, BARE), BARE, &[], &[]);
}

#[test]
fn what_lies_in_the_frame() {
    let asked = |w: &str, p: &str, run: &str| plan("us", w, p, &[run]);
    let (near, lack) = ("kind: wall, framing: {edge: 1 in}", &["framing of w"][..]);
    let pipe = "stock: nm, through: p";
    for make in ["RMC", "IMC", "EMT", "PVC-40", "PVC-80"] {
        let p = format!("kind: conduit, make: {make}");
        check(&asked(near, &p, pipe), BARE, &[], &[]);
        check(&asked("kind: wall", &p, pipe), BARE, &[], &[]);
    }
    for make in ["ENT", "FMC", "LFNC"] {
        let p = format!("kind: conduit, make: {make}");
        check(&asked(near, &p, pipe), BARE, &[Hazard], &[]);
        check(&asked("kind: wall", &p, pipe), BARE, &[], lack);
    }
    check(&asked(near, "kind: conduit", pipe), BARE, &[], &["make of p"]);
    check(&asked("kind: wall", "kind: conduit", pipe), BARE, &[], &["make of p"]);
    check(&asked(near, "kind: tray", pipe), BARE, &[Hazard], &[]);
    // Named itself beside the pipe, the wall is passed outside of it too.
    check(&asked(near, "kind: conduit, make: EMT", "stock: nm, through: [p, w]"), BARE, &[Hazard], &[]);
    check(&asked(near, "kind: conduit", "stock: nm, through: w, surface: yes"), BARE, &[], &[]);
    check(&asked(near, "kind: conduit", "stock: nm, through: w, done: {guarded: yes}"), BARE, &[], &[]);
    check(&asked(near, "kind: conduit", "stock: nm, through: w, done: {guarded: no}"), BARE, &[Hazard], &[]);
    check(&asked(near, "kind: conduit", "stock: odd, through: w"), BARE, &[Fault], &[]);
    check(&asked(near, "kind: conduit", "stock: nm"), BARE, &[], &[]);
    for (kind, expected) in [("wall", lack), ("floor", lack), ("ceiling", lack), ("attic", &[]), ("surface", &[])] {
        check(&asked(&format!("kind: {kind}"), "kind: conduit", "stock: data, through: w"), BARE, &[], expected);
    }
    check(&asked("fire-hours: 1", "kind: conduit", "stock: data, through: w"), BARE, &[], &["kind of w"]);
    check(&asked("kind: attic, framing: {edge: 1 in}", "kind: conduit", "stock: data, through: w"), BARE, &[Fault], &[]);
    check(&asked("kind: wall, framing: []", "kind: conduit", "stock: nm, through: w"), BARE, &[], &[]);
    for bad in ["framing: {edge: near}", "framing: {edge: 1 in, guarded: maybe}", "framing: none", "kind: mur"] {
        let w = if bad.starts_with("kind") { bad.to_owned() } else { format!("kind: wall, {bad}") };
        check(&asked(&w, "kind: conduit", "stock: nm, through: w"), BARE, &[], &[]);
    }
}

#[test]
fn studs() {
    let stud = |keys: &str| wall("us", &format!("member: stud, {keys}"), "data");
    let deep = "depth: 3.5 in, edge: 1 in";
    for (keys, expected) in [
        // FR05: a bearing 2x4 may have a hole of 1.40 in (40 %); others, and doubled ones, 60 %: 2.1 in.
        ("bearing: yes, hole: 1.4 in", &[][..]),
        ("bearing: yes, hole: 1.41 in", &[Hazard]),
        ("bearing: no, hole: 2.1 in", &[]),
        ("bearing: no, hole: 2.11 in", &[Hazard]),
        ("bearing: yes, doubled: yes, hole: 2.1 in", &[]),
        ("bearing: yes, doubled: no, hole: 2.1 in", &[Hazard]),
        ("hole: 1.4 in", &[]),
        ("hole: 2.11 in", &[Hazard]),
        // Notches: 25 % (0.875 in), 40 % (1.4 in).
        ("bearing: yes, notch: 7/8 in", &[]),
        ("bearing: yes, notch: 0.88 in", &[Hazard]),
        ("bearing: no, notch: 1.4 in", &[]),
        ("bearing: no, notch: 1.41 in", &[Hazard]),
        ("notch: 1.41 in", &[Hazard]),
    ] {
        check(&stud(&format!("{deep}, {keys}")), WEAK, expected, &[]);
    }
    check(&stud(&format!("{deep}, hole: 2 in")), WEAK, &[], &["bearing in the framing of w"]);
    check(&stud(&format!("{deep}, notch: 1 in")), WEAK, &[], &["bearing in the framing of w"]);
    // 5/8 in of wood is left at the side; a centred hole of 1 in leaves 1.25 in, but nobody says that it is centred.
    check(&stud("depth: 3.5 in, bearing: yes, hole: 1 in, edge: 5/8 in"), WEAK, &[], &[]);
    check(&stud("depth: 3.5 in, bearing: yes, hole: 1 in, edge: 0.6 in"), WEAK, &[Hazard], &[]);
    check(&stud("depth: 3.5 in, bearing: yes, hole: 1 in"), WEAK, &[], &["edge of a hole in the framing of w"]);
    check(&stud("bearing: yes, hole: 1 in, edge: 1 in"), WEAK, &[], &["depth in the framing of w"]);
    check(&stud("depth: 3.5 in, edge: 1 in"), WEAK, &[], &["hole or notch in the framing of w"]);
    for bad in ["hole: wide", "hole: 1 in, bearing: perhaps", "hole: 1 in, depth: deep"] {
        check(&stud(&format!("edge: 1 in, depth: 3.5 in, {bad}").replace("depth: 3.5 in, hole: 1 in, depth", "hole: 1 in, depth")), WEAK, &[], &[]);
    }
    let review = reviewed(&stud(&format!("{deep}, bearing: yes, hole: 2 in")), WEAK);
    assert_eq!(review.findings[0].says, "w has a hole of 2 in in a stud of 3.5 in, allowed is 1.4 in");
    let working = review.findings[0].figure.as_ref().map(|figure| figure.working.as_str());
    assert_eq!(working, Some("2 in against 40 % of a stud that bears, 0.4 × 3.5 in = 1.4 in"));
}

#[test]
fn joists_and_rafters() {
    for member in ["joist", "rafter"] {
        let joist = |keys: &str| wall("us", &format!("member: {member}, depth: 9.25 in, {keys}"), "data");
        for (keys, expected) in [
            // A third of 9.25 in is 3.08 in; 2 in of wood at the side.
            ("hole: 3.08 in, edge: 2 in", &[][..]),
            ("hole: 3.09 in, edge: 2 in", &[Hazard]),
            ("hole: 2 in, edge: 1.99 in", &[Hazard]),
            // A notch: a sixth (1.54 in) deep, FR02 3.08 in long; FR03 2.31 in deep at the end.
            ("notch: 1.54 in, notch-length: 3.08 in, from-end: 1 ft, span: 12 ft", &[]),
            ("notch: 1.55 in, notch-length: 3.08 in, from-end: 1 ft, span: 12 ft", &[Hazard]),
            ("notch: 1.54 in, notch-length: 3.09 in, from-end: 1 ft, span: 12 ft", &[Hazard]),
            ("notch: 2.31 in, from-end: 0 ft", &[]),
            ("notch: 2.32 in, from-end: 0 ft", &[Hazard]),
            ("notch: 2.32 in", &[Hazard]),
            // The middle third of 12 ft begins at 4 ft, from either end.
            ("notch: 1 in, notch-length: 3 in, from-end: 3.75 ft, span: 12 ft", &[]),
            ("notch: 1 in, notch-length: 3 in, from-end: 3.8 ft, span: 12 ft", &[Hazard]),
            ("notch: 1 in, notch-length: 3 in, from-end: 6 ft, span: 12 ft", &[Hazard]),
            ("notch: 1 in, notch-length: 3 in, from-end: 8 ft, span: 12 ft", &[]),
        ] {
            check(&joist(keys), WEAK, expected, &[]);
        }
        let lack = |key: &str| format!("{key} in the framing of w");
        for (keys, key) in [
            ("hole: 2 in", "edge of a hole"),
            ("notch: 1 in", "from-end"),
            ("notch: 1 in, from-end: 1 ft", "notch-length"),
            ("notch: 1 in, from-end: 1 ft, notch-length: 2 in", "span"),
            ("notch: 1 in, from-end: 13 ft, notch-length: 2 in, span: 12 ft", "a from-end within the span"),
        ] {
            check(&joist(keys), WEAK, &[], &[&lack(key)]);
        }
        // Everything that is wrong with one notch is said, beside what is missing.
        let [deep, long] = ["notch: 2 in, notch-length: 4 in, from-end: 5 ft", "notch: 2 in, notch-length: 4 in, from-end: 5 ft, span: 12 ft"];
        check(&joist(deep), WEAK, &[Hazard, Hazard], &[&lack("span")]);
        check(&joist(long), WEAK, &[Hazard, Hazard, Hazard], &[]);
        check(&joist("hole: 4 in, notch: 3 in"), WEAK, &[Hazard, Hazard], &[]);
        let review = reviewed(&joist("notch: 1 in, notch-length: 3 in, from-end: 6 ft, span: 12 ft"), WEAK);
        assert_eq!(
            review.findings[0].says,
            format!("w has a notch that reaches 6 ft from the end of a {member}, into the middle third of its span, which begins at 4 ft")
        );
    }
}

#[test]
fn what_no_rule_of_thumb_covers() {
    let lack = |member: &str| gaps(&wall("us", &format!("member: {member}, depth: 12 in, hole: 1 in, edge: 5 in"), "data"), WEAK);
    assert_eq!(lack("truss"), ["the maker's word on the truss in the framing of w"]);
    assert_eq!(lack("engineered-joist"), ["the maker's chart of holes for the engineered joist in the framing of w"]);
    // IRC R602.6.1, from memory: a tie where a top plate is cut by more than half of its width.
    assert_eq!(lack("plate"), [""; 0]);
    for (cut, open) in [("hole: 1.75 in", false), ("hole: 1.8 in", true), ("notch: 1 in", false), ("notch: 2 in", true)] {
        let lacks = gaps(&wall("us", &format!("member: plate, depth: 3.5 in, edge: 0.8 in, {cut}"), "data"), WEAK);
        assert_eq!(!lacks.is_empty(), open, "{cut} {lacks:?}");
    }
    check(&wall("us", "depth: 12 in, hole: 11 in", "data"), WEAK, &[], &["member in the framing of w"]);
    for region in ["ca", "gb", "eu", "au"] {
        let lack = format!("a limit for {region} on holes and notches in the framing of w");
        check(&wall(region, "member: stud, depth: 89 mm, hole: 80 mm", "data"), WEAK, &[], &[&lack]);
    }
    // A conduit wants a hole as well; what lies in the open does not.
    let text = |w: &str, run: &str| plan("us", w, "kind: conduit, make: EMT", &[run]);
    check(&text("kind: wall", "stock: data, through: p"), WEAK, &[], &["framing of w"]);
    check(&text("kind: wall", "stock: data, through: w, surface: yes"), WEAK, &[], &[]);
    check(&text("kind: wall", "stock: data"), WEAK, &[], &[]);
    check(&text("kind: wall, framing: []", "stock: data, through: w"), WEAK, &[], &[]);
    check(&text("kind: attic", "stock: data, through: w"), WEAK, &[], &[]);
    check(&text("notes: old", "stock: data, through: w"), WEAK, &[], &["kind of w"]);
    check(&text("kind: wall, framing: no", "stock: data, through: w"), WEAK, &[], &[]);
}
