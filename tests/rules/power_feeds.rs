//! Feeds: too many, none, of another voltage; racks with few circuits, projectors past their
//! protection, and devices without an earth.
//!
//! Long because every branch, region and bound of six rules has its case here.

use nailplate::findings::Id;
use nailplate::findings::Level::{Advice, Fault, Hazard};
use nailplate::house::House;
use nailplate::review::Review;

use super::{found, gaps, reviewed};

const TWICE: &str = "power.fed-twice";
const NONE: &str = "power.no-feed";
const VOLTS: &str = "power.wrong-voltage";
const FEW: &str = "power.rack-circuits-few";
const PAST: &str = "power.projector-unprotected";
const EARTH: &str = "power.no-earth";

const STOCK: &str = "stock:\n  w12: {for: power, cores: 2 x 12 AWG + earth, rating: NM-B}\n  w: {for: power, cores: 2 x 12 AWG, rating: NM-B}\n  armoured: {for: power, cores: 2 x 12 AWG, rating: AC}\n  metal-clad: {for: power, cores: 2 x 12 AWG, rating: MC}\n  vague: {for: power, rating: NM-B}\n  u: {rating: CM}\n  d: {for: data, grade: cat6, cores: 8 x 23 AWG, rating: CMR}\n";
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
    // Two plugs are two inlets, or two devices: only the plan can say.
    assert_eq!((found(&plugs(""), TWICE), gaps(&plugs(""), TWICE)), (vec![], vec!["inlets of tv".into()]));
    assert_eq!([", inlets: 1", ", inlets: 2"].map(|keys| found(&plugs(keys), TWICE).len()), [1, 0]);
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
    // An outlet that nothing leads to is plan.loose-end's; one with a run from nowhere is not.
    assert!(found(&with("kind: projector, load: 430 W, at-outlet: o", "  P1: {from: C1, to: x, stock: w12, spare: yes}\n"), NONE).is_empty());
    let plugged = us("  o: {kind: outlet}\n  p: {kind: box}\n  x: {kind: projector, load: 430 W, at-outlet: o}\n", "  P1: {from: p, to: o, stock: w12}\n");
    assert_eq!(found(&plugged, NONE), fault);
    assert_eq!(on(&reviewed(&plugged, NONE), 0), ["x", "o", "P1"]);
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
    // A control, data or coaxial run may feed what is made for low voltage; the plan can say so by a circuit.
    for (service, volts) in [("control", "24 V"), ("data", "12 V"), ("coax", "60 V")] {
        let line = format!("  K1: {{from: C1, to: o, stock: w12}}\n  K2: {{from: o, to: x, stock: d, carries: {service}}}\n");
        let at = |volts: &str, line: &str| with(&format!("kind: motor, load: 30 W, volts: {volts}"), line);
        assert_eq!((found(&at(volts, &line), NONE), gaps(&at(volts, &line), NONE)), (vec![], vec![format!("a circuit of {volts} that feeds x")]));
        assert_eq!(found(&at("61 V", &line), NONE), fault);
        assert_eq!(found(&at(volts, &line.replace("coax}", "coax, spare: yes}").replace("control}", "control, spare: yes}").replace("data}", "data, spare: yes}")), NONE), fault);
        assert_eq!(found(&at(volts, &line.replace(service, "speaker")), NONE), fault);
    }
    let words = |kind: &str| {
        let text = with(&format!("kind: {kind}, load: 30 W"), "  P1: {from: C1, to: o, stock: w12}\n  K1: {from: o, to: x, stock: d, carries: control}\n");
        reviewed(&text, NONE).findings[0].put_right.clone().unwrap_or_default()
    };
    assert_eq!(words("motor"), "draw a power run to x, or say at which outlet it is plugged in (`at-outlet`); or say its `volts` if K1 feeds it with low voltage");
    assert!(!words("projector").contains("volts"));
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

