//! Data channels (TIA-568.2-D, ISO/IEC 11801, IEEE 802.3).

use nailplate::findings::Level::{Advice, Fault};

use super::{edited, found, gaps, reviewed};

const LONG: &str = "data.over-length";
const GRADE: &str = "data.undergraded";
const COPPER: &str = "data.not-copper";
const LOSS: &str = "data.insertion-loss";

/// A switch, a panel, two outlets and a camera; runs one a semicolon.
fn plan(region: &str, runs: &str) -> String {
    let runs = runs.split("; ").fold(String::new(), |all, run| all + "  " + run + "\n");
    format!(
        "nailplate: 1\nregion: {region}\nstock:\n  c5: {{for: data, grade: cat5e, rating: CM}}\n  c6: {{for: data, grade: cat6, rating: CM}}\n  \
         c6a: {{for: data, grade: cat6a, rating: CMR}}\n  c8: {{for: data, grade: cat8, rating: CM, shields: 2}}\n  bare: {{for: data, rating: CM}}\n  \
         c6f: {{for: data, grade: cat6, rating: CM, shields: 1}}\n  c6u: {{for: data, grade: cat6, rating: CM, shields: 0}}\n\
         endpoints:\n  sw: {{kind: switch}}\n  rack: {{kind: rack}}\n  panel: {{kind: distribution}}\n  out: {{kind: data-outlet}}\n  \
         out2: {{kind: data-outlet}}\n  cam: {{kind: camera}}\n  odd: {{room: hall}}\n  jack: {{kind: wall-plate}}\nrooms:\n  hall: {{kind: room}}\nruns:\n{runs}"
    )
}

#[track_caller]
fn case(rule: &str, runs: &str, expected: &[(&str, nailplate::findings::Level)], lacks: &[&str]) {
    let text = plan("us", runs);
    let expected: Vec<_> = expected.iter().map(|(id, level)| ((*id).to_owned(), *level)).collect();
    assert_eq!(found(&text, rule), expected, "{runs}");
    assert_eq!(gaps(&text, rule), lacks, "{runs}");
    for region in ["ca", "gb", "eu", "au"] {
        assert_eq!(found(&plan(region, runs), rule), expected, "{region}: {runs}");
    }
}

#[test]
fn ninety_metres_of_link() {
    // TIA-568.2-D, ISO/IEC 11801: 90 m of fixed cable, 100 m of channel (read in an article).
    case(LONG, "D1: {from: sw, to: out, stock: c6, length: 90 m}", &[], &[]);
    case(LONG, "D1: {from: sw, to: out, stock: c6, length: 90.1 m}", &[("D1", Fault)], &[]);
    case(LONG, "D1: {from: sw, to: out, stock: c6, length: 295 ft}", &[], &[]);
    case(LONG, "D1: {from: out, to: sw, stock: c5, length: 296 ft}", &[("D1", Fault)], &[]);
    case(LONG, "D1: {from: sw, to: out, stock: c6}", &[], &["length of D1"]);
    case(LONG, "D1: {from: sw, to: out, stock: c6, length: 400 m, spare: yes}", &[], &[]);
    // Cat 8: 24 m and 6 m of cords (from memory).
    case(LONG, "D1: {from: sw, to: out, stock: c8, length: 24 m, cords: 6 m}", &[], &[]);
    case(LONG, "D1: {from: sw, to: out, stock: c8, length: 24.1 m}", &[("D1", Fault)], &[]);
    case(LONG, "D1: {from: sw, to: out, stock: c8, length: 20 m, cords: 10.1 m}", &[("D1", Fault)], &[]);
}

#[test]
fn an_outlet_joins_two_runs_and_a_panel_parts_more() {
    case(LONG, "D1: {from: sw, to: out, stock: c6, length: 50 m}; D2: {from: out, to: cam, stock: c6, length: 41 m}", &[("D1", Fault)], &[]);
    case(LONG, "D1: {from: sw, to: panel, stock: c6, length: 50 m}; D2: {from: panel, to: cam, stock: c6, length: 40 m}", &[], &[]);
    case(LONG, "D1: {from: sw, to: panel, stock: c6, length: 50 m}; D2: {from: panel, to: cam, stock: c6, length: 41 m}", &[("D1", Fault)], &[]);
    let star = "D1: {from: panel, to: rack, stock: c6, length: 50 m}; D2: {from: panel, to: cam, stock: c6, length: 60 m}; D3: {from: panel, to: out, stock: c6, length: 91 m}";
    case(LONG, star, &[("D3", Fault)], &[]);
    // Two lines to the same rack are no ring.
    let pair = "D1: {from: panel, to: rack, stock: c6, length: 50 m}; D2: {from: panel, to: rack, stock: c6, length: 60 m}";
    case(LONG, pair, &[], &[]);
    case(LONG, &format!("{pair}; D3: {{from: panel, to: cam, stock: c6, length: 92 m}}"), &[("D3", Fault)], &[]);
    // Two home runs to a panel are two channels.
    case(LONG, "D1: {from: out, to: panel, stock: c6, length: 60 m}; D2: {from: panel, to: cam, stock: c6, length: 60 m}", &[], &[]);
}

