//! Pulling cable: capstan equation, weight correction, jamming, radii, limits.

use super::{feet, inches, near};
use nailplate::figures::Figure;
use nailplate::figures::jam::JamRatio;
use nailplate::figures::pull::{Lay, Pull, Section, even_spread};
use nailplate::figures::tension::{PullTension, SidewallPressure};
use nailplate::tables::bends::{
    CableKind, cable_radius, conduit_radius, greatest_total, least_radius, longest_section,
    telecommunications_radius,
};
use nailplate::tables::conductors::Material;
use nailplate::tables::conduit::bore;
use nailplate::tables::pulling::{basket_grip, by_conductors, four_pair, friction, sidewall};
use nailplate::units::{Degrees, Distance, KilogramsPerMetre, Newtons, WireSize::Awg};

const POUND: f64 = 4.448_222;

fn straight(length: f64) -> Section {
    Section::Straight {
        length: feet(length),
        rise: 0.0,
    }
}

fn bend(angle: f64) -> Section {
    Section::Bend {
        angle: degrees(angle),
        radius: Some(inches(6.0)),
    }
}

fn degrees(angle: f64) -> Degrees {
    Degrees::new(angle, "deg").expect("deg is an angle")
}

fn pull(sections: &[Section], pounds_per_foot: f64, friction: f64, start: f64) -> Pull {
    Pull {
        sections: sections.to_vec(),
        weight: KilogramsPerMetre::new(pounds_per_foot, "lb/ft").expect("lb/ft is a weight"),
        friction,
        lay: Lay::One,
        start: Newtons::new(start, "lbf").expect("lbf is a force"),
    }
}

/// In lbf.
fn tension(pull: Pull) -> f64 {
    PullTension::of(pull).map_or(f64::NAN, |tension| tension.value() / POUND)
}

#[test]
fn capstan_table() {
    // "Coaxial-in-conduit construction manual", p. 69, e^(µθ) table, read; 180 and 360 degrees computed.
    #[rustfmt::skip]
    let rows = [
        (90.0, 0.7, 3.0), (90.0, 0.6, 2.57), (90.0, 0.5, 2.19), (90.0, 0.4, 1.87), (90.0, 0.3, 1.60), (90.0, 0.15, 1.27),
        (45.0, 0.5, 1.48), (180.0, 0.5, 4.810), (360.0, 0.5, 23.14),
    ];
    for (angle, friction, factor) in rows {
        near(
            &format!("{angle} deg, {friction}"),
            tension(pull(&[bend(angle)], 0.0, friction, 1.0)),
            factor,
            0.005,
        );
    }
    // PT01, PT02, PT04.
    near(
        "PT01",
        tension(pull(&[bend(90.0)], 0.0, 0.5, 36.0)),
        78.96,
        0.001,
    );
    near(
        "PT02",
        tension(pull(&[bend(45.0)], 0.0, 0.5, 1.0)),
        1.48,
        0.005,
    );
    near(
        "PT04",
        tension(pull(&[bend(90.0)], 0.0, 0.7, 1.0)),
        3.003,
        0.001,
    );
}

#[test]
fn straights_and_bends_in_order() {
    // PT08: a public example prints 144.
    let run = pull(&[straight(200.0), bend(90.0)], 1.5, 0.3, 0.0);
    near("PT08", tension(run.clone()), 144.18, 0.0005);
    let figure = PullTension::of(run).expect("a pull");
    assert_eq!(
        figure.working(),
        "200 ft straight: 90 lbf, 90 deg bend: 144.2 lbf, with 1.5 lb/ft and friction 0.3"
    );
    // PT10: 10 ft, 90, 10 ft, 90, 80 ft; 4.032 lbf. The row leaves out weight and friction: 0.08 kg/m and 0.5 give its answer.
    let sections = [
        straight(10.0),
        bend(90.0),
        straight(10.0),
        bend(90.0),
        straight(80.0),
    ];
    let light = pull(&sections, 0.08 / 1.488_164, 0.5, 0.0);
    near("PT10", tension(light.clone()), 4.032, 0.0005);
    // Direction matters: with the long straight first, its tension passes both bends.
    let other = tension(light.reversed());
    near(
        "PT09",
        other,
        0.053_757 * 0.5 * (80.0 * 4.8105 + 10.0 * 2.1933 + 10.0),
        0.001,
    );
    let (better, reversed) = PullTension::better(light.reversed()).expect("a pull");
    assert!(reversed);
    near("better", better.value() / POUND, 4.032, 0.0005);
    assert!(!PullTension::better(light).expect("a pull").1);
}

