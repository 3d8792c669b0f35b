//! Conduit: NEC chapter 9 tables 1 (how full) and 4 (inside diameters).

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::Deserialize;

use super::{Rows, read, same};
use crate::units::{Distance, split_number};

#[derive(Debug, Deserialize)]
struct Row(String, f64);

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct MakeRows {
    metallic: bool,
    rows: Rows<Row>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Table {
    source: String,
    makes: BTreeMap<String, MakeRows>,
    fill_source: String,
    fill: [f64; 3],
    nipple: f64,
}

static TABLE: LazyLock<Table> =
    LazyLock::new(|| read("conduit", include_str!("../../rules/tables/conduit.yaml")));

/// Inside of a conduit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bore {
    /// Inside diameter, in inch as the table prints it.
    pub diameter: Distance,
    /// The number is from memory, not seen in print.
    pub memory: bool,
}

/// Inside diameter of a make (`EMT`, `PVC-40`) in a trade size (1.25 for 1-1/4): NEC chapter 9
/// table 4. `None` for makes and sizes that are not in the table.
pub fn bore(make: &str, trade_size: f64) -> Option<Bore> {
    let rows = &TABLE.makes.get(make)?.rows;
    let (row, memory) = rows.find(|row| {
        let printed = split_number(&row.0).map(|(size, _)| size);
        printed.is_some_and(|size| same(size, trade_size))
    })?;
    Some(Bore {
        diameter: Distance::new(row.1, "in")?,
        memory,
    })
}

/// The makes that the table knows, in alphabetical order.
pub fn makes() -> impl Iterator<Item = &'static str> {
    TABLE.makes.keys().map(String::as_str)
}

/// The trade sizes of a make as printed (`1-1/4`).
pub fn trade_sizes(make: &str) -> impl Iterator<Item = &'static str> {
    let rows = TABLE.makes.get(make).map(|make| &make.rows);
    let rows = rows
        .into_iter()
        .flat_map(|rows| rows.read.iter().chain(&rows.memory));
    rows.map(|row| row.0.as_str())
}

/// Whether a make is of metal. `None` for an unknown one.
pub fn is_metallic(make: &str) -> Option<bool> {
    Some(TABLE.makes.get(make)?.metallic)
}

/// How full a conduit may be with so many cables, in percent of its inside area: 53, 31, 40 for
/// one, two, more (NEC chapter 9 table 1). `None` for no cable.
pub fn greatest_fill(cables: usize) -> Option<f64> {
    let column = cables.checked_sub(1)?.min(2);
    TABLE.fill.get(column).copied()
}

/// How full a nipple (at most 24 in long) may be, in percent (NEC chapter 9 note 4, from memory).
pub fn nipple_fill() -> f64 {
    TABLE.nipple
}

/// Sources of the diameters and of the fill.
pub fn sources() -> [&'static str; 2] {
    [&TABLE.source, &TABLE.fill_source]
}
