//! Conduit diameters and fill: NEC chapter 9.

use std::f64::consts::FRAC_PI_4;

use super::near;
use nailplate::tables::conduit::{
    bore, greatest_fill, is_metallic, makes, nipple_fill, trade_sizes,
};
use nailplate::units::split_number;

/// Make, trade size, inside diameter (in), total area (in²), from memory. NEC chapter 9 table 4 (reprint).
#[rustfmt::skip]
const TABLE_4: &[(&str, f64, f64, f64, bool)] = &[
    ("EMT", 0.5, 0.622, 0.304, false), ("EMT", 0.75, 0.824, 0.533, false), ("EMT", 1.0, 1.049, 0.864, false),
    ("EMT", 1.25, 1.380, 1.496, false), ("EMT", 1.5, 1.610, 2.036, false), ("EMT", 2.0, 2.067, 3.356, false),
    ("ENT", 0.5, 0.560, 0.246, false), ("ENT", 0.75, 0.760, 0.454, false), ("ENT", 1.0, 1.000, 0.785, false),
    ("ENT", 1.25, 1.340, 1.410, false), ("ENT", 1.5, 1.570, 1.936, false), ("ENT", 2.0, 2.020, 3.205, false),
    ("LFNC", 0.375, 0.494, 0.192, false), ("LFNC", 0.5, 0.632, 0.314, false), ("LFNC", 0.75, 0.830, 0.541, false),
    ("LFNC", 1.0, 1.054, 0.872, false), ("LFNC", 1.25, 1.395, 1.528, false), ("LFNC", 1.5, 1.588, 1.979, false),
    ("LFNC", 2.0, 2.033, 3.245, false),
    ("PVC-40", 0.5, 0.602, 0.285, true), ("PVC-40", 0.75, 0.804, 0.508, true), ("PVC-40", 1.0, 1.029, 0.832, true),
    ("PVC-40", 1.25, 1.360, 1.453, true), ("PVC-40", 1.5, 1.590, 1.986, true), ("PVC-40", 2.0, 2.047, 3.291, true),
    // Areas from memory.
    ("PVC-80", 0.5, 0.526, 0.217, true), ("PVC-80", 0.75, 0.722, 0.409, true), ("PVC-80", 1.0, 0.936, 0.688, true),
    ("PVC-80", 1.25, 1.255, 1.237, true), ("PVC-80", 1.5, 1.476, 1.711, true), ("PVC-80", 2.0, 1.913, 2.874, true),
    ("FMC", 0.375, 0.384, 0.116, true), ("FMC", 0.5, 0.635, 0.317, true), ("FMC", 0.75, 0.824, 0.533, true), ("FMC", 1.0, 1.020, 0.817, true),
    ("FMC", 1.25, 1.275, 1.277, true), ("FMC", 1.5, 1.538, 1.858, true), ("FMC", 2.0, 2.040, 3.269, true),
    ("RMC", 0.5, 0.632, 0.314, true), ("RMC", 0.75, 0.836, 0.549, true), ("RMC", 1.0, 1.063, 0.887, true),
    ("RMC", 1.25, 1.394, 1.526, true), ("RMC", 1.5, 1.624, 2.071, true), ("RMC", 2.0, 2.083, 3.408, true),
    ("IMC", 0.5, 0.660, 0.342, true), ("IMC", 0.75, 0.864, 0.586, true), ("IMC", 1.0, 1.105, 0.959, true),
    ("IMC", 1.25, 1.448, 1.647, true), ("IMC", 1.5, 1.683, 2.225, true), ("IMC", 2.0, 2.150, 3.630, true),
];

#[test]
fn diameters_give_the_printed_areas() {
    let sizes: usize = makes().map(|make| trade_sizes(make).count()).sum();
    assert_eq!(sizes, TABLE_4.len());
    for &(make, trade_size, diameter, area, memory) in TABLE_4 {
        let found = bore(make, trade_size).unwrap_or_else(|| panic!("no {make} {trade_size}"));
        near(make, found.diameter.number(), diameter, 1e-9);
        assert_eq!(found.memory, memory, "{make} {trade_size}");
        // Printed to a thousandth of a square inch; one LFNC row is off by two.
        let off = FRAC_PI_4 * found.diameter.number().powi(2) - area;
        assert!(off.abs() < 0.0025, "{make} {trade_size}: {off}");
    }
}

#[test]
fn trade_sizes_are_found_as_a_plan_writes_them() {
    for make in makes() {
        for written in trade_sizes(make) {
            let size = split_number(written).map(|(size, _)| size);
            assert!(
                size.is_some_and(|size| bore(make, size).is_some()),
                "{make} {written}"
            );
        }
    }
    for absurd in [0.0, -1.0, f64::NAN, f64::INFINITY, 1.1] {
        assert_eq!(bore("EMT", absurd), None);
    }
    assert_eq!(bore("lead pipe", 1.0), None);
    assert_eq!(is_metallic("EMT"), Some(true));
    assert_eq!(is_metallic("ENT"), Some(false));
}

#[test]
fn fill_limits() {
    // NEC chapter 9 table 1 with its notes; the nipple is note 4, from memory.
    let limits = [
        (0, None),
        (1, Some(53.0)),
        (2, Some(31.0)),
        (3, Some(40.0)),
        (40, Some(40.0)),
    ];
    for (cables, limit) in limits {
        assert_eq!(greatest_fill(cables), limit, "{cables}");
    }
    near("nipple", nipple_fill(), 60.0, 0.0);
    let area = |make, size| {
        let bore = bore(make, size).unwrap_or_else(|| panic!("no {make}"));
        FRAC_PI_4 * bore.diameter.number().powi(2)
    };
    // CD01 (table 4 prints 0.864), CD03 and CD04 (NEC chapter 9 tables, reprint).
    near("CD01", area("EMT", 1.0), 0.8643, 0.001);
    near(
        "CD03",
        area("EMT", 0.75) * greatest_fill(2).unwrap_or(0.0) / 100.0,
        0.165,
        0.005,
    );
    near(
        "CD04",
        area("ENT", 1.25) * greatest_fill(1).unwrap_or(0.0) / 100.0,
        0.747,
        0.005,
    );
}
