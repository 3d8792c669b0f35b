//! What cables bear when they are pulled (capstan equation, TIA-568, 0.008 lbf/cmil).

use nailplate::findings::Level::Fault;

use super::pathway_more::{check, plan};
use super::reviewed;

const PULLED: &str = "pathway.overpulled";
const REGIONS: [&str; 5] = ["us", "ca", "gb", "eu", "au"];

#[test]
fn tensions_of_published_pulls() {
    let pull = |conduit: &str, s: &str| plan("us", conduit, s, "for: data", &["stock: s"]);
    // worked_examples.csv PT10: 10 ft, 90, 10 ft, 90, 80 ft at 0.08 kg/m and friction 0.5: 4.032 lbf, whichever way it is written.
    for route in ["[10 ft, 90 deg, 10 ft, 90 deg, 80 ft]", "[80 ft, 90 deg, 10 ft, 90 deg, 10 ft]"] {
        let conduit = format!("radius: 1 ft, bore: 1 in, route: {route}");
        check(&pull(&conduit, "weight: 0.08 kg/m, pull-limit: 4.04 lbf"), PULLED, &[], &[]);
        check(&pull(&conduit, "weight: 0.08 kg/m, pull-limit: 4.02 lbf"), PULLED, &[Fault], &[]);
        check(&pull(&format!("{conduit}, friction: 0.49"), "weight: 0.08 kg/m, pull-limit: 4.02 lbf"), PULLED, &[], &[]);
    }
    // PT08: 200 ft, then a bend, 1.5 lbf/ft, friction 0.3: 144 lbf; from the other end the straight alone, 90 lbf.
    let long = "radius: 1 ft, bore: 1 in, route: [200 ft, 90 deg], friction: 0.3, from: a, to: b";
    check(&pull(long, "weight: 1.5 lb/ft, pull-limit: 90 lbf"), PULLED, &[], &[]);
    let review = reviewed(&pull(long, "weight: 1.5 lb/ft, pull-limit: 89 lbf"), PULLED);
    let finding = &review.findings[0];
    assert_eq!(finding.says, "c takes 90 lbf to pull its cable through the better way, s bears 89 lbf");
    assert_eq!(
        finding.put_right.as_deref(),
        Some(
            "put a pull box into it, or pull with compound and state the `friction` that it gives; feed it in at b and pull at a \
             (the other way takes 144.2 lbf)"
        )
    );
    assert_eq!(
        finding.figure.as_ref().map(|figure| figure.working.as_str()),
        Some("90 deg bend: 0 lbf, 200 ft straight: 90 lbf, with 1.5 lb/ft and friction 0.3; s bears 89 lbf as stated; taken as level")
    );
}

