//! Feeds: too many, none, of another voltage; racks with few circuits, projectors past their
//! protection, and devices without an earth.

use nailplate::findings::Level::{Fault, Hazard};
use nailplate::review::Review;

use super::{found, gaps, reviewed};

const TWICE: &str = "power.fed-twice";
const NONE: &str = "power.no-feed";

const STOCK: &str = "stock:\n  w12: {for: power, cores: 2 x 12 AWG + earth, rating: NM-B}\n  w: {for: power, cores: 2 x 12 AWG, rating: NM-B}\n  u: {rating: CM}\n  d: {for: data, grade: cat6, cores: 8 x 23 AWG, rating: CMR}\n";
const TWO: &str = "  C1: {breaker: 20 A, volts: 120 V}\n  C2: {breaker: 20 A, volts: 120 V}\n";

fn plan(region: &str, circuits: &str, ends: &str, runs: &str) -> String {
    format!("nailplate: 1\nregion: {region}\n{STOCK}circuits:\n{circuits}endpoints:\n{ends}runs:\n{runs}")
}

fn us(ends: &str, runs: &str) -> String {
    plan("us", TWO, ends, runs)
}

fn on(review: &Review, at: usize) -> Vec<String> {
    review.findings[at].on.iter().map(ToString::to_string).collect()
}

#[test]
fn feeds_that_meet_are_no_more_than_the_inlets() {
    let two = |inlets: &str, first: &str, second: &str| {
        us(
            &format!("  rack: {{kind: rack, load: 900 W{inlets}}}\n"),
            &format!("  P1: {{{first}, stock: w12}}\n  P2: {{{second}, stock: w12}}\n"),
        )
    };
    let hazard = [("rack".to_owned(), Hazard)];
    let (c1, c2) = ("from: C1, to: rack", "from: C2, to: rack");
    assert_eq!(found(&two("", c1, c2), TWICE), hazard);
    assert_eq!(found(&two(", inlets: 1", c1, c2), TWICE), hazard);
    assert!(found(&two(", inlets: 2", c1, c2), TWICE).is_empty());
    assert_eq!(found(&two("", c1, "from: rack, to: C2"), TWICE), hazard);
    assert_eq!(found(&two("", c1, c1), TWICE), hazard);
    let review = reviewed(&two("", c1, c2), TWICE);
    assert_eq!(on(&review, 0), ["rack", "P1", "P2"]);
    assert_eq!(review.checks, 1);
    assert!(review.findings[0].put_right.as_ref().is_some_and(|words| words.contains("inlets: 2")));
    // A spare joins nothing.
    assert!(found(&two("", c1, "from: C2, to: rack, spare: yes"), TWICE).is_empty());
    // Plugs count like runs; cords in a rack do not.
    let plugs = |inlets: &str| us(
        &format!("  o1: {{kind: outlet}}\n  o2: {{kind: outlet}}\n  tv: {{kind: display, load: 90 W, at-outlet: [o1, o2]{inlets}}}\n"),
        "  P1: {from: C1, to: o1, stock: w12}\n  P2: {from: C2, to: o2, stock: w12}\n",
    );
    assert_eq!(found(&plugs(""), TWICE), [("tv".into(), Hazard)]);
    assert!(found(&plugs(", inlets: 2"), TWICE).is_empty());
    let cords = us(
        "  rack: {kind: rack, load: 900 W}\n  u1: {kind: power-conditioner, in: rack}\n  u2: {kind: power-conditioner, in: rack}\n",
        "  P1: {from: C1, to: u1, stock: w12}\n  P2: {from: C2, to: u2, stock: w12}\n",
    );
    assert!(found(&cords, TWICE).is_empty());
    // A box does not say inlets.
    let box_ = us("  pot: {kind: box}\n", "  P1: {from: C1, to: pot, stock: w12}\n  P2: {from: C2, to: pot, stock: w12}\n");
    let review = reviewed(&box_, TWICE);
    assert!(review.findings[0].put_right.as_ref().is_some_and(|words| words.contains("draw a box")));
}

/// BS 7671 433.1.204, from memory: a ring final circuit is a loop by design.
#[test]
fn loops_of_power_runs_but_for_rings() {
    let ends = "  a: {kind: outlet}\n  b: {kind: outlet}\n  c: {kind: outlet}\n";
    let ring = |region: &str, says: &str, more: &str| plan(
        region,
        &format!("  C1: {{breaker: 32 A, volts: 230 V{says}}}\n  C2: {{breaker: 32 A, volts: 230 V}}\n"),
        ends,
        &format!("  P1: {{from: C1, to: a, stock: w12}}\n  P2: {{from: a, to: b, stock: w12}}\n  P3: {{from: b, to: C1, stock: w12}}\n{more}"),
    );
    assert!(found(&ring("gb", ", ring: yes", ""), TWICE).is_empty());
    let open = reviewed(&ring("gb", "", ""), TWICE);
    assert_eq!(on(&open, 0), ["b", "P2", "P3"]);
    assert!(open.findings[0].put_right.as_ref().is_some_and(|words| words.contains("ring: yes")));
    for region in ["us", "ca", "eu", "au"] {
        assert_eq!(found(&ring(region, "", ""), TWICE), [("b".into(), Hazard)]);
        assert_eq!(found(&ring(region, ", ring: yes", ""), TWICE), [("C1".into(), Hazard)]);
    }
    // A spur is no loop; a second way back is, and so is a way to another breaker.
    let spur = "  P4: {from: a, to: c, stock: w12}\n";
    assert!(found(&ring("gb", ", ring: yes", spur), TWICE).is_empty());
    let back = reviewed(&ring("gb", ", ring: yes", &format!("{spur}  P5: {{from: c, to: C1, stock: w12}}\n")), TWICE);
    assert_eq!(on(&back, 0), ["C1", "P5", "c"]);
    let across = reviewed(&ring("gb", ", ring: yes", "  P4: {from: C2, to: c, stock: w12}\n  P5: {from: c, to: C1, stock: w12}\n"), TWICE);
    assert_eq!(across.findings.len(), 1);
    assert!(across.findings[0].says.contains("joins C1 to C2"), "{}", across.findings[0].says);
    let direct = us("", "  P1: {from: C1, to: C2, stock: w12}\n");
    assert_eq!(found(&direct, TWICE), [("C1".into(), Hazard)]);
    // Round and round, with inlets enough.
    let round = |inlets: &str| us(
        &format!("  a: {{kind: appliance, load: 9 W{inlets}}}\n  b: {{kind: appliance, load: 9 W}}\n"),
        "  P1: {from: C1, to: a, stock: w12}\n  P2: {from: a, to: b, stock: w12}\n  P3: {from: b, to: a, stock: w12}\n",
    );
    assert_eq!(found(&round(""), TWICE), [("a".into(), Hazard)]);
    let review = reviewed(&round(", inlets: 2"), TWICE);
    assert_eq!(on(&review, 0), ["a", "b"]);
    assert!(review.findings[0].says.contains("loop"));
}