#[test]
fn cords_take_from_the_link() {
    // ET06, ET07: TIA-568.0, C = (102 − H)/(1 + D), D = 0.2: 10 m at 90 m, 14.17 m at 85 m.
    case(LONG, "D1: {from: sw, to: out, stock: c6, length: 90 m, cords: 10 m}", &[], &[]);
    case(LONG, "D1: {from: sw, to: out, stock: c6, length: 90 m, cords: 11 m}", &[("D1", Fault)], &[]);
    case(LONG, "D1: {from: sw, to: out, stock: c6, length: 85 m, cords: 14.16 m}", &[], &[]);
    case(LONG, "D1: {from: sw, to: out, stock: c6, length: 85 m, cords: 14.2 m}", &[("D1", Fault)], &[]);
    let text = plan("gb", "D1: {from: sw, to: out, stock: c6, length: 85 m, cords: 14.5 m}");
    assert_eq!(reviewed(&text, LONG).findings[0].says, "D1 has 14.5 m of cords, 85 m of fixed cable leave room for 14.17 m");
    // Both runs of a channel may have their own.
    case(LONG, "D1: {from: sw, to: out, stock: c6, length: 40 m, cords: 9 m}; D2: {from: out, to: cam, stock: c6, length: 45 m, cords: 9 m}", &[("D1", Fault)], &[]);
}

#[test]
fn a_category_is_wanted_only_where_it_decides() {
    case(LONG, "D1: {from: sw, to: out, stock: bare, length: 24 m}", &[], &[]);
    case(LONG, "D1: {from: sw, to: out, stock: bare, length: 50 m}; D2: {from: sw, to: out2, stock: bare, length: 50 m}", &[], &["grade of bare"]);
    case(LONG, "D1: {from: sw, to: out, stock: bare, length: 91 m}", &[("D1", Fault)], &[]);
    case(LONG, "D1: {from: sw, to: out, carries: data, length: 91 m}", &[("D1", Fault)], &[]);
    case(LONG, "D1: {from: sw, to: out, carries: data, length: 30 m}", &[], &["stock of D1"]);
}

#[test]
fn ten_gigabits_on_category_6() {
    // TSB-155, read: 37 m, 55 m with alien crosstalk under control. IEEE 802.3an, read: 100 m on Cat 6A.
    let run = |stock: &str, length: &str, rest: &str| format!("D1: {{from: sw, to: out, stock: {stock}, length: {length}, rate: 10 Gbit/s{rest}}}");
    case(GRADE, &run("c6", "27 m", ""), &[], &[]);
    case(GRADE, &run("c6", "28 m", ""), &[], &["cords of D1"]);
    case(GRADE, &run("c6", "28 m", ", cords: 9 m"), &[], &[]);
    case(GRADE, &run("c6", "28 m", ", cords: 9.1 m"), &[("D1", Advice)], &[]);
    case(GRADE, &run("c6", "37.5 m", ""), &[("D1", Advice)], &[]);
    case(GRADE, &run("c6", "55 m", ", cords: 0 m"), &[("D1", Advice)], &[]);
    case(GRADE, &run("c6", "180 ft", ", cords: 2 ft"), &[("D1", Fault)], &[]);
    case(GRADE, &run("c6a", "90 m", ""), &[], &[]);
    case(GRADE, &run("c5", "2 m", ""), &[("D1", Fault)], &[]);
    case(GRADE, &run("bare", "2 m", ""), &[], &["grade of bare"]);
    let text = plan("us", &run("c6", "190 ft", ""));
    let review = reviewed(&text, GRADE);
    assert_eq!(review.findings[0].says, "D1 is to carry 10 Gbit/s over 190 ft, cat6 carries it over 180.4 ft at most");
    assert!(edited(&text, GRADE).contains("stock: c6a, length"), "{}", edited(&text, GRADE));
}

#[test]
fn a_category_is_of_copper() {
    // TIA-568.2-D, ISO/IEC 11801, NEC 800.179, from memory. Once a reel, whether its runs feed anything or not.
    let runs = "D1: {from: sw, to: out, stock: c5, length: 9 m}; D2: {from: sw, to: out2, stock: c5, length: 9 m, spare: yes}";
    let of = |material: &str| plan("us", runs).replace("grade: cat5e", &format!("grade: cat5e, material: {material}"));
    assert_eq!(found(&of("copper"), COPPER), []);
    for material in ["copper-clad-aluminium", "aluminium"] {
        assert_eq!(found(&of(material), COPPER), [("c5".to_owned(), Fault)]);
        let says = format!("D1 with D2 are pulled as c5, cat5e cable of {material}");
        assert_eq!(reviewed(&of(material), COPPER).findings[0].says, says);
        assert_eq!(edited(&of(material), COPPER).matches("stock: c6,").count(), 2);
        // A reel that is not pulled harms nobody.
        assert_eq!(found(&of(material).replace("stock: c5,", "stock: c6,"), COPPER), []);
    }
}