/// IEC 60038: 230 V within 10 %; ANSI C84.1: 115 V devices on 120 V; both from memory.
#[test]
fn devices_are_made_for_the_voltage_of_their_circuit() {
    let at = |region: &str, circuit: &str, device: &str| {
        let text = plan(region, &format!("  C1: {{breaker: 20 A{circuit}}}\n"), &format!("  x: {{kind: amplifier, load: 900 W{device}}}\n"), "  P1: {from: C1, to: x, stock: w12}\n");
        (found(&text, VOLTS), gaps(&text, VOLTS))
    };
    let fine = (vec![], vec![]);
    let gap = |what: &str| (vec![], vec![what.to_owned()]);
    for (region, circuit, device, is_fine) in [
        ("us", 120, 120, true), ("us", 120, 115, true), ("us", 120, 110, true), ("us", 120, 108, true), ("us", 120, 107, false),
        ("us", 120, 132, true), ("us", 120, 133, false), ("us", 120, 100, false), ("us", 120, 240, false), ("us", 240, 120, false),
        ("us", 240, 230, true), ("us", 240, 208, false), ("us", 208, 240, false), ("us", 208, 230, false), ("us", 208, 208, true), ("us", 208, 228, true), ("ca", 120, 240, false), ("gb", 230, 240, true), ("eu", 230, 220, true),
        ("au", 240, 230, true), ("au", 230, 120, false), ("eu", 400, 230, false),
    ] {
        let got = at(region, &format!(", volts: {circuit} V"), &format!(", volts: {device} V"));
        // More than it is made for is a hazard, less a fault (common practice, no source).
        let level = if device > circuit { Fault } else { Hazard };
        let expected = if is_fine { fine.clone() } else { (vec![("x".to_owned(), level)], vec![]) };
        assert_eq!(got, expected, "{region} {circuit} {device}");
    }
    // A plate may give a range, in any order.
    for (circuit, device, level) in [
        (208, "[208 V, 240 V]", None), (240, "[240 V, 208 V]", None), (230, "[208 V, 240 V]", None), (120, "[100 V, 240 V]", None), (120, "[208 V, 240 V]", Some(Fault)), (277, "[208 V, 240 V]", Some(Hazard)), (208, "[240 V]", Some(Fault)),
    ] {
        let got = at("us", &format!(", volts: {circuit} V"), &format!(", volts: {device}"));
        assert_eq!(got, (level.map(|level| ("x".to_owned(), level)).into_iter().collect(), vec![]), "{circuit} {device}");
    }
    assert_eq!(at("us", ", volts: 120 V", ", volts: []"), gap("volts of x"));
    // What does not say is made for the usual voltage.
    assert_eq!(at("us", ", volts: 120 V", ""), fine);
    assert_eq!(at("us", ", volts: 240 V", ""), gap("volts of x"));
    assert_eq!(at("gb", ", volts: 240 V", ""), fine);
    assert_eq!(at("gb", ", volts: 110 V", ""), gap("volts of x"));
    assert_eq!(at("us", "", ", volts: 120 V"), gap("volts of C1"));
    assert_eq!(at("us", "", ""), gap("volts of C1"));
    assert_eq!(at("us", ", volts: many", ", volts: 120 V"), fine);
    let review = reviewed(&plan("us", "  C1: {breaker: 20 A, volts: 120 V}\n  C4: {breaker: 30 A, volts: 240 V}\n",
        "  o: {kind: outlet}\n  x: {kind: amplifier, load: 900 W, volts: 240 V, at-outlet: o}\n", "  P1: {from: C1, to: o, stock: w12}\n"), VOLTS);
    assert_eq!(on(&review, 0), ["x", "C1", "C4"]);
    assert_eq!(review.findings[0].says, "x is made for 240 V and fed 120 V by C1, too little: it runs weak or not at all");
    let figure = review.findings[0].figure.as_ref().expect("a figure");
    assert!((figure.value - 100.0).abs() < 1e-9, "{}", figure.value);
}

