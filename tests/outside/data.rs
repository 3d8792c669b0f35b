//! Data cabling: loss by category, lengths, power over the cable.

use super::{copper, metres, near, volts, watts};
use nailplate::figures::Figure;
use nailplate::figures::conductor::{Material, OneWay, Stranding, from_geometry, one_way};
use nailplate::figures::insertion::{DataChannel, InsertionLoss, greatest_cords};
use nailplate::figures::line::LoopResistance;
use nailplate::figures::poe::{ConductorCurrent, PoePower, PoeVoltage, leg};
use nailplate::tables::categories::{Category, all, cord_factor, named, warmth};
use nailplate::tables::edition::Edition;
use nailplate::tables::poe::{bundle_ampacity, bundles_count_above, of_class, of_type};
use nailplate::units::unit::{meter, ohm};
use nailplate::units::{Length, Resistance, Volts, Watts, WireSize::Awg};

fn category(name: &str) -> Category {
    named(name).unwrap_or_else(|| panic!("no {name}"))
}

fn channel(name: &str, link: f64, cords: f64, connectors: u8) -> DataChannel {
    DataChannel {
        category: category(name),
        link: metres(link),
        cords: metres(cords),
        cord_gauge: 24,
        connectors,
        celsius: 20.0,
        screened: false,
    }
}

#[test]
fn cable_loss_tables() {
    // TIA-568.2-D cable insertion loss of 100 m, from memory: dB by MHz (ET01, ET02, ET03 among them). Cat 7, ISO/IEC
    // 61156-5, from memory.
    #[rustfmt::skip]
    let rows = [
        ("cat5e", 1.0, 2.04), ("cat5e", 10.0, 6.47), ("cat5e", 31.25, 11.72), ("cat5e", 62.5, 16.99), ("cat5e", 100.0, 21.98),
        ("cat6", 1.0, 2.02), ("cat6", 10.0, 5.95), ("cat6", 100.0, 19.80), ("cat6", 250.0, 32.85),
        ("cat6a", 10.0, 5.93), ("cat6a", 100.0, 19.13), ("cat6a", 250.0, 31.07), ("cat6a", 500.0, 45.26),
        ("cat7", 100.0, 19.0), ("cat7", 600.0, 50.1),
        ("cat8", 100.0, 18.52), ("cat8", 500.0, 42.76), ("cat8", 1000.0, 61.93), ("cat8", 2000.0, 90.50),
    ];
    for (name, megahertz, decibels) in rows {
        let off = category(name).cable_loss(megahertz) - decibels;
        assert!(off.abs() <= 0.05, "{name} at {megahertz} MHz: off by {off}");
    }
}

#[test]
fn channel_limits() {
    // Cat 5e: TSB-67, 24.0 dB at 100 MHz, read (ET05). The others: TIA-568.2-D and ISO/IEC 11801 classes EA and F, from memory.
    #[rustfmt::skip]
    let rows = [
        ("cat5e", 100.0, 24.0), ("cat6", 100.0, 21.3), ("cat6", 250.0, 35.9),
        ("cat6a", 100.0, 20.9), ("cat6a", 250.0, 33.9), ("cat6a", 500.0, 49.3), ("cat7", 100.0, 20.8), ("cat7", 600.0, 54.6),
    ];
    for (name, megahertz, decibels) in rows {
        let off = category(name).channel_limit(megahertz) - decibels;
        assert!(off.abs() <= 0.07, "{name} at {megahertz} MHz: off by {off}");
    }
    assert_eq!(all().count(), 5);
}

