//! Power stock that does not say its metal, and what the power rules advise.

use nailplate::findings::Level::{Advice, Fault, Hazard};

use super::{edited, found, gaps, reviewed};

const WIRE: &str = "power.breaker-over-wire";
const LOAD: &str = "power.breaker-overloaded";
const DROP: &str = "power.voltage-drop";
const SUB: &str = "power.subwoofer-shares";

/// One circuit, one run, one load; `stock` are its keys after `for`.
fn one(region: &str, circuit: &str, stock: &str, load: &str, run: &str) -> String {
    format!(
        "nailplate: 1\nregion: {region}\nstock:\n  w: {{for: power, {stock}}}\ncircuits:\n  C1: {{{circuit}}}\nendpoints:\n  a: {{{load}}}\nruns:\n  P1: {{from: C1, to: a, stock: w{run}}}\n"
    )
}

/// P = √3 × V × I (definition, power factor 1): 16 A of three phases of 400 V carry 11.09 kW, 20 A of 208 V 7.2 kW. Between
/// two lines √3 conductors' worth is lost: 10.1 A over 30 m of 2.5 mm2 at 8.87 ohm/km lose 4.66 V, 1.2 %.
#[test]
fn three_phases() {
    let at = |region: &str, circuit: &str, load: &str, run: &str| one(region, circuit, "cores: 4 x 2.5 mm2 + earth, material: copper", &format!("kind: appliance, load: {load}"), run);
    for (region, circuit, load, wrong) in [
        ("eu", "breaker: 16 A, volts: 400 V, poles: 3", "11000 W", false), ("eu", "breaker: 16 A, volts: 400 V, poles: 4", "11000 W", false), ("eu", "breaker: 16 A, volts: 400 V, poles: 3", "11200 W", true),
        ("eu", "breaker: 16 A, volts: 400 V, poles: 2", "6500 W", true), ("us", "breaker: 20 A, volts: 208 V, poles: 3", "7100 W", false), ("us", "breaker: 20 A, volts: 208 V, poles: 2", "7100 W", true),
    ] {
        let text = at(region, circuit, load, "");
        assert_eq!((found(&text, LOAD).len(), gaps(&text, LOAD)), (usize::from(wrong), vec![]), "{region} {circuit} {load}");
    }
    let unsaid = at("eu", "breaker: 16 A, volts: 400 V", "7000 W", ", length: 30 m");
    assert_eq!((gaps(&unsaid, LOAD), gaps(&unsaid, DROP)), (vec!["poles of C1".to_owned()], vec!["poles of C1".to_owned()]));
    for (length, wrong) in [("30 m", false), ("128 m", false), ("130 m", true)] {
        let text = at("eu", "breaker: 16 A, volts: 400 V, poles: 3", "7000 W", &format!(", length: {length}"));
        assert_eq!(found(&text, DROP).len(), usize::from(wrong), "{length}");
    }
    let review = reviewed(&at("eu", "breaker: 16 A, volts: 400 V, poles: 3", "7000 W", ", length: 130 m"), DROP);
    let figure = review.findings[0].figure.as_ref().expect("a figure");
    assert_eq!(figure.working, "√3 × 130 m × 8.87 Ω/km × 10.1 A = 20.2 V, 5.04 % of 400 V at 70 °C; drop ahead of C1's breaker not stated and not counted");
}