/// NEC 210.4 and 100 (from memory): of a multiwire branch circuit each leg has 120 V to the neutral.
#[test]
fn a_device_on_one_leg_of_a_multiwire_circuit() {
    let at = |region: &str, volts: &str, cores: u32| {
        let text = plan(region, &format!("  C1: {{breaker: 20 A, volts: {volts}, poles: 2}}\n"), "  b: {kind: box}\n  o: {kind: outlet}\n  x: {kind: amplifier, load: 900 W, volts: 120 V, at-outlet: o}\n",
            "  P1: {from: C1, to: b, stock: three}\n  P2: {from: b, to: o, stock: w12}\n").replace("stock:\n", &format!("stock:\n  three: {{for: power, cores: {cores} x 12 AWG + earth, rating: NM-B}}\n"));
        (found(&text, VOLTS), gaps(&text, VOLTS))
    };
    let open = (vec![], vec!["a circuit of its own for each leg of C1, if that is multiwire".to_owned()]);
    let burns = (vec![("x".to_owned(), Hazard)], vec![]);
    for (region, volts, cores, got) in [("us", "240 V", 3, &open), ("us", "208 V", 3, &open), ("ca", "240 V", 3, &open), ("us", "240 V", 2, &burns), ("us", "277 V", 3, &burns), ("eu", "230 V", 3, &burns)] {
        assert_eq!(&at(region, volts, cores), got, "{region} {volts} {cores}");
    }
    // 230 V between a line and the neutral of 400 V (IEC 60038): the neutral is the fourth core.
    for (cores, is_open) in [(4, true), (3, false)] {
        let text = plan("eu", "  C1: {breaker: 16 A, volts: 400 V, poles: 3}\n", "  x: {kind: appliance, load: 900 W, volts: 230 V}\n", "  P1: {from: C1, to: x, stock: five}\n")
            .replace("stock:\n", &format!("stock:\n  five: {{for: power, cores: {cores} x 2.5 mm2 + earth}}\n"));
        assert_eq!((found(&text, VOLTS).is_empty(), gaps(&text, VOLTS).len()), (is_open, usize::from(is_open)), "{text}");
    }
}

