//! Loops of shields and earths. No published numbers: AES48 (from memory) and common practice.

use super::{edited, found, gaps, reviewed};
use nailplate::findings::Level::Fault;

const RULE: &str = "line.earth-loop";

/// Circuits C1 to C3, a rack on C1, a subwoofer on C3, an amplifier on C3, all earthed.
const BASE: &[&str] = &[
    "rack: {kind: rack, earthed: yes}",
    "patch: {kind: patch-panel, in: rack}",
    "sub: {kind: subwoofer, earthed: yes}",
    "amp: {kind: amplifier, earthed: yes}",
    "light2: {kind: source, earthed: no}",
    "plate: {kind: wall-plate}",
];
const POWER: &[&str] = &["P1: {from: C1, to: rack, stock: nm}", "P2: {from: C3, to: sub, stock: nm}", "P3: {from: C3, to: amp, stock: nm}"];

fn text(endpoints: &[&str], power: &[&str], runs: &[&str]) -> String {
    let list = |lines: &[&str]| lines.iter().map(|line| format!("  {line}\n")).collect::<String>();
    format!(
        "nailplate: 1\nregion: us\nstock:\n  nm: {{for: power}}\n  rca: {{for: line, balanced: no}}\n  mic: {{for: line, balanced: yes}}\n  vague: {{for: line}}\n  glass: {{for: video, build: optical}}\n  copper: {{for: video, build: passive}}\n  video: {{for: video}}\n  rg6: {{for: coax}}\n\
         circuits:\n  C1: {{volts: 120 V}}\n  C2: {{volts: 120 V}}\n  C3: {{volts: 120 V}}\nendpoints:\n{}runs:\n{}{}",
        list(endpoints),
        list(power),
        list(runs),
    )
}

fn base(runs: &[&str]) -> String {
    text(BASE, POWER, runs)
}

/// With further endpoints and power.
fn with(endpoints: &[&str], power: &[&str], runs: &[&str]) -> String {
    text(&[BASE, endpoints].concat(), &[POWER, power].concat(), runs)
}

fn loops(text: &str) -> Vec<String> {
    let members = |found: &nailplate::findings::Finding| found.figure.as_ref().map(|figure| figure.working.clone());
    reviewed(text, RULE).findings.iter().filter_map(members).collect()
}

#[track_caller]
fn quiet(text: &str) {
    assert!(found(text, RULE).is_empty() && gaps(text, RULE).is_empty(), "{:?} {:?}", found(text, RULE), gaps(text, RULE));
}

#[test]
fn every_member_of_the_loop_is_told() {
    let plain = base(&["L1: {from: patch, to: sub, stock: rca}"]);
    assert_eq!(loops(&plain), ["sub - L1 - rack - earth of C1 - breaker panel - earth of C3 - sub"]);
    let review = reviewed(&plain, RULE);
    let finding = &review.findings[0];
    assert_eq!((finding.level, finding.marks.len()), (Fault, 3));
    let on: Vec<&str> = finding.on.iter().map(|id| id.as_str()).collect();
    assert_eq!(on, ["L1", "rack", "sub", "C1", "C3"]);
    assert_eq!(finding.says, "L1 is unbalanced and closes a loop through the earths of rack on C1 and sub on C3");
    // By a plate; and with the panel's name.
    let by_plate = with(&["main: {kind: breaker-panel}"], &[], &["L1: {from: patch, to: plate, stock: mic}", "L2: {from: plate, to: sub, stock: rca}"]);
    assert_eq!(loops(&by_plate), ["sub - L1 - L2 - rack - earth of C1 - main - earth of C3 - sub"]);
    // Written the other way round it is the same loop.
    assert_eq!(loops(&base(&["L1: {from: sub, to: patch, stock: rca}"])).len(), 1);
    // Each line closes a loop of its own.
    assert_eq!(loops(&base(&["L1: {from: patch, to: sub, stock: rca}", "L2: {from: patch, to: amp, stock: rca}", "L3: {from: patch, to: sub, stock: rca}"])).len(), 3);
}