#[test]
fn what_a_cable_bears() {
    // A level 100 ft at friction 0.5: half of 100 ft of cable.
    let pull = |region: &str, s: &str| plan(region, "route: [100 ft]", s, "for: data", &["stock: s"]);
    for region in REGIONS {
        // TIA-568: 110 N (24.73 lbf) on four pairs.
        check(&pull(region, "for: data, grade: cat6, weight: 0.494 lb/ft"), PULLED, &[], &[]);
        check(&pull(region, "for: data, grade: cat6, weight: 0.495 lb/ft"), PULLED, &[Fault], &[]);
        check(&pull(region, "for: data, cores: 8 x 23 AWG, weight: 0.495 lb/ft"), PULLED, &[Fault], &[]);
        // PT13: 3 × 6530 cmil × 0.008 = 156.7 lbf.
        check(&pull(region, "for: power, cores: 3 x 12 AWG, weight: 3.13 lb/ft"), PULLED, &[], &[]);
        check(&pull(region, "for: power, cores: 3 x 12 AWG, weight: 3.14 lb/ft"), PULLED, &[Fault], &[]);
        check(&pull(region, "for: speaker, cores: 2 x 12 AWG, weight: 3.14 lb/ft"), PULLED, &[Fault], &[]);
    }
    check(&pull("us", "for: data, weight: 1 lb/ft"), PULLED, &[], &["pull-limit of s"]);
    check(&pull("us", "for: data, cores: 16 x 23 AWG, grade: cat6, weight: 1 lb/ft"), PULLED, &[], &["pull-limit of s"]);
    check(&pull("us", "for: power, cores: 2 x 12 AWG, material: aluminium, weight: 1 lb/ft"), PULLED, &[], &["pull-limit of s"]);
    check(&pull("gb", "for: power, cores: 2 x 2.5 mm2, weight: 0.1 kg/m"), PULLED, &[], &["pull-limit of s"]);
    check(&pull("us", "for: video, weight: 1 lb/ft"), PULLED, &[], &["pull-limit of s"]);
    check(&pull("us", "for: video, weight: 1 lb/ft, pull-limit: 50 lbf"), PULLED, &[], &[]);
    check(&pull("eu", "for: video, weight: 1.5 kg/m, pull-limit: 224 N"), PULLED, &[Fault], &[]);
    check(&pull("us", "for: data, grade: cat6"), PULLED, &[], &["weight of s"]);
    check(&pull("us", "for: video"), PULLED, &[], &["weight of s", "pull-limit of s"]);
    check(&pull("us", "for: data, grade: cat6, weight: heavy"), PULLED, &[], &[]);
    check(&pull("us", "for: video, weight: 1 lb/ft, pull-limit: strong"), PULLED, &[], &[]);
}

#[test]
fn the_weakest_of_several_is_the_measure() {
    let text = |runs: &[&str]| {
        let (s, t) = ("for: video, weight: 0.1 lb/ft, pull-limit: 30 lbf", "for: data, weight: 0.1 lb/ft, grade: cat6");
        plan("us", "route: [100 ft, 90 deg, 10 ft], radius: 1 ft, bore: 2 in", s, t, runs)
    };
    // The better way has the bend first: 10 ft × 0.5 × 2.19 + 100 ft × 0.5 = 61 ft of cable.
    check(&text(&["stock: s"; 4]), PULLED, &[], &[]);
    check(&text(&["stock: s"; 5]), PULLED, &[Fault], &[]);
    check(&text(&["stock: s", "stock: s", "stock: s", "stock: s", "stock: t"]), PULLED, &[Fault], &[]);
    let review = reviewed(&text(&["stock: s", "stock: s", "stock: s", "stock: s", "stock: t"]), PULLED);
    assert_eq!(review.findings[0].says, "c takes 30.5 lbf to pull its 5 cables through the better way, t bears 24.7 lbf");
    assert_eq!(review.findings[0].on.iter().map(ToString::to_string).collect::<Vec<_>>(), ["c", "R4"]);
    check(&text(&[]), PULLED, &[], &[]);
    check(&text(&["stock: s", "spare: no"]), PULLED, &[], &["stock of R1"]);
}

#[test]
fn three_cables_weigh_more_on_a_pipe() {
    // Three of 10 mm in 30 mm lie cradled: 1 + 4/3 × (1/2)² = 1.333. IEEE 1185, from memory.
    let text = |conduit: &str, diameter: &str| {
        plan("us", conduit, &format!("for: video, weight: 0.1 lb/ft, pull-limit: 19.9 lbf{diameter}"), "for: data", &["stock: s"; 3])
    };
    check(&text("bore: 30 mm, route: [100 ft]", ", diameter: 10 mm"), PULLED, &[Fault], &[]);
    check(&text("bore: 300 mm, route: [100 ft]", ", diameter: 10 mm"), PULLED, &[], &[]);
    check(&text("bore: 30 mm, route: [100 ft]", ""), PULLED, &[], &["diameter of s"]);
    check(&text("route: [100 ft]", ", diameter: 10 mm"), PULLED, &[], &["make of c"]);
    check(&text("bore: 15 mm, route: [100 ft]", ", diameter: 10 mm"), PULLED, &[], &["room for the three cables of c"]);
}