#[test]
fn several_voltages_at_one_rack_and_what_changes_them() {
    let both = "  C1: {breaker: 20 A, volts: 120 V}\n  C2: {breaker: 20 A, volts: 240 V}\n";
    let rack = |volts: &str, own: &str| plan("us", both,
        &format!("  rack: {{kind: rack, inlets: 2{own}}}\n  x: {{kind: amplifier, in: rack, load: 900 W{volts}}}\n"),
        "  P1: {from: C1, to: rack, stock: w12}\n  P2: {from: C2, to: rack, stock: w12}\n");
    assert!(found(&rack(", volts: 240 V", ""), VOLTS).is_empty());
    assert!(found(&rack(", volts: 120 V", ""), VOLTS).is_empty());
    assert!(gaps(&rack("", ""), VOLTS).is_empty());
    assert_eq!(found(&rack(", volts: 400 V", ""), VOLTS), [("x".into(), Fault)]);
    // Fed too little and too much, it is the latter that counts.
    assert_eq!(found(&rack(", volts: 180 V", ""), VOLTS), [("x".into(), Hazard)]);
    // Elsewhere each inlet is the device's own.
    let device = plan("us", both, "  x: {kind: amplifier, load: 900 W, volts: 120 V, inlets: 2}\n", "  P1: {from: C1, to: x, stock: w12}\n  P2: {from: C2, to: x, stock: w12}\n");
    assert_eq!(found(&device, VOLTS), [("x".into(), Hazard)]);
    // A supply unit ahead may give another voltage; a box does not.
    let strip = |ahead: &str| us(&format!("  psu: {{{ahead}}}\n  b: {{kind: box}}\n  x: {{kind: light, load: 20 W, volts: 24 V}}\n"),
        "  P1: {from: C1, to: psu, stock: w12}\n  P2: {from: psu, to: b, stock: w12}\n  P3: {from: b, to: x, stock: w12}\n");
    assert_eq!(gaps(&strip("kind: appliance, load: 5 W"), VOLTS), ["the voltage that psu passes on"]);
    assert!(found(&strip("kind: appliance, load: 5 W"), VOLTS).is_empty());
    assert_eq!(found(&strip("kind: wall-switch"), VOLTS), [("x".into(), Hazard)]);
    // Lamps that hand on what they get to the next one hang on the same unit, and lack one thing.
    let row = strip("kind: appliance, load: 5 W").replace("runs:", "  y: {kind: light, load: 20 W, volts: 24 V}\nruns:") + "  P4: {from: x, to: y, stock: w12}\n";
    assert_eq!((gaps(&row, VOLTS), found(&row, VOLTS)), (vec!["the voltage that psu passes on".to_owned()], vec![]));
    // What hangs behind such a unit is not the breaker's to guard, and no drop by the circuit's volts is told of it.
    let thin = row.replace("runs:", "  z: {kind: light, load: 20 W}\nruns:").replace("stock:\n", "stock:\n  t: {for: power, cores: 2 x 18 AWG, rating: none, flexible: no, material: copper}\n").replace("to: x, stock: w12", "to: x, stock: t, length: 900 ft");
    let wire = "power.breaker-over-wire";
    assert_eq!((found(&thin, wire), gaps(&thin, wire)), (vec![], vec!["material of w12".to_owned(), "the current that psu lets through".to_owned()]));
    assert_eq!(found(&thin.replace(", volts: 24 V", ""), wire), [("C1".into(), Hazard)]);
    assert_eq!(found(&thin, "power.voltage-drop"), []);
    // It may share a conduit with signal if it is of Class 2; a device of low voltage may live off its control cable alone.
    let shared = thin.replace("runs:\n", "  k: {kind: keypad}\nruns:\n  D1: {from: psu, to: k, stock: d, through: [pipe]}\n").replace("length: 900 ft", "through: [pipe]").replace("circuits:", "pathways: {pipe: {kind: conduit}}\ncircuits:");
    let shares = "power.shares-conduit";
    let lacks = gaps(&shared, shares);
    let of_pipe = lacks.iter().filter(|lack| *lack == "carries of P3, behind a supply unit").count();
    assert_eq!((found(&shared, shares), of_pipe), (vec![], 1), "{lacks:?}");
    assert_eq!(found(&shared.replace(", volts: 24 V", ""), shares), [("pipe".into(), Hazard)]);
    let control = shared.replace("stock: t,", "stock: t, carries: control,").replace("from: psu, to: b, stock: w12", "from: psu, to: b, stock: w12, carries: control").replace("from: x, to: y, stock: w12", "from: x, to: y, stock: w12, carries: control");
    let unfed = |ids: &[&str]| ids.iter().map(|id| ((*id).to_owned(), Fault)).collect::<Vec<_>>();
    assert_eq!((found(&control, shares), found(&control, NONE)), (vec![], unfed(&["z"])));
    assert_eq!(found(&control.replace(", volts: 24 V", ""), NONE), unfed(&["x", "y", "z"]));
    assert!(gaps(&thin, "power.voltage-drop").contains(&"the voltage that psu passes on".to_owned()));
    let looped = us("  x: {kind: appliance, load: 9 W, volts: 240 V}\n  b: {kind: appliance, load: 9 W}\n",
        "  P1: {from: C1, to: x, stock: w12}\n  P2: {from: x, to: b, stock: w12}\n  P3: {from: b, to: x, stock: w12}\n");
    assert_eq!(gaps(&looped, VOLTS).len(), 2);
    // No drop is reckoned by the circuit's voltage where another one holds.
    let drops = |text: &str| {
        let review = reviewed(text, "power.voltage-drop");
        let house = House::build(&review.plan, &review.sources);
        let (all, lacks) = house.quantities(Ok(1.0), Ok(10.0));
        let of_x = |on: &[Id]| *on == [Id::new("x")];
        let told = all.into_iter().filter(|drop| drop.figure == "voltage-drop" && of_x(&drop.on)).count();
        let lacks = lacks.into_iter().filter(|gap| gap.rule == "voltage-drop" && of_x(&gap.on));
        (told, lacks.map(|gap| gap.lacks).collect::<Vec<_>>())
    };
    let long = thin.replace("stock: w12}", "stock: w12, length: 9 ft}");
    assert_eq!(drops(&long), (0, vec!["the voltage that psu passes on".to_owned()]));
    assert_eq!(drops(&long.replace(", volts: 24 V", "")).0, 2);
}