#[test]
fn other_rates() {
    // IEEE 802.3ab, bz, bq, from memory.
    let run = |stock: &str, rate: &str| format!("D1: {{from: sw, to: out, stock: {stock}, length: 22 m, rate: {rate}}}");
    for (stock, rate) in [("c5", "1 Gbit/s"), ("c5", "100 Mbit/s"), ("c5", "2.5 Gbit/s"), ("c6", "5 Gbit/s"), ("c6a", "10 Gbit/s"), ("c8", "40 Gbit/s")] {
        case(GRADE, &run(stock, rate), &[], &[]);
    }
    for (stock, rate) in [("c5", "5 Gbit/s"), ("c6a", "25 Gbit/s"), ("c8", "100 Gbit/s")] {
        case(GRADE, &run(stock, rate), &[("D1", Fault)], &[]);
    }
    // What is longer than any channel may be is no matter of its category: data.over-length says it.
    for (stock, rate, length, too_low) in [("c6", 1, 120, false), ("c6", 10, 120, true), ("c6a", 10, 120, false), ("c8", 40, 31, false)] {
        let text = format!("D1: {{from: sw, to: out, stock: {stock}, length: {length} m, rate: {rate} Gbit/s}}");
        let expected: &[_] = if too_low { &[("D1", Fault)] } else { &[] };
        case(GRADE, &text, expected, &[]);
        case(LONG, &text, &[("D1", Fault)], &[]);
    }
    // The weakest part of a channel counts, and the greatest rate.
    case(GRADE, "D1: {from: sw, to: out, stock: c6a, length: 9 m, rate: 1 Gbit/s}; D2: {from: out, to: cam, stock: c5, length: 9 m, rate: 10 Gbit/s}", &[("D1", Fault)], &[]);
    case(GRADE, "D1: {from: sw, to: out, stock: c6, length: 9 m}", &[], &["rate of D1"]);
    case(GRADE, "D1: {from: sw, to: out, stock: c6, rate: 1 Gbit/s}", &[], &["length of D1"]);
    case(GRADE, "D1: {from: sw, to: out, stock: c5, rate: 10 Gbit/s}", &[("D1", Fault)], &[]);
}

#[test]
fn the_standards_channel_is_at_its_limit() {
    // TIA-568: 90 m of link and 10 m of cords with four plugs lose what the channel may lose.
    let run = |stock: &str, length: &str, last: &str| {
        let d = |id: &str, ends: &str, length: &str, rest: &str| format!("{id}: {{{ends}, stock: {stock}, length: {length}, ambient: 20 degC{rest}}}");
        let parts = [d("D1", "from: panel, to: out", length, ", cords: 10 m"), d("D2", "from: out, to: out2", "1 m", ""), d("D3", last, "1 m", "")];
        parts.join("; ")
    };
    let plugs = "from: out2, to: jack";
    case(LOSS, &run("c6", "88 m", plugs), &[], &[]);
    case(LOSS, &run("c6", "88.1 m", plugs), &[("D1", Fault)], &[]);
    case(LOSS, &run("c5", "88 m", plugs), &[], &[]);
    case(LOSS, &run("c5", "88.1 m", plugs), &[("D1", Fault)], &[]);
    // One plug less at 250 MHz leaves 0.02 × √250 dB, 0.96 m of Cat 6.
    case(LOSS, &run("c6", "88.9 m", "from: out2, to: cam"), &[], &[]);
    case(LOSS, &run("c6", "89.1 m", "from: out2, to: cam"), &[("D1", Fault)], &[]);
}

#[test]
fn warmth_counts() {
    // TIA-568.2-D, from memory: 0.4 % a kelvin to 40 °C, 0.6 % to 60 °C, screened 0.2 %.
    let run = |stock: &str, length: &str, rest: &str| format!("D1: {{from: panel, to: out, stock: {stock}, length: {length}{rest}}}");
    case(LOSS, &run("c6u", "88 m", ", ambient: 20 degC"), &[], &[]);
    case(LOSS, &run("c6u", "88 m", ", ambient: 45 degC"), &[("D1", Fault)], &[]);
    case(LOSS, &run("c6u", "88 m", ", ambient: 113 degF"), &[("D1", Fault)], &[]);
    case(LOSS, &run("c6f", "88 m", ", ambient: 25 degC"), &[], &[]);
    case(LOSS, &run("c6u", "88 m", ""), &[], &["ambient of D1"]);
    case(LOSS, &run("c6f", "88 m", ""), &[], &["ambient of D1"]);
    case(LOSS, &run("c6", "85 m", ", ambient: 45 degC"), &[], &["shields of c6"]);
    case(LOSS, &run("c6", "50 m", ""), &[], &[]);
    case(LOSS, &run("c6", "50 m", ", ambient: 61 degC"), &[], &["a loss of cat6 at 61 °C, which the standard does not give"]);
    case(LOSS, &run("c6u", "120 m", ""), &[("D1", Fault)], &[]);
    case(LOSS, &run("bare", "50 m", ""), &[], &["grade of bare"]);
    case(LOSS, "D1: {from: sw, to: odd, stock: c6u, length: 93 m, ambient: 20 degC}", &[], &["kind of odd"]);
}
