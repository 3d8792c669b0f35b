//! Conduits that are pulled through: jamming (NEC chapter 9 table 1 note 2), length (TIA-569), routes, bend radii
//! (TIA-568, NEC 334.24, chapter 9 table 2).

use nailplate::findings::Level::{self, Advice, Fault};
use nailplate::tables::bends::longest_section;

use super::{edited, exactly, found, reviewed};

const JAMS: &str = "pathway.jams";
const LENGTH: &str = "pathway.over-length";
const TIGHT: &str = "pathway.bend-too-tight";
const REGIONS: [&str; 5] = ["us", "ca", "gb", "eu", "au"];

/// A plan with a conduit `c` and runs of the given stocks through it, `s` and `t` of the given keys.
pub fn plan(region: &str, conduit: &str, s: &str, t: &str, runs: &[&str]) -> String {
    let mut text = format!(
        "nailplate: 1\nregion: {region}\nstock:\n  s: {{{s}}}\n  t: {{{t}}}\npathways:\n  c: {{kind: conduit, {conduit}}}\n\
         endpoints:\n  a: {{kind: rack}}\n  b: {{kind: keypad}}\nruns:\n  N: {{from: a, to: b, stock: t}}\n"
    );
    for (n, run) in runs.iter().enumerate() {
        text += &format!("  R{n}: {{from: a, to: b, {run}, through: [c]}}\n");
    }
    text
}

#[track_caller]
pub fn check(text: &str, rule: &str, expected: &[Level], lacks: &[&str]) {
    let expected: Vec<_> = expected.iter().map(|level| ("c", *level)).collect();
    exactly(text, rule, &expected, lacks);
}

#[test]
fn jam_ratios() {
    let three = ["stock: s"; 3];
    let jam = |bore: &str, diameter: &str| plan("us", bore, &format!("for: data, diameter: {diameter}"), "for: data", &three);
    // worked_examples.csv CD08, CD10, CD11: 2.990; 3.376 and 3.545; 2.683 and 2.817, where the forms disagree.
    let emt = "make: EMT, size: 3/4";
    check(&jam(emt, "7.0 mm"), JAMS, &[Fault], &[]);
    check(&jam(emt, "6.2 mm"), JAMS, &[], &[]);
    check(&jam(emt, "7.8 mm"), JAMS, &[Fault], &[]);
    let says = |text: &str| reviewed(text, JAMS).findings[0].says.clone();
    assert_eq!(
        says(&jam(emt, "7.8 mm")),
        "c is 2.82 times as wide, the oval of a bend counted, as each of the three s cables in it; from 2.8 to 3.2 they wedge"
    );
    assert_eq!(says(&jam(emt, "7.0 mm")), "c is 2.99 times as wide as each of the three s cables in it; from 2.8 to 3.2 they wedge");
    // The bounds themselves belong to the range; 1.05 × 2.66 is below it, 3.21 above it.
    for (bore, expected) in [("26.6 mm", &[][..]), ("26.7 mm", &[Fault]), ("28 mm", &[Fault]), ("32 mm", &[Fault]), ("32.1 mm", &[])] {
        check(&jam(&format!("bore: {bore}"), "10 mm"), JAMS, expected, &[]);
    }
    for region in REGIONS {
        check(&plan(region, "bore: 30 mm", "for: power, diameter: 10 mm", "for: data", &three), JAMS, &[Fault], &[]);
    }
}

#[test]
fn three_of_one_round_stock() {
    let text = |s: &str, runs: &[&str]| plan("us", "bore: 30 mm", s, "diameter: 10 mm", runs);
    let s = "for: data, diameter: 10 mm";
    check(&text(s, &["stock: s"; 3]), JAMS, &[Fault], &[]);
    check(&text(s, &["stock: s", "stock: s, spare: yes", "stock: s"]), JAMS, &[Fault], &[]);
    check(&text(s, &["stock: s"; 2]), JAMS, &[], &[]);
    check(&text(s, &["stock: s"; 4]), JAMS, &[], &[]);
    check(&text(s, &["stock: s", "stock: s", "stock: t"]), JAMS, &[], &[]);
    check(&text("diameter: 10 mm x 4 mm", &["stock: s"; 3]), JAMS, &[], &[]);
    // What is missing; unlike ones need no more.
    check(&text("for: data", &["stock: s"; 3]), JAMS, &[], &["diameter of s"]);
    check(&text(s, &["stock: s", "stock: s", "spare: no"]), JAMS, &[], &["stock of R2"]);
    check(&text(s, &["stock: s", "stock: t", "spare: no"]), JAMS, &[], &[]);
    check(&text("diameter: wide", &["stock: s"; 3]), JAMS, &[], &[]);
    check(&plan("us", "make: EMT", s, "for: data", &["stock: s"; 3]), JAMS, &[], &["size of c"]);
}