#[test]
fn channel_of_the_standard_is_at_its_limit() {
    // TIA-568: 90 m of link and 10 m of cords lose as 102 m of link.
    for name in ["cat5e", "cat6"] {
        let loss = InsertionLoss::at_top(channel(name, 90.0, 10.0, 4)).expect("a channel");
        near(name, loss.value(), loss.limit(), 1e-9);
    }
    // Cat 6A and Cat 7 reckon with cords of half as much again.
    for name in ["cat6a", "cat7"] {
        let mut thin = channel(name, 90.0, 10.0, 4);
        thin.cord_gauge = 26;
        let loss = InsertionLoss::at_top(thin).expect("a channel");
        near(name, loss.value(), loss.limit(), 1e-9);
    }
    let eight = InsertionLoss::at_top(channel("cat8", 24.0, 6.0, 2)).expect("a channel");
    near("cat8", eight.value(), eight.limit(), 1e-9);
    let short = InsertionLoss::at_top(channel("cat5e", 16.0, 4.0, 2)).expect("a channel");
    assert_eq!(
        short.working(),
        "(16 m + 1.2 × 4 m of cords) × 22 dB/100 m + 2 × 0.4 dB = 5.37 dB at 100 MHz"
    );
    near("short", short.value(), 0.208 * 21.98 + 0.8, 0.001);
}

#[test]
fn warm_cable_loses_more() {
    // TIA-568.2-D, from memory: 0.4 % a kelvin to 40 °C, then 0.6 %; screened 0.2 %.
    for (celsius, screened, factor) in [
        (20.0, false, 1.0),
        (-5.0, false, 1.0),
        (40.0, false, 1.08),
        (60.0, false, 1.2),
        (60.0, true, 1.08),
    ] {
        near(
            "warmth",
            warmth(celsius, screened).unwrap_or(0.0),
            factor,
            1e-12,
        );
    }
    assert_eq!(warmth(61.0, false), None);
    assert_eq!(warmth(f64::NAN, true), None);
    let mut attic = channel("cat6", 80.0, 10.0, 4);
    attic.celsius = 55.0;
    let hot = InsertionLoss::at_top(attic).expect("a channel");
    near(
        "hot",
        hot.value(),
        0.92 * 32.85 * 1.17 + 4.0 * 0.02 * 250f64.sqrt() + 0.0003 * 250f64.powf(1.5),
        0.002,
    );
    assert!(hot.value() > hot.limit());
}

#[test]
fn cord_lengths() {
    // ET06, ET07: TIA-568.0, C = (102 − H)/(1 + D), D = 0.2.
    near(
        "ET06",
        greatest_cords(metres(90.0), 24).unwrap_or(0.0),
        10.0,
        1e-9,
    );
    near(
        "ET07",
        greatest_cords(metres(85.0), 24).unwrap_or(0.0),
        14.17,
        0.001,
    );
    assert_eq!(greatest_cords(metres(103.0), 24), None);
    near("26 AWG", cord_factor(26), 1.5, 1e-12);
}

#[test]
fn reach() {
    // TSB-155 (10 Gbit/s on Cat 6, read); IEEE 802.3an (100 m on Cat 6A, read); the others from memory.
    let reach = |name, rate, controlled| category(name).reach(rate, controlled);
    assert_eq!(reach("cat6", 10.0, false), Some(37.0));
    assert_eq!(reach("cat6", 10.0, true), Some(55.0));
    assert_eq!(reach("cat6", 1.0, true), Some(100.0));
    assert_eq!(reach("cat6a", 10.0, false), Some(100.0));
    assert_eq!(reach("cat5e", 2.5, false), Some(100.0));
    assert_eq!(reach("cat5e", 10.0, true), None);
    assert_eq!(reach("cat8", 40.0, false), Some(30.0));
    assert_eq!(reach("cat7", 40.0, false), None);
    assert_eq!(reach("cat8", f64::NAN, false), None);
}

/// A line of a stated loop resistance.
fn line(ohms: f64) -> LoopResistance {
    let wire = OneWay::stated(
        Resistance::new::<ohm>(ohms / 2.0) / Length::new::<meter>(1.0),
        20.0,
    );
    let part = leg(metres(2.0), wire.expect("above zero"), 2).expect("two pairs");
    LoopResistance::of(vec![part]).expect("a line")
}

