//! Volume of boxes and of what is in them: NEC 314.16 (from memory).

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::Deserialize;

use super::edition::Edition;
use super::read;
use crate::units::{Space, WireSize};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Table {
    source: String,
    conductors: Vec<(i8, f64)>,
    box_source: String,
    boxes: Vec<(String, f64)>,
    allowance_source: String,
    yoke: f64,
    clamps: f64,
    earths: f64,
    earths_free: u32,
    earth_more: BTreeMap<Edition, f64>,
}

static TABLE: LazyLock<Table> =
    LazyLock::new(|| read("boxes", include_str!("../../rules/tables/boxes.yaml")));

/// Volume that each conductor needs, in cubic inch. `None` for sizes outside the table.
pub fn conductor_volume(size: WireSize) -> Option<f64> {
    let WireSize::Awg(gauge) = size else {
        return None;
    };
    let row = TABLE.conductors.iter().find(|row| row.0 == gauge)?;
    Some(row.1)
}

/// The standard boxes by trade size, with their least volume.
pub fn boxes() -> impl Iterator<Item = (&'static str, Space)> {
    let rows = TABLE.boxes.iter();
    rows.filter_map(|(name, volume)| Some((name.as_str(), Space::new(*volume, "in3")?)))
}

/// What else counts, in conductors.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Allowances {
    /// Each yoke, of the largest conductor connected to it.
    pub yoke: f64,
    /// All internal clamps together, of the largest conductor in the box.
    pub clamps: f64,
    /// Earthing conductors together, of the largest of them, and how many that covers.
    pub earths: f64,
    pub earths_free: u32,
    /// Each earthing conductor beyond those.
    pub earth_more: f64,
}

/// The allowances of an edition.
pub fn allowances(edition: Edition) -> Option<Allowances> {
    Some(Allowances {
        yoke: TABLE.yoke,
        clamps: TABLE.clamps,
        earths: TABLE.earths,
        earths_free: TABLE.earths_free,
        earth_more: *TABLE.earth_more.get(&edition)?,
    })
}

/// Sources of the conductors, the boxes and the allowances.
pub fn sources() -> [&'static str; 3] {
    [&TABLE.source, &TABLE.box_source, &TABLE.allowance_source]
}