/// NEC 210.23(A)(1): one load on a plug takes no more than 80 % of a circuit of 15 or 20 A that feeds more; that a circuit of its
/// own is another matter is from memory.
#[test]
fn one_device_on_a_plug() {
    let at = |region: &str, breaker: &str, load: &str, more: &str| {
        let text = one(region, &format!("breaker: {breaker}, volts: 120 V"), "cores: 2 x 10 AWG + earth, rating: NM-B, material: copper", "kind: outlet", "");
        text.replace("runs:\n", &format!("  b: {{kind: amplifier, load: {load}, at-outlet: a}}\n  c: {{kind: {more}}}\nruns:\n  P2: {{from: a, to: c, stock: w}}\n"))
    };
    for (region, breaker, load, more, wrong) in [
        ("us", "15 A", "1440 W", "outlet", false), ("us", "15 A", "1450 W", "outlet", true), ("us", "15 A", "1450 W", "box", false), ("us", "20 A", "1920 W", "outlet", false), ("us", "20 A", "1930 W", "light, load: 10 W", true),
        ("us", "30 A", "3400 W", "outlet", false), ("ca", "15 A", "1450 W", "outlet", false),
    ] {
        let expected = if wrong { vec![("C1".to_owned(), Fault)] } else { vec![] };
        assert_eq!(found(&at(region, breaker, load, more), LOAD), expected, "{region} {breaker} {load} {more}");
    }
    let text = at("us", "15 A", "1800 W", "outlet");
    let review = reviewed(&text, LOAD);
    assert_eq!(review.findings[0].says, "C1 carries 15 A of b alone, which is on a plug, allowed is 12 A");
    assert_eq!(review.findings[0].put_right.as_deref(), Some("plug b in at an outlet with a circuit of its own"));
    // A rack on one plug is many devices.
    assert!(found(&text.replace("kind: amplifier", "kind: rack"), LOAD).is_empty());
}

/// BS 7671 appendix 4 table 4Ab: 3 % for lighting, 5 % for other uses; a lamp on a plug is a use of its socket (from memory).
#[test]
fn a_lamp_on_a_plug_is_no_lighting() {
    let text = one("gb", "breaker: 20 A, volts: 230 V", "cores: 2 x 2.5 mm2 + earth, material: copper", "kind: outlet", ", length: 30 m")
        .replace("runs:\n", "  b: {kind: amplifier, load: 3000 W, at-outlet: a}\n  c: {kind: light, load: 10 W, at-outlet: a}\nruns:\n");
    assert_eq!(found(&text, DROP), []);
    let wired = text.replace("load: 10 W, at-outlet: a", "load: 10 W") + "  P2: {from: a, to: c, stock: w, length: 1 m}\n";
    assert_eq!(found(&wired, DROP), [("c".to_owned(), Fault)]);
}

fn advice(text: &str, rule: &str) -> String {
    let review = reviewed(text, rule);
    assert_eq!(review.findings.len(), 1, "{text}");
    review.findings[0].put_right.clone().unwrap_or_default()
}

/// NEC 240.4(D): copper 12 and 10 AWG 20 and 30 A, aluminium 15 and 25 A (rows of aluminium from memory).
#[test]
fn a_breaker_over_wire_of_unknown_metal() {
    let at = |region: &str, breaker: &str, cores: &str, run: &str| {
        let text = one(region, &format!("breaker: {breaker}, volts: 120 V"), &format!("cores: 2 x {cores}, rating: NM-B"), "kind: light, load: 60 W", run);
        (found(&text, WIRE), gaps(&text, WIRE))
    };
    let (fine, wrong) = ((vec![], vec![]), (vec![("C1".to_owned(), Hazard)], vec![]));
    let open = (vec![], vec!["material of w".to_owned()]);
    for region in ["us", "ca"] {
        for (breaker, cores, got) in [
            ("15 A", "12 AWG", &fine), ("20 A", "12 AWG", &open), ("25 A", "12 AWG", &wrong),
            ("25 A", "10 AWG", &fine), ("30 A", "10 AWG", &open), ("35 A", "10 AWG", &wrong),
            // Aluminium is not made so thin: it is copper.
            ("15 A", "14 AWG", &fine), ("20 A", "14 AWG", &wrong),
        ] {
            assert_eq!(&at(region, breaker, cores, ""), got, "{region} {breaker} {cores}");
        }
    }
    // 8 AWG in the 60 °C column: copper 40 A, aluminium 30 A (from memory).
    assert_eq!(at("us", "30 A", "8 AWG", ""), fine);
    assert_eq!(at("us", "40 A", "8 AWG", ""), open);
    assert_eq!(at("us", "50 A", "8 AWG", ""), wrong);
    // BS 7671: no aluminium below 16 mm2 (from memory).
    assert_eq!(at("gb", "20 A", "2.5 mm2", ", method: C"), fine);
    assert_eq!(at("gb", "63 A", "16 mm2", ", method: C"), open);
    // Loud, once for the stock however many runs, and said where copper fails as well.
    let text = one("us", "breaker: 20 A, volts: 120 V", "cores: 2 x 12 AWG", "kind: box", "") + "  P2: {from: a, to: C1, stock: w, spare: yes}\n  P3: {from: C1, to: a, stock: w}\n";
    let review = reviewed(&text, WIRE);
    assert_eq!(review.gaps.len(), 1);
    assert!(review.gaps[0].loud && review.gaps[0].on[0].as_str() == "w");
    let text = one("us", "breaker: 25 A, volts: 120 V", "cores: 2 x 12 AWG", "kind: light, load: 60 W", "");
    let review = reviewed(&text, WIRE);
    let figure = review.findings[0].figure.as_ref().expect("a figure");
    assert!(figure.working.contains("copper taken, none stated"), "{}", figure.working);
}

