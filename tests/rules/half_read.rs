//! Runs of which one end cannot be read: that is told once, by reading, and nothing of what the run does reach is said
//! to have no run.

use std::path::Path;

use nailplate::review::{Selection, review_text};

use super::{Shelf, exactly};

/// What goes wrong with the other end of S1, whose near end is x, and the finding that tells of it.
const SLIPS: [(&str, &str); 5] = [
    ("from: x, to: x", "plan.goes-nowhere"),
    ("from: x, to: cupboard", "plan.no-such-id"),
    ("from: cupboard, to: x", "plan.no-such-id"),
    ("from: x", "plan.missing-key"),
    ("to: x", "plan.missing-key"),
];

/// A cable, and what it ends at, in a plan that wants no more of it.
const REACHED: [(&str, &str); 12] = [
    ("{for: speaker, cores: 2 x 18 AWG, rating: CL3}", "{kind: speaker, impedance: 8 ohm}"),
    ("{for: speaker, cores: 2 x 18 AWG, rating: CL3}", "{kind: subwoofer, active: no, impedance: 8 ohm}"),
    ("{for: line, balanced: no, rating: CM}", "{kind: subwoofer, load: 0 W}"),
    ("{for: line, balanced: no, rating: CM}", "{kind: speaker, active: yes, load: 0 W}"),
    ("{for: control, cores: 4 x 18 AWG, rating: CL2}", "{kind: motor, load: 0 W}"),
    ("{for: control, cores: 4 x 18 AWG, rating: CL2}", "{kind: keypad}"),
    ("{for: data, grade: cat6, cores: 8 x 23 AWG, rating: CMR}", "{kind: data-outlet}"),
    ("{for: data, grade: cat6, cores: 8 x 23 AWG, rating: CMR}", "{kind: display, load: 0 W}"),
    ("{for: data, grade: cat6, cores: 8 x 23 AWG, rating: CMR}", "{kind: camera, poe: type 2, load: 20 W}"),
    ("{for: video, grade: high-speed, build: optical, reach: 30 ft, rating: CL3}", "{kind: wall-plate}"),
    ("{for: coax, series: RG-6, shields: 2, rating: CMR}", "{kind: antenna, bonded: yes, level: 3 dBmV, frequency: 600 MHz}"),
    ("{for: power, cores: 2 x 14 AWG + earth, rating: NM-B}", "{kind: light, load: 60 W}"),
];

#[test]
fn what_a_run_reaches_with_its_other_end_is_not_told_again() {
    const OTHER: [&str; 4] = ["pathway.no-spare-way", "line.one-subwoofer", "speaker.few-cores", "data.panel-uncooled"];
    for (stock, end) in REACHED {
        for (ends, slip) in SLIPS {
            let text = format!(
                "nailplate: 1\nregion: us\nbuilding: one-family\ncircuits: {{C1: {{breaker: 15 A, volts: 120 V}}}}\nstock: {{s: {stock}}}\n\
                 endpoints:\n  x: {end}\nruns:\n  S1: {{{ends}, stock: s, length: 90 ft, through: [w]}}\npathways: {{w: {{kind: wall}}}}\n"
            );
            let review = review_text(Path::new("case.plan.yaml"), text.clone(), &Shelf, Selection::All).expect("a plan");
            let rules: Vec<_> = review.findings.iter().map(|found| found.rule).collect();
            let others = rules.iter().filter(|rule| !OTHER.contains(rule) && **rule != "data.display-line-missing");
            assert_eq!(others.copied().collect::<Vec<_>>(), [slip], "{text}");
            let of_run = |gap: &&nailplate::findings::Gap| gap.lacks.ends_with("to x") || gap.lacks.ends_with("end of S1");
            assert_eq!(review.gaps.iter().filter(of_run).count(), 0, "{text}");
        }
    }
}

/// A line that may go on by it has no end that could be missed.
#[test]
fn a_line_that_goes_on_by_it() {
    let plan = |service: &str, far: &str, ends: &str| {
        format!(
            "nailplate: 1\nregion: us\nstock: {{s: {{for: {service}, cores: 2 x 18 AWG, balanced: no}}}}\n\
             endpoints: {{rack: {{kind: rack}}, plate: {{kind: wall-plate}}, x: {{{far}}}}}\n\
             runs: {{S1: {{from: rack, to: plate, stock: s, length: 90 ft}}, S2: {{{ends}, stock: s, length: 9 ft}}}}\n"
        )
    };
    let speaker = "kind: speaker, impedance: 8 ohm";
    for ends in ["from: plate, to: plate", "from: plate, to: cupboard", "to: plate"] {
        exactly(&plan("speaker", speaker, ends), "speaker.undersized", &[], &[]);
    }
    exactly(&plan("speaker", speaker, "from: cupboard, to: x"), "speaker.undersized", &[], &["a speaker at the end of S1"]);
    exactly(&plan("speaker", speaker, "from: plate, to: cupboard, spare: yes"), "speaker.undersized", &[], &["a speaker at the end of S1"]);
}

