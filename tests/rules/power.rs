//! Power: figures of the house against numbers worked out by hand from NEC chapter 9 table 8
//! (75 °C, solid copper: 14, 12, 10 AWG 3.07, 1.93, 1.21 ohm/1000 ft) and IEC 60228 (2.5 mm2 7.41
//! ohm/km at 20 °C, times 1.1965 at 70 °C), then the rules.
//!
//! Long because every branch, region and bound of the power rules has its case here.

use nailplate::figures::Figure;
use nailplate::findings::Level::{Advice, Fault, Hazard};
use nailplate::house::{House, Node};
use nailplate::plan::Sort;

use super::{found, gaps, reviewed};

const WIRE: &str = "power.breaker-over-wire";
const LOAD: &str = "power.breaker-overloaded";
const DROP: &str = "power.voltage-drop";
const SUB: &str = "power.subwoofer-shares";
const ALONE: &str = "power.dedicated-shares";

/// A us plan with 120 V circuits C1 and C2 of 20 A.
fn us(endpoints: &str, runs: &str) -> String {
    with_circuits(
        "us",
        "  C1: {breaker: 20 A, volts: 120 V}\n  C2: {breaker: 20 A, volts: 120 V}\n",
        endpoints,
        runs,
    )
}

fn with_circuits(region: &str, circuits: &str, endpoints: &str, runs: &str) -> String {
    format!(
        "nailplate: 1\nregion: {region}\nstock:\n  w14: {{for: power, cores: 2 x 14 AWG + earth, rating: NM-B, material: copper}}\n  w12: {{for: power, cores: 2 x 12 AWG + earth, rating: NM-B, material: copper}}\n  w10: {{for: power, cores: 2 x 10 AWG + earth, rating: NM-B, material: copper}}\n  t25: {{for: power, cores: 2 x 2.5 mm2 + earth}}\n  t15: {{for: power, cores: 2 x 1.5 mm2 + earth}}\ncircuits:\n{circuits}endpoints:\n{endpoints}runs:\n{runs}"
    )
}

/// Drop to an endpoint in percent, cheap and with its working; they must agree.
#[track_caller]
fn drop_to(text: &str, id: &str) -> Option<f64> {
    let review = reviewed(text, DROP);
    let house = House::build(&review.plan, &review.sources);
    let at = review
        .plan
        .endpoints
        .iter()
        .position(|end| end.id.as_str() == id)
        .expect("an endpoint");
    let node = Node::Endpoint(u32::try_from(at).expect("few"));
    assert_eq!(house.id(node).as_str(), id);
    assert_eq!(node.thing().sort, Sort::Endpoint);
    let (_, cheap) = house.worst(node).ok()?;
    let shown = house.voltage_drop(node).expect("a figure").figure.value();
    near(cheap, shown);
    Some(shown)
}

/// Amperes that a circuit carries: the sum of its loads, and its demand; they must agree.
#[track_caller]
fn amperes(text: &str, circuit: usize) -> f64 {
    let review = reviewed(text, LOAD);
    let house = House::build(&review.plan, &review.sources);
    let volts = review.plan.circuits[circuit]
        .volts
        .value()
        .expect("volts")
        .base();
    let carried = house.carried(circuit).expect("loads");
    let sum: f64 = carried
        .iter()
        .map(|load| load.load.power.base() * load.load.share / volts)
        .sum();
    let demand = house.demand(Node::Circuit(u32::try_from(circuit).expect("few")));
    near(sum, demand.watts() / volts);
    sum
}

#[track_caller]
fn near(a: f64, b: f64) {
    assert!((a - b).abs() <= 1e-9 * (1.0 + b.abs()), "{a} is not {b}");
}

#[test]
fn taps_along_a_tree_one_by_one() {
    let text = us(
        "  a: {kind: appliance, load: 600 W}\n  b: {kind: appliance, load: 240 W}\n",
        "  P1: {from: C1, to: a, stock: w12, length: 50 ft}\n  P2: {from: a, to: b, stock: w12, length: 30 ft}\n",
    );
    let first = 2.0 * 50.0 * 1.93e-3 * 7.0;
    near(drop_to(&text, "a").expect("a drop"), first / 1.2);
    near(
        drop_to(&text, "b").expect("a drop"),
        (first + 2.0 * 30.0 * 1.93e-3 * 2.0) / 1.2,
    );
    near(amperes(&text, 0), 7.0);
}

#[test]
fn runs_written_backwards_carry_the_same() {
    let text = us(
        "  a: {kind: appliance, load: 600 W}\n  b: {kind: appliance, load: 240 W}\n",
        "  P1: {from: a, to: C1, stock: w12, length: 50 ft}\n  P2: {from: b, to: a, stock: w12, length: 30 ft}\n",
    );
    near(
        drop_to(&text, "b").expect("a drop"),
        (2.0 * 50.0 * 1.93e-3 * 7.0 + 2.0 * 30.0 * 1.93e-3 * 2.0) / 1.2,
    );
}

