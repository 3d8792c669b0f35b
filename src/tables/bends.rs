//! Radii of conduit bends and of cables: NEC chapter 9 table 2, TIA-569, TIA-568.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::Deserialize;

use super::{read, same};
use crate::units::{Distance, split_number};

#[derive(Debug, Deserialize)]
struct Row(String, f64, f64);

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Total {
    code: f64,
    telecommunications: f64,
    section: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Table {
    source: String,
    radii: Vec<Row>,
    inside_source: String,
    inside: [f64; 2],
    inside_fibre: f64,
    cable_source: String,
    cables: BTreeMap<String, [f64; 2]>,
    total_source: String,
    total: Total,
}

static TABLE: LazyLock<Table> =
    LazyLock::new(|| read("bends", include_str!("../../rules/tables/bends.yaml")));

/// Least radius of a conduit's bend to its centre line, by trade size (1.25 for 1-1/4): NEC chapter 9 table 2.
/// `one_shot`: bent by a one-shot or full-shoe bender.
pub fn conduit_radius(trade_size: f64, one_shot: bool) -> Option<Distance> {
    let row = TABLE.radii.iter().find(|row| {
        let printed = split_number(&row.0).map(|(size, _)| size);
        printed.is_some_and(|size| same(size, trade_size))
    })?;
    Distance::new(if one_shot { row.1 } else { row.2 }, "in")
}

/// Least inside radius of a conduit's bend for telecommunications, from its inside diameter (TIA-569). `None` unless
/// that is above zero.
pub fn telecommunications_radius(bore: Distance, fibre: bool) -> Option<Distance> {
    let two_inches = Distance::new(2.0, "in")?.base();
    if !(bore.base() > 0.0 && bore.base().is_finite()) {
        return None;
    }
    // Trade size 2 has a bore a little over 2 in, and counts as up to 2 in.
    let wide = bore.base() > two_inches * 1.1;
    let times = match (fibre, wide) {
        (true, _) => TABLE.inside_fibre,
        (false, true) => TABLE.inside[1],
        (false, false) => TABLE.inside[0],
    };
    Distance::new(bore.number() * times, bore.unit().spelling)
}

/// Kind of cable for its bend radius.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum CableKind {
    Data,
    ScreenedData,
    Coax,
    Fibre,
    /// Nonmetallic-sheathed cable of building wire: NM, UF.
    Building,
}

/// Least bend radius of a cable in outer diameters: laid, and under pull.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CableRadius {
    pub laid: f64,
    pub pulled: f64,
}

/// Least bend radius of a kind of cable; what a maker states goes before it.
pub fn cable_radius(kind: CableKind) -> Option<CableRadius> {
    let key = match kind {
        CableKind::Data => "data",
        CableKind::ScreenedData => "data-screened",
        CableKind::Coax => "coax",
        CableKind::Fibre => "fibre",
        CableKind::Building => "building",
    };
    let [laid, pulled] = *TABLE.cables.get(key)?;
    Some(CableRadius { laid, pulled })
}

/// Least bend radius of a cable of a diameter, laid or under pull, in the diameter's unit.
pub fn least_radius(kind: CableKind, diameter: Distance, pulled: bool) -> Option<Distance> {
    let times = cable_radius(kind)?;
    let times = if pulled { times.pulled } else { times.laid };
    if !(diameter.base() > 0.0 && diameter.base().is_finite()) {
        return None;
    }
    Distance::new(diameter.number() * times, diameter.unit().spelling)
}

/// Bends in all between pull points, in degree: by the electrical code, and by TIA-569.
pub fn greatest_total() -> (f64, f64) {
    (TABLE.total.code, TABLE.total.telecommunications)
}

/// Longest section of conduit between pull points (TIA-569).
pub fn longest_section() -> Option<Distance> {
    Distance::new(TABLE.total.section, "ft")
}

/// Sources of conduit radii, inside radii, cable radii and totals.
pub fn sources() -> [&'static str; 4] {
    [
        &TABLE.source,
        &TABLE.inside_source,
        &TABLE.cable_source,
        &TABLE.total_source,
    ]
}
