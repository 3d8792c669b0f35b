//! Resistance of conductors: NEC chapter 9 table 8, IEC 60228, ASTM B258, IACS.

use super::{copper, near};
use nailplate::figures::Figure;
use nailplate::figures::conductor::{Material, Origin, Stranding, from_geometry, one_way};
use nailplate::figures::tied::EquivalentSize;
use nailplate::tables::conductors::{awg_source, circular_mils, metric_source, printed};
use nailplate::units::WireSize::{self, Awg, Metric};
use nailplate::units::unit::{millimeter, square_inch, square_millimeter};

const OHM_PER_KILOFOOT: f64 = 304.8;

/// AWG, circular mils, copper solid, copper stranded, aluminium solid, aluminium stranded, in ohm per 1000 ft at
/// 75 °C: NEC chapter 9 table 8, copper 18 to 4 from a reprint, the rest from memory.
type Table8 = (i8, f64, Option<f64>, f64, Option<f64>, f64);

#[rustfmt::skip]
#[expect(clippy::approx_constant, reason = "3.14 Ω/1000 ft is no circle")]
const TABLE_8: &[Table8] = &[
    (18, 1620.0, Some(7.77), 7.95, Some(12.8), 13.1),
    (16, 2580.0, Some(4.89), 4.99, Some(8.05), 8.21),
    (14, 4110.0, Some(3.07), 3.14, Some(5.06), 5.17),
    (12, 6530.0, Some(1.93), 1.98, Some(3.18), 3.25),
    (10, 10380.0, Some(1.21), 1.24, Some(2.00), 2.04),
    (8, 16510.0, Some(0.764), 0.778, Some(1.26), 1.28),
    (6, 26240.0, None, 0.491, None, 0.808),
    (4, 41740.0, None, 0.308, None, 0.508),
    (3, 52620.0, None, 0.245, None, 0.403),
    (2, 66360.0, None, 0.194, None, 0.319),
    (1, 83690.0, None, 0.154, None, 0.253),
    (0, 105_600.0, None, 0.122, None, 0.201),
    (-1, 133_100.0, None, 0.0967, None, 0.159),
    (-2, 167_800.0, None, 0.0766, None, 0.126),
    (-3, 211_600.0, None, 0.0608, None, 0.100),
];

/// mm², class 1 and 2, class 5, in ohm per km at 20 °C: IEC 60228 tables 1 to 3, from 25 mm² from memory.
#[rustfmt::skip]
const IEC_60228: &[(f64, f64, f64)] = &[
    (0.5, 36.0, 39.0), (0.75, 24.5, 26.0), (1.0, 18.1, 19.5), (1.5, 12.1, 13.3), (2.5, 7.41, 7.98),
    (4.0, 4.61, 4.95), (6.0, 3.08, 3.30), (10.0, 1.83, 1.91), (16.0, 1.15, 1.21), (25.0, 0.727, 0.780),
    (35.0, 0.524, 0.554), (50.0, 0.387, 0.386), (70.0, 0.268, 0.272), (95.0, 0.193, 0.206),
    (120.0, 0.153, 0.161),
];

fn at_75(size: WireSize, material: Material, stranding: Stranding) -> f64 {
    let wire = one_way(size, material, stranding, 75.0).expect("a printed size");
    wire.ohm_per_metre() * OHM_PER_KILOFOOT
}

#[test]
fn table_8_is_given_back_at_its_own_temperature() {
    for &(gauge, mils, solid, stranded, al_solid, al_stranded) in TABLE_8 {
        let size = Awg(gauge);
        near("cmil", circular_mils(size).unwrap_or(0.0), mils, 0.0);
        let cases = [
            (Material::Copper, Stranding::Solid, solid),
            (Material::Copper, Stranding::Stranded, Some(stranded)),
            (Material::Aluminium, Stranding::Solid, al_solid),
            (Material::Aluminium, Stranding::Stranded, Some(al_stranded)),
        ];
        for (material, stranding, ohms) in cases {
            let what = format!("{size} {material:?} {stranding:?}");
            match ohms {
                Some(ohms) => near(&what, at_75(size, material, stranding), ohms, 1e-9),
                None => assert_eq!(printed(size, material, stranding), None, "{what}"),
            }
        }
        let memory = printed(size, Material::Copper, Stranding::Stranded).map(|row| row.memory);
        assert_eq!(memory, Some(gauge < 4), "{size}");
    }
    assert!(awg_source().contains("table 8"));
}