/// NEC chapter 9 table 8 at 75 °C: 12 AWG copper 1.93, aluminium 3.18 ohm/1000 ft (aluminium from memory). 12 A on 120 V:
/// 3 % is 3.6 V, which copper reaches at 77.7 ft and aluminium at 47.2 ft.
#[test]
fn a_drop_in_wire_of_unknown_metal() {
    let at = |material: &str, length: &str| {
        let text = one("us", "breaker: 20 A, volts: 120 V", &format!("cores: 2 x 12 AWG{material}"), "kind: appliance, load: 1440 W", &format!(", length: {length}"));
        (found(&text, DROP), gaps(&text, DROP))
    };
    let (fine, advised) = ((vec![], vec![]), (vec![("a".to_owned(), Advice)], vec![]));
    let open = (vec![], vec!["material of w".to_owned()]);
    assert_eq!(at("", "47 ft"), fine);
    assert_eq!(at("", "47.3 ft"), open);
    assert_eq!(at("", "77 ft"), open);
    assert_eq!(at("", "78 ft"), advised);
    assert_eq!(at(", material: copper", "77 ft"), fine);
    assert_eq!(at(", material: aluminium", "47.3 ft"), advised);
    assert_eq!(at(", material: steel", "47.3 ft"), fine);
    let text = one("us", "breaker: 20 A, volts: 120 V", "cores: 2 x 12 AWG", "kind: appliance, load: 1440 W", ", length: 78 ft");
    let review = reviewed(&text, DROP);
    let working = &review.findings[0].figure.as_ref().expect("a figure").working;
    assert!(working.contains("copper taken, none stated"), "{working}");
    let said = reviewed(&text.replace("12 AWG", "12 AWG, material: copper"), DROP);
    assert!(!said.findings[0].figure.as_ref().expect("a figure").working.contains("taken"));
    // A run of known metal behind one of unknown: the doubt goes on with it. 40 ft of either and 30 ft of copper.
    let chain = |second: &str| format!("nailplate: 1\nregion: us\nstock:\n  w: {{for: power, cores: 2 x 12 AWG}}\n  c: {{for: power, cores: 2 x 12 AWG, material: copper}}\ncircuits:\n  C1: {{breaker: 20 A, volts: 120 V}}\nendpoints:\n  pot: {{kind: box}}\n  a: {{kind: appliance, load: 1440 W}}\nruns:\n  P1: {{from: C1, to: pot, stock: w, length: 40 ft}}\n  P2: {{from: pot, to: a, stock: c, length: {second}}}\n");
    assert!(gaps(&chain("10 ft"), DROP).is_empty());
    assert_eq!(gaps(&chain("13 ft"), DROP), ["material of w"]);
    // A feeder counts in both. The limit from the service is 5 %: 47 ft of aluminium alone lose 3 %.
    let fed = one("us", "breaker: 20 A, volts: 120 V, feeder-drop: 2.5 %", "cores: 2 x 12 AWG", "kind: appliance, load: 1440 W", ", length: 47 ft");
    assert_eq!((found(&fed, DROP), gaps(&fed, DROP)), (vec![], vec!["material of w".into()]));
    // Around a ring too; below 16 mm2 it is copper (IEC 60364-5-52, from memory).
    let ring = |size: &str| format!("nailplate: 1\nregion: gb\nstock:\n  w: {{for: power, cores: 2 x {size}}}\ncircuits:\n  C1: {{breaker: 32 A, volts: 230 V, ring: yes}}\nendpoints:\n  a: {{kind: appliance, load: 7000 W}}\nruns:\n  P1: {{from: C1, to: a, stock: w, length: 250 m}}\n  P2: {{from: a, to: C1, stock: w, length: 250 m}}\n");
    assert_eq!(gaps(&ring("16 mm2"), DROP), ["material of w"]);
    assert!(gaps(&ring("16 mm2, material: copper"), DROP).is_empty());
    assert!(gaps(&ring("10 mm2").replace("250 m", "150 m"), DROP).is_empty());
}