#[test]
fn two_inlets_share() {
    let rack = |split: &str, ends: [&str; 2]| {
        us(
            &format!("  rack: {{kind: rack, load: 1200 W, inlets: 2{split}}}\n"),
            &format!(
                "  P1: {{{}, stock: w12, length: 50 ft}}\n  P2: {{{}, stock: w12, length: 80 ft}}\n",
                ends[0], ends[1]
            ),
        )
    };
    let forwards = ["from: C1, to: rack", "from: C2, to: rack"];
    let equal = rack("", forwards);
    near(
        drop_to(&equal, "rack").expect("a drop"),
        2.0 * 80.0 * 1.93e-3 * 5.0 / 1.2,
    );
    near(amperes(&equal, 0), 5.0);
    let split = rack(", split: [75 %, 25 %]", forwards);
    near(
        drop_to(&split, "rack").expect("a drop"),
        2.0 * 50.0 * 1.93e-3 * 7.5 / 1.2,
    );
    near(amperes(&split, 0), 7.5);
    near(amperes(&split, 1), 2.5);
    // Both written towards their breakers.
    let backwards = rack(
        ", split: [75 %, 25 %]",
        ["from: rack, to: C1", "from: rack, to: C2"],
    );
    near(amperes(&backwards, 0), 7.5);
    near(amperes(&backwards, 1), 2.5);
    // Both inlets on one circuit put all on it.
    near(
        amperes(&rack("", ["from: C1, to: rack", "from: C1, to: rack"]), 0),
        10.0,
    );
}

#[test]
fn shares_of_plugs_follow_the_order_of_at_outlet() {
    let text = us(
        "  o1: {kind: outlet}\n  o2: {kind: outlet}\n  amp: {kind: amplifier, load: 1200 W, inlets: 2, at-outlet: [o2, o1], split: [75 %, 25 %]}\n",
        "  P1: {from: C1, to: o1, stock: w12, length: 50 ft}\n  P2: {from: C2, to: o2, stock: w12, length: 80 ft}\n",
    );
    near(amperes(&text, 0), 2.5);
    near(amperes(&text, 1), 7.5);
}

#[test]
fn a_plug_adds_no_drop() {
    let text = us(
        "  o1: {kind: outlet}\n  tv: {kind: display, load: 240 W, at-outlet: o1}\n",
        "  P1: {from: C1, to: o1, stock: w12, length: 50 ft}\n",
    );
    near(
        drop_to(&text, "tv").expect("a drop"),
        2.0 * 50.0 * 1.93e-3 * 2.0 / 1.2,
    );
}

#[test]
fn what_stands_in_a_rack_is_counted_once() {
    let rack = |load: &str, own: &str| {
        us(
            &format!(
                "  rack: {{kind: rack{load}}}\n  amp: {{kind: amplifier, in: rack, load: 600 W}}\n  disc: {{kind: source, in: rack, load: 120 W}}\n  patch: {{kind: patch-panel, in: rack}}\n"
            ),
            &format!("  P1: {{from: C1, to: rack, stock: w12, length: 50 ft}}\n{own}"),
        )
    };
    near(amperes(&rack("", ""), 0), 6.0);
    near(amperes(&rack(", load: 900 W", ""), 0), 7.5);
    // The rack's load is the total with everything in it: what has a feed of its own comes off.
    let own = "  P2: {from: C2, to: amp, stock: w12, length: 50 ft}\n";
    near(amperes(&rack(", load: 900 W", own), 0), 2.5);
    near(amperes(&rack(", load: 900 W", own), 1), 5.0);
    near(amperes(&rack("", own), 0), 1.0);
    // A rack that holds only what draws nothing ought to say its own load.
    let bare = us(
        "  rack: {kind: rack}\n  patch: {kind: patch-panel, in: rack}\n",
        "  P1: {from: C1, to: rack, stock: w12, length: 50 ft}\n",
    );
    assert_eq!(gaps(&bare, LOAD), ["load of rack"]);
}

#[test]
fn a_rack_fed_by_two_conditioners_in_it() {
    let text = us(
        "  rack: {kind: rack, load: 1200 W}\n  u1: {kind: power-conditioner, in: rack}\n  u2: {kind: power-conditioner, in: rack}\n",
        "  P1: {from: C1, to: u1, stock: w12, length: 50 ft}\n  P2: {from: C2, to: u2, stock: w12, length: 60 ft}\n",
    );
    near(amperes(&text, 0), 5.0);
    near(
        drop_to(&text, "rack").expect("a drop"),
        2.0 * 60.0 * 1.93e-3 * 5.0 / 1.2,
    );
}

const RING: &str = "  C1: {breaker: 32 A, volts: 230 V, ring: yes}\n";

/// A ring of three equal legs with two equal taps carries nothing in the middle; and a tap in the
/// middle of a ring drops a quarter of the straight run (published rule of ring circuits).
#[test]
fn a_ring_is_fed_from_both_ends() {
    let ohm = 7.41e-3 * 1.1965;
    let ends = "  a: {kind: appliance, load: 2300 W}\n  b: {kind: appliance, load: 2300 W}\n";
    for middle in ["from: a, to: b", "from: b, to: a"] {
        let runs = format!(
            "  R1: {{from: C1, to: a, stock: t25, length: 20 m}}\n  R2: {{{middle}, stock: t25, length: 20 m}}\n  R3: {{from: b, to: C1, stock: t25, length: 20 m}}\n"
        );
        let text = with_circuits("gb", RING, ends, &runs);
        near(
            drop_to(&text, "a").expect("a drop"),
            2.0 * 20.0 * ohm * 10.0 / 2.3,
        );
        near(
            drop_to(&text, "b").expect("a drop"),
            2.0 * 20.0 * ohm * 10.0 / 2.3,
        );
        near(amperes(&text, 0), 20.0);
        // Both ends written towards the circuit.
        near(
            drop_to(&text.replace("from: C1, to: a", "from: a, to: C1"), "a").expect("a drop"),
            2.0 * 20.0 * ohm * 10.0 / 2.3,
        );
    }
    let text = with_circuits(
        "gb",
        RING,
        "  a: {kind: appliance, load: 4600 W}\n  s: {kind: appliance, load: 230 W}\n",
        "  R1: {from: C1, to: a, stock: t25, length: 40 m}\n  R2: {from: a, to: C1, stock: t25, length: 40 m}\n  R3: {from: a, to: s, stock: t25, length: 10 m}\n",
    );
    let at = 2.0 * 80.0 * ohm * 21.0 / 4.0 / 2.3;
    near(drop_to(&text, "a").expect("a drop"), at);
    near(
        drop_to(&text, "s").expect("a drop"),
        at + 2.0 * 10.0 * ohm / 2.3,
    );
}

