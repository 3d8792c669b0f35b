//! Speaker lines: the published length table, and the voltage divider.

use super::{copper, feet, near, per_kilofoot};
use nailplate::figures::Figure;
use nailplate::figures::conductor::{Material, OneWay, Stranding, from_geometry};
use nailplate::figures::line::{
    AWG_SIZES, LineLoss, LoopResistance, LoopShare, METRIC_SIZES, Part, Segment, loss_in_decibels,
    parallel, smallest_size, tied_cores,
};
use nailplate::units::{
    Ohms,
    WireSize::{Awg, Metric},
};

fn ohms(number: f64) -> Ohms {
    Ohms::new(number, "ohm").expect("ohm is a resistance")
}

fn part(length: f64, wire: OneWay) -> Part {
    Part {
        length: feet(length),
        wire,
        tied: 1,
    }
}

fn share(length: f64, wire: OneWay, load: f64) -> LoopShare {
    let segment = Segment {
        part: part(length, wire),
        beyond: ohms(load),
    };
    LoopShare::of(vec![segment]).expect("everyday values")
}

/// Solid copper at 20 °C from cross-section: what the published lengths were computed with.
fn solid(gauge: i8) -> OneWay {
    from_geometry(Awg(gauge), Material::Copper, 20.0).expect("an everyday size")
}

#[test]
fn published_length_table() {
    // "Speaker-cable length table (gauge × impedance, 5 % rule)": AWG, ohm, greatest feet, share in % at 20 °C.
    #[rustfmt::skip]
    let rows = [
        (22, 2.0, 3.0, 4.84), (22, 4.0, 6.0, 4.84), (22, 6.0, 9.0, 4.84), (22, 8.0, 12.0, 4.84),
        (20, 2.0, 5.0, 5.08), (20, 4.0, 10.0, 5.08), (20, 6.0, 15.0, 5.08), (20, 8.0, 20.0, 5.08),
        (18, 2.0, 8.0, 5.11), (18, 4.0, 16.0, 5.11), (18, 6.0, 24.0, 5.11), (18, 8.0, 32.0, 5.11),
        (16, 2.0, 12.0, 4.82), (16, 4.0, 24.0, 4.82), (16, 6.0, 36.0, 4.82), (16, 8.0, 48.0, 4.82),
        (14, 2.0, 20.0, 5.05), (14, 4.0, 40.0, 5.05), (14, 6.0, 60.0, 5.05), (14, 8.0, 80.0, 5.05),
        (12, 2.0, 30.0, 4.76), (12, 4.0, 60.0, 4.76), (12, 6.0, 90.0, 4.76), (12, 8.0, 120.0, 4.76),
        (10, 2.0, 50.0, 4.99), (10, 4.0, 100.0, 4.99), (10, 6.0, 150.0, 4.99), (10, 8.0, 200.0, 4.99),
    ];
    for (gauge, load, length, percent) in rows {
        let what = format!("{gauge} AWG, {load} ohm, {length} ft");
        near(
            &what,
            share(length, solid(gauge), load).value(),
            percent,
            0.002,
        );
        // The tables' own conductors must stay within what the published entries allow, 4.7 to 5.3 %.
        let stranded = share(length, copper(Awg(gauge), Stranding::Stranded, 20.0), load).value();
        assert!((4.7..5.3).contains(&stranded), "{what}: {stranded}");
    }
}

#[test]
fn worked_examples() {
    // SK01, SK02, SK04: entries of the same published table, computed at 20 °C.
    near("SK01", share(48.0, solid(16), 8.0).value(), 4.82, 0.01);
    near("SK02", share(80.0, solid(14), 8.0).value(), 5.05, 0.01);
    near("SK04", share(60.0, solid(12), 4.0).value(), 4.76, 0.01);
    // SK09: 1 ohm before 8 ohm; a public page rounds to 1 dB.
    near(
        "SK09",
        loss_in_decibels(1.0 / 8.0).unwrap_or(0.0),
        1.023,
        0.01,
    );
    // SK11: 14 AWG, 50 ft, 8 ohm, computed at 20 °C.
    let segment = Segment {
        part: part(50.0, solid(14)),
        beyond: ohms(8.0),
    };
    near(
        "SK11",
        LineLoss::of(vec![segment]).expect("a loss").value(),
        0.270,
        0.01,
    );
    // SK12: the same, damping factor Z / (Ramp + R) with 0.04 ohm, computed.
    let loop_ohms = LoopResistance::of(vec![segment.part])
        .expect("a line")
        .value();
    near("SK12", 8.0 / (0.04 + loop_ohms), 27.35, 0.01);
    // RS05, RS06: "Power loss caused by wire length, 70/100 V lines", prints about 4 and about 0.08.
    let stated = |per: f64, length| {
        LoopResistance::of(vec![part(length, per_kilofoot(per))])
            .expect("a line")
            .value()
    };
    near("RS05", stated(10.15, 200.0), 4.06, 0.02);
    near("RS06", stated(1.588, 25.0), 0.0794, 0.01);
    let loop_of = |gauge, length| {
        LoopResistance::of(vec![part(length, solid(gauge))])
            .expect("a line")
            .value()
    };
    near("RS05 by geometry", loop_of(20, 200.0), 4.06, 0.02);
    near("RS06 by geometry", loop_of(12, 25.0), 0.0794, 0.01);
}