#[test]
fn table_8_agrees_with_geometry() {
    for &(gauge, mils, solid, stranded, _, al_stranded) in TABLE_8 {
        let size = Awg(gauge);
        // 1 cmil = π/4 × (0.001 in)²; the table rounds to 3 or 4 figures.
        let geometric = size.area().get::<square_inch>() / std::f64::consts::FRAC_PI_4 * 1e6;
        near("cmil", geometric, mils, 0.004);
        let ohms = |material| {
            let wire = from_geometry(size, material, 75.0).expect("an everyday size");
            wire.ohm_per_metre() * OHM_PER_KILOFOOT
        };
        let copper = ohms(Material::Copper);
        if let Some(solid) = solid {
            near(&format!("{size} solid"), copper, solid, 0.004);
        }
        // Strands lie in a helix: some 2 % longer than the conductor (ASTM B8, from memory).
        near(&format!("{size} stranded"), copper * 1.02, stranded, 0.006);
        near(
            &format!("{size} aluminium"),
            ohms(Material::Aluminium) * 1.02,
            al_stranded,
            0.012,
        );
    }
}

#[test]
fn iec_60228_is_given_back_and_agrees_with_geometry() {
    for &(area, class_2, class_5) in IEC_60228 {
        let size = Metric(area);
        for (stranding, ohms) in [
            (Stranding::Solid, class_2),
            (Stranding::Stranded, class_2),
            (Stranding::Flexible, class_5),
        ] {
            near(
                &format!("{size}"),
                copper(size, stranding, 20.0).ohm_per_metre() * 1000.0,
                ohms,
                1e-9,
            );
        }
        // The standard's values are the greatest allowed: 3 to 16 % over the nominal area's.
        let wire = from_geometry(size, Material::Copper, 20.0).expect("an everyday size");
        for greatest in [class_2, class_5] {
            let over = greatest / (wire.ohm_per_metre() * 1000.0);
            assert!((1.03..1.16).contains(&over), "{size}: {over}");
        }
    }
    assert!(metric_source().contains("60228"));
}

#[test]
fn worked_examples() {
    let solid = |gauge, celsius| copper(Awg(gauge), Stranding::Solid, celsius).ohm_per_metre();
    let geometric = |gauge, celsius| {
        let wire = from_geometry(Awg(gauge), Material::Copper, celsius);
        wire.expect("an everyday size").ohm_per_metre()
    };
    // RS01: ASTM B258 + IACS, 14 AWG solid at 20 °C, computed; a public table lists 8.286.
    near("RS01", geometric(14, 20.0) * 1000.0, 8.2853, 0.001);
    // RS02, RS03: the same moved to 75 °C must meet table 8's 3.07 and 7.77.
    near(
        "RS02",
        geometric(14, 75.0) * OHM_PER_KILOFOOT,
        3.0712,
        0.003,
    );
    near("RS02", geometric(14, 75.0) * OHM_PER_KILOFOOT, 3.07, 0.003);
    near(
        "RS03",
        geometric(18, 75.0) * OHM_PER_KILOFOOT,
        7.7650,
        0.003,
    );
    // RS04: 12 AWG solid, table 8 moved to 20 °C with 0.00323 (the table's note).
    near("RS04", solid(12, 20.0) * OHM_PER_KILOFOOT, 1.5871, 0.003);
    // RS07: ASTM B258, 22 AWG.
    near(
        "RS07",
        Awg(22).diameter().get::<millimeter>(),
        0.6438,
        0.001,
    );
    // VD20: IEC 60228 class 2 at 70 °C, 2 × 7.41 × (1 + 0.00393 × 50); BS 7671 prints 18.
    let metric = copper(Metric(2.5), Stranding::Stranded, 70.0).ohm_per_metre();
    near("VD20", 2.0 * metric * 1000.0, 17.73, 0.001);
}