#[test]
fn three_in_a_pipe_of_their_own_do_not_jam_the_outer_one() {
    let text = |through: &str| {
        format!(
            "nailplate: 1\nregion: eu\nstock:\n  s: {{for: data, diameter: 10 mm}}\npathways:\n  c: {{kind: conduit, bore: 30 mm}}\n\
             \x20 d: {{kind: conduit, bore: 40 mm, inside: c}}\nendpoints:\n  a: {{kind: rack}}\n  b: {{kind: keypad}}\nruns:\n\
             \x20 A: {{from: a, to: b, stock: s, through: {through}}}\n  B: {{from: a, to: b, stock: s, through: {through}}}\n\
             \x20 C: {{from: a, to: b, stock: s, through: {through}}}\n"
        )
    };
    check(&text("d"), JAMS, &[], &[]);
    check(&text("c"), JAMS, &[Fault], &[]);
}

#[test]
fn a_larger_pipe_is_offered() {
    let text = plan("us", "make: EMT, size: 3/4", "for: data, diameter: 7 mm", "for: data", &["stock: s"; 3]);
    let after = edited(&text, JAMS);
    assert!(after.contains("size: 1}"), "{after}");
    check(&after, JAMS, &[], &[]);
    let text = plan("us", "bore: 30 mm", "for: data, diameter: 10 mm", "for: data", &["stock: s"; 3]);
    assert_eq!(edited(&text, JAMS), text);
}

#[test]
fn length_between_pull_points() {
    // TIA-569: 100 ft; the sheet's limit is the table's.
    assert_eq!(longest_section().map(|length| length.to_string()).as_deref(), Some("100 ft"));
    for region in REGIONS {
        let text = |conduit: &str| plan(region, conduit, "for: data", "for: power", &["stock: s"]);
        check(&text("length: 100 ft"), LENGTH, &[], &[]);
        check(&text("length: 30.48 m"), LENGTH, &[], &[]);
        check(&text("length: 100.1 ft"), LENGTH, &[Advice], &[]);
        check(&text("length: 31 m"), LENGTH, &[Advice], &[]);
        check(&text("route: [60 ft, 90 deg, 39 ft]"), LENGTH, &[], &[]);
        check(&text("route: [60 ft, 90 deg, 41 ft]"), LENGTH, &[Advice], &[]);
        check(&text("size: 1"), LENGTH, &[], &["length of c"]);
        check(&text("route: [90 deg]"), LENGTH, &[], &["length of c"]);
        check(&text("length: long"), LENGTH, &[], &[]);
        check(&text("route: [90 ft, round]"), LENGTH, &[], &[]);
    }
}

#[test]
fn building_wire_alone_may_be_longer() {
    let long = "length: 200 ft";
    let text = |s: &str, runs: &[&str]| plan("us", long, s, "for: power", runs);
    check(&text("for: data", &[]), LENGTH, &[Advice], &[]);
    check(&text("for: data", &["stock: t"]), LENGTH, &[], &[]);
    check(&text("for: speaker", &["stock: t", "stock: s"]), LENGTH, &[Advice], &[]);
    check(&text("rating: CM", &["stock: s"]), LENGTH, &[], &["`for` of s"]);
    check(&text("rating: CM", &["stock: s", "stock: s, carries: data"]), LENGTH, &[Advice], &[]);
    check(&plan("us", "length: 99 ft", "rating: CM", "for: power", &["stock: s"]), LENGTH, &[], &[]);
    check(&plan("us", "size: 1", "for: data", "for: power", &["stock: t"]), LENGTH, &[], &[]);
    let words = &reviewed(&text("for: data", &["stock: s"]), LENGTH).findings[0];
    assert_eq!(words.says, "c is 200 ft long without a pull point, advised is 100 ft at most");
    assert!(words.put_right.as_deref().is_some_and(|words| words.contains("half way")));
}