#[test]
fn a_ring_with_a_leg_of_unknown_length_is_a_gap() {
    let text = with_circuits(
        "gb",
        RING,
        "  a: {kind: appliance, load: 460 W}\n",
        "  R1: {from: C1, to: a, stock: t25, length: 40 m}\n  R2: {from: a, to: C1, stock: t25}\n",
    );
    assert_eq!(gaps(&text, DROP), ["length of R2"]);
}

#[test]
fn loops_are_gaps_and_end() {
    let text = us(
        "  a: {kind: appliance, load: 9000 W}\n  b: {kind: appliance, load: 10 W}\n  c: {kind: light, load: 10 W}\n",
        "  P1: {from: C1, to: c, stock: w12, length: 10 ft}\n  P2: {from: c, to: a, stock: w12, length: 10 ft}\n  P3: {from: a, to: b, stock: w12, length: 10 ft}\n  P4: {from: b, to: a, stock: w12, length: 10 ft}\n",
    );
    let loose = "a way to a without a loop of power runs".to_owned();
    assert_eq!(gaps(&text, LOAD), [loose.as_str()]);
    assert_eq!(
        gaps(&text, DROP),
        [
            loose.clone(),
            "a way to b without a loop of power runs".into(),
            loose
        ]
    );
    assert!(found(&text, LOAD).is_empty());
    let circle = us(
        "  a: {kind: box, in: b}\n  b: {kind: box, in: a}\n",
        "  P1: {from: C1, to: a, stock: w12, length: 10 ft}\n  P2: {from: a, to: a, stock: w12}\n",
    );
    for rule in [WIRE, LOAD, DROP, SUB, ALONE] {
        assert!(found(&circle, rule).is_empty(), "{rule}");
    }
}

#[test]
fn numbers_beyond_reason_do_not_panic() {
    let text = with_circuits(
        "us",
        "  C1: {breaker: 1e-300 A, volts: 1e-300 V, feeder-drop: 0 %}\n",
        "  a: {kind: subwoofer, load: 10000000 W, peak: 0 W}\n  b: {kind: light, load: 0 W}\n",
        "  P1: {from: C1, to: a, stock: w12, length: 100000 m}\n  P2: {from: C1, to: b, stock: w12, length: 1e-300 m}\n",
    );
    for rule in [WIRE, LOAD, DROP, SUB, ALONE] {
        let review = reviewed(&text, rule);
        assert!(review.findings.iter().all(|found| {
            found
                .figure
                .as_ref()
                .is_none_or(|figure| figure.value.is_finite())
        }));
    }
}

/// Published worked examples VD16 (5.526 V, 4.6 %) and VD19 (10 AWG, 16 A: 3 % at 92.98 ft).
#[test]
fn drop_against_the_limits_of_us_and_ca() {
    let run = |region: &str, watts: &str, stock: &str, length: &str| {
        let circuits = "  C1: {breaker: 20 A, volts: 120 V}\n";
        with_circuits(
            region,
            circuits,
            &format!("  a: {{kind: appliance, load: {watts}}}\n"),
            &format!("  P1: {{from: C1, to: a, stock: {stock}, length: {length}}}\n"),
        )
    };
    for region in ["us", "ca"] {
        assert_eq!(
            found(&run(region, "1440 W", "w14", "75 ft"), DROP),
            [("a".into(), Advice)]
        );
        assert!(found(&run(region, "1920 W", "w10", "92.97 ft"), DROP).is_empty());
        assert_eq!(
            found(&run(region, "1920 W", "w10", "92.99 ft"), DROP),
            [("a".into(), Advice)]
        );
        assert_eq!(
            found(&run(region, "1440 W", "w14", "90 ft"), DROP),
            [("a".into(), Fault)]
        );
    }
    near(
        drop_to(&run("us", "1440 W", "w14", "75 ft"), "a").expect("a drop"),
        5.526 / 1.2,
    );
    assert!(gaps(&run("us", "1920 W", "w10", "92.97 ft"), DROP).is_empty());
}

/// 3 % of the branch circuit from the breaker on, 5 % with the feeder.
#[test]
fn the_feeder_counts_towards_the_whole_only() {
    let run = |feeder: &str, length: &str| {
        with_circuits(
            "us",
            &format!("  C1: {{breaker: 20 A, volts: 120 V{feeder}}}\n"),
            "  a: {kind: appliance, load: 1200 W}\n",
            &format!("  P1: {{from: C1, to: a, stock: w12, length: {length}}}\n"),
        )
    };
    // 10 A in 50 ft of 12 AWG: 1.93 V, 1.61 %.
    assert!(found(&run(", feeder-drop: 2.5 %", "50 ft"), DROP).is_empty());
    assert_eq!(
        found(&run(", feeder-drop: 4 %", "50 ft"), DROP),
        [("a".into(), Fault)]
    );
    let review = reviewed(&run("", "100 ft"), DROP);
    assert_eq!(review.findings.len(), 1);
    assert!(review.findings[0].level == Advice);
    let review = reviewed(&run("", "200 ft"), DROP);
    let working = &review.findings[0]
        .figure
        .as_ref()
        .expect("a figure")
        .working;
    assert!(working.contains("not stated and not counted"), "{working}");
}