#[test]
fn workings_are_in_the_authors_units() {
    let wire = copper(Awg(12), Stranding::Solid, 20.0);
    let line = LoopResistance::of(vec![part(42.0, wire)]).expect("a line");
    assert_eq!(
        line.working(),
        "2 × 42 ft × 1.587 Ω/1000 ft = 0.1333 Ω at 20 °C"
    );
    let metric = Part {
        length: super::metres(12.8),
        wire: copper(Metric(2.5), Stranding::Stranded, 20.0),
        tied: 2,
    };
    let line = LoopResistance::of(vec![metric]).expect("a line");
    assert_eq!(
        line.working(),
        "2 × 12.8 m × 7.41 Ω/km ÷ 2 tied = 0.0948 Ω at 20 °C"
    );
    let share = share(42.0, wire, 8.0);
    assert_eq!(
        share.working(),
        "2 × 42 ft × 1.587 Ω/1000 ft ÷ 8 ohm = 1.666 % at 20 °C"
    );
    let segment = Segment {
        part: part(42.0, wire),
        beyond: ohms(8.0),
    };
    let loss = LineLoss::of(vec![segment]).expect("a loss");
    assert_eq!(
        loss.working(),
        "20 log10(1 + 0.1333 Ω ÷ 8 ohm) = 0.1436 dB at 20 °C"
    );
}

#[test]
fn taps_in_parallel() {
    // Two 8 ohm speakers in parallel are 4 ohm; the cable before both counts against 4, the one behind against 8.
    let both = parallel([ohms(8.0), ohms(8.0)]).expect("two loads");
    near("parallel", both.base(), 4.0, 1e-12);
    let wire = per_kilofoot(1.0);
    let segments = vec![
        Segment {
            part: part(100.0, wire),
            beyond: both,
        },
        Segment {
            part: part(50.0, wire),
            beyond: ohms(8.0),
        },
    ];
    let share = LoopShare::of(segments).expect("a share");
    near(
        "share",
        share.value(),
        (0.2 / 4.0 + 0.1 / 8.0) * 100.0,
        1e-9,
    );
    assert_eq!(parallel([]), None);
    assert_eq!(parallel([ohms(8.0), ohms(0.0)]), None);
}

#[test]
fn the_solver_finds_the_least_that_will_do() {
    // 18 AWG over 60 ft into 4 ohm; the published table gives 12 AWG for 60 ft at 4 ohm.
    let thin = [Segment {
        part: part(60.0, copper(Awg(18), Stranding::Stranded, 20.0)),
        beyond: ohms(4.0),
    }];
    let within = |limit: f64| {
        move |segments| LoopShare::of(segments).is_some_and(|share| share.value() <= limit)
    };
    let size = |sizes, limit| smallest_size(&thin, sizes, Stranding::Stranded, 1, within(limit));
    assert_eq!(size(&AWG_SIZES, 5.0), Some(Awg(12)));
    assert_eq!(size(&METRIC_SIZES, 5.0), Some(Metric(4.0)));
    assert_eq!(tied_cores(&thin, within(5.0)), Some(4));
    assert_eq!(tied_cores(&thin, within(1.0)), None);
    assert_eq!(size(&AWG_SIZES, f64::NAN), None);
    // Each answer does, and the next smaller does not.
    for limit in [1.0, 2.0, 5.0, 10.0] {
        let Some(size) = size(&AWG_SIZES, limit) else {
            continue;
        };
        let with = |size| share(60.0, copper(size, Stranding::Stranded, 20.0), 4.0).value();
        assert!(with(size) <= limit);
        let before = AWG_SIZES
            .iter()
            .rev()
            .skip_while(|&&other| other != size)
            .nth(1);
        assert!(
            before.is_none_or(|&smaller| with(smaller) > limit),
            "{limit} %: {size}"
        );
    }
}