#[test]
fn a_route_tells_length_and_bends() {
    let text = |conduit: &str| plan("us", conduit, "for: data, diameter: 2.6 mm", "for: power", &["stock: s"; 8]);
    // 54 %: allowed in a nipple of 24 in, and 12 + 12 in is one.
    check(&text("bore: 10 mm, route: [12 in, 45 deg, 12 in]"), "pathway.overfull", &[], &[]);
    check(&text("bore: 10 mm, route: [12 in, 45 deg, 13 in]"), "pathway.overfull", &[Fault], &[]);
    check(&text("route: [12 in, 90 deg, 1 ft, 90 deg, 1 ft]"), "pathway.overbent", &[], &[]);
    check(&text("route: [12 in, 90 deg, 1 ft, 91 deg, 1 ft]"), "pathway.overbent", &[Advice], &[]);
    check(&text("route: [12 in, 270 deg, 1 ft, 91 deg, 1 ft]"), "pathway.overbent", &[Fault], &[]);
    check(&text("route: [12 in, 270 deg, 91 bends]"), "pathway.overbent", &[], &[]);
    // Stated bends go before the route's where that is not read.
    check(&text("bends: [361 deg], route: [12 in, round]"), "pathway.overbent", &[Fault], &[]);
    // The runs of R are estimated to be no shorter than their conduit: 40 ft and slack.
    let text = text("bore: 30 mm, route: [20 ft, 90 deg, 20 ft]").replace("R0: {from: a, to: b,", "R0: {from: a, to: b, length: 39 ft,");
    let impossible = found(&text, "plan.length-impossible");
    assert_eq!(impossible, [("R0".to_owned(), Fault)]);
}

#[test]
fn a_route_unlike_the_rest_is_a_mistake() {
    let unlike = |conduit: &str| {
        let review = reviewed(&plan("us", conduit, "for: data", "for: power", &[]), "plan.route-unlike");
        let found = review.findings.into_iter().filter(|found| found.rule == "plan.route-unlike");
        found.map(|found| found.says).collect::<Vec<_>>()
    };
    let route = "route: [12 ft, 90 deg, 8 ft, 45 deg, 14 ft]";
    for fits in ["length: 34 ft", "length: 33.7 ft", "length: 36 ft", "bends: [90 deg, 45 deg]", "bends: [45 deg, 90 deg]", "length: 10.4 m"] {
        assert_eq!(unlike(&format!("{route}, {fits}")), [""; 0], "{fits}");
    }
    assert_eq!(unlike(&format!("{route}, length: 28 ft")), ["the straights of c make 34 ft, its `length` is 28 ft"]);
    assert_eq!(unlike(&format!("{route}, length: 12 m")), ["the straights of c make 10.36 m, its `length` is 12 m"]);
    assert_eq!(unlike(&format!("{route}, bends: [90 deg]")), ["the route of c bends by 135 deg, its `bends` by 90"]);
    // A stated radius says how much the arcs may add: 2 × 2.36 rad = 4.7 ft.
    assert_eq!(unlike(&format!("{route}, radius: 2 ft, length: 38.7 ft")), [""; 0]);
    assert_eq!(unlike(&format!("{route}, radius: 1 ft, length: 38.7 ft")).len(), 1);
    // The rest of what is stated still counts; what the route alone told is not guessed.
    let text = plan("us", &format!("{route}, bends: [180 deg, 181 deg]"), "for: data", "for: power", &[]);
    check(&text, "pathway.overbent", &[Fault], &[]);
    check(&text, LENGTH, &[], &[]);
    // Where only the lengths differ, the bends are those of the route.
    for (bends, expected) in [("270 deg, 8 ft, 90 deg", &[][..]), ("270 deg, 8 ft, 91 deg", &[Fault][..])] {
        let text = plan("us", &format!("length: 20 ft, route: [12 ft, {bends}, 14 ft]"), "for: data", "for: power", &[]);
        check(&text, "pathway.overbent", expected, &[]);
        check(&text, "pathway.overpulled", &[], &[]);
    }
}