/// 230 V: 3 % for light is 6.9 V, 5 % for other use 11.5 V (worked examples VD14, VD15).
#[test]
fn limits_outside_north_america() {
    let run = |region: &str, kind: &str, metres: f64| {
        with_circuits(
            region,
            "  C1: {breaker: 20 A, volts: 230 V}\n",
            &format!("  a: {{kind: {kind}, load: 2300 W}}\n"),
            &format!("  P1: {{from: C1, to: a, stock: t25, length: {metres} m}}\n"),
        )
    };
    let metre = 2.0 * 7.41e-3 * 1.1965 * 10.0;
    let (light, other) = (6.9 / metre, 11.5 / metre);
    assert!(found(&run("gb", "light", light - 0.01), DROP).is_empty());
    assert_eq!(
        found(&run("gb", "light", light + 0.01), DROP),
        [("a".into(), Fault)]
    );
    assert!(found(&run("gb", "appliance", other - 0.01), DROP).is_empty());
    assert_eq!(
        found(&run("gb", "appliance", other + 0.01), DROP),
        [("a".into(), Fault)]
    );
    assert_eq!(
        found(&run("eu", "light", light + 0.01), DROP),
        [("a".into(), Advice)]
    );
    assert_eq!(
        found(&run("eu", "appliance", other + 0.01), DROP),
        [("a".into(), Advice)]
    );
    assert!(found(&run("au", "light", light + 0.01), DROP).is_empty());
    assert_eq!(
        found(&run("au", "light", other + 0.01), DROP),
        [("a".into(), Fault)]
    );
}

#[test]
fn only_what_draws_is_judged_and_gaps_stand_below_the_limit() {
    let run = |load: &str, length: &str| {
        us(
            &format!(
                "  pot: {{kind: box}}\n  a: {{kind: appliance{load}}}\n  b: {{kind: appliance, load: 1800 W}}\n"
            ),
            &format!(
                "  P1: {{from: C1, to: pot, stock: w12{length}}}\n  P2: {{from: pot, to: a, stock: w12, length: 1 ft}}\n  P3: {{from: pot, to: b, stock: w12, length: 1 ft}}\n"
            ),
        )
    };
    assert_eq!(
        found(&run(", load: 10 W", ", length: 110 ft"), DROP),
        [("a".into(), Fault), ("b".into(), Fault)]
    );
    assert_eq!(
        gaps(&run("", ", length: 10 ft"), DROP),
        ["load of a", "load of a"]
    );
    // What is known alone is too much.
    assert_eq!(found(&run("", ", length: 120 ft"), DROP).len(), 2);
    assert_eq!(
        gaps(&run(", load: 10 W", ""), DROP),
        ["length of P1", "length of P1"]
    );
    let volts = with_circuits(
        "us",
        "  C1: {breaker: 20 A}\n",
        "  a: {kind: light, load: 10 W}\n",
        "  P1: {from: C1, to: a, stock: w12, length: 10 ft}\n",
    );
    assert_eq!(gaps(&volts, DROP), ["volts of C1"]);
}

/// The way that cannot be reckoned may be the worse one.
#[test]
fn one_of_two_ways_unknown_is_a_gap() {
    let text = us(
        "  rack: {kind: rack, load: 1200 W, inlets: 2}\n",
        "  P1: {from: C1, to: rack, stock: w12, length: 50 ft}\n  P2: {from: C2, to: rack, stock: w12}\n",
    );
    assert_eq!(gaps(&text, DROP), ["length of P2"]);
}

#[test]
fn a_rack_is_judged_once_and_the_edit_must_do() {
    let text = us(
        "  rack: {kind: rack}\n  amp: {kind: amplifier, in: rack, load: 900 W}\n  disc: {kind: source, in: rack, load: 600 W}\n",
        "  P1: {from: C1, to: rack, stock: w12, length: 90 ft}\n",
    );
    assert_eq!(found(&text, DROP), [("rack".into(), Advice)]);
    assert_eq!(
        reviewed(&text, DROP).findings[0].redlines[0].title,
        "pull P1 as w10"
    );
    // 10 AWG would not do either.
    let far = text.replace("90 ft", "140 ft");
    let review = reviewed(&far, DROP);
    assert!(review.findings[0].redlines.is_empty());
    assert_eq!(
        review.findings[0].put_right.as_deref(),
        Some("pull P1 with 8 AWG or thicker, or shorten it")
    );
}

/// Breaker, stock and region, one light behind them.
fn wire(region: &str, breaker: &str, stock: &str, run: &str) -> String {
    let copper = if stock.contains("material") {
        ""
    } else {
        ", material: copper"
    };
    format!(
        "nailplate: 1\nregion: {region}\nstock:\n  w: {{for: power, {stock}{copper}}}\ncircuits:\n  C1: {{breaker: {breaker}, volts: 120 V}}\nendpoints:\n  a: {{kind: light, load: 60 W}}\nruns:\n  P1: {{from: C1, to: a, stock: w{run}}}\n"
    )
}

