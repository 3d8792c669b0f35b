//! Units: conversion factors of NIST SP 811 appendix B (the pound-force, the cubic foot and the BTU from memory),
//! and levels by their definitions.

use super::near;
use nailplate::units::{
    AirFlowDim, AreaDim, Dimension, ForceDim, ForcePerLengthDim, FrequencyDim, LevelDim,
    MassPerLengthDim, Measured, Misspelling, TemperatureDim, VolumeDim,
};

fn base<D: Dimension>(text: &str) -> f64 {
    match Measured::<D>::parse(text) {
        Ok(measured) => measured.base(),
        Err(slip) => panic!("{text}: {slip:?}"),
    }
}

#[test]
fn conversion_factors() {
    near("25 lbf", base::<ForceDim>("25 lbf"), 111.2055, 1e-6);
    near(
        "lb/ft",
        base::<MassPerLengthDim>("1 lb/ft"),
        1.488_164,
        1e-6,
    );
    near(
        "lb/kft",
        base::<MassPerLengthDim>("22 lb/1000 ft"),
        22.0 * 1.488_164e-3,
        1e-6,
    );
    near("N/m", base::<MassPerLengthDim>("9.80665 N/m"), 1.0, 1e-12);
    near(
        "lbf/ft",
        base::<ForcePerLengthDim>("300 lbf/ft"),
        300.0 * 14.593_90,
        1e-6,
    );
    near(
        "in3",
        base::<VolumeDim>("20.3 in3"),
        20.3 * 1.638_706e-5,
        1e-6,
    );
    near("in2", base::<AreaDim>("1 in2"), 6.4516e-4, 1e-12);
    near(
        "CFM",
        base::<AirFlowDim>("100 CFM"),
        100.0 * 4.719_474e-4 * 3600.0,
        1e-6,
    );
    near(
        "MHz",
        base::<FrequencyDim>("2.15 GHz"),
        base::<FrequencyDim>("2150 MHz"),
        1e-12,
    );
}

#[test]
fn temperatures_have_their_own_nought() {
    // Fixed points: water freezes at 32 °F and boils at 212 °F; both scales meet at −40.
    for (text, celsius) in [
        ("32 °F", 0.0),
        ("212 F", 100.0),
        ("-40 degF", -40.0),
        ("68 °F", 20.0),
        ("20 °C", 20.0),
    ] {
        let off = base::<TemperatureDim>(text) - celsius;
        assert!(off.abs() < 1e-9, "{text}: {off}");
    }
    let room = Measured::<TemperatureDim>::parse("68 °F").expect("a temperature");
    let same = room.same_unit(TemperatureDim::quantity(25.0));
    near("25 °C", same.number(), 77.0, 1e-9);
    let twice = Measured::<TemperatureDim>::parse("20 °C 5 °F");
    assert!(matches!(twice, Err(Misspelling::NoSuchUnit { .. })));
}

#[test]
fn levels() {
    near("0 dBmV", base::<LevelDim>("60 dBuV") + 1.0, 1.0, 1e-9);
    near(
        "dBm",
        base::<LevelDim>("0 dBm"),
        10.0 * 75_000f64.log10(),
        1e-12,
    );
    assert_eq!(
        Measured::<LevelDim>::parse("1e5 dBmV"),
        Err(Misspelling::Unthinkable)
    );
}
