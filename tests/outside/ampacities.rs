//! Ampacity and breakers: NEC 310.16, 310.15(C)(1), 240.4(D), 240.6(A); BS 7671 table 4D5.

use super::near;
use nailplate::figures::conductor::Material;
use nailplate::tables::ampacity::{
    Column, Method, adjustment, ampacity, flat_cable, most_generous, next_standard_breaker,
    small_conductor_ceiling, sources, standard_breakers,
};
use nailplate::units::WireSize::{Awg, Metric};

type Row = (i8, [f64; 3], Option<[f64; 3]>);

/// AWG, copper at 60, 75, 90 °C, aluminium at 60, 75, 90 °C: NEC table 310.16 (2011 edition on). Copper 14 to 4
/// from a reprint; the rest from memory.
#[rustfmt::skip]
const TABLE_310_16: &[Row] = &[
    (14, [15.0, 20.0, 25.0], None),
    (12, [20.0, 25.0, 30.0], Some([15.0, 20.0, 25.0])),
    (10, [30.0, 35.0, 40.0], Some([25.0, 30.0, 35.0])),
    (8, [40.0, 50.0, 55.0], Some([35.0, 40.0, 45.0])),
    (6, [55.0, 65.0, 75.0], Some([40.0, 50.0, 55.0])),
    (4, [70.0, 85.0, 95.0], Some([55.0, 65.0, 75.0])),
    (3, [85.0, 100.0, 115.0], Some([65.0, 75.0, 85.0])),
    (2, [95.0, 115.0, 130.0], Some([75.0, 90.0, 100.0])),
    (1, [110.0, 130.0, 145.0], Some([85.0, 100.0, 115.0])),
    (0, [125.0, 150.0, 170.0], Some([100.0, 120.0, 135.0])),
    (-1, [145.0, 175.0, 195.0], Some([115.0, 135.0, 150.0])),
    (-2, [165.0, 200.0, 225.0], Some([130.0, 155.0, 175.0])),
    (-3, [195.0, 230.0, 260.0], Some([150.0, 180.0, 205.0])),
];

const COLUMNS: [Column; 3] = [Column::C60, Column::C75, Column::C90];

#[test]
fn table_310_16() {
    for &(gauge, copper, aluminium) in TABLE_310_16 {
        for (index, column) in COLUMNS.into_iter().enumerate() {
            let found = ampacity(Awg(gauge), Material::Copper, column).expect("a printed size");
            near(&format!("{gauge} AWG"), found.amperes, copper[index], 0.0);
            assert_eq!(found.memory, gauge < 4, "{gauge} AWG");
            let found = ampacity(Awg(gauge), Material::Aluminium, column);
            assert_eq!(
                found.map(|found| found.amperes),
                aluminium.map(|row| row[index]),
                "{gauge} AWG"
            );
            assert_eq!(
                found,
                ampacity(Awg(gauge), Material::CopperCladAluminium, column)
            );
        }
    }
    assert_eq!(ampacity(Metric(2.5), Material::Copper, Column::C60), None);
    assert_eq!(ampacity(Awg(40), Material::Copper, Column::C60), None);
}

#[test]
fn bundled_building_wire() {
    // Published question and answer on bundled NM cables, September 2004: 90 °C column × table 310.15(C)(1).
    // Id, AWG, current-carrying conductors together, ampacity left.
    let cases = [
        ("AM01", 14, 9, 17.5),
        ("AM02", 12, 9, 21.0),
        ("AM03", 10, 9, 28.0),
        ("AM04", 14, 10, 12.5),
    ];
    for (id, gauge, conductors, left) in cases {
        let base = ampacity(Awg(gauge), Material::Copper, Column::C90).expect("a printed size");
        near(
            id,
            base.amperes * adjustment(conductors).unwrap_or(0.0),
            left,
            1e-12,
        );
    }
    // AM03: 28 A takes the next standard breaker, 30 A (240.4(B)).
    assert_eq!(next_standard_breaker(28.0), Some(30.0));
}