/// NEC 240.4(D) and table 310.16 (rows of aluminium from memory); CEC 14-104 from memory.
#[test]
fn breakers_over_american_wire() {
    let at = |breaker: &str, stock: &str| {
        let text = wire("us", breaker, stock, "");
        (found(&text, WIRE), gaps(&text, WIRE))
    };
    let fine = (vec![], vec![]);
    let wrong = (vec![("C1".to_owned(), Hazard)], vec![]);
    for (most, more, cores) in [
        ("15 A", "20 A", "14 AWG"),
        ("20 A", "25 A", "12 AWG"),
        ("30 A", "35 A", "10 AWG"),
    ] {
        assert_eq!(at(most, &format!("cores: 2 x {cores}")), fine);
        assert_eq!(at(more, &format!("cores: 2 x {cores}")), wrong);
    }
    for (most, more, cores) in [("15 A", "20 A", "12 AWG"), ("25 A", "30 A", "10 AWG")] {
        assert_eq!(
            at(most, &format!("cores: 2 x {cores}, material: aluminium")),
            fine
        );
        assert_eq!(
            at(more, &format!("cores: 2 x {cores}, material: aluminium")),
            wrong
        );
    }
    // 8 AWG: 40 A at 60 °C for NM, 50 A at 75 °C; 6 AWG NM: 55 A, next breaker 60 A.
    assert_eq!(at("40 A", "cores: 2 x 8 AWG, rating: NM-B"), fine);
    assert_eq!(at("50 A", "cores: 2 x 8 AWG, rating: NM-B"), wrong);
    assert_eq!(at("50 A", "cores: 2 x 8 AWG, rating: TYPE NM-B"), wrong);
    assert_eq!(at("50 A", "cores: 2 x 8 AWG, rating: THHN"), fine);
    assert_eq!(at("60 A", "cores: 2 x 8 AWG, rating: THHN"), wrong);
    assert_eq!(at("40 A", "cores: 2 x 8 AWG"), fine);
    assert_eq!(
        at("50 A", "cores: 2 x 8 AWG"),
        (vec![], vec!["rating of w".into()])
    );
    assert_eq!(at("60 A", "cores: 2 x 8 AWG"), wrong);
    assert_eq!(at("60 A", "cores: 2 x 6 AWG, rating: NM-B"), fine);
    assert_eq!(at("70 A", "cores: 2 x 6 AWG, rating: NM-B"), wrong);
    // Thinner than any size of the table: NEC 240.4(D)(1), (2), from memory.
    assert_eq!(at("20 A", "cores: 2 x 16 AWG"), wrong);
    assert_eq!(at("15 A", "cores: 2 x 16 AWG"), wrong);
    assert_eq!(at("10 A", "cores: 2 x 18 AWG"), wrong);
    assert_eq!(
        at("10 A", "cores: 2 x 16 AWG"),
        (vec![], vec!["a table that holds the size of w".into()])
    );
    assert_eq!(
        at("20 A", "cores: 2 x 14 AWG, flexible: yes"),
        (vec![], vec!["a table of flexible cord for w".into()])
    );
    // A cord by its listing.
    assert_eq!(
        at("20 A", "cores: 2 x 14 AWG, rating: SJT"),
        (vec![], vec!["a table of flexible cord for w".into()])
    );
    assert_eq!(
        at("20 A", "cores: 2 x 2.5 mm2"),
        (vec![], vec!["a table of mm2 conductors for us".into()])
    );
    assert_eq!(
        found(&wire("ca", "20 A", "cores: 2 x 14 AWG", ""), WIRE),
        [("C1".into(), Hazard)]
    );
    assert!(found(&wire("ca", "20 A", "cores: 2 x 12 AWG", ""), WIRE).is_empty());
    assert_eq!(
        gaps(&wire("ca", "40 A", "cores: 2 x 8 AWG", ""), WIRE),
        ["a table of conductors above 10 AWG for ca (w)"]
    );
}

/// BS 7671 table 4D5, from memory.
#[test]
fn breakers_over_british_wire() {
    let at = |breaker: &str, cores: &str, run: &str| {
        let text = wire("gb", breaker, &format!("cores: 2 x {cores}"), run);
        (found(&text, WIRE), gaps(&text, WIRE))
    };
    let fine = (vec![], vec![]);
    let wrong = (vec![("C1".to_owned(), Hazard)], vec![]);
    let gap = |what: &str| (vec![], vec![what.to_owned()]);
    assert_eq!(at("32 A", "2.5 mm2", ""), wrong);
    assert_eq!(at("20 A", "2.5 mm2", ""), gap("method of P1"));
    assert_eq!(at("20 A", "2.5 mm2", ", method: C"), fine);
    assert_eq!(at("32 A", "4 mm2", ", method: C"), fine);
    assert_eq!(at("32 A", "4 mm2", ", method: A"), wrong);
    assert_eq!(at("16 A", "2.5 mm2", ", method: 103"), wrong);
    assert_eq!(at("6 A", "1.5 mm2", ""), fine);
    assert_eq!(at("25 A", "1.5 mm2", ""), wrong);
    assert_eq!(at("20 A", "0.75 mm2", ""), wrong);
    assert_eq!(
        at("20 A", "12 AWG", ""),
        gap("a table of AWG conductors for gb")
    );
    assert_eq!(
        at("20 A", "2.5 mm2, material: aluminium", ""),
        gap("a table of conductors other than copper for gb")
    );
    for region in ["eu", "au"] {
        let text = wire(region, "63 A", "cores: 2 x 1.5 mm2", "");
        assert_eq!(
            gaps(&text, WIRE),
            [format!("a table of conductor currents for {region}")]
        );
        assert!(found(&text, WIRE).is_empty());
    }
}

