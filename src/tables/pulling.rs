//! Pulling cable into conduit: tensions, sidewall pressure, friction, jamming.

use std::sync::LazyLock;

use serde::Deserialize;

use super::conductors::{Material, circular_mils};
use super::read;
use crate::units::{Newtons, NewtonsPerMetre, WireSize};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Table {
    source: String,
    four_pair: f64,
    conductor_source: String,
    per_circular_mil: f64,
    sidewall: f64,
    basket_grip: f64,
    friction_source: String,
    friction: f64,
    jam_source: String,
    jam: [f64; 2],
    jam_oval: f64,
}

static TABLE: LazyLock<Table> =
    LazyLock::new(|| read("pulling", include_str!("../../rules/tables/pulling.yaml")));

/// Greatest pull on one 4-pair data cable (TIA-568).
pub fn four_pair() -> Option<Newtons> {
    Newtons::new(TABLE.four_pair, "N")
}

/// Greatest pull on copper conductors held by a pulling eye: 0.008 lbf per circular mil of each. `None` for other
/// metals (the rule is copper's), and for sizes that table 8 lacks.
pub fn by_conductors(count: u32, size: WireSize, material: Material) -> Option<Newtons> {
    if material != Material::Copper || count == 0 {
        return None;
    }
    let pounds = f64::from(count) * circular_mils(size)? * TABLE.per_circular_mil;
    Newtons::new(pounds, "lbf")
}

/// Greatest pull by a basket grip.
pub fn basket_grip() -> Option<Newtons> {
    Newtons::new(TABLE.basket_grip, "lbf")
}

/// Greatest pressure on the side of a bend, per length of its radius.
pub fn sidewall() -> Option<NewtonsPerMetre> {
    NewtonsPerMetre::new(TABLE.sidewall, "lbf/ft")
}

/// Coefficient of friction where the surfaces are not known.
pub fn friction() -> f64 {
    TABLE.friction
}

/// Ratios between which three cables of one diameter may wedge, least and greatest.
pub fn jam_range() -> (f64, f64) {
    (TABLE.jam[0], TABLE.jam[1])
}

/// What a bend widens the conduit by, as a factor.
pub fn jam_oval() -> f64 {
    TABLE.jam_oval
}

/// Sources of the data cable's pull, the conductors', friction and jamming.
pub fn sources() -> [&'static str; 4] {
    [
        &TABLE.source,
        &TABLE.conductor_source,
        &TABLE.friction_source,
        &TABLE.jam_source,
    ]
}