#[test]
fn devices_get_the_standards_least_voltage() {
    // IEEE 802.3, read: what each type's own power, voltage and channel leave at the device. Four pairs halve the channel.
    for number in 1..=4 {
        let of = of_type(number).expect("a type");
        let ohms = of.channel_loop.base() * 2.0 / f64::from(of.pairs);
        let what = format!("type {number}");
        let got = PoeVoltage::of(of.source_volts, of.device_power, line(ohms)).expect("it stands");
        // Printed to a tenth, rounded down.
        let off = got.value() - of.device_volts.base();
        assert!((-0.005..0.1).contains(&off), "{what}: {} V", got.value());
        let left = PoePower::of(of.source_volts, of.source_power, line(ohms)).expect("a power");
        near(&what, left.value(), of.device_power.base(), 0.001);
        // The current of each two pairs: IEEE 802.3, from memory; type 4 allows more than its source gives.
        let each = of.source_power.base() / of.source_volts.base() * 2.0 / f64::from(of.pairs);
        assert!(each <= of.amperes + 1e-9, "{what}: {each} A");
        near(
            &what,
            of.amperes,
            each,
            if number == 4 { 0.11 } else { 1e-9 },
        );
    }
    // PO04, PO05, PO06, and classes 3, 5, 7: volts, ohm, watts, volts at the device.
    for (source, ohms, load, at_device) in [
        (50.0, 12.5, 25.5, 42.50),
        (50.0, 6.25, 51.0, 42.50),
        (52.0, 6.25, 71.3, 41.18),
        (44.0, 20.0, 12.95, 37.00),
        (50.0, 6.25, 40.0, 44.36),
        (52.0, 6.25, 62.0, 42.99),
    ] {
        let got = PoeVoltage::of(volts(source), watts(load), line(ohms)).expect("it stands");
        near("class", got.value(), at_device, 0.0003);
        // The device's own current gives its power back.
        near("power", got.amperes() * got.value(), load, 1e-9);
        near("Ohm", source - got.amperes() * ohms, got.value(), 1e-9);
    }
    assert_eq!(of_class(6), Some((watts(60.0), watts(51.0))));
    assert_eq!(of_type(5), None);
}

#[test]
fn power_lost_in_four_conductors() {
    // PO02: "PoE maximum power loss example" prints 0.858 W: 0.35 A shared by two conductors of 7 ohm in each leg.
    let lost =
        15.4 - PoePower::of(volts(44.0), watts(15.4), line(7.0)).map_or(0.0, |left| left.value());
    near("PO02", lost, 4.0 * 0.175f64.powi(2) * 7.0, 1e-9);
    near("PO02, printed", lost, 0.858, 0.001);
}

#[test]
fn both_conductors_of_a_pair_carry() {
    // PO07 DIFFERS: 40 m of 24 AWG at 20 °C, 71.3 W from 52 V over four pairs. Its 46.876 V halves the loop of one pair once,
    // which is the two-pair line; in four pairs four conductors of 3.3685 ohm share each leg: 1.684 ohm.
    let wire = from_geometry(Awg(24), Material::Copper, 20.0).expect("24 AWG");
    let line = |pairs| {
        LoopResistance::of(vec![leg(metres(40.0), wire, pairs).expect("pairs")]).expect("a line")
    };
    let at = |pairs| PoeVoltage::of(volts(52.0), watts(71.3), line(pairs)).expect("it stands");
    near("two pairs", at(2).value(), 46.876, 0.001);
    near(
        "four pairs",
        at(4).value(),
        (52.0 + (52f64.powi(2) - 4.0 * 1.6843 * 71.3).sqrt()) / 2.0,
        1e-4,
    );
    near("loop", line(2).value(), 0.0842132 * 40.0, 0.0001);
    assert_eq!(leg(metres(40.0), wire, 3), None);
    assert_eq!(
        at(4).working(),
        "(52 V + √((52 V)² − 4 × 1.684 Ω × 71.3 W)) ÷ 2 = 49.6 V, where 2 × 40 m × 84.2 Ω/km ÷ 4 tied = 1.684 Ω at 20 °C"
    );
}