/// BS 7671 433.1.204, from memory: 2.5 mm2 on 32 A only as a ring, with 20 A or more by its method.
#[test]
fn breakers_over_rings() {
    let ring = |breaker: &str, ring: &str, method: &str, spur: &str| {
        let text = with_circuits(
            "gb",
            &format!("  C1: {{breaker: {breaker}, volts: 230 V{ring}}}\n"),
            "  a: {kind: outlet}\n  b: {kind: outlet}\n  c: {kind: outlet}\n",
            &format!(
                "  R1: {{from: C1, to: a, stock: t25{method}}}\n  R2: {{from: a, to: C1, stock: t25{method}}}\n{spur}"
            ),
        );
        (found(&text, WIRE), gaps(&text, WIRE))
    };
    let fine = (vec![], vec![]);
    let wrong = (vec![("C1".to_owned(), Hazard)], vec![]);
    assert_eq!(ring("32 A", ", ring: yes", ", method: C", ""), fine);
    assert_eq!(ring("32 A", "", ", method: C", ""), wrong);
    assert_eq!(ring("40 A", ", ring: yes", ", method: C", ""), wrong);
    assert_eq!(ring("32 A", ", ring: yes", ", method: 103", ""), wrong);
    assert_eq!(
        ring("32 A", ", ring: yes", "", ""),
        (vec![], vec!["method of R1".into(), "method of R2".into()])
    );
    let short = "  R3: {from: a, to: b, stock: t25, method: C}\n";
    assert_eq!(ring("32 A", ", ring: yes", ", method: C", short), fine);
    let long = "  R3: {from: a, to: b, stock: t25, method: C}\n  R4: {from: b, to: c, stock: t25, method: C}\n";
    let fuse = |run: &str| format!("the fuse ahead of {run}, a spur of a ring");
    assert_eq!(
        ring("32 A", ", ring: yes", ", method: C", long),
        (vec![], vec![fuse("R3"), fuse("R4")])
    );
    let thin = "  R3: {from: a, to: b, stock: t15, method: C}\n";
    assert_eq!(
        ring("32 A", ", ring: yes", ", method: C", thin),
        (vec![], vec![fuse("R3")])
    );
    // A ring that is said but not closed is none.
    let open = with_circuits(
        "gb",
        RING,
        "  a: {kind: outlet}\n",
        "  R1: {from: C1, to: a, stock: t25, method: C}\n",
    );
    assert_eq!(found(&open, WIRE), [("C1".into(), Hazard)]);
}

#[test]
fn the_smallest_conductor_counts_wherever_it_is() {
    let ends = "  pot: {kind: box}\n  a: {kind: light, load: 60 W}\n";
    let runs = |spare: &str| {
        format!(
            "  P1: {{from: C1, to: pot, stock: w12}}\n  P2: {{from: pot, to: a, stock: w14{spare}}}\n"
        )
    };
    assert_eq!(found(&us(ends, &runs("")), WIRE), [("C1".into(), Hazard)]);
    assert!(found(&us(ends, &runs(", spare: yes")), WIRE).is_empty());
    let review = reviewed(&us(ends, &runs("")), WIRE);
    let on: Vec<_> = review.findings[0]
        .on
        .iter()
        .map(ToString::to_string)
        .collect();
    assert_eq!(on, ["C1", "P2"]);
    assert_eq!(review.findings[0].redlines[0].title, "pull P2 as w12");
    // A motor circuit may have a larger breaker.
    let motor = us(
        "  a: {kind: motor, load: 60 W}\n",
        "  P1: {from: C1, to: a, stock: w14}\n",
    );
    assert!(found(&motor, WIRE).is_empty());
    assert_eq!(gaps(&motor, WIRE).len(), 1);
    let unstated = us(ends, "  P1: {from: C1, to: a, carries: power}\n");
    assert_eq!(gaps(&unstated, WIRE), ["stock of P1"]);
    let none = with_circuits(
        "us",
        "  C1: {volts: 120 V}\n",
        ends,
        "  P1: {from: C1, to: a, stock: w14}\n",
    );
    assert_eq!(gaps(&none, WIRE), ["breaker of C1"]);
    assert!(gaps(&us(ends, "  P1: {from: pot, to: a, stock: w14}\n"), WIRE).is_empty());
}

#[test]
fn a_smaller_breaker_only_where_the_load_allows_it() {
    let title = |load: &str| {
        let text = wire("us", "20 A", "cores: 2 x 14 AWG", "").replace("load: 60 W", load);
        reviewed(&text, WIRE).findings[0]
            .redlines
            .first()
            .map(|redline| redline.title.clone())
    };
    assert_eq!(
        title("load: 60 W").as_deref(),
        Some("fit a 15 A breaker for C1")
    );
    // 1440 W for hours: 1.25 x 12 A = 15 A; a watt more is too much.
    assert_eq!(
        title("load: 1440 W, duty: continuous").as_deref(),
        Some("fit a 15 A breaker for C1")
    );
    assert_eq!(title("load: 1441 W, duty: continuous"), None);
    assert_eq!(title("volts: 120 V"), None);
}