/// The run counts for what it carries, and for nothing else.
#[test]
fn what_it_does_not_carry_is_missing() {
    let text = |service: &str, kind: &str| {
        format!("nailplate: 1\nregion: us\nstock: {{s: {{for: {service}}}}}\nendpoints: {{x: {{kind: {kind}}}}}\nruns: {{S1: {{from: x, to: cupboard, stock: s}}}}\n")
    };
    use nailplate::findings::Level::{Advice, Fault};
    exactly(&text("line", "speaker"), "speaker.no-line", &[("x", Fault)], &[]);
    exactly(&text("speaker", "subwoofer"), "line.no-line", &[("x", Fault)], &[]);
    exactly(&text("video", "motor"), "control.no-line", &[("x", Advice)], &[]);
    exactly(&text("video", "display"), "data.display-line-missing", &[("x", Advice)], &[]);
    exactly(&text("data", "display"), "data.display-line-missing", &[], &[]);
}

/// Where the stock of a run could not be read, a breaker at its end says that it carries power.
#[test]
fn what_comes_from_a_breaker_is_power() {
    use nailplate::findings::Level::{Fault, Hazard};
    let plan = |p1: &str, p2: &str| {
        format!(
            "nailplate: 1\nregion: us\ncatalogue: lost.yaml\ncircuits: {{C1: {{breaker: 20 A, volts: 120 V, serves: rack}}}}\n\
             stock: {{vague: {{rating: NM-B}}, odd: {{for: mains}}, relay: {{for: control}}}}\n\
             endpoints:\n  rack: {{kind: rack, load: 900 W}}\n  fridge: {{kind: appliance, load: 2000 W}}\n\
             runs:\n  P1: {{{p1}}}\n  P2: {{{p2}}}\n"
        )
    };
    for stock in [", stock: nm-12", ", stock: odd"] {
        let text = plan(&format!("from: C1, to: rack{stock}"), &format!("from: fridge, to: C1{stock}"));
        exactly(&text, "power.dedicated-shares", &[("C1", Fault)], &[]);
        exactly(&text, "power.breaker-overloaded", &[("C1", Hazard)], &[]);
        exactly(&text, "power.no-feed", &[], &[]);
    }
    // Its own word and its stock's go before.
    for (word, stock) in [("", ", stock: relay"), (", carries: control", ", stock: nm-12")] {
        let text = plan(&format!("from: C1, to: rack{word}{stock}"), "from: C1, to: fridge, stock: nm-12");
        exactly(&text, "power.no-feed", &[("rack", Fault)], &[]);
    }
    // What only leaves it out is a gap; what goes on from a device may be anything.
    exactly(&plan("from: C1, to: rack", "from: C1, to: fridge, stock: nm-12"), "power.no-feed", &[], &["stock of P1"]);
    exactly(&plan("from: C1, to: rack, stock: vague", "from: C1, to: fridge, stock: nm-12"), "power.no-feed", &[], &["`for` of vague"]);
    exactly(&plan("from: C1, to: rack, stock: nm-12", "from: rack, to: fridge, stock: nm-12"), "power.no-feed", &[], &[]);
}

/// What may be the data run of a device is none that it lacks.
#[test]
fn a_device_whose_run_is_of_unknown_cable() {
    let plan = |run: &str| {
        format!(
            "nailplate: 1\nregion: us\ncatalogue: lost.yaml\nendpoints:\n  sw: {{kind: switch, poe-supply: type 2}}\n  cam: {{kind: camera, poe: type 2, load: 20 W}}\n\
             runs: {{D1: {{from: sw, to: cam, length: 40 ft{run}}}}}\n"
        )
    };
    exactly(&plan(", stock: cat6"), "data.poe-starved", &[], &[]);
    exactly(&plan(""), "data.poe-starved", &[], &["stock of D1"]);
    exactly(&plan(", carries: video"), "data.poe-starved", &[], &["a data run to cam"]);
}

/// A ring whose last run does not get back is no ring; one whose last run could not be read may be.
#[test]
fn a_ring_that_an_unread_run_may_close() {
    use nailplate::findings::Level::Hazard;
    let plan = |ring: &str, last: &str| {
        format!(
            "nailplate: 1\nregion: gb\nstock: {{te: {{for: power, cores: 2 x 2.5 mm2 + 1.5 mm2 earth, rating: Eca, material: copper}}}}\n\
             circuits: {{R1: {{breaker: 32 A, volts: 230 V{ring}}}}}\nendpoints: {{a: {{kind: outlet}}, b: {{kind: outlet}}}}\n\
             runs:\n  P1: {{from: R1, to: a, stock: te, method: C}}\n  P2: {{from: a, to: b, stock: te, method: C}}\n  P3: {{{last}, stock: te, method: C}}\n"
        )
    };
    let rule = "power.breaker-over-wire";
    exactly(&plan(", ring: yes", "from: b, to: R1"), rule, &[], &[]);
    exactly(&plan(", ring: yes", "from: b, to: a"), rule, &[("R1", Hazard)], &[]);
    for last in ["from: b, to: b", "from: b, to: R9", "to: R1", "from: nowhere, to: R1"] {
        exactly(&plan(", ring: yes", last), rule, &[], &[]);
        exactly(&plan("", last), rule, &[("R1", Hazard)], &[]);
        exactly(&plan(", ring: yes", &format!("{last}, spare: yes")), rule, &[("R1", Hazard)], &[]);
    }
}
