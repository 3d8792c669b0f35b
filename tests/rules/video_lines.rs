//! Video lines: how many, which way round, of what grade, and whether their heads pass the pipe.

use nailplate::findings::Level::{self, Advice, Fault};

use super::{edited, exactly, lines, reviewed};

const ONE: &str = "video.one-line";
const BACK: &str = "video.backwards";
const UNGRADED: &str = "video.ungraded-long";
const HEAD: &str = "video.head-too-wide";
const REGIONS: [&str; 5] = ["us", "ca", "gb", "eu", "au"];

fn plan(region: &str, endpoints: &str, runs: &str) -> String {
    format!(
        "nailplate: 1\nregion: {region}\nstock:\n  c: {{for: video, build: passive, grade: high-speed}}\n  o: {{for: video, build: optical, reach: 30 m}}\n  a: {{for: video, build: active}}\n  n: {{for: video, grade: high-speed}}\n  d: {{for: data}}\n  x: {{rating: CL3}}\n\
         pathways:\n  wall: {{kind: wall}}\n  tray: {{kind: tray}}\n  hidden-tray: {{kind: raceway, inside: wall}}\n  what: {{fire-hours: 0}}\n\
         endpoints:\n  rack: {{kind: rack}}\n{}runs:\n  N: {{from: rack, to: rack2, stock: d}}\n{}",
        lines(&format!("rack2: {{kind: rack}}; {endpoints}")), lines(runs)
    )
}

#[track_caller]
fn check(rule: &str, text: &str, expected: &[(&str, Level)], lacks: &[&str]) {
    exactly(text, rule, expected, lacks);
}

const PJ: &str = "pj: {kind: projector}";
const TV: &str = "tv: {kind: display}";

#[test]
fn two_lines_to_a_projector() {
    for region in REGIONS {
        check(ONE, &plan(region, PJ, "V1: {from: rack, to: pj, stock: c}"), &[("pj", Advice)], &[]);
        check(ONE, &plan(region, PJ, "V1: {from: rack, to: pj, stock: c}; V2: {from: rack, to: pj, stock: o, spare: yes}"), &[], &[]);
    }
    check(ONE, &plan("us", PJ, "V1: {from: rack, to: pj, stock: c}; V2: {from: rack, to: pj, stock: o}"), &[], &[]);
    check(ONE, &plan("us", PJ, "V1: {from: rack, to: pj, stock: c, surface: yes}"), &[], &[]);
    check(ONE, &plan("us", PJ, "V1: {from: rack, to: pj, stock: c, spare: yes}"), &[("pj", Advice)], &[]);
    check(ONE, &plan("us", PJ, "V1: {from: rack, to: pj, stock: c}; D1: {from: rack, to: pj, stock: d}"), &[("pj", Advice)], &[]);
    check(ONE, &plan("us", PJ, "V1: {from: rack, to: pj, stock: c}; D1: {from: rack, to: pj, stock: d, carries: video, spare: yes}"), &[], &[]);
    // At the box beside it, with a cord between the two; at a plate that a cord leads on from.
    let boxed = format!("{PJ}; pot: {{kind: box, beside: pj}}");
    check(ONE, &plan("us", &boxed, "V1: {from: rack, to: pot, stock: c}; V2: {from: pot, to: pj, stock: c}"), &[("pj", Advice)], &[]);
    check(ONE, &plan("us", &boxed, "V1: {from: rack, to: pot, stock: c}; V2: {from: rack, to: pot, stock: c, spare: yes}"), &[], &[]);
    let says = &reviewed(&plan("us", PJ, "V1: {from: rack, to: pj, stock: c, spare: yes}"), ONE).findings[0].says;
    assert_eq!(says, "pj has a single video line, the spare run V1, 2 are advised");
}