#[test]
fn no_loop_through_two_circuits() {
    // Balanced; one circuit; one rack; no shield of two; a spare.
    quiet(&base(&["L1: {from: patch, to: sub, stock: mic}"]));
    quiet(&base(&["L1: {from: amp, to: sub, stock: rca}"]));
    quiet(&base(&["L1: {from: patch, to: rack, stock: rca}"]));
    quiet(&base(&["L1: {from: patch, to: sub, stock: rca, spare: yes}"]));
    quiet(&text(BASE, &["P1: {from: C1, to: rack, stock: nm}", "P2: {from: rack, to: sub, stock: nm}"], &["L1: {from: patch, to: sub, stock: rca}"]));
    // Plugged into an outlet of the rack's circuit.
    quiet(&text(&["rack: {kind: rack, earthed: yes}", "o: {kind: outlet}", "sub: {kind: subwoofer, earthed: yes, at-outlet: o}"], &["P1: {from: C1, to: rack, stock: nm}", "P2: {from: rack, to: o, stock: nm}"], &["L1: {from: rack, to: sub, stock: rca}"]));
    // Something without a protective earth at one end.
    quiet(&with(&["two: {kind: subwoofer, earthed: no}"], &["P4: {from: C2, to: two, stock: nm}"], &["L1: {from: patch, to: two, stock: rca}"]));
    // A rack on two circuits shares one with the subwoofer.
    let shared = &["P1: {from: C1, to: rack, stock: nm}", "P2: {from: C3, to: rack, stock: nm}", "P3: {from: C3, to: sub, stock: nm}"];
    quiet(&text(BASE, shared, &["L1: {from: patch, to: sub, stock: rca}"]));
    // And shares none.
    let apart = &["P1: {from: C1, to: rack, stock: nm}", "P2: {from: C2, to: rack, stock: nm}", "P3: {from: C3, to: sub, stock: nm}"];
    assert_eq!(loops(&text(BASE, apart, &["L1: {from: patch, to: sub, stock: rca}"])).len(), 1);
}

#[test]
fn a_transformer_parts_the_loop() {
    let part = |endpoints: &[&str], runs: &[&str]| with(endpoints, &[], runs);
    quiet(&part(&["trafo: {kind: box, isolates: yes}"], &["L1: {from: patch, to: trafo, stock: rca}", "L2: {from: trafo, to: sub, stock: rca}"]));
    quiet(&part(&["trafo: {kind: box, in: rack, isolates: yes}"], &["L1: {from: trafo, to: sub, stock: rca}"]));
    quiet(&text(&["rack: {kind: rack, earthed: yes}", "sub: {kind: subwoofer, earthed: yes, isolates: yes}"], POWER_OF_TWO, &["L1: {from: rack, to: sub, stock: rca}"]));
    assert_eq!(loops(&part(&["joint: {kind: box, isolates: no}"], &["L1: {from: patch, to: joint, stock: rca}", "L2: {from: joint, to: sub, stock: rca}"])).len(), 1);
    // Behind the transformer a loop may close again: the two devices there are on C2 and C3.
    let behind = with(&["trafo: {kind: box, isolates: yes}", "two: {kind: amplifier, earthed: yes}"], &["P4: {from: C2, to: two, stock: nm}"], &["L1: {from: patch, to: trafo, stock: rca}", "L2: {from: trafo, to: sub, stock: rca}", "L3: {from: trafo, to: two, stock: rca}"]);
    assert_eq!(loops(&behind).len(), 1);
}

const POWER_OF_TWO: &[&str] = &["P1: {from: C1, to: rack, stock: nm}", "P2: {from: C3, to: sub, stock: nm}"];