/// NEC 210.20(A): 125 % of continuous load and the rest; CEC 8-104 from memory: 80 %.
#[test]
fn load_against_the_breaker() {
    let at = |region: &str, circuit: &str, load: &str| {
        let text = with_circuits(
            region,
            &format!("  C1: {{{circuit}}}\n"),
            &format!("  a: {{kind: light, {load}}}\n"),
            "  P1: {from: C1, to: a, stock: w12, length: 10 ft}\n",
        );
        (found(&text, LOAD), gaps(&text, LOAD))
    };
    let fine = (vec![], vec![]);
    let wrong = (vec![("C1".to_owned(), Hazard)], vec![]);
    let twenty = "breaker: 20 A, volts: 120 V";
    for region in ["us", "ca"] {
        assert_eq!(at(region, twenty, "load: 1920 W, duty: continuous"), fine);
        assert_eq!(at(region, twenty, "load: 1921 W, duty: continuous"), wrong);
        assert_eq!(at(region, twenty, "load: 2400 W"), fine);
        assert_eq!(at(region, twenty, "load: 2401 W"), wrong);
    }
    for region in ["gb", "eu", "au"] {
        assert_eq!(
            at(
                region,
                "breaker: 32 A, volts: 230 V",
                "load: 7360 W, duty: continuous"
            ),
            fine
        );
        assert_eq!(
            at(region, "breaker: 32 A, volts: 230 V", "load: 7.361 kW"),
            wrong
        );
    }
    assert_eq!(
        at("us", "volts: 120 V", "load: 1 W"),
        (vec![], vec!["breaker of C1".into()])
    );
    assert_eq!(
        at("us", "breaker: 20 A", "load: 1 W"),
        (vec![], vec!["volts of C1".into()])
    );
    assert_eq!(
        at("us", twenty, "volts: 120 V"),
        (vec![], vec!["load of a".into()])
    );
}

#[test]
fn a_known_sum_over_is_found_though_a_load_is_missing() {
    let text = us(
        "  a: {kind: light, load: 2000 W, duty: continuous}\n  b: {kind: appliance}\n  seat: {kind: seat}\n",
        "  P1: {from: C1, to: a, stock: w12}\n  P2: {from: a, to: b, stock: w12}\n  P3: {from: C2, to: seat, stock: w12}\n",
    );
    assert_eq!(found(&text, LOAD), [("C1".into(), Hazard)]);
    assert!(gaps(&text, LOAD).is_empty());
    let review = reviewed(&text, LOAD);
    assert!(
        review.findings[0].says.contains("at least"),
        "{}",
        review.findings[0].says
    );
    let figure = review.findings[0].figure.as_ref().expect("a figure");
    assert!(
        figure
            .working
            .starts_with("1.25 × 16.67 A continuous (2000 W ÷ 120 V"),
        "{}",
        figure.working
    );
    near(figure.value, 1.25 * 2000.0 / 120.0);
}

#[test]
fn a_subwoofer_with_lights_and_others() {
    let with = |rest: &str, runs: &str| {
        us(
            &format!(
                "  pot: {{kind: box}}\n  sub: {{kind: subwoofer, load: 600 W, peak: 1500 W}}\n{rest}"
            ),
            &format!(
                "  P1: {{from: C1, to: pot, stock: w12, length: 40 ft}}\n  P2: {{from: pot, to: sub, stock: w12, length: 15 ft}}\n{runs}"
            ),
        )
    };
    let to = |id: &str| format!("  P3: {{from: pot, to: {id}, stock: w12, length: 20 ft}}\n");
    let lamp = with("  lamp: {kind: light, load: 60 W}\n", &to("lamp"));
    assert_eq!(found(&lamp, SUB), [("C1".into(), Fault)]);
    // 7.5 A more in the 40 ft that they share: 1.158 V of 120 V.
    let review = reviewed(&lamp, SUB);
    let dip = review.findings[0].figure.as_ref().expect("a figure");
    near(dip.value, 7.5 * 2.0 * 40.0 * 1.93e-3 / 1.2);
    assert_eq!(dip.name, "lamp-dip");
    assert_eq!(
        found(
            &with("  fridge: {kind: appliance, load: 60 W}\n", &to("fridge")),
            SUB
        ),
        [("C1".into(), Advice)]
    );
    let both = with(
        "  lamp: {kind: light, load: 60 W}\n  tv: {kind: display, load: 60 W, at-outlet: pot}\n",
        &to("lamp"),
    );
    assert_eq!(
        found(&both, SUB),
        [("C1".into(), Fault), ("C1".into(), Advice)]
    );
    // The rack, what stands in it, and other audio are the cure for hum.
    let rack = with(
        "  rack: {kind: rack, load: 60 W}\n  hub: {kind: router, in: rack, load: 5 W}\n  amp: {kind: amplifier, load: 5 W, at-outlet: pot}\n",
        &to("rack"),
    );
    assert!(found(&rack, SUB).is_empty());
    // On another circuit, or passive: nothing to say.
    let apart = with(
        "  lamp: {kind: light, load: 60 W}\n",
        "  P3: {from: C2, to: lamp, stock: w12}\n",
    );
    assert!(found(&apart, SUB).is_empty());
    assert!(found(&lamp.replace("subwoofer, ", "subwoofer, active: no, "), SUB).is_empty());
    // No peak stated: the finding stands without the figure.
    let unknown = lamp.replace(", peak: 1500 W", "");
    assert_eq!(found(&unknown, SUB), [("C1".into(), Fault)]);
    assert!(reviewed(&unknown, SUB).findings[0].figure.is_none());
}