#[test]
fn a_short_form_is_spread_evenly_and_says_so() {
    // 30 ft and two bends: 10 ft, 90, 10 ft, 90, 10 ft; 0.5 × 0.1 × 10 × (1 + 2.193 + 4.81) = 4.00 lbf.
    let text = |conduit: &str, limit: &str| {
        plan("us", &format!("radius: 1 ft, bore: 1 in, {conduit}"), &format!("for: video, weight: 0.1 lb/ft, pull-limit: {limit}"), "for: data", &["stock: s"])
    };
    let short = "length: 30 ft, bends: [90 deg, 90 deg]";
    check(&text(short, "4.01 lbf"), PULLED, &[], &[]);
    let review = reviewed(&text(short, "3.99 lbf"), PULLED);
    let working = review.findings[0].figure.as_ref().map(|figure| figure.working.clone()).unwrap_or_default();
    assert!(working.ends_with("; bends taken as spread evenly along it; friction as for unknown surfaces; taken as level"), "{working}");
    check(&text("length: 30 ft", "1 lbf"), PULLED, &[], &["bends of c"]);
    check(&text("bends: [90 deg]", "1 lbf"), PULLED, &[], &["length of c"]);
    check(&text("length: 30 ft, bends: [round]", "1 lbf"), PULLED, &[], &[]);
    check(&text("length: 30 ft, bends: [], friction: none", "1 lbf"), PULLED, &[], &[]);
    let round = format!("length: 30 ft, bends: [{}]", ["3600 deg"; 40].join(", "));
    check(&text(&round, "1 lbf"), PULLED, &[], &["a tension of c that can be reckoned"]);
}

#[test]
fn pressure_on_the_side_of_a_bend() {
    // 100 ft of 6 lb/ft: 300 lbf into a bend of 90 deg, 658 lbf behind it; from the other end 300 lbf behind no bend.
    let text = |conduit: &str| plan("us", conduit, "for: power, weight: 6 lb/ft, pull-limit: 5000 lbf", "for: data", &["stock: s"]);
    let bends = "route: [100 ft, 90 deg, 100 ft], bore: 2 in";
    // 658 lbf ÷ 300 lbf/ft = 2.19 ft on the inside.
    check(&text(&format!("{bends}, radius: 28 in")), PULLED, &[], &[]);
    check(&text(&format!("{bends}, radius: 27 in")), PULLED, &[Fault], &[]);
    let review = reviewed(&text(&format!("{bends}, radius: 13 in")), PULLED);
    assert_eq!(
        review.findings[0].says,
        "c presses its cable with 658 lbf/ft in the worst bend, pulled the better way; allowed is 300 lbf/ft"
    );
    check(&text(bends), PULLED, &[], &["radius of c"]);
    // Pulled towards the long straight the bend bears next to nothing.
    check(&text("route: [1 ft, 90 deg, 100 ft], bore: 2 in, radius: 13 in"), PULLED, &[], &[]);
    check(&text("route: [100 ft, 90 deg, 1 ft], bore: 2 in, radius: 13 in"), PULLED, &[], &[]);
    // Between the table's two columns (8.25 and 10 in of trade size 1-1/2, bore 1.61 in) only the radius itself tells.
    let table = |weight: &str| {
        let s = format!("for: power, weight: {weight}, pull-limit: 5000 lbf");
        plan("us", "route: [100 ft, 90 deg, 100 ft], make: EMT, size: 1-1/2", &s, "for: data", &["stock: s"])
    };
    check(&table("1.6 lb/ft"), PULLED, &[], &[]);
    check(&table("2 lb/ft"), PULLED, &[], &["radius of c"]);
    check(&table("2.2 lb/ft"), PULLED, &[Fault], &[]);
}