/// Common practice, no source: two circuits of 20 A at 120 V, which is 2400 W.
#[test]
fn two_dedicated_circuits_at_the_rack() {
    let rack = |region: &str, circuits: &str, more: &str, runs: &str| plan(region, circuits,
        &format!("  rack: {{kind: rack, load: 900 W, inlets: 2}}\n  amp: {{kind: amplifier, in: rack, load: 300 W}}\n{more}"),
        &format!("  P1: {{from: C1, to: rack, stock: w12}}\n{runs}"));
    let second = "  P2: {from: C2, to: rack, stock: w12}\n";
    let advice = [("rack".to_owned(), Advice)];
    let serves = |second: &str| format!("  C1: {{breaker: 20 A, volts: 120 V, serves: rack}}\n  C2: {{{second}}}\n");
    let c2 = "breaker: 20 A, volts: 120 V, serves: rack";
    assert!(found(&rack("us", &serves(c2), "", second), FEW).is_empty());
    assert_eq!(reviewed(&rack("us", &serves(c2), "", second), FEW).checks, 1);
    assert_eq!(found(&rack("us", &serves(c2), "", ""), FEW), advice);
    // By a member, by the member that it serves, without saying so, and larger.
    assert!(found(&rack("us", &serves("breaker: 30 A, volts: 240 V, serves: amp"), "", "  P2: {from: C2, to: amp, stock: w12}\n"), FEW).is_empty());
    assert!(found(&rack("us", &serves("breaker: 20 A, volts: 120 V"), "", second), FEW).is_empty());
    // Too small, for others, shared.
    assert_eq!(found(&rack("us", &serves("breaker: 15 A, volts: 120 V, serves: rack"), "", second), FEW), advice);
    let lamp = "  lamp: {kind: light, load: 60 W}\n";
    assert_eq!(found(&rack("us", &serves("breaker: 20 A, volts: 120 V, serves: lamp"), lamp, second), FEW), advice);
    let to_lamp = |from: &str| format!("{second}  P3: {{from: {from}, to: lamp, stock: w12}}\n");
    let shared = rack("us", &serves("breaker: 20 A, volts: 120 V"), lamp, &to_lamp("C2"));
    assert_eq!(found(&shared, FEW), advice);
    let review = reviewed(&shared, FEW);
    assert_eq!(on(&review, 0), ["rack", "C1", "C2"]);
    let figure = review.findings[0].figure.as_ref().expect("a figure");
    assert_eq!(figure.working, "circuits at the rack: C1 counts; C2 does not count: feeds lamp too");
    // What the rack feeds on belongs to it.
    assert!(found(&rack("us", &serves("breaker: 20 A, volts: 120 V"), lamp, &to_lamp("rack")), FEW).is_empty());
    // Breaker times volts elsewhere.
    let metric = |amperes: &str| format!("  C1: {{breaker: {amperes}, volts: 230 V, serves: rack}}\n  C2: {{breaker: {amperes}, volts: 230 V, serves: rack}}\n");
    for region in ["gb", "eu", "au"] {
        assert!(found(&rack(region, &metric("16 A"), "", second), FEW).is_empty());
        assert_eq!(found(&rack(region, &metric("10 A"), "", second), FEW), advice);
    }
    // What may still make the number.
    assert_eq!(gaps(&rack("us", &serves("volts: 120 V, serves: rack"), "", second), FEW), ["breaker of C2"]);
    assert_eq!(gaps(&rack("gb", &serves("breaker: 20 A, serves: rack"), "", second), FEW), ["volts of C2"]);
    assert_eq!(gaps(&rack("us", &serves("breaker: 20 A, volts: 120 V"), "  x: {room: }\n", &to_lamp("C2").replace("lamp", "x")), FEW), ["kind of x"]);
    // A rack for data, one without power, and one in another.
    let data = us("  rack: {kind: rack}\n  hub: {kind: switch, in: rack, load: 30 W}\n  patch: {kind: patch-panel, in: rack}\n", "  P1: {from: C1, to: rack, stock: w12}\n");
    assert_eq!(reviewed(&data, FEW).checks, 0);
    assert_eq!(found(&data.replace("kind: switch", "kind: amplifier"), FEW), advice);
    let cold = reviewed(&us("  rack: {kind: rack}\n  o: {kind: outlet}\n", "  P1: {from: C1, to: o, stock: w12}\n"), FEW);
    assert_eq!((cold.checks, cold.findings.len()), (0, 0));
    let inner = us("  rack: {kind: rack}\n  shelf: {kind: rack, in: rack}\n", "  P1: {from: C1, to: rack, stock: w12}\n");
    assert_eq!(found(&inner, FEW), advice);
}