#[test]
fn a_dedicated_circuit_feeds_what_it_serves_and_what_belongs_to_it() {
    let with = |serves: &str, ends: &str, runs: &str| {
        with_circuits(
            "us",
            &format!("  C1: {{breaker: 20 A, volts: 120 V, serves: {serves}}}\n"),
            ends,
            runs,
        )
    };
    let wrong = [("C1".to_owned(), Fault)];
    let rack = "  rack: {kind: rack, load: 900 W}\n  amp: {kind: amplifier, in: rack}\n  pj: {kind: projector, load: 300 W}\n  o: {kind: outlet}\n  tv: {kind: display, load: 100 W, at-outlet: o}\n";
    let feed = "  P1: {from: C1, to: rack, stock: w12}\n";
    assert!(found(&with("rack", rack, feed), ALONE).is_empty());
    // Fed through the rack, or from what stands in it.
    assert!(
        found(
            &with(
                "rack",
                rack,
                &format!("{feed}  P2: {{from: rack, to: pj, stock: w12}}\n")
            ),
            ALONE
        )
        .is_empty()
    );
    assert!(
        found(
            &with(
                "rack",
                rack,
                &format!("{feed}  P2: {{from: amp, to: pj, stock: w12}}\n")
            ),
            ALONE
        )
        .is_empty()
    );
    // Beside it.
    assert_eq!(
        found(
            &with(
                "rack",
                rack,
                &format!("{feed}  P2: {{from: C1, to: pj, stock: w12}}\n")
            ),
            ALONE
        ),
        wrong
    );
    // An outlet is no consumer, what is plugged into it is.
    let outlet = format!("{feed}  P2: {{from: C1, to: o, stock: w12}}\n");
    assert_eq!(found(&with("rack", rack, &outlet), ALONE), wrong);
    assert!(found(&with("[rack, tv]", rack, &outlet), ALONE).is_empty());
    assert!(found(&with("[rack, o]", rack, &outlet), ALONE).is_empty());
    // Through any other served node it does not belong.
    let sub = "  sub: {kind: subwoofer, load: 600 W}\n  pj: {kind: projector, load: 300 W}\n";
    let chain = "  P1: {from: C1, to: sub, stock: w12}\n  P2: {from: sub, to: pj, stock: w12}\n";
    assert_eq!(found(&with("sub", sub, chain), ALONE), wrong);
    let guard = "  ups: {kind: power-conditioner, load: 20 W, protects: [surge, battery]}\n  sub: {kind: subwoofer, load: 600 W}\n  pj: {kind: projector, load: 300 W}\n";
    let guarded = "  P1: {from: C1, to: ups, stock: w12}\n  P2: {from: ups, to: sub, stock: w12}\n  P3: {from: ups, to: pj, stock: w12}\n";
    assert!(found(&with("ups", guard, guarded), ALONE).is_empty());
    // A conditioner ahead of what is served is its wiring; what else it feeds is not.
    let found_there = reviewed(&with("sub", guard, guarded), ALONE);
    let on: Vec<_> = found_there.findings[0]
        .on
        .iter()
        .map(ToString::to_string)
        .collect();
    assert_eq!(on, ["C1", "pj"]);
    // A thing of unknown kind may be a consumer.
    let vague = with(
        "sub",
        "  sub: {kind: subwoofer}\n  x: {room: }\n",
        "  P1: {from: C1, to: sub, stock: w12}\n  P2: {from: C1, to: x, stock: w12}\n",
    );
    assert_eq!(gaps(&vague, ALONE), ["kind of x"]);
    assert!(found(&us(sub, chain), ALONE).is_empty());
}

/// A chain of lights, each over the limit: every one is found, and the work stays in proportion.
#[test]
fn a_long_chain_is_judged_to_its_end() {
    let count = 3000;
    let mut ends = String::new();
    let mut runs = String::new();
    for n in 0..count {
        ends += &format!("  n{n}: {{kind: light, load: 1 W}}\n");
        let from = if n == 0 {
            "C1".to_owned()
        } else {
            format!("n{}", n - 1)
        };
        runs += &format!("  P{n}: {{from: {from}, to: n{n}, stock: w12, length: 30 ft}}\n");
    }
    let review = reviewed(&us(&ends, &runs), DROP);
    assert_eq!(review.checks, count);
    assert!(review.findings.len() > 2900, "{}", review.findings.len());
    assert!(review.findings.iter().all(|found| {
        found
            .figure
            .as_ref()
            .is_some_and(|figure| figure.value > 3.0)
    }));
    assert_eq!(found(&us(&ends, &runs), LOAD), [("C1".into(), Hazard)]);
}

/// The subwoofer that makes the light dip most is the one named, whichever comes first in the tree.
#[test]
fn the_greatest_dip_is_of_any_subwoofer() {
    let text = "nailplate: 1\nregion: us\nbuilding: one-family\nstock:\n  nm: {for: power, cores: 2 x 12 AWG + earth, rating: NM-B}\n\
        circuits:\n  C1: {breaker: 20 A, volts: 120 V}\nendpoints:\n  s1: {kind: subwoofer, load: 100 W, peak: 200 W}\n\
        \x20 s2: {kind: subwoofer, load: 100 W, peak: 1500 W}\n  lz: {kind: light, load: 60 W}\nruns:\n\
        \x20 A: {from: C1, to: s1, stock: nm, length: 20 ft}\n  B: {from: s1, to: s2, stock: nm, length: 200 ft}\n\
        \x20 D: {from: s2, to: lz, stock: nm, length: 10 ft}\n";
    let review = nailplate::review::review_text(
        std::path::Path::new("a.plan.yaml"),
        text.into(),
        &super::Shelf,
        nailplate::review::Selection::Only("power.subwoofer-shares"),
    );
    let Ok(review) = review else {
        panic!("the plan is YAML")
    };
    let figure = review.findings[0].figure.as_ref().expect("a dip");
    // (1500 - 100) / 120 × 2 × 220 ft × 1.93 ohm/1000 ft / 120 = 8.26 %
    assert!((figure.value - 8.257).abs() < 0.01, "{}", figure.value);
    assert!(review.findings[0].on.iter().any(|id| id.as_str() == "s2"));
}