#[test]
fn a_fill_that_leaves_cables_out_says_so() {
    let text = |conduit: &str| plan("us", conduit, "for: data, diameter: 6 mm", "for: data", &["stock: s", "stock: t", "stock: s"]);
    let says = |conduit: &str, rule: &str| reviewed(&text(conduit), rule).findings[0].says.clone();
    assert_eq!(says("bore: 10 mm", "pathway.overfull"), "c is at least 72 % full with 2 of its 3 cables, allowed is 40 %");
    assert_eq!(
        says("bore: 10 mm, pull-string: yes", "pathway.no-pull-string"),
        "c would be at least 108 % full with 2 of its 3 cables and one more of 6 mm, allowed is 40 %"
    );
    check(&text("bore: 20 mm"), "pathway.overfull", &[], &["diameter of t"]);
    check(&text("bore: 20 mm, pull-string: yes"), "pathway.no-pull-string", &[], &["diameter of t"]);
}

#[test]
fn bends_by_the_kind_of_cable() {
    // In a bore of 20 mm a radius of 60 mm is 50 mm on the inside.
    let text = |region: &str, s: &str, radius: &str| {
        plan(region, &format!("bore: 20 mm, bends: [90 deg], radius: {radius}"), s, "for: data", &["stock: s"])
    };
    for region in REGIONS {
        for (s, radius, expected) in [
            // TIA-568: 4 diameters at rest; 8 under pull, from memory.
            ("for: data, diameter: 6.25 mm", "60 mm", &[][..]),
            ("for: data, diameter: 6.3 mm", "60 mm", &[Advice]),
            ("for: data, shields: 0, diameter: 12.6 mm", "60 mm", &[Fault]),
            ("for: data, shields: 0, diameter: 12.4 mm", "60 mm", &[Advice]),
            ("for: data, shields: 2, diameter: 6.3 mm", "60 mm", &[Fault]),
            // Common practice, from memory: coax 5 and 10; fibre 10 and 20.
            ("for: coax, diameter: 5 mm", "60 mm", &[]),
            ("for: coax, diameter: 5.1 mm", "60 mm", &[Advice]),
            ("for: coax, diameter: 10.1 mm", "60 mm", &[Fault]),
            ("for: fibre, diameter: 2.5 mm", "60 mm", &[]),
            ("for: fibre, diameter: 2.6 mm", "60 mm", &[Advice]),
            ("for: fibre, diameter: 5.1 mm", "60 mm", &[Fault]),
            // A maker's word goes before the multiple.
            ("for: fibre, diameter: 5.1 mm, bend-radius: 50 mm", "60 mm", &[]),
            ("for: video, bend-radius: 51 mm", "60 mm", &[Fault]),
            ("for: video, bend-radius: 51 mm", "61 mm", &[]),
            // Less than half the bore is no bend that anything passes.
            ("for: video, bend-radius: 1 mm", "5 mm", &[Fault]),
        ] {
            check(&text(region, s, radius), TIGHT, expected, &[]);
        }
    }
    // NEC 334.24, from memory: 5 diameters of NM, a flat one by its larger side; no other region's number is known.
    let nm = "for: power, rating: NM-B, diameter: 5 mm x 10.1 mm";
    check(&text("us", nm, "60 mm"), TIGHT, &[Fault], &[]);
    check(&text("us", "for: power, rating: UF-B, diameter: 10 mm", "60 mm"), TIGHT, &[], &[]);
    check(&text("gb", nm, "60 mm"), TIGHT, &[], &["bend-radius of s"]);
    check(&text("us", "for: power, rating: THWN, diameter: 3 mm", "60 mm"), TIGHT, &[], &["bend-radius of s"]);
}

