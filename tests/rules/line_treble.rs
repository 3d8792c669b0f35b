//! Where a line loses treble. Figures: f = 1 / (2πRC), handbook formula ("Interconnect: capacitance and source
//! impedance"); the limit of 40 kHz is common practice, no source.

use super::{edited, found, gaps, reviewed};
use nailplate::findings::Level::Fault;

const RULE: &str = "line.treble-lost";

fn plan(region: &str, runs: &str) -> String {
    format!(
        "nailplate: 1\nregion: {region}\nstock:\n  c100: {{for: line, capacitance: 100 pF/m}}\n  c30: {{for: line, capacitance: 30 pF/m}}\n  none: {{for: line}}\n  zero: {{for: line, capacitance: 0 pF/m}}\n\
         endpoints:\n  k1: {{kind: source, output-impedance: 1 kohm}}\n  k22: {{kind: source, output-impedance: 2.2 kohm}}\n  mute: {{kind: source}}\n  rack: {{kind: rack, output-impedance: 2.2 kohm}}\n  patch: {{kind: patch-panel, in: rack}}\n  plate: {{kind: wall-plate}}\n  other: {{kind: wall-plate}}\n\
         \x20 amp: {{kind: amplifier}}\n  amp2: {{kind: amplifier}}\n  sub: {{kind: subwoofer}}\n  odd: {{notes: what is it}}\nruns:\n{runs}"
    )
}

fn one(rest: &str) -> String {
    plan("gb", &format!("  L1: {{{rest}}}\n"))
}

#[test]
fn the_figure_and_its_limit() {
    // IC03 of the worked examples (computed): 1 kohm into 10 m of 100 pF/m, 159155 Hz: well above.
    let ic03 = one("from: k1, to: amp, stock: c100, length: 10 m");
    assert!(found(&ic03, RULE).is_empty() && gaps(&ic03, RULE).is_empty());
    // At 40 kHz exactly: IC04 (computed) is 12.06 m for 2.2 kohm, 100 pF/m and 60 kHz, so 18.09 m for 40 kHz.
    for region in ["us", "ca", "gb", "eu", "au"] {
        let at = |length: &str| plan(region, &format!("  L1: {{from: k22, to: amp, stock: c100, length: {length}}}\n"));
        assert!(found(&at("18.08 m"), RULE).is_empty(), "{region}");
        assert_eq!(found(&at("18.09 m"), RULE), [("L1".into(), Fault)], "{region}");
    }
    let review = reviewed(&one("from: k22, to: amp, stock: c100, length: 36.18 m"), RULE);
    let figure = review.findings[0].figure.as_ref().expect("a corner");
    assert!((figure.value - 20_000.0).abs() < 20.0, "{}", figure.value);
    assert!(review.findings[0].says.ends_with("it is 3 dB down at 20 kHz, advised is 40 kHz or more"), "{}", review.findings[0].says);
    assert!(review.findings[0].put_right.as_ref().is_some_and(|words| words.contains("1.1 kohm or less")), "{:?}", review.findings[0].put_right);
}

#[test]
fn all_cable_on_the_source_counts() {
    // In series by a plate, and hung on as a branch: each 10 m of 18.09 m allowed.
    let series = plan("us", "  L1: {from: k22, to: plate, stock: c100, length: 10 m}\n  L2: {from: plate, to: amp, stock: c100, length: 10 m}\n");
    assert_eq!(found(&series, RULE), [("L1".into(), Fault)]);
    let branch = plan("us", "  L1: {from: k22, to: plate, stock: c100, length: 7 m}\n  L2: {from: plate, to: amp, stock: c100, length: 6 m}\n  L3: {from: plate, to: amp2, stock: c100, length: 6 m}\n");
    assert_eq!(found(&branch, RULE), [("L1".into(), Fault)]);
    // The rack's own output stands behind its patch panel, and behind a run written the other way round.
    assert_eq!(found(&one("from: patch, to: amp, stock: c100, length: 20 m"), RULE), [("L1".into(), Fault)]);
}

#[test]
fn only_what_carries_treble() {
    let long = "stock: c100, length: 90 m";
    assert!(found(&one(&format!("from: k22, to: sub, {long}")), RULE).is_empty());
    assert!(gaps(&one("from: mute, to: sub, stock: none"), RULE).is_empty());
    assert!(found(&one(&format!("from: k22, to: amp, {long}, spare: yes")), RULE).is_empty());
    // A branch to an amplifier makes it full-range.
    let both = plan("us", "  L1: {from: k22, to: plate, stock: c100, length: 90 m}\n  L2: {from: plate, to: amp, stock: c100, length: 1 m}\n  L3: {from: plate, to: sub, stock: c100, length: 1 m}\n");
    assert_eq!(found(&both, RULE), [("L1".into(), Fault)]);
    // What stands at the end matters only where treble is lost.
    assert_eq!(gaps(&one(&format!("from: k22, to: odd, {long}")), RULE), ["kind of odd"]);
    assert_eq!(gaps(&one(&format!("from: k22, to: plate, {long}")), RULE), ["what plate leads to"]);
    assert!(gaps(&one("from: k22, to: odd, stock: c100, length: 2 m"), RULE).is_empty());
}

#[test]
fn what_is_missing_is_said_once() {
    assert_eq!(gaps(&one("from: mute, to: amp, stock: none"), RULE), ["output-impedance of mute", "capacitance of none", "length of L1"]);
    let two = plan("us", "  L1: {from: mute, to: amp, stock: none, length: 2 m}\n  L2: {from: mute, to: amp2, stock: none, length: 2 m}\n");
    assert_eq!(gaps(&two, RULE), ["output-impedance of mute", "capacitance of none"]);
    assert_eq!(gaps(&one("from: k22, to: amp, stock: zero, length: 2 m"), RULE), ["a capacitance above zero on L1"]);
    assert_eq!(gaps(&one("from: plate, to: amp, stock: c100, length: 2 m"), RULE), ["a device that L1 comes from"]);
    let ring = plan("us", "  L1: {from: k22, to: plate, stock: c100, length: 9 m}\n  L2: {from: plate, to: other, stock: c100, length: 9 m}\n  L3: {from: other, to: plate, stock: c100, length: 9 m}\n  L4: {from: other, to: amp, stock: c100, length: 9 m}\n");
    assert!(found(&ring, RULE).is_empty());
    assert_eq!(gaps(&ring, RULE).len(), 1);
}

#[test]
fn a_stock_of_less_capacitance_puts_it_right() {
    let text = plan("us", "  L1: {from: k22, to: plate, stock: c100, length: 20 m}\n  L2: {from: plate, to: amp, stock: c100, length: 20 m}\n");
    let right = edited(&text, RULE);
    assert_eq!(right.matches("stock: c30,").count(), 2);
    assert!(found(&right, RULE).is_empty());
    // 30 of 100 pF/m is not enough for 80 m.
    let long = one("from: k22, to: amp, stock: c100, length: 80 m");
    assert!(reviewed(&long, RULE).findings[0].redlines.is_empty());
}
