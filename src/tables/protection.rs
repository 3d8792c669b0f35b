//! Where arc-fault and ground-fault protection is wanted, and the space before a panel: NEC 210.12, 210.8, 110.26.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::Deserialize;

use super::edition::Edition;
use super::read;
use crate::units::{Distance, Volts};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Places {
    listed: Vec<String>,
    either: Vec<String>,
    names: Vec<String>,
    #[serde(default)]
    volts: Option<f64>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Table {
    arc_source: String,
    arc: BTreeMap<Edition, Places>,
    ground_source: String,
    ground: BTreeMap<Edition, Places>,
    sink: f64,
    space_source: String,
    space: [f64; 3],
}

static TABLE: LazyLock<Table> = LazyLock::new(|| {
    read(
        "protection",
        include_str!("../../rules/tables/protection.yaml"),
    )
});

/// Whether a kind of room is one that the code lists.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Listed {
    Yes,
    No,
    /// It turns on more than the kind: whether a basement is finished, what a utility room is, whether a kitchen's
    /// receptacle serves the counter.
    Depends,
}

fn judge(places: &Places, kind: &str) -> Listed {
    let holds = |list: &[String]| list.iter().any(|word| word == kind);
    if holds(&places.listed) {
        Listed::Yes
    } else if holds(&places.either) {
        Listed::Depends
    } else {
        Listed::No
    }
}

/// Whether a dwelling's 120 V circuit of 15 or 20 A into a room of this kind (`room`, `garage`) wants arc-fault protection.
pub fn arc_fault(edition: Edition, kind: &str) -> Option<Listed> {
    Some(judge(TABLE.arc.get(&edition)?, kind))
}

/// Whether a dwelling's receptacle in a room of this kind wants ground-fault protection.
pub fn ground_fault(edition: Edition, kind: &str) -> Option<Listed> {
    Some(judge(TABLE.ground.get(&edition)?, kind))
}

/// Up to which voltage receptacles want ground-fault protection.
pub fn ground_fault_volts(edition: Edition) -> Option<Volts> {
    Volts::new(TABLE.ground.get(&edition)?.volts?, "V")
}

/// The rooms as the code names them, for arc-fault and for ground-fault protection.
pub fn names(edition: Edition) -> Option<[&'static [String]; 2]> {
    Some([
        &TABLE.arc.get(&edition)?.names,
        &TABLE.ground.get(&edition)?.names,
    ])
}

/// Distance from a sink within which a receptacle wants ground-fault protection.
pub fn sink_distance() -> Option<Distance> {
    Distance::new(TABLE.sink, "ft")
}

/// Working space before a panel: width, depth, height.
pub fn working_space() -> Option<[Distance; 3]> {
    let [width, depth, height] = TABLE.space;
    Some([
        Distance::new(width, "in")?,
        Distance::new(depth, "in")?,
        Distance::new(height, "in")?,
    ])
}

/// Sources of arc-fault rooms, ground-fault places and the working space.
pub fn sources() -> [&'static str; 3] {
    [&TABLE.arc_source, &TABLE.ground_source, &TABLE.space_source]
}