#[test]
fn two_lines_to_a_display_that_is_built_in() {
    let line = |run: &str| plan("gb", TV, &format!("V1: {{from: rack, to: tv, stock: c{run}}}"));
    check(ONE, &line(", through: [wall]"), &[("tv", Advice)], &[]);
    check(ONE, &line(", through: [hidden-tray]"), &[("tv", Advice)], &[]);
    check(ONE, &line(", through: [tray]"), &[], &[]);
    check(ONE, &line(", through: [tray, what]"), &[], &["kind of what"]);
    check(ONE, &line(", through: [wall], surface: yes"), &[], &[]);
    check(ONE, &line(""), &[], &["through of V1"]);
    check(ONE, &line(", through: []"), &[], &["through of V1"]);
    let plate = |wall: &str| plan("gb", &format!("{TV}; p: {{kind: wall-plate}}"), &format!("V1: {{from: rack, to: p, stock: c{wall}}}; V2: {{from: p, to: tv, stock: c, surface: yes}}"));
    check(ONE, &plate(", through: [wall]"), &[("tv", Advice)], &[]);
    check(ONE, &plate(", through: [tray]"), &[], &[]);
    let spare = plate(", through: [wall]") + "  V3: {from: rack, to: p, stock: c, through: [wall], spare: yes}\n";
    check(ONE, &spare, &[], &[]);
}

#[test]
fn what_the_lines_of_a_display_lack() {
    check(ONE, &plan("us", PJ, "V1: {from: rack, to: pj, stock: c}; V2: {from: rack, to: pj}"), &[], &["stock of V2"]);
    check(ONE, &plan("us", PJ, "V1: {from: rack, to: pj, stock: x}"), &[], &["`for` of x"]);
    check(ONE, &plan("us", &format!("{PJ}; {TV}"), "V1: {from: rack, to: tv, stock: c, surface: yes}"), &[], &["a video run to pj"]);
    check(ONE, &plan("us", PJ, ""), &[], &[]);
    assert_eq!(reviewed(&plan("us", PJ, ""), ONE).checks, 0);
    // Where the sound and the control of a room are drawn, so is its picture: a projector shows nothing without a line.
    for service in ["speaker", "line", "control"] {
        let other = format!("S1: {{from: rack, to: rack2, stock: x, carries: {service}}}");
        check(ONE, &plan("us", PJ, &other), &[], &["a video run to pj"]);
        check(ONE, &plan("us", TV, &other), &[], &[]);
    }
    check(ONE, &plan("us", "pj: {throw: 1.6}", "V1: {from: rack, to: pj, stock: c}"), &[], &["kind of pj"]);
    check(ONE, &plan("us", "pj: {load: 300 W}", "V1: {from: rack, to: pj, stock: c}"), &[], &["kind of pj"]);
    check(ONE, &plan("us", "pj: {load: 300 W}", "V1: {from: rack, to: pj, stock: c}; V2: {from: rack, to: pj, stock: c}"), &[], &[]);
    check(ONE, &plan("us", "pj: {load: 300 W}", "D1: {from: rack, to: pj, stock: d}"), &[], &[]);
}

#[test]
fn which_way_a_cable_lies() {
    let run = |stock: &str, from: &str, to: &str, more: &str| plan("us", &format!("{PJ}; {TV}; pot: {{kind: box, beside: pj}}"), &format!("V1: {{from: {from}, to: {to}, stock: {stock}{more}}}"));
    for stock in ["o", "a"] {
        for more in ["", ", spare: yes"] {
            check(BACK, &run(stock, "rack", "pj", more), &[], &[]);
            check(BACK, &run(stock, "pj", "rack", more), &[("V1", Fault)], &[]);
            check(BACK, &run(stock, "tv", "rack", more), &[("V1", Fault)], &[]);
            check(BACK, &run(stock, "pot", "rack", more), &[("V1", Fault)], &[]);
            check(BACK, &run(stock, "rack", "pot", more), &[], &[]);
            // From display to display, and between two that are none, either way is right.
            check(BACK, &run(stock, "tv", "pj", more), &[], &[]);
            check(BACK, &run(stock, "rack2", "rack", more), &[], &[]);
            let text = run(stock, "pj", "rack", more);
            check(BACK, &edited(&text, BACK), &[], &[]);
            assert!(edited(&text, BACK).contains("V1: {from: rack, to: pj"), "{}", edited(&text, BACK));
        }
    }
    check(BACK, &run("c", "pj", "rack", ""), &[], &[]);
    let says = &reviewed(&run("o", "pj", "rack", ""), BACK).findings[0].says;
    assert_eq!(says, "V1 is an optical cable with its source end at pj, the display's side");
    for region in REGIONS {
        check(BACK, &run("o", "pj", "rack", "").replace("region: us", &format!("region: {region}")), &[("V1", Fault)], &[]);
    }
}

