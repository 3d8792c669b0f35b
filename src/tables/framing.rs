//! Holes and notches in wood framing: IRC R602.6, R502.8; NEC 300.4.

use std::sync::LazyLock;

use serde::Deserialize;

use super::read;
use crate::units::{Distance, split_number};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct StudShares {
    notch_bearing: f64,
    notch: f64,
    hole_bearing: f64,
    hole: f64,
    edge: f64,
}

/// Shares of the depth as printed: `1/3`.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct JoistShares {
    hole: String,
    notch_depth: String,
    notch_length: String,
    end_notch_depth: String,
    clear: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Table {
    stud_source: String,
    stud: StudShares,
    joist_source: String,
    joist: JoistShares,
    tie_source: String,
    tie: f64,
    plate_source: String,
    edge: f64,
    plate: f64,
    exempt: Vec<String>,
}

static TABLE: LazyLock<Table> =
    LazyLock::new(|| read("framing", include_str!("../../rules/tables/framing.yaml")));

/// What a stud may lose, as shares of its width.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stud {
    pub notch: f64,
    pub hole: f64,
    /// Least wood between a hole and the edge.
    pub edge: Distance,
}

/// Limits of IRC R602.6. `bearing`: in an exterior or bearing wall; `doubled`: two studs side by side.
pub fn stud(bearing: bool, doubled: bool) -> Option<Stud> {
    let shares = &TABLE.stud;
    let notch = if bearing {
        shares.notch_bearing
    } else {
        shares.notch
    };
    let hole = if bearing && !doubled {
        shares.hole_bearing
    } else {
        shares.hole
    };
    Some(Stud {
        notch: notch / 100.0,
        hole: hole / 100.0,
        edge: Distance::new(shares.edge, "in")?,
    })
}

/// What a solid-sawn joist may lose, as shares of its depth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Joist {
    pub hole: f64,
    pub notch_depth: f64,
    pub notch_length: f64,
    pub end_notch_depth: f64,
    /// Least wood between a hole and the edges, other holes and notches.
    pub clear: Distance,
}

/// Limits of IRC R502.8.1.
pub fn joist() -> Option<Joist> {
    let share = |printed: &str| Some(split_number(printed)?.0);
    let shares = &TABLE.joist;
    Some(Joist {
        hole: share(&shares.hole)?,
        notch_depth: share(&shares.notch_depth)?,
        notch_length: share(&shares.notch_length)?,
        end_notch_depth: share(&shares.end_notch_depth)?,
        clear: Distance::new(shares.clear, "in")?,
    })
}

/// The share of a top plate's width beyond which a cut wants a metal tie (IRC R602.6.1, from memory).
pub fn plate_share() -> f64 {
    TABLE.tie / 100.0
}

/// Edge distance below which a steel plate is wanted (NEC 300.4).
pub fn plate_within() -> Option<Distance> {
    Distance::new(TABLE.edge, "in")
}

/// Least thickness of the steel plate.
pub fn plate_thickness() -> Option<Distance> {
    Distance::new(TABLE.plate, "in")
}

/// Whether a make of conduit needs no plate (NEC 300.4(A)(1) exception 1).
pub fn needs_no_plate(make: &str) -> bool {
    TABLE.exempt.iter().any(|exempt| exempt == make)
}

/// Sources of studs, joists, ties and steel plates.
pub fn sources() -> [&'static str; 4] {
    [
        &TABLE.stud_source,
        &TABLE.joist_source,
        &TABLE.tie_source,
        &TABLE.plate_source,
    ]
}