#[test]
fn a_projector_behind_what_protects() {
    let with = |rack: &str, more: &str, runs: &str| us(&format!("  rack: {{kind: rack, load: 900 W{rack}}}\n  pj: {{kind: projector, load: 430 W}}\n{more}"),
        &format!("  P1: {{from: C1, to: rack, stock: w12}}\n{runs}"));
    let both = ", protects: [surge, battery]";
    let (direct, by_rack) = ("  P2: {from: C2, to: pj, stock: w12}\n", "  P2: {from: rack, to: pj, stock: w12}\n");
    let advice = [("pj".to_owned(), Advice)];
    assert_eq!(found(&with(both, "", direct), PAST), advice);
    assert!(found(&with(both, "", by_rack), PAST).is_empty());
    assert_eq!(reviewed(&with(both, "", by_rack), PAST).checks, 1);
    // By way of an outlet, and by a plug.
    let outlet = |from: &str| format!("  P2: {{from: {from}, to: o, stock: w12}}\n");
    let plugged = |from: &str| with(both, "  o: {kind: outlet}\n", &outlet(from)).replace("load: 430 W", "load: 430 W, at-outlet: o");
    assert!(found(&plugged("rack"), PAST).is_empty());
    assert_eq!(found(&plugged("C2"), PAST), advice);
    // The plan has none: not a matter. One that does not say may be one.
    for none in [", protects: []", ", protects: [surge]"] {
        let review = reviewed(&with(none, "", direct), PAST);
        assert_eq!((review.checks, review.findings.len(), review.gaps.len()), (0, 0, 0), "{none}");
    }
    assert_eq!(gaps(&with("", "", direct), PAST), ["protects of rack"]);
    assert_eq!(gaps(&with("", "", by_rack), PAST), ["protects of rack"]);
    let ups = "  ups: {kind: power-conditioner}\n";
    let past = "  P2: {from: C2, to: ups, stock: w12}\n  P3: {from: ups, to: pj, stock: w12}\n";
    assert_eq!((found(&with(both, ups, past), PAST), gaps(&with(both, ups, past), PAST)), (vec![], vec!["protects of ups".into()]));
    // Surge at the breaker and a battery on the way make both.
    let parts = with(both, "  ups: {kind: power-conditioner, protects: [battery]}\n", past);
    assert_eq!(found(&parts, PAST), advice);
    assert!(found(&parts.replace("C2: {breaker: 20 A, volts: 120 V}", "C2: {breaker: 20 A, volts: 120 V, protection: [surge]}"), PAST).is_empty());
    // Of two feeds the weaker counts; a projector without power is another rule's.
    let two = with(both, "", &format!("{by_rack}  P3: {{from: C2, to: pj, stock: w12}}\n")).replace("load: 430 W", "load: 430 W, inlets: 2");
    assert_eq!(found(&two, PAST), advice);
    assert_eq!(reviewed(&with(both, "", ""), PAST).checks, 0);
}

