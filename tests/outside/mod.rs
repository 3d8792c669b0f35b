//! Checks against published standards, handbook tables and worked examples. Each value names its source.
mod absurd;
mod absurd_more;
mod ampacities;
mod building;
mod coaxial;
mod conductors;
mod conduits;
mod data;
mod drops;
mod fire_classes;
mod heads;
mod heat;
mod interconnects;
mod lines;
mod listings;
mod loads;
mod places;
mod pulling;
mod routes;
mod sources;
mod timings;
mod units;
mod video;
mod wiring;

use nailplate::figures::conductor::{Material, OneWay, Stranding, one_way};
use nailplate::units::{Current, Distance, Length, Resistance, Volts, Watts, WireSize, unit};

/// Asserts that a value lies within a share of what is published.
#[track_caller]
pub fn near(what: &str, value: f64, published: f64, tolerance: f64) {
    let off = (value - published).abs();
    assert!(
        off <= tolerance * published.abs(),
        "{what}: {value}, published {published}"
    );
}

pub fn feet(number: f64) -> Distance {
    Distance::new(number, "ft").expect("ft is a length")
}

pub fn metres(number: f64) -> Distance {
    Distance::new(number, "m").expect("m is a length")
}

pub fn inches(number: f64) -> Distance {
    Distance::new(number, "in").expect("in is a length")
}

pub fn volts(number: f64) -> Volts {
    Volts::new(number, "V").expect("V is a voltage")
}

pub fn watts(number: f64) -> Watts {
    Watts::new(number, "W").expect("W is a power")
}

pub fn amperes(number: f64) -> Current {
    Current::new::<unit::ampere>(number)
}

/// A conductor of a stated resistance.
pub fn per_kilofoot(ohms: f64) -> OneWay {
    let length = Length::new::<unit::foot>(1000.0);
    let stated = OneWay::stated(Resistance::new::<unit::ohm>(ohms) / length, 20.0);
    stated.expect("above zero")
}

pub fn copper(size: WireSize, stranding: Stranding, celsius: f64) -> OneWay {
    one_way(size, Material::Copper, stranding, celsius).expect("copper of an everyday size")
}
