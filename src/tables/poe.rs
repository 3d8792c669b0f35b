//! Power over the data cable: IEEE 802.3 types and classes; NEC ampacity of bundles.

use std::sync::LazyLock;

use serde::Deserialize;

use super::edition::Edition;
use super::{Rows, read};
use crate::units::{Ohms, Volts, Watts, WireSize};

#[derive(Debug, Deserialize)]
struct TypeRow(u8, f64, f64, f64, f64, u8, f64, f64);

#[derive(Debug, Deserialize)]
struct BundleRow(i8, [f64; 7]);

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Table {
    source: String,
    types: Vec<TypeRow>,
    class_source: String,
    classes: Vec<(u8, f64, f64)>,
    bundle_source: String,
    bundle_sizes: [u32; 7],
    bundle_edition: Edition,
    bundle: Rows<BundleRow>,
    bundle_from: f64,
}

static TABLE: LazyLock<Table> =
    LazyLock::new(|| read("poe", include_str!("../../rules/tables/poe.yaml")));

/// One type of IEEE 802.3.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Type {
    pub number: u8,
    /// Least power of the source.
    pub source_power: Watts,
    /// Greatest power that a device may draw.
    pub device_power: Watts,
    /// Least voltage at the source.
    pub source_volts: Volts,
    /// Least voltage at the device, by the standard's own channel.
    pub device_volts: Volts,
    /// Powered pairs: 2 or 4.
    pub pairs: u8,
    /// Greatest loop resistance of the channel, out on one pair and back on another (from memory).
    pub channel_loop: Ohms,
    /// Greatest current of each two pairs, in ampere (from memory).
    pub amperes: f64,
}

/// The type of a number from 1 to 4.
pub fn of_type(number: u8) -> Option<Type> {
    let row = TABLE.types.iter().find(|row| row.0 == number)?;
    Some(Type {
        number,
        source_power: Watts::new(row.1, "W")?,
        device_power: Watts::new(row.2, "W")?,
        source_volts: Volts::new(row.3, "V")?,
        device_volts: Volts::new(row.4, "V")?,
        pairs: row.5,
        channel_loop: Ohms::new(row.6, "ohm")?,
        amperes: row.7,
    })
}

/// Power at the source and at the device for a class from 0 to 8.
pub fn of_class(class: u8) -> Option<(Watts, Watts)> {
    let row = TABLE.classes.iter().find(|row| row.0 == class)?;
    Some((Watts::new(row.1, "W")?, Watts::new(row.2, "W")?))
}

/// What a conductor may carry in a bundle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BundleAmpacity {
    /// Ampere in each conductor.
    pub amperes: f64,
    /// The number is from memory, not seen in print.
    pub memory: bool,
    /// The edition that the row is of; it may stand for a later one on the safe side.
    pub row_of: Edition,
}

/// Ampacity of each conductor of a 60 °C data cable in a bundle of `cables`. `None` for no cable, more than 192,
/// or a size that the table lacks.
pub fn bundle_ampacity(edition: Edition, size: WireSize, cables: u32) -> Option<BundleAmpacity> {
    let WireSize::Awg(gauge) = size else {
        return None;
    };
    if cables == 0 || edition < TABLE.bundle_edition {
        return None;
    }
    let mut sizes = TABLE.bundle_sizes.iter();
    let column = sizes.position(|&greatest| cables <= greatest)?;
    let (row, memory) = TABLE.bundle.find(|row| row.0 == gauge)?;
    Some(BundleAmpacity {
        amperes: *row.1.get(column)?,
        memory,
        row_of: TABLE.bundle_edition,
    })
}

/// Power of a cable's source above which the bundle table binds, in W (NEC 725.144).
pub fn bundles_count_above() -> f64 {
    TABLE.bundle_from
}

/// Sources of the types, the classes and the bundles.
pub fn sources() -> [&'static str; 3] {
    [&TABLE.source, &TABLE.class_source, &TABLE.bundle_source]
}