/// BS EN 60898 preferred ratings and BS 7671 table 4D5, from memory: 2.5 mm2 27 A and 4 mm2 37 A by method C.
#[test]
fn breakers_and_cables_that_are_made() {
    let gb = |method: &str, load: &str| one("gb", "breaker: 32 A, volts: 230 V", "cores: 2 x 2.5 mm2 + earth", load, method);
    let small = "kind: light, load: 60 W";
    assert_eq!(advice(&gb(", method: C", small), WIRE), "pull 4 mm2 copper or thicker, or fit a breaker of 25 A or less");
    assert!(edited(&gb(", method: C", small), WIRE).contains("breaker: 25 A"));
    assert_eq!(advice(&gb(", method: A", small), WIRE), "pull 6 mm2 copper or thicker, or fit a breaker of 20 A or less");
    assert_eq!(advice(&gb("", small), WIRE), "pull 4 mm2 copper or thicker (by method C, the most generous), or fit a breaker of 25 A or less");
    // The load decides whether a smaller breaker is worth a word: 5750 W is 25 A.
    assert!(advice(&gb(", method: C", "kind: light, load: 5750 W"), WIRE).ends_with("25 A or less"));
    assert_eq!(advice(&gb(", method: C", "kind: light, load: 5751 W"), WIRE), "pull 4 mm2 copper or thicker");
    assert!(advice(&gb(", method: C", "kind: light"), WIRE).ends_with("25 A or less if the load allows it"));
    assert!(advice(&gb(", method: C", small).replace(", volts: 230 V", ""), WIRE).ends_with("if the load allows it"));
}

/// NEC 240.4(D) and 210.20(A).
#[test]
fn a_smaller_breaker_is_no_advice_where_the_load_is_known_to_be_more() {
    let us = |cores: &str, load: &str| one("us", "breaker: 20 A, volts: 120 V", &format!("cores: 2 x {cores} + earth, rating: NM-B, material: copper"), load, "");
    assert_eq!(advice(&us("14 AWG", "kind: light, load: 60 W"), WIRE), "pull 12 AWG copper or thicker, or fit a breaker of 15 A or less");
    assert_eq!(advice(&us("14 AWG", "kind: light, load: 1441 W, duty: continuous"), WIRE), "pull 12 AWG copper or thicker");
    assert_eq!(advice(&us("14 AWG", "kind: light"), WIRE), "pull 12 AWG copper or thicker, or fit a breaker of 15 A or less if the load allows it");
    // In part known, and that part is too much.
    let part = us("14 AWG", "kind: light, load: 1900 W").replace("runs:", "  b: {kind: light}\nruns:") + "  P2: {from: a, to: b, stock: w}\n";
    assert_eq!(advice(&part, WIRE), "pull 12 AWG copper or thicker");
    let stocked = us("14 AWG", "kind: light, load: 1900 W").replace("circuits:", "  w12: {for: power, cores: 2 x 12 AWG + earth, rating: NM-B, material: copper}\ncircuits:");
    assert_eq!(advice(&stocked, WIRE), "pull P1 as w12");
    assert_eq!(advice(&us("16 AWG", "kind: light, load: 60 W"), WIRE), "pull 12 AWG copper or thicker: no breaker of a branch circuit suits this conductor");
}