#[test]
fn directions_along_a_channel() {
    let way = |one: &str, two: &str, three: &str| {
        plan("us", &format!("{PJ}; p: {{kind: wall-plate}}; q: {{kind: wall-plate}}"), &format!("V1: {{{one}, stock: o}}; V2: {{{two}, stock: o}}; V3: {{{three}, stock: o}}"))
    };
    check(BACK, &way("from: rack, to: p", "from: p, to: q", "from: q, to: pj"), &[], &[]);
    check(BACK, &way("from: rack, to: p", "from: q, to: p", "from: q, to: pj"), &[("V2", Fault)], &[]);
    check(BACK, &way("from: p, to: rack", "from: q, to: p", "from: pj, to: q"), &[("V1", Fault), ("V2", Fault), ("V3", Fault)], &[]);
    check(BACK, &way("from: rack, to: p", "from: p, to: q", "from: pj, to: q"), &[("V3", Fault)], &[]);
    // Two sources at one plate: what leads from it to a source leads away from the display.
    check(BACK, &way("from: rack, to: p", "from: pj, to: p", "from: p, to: rack2"), &[("V2", Fault), ("V3", Fault)], &[]);
    // Where it is not known which goes on as which, that is said.
    check(BACK, &way("from: rack, to: p", "from: p, to: q", "from: q, to: p"), &[], &["which run goes on as which at q"]);
    check(BACK, &way("from: rack, to: p", "from: p, to: q", "from: q, to: p").replace("stock: o", "stock: c"), &[], &[]);
}

#[test]
fn what_a_direction_lacks() {
    let run = |stock: &str, pj: &str| plan("us", pj, &format!("V1: {{from: pj, to: rack, {stock}}}"));
    check(BACK, &run("stock: n", PJ), &[], &["build of n"]);
    check(BACK, &run("carries: video", PJ), &[], &["stock of V1"]);
    check(BACK, &run("stock: o", "pj: {throw: 1.6}"), &[], &["kind of pj"]);
    check(BACK, &run("stock: c", "pj: {throw: 1.6}"), &[], &[]);
    check(BACK, &run("stock: o", "pj: {picture: 1920x1080 @ 60 Hz}"), &[("V1", Fault)], &[]);
    check(BACK, &run("length: 3 m", PJ), &[], &["stock of V1"]);
    check(BACK, &plan("us", PJ, "V1: {from: rack, to: pj}"), &[], &[]);
    // A build that matters to nobody is no gap.
    check(BACK, &plan("us", PJ, "V1: {from: rack, to: pj, stock: n}"), &[], &[]);
    check(BACK, &plan("us", "pj: {throw: 1.6}", "V1: {from: rack, to: pj, stock: o}"), &[], &[]);
}