#[test]
fn adjustment_factors() {
    // NEC table 310.15(C)(1).
    let rows = [
        (1, 100.0),
        (3, 100.0),
        (4, 80.0),
        (6, 80.0),
        (7, 70.0),
        (9, 70.0),
        (10, 50.0),
        (20, 50.0),
        (21, 45.0),
        (30, 45.0),
        (31, 40.0),
        (40, 40.0),
        (41, 35.0),
        (u32::MAX, 35.0),
    ];
    for (conductors, percent) in rows {
        near(
            &format!("{conductors}"),
            adjustment(conductors).unwrap_or(0.0),
            percent / 100.0,
            1e-12,
        );
    }
    assert_eq!(adjustment(0), None);
}

#[test]
fn small_conductors() {
    // NEC 240.4(D); aluminium from memory.
    let copper = [(14, 15.0), (12, 20.0), (10, 30.0)];
    for (gauge, amperes) in copper {
        let found = small_conductor_ceiling(Awg(gauge), Material::Copper).expect("a small size");
        assert_eq!((found.amperes, found.memory), (amperes, false), "{gauge}");
    }
    for material in [Material::Aluminium, Material::CopperCladAluminium] {
        for (gauge, amperes) in [(12, 15.0), (10, 25.0)] {
            let found = small_conductor_ceiling(Awg(gauge), material).expect("a small size");
            assert_eq!((found.amperes, found.memory), (amperes, true), "{gauge}");
        }
    }
    assert_eq!(small_conductor_ceiling(Awg(8), Material::Copper), None);
    assert_eq!(small_conductor_ceiling(Metric(2.5), Material::Copper), None);
}

#[test]
fn standard_breaker_sizes() {
    // NEC 240.6(A), from memory.
    assert!(standard_breakers().is_sorted());
    let cases = [
        (0.0, Some(15.0)),
        (15.0, Some(15.0)),
        (15.1, Some(20.0)),
        (55.0, Some(60.0)),
        (600.0, Some(600.0)),
        (601.0, None),
        (f64::NAN, None),
    ];
    for (amperes, breaker) in cases {
        assert_eq!(next_standard_breaker(amperes), breaker, "{amperes}");
    }
}

#[test]
fn flat_cable_by_method() {
    // BS 7671 table 4D5, from memory: mm², methods 100, 101, 102, 103, C, A.
    let rows = [
        (1.0, [13.0, 10.5, 13.0, 8.0, 16.0, 11.5]),
        (1.5, [16.0, 13.0, 16.0, 10.0, 20.0, 14.5]),
        (2.5, [21.0, 17.0, 21.0, 13.5, 27.0, 20.0]),
        (4.0, [27.0, 22.0, 27.0, 17.5, 37.0, 26.0]),
        (6.0, [34.0, 27.0, 35.0, 23.5, 47.0, 32.0]),
        (10.0, [45.0, 36.0, 47.0, 32.0, 64.0, 44.0]),
        (16.0, [57.0, 46.0, 63.0, 42.5, 85.0, 57.0]),
    ];
    for (area, currents) in rows {
        for (method, amperes) in Method::ALL.into_iter().zip(currents) {
            let found = flat_cable(Metric(area), method).expect("a printed size");
            assert_eq!(
                (found.amperes, found.memory),
                (amperes, true),
                "{area} {method:?}"
            );
            assert_eq!(Method::named(method.name()), Some(method));
        }
        let (method, found) = most_generous(Metric(area)).expect("a printed size");
        assert_eq!((method, found.amperes), (Method::C, currents[4]), "{area}");
    }
    assert_eq!(flat_cable(Metric(3.0), Method::C), None);
    assert_eq!(most_generous(Awg(12)), None);
    assert!(sources().iter().all(|source| !source.is_empty()));
}