#[test]
fn loops_by_way_of_others() {
    // A device without an earth, by two lines; the first closes nothing, the second does.
    let two = base(&["L1: {from: light2, to: rack, stock: rca}", "L2: {from: light2, to: sub, stock: rca}"]);
    assert_eq!(found(&two, RULE), [("L2".into(), Fault)]);
    assert_eq!(loops(&two), ["sub - L2 - light2 - L1 - rack - earth of C1 - breaker panel - earth of C3 - sub"]);
    // By the shield of a video cable of copper; glass has none.
    let by = |stock: &str| with(&["pj: {kind: projector, earthed: yes}"], &["P4: {from: C2, to: pj, stock: nm}"], &[&format!("V1: {{from: light2, to: pj, stock: {stock}}}"), "L1: {from: light2, to: sub, stock: rca}"]);
    assert_eq!(loops(&by("copper")), ["sub - L1 - light2 - V1 - pj - earth of C2 - breaker panel - earth of C3 - sub"]);
    quiet(&by("glass"));
    assert_eq!(gaps(&by("video"), RULE), ["build of video"]);
    // By the shield of a coaxial cable that is bonded where it comes in.
    let coax = |entry: &str| with(&[&format!("street: {{kind: entry{entry}}}")], &[], &["T1: {from: street, to: light2, stock: rg6}", "L1: {from: light2, to: sub, stock: rca}"]);
    assert_eq!(loops(&coax(", bonded: yes")), ["sub - L1 - light2 - T1 - street - bond of street - breaker panel - earth of C3 - sub"]);
    assert_eq!(reviewed(&coax(", bonded: yes"), RULE).findings[0].says, "L1 is unbalanced and closes a loop through the bond of street and the earth of sub on C3");
    quiet(&coax(", bonded: no"));
    assert_eq!(gaps(&coax(""), RULE), ["bonded of street"]);
}

#[test]
fn what_is_not_known_is_a_gap() {
    let sub = |keys: &str, power: &[&str]| text(&["rack: {kind: rack, earthed: yes}", &format!("sub: {{kind: subwoofer{keys}}}")], power, &["L1: {from: rack, to: sub, stock: rca}"]);
    assert_eq!(gaps(&sub("", POWER_OF_TWO), RULE), ["earthed of sub"]);
    assert_eq!(gaps(&sub(", earthed: yes", &POWER_OF_TWO[..1]), RULE), ["a circuit that feeds sub"]);
    // Not fed, and nothing said: either would close it.
    assert_eq!(gaps(&sub("", &POWER_OF_TWO[..1]), RULE), ["earthed of sub"]);
    // On the rack's circuit it does not matter.
    quiet(&sub("", &["P1: {from: C1, to: rack, stock: nm}", "P2: {from: rack, to: sub, stock: nm}"]));
    quiet(&sub(", earthed: no", POWER_OF_TWO));
    quiet(&sub(", earthed: perhaps", POWER_OF_TWO));
    // Both ends are named.
    let both = text(&["rack: {kind: rack}", "sub: {kind: subwoofer}"], POWER_OF_TWO, &["L1: {from: rack, to: sub, stock: rca}"]);
    assert_eq!(gaps(&both, RULE), ["earthed of rack", "earthed of sub"]);
    // The balance, once for all runs of a stock, and only where a loop would be closed.
    assert_eq!(gaps(&base(&["L1: {from: rack, to: sub, stock: vague}", "L2: {from: rack, to: sub, stock: vague}"]), RULE), ["balanced of vague"]);
    assert_eq!(gaps(&base(&["L1: {from: rack, to: sub, stock: vague}"]), RULE), ["balanced of vague"]);
    quiet(&base(&["L1: {from: amp, to: sub, stock: vague}"]));
    assert_eq!(gaps(&base(&["L1: {from: rack, to: sub, carries: line}"]), RULE), ["stock of L1"]);
    // What is plugged in behind a plate.
    assert_eq!(gaps(&base(&["L1: {from: rack, to: plate, stock: rca}"]), RULE), ["the device that L1 leads to at plate"]);
    // Which run goes on as which; a loop of power.
    let tangle = with(&["q: {kind: wall-plate}"], &[], &["L1: {from: rack, to: plate, stock: rca}", "L2: {from: plate, to: q, stock: rca}", "L3: {from: q, to: plate, stock: rca}", "L4: {from: q, to: sub, stock: rca}"]);
    assert_eq!(gaps(&tangle, RULE), ["which run goes on as which at q"]);
    assert!(found(&tangle, RULE).is_empty());
    // A sure loop is found beside what is not known.
    let mixed = with(&["two: {kind: amplifier}"], &["P4: {from: C2, to: two, stock: nm}"], &["L1: {from: rack, to: sub, stock: rca}", "L2: {from: rack, to: two, stock: rca}"]);
    assert_eq!(found(&mixed, RULE), [("L1".into(), Fault)]);
    assert_eq!(gaps(&mixed, RULE), ["earthed of two"]);
}