#[test]
fn iacs_table_of_everyday_sizes_at_20_degrees() {
    // Ohm per km, solid: ASTM B258 law and IACS resistivity, agreeing with public wire tables to 0.1 %.
    #[rustfmt::skip]
    let rows = [
        (24, 84.2132), (23, 66.7841), (22, 52.9622), (20, 33.3083), (18, 20.9478), (16, 13.1742), (14, 8.2853),
        (12, 5.2107), (10, 3.2770), (8, 2.0609), (6, 1.2961), (4, 0.8152), (2, 0.5127), (0, 0.3224), (-1, 0.2557),
        (-2, 0.2028), (-3, 0.1608),
    ];
    for (gauge, ohms) in rows {
        let wire = from_geometry(Awg(gauge), Material::Copper, 20.0).expect("an everyday size");
        near(
            &format!("{gauge} AWG"),
            wire.ohm_per_metre() * 1000.0,
            ohms,
            0.001,
        );
        // Sizes that table 8 lacks come from geometry.
        let asked = copper(Awg(gauge), Stranding::Solid, 20.0);
        let in_table = TABLE_8.iter().any(|row| row.0 == gauge && row.2.is_some());
        assert_eq!(asked.origin() == Origin::Geometry, !in_table, "{gauge} AWG");
    }
}

#[test]
fn bs_7671_volt_drop_per_ampere_and_metre() {
    // BS 7671 appendix 4 tables 4D5 and 4D2B, two-core, 70 °C, mV/A/m, as read in course lessons. Printed to two figures.
    let rows = [
        (1.0, 44.0),
        (1.5, 29.0),
        (2.5, 18.0),
        (4.0, 11.0),
        (6.0, 7.3),
        (10.0, 4.4),
    ];
    for (area, millivolts) in rows {
        let wire = copper(Metric(area), Stranding::Stranded, 70.0);
        near(
            &format!("{area} mm2"),
            2.0 * wire.ohm_per_metre() * 1000.0,
            millivolts,
            0.02,
        );
    }
}

#[test]
fn copper_clad_aluminium_is_1_59_times_copper() {
    // ASTM B566 class 10A, 2.743e-8 ohm m against IACS: from memory.
    for (size, stranding) in [
        (Awg(24), Stranding::Solid),
        (Awg(14), Stranding::Stranded),
        (Metric(2.5), Stranding::Flexible),
    ] {
        let clad = one_way(size, Material::CopperCladAluminium, stranding, 20.0).expect("a size");
        near(
            &format!("{size}"),
            clad.ohm_per_metre() / copper(size, stranding, 20.0).ohm_per_metre(),
            1.59,
            0.002,
        );
        assert_eq!(clad.origin(), Origin::CopperClad);
    }
}

#[test]
fn tied_cores_make_a_thicker_one() {
    // Common practice, no source: two 14 AWG cores tied equal about 11 AWG.
    let tied = EquivalentSize::of(Awg(14), 2).expect("two cores");
    near("AWG", tied.awg(), 11.0, 0.002);
    near(
        "area",
        tied.area().get::<square_millimeter>(),
        2.0 * 2.0809,
        1e-4,
    );
    assert_eq!(tied.working(), "2 × 14 AWG = 4.16 mm2, about 11 AWG");
    // One core is itself (ASTM B258).
    for gauge in -3..=40 {
        let one = EquivalentSize::of(Awg(gauge), 1).expect("one core");
        assert!((one.awg() - f64::from(gauge)).abs() < 1e-9, "{gauge}");
    }
    assert_eq!(EquivalentSize::of(Awg(14), 0), None);
}
