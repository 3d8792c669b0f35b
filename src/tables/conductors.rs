//! Resistance of conductors: NEC chapter 9 table 8, IEC 60228.

use std::sync::LazyLock;

use serde::Deserialize;

use super::{Rows, read, same};
use crate::units::WireSize;

/// What a conductor is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Material {
    Copper,
    Aluminium,
    /// Copper over an aluminium core (ASTM B566 class 10A).
    CopperCladAluminium,
}

/// How a conductor is built.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Stranding {
    /// One wire: IEC 60228 class 1.
    Solid,
    /// Seven wires or more: IEC 60228 class 2.
    Stranded,
    /// Many fine wires: IEC 60228 class 5. Table 8 has no such column; its stranded one is taken.
    Flexible,
}

/// A printed resistance, and the temperature that it holds at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Printed {
    /// Ohm per metre of one conductor.
    pub ohm_per_metre: f64,
    /// °C.
    pub celsius: f64,
    /// The number is from memory, not seen in print.
    pub memory: bool,
}

#[derive(Debug, Deserialize)]
struct AwgRow(i8, f64, Option<f64>, Option<f64>);

#[derive(Debug, Deserialize)]
struct MetricRow(f64, f64, f64);

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Table {
    source: String,
    copper_awg: Rows<AwgRow>,
    aluminium_awg: Rows<AwgRow>,
    metric_source: String,
    copper_metric: Rows<MetricRow>,
}

static TABLE: LazyLock<Table> = LazyLock::new(|| {
    read(
        "conductors",
        include_str!("../../rules/tables/conductors.yaml"),
    )
});

const METRES_PER_KILOFOOT: f64 = 304.8;

/// The printed resistance of one conductor: table 8 (75 °C) for AWG, IEC 60228 (20 °C) for
/// metric copper. `None` where the tables print none: copper-clad aluminium, metric aluminium, solid
/// conductors thicker than 8 AWG, sizes outside the tables.
pub fn printed(size: WireSize, material: Material, stranding: Stranding) -> Option<Printed> {
    match (size, material) {
        (WireSize::Awg(n), Material::Copper) => awg(&TABLE.copper_awg, n, stranding),
        (WireSize::Awg(n), Material::Aluminium) => awg(&TABLE.aluminium_awg, n, stranding),
        (WireSize::Metric(area), Material::Copper) => {
            let (row, memory) = TABLE.copper_metric.find(|row| same(row.0, area))?;
            let per_kilometre = match stranding {
                Stranding::Solid | Stranding::Stranded => row.1,
                Stranding::Flexible => row.2,
            };
            Some(Printed {
                ohm_per_metre: per_kilometre / 1000.0,
                celsius: 20.0,
                memory,
            })
        }
        _ => None,
    }
}

fn awg(rows: &Rows<AwgRow>, gauge: i8, stranding: Stranding) -> Option<Printed> {
    let (row, memory) = rows.find(|row| row.0 == gauge)?;
    let per_kilofoot = match stranding {
        Stranding::Solid => row.2,
        Stranding::Stranded | Stranding::Flexible => row.3,
    }?;
    Some(Printed {
        ohm_per_metre: per_kilofoot / METRES_PER_KILOFOOT,
        celsius: 75.0,
        memory,
    })
}

/// Cross-section in circular mils as table 8 prints it (1 cmil = π/4 × (0.001 in)²).
pub fn circular_mils(size: WireSize) -> Option<f64> {
    let WireSize::Awg(gauge) = size else {
        return None;
    };
    let (row, _) = TABLE.copper_awg.find(|row| row.0 == gauge)?;
    Some(row.1)
}

/// Where the AWG rows come from.
pub fn awg_source() -> &'static str {
    &TABLE.source
}

/// Where the metric rows come from.
pub fn metric_source() -> &'static str {
    &TABLE.metric_source
}