#[test]
fn a_part_that_is_nothing_is_no_part_of_the_sum() {
    let working = |loads: &str| {
        let text = format!("nailplate: 1\nregion: us\nstock:\n  w: {{for: power, cores: 2 x 12 AWG}}\ncircuits:\n  C1: {{breaker: 15 A, volts: 120 V}}\nendpoints:\n{loads}runs:\n  P1: {{from: C1, to: a, stock: w}}\n  P2: {{from: a, to: b, stock: w}}\n");
        reviewed(&text, LOAD).findings[0].figure.as_ref().expect("a figure").working.clone()
    };
    let a = "  a: {kind: appliance, load: 2400 W}\n";
    assert_eq!(working(&format!("{a}  b: {{kind: box}}\n")), "2400 W ÷ 120 V = 20 A");
    assert_eq!(working("  a: {kind: light, load: 2400 W, duty: continuous}\n  b: {kind: box}\n"), "1.25 × 20 A continuous (2400 W ÷ 120 V = 20 A) = 25 A");
    let both = working(&format!("{a}  b: {{kind: light, load: 240 W, duty: continuous}}\n"));
    assert_eq!(both, "1.25 × 2 A continuous (240 W ÷ 120 V = 2 A) + 20 A other (2400 W ÷ 120 V = 20 A) = 22.5 A");
}

#[test]
fn the_subwoofer_stays_with_the_rack() {
    let with = |more: &str, runs: &str| format!("nailplate: 1\nregion: us\nstock:\n  w: {{for: power, cores: 2 x 12 AWG}}\ncircuits:\n  C1: {{breaker: 20 A, volts: 120 V}}\nendpoints:\n  pot: {{kind: box}}\n  sub: {{kind: subwoofer, load: 600 W}}\n  lamp: {{kind: light, load: 60 W}}\n{more}runs:\n  P1: {{from: C1, to: pot, stock: w}}\n  P2: {{from: pot, to: sub, stock: w}}\n  P3: {{from: pot, to: lamp, stock: w}}\n{runs}");
    assert_eq!(advice(&with("", ""), SUB), "feed sub from a circuit of its own, or from the one that feeds the rack");
    let to = |id: &str| format!("  P4: {{from: pot, to: {id}, stock: w}}\n");
    for (id, what) in [("rack", "kind: rack"), ("amp", "kind: amplifier"), ("sub2", "kind: subwoofer"), ("left", "kind: speaker, active: yes")] {
        let text = with(&format!("  {id}: {{{what}, load: 90 W}}\n"), &to(id));
        assert_eq!(advice(&text, SUB), format!("feed lamp from another circuit; sub may stay on one with {id}"));
    }
    // With several, the rack is named.
    let all = with("  amp: {kind: amplifier, load: 9 W, at-outlet: pot}\n  rack: {kind: rack, load: 9 W}\n", &to("rack"));
    assert!(advice(&all, SUB).ends_with("with rack"));
}

/// 24 AWG of copper (25.7 ohm/1000 ft at 20 °C, ASTM B258, from memory; 31.2 at 75 °C) carries 60 % of 1300 W to a rack by one run and
/// 40 % by another: 4.33 A over 56 ft lose 7.57 V of 120. Thickening the first leaves that, so no edit is offered.
#[test]
fn no_edit_where_another_feed_loses_too_much() {
    let text = |second: &str| {
        format!(
            "nailplate: 1\nregion: us\nstock:\n  thin: {{for: power, cores: 2 x 24 AWG + earth, rating: NM-B, material: copper}}\n  nm-14: {{for: power, cores: 2 x 14 AWG + earth, rating: NM-B, material: copper}}\n\
             circuits:\n  C1: {{breaker: 20 A, volts: 120 V, serves: rack}}\n  C2: {{breaker: 20 A, volts: 120 V, serves: rack}}\n\
             endpoints: {{rack: {{kind: rack, load: 1300 W, inlets: 2, split: [60 %, 40 %]}}}}\n\
             runs:\n  P1: {{from: C1, to: rack, stock: thin, length: 28 ft}}\n  P2: {{from: C2, to: rack, stock: {second}, length: 28 ft}}\n"
        )
    };
    let both = reviewed(&text("thin"), DROP);
    assert!(both.findings[0].redlines.is_empty());
    let put_right = both.findings[0].put_right.as_deref().unwrap_or_default();
    assert!(put_right.starts_with("pull P1 as nm-14, and mend the other way to it, too, by which 6.3"), "{put_right}");
    let one = text("nm-14");
    assert!(edited(&one, DROP).contains("to: rack, stock: nm-14, length: 28 ft}\n  P2"));
}