#[test]
fn slopes() {
    // IEEE 1185, from memory: T = w L (sin θ + K µ cos θ). Straight up it is the weight alone.
    let up = Section::Straight {
        length: feet(20.0),
        rise: 90.0,
    };
    near("up", tension(pull(&[up], 2.0, 0.5, 0.0)), 40.0, 1e-6);
    let slope = Section::Straight {
        length: feet(20.0),
        rise: 30.0,
    };
    near(
        "slope",
        tension(pull(&[slope], 2.0, 0.5, 0.0)),
        40.0 * (0.5 + 0.5 * 0.866_025),
        1e-6,
    );
    // Downhill the cable's weight outruns friction: nothing is left of the reel's 10 lbf, which then was the greatest.
    let down = pull(&[slope], 2.0, 0.2, 10.0).reversed();
    near("down", tension(down), 10.0, 1e-6);
}

#[test]
fn even_spread_of_a_short_form() {
    let bends = [degrees(90.0), degrees(45.0)];
    let sections = even_spread(feet(36.0), &bends, None).expect("a conduit");
    assert_eq!(sections.len(), 5);
    let sums = pull(&sections, 1.0, 0.5, 0.0);
    let e = |angle: f64| (0.5 * angle.to_radians()).exp();
    near(
        "forth",
        tension(sums.clone()),
        ((6.0 * e(90.0)) + 6.0) * e(45.0) + 6.0,
        1e-6,
    );
    near(
        "back",
        tension(sums.reversed()),
        ((6.0 * e(45.0)) + 6.0) * e(90.0) + 6.0,
        1e-6,
    );
    assert!(SidewallPressure::of(sums).is_none());
    assert_eq!(even_spread(feet(-1.0), &bends, None), None);
}

#[test]
fn weight_correction() {
    // PT12 (IEEE 1185, AEIC): triangular 1.1109. The row says "same"; three cables of 0.25 in EMT 3/4 (0.824 in) give it.
    let ratio = 0.824 / 0.25;
    near(
        "PT12",
        Lay::Triangular(ratio).weight_correction().unwrap_or(0.0),
        1.1109,
        0.001,
    );
    // Cradled, by its formula: 1 + 4/3 × (0.25/0.574)².
    near(
        "PT11",
        Lay::Cradled(ratio).weight_correction().unwrap_or(0.0),
        1.252_93,
        0.0001,
    );
    let pipe = inches(0.824);
    let three = Lay::of(pipe, &[inches(0.25); 3]);
    assert!(matches!(three, Some(Lay::Cradled(found)) if (found - ratio).abs() < 1e-9));
    assert!(matches!(
        Lay::of(pipe, &[inches(0.35); 3]),
        Some(Lay::Triangular(_))
    ));
    assert_eq!(Lay::of(pipe, &[inches(0.25); 4]), Some(Lay::Uncorrected(4)));
    assert_eq!(Lay::of(pipe, &[inches(0.25)]), Some(Lay::One));
    assert_eq!(Lay::of(pipe, &[]), None);
    // Three cables as wide as half the conduit do not fit.
    assert_eq!(Lay::Triangular(2.0).weight_correction(), None);
    let mut three = pull(&[straight(100.0)], 0.1, 0.5, 0.0);
    three.lay = Lay::Cradled(ratio);
    near(
        "three",
        tension(three.clone()),
        100.0 * 0.1 * 0.5 * 1.252_93,
        0.0001,
    );
    let text = PullTension::of(three)
        .map(|tension| tension.working())
        .unwrap_or_default();
    assert!(
        text.ends_with("weight correction 1.253 (three cables, cradled)"),
        "{text}"
    );
}

#[test]
fn sidewall_pressure() {
    // PT05: 3600 lbf over 3 ft of radius is 1200 lbf/ft (a copied fragment; the arithmetic is T/R).
    let run = Pull {
        sections: vec![Section::Bend {
            angle: degrees(0.0),
            radius: Some(feet(3.0)),
        }],
        ..pull(&[], 0.0, 0.5, 3600.0)
    };
    let pressure = SidewallPressure::of(run).expect("a radius");
    near("PT05", pressure.value() / POUND * 0.3048, 1200.0, 1e-6);
    assert_eq!(pressure.working(), "3600 lbf ÷ 3 ft = 1200 lbf/ft");
    let none = SidewallPressure::of(pull(&[straight(10.0)], 1.0, 0.5, 0.0)).expect("no bend");
    assert_eq!(
        (none.value(), none.working().as_str()),
        (0.0, "no bend = 0 N/m")
    );
}