/// 2 m (common practice) = 6.562 ft.
#[test]
fn a_grade_from_two_metres_on() {
    let run = |region: &str, stock: &str, run: &str| {
        format!("nailplate: 1\nregion: {region}\nstock:\n  u: {{{stock}}}\nendpoints:\n  rack: {{kind: rack}}\n  tv: {{kind: display}}\nruns:\n  V1: {{from: rack, to: tv, stock: u{run}}}\n")
    };
    for region in REGIONS {
        check(UNGRADED, &run(region, "for: video, build: passive", ", length: 2 m"), &[], &[]);
        check(UNGRADED, &run(region, "for: video, build: passive", ", length: 2.01 m"), &[("V1", Fault)], &[]);
    }
    let long = ", length: 12 ft";
    check(UNGRADED, &run("us", "for: video", long), &[("V1", Fault)], &[]);
    check(UNGRADED, &run("us", "for: video", ", length: 12 ft, spare: yes"), &[("V1", Fault)], &[]);
    check(UNGRADED, &run("us", "for: video, grade: standard", long), &[], &[]);
    check(UNGRADED, &run("us", "for: video, build: optical", long), &[], &[]);
    check(UNGRADED, &run("us", "for: video, build: active", long), &[], &[]);
    check(UNGRADED, &run("us", "for: coax", ", length: 12 ft, carries: video"), &[], &[]);
    check(UNGRADED, &run("us", "for: video", ""), &[], &["length of V1"]);
    check(UNGRADED, &run("us", "for: video", long).replace(", stock: u", ""), &[], &["stock of V1"]);
    check(UNGRADED, &run("us", "rating: CL3", long), &[], &["`for` of u"]);
    check(UNGRADED, &run("us", "rating: CL3", ", length: 12 ft, carries: video"), &[], &["`for` of u"]);
    check(UNGRADED, &run("us", "for: video", ", length: 12 ft, carries: video").replace(", stock: u", ""), &[], &["stock of V1"]);
    let review = reviewed(&run("us", "for: video", long), UNGRADED);
    assert_eq!(review.findings[0].says, "V1 is 12 ft of video cable with no grade stated, without one at most 6.56 ft is advised");
    assert_eq!(review.findings[0].put_right.as_deref(), Some("state the `grade` that is printed on u, or pull a cable that has one"));
}

fn piped(region: &str, head: &str, pipe: &str) -> String {
    format!("nailplate: 1\nregion: {region}\nstock:\n  c: {{for: video, {head}}}\n  d: {{for: data}}\npathways:\n  pipe: {{kind: conduit, {pipe}}}\nendpoints:\n  rack: {{kind: rack}}\n  tv: {{kind: display}}\nruns:\n  V1: {{from: rack, to: tv, stock: c, through: [pipe]}}\n  D1: {{from: rack, to: tv, stock: d, through: [pipe]}}\n")
}

/// 3-4-5: a head of 40 mm by 30 mm is 50 mm across.
#[test]
fn a_head_in_straight_pipe() {
    let head = "head: 40 mm x 30 mm x 60 mm";
    for region in REGIONS {
        check(HEAD, &piped(region, head, "bore: 50 mm, bends: []"), &[], &[]);
        check(HEAD, &piped(region, head, "bore: 49.9 mm, bends: []"), &[("V1", Fault)], &[]);
    }
    // Too wide at once: bends do not matter.
    check(HEAD, &piped("gb", head, "bore: 49.9 mm"), &[("V1", Fault)], &[]);
    let says = &reviewed(&piped("gb", head, "bore: 41 mm"), HEAD).findings[0].says;
    assert_eq!(says, "V1 has a head that needs 50 mm of bore in pipe, which has 41 mm");
    // The bore stands in the head's system of units.
    let says = &reviewed(&piped("gb", head, "make: EMT, size: 1"), HEAD).findings[0].says;
    assert_eq!(says, "V1 has a head that needs 50 mm of bore in pipe, which has 26.64 mm");
}

/// 40 mm, 30 mm, 100 mm in a bend of 200 mm: 30 + 100² ÷ (4 × (400 + 30)) = 35.81, √(35.81² + 40²) = 53.69.
#[test]
fn a_head_in_a_bend() {
    let head = "head: 40 mm x 30 mm x 100 mm";
    let bend = |bore: &str| piped("gb", head, &format!("bore: {bore}, bends: [90 deg], radius: 200 mm"));
    check(HEAD, &bend("53.7 mm"), &[], &[]);
    check(HEAD, &bend("53.6 mm"), &[("V1", Fault)], &[]);
    let review = reviewed(&bend("53.6 mm"), HEAD);
    assert_eq!(review.findings[0].says, "V1 has a head that needs 53.7 mm of bore in the bends of pipe, which has 53.6 mm");
    assert_eq!(
        review.findings[0].figure.as_ref().expect("a figure").working,
        "30 mm + (100 mm)² ÷ (4 × (2 × 200 mm + 30 mm)) = 35.8 mm; √((35.8 mm)² + (40 mm)²) = 53.7 mm"
    );
    // A bend of few degrees is nearly straight; the greatest counts, from a route too.
    check(HEAD, &piped("gb", head, "bore: 53.6 mm, bends: [10 deg], radius: 200 mm"), &[], &[]);
    check(HEAD, &piped("gb", head, "bore: 53.6 mm, route: [2 m, 10 deg, 1 m, 90 deg, 1 m], radius: 200 mm"), &[("V1", Fault)], &[]);
}