#[test]
fn a_doubtful_earth_does_not_hide_a_sure_loop() {
    // `light2` with nothing said of its earth: the loop by L1 and L2 is closed whatever it is.
    let endpoints = &["rack: {kind: rack, earthed: yes}", "sub: {kind: subwoofer, earthed: yes}", "odd: {kind: source}"];
    let power = &["P1: {from: C1, to: rack, stock: nm}", "P2: {from: C3, to: sub, stock: nm}", "P3: {from: C2, to: odd, stock: nm}"];
    let plan = text(endpoints, power, &["L1: {from: odd, to: rack, stock: rca}", "L2: {from: odd, to: sub, stock: rca}"]);
    assert_eq!(found(&plan, RULE), [("L2".into(), Fault)]);
    assert_eq!(gaps(&plan, RULE), ["earthed of odd"]);
}

#[test]
fn a_balanced_stock_puts_it_right() {
    let text = base(&["L1: {from: patch, to: plate, stock: rca}", "L2: {from: plate, to: sub, stock: rca}"]);
    let right = edited(&text, RULE);
    assert_eq!(right.matches("stock: mic").count(), 2);
    assert!(found(&right, RULE).is_empty());
}

/// Chains and combs of thousands of devices and circles of `in` neither hang nor take more than
/// linear time: there is no limit of time here, a square of these would not end.
#[test]
fn absurd_plans_end() {
    let many = 20_000;
    let mut endpoints = vec!["rack: {kind: rack, earthed: yes}".to_owned(), "sub: {kind: subwoofer, earthed: yes}".to_owned()];
    let mut runs = Vec::new();
    for n in 0..many {
        endpoints.push(format!("d{n}: {{kind: source, earthed: no}}"));
        let before = if n == 0 { "rack".to_owned() } else { format!("d{}", n - 1) };
        runs.push(format!("A{n}: {{from: {before}, to: d{n}, stock: rca}}"));
        runs.push(format!("B{n}: {{from: d{n}, to: sub, stock: rca}}"));
    }
    let list = |lines: &[String]| lines.iter().map(String::as_str).collect::<Vec<_>>().join("\n  ");
    let long = text(&[&list(&endpoints)], POWER_OF_TWO, &[&list(&runs)]);
    let found = loops(&long);
    assert_eq!(found.len(), many);
    assert!(found.iter().all(|members| members.len() < 400), "a long way is cut");
    let circle = text(&["a: {kind: rack, in: b, earthed: yes}", "b: {kind: rack, in: a, earthed: yes}", "sub: {kind: subwoofer, earthed: yes}"], &["P1: {from: C1, to: a, stock: nm}", "P2: {from: C3, to: sub, stock: nm}"], &["L1: {from: b, to: sub, stock: rca}"]);
    assert!(!reviewed(&circle, RULE).findings.is_empty());
}

#[test]
fn the_cable_that_comes_in_may_be_parted_instead() {
    let coax = |more: &str| with(&["street: {kind: entry, bonded: yes}", &format!("joint: {{kind: box{more}}}")], &[], &["T1: {from: street, to: joint, stock: rg6}", "T2: {from: joint, to: light2, stock: rg6}", "L1: {from: light2, to: sub, stock: rca}"]);
    let review = reviewed(&coax(""), RULE);
    let words = review.findings[0].put_right.clone().unwrap_or_default();
    assert!(words.ends_with("or set an isolator made for it into the cable that comes in at street"), "{words}");
    quiet(&coax(", isolates: yes"));
}