/// NEC 250.118, from memory.
#[test]
fn an_earthing_conductor_all_the_way() {
    let ways = "pathways:\n  wall: {kind: wall}\n  emt: {kind: conduit, make: EMT, length: 30 ft, inside: wall}\n  ent: {kind: conduit, make: ENT}\n  rmc: {kind: conduit, make: RMC}\n  fmc: {kind: conduit, make: FMC, length: 6 ft}\n  whip: {kind: conduit, make: FMC, length: 6.1 ft}\n  laid: {kind: conduit, make: FMC, route: [3 ft, 90 deg, 3.1 ft]}\n  pipe: {kind: conduit}\n";
    let run = |region: &str, stock: &str, device: &str, through: &str| {
        let text = plan(region, TWO, &format!("  x: {{kind: projector, load: 430 W{device}}}\n"), &format!("  P1: {{from: C1, to: x, stock: {stock}{through}}}\n"));
        let text = text.replace("circuits:\n", &format!("{ways}circuits:\n"));
        (found(&text, EARTH), gaps(&text, EARTH))
    };
    let (fine, wrong) = ((vec![], vec![]), (vec![("P1".to_owned(), Hazard)], vec![]));
    let gap = |what: &str| (vec![], vec![what.to_owned()]);
    let (yes, wall) = (", earthed: yes", ", through: [wall]");
    for region in ["us", "ca", "gb", "eu", "au"] {
        assert_eq!(run(region, "w12", yes, wall), fine);
        assert_eq!(run(region, "w", yes, wall), wrong, "{region}");
        assert_eq!(run(region, "w", ", earthed: no", wall), fine);
        assert_eq!(run(region, "w", "", wall), gap("earthed of x"));
        assert_eq!(run(region, "w12", "", ""), fine);
        assert_eq!(run(region, "w", yes, ", through: [ent]"), wrong);
    }
    for region in ["us", "ca"] {
        for (through, got) in [
            ("[emt]", fine.clone()), ("[emt, rmc]", fine.clone()), ("[emt, ent]", wrong.clone()),
            ("[fmc]", gap("whether fmc may serve as the earthing conductor")), ("[whip]", wrong.clone()), ("[laid]", wrong.clone()), ("[emt, fmc, fmc]", wrong.clone()),
            ("[pipe]", gap("make of pipe")), ("[pipe, ent]", wrong.clone()), ("[rmc, wall]", wrong.clone()),
            ("[wall, emt]", gap("whether emt is around all of P1")), ("[]", gap("through of P1")),
        ] {
            assert_eq!(run(region, "w", yes, &format!(", through: {through}")), got, "{region} {through}");
        }
        assert_eq!(run(region, "w", yes, ""), gap("through of P1"));
    }
    for region in ["gb", "eu", "au"] {
        assert_eq!(run(region, "w", yes, ""), wrong);
        assert_eq!(run(region, "w", yes, ", through: [rmc]"), gap("whether rmc may serve as the earthing conductor"));
        assert_eq!(run(region, "w", yes, ", through: [fmc]"), wrong);
    }
    // Armoured cable, and stock that does not say.
    assert_eq!(run("us", "armoured", yes, wall), fine);
    assert_eq!(run("us", "metal-clad", yes, wall), gap("whether the armour of metal-clad is made to earth"));
    assert_eq!(run("us", "vague", yes, wall), gap("cores of vague"));
    assert_eq!(run("us", "vague", ", earthed: no", wall), fine);
    assert_eq!(run("us", "w, spare: yes", yes, wall), fine);
}