#[test]
fn radii_of_the_table_and_what_is_missing() {
    // EMT 1 (26.64 mm): radii of 146 mm and 152 mm to the centre line (NEC chapter 9 table 2, from memory).
    let emt = |long: &str, rest: &str| piped("us", &format!("head: 20 mm x 12 mm x {long}"), &format!("make: EMT, size: 1{rest}"));
    check(HEAD, &emt("40 mm", ", bends: [90 deg]"), &[], &[]);
    check(HEAD, &emt("100 mm", ", bends: [90 deg]"), &[("V1", Fault)], &[]);
    // 26.64² = 20² + (12 + L² ÷ (4 (2 R + 12)))²: 82.5 mm at the lesser radius, 84.2 mm at the greater.
    check(HEAD, &emt("82 mm", ", bends: [90 deg]"), &[], &[]);
    check(HEAD, &emt("83 mm", ", bends: [90 deg]"), &[], &["radius of pipe"]);
    check(HEAD, &emt("84.4 mm", ", bends: [90 deg]"), &[("V1", Fault)], &[]);
    check(HEAD, &emt("83 mm", ", bends: [90 deg], radius: 6 in"), &[], &[]);
    let authority = reviewed(&emt("100 mm", ", bends: [90 deg]"), HEAD).findings[0].authority.clone().expect("one of its own");
    assert!(authority.contains("table 2 (from memory)"), "{authority}");
    // Bends not stated: a head that passes any of them is checked.
    check(HEAD, &emt("40 mm", ""), &[], &[]);
    check(HEAD, &emt("100 mm", ""), &[], &["bends of pipe"]);
    check(HEAD, &piped("gb", "head: 20 mm x 12 mm x 40 mm", "bore: 30 mm, bends: [90 deg]"), &[], &["radius of pipe"]);
    check(HEAD, &piped("gb", "head: 20 mm x 12 mm x 40 mm", "bends: [90 deg]"), &[], &["make of pipe"]);
    check(HEAD, &piped("gb", "build: passive", "bore: 30 mm, bends: []"), &[], &["head of c"]);
    let text = piped("gb", "head: 20 mm x 12 mm x 40 mm", "bore: 30 mm, bends: []");
    check(HEAD, &text.replace("stock: c, ", ""), &[], &["stock of V1"]);
    check(HEAD, &text.replace("for: video, ", ""), &[], &[]);
    check(HEAD, &text.replace(", through: [pipe]", ""), &[], &["through of V1"]);
    check(HEAD, &text.replace("kind: conduit, ", ""), &[], &["kind of pipe"]);
    // Several runs, one conduit: what the conduit lacks is asked for once.
    let two = piped("gb", "head: 20 mm x 12 mm x 40 mm", "bends: [90 deg]") + "  V2: {from: rack, to: tv, stock: c, through: [pipe]}\n";
    check(HEAD, &two, &[], &["make of pipe"]);
}

#[test]
fn the_next_size_that_a_head_passes() {
    let text = piped("us", "head: 0.85 in x 0.5 in x 2 in", "make: EMT, size: 3/4, bends: [90 deg]");
    check(HEAD, &text, &[("V1", Fault)], &[]);
    assert!(edited(&text, HEAD).contains("make: EMT, size: 1,"), "{}", edited(&text, HEAD));
    check(HEAD, &edited(&text, HEAD), &[], &[]);
    let text = piped("us", "head: 0.85 in x 0.5 in x 2 in", "bore: 0.8 in, bends: [90 deg], radius: 6 in");
    check(HEAD, &text, &[("V1", Fault)], &[]);
    assert_eq!(edited(&text, HEAD), text);
}
