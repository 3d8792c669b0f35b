//! Voltage drop: worked examples, NEC and BS 7671.

use super::{amperes, copper, feet, metres, near, per_kilofoot, volts, watts};
use nailplate::figures::Figure;
use nailplate::figures::conductor::{OneWay, Stranding};
use nailplate::figures::dip::LampDip;
use nailplate::figures::drop::{Feeder, Segment, VoltageDrop};
use nailplate::figures::line::{LoopResistance, Part};
use nailplate::figures::phases::Phases;
use nailplate::figures::ring::{Leg, Ring};
use nailplate::units::{
    Percent,
    WireSize::{Awg, Metric},
};

fn run(length: f64, wire: OneWay, current: f64) -> Segment {
    Segment {
        length: feet(length),
        wire,
        current: amperes(current),
        phases: Phases::One,
    }
}

fn drop(segments: Vec<Segment>, nominal: f64) -> VoltageDrop {
    VoltageDrop::of(segments, volts(nominal), None).expect("everyday values")
}

#[test]
fn worked_examples_two_wire() {
    // Id, ohm per 1000 ft, feet one way, ampere, volts, drop in %, tolerance.
    let cases = [
        // VD04: public post "16 A, 100 ft, 12 AWG", 12 AWG taken as 2.0 ohm/kft.
        ("VD04", 2.0, 100.0, 16.0, 120.0, 5.333, 0.001),
        // VD05: the same post, most current for 3 % at 100 ft: 3.6 V / 0.4 ohm.
        ("VD05", 2.0, 100.0, 9.0, 120.0, 3.0, 0.001),
        // VD06: the same post, 14 AWG taken as 3.1 ohm/kft, prints 5.8 A for 3 %.
        ("VD06", 3.1, 100.0, 5.81, 120.0, 3.0, 0.005),
    ];
    for (id, ohms, length, current, nominal, percent, tolerance) in cases {
        let figure = drop(vec![run(length, per_kilofoot(ohms), current)], nominal);
        near(id, figure.value(), percent, tolerance);
    }
    // VD16: formula with table 8, 14 AWG solid 3.07 ohm/kft, 12 A, 75 ft.
    let table_8 = |gauge| copper(Awg(gauge), Stranding::Solid, 75.0);
    near(
        "VD16",
        drop(vec![run(75.0, table_8(14), 12.0)], 120.0).volts(),
        5.526,
        0.001,
    );
    // VD19: formula with table 8, 10 AWG solid, 16 A: 92.98 ft give 3 % of 120 V.
    near(
        "VD19",
        drop(vec![run(92.98, table_8(10), 16.0)], 120.0).value(),
        3.0,
        0.001,
    );
}

#[test]
fn worked_examples_three_phase() {
    // Three conductors drop √3/2 of what two drop out and back. VD07: "Basics: calculating voltage drop", example 1,
    // prints 7620.8/1000 and rounds to 7.7; recomputed 7.621 V. VD09: example 3, 377 ft for 14.4 V.
    let three_phase = 3f64.sqrt() / 2.0;
    let two_wire = |length| drop(vec![run(length, per_kilofoot(1.1), 20.0)], 480.0).volts();
    near("VD07", two_wire(200.0) * three_phase, 7.621, 0.005);
    near("VD09", two_wire(377.9) * three_phase, 14.4, 0.005);
}

#[test]
fn worked_examples_bs_7671() {
    // VD12: 18 mV/A/m, 32 A, 40 m (UK volt-drop forum thread and course lesson); 18 mV/A/m is out and back.
    let wire = per_kilofoot(0.009 * 304.8);
    let segment = Segment {
        length: metres(40.0),
        wire,
        current: amperes(32.0),
        phases: Phases::One,
    };
    near("VD12", drop(vec![segment], 230.0).volts(), 23.04, 0.001);
    // VD14 and VD15: 3 % and 5 % of 230 V (BS 7671 appendix 4 table 4Ab).
    for (id, limit, percent) in [("VD14", 6.9, 3.0), ("VD15", 11.5, 5.0)] {
        let length = limit / (0.018 * 10.0);
        let segment = Segment {
            length: metres(length),
            wire,
            current: amperes(10.0),
            phases: Phases::One,
        };
        near(id, drop(vec![segment], 230.0).value(), percent, 1e-9);
    }
}

#[test]
fn taps_add_up_along_the_path() {
    // Kirchhoff: each run carries what is beyond it. 12 AWG solid at 75 °C, 1.93 ohm/kft (table 8).
    let wire = copper(Awg(12), Stranding::Solid, 75.0);
    let figure = drop(vec![run(48.0, wire, 11.0), run(40.0, wire, 3.5)], 120.0);
    near(
        "sum",
        figure.volts(),
        2.0 * 1.93e-3 * (48.0 * 11.0 + 40.0 * 3.5),
        1e-9,
    );
    assert_eq!(
        figure.working(),
        "2 × 48 ft × 1.93 Ω/1000 ft × 11 A + 2 × 40 ft × 1.93 Ω/1000 ft × 3.5 A = 2.58 V, 2.15 % of 120 V at 75 °C"
    );
}