#[test]
fn each_run_on_the_way_and_each_device_beyond() {
    let ends = |more: &str| format!("  pot: {{kind: box}}\n  x: {{kind: projector, load: 430 W{more}}}\n  rack: {{kind: rack}}\n  amp: {{kind: amplifier, in: rack, load: 9 W, earthed: yes}}\n");
    let chain = |first: &str, second: &str, more: &str| plan("gb", TWO, &ends(more), &format!("  P1: {{from: C1, to: pot, stock: {first}}}\n  P2: {{from: pot, to: x, stock: {second}}}\n"));
    assert_eq!(found(&chain("w", "w12", ", earthed: yes"), EARTH), [("P1".into(), Hazard)]);
    assert_eq!(found(&chain("w", "w", ", earthed: yes"), EARTH), [("P1".into(), Hazard), ("P2".into(), Hazard)]);
    assert_eq!(gaps(&chain("w", "w", ""), EARTH), ["earthed of x"]);
    // A new outlet is earthed (NEC 406.4(A), BS 7671 411.3.1.1, from memory).
    let outlet = |earthed: &str| plan("gb", TWO, &format!("  o: {{kind: outlet{earthed}}}\n"), "  P1: {from: C1, to: o, stock: w}\n");
    assert_eq!(["", ", earthed: no"].map(|keys| (found(&outlet(keys), EARTH).len(), gaps(&outlet(keys), EARTH).len())), [(1, 0), (0, 0)]);
    assert!(gaps(&chain("w12", "w12", ""), EARTH).is_empty());
    let review = reviewed(&chain("w", "w12", ", earthed: yes"), EARTH);
    assert_eq!(on(&review, 0), ["P1", "x", "w"]);
    assert_eq!(review.findings[0].redlines[0].title, "pull P1 as w12");
    // What stands in a rack, a ring, a run without power, and a loop.
    let rack = plan("gb", TWO, &ends(""), "  P1: {from: C1, to: rack, stock: w}\n");
    assert_eq!(found(&rack, EARTH), [("P1".into(), Hazard)]);
    let ring = plan("gb", "  C1: {breaker: 32 A, volts: 230 V, ring: yes}\n", "  a: {kind: outlet, earthed: no}\n  b: {kind: outlet, earthed: yes}\n",
        "  P1: {from: C1, to: a, stock: w12}\n  P2: {from: a, to: b, stock: w12}\n  P3: {from: b, to: C1, stock: w}\n");
    assert_eq!(found(&ring, EARTH), [("P3".into(), Hazard)]);
    let cold = plan("gb", TWO, &ends(", earthed: yes"), "  P1: {from: pot, to: x, stock: w}\n");
    assert_eq!(found(&cold, EARTH), [("P1".into(), Hazard)]);
    let looped = plan("gb", TWO, "  a: {kind: box}\n  b: {kind: box}\n  x: {kind: light, load: 9 W, earthed: yes}\n",
        "  P1: {from: C1, to: a, stock: w12}\n  P2: {from: a, to: b, stock: w}\n  P3: {from: b, to: a, stock: w12}\n  P4: {from: b, to: x, stock: w12}\n");
    assert_eq!(gaps(&looped, EARTH), ["a way to b without a loop of power runs"]);
}

/// A long chain of boxes, one of which is wrong: the work stays in proportion.
#[test]
fn long_chains_end() {
    let count = 3000;
    let (mut ends, mut runs) = (String::new(), String::new());
    for n in 0..count {
        ends += &format!("  n{n}: {{kind: light, load: 1 W, volts: 240 V, earthed: yes}}\n");
        let from = if n == 0 { "C1".to_owned() } else { format!("n{}", n - 1) };
        runs += &format!("  P{n}: {{from: {from}, to: n{n}, stock: w, through: []}}\n");
    }
    let text = us(&ends, &runs);
    assert_eq!(found(&text, VOLTS).len(), count);
    assert_eq!(found(&text.replace("region: us", "region: eu"), EARTH).len(), count);
    for rule in [TWICE, NONE, FEW, PAST] {
        assert!(found(&text, rule).is_empty(), "{rule}");
    }
}