/// A stated radius is one to the centre line: 4.5 in less half of 0.824 in (EMT 3/4) leaves 4.09 in for a cable that wants
/// 10 × 0.405 in = 4.05 in under pull, less half of 1.049 in (EMT 1) it leaves 3.98 in.
#[test]
fn no_larger_conduit_that_bends_too_tight() {
    let text = |bends: &str| plan("us", &format!("make: EMT, size: 3/4, {bends}"), "for: coax, diameter: 0.405 in", "for: data", &["stock: s"]);
    for (bends, larger) in [
        ("bends: [90 deg], radius: 4.5 in", false),
        ("bends: [90 deg], radius: 4.6 in", true),
        ("bends: [], radius: 4.5 in", true),
        ("bends: [90 deg]", true),
    ] {
        let text = text(&format!("{bends}, pull-string: yes"));
        check(&text, "pathway.no-pull-string", &[Advice], &[]);
        let after = edited(&text, "pathway.no-pull-string");
        assert_eq!(after.contains("size: 1,"), larger, "{after}");
        assert_eq!(found(&after, TIGHT), found(&text, TIGHT), "{after}");
    }
}

#[test]
fn bends_by_the_trade_size() {
    // NEC chapter 9 table 2, from memory: trade size 1 bends to 5.75 in by one bender and 6 in by others; less 1.049 in ÷ 2.
    let text = |s: &str| plan("us", "make: EMT, size: 1, bends: [90 deg]", s, "for: data", &["stock: s"]);
    check(&text("for: video, bend-radius: 5.22 in"), TIGHT, &[], &[]);
    check(&text("for: video, bend-radius: 5.3 in"), TIGHT, &[], &["radius of c"]);
    check(&text("for: video, bend-radius: 5.48 in"), TIGHT, &[Fault], &[]);
    let after = edited(&text("for: video, bend-radius: 5.48 in"), TIGHT);
    assert!(after.contains("radius: 6.1 in"), "{after}");
    check(&after, TIGHT, &[], &[]);
    let words = reviewed(&text("for: video, bend-radius: 5.48 in"), TIGHT);
    assert_eq!(words.findings[0].says, "c bends to 5.48 in on the inside, s is pulled round no less than 5.48 in");
}

#[test]
fn what_is_missing_for_the_radius() {
    let text = |conduit: &str, s: &str, runs: &[&str]| plan("us", conduit, s, "for: speaker", runs);
    let (bent, coax) = ("make: EMT, size: 1, bends: [45 deg]", "for: coax, diameter: 7 mm");
    check(&text(bent, coax, &["stock: s"]), TIGHT, &[], &[]);
    check(&text("make: EMT, size: 1", coax, &["stock: s"]), TIGHT, &[], &["bends of c"]);
    check(&text("make: EMT, size: 1, bends: []", "for: speaker", &["stock: s"]), TIGHT, &[], &[]);
    check(&text("make: EMT, size: 1, route: [9 ft, 0 deg]", "for: speaker", &["stock: s"]), TIGHT, &[], &[]);
    check(&text("bends: [45 deg], radius: 9 in", coax, &["stock: s"]), TIGHT, &[], &["make of c"]);
    check(&text("bends: [45 deg], bore: 20 mm", coax, &["stock: s"]), TIGHT, &[], &["radius of c"]);
    check(&text("bends: [45 deg], make: EMT, size: 4", coax, &["stock: s"]), TIGHT, &[], &["radius of c"]);
    check(&text(bent, "for: coax", &["stock: s"]), TIGHT, &[], &["diameter of s"]);
    check(&text(bent, "diameter: 7 mm", &["stock: s"]), TIGHT, &[], &["`for` of s"]);
    check(&text(bent, coax, &["spare: no"]), TIGHT, &[], &["stock of R0"]);
    // What a stock lacks is told once; a cable that is known to suffer is told all the same.
    check(&text(bent, coax, &["stock: t", "stock: t", "stock: s"]), TIGHT, &[], &["bend-radius of t"]);
    check(&text(bent, "for: coax, bend-radius: 1 ft", &["stock: t", "stock: s"]), TIGHT, &[Fault], &["bend-radius of t"]);
    check(&text(bent, "for: coax, bend-radius: tight", &["stock: s"]), TIGHT, &[], &[]);
    check(&text("size: 1, bends: [45 deg], radius: wide", coax, &["stock: s"]), TIGHT, &[], &[]);
    check(&text(bent, coax, &[]), TIGHT, &[], &[]);
}