#[test]
fn copper_clad_and_heat_starve_a_device() {
    // Copper-clad aluminium raises resistance 55 to 60 % (common practice); 1.59 by ASTM B566, from memory.
    let wire =
        |material, celsius| one_way(Awg(24), material, Stranding::Solid, celsius).expect("24 AWG");
    let at = |wire| {
        let line = LoopResistance::of(vec![leg(metres(90.0), wire, 2).expect("two pairs")])
            .expect("a line");
        PoeVoltage::of(volts(50.0), watts(25.5), line)
            .expect("it stands")
            .value()
    };
    let sound = at(wire(Material::Copper, 20.0));
    assert!(sound > 42.5);
    assert!(at(wire(Material::Copper, 45.0)) < sound);
    assert!(at(wire(Material::CopperCladAluminium, 45.0)) < 42.5);
}

#[test]
fn a_line_too_long_collapses() {
    // Most power a source can send through R is V²/4R (maximum power transfer).
    let far = line(60.0);
    let most = PoePower::of(volts(50.0), watts(60.0), far.clone()).expect("a power");
    near("most", most.value(), 50.0 * 50.0 / 240.0, 1e-12);
    assert!(PoeVoltage::of(volts(50.0), watts(25.5), far.clone()).is_none());
    let edge = PoeVoltage::of(volts(50.0), Watts::new(most.value(), "W").expect("W"), far)
        .expect("the edge");
    near("edge", edge.value(), 25.0, 1e-5);
    assert_eq!(
        most.working(),
        "(50 V)² ÷ (4 × 60 Ω) = 10.42 W, all that the line can carry, where 2 × 2 m × 30000 Ω/km ÷ 2 tied = 60 Ω at 20 °C"
    );
}

#[test]
fn bundles() {
    // NEC 2017 table 725.144, 60 °C cable, from memory; NEC 725.144 binds above 60 W, where a conductor carries more than 0.3 A.
    #[rustfmt::skip]
    let rows = [
        (24, [2.0, 1.0, 0.8, 0.6, 0.5, 0.4, 0.3]), (23, [2.5, 1.2, 0.8, 0.6, 0.5, 0.5, 0.4]), (22, [3.0, 1.4, 1.0, 0.7, 0.6, 0.5, 0.4]),
    ];
    let columns = [
        (1, 1),
        (2, 7),
        (8, 19),
        (20, 37),
        (38, 61),
        (62, 91),
        (92, 192),
    ];
    for (gauge, printed) in rows {
        for ((least, most), amperes) in columns.into_iter().zip(printed) {
            for cables in [least, most] {
                for edition in Edition::ALL {
                    let found = bundle_ampacity(edition, Awg(gauge), cables).expect("a row");
                    near("bundle", found.amperes, amperes, 1e-12);
                    assert!(found.memory && found.row_of == Edition::E2017);
                }
            }
        }
    }
    assert_eq!(bundle_ampacity(Edition::E2020, Awg(24), 0), None);
    assert_eq!(bundle_ampacity(Edition::E2020, Awg(24), 193), None);
    assert_eq!(bundle_ampacity(Edition::E2020, Awg(12), 3), None);
    let each =
        ConductorCurrent::of(volts(50.0), watts(bundles_count_above()), 4).expect("a current");
    near("0.3 A", each.value(), 0.3, 1e-12);
    let four = of_type(4).expect("type 4");
    let each =
        ConductorCurrent::of(four.source_volts, four.source_power, four.pairs).expect("a current");
    assert_eq!(
        each.working(),
        "90 W ÷ 52 V ÷ 4 conductors a leg = 0.433 A in each"
    );
    assert!(ConductorCurrent::of(Volts::new(0.0, "V").expect("V"), watts(1.0), 4).is_none());
}

#[test]
fn conductors_keep_within_the_standard() {
    // TIA-568.2, from memory: at most 9.38 ohm for 100 m of one conductor, which solid 24 AWG keeps.
    let solid = copper(Awg(24), Stranding::Solid, 20.0);
    for category in all() {
        assert!(solid.ohm_per_metre() < category.greatest_ohm_per_metre());
        assert!(category.link_metres() < category.channel_metres());
        assert!(category.connectors() >= 2);
    }
}