#[test]
fn long_paths_keep_their_worst_runs() {
    let wire = copper(Awg(12), Stranding::Solid, 75.0);
    let lengths = [10.0, 50.0, 1.0, 40.0, 2.0, 30.0];
    let figure = drop(
        lengths.map(|length| run(length, wire, 10.0)).to_vec(),
        120.0,
    );
    let working = figure.working();
    assert!(
        working.contains("50 ft") && working.contains("40 ft") && working.contains("30 ft"),
        "{working}"
    );
    assert!(working.contains("0.502 V in 3 more"), "{working}");
    assert!(!working.contains("10 ft"), "{working}");
}

#[test]
fn a_stated_feeder_drop_is_added() {
    let wire = copper(Metric(2.5), Stranding::Stranded, 70.0);
    let segment = Segment {
        length: metres(20.0),
        wire,
        current: amperes(10.0),
        phases: Phases::One,
    };
    let alone = drop(vec![segment], 230.0).value();
    let share = Percent::new(1.5, "%").expect("% is a share");
    for feeder in [Feeder::Share(share), Feeder::Drop(volts(3.45))] {
        let figure = VoltageDrop::of(vec![segment], volts(230.0), Some(feeder)).expect("a drop");
        near("with feeder", figure.value(), alone + 1.5, 1e-9);
        assert!(
            figure.working().contains("in the feeder"),
            "{}",
            figure.working()
        );
        assert!(figure.working().contains("Ω/km"), "{}", figure.working());
    }
}

fn leg(length: f64) -> Leg {
    Leg {
        length: metres(length),
        wire: copper(Metric(2.5), Stranding::Stranded, 70.0),
    }
}

fn ring_drop(ring: &Ring, tap: usize) -> f64 {
    drop(ring.path_to(tap).expect("a tap"), 230.0).volts()
}

#[test]
fn a_ring_drops_a_quarter_at_its_middle() {
    // UK volt-drop course lesson: drop of a ring at its middle = straight-run value / 4, the straight run being the whole ring's length.
    let ring = Ring::solve(vec![leg(20.0), leg(20.0)], &[amperes(20.0)]).expect("a ring");
    let straight = Segment {
        length: metres(40.0),
        wire: leg(1.0).wire,
        current: amperes(20.0),
        phases: Phases::One,
    };
    near(
        "middle",
        ring_drop(&ring, 0),
        drop(vec![straight], 230.0).volts() / 4.0,
        1e-9,
    );
    // Anywhere: R1 R2 / (R1 + R2) of the loop resistance.
    let ring = Ring::solve(vec![leg(10.0), leg(30.0)], &[amperes(20.0)]).expect("a ring");
    let per_metre = 2.0 * leg(1.0).wire.ohm_per_metre();
    near(
        "quarter way",
        ring_drop(&ring, 0),
        20.0 * per_metre * 10.0 * 30.0 / 40.0,
        1e-9,
    );
}

#[test]
fn taps_on_a_ring_obey_kirchhoff() {
    let lengths = [8.0, 5.0, 12.0, 3.0, 9.0];
    let taps = [3.0, 7.0, 2.0, 10.0].map(amperes);
    let ring = Ring::solve(lengths.map(leg).to_vec(), &taps).expect("a ring");
    // The voltage around a ring sums to nothing.
    let around: f64 = ring
        .currents()
        .zip(lengths)
        .map(|(current, length)| current.value * length)
        .sum();
    assert!(around.abs() < 1e-9, "{around}");
    for tap in 0..taps.len() {
        // Each single tap's drop at this node, superposed: I × R(shared) of the two ways.
        let place: f64 = lengths[..=tap].iter().sum();
        let total: f64 = lengths.iter().sum();
        let superposed: f64 = taps
            .iter()
            .enumerate()
            .map(|(other, current)| {
                let at: f64 = lengths[..=other].iter().sum();
                let (near_end, far_end) = (place.min(at), place.max(at));
                current.value * near_end * (total - far_end) / total
            })
            .sum();
        let ohms = 2.0 * leg(1.0).wire.ohm_per_metre();
        near(
            &format!("tap {tap}"),
            ring_drop(&ring, tap),
            ohms * superposed,
            1e-9,
        );
    }
    assert_eq!(ring.path_to(taps.len()), None);
    assert_eq!(Ring::solve(vec![leg(1.0)], &taps), None);
}

#[test]
fn lamps_dip_with_the_shared_path() {
    // Ohm's law: (1500 − 600) W ÷ 120 V through 2 × 50 ft of 12 AWG solid at 75 °C (table 8).
    let wire = copper(Awg(12), Stranding::Solid, 75.0);
    let shared = LoopResistance::of(vec![Part {
        length: feet(50.0),
        wire,
        tied: 1,
    }])
    .expect("a path");
    let dip =
        LampDip::of(watts(1500.0), watts(600.0), volts(120.0), shared.clone()).expect("a dip");
    near(
        "dip",
        dip.value(),
        900.0 / 120.0 * 0.193 / 120.0 * 100.0,
        1e-9,
    );
    assert_eq!(
        dip.working(),
        "(1500 W − 600 W) ÷ 120 V × 0.193 Ω ÷ 120 V = 1.206 %, where 2 × 50 ft × 1.93 Ω/1000 ft = 0.193 Ω at 75 °C; source impedance not counted; a filament lamp gives about 4.04 % less light"
    );
    assert_eq!(
        LampDip::of(watts(500.0), watts(600.0), volts(120.0), shared),
        None
    );
}