#[test]
fn limits() {
    // TIA-568 (25 lbf, 110 N); an ICEA-sponsored guide: 0.008 lbf/cmil, 300 lbf/ft, 1000 lbf, friction 0.5.
    near(
        "four pairs",
        four_pair().map_or(0.0, |f| f.base()),
        25.0 * POUND,
        0.02,
    );
    // PT13, and 18 AWG centre conductor (computed in the facts): 12.96 lbf.
    let limit = |count, gauge| {
        by_conductors(count, Awg(gauge), Material::Copper).map_or(0.0, |f| f.number())
    };
    near("PT13", limit(3, 12), 156.7, 0.0005);
    near("18 AWG", limit(1, 18), 12.96, 1e-9);
    assert_eq!(
        by_conductors(3, Awg(12), Material::CopperCladAluminium),
        None
    );
    near(
        "sidewall",
        sidewall().map_or(0.0, |s| s.number()),
        300.0,
        0.0,
    );
    near(
        "grip",
        basket_grip().map_or(0.0, |g| g.number()),
        1000.0,
        0.0,
    );
    near("friction", friction(), 0.5, 0.0);
}

#[test]
fn jam_ratios() {
    // CD08, CD10, CD11: EMT 3/4 (0.824 in), computed; the note's form and 1.05 D/d.
    let pipe = bore("EMT", 0.75).expect("EMT 3/4").diameter;
    let cable = |millimetres| Distance::new(millimetres, "mm").expect("mm is a length");
    let rows = [
        (7.0, 2.990, 3.139, true),
        (6.2, 3.376, 3.545, false),
        (7.8, 2.683, 2.817, true),
        (9.0, 2.325, 2.442, false),
    ];
    for (millimetres, note, bend, jams) in rows {
        let ratio = JamRatio::of(pipe, cable(millimetres)).expect("a ratio");
        near("D/d", ratio.value(), note, 0.001);
        near("1.05 D/d", ratio.in_a_bend(), bend, 0.001);
        assert_eq!(ratio.may_jam(), jams, "{millimetres} mm");
    }
    let ratio = JamRatio::of(pipe, cable(7.0)).expect("a ratio");
    assert_eq!(
        ratio.working(),
        "0.824 in ÷ 7 mm = 2.99, 1.05 × that in a bend = 3.14"
    );
}

#[test]
fn radii() {
    // NEC chapter 9 table 2, from memory: one-shot bender, other bends, in inch.
    for (size, one_shot, other) in [
        (0.5, 4.0, 4.0),
        (0.75, 4.5, 5.0),
        (1.0, 5.75, 6.0),
        (1.25, 7.25, 8.0),
        (1.5, 8.25, 10.0),
        (2.0, 9.5, 12.0),
    ] {
        let inch = |shot| conduit_radius(size, shot).map_or(0.0, |radius| radius.number());
        near("one-shot", inch(true), one_shot, 0.0);
        near("other", inch(false), other, 0.0);
    }
    assert_eq!(conduit_radius(1.1, true), None);
    // TIA-569, from memory: 6 inside diameters up to 2 in, 10 above and for fibre.
    let inside = |bore, fibre| {
        telecommunications_radius(inches(bore), fibre).map_or(0.0, |radius| radius.number())
    };
    near("1 in", inside(1.049, false), 6.294, 1e-9);
    near("2 in", inside(2.067, false), 12.402, 1e-9);
    near("3 in", inside(3.068, false), 30.68, 1e-9);
    near("fibre", inside(1.0, true), 10.0, 1e-9);
    // TIA-568, read for unscreened pairs: 4 diameters laid.
    let data = cable_radius(CableKind::Data).expect("a radius");
    assert_eq!((data.laid, data.pulled), (4.0, 8.0));
    for kind in [CableKind::ScreenedData, CableKind::Coax, CableKind::Fibre] {
        assert!(cable_radius(kind).is_some_and(|radius| radius.laid <= radius.pulled));
    }
    let least = least_radius(CableKind::Data, inches(0.25), false);
    assert_eq!(least, Some(inches(1.0)));
    assert_eq!(least_radius(CableKind::Coax, inches(0.0), true), None);
    // NEC 358.26 and sisters; TIA-569.
    assert_eq!(greatest_total(), (360.0, 180.0));
    assert_eq!(longest_section(), Some(feet(100.0)));
}