#[test]
fn every_load_has_a_feed() {
    let fed = "  P1: {from: C1, to: o, stock: w12}\n";
    let with = |end: &str, runs: &str| us(&format!("  o: {{kind: outlet}}\n  x: {{{end}}}\n"), runs);
    let fault = [("x".to_owned(), Fault)];
    assert_eq!(found(&with("kind: projector, load: 430 W", fed), NONE), fault);
    assert!(found(&with("kind: projector, load: 430 W, at-outlet: o", fed), NONE).is_empty());
    assert_eq!(found(&with("kind: projector, load: 430 W, at-outlet: o", ""), NONE), fault);
    assert!(found(&with("kind: projector, load: 430 W, poe: type 3", fed), NONE).is_empty());
    assert!(found(&with("kind: projector, load: 0 W", fed), NONE).is_empty());
    for quiet in ["seat", "outlet", "speaker", "wall-plate", "screen", "sensor"] {
        assert!(found(&with(&format!("kind: {quiet}"), fed), NONE).is_empty(), "{quiet}");
    }
    // A run from nowhere, and one whose service is not known.
    let nowhere = reviewed(&with("kind: light, load: 9 W", "  P1: {from: o, to: x, stock: w12}\n"), NONE);
    assert_eq!(on(&nowhere, 0), ["x", "P1"]);
    let vague = with("kind: light, load: 9 W", "  P1: {from: C1, to: x, stock: u}\n");
    assert_eq!((found(&vague, NONE), gaps(&vague, NONE)), (vec![], vec!["`for` of u".into()]));
    // Nothing leads to a thing without a load: plan.loose-end says so. A subwoofer is not its.
    assert!(found(&with("kind: display", fed), NONE).is_empty());
    assert_eq!(found(&with("kind: display", fed), "plan.loose-end"), fault);
    assert_eq!(found(&with("kind: subwoofer", fed), NONE), fault);
    assert!(found(&with("kind: subwoofer", fed), "plan.loose-end").is_empty());
    let data = "  P1: {from: C1, to: o, stock: w12}\n  D1: {from: o, to: x, stock: d}\n";
    assert_eq!(found(&with("kind: display", data), NONE), fault);
    assert!(found(&with("kind: display", data), "plan.loose-end").is_empty());
    assert_eq!(gaps(&with("kind: camera", data), NONE), ["poe or load of x"]);
    assert_eq!(found(&with("kind: camera, load: 6 W", data), NONE), fault);
    assert_eq!(gaps(&with("room: ", data), NONE), ["kind of x"]);
    // The rest has been reported.
    for bad in ["kind: light, load: 9 W, at-outlet: nothing", "kind: lihgtt, load: 9 W"] {
        assert!(found(&with(bad, fed), NONE).is_empty(), "{bad}");
    }
    assert!(found(&with("kind: light, load: 9 W", "  P1: {from: C9, to: x, stock: w12}\n"), NONE).is_empty());
}

#[test]
fn what_stands_in_a_rack_has_power_from_the_rack() {
    let rack = |load: &str, runs: &str| us(
        &format!("  rack: {{kind: rack{load}}}\n  amp: {{kind: amplifier, in: rack, load: 300 W}}\n  ups: {{kind: power-conditioner, in: rack}}\n"),
        runs,
    );
    assert!(found(&rack("", "  P1: {from: C1, to: ups, stock: w12}\n"), NONE).is_empty());
    assert_eq!(found(&rack("", ""), NONE), [("rack".into(), Fault)]);
    assert_eq!(found(&rack(", load: 900 W", ""), NONE), [("rack".into(), Fault)]);
    // In a thing that draws nothing itself.
    let niche = us("  niche: {kind: box}\n  sub: {kind: subwoofer, load: 300 W, in: niche}\n", "");
    assert_eq!(found(&niche, NONE), [("sub".into(), Fault)]);
}

#[test]
fn a_plan_without_circuits_is_one_gap() {
    let text = "nailplate: 1\nregion: us\nendpoints:\n  rack: {kind: rack, load: 900 W}\n  tv: {kind: display, load: 90 W}\n";
    assert_eq!((found(text, NONE), gaps(text, NONE)), (vec![], vec!["circuits of the plan".into()]));
    let quiet = "nailplate: 1\nregion: us\nendpoints:\n  seat: {kind: seat}\n";
    assert!(gaps(quiet, NONE).is_empty());
}
