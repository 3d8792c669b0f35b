//! What a conductor may carry, and which breakers there are: NEC 310.16, 240.4(D), 240.6(A),
//! 310.15(C)(1); BS 7671 table 4D5.

use std::sync::LazyLock;

use serde::Deserialize;

use super::conductors::Material;
use super::{Rows, read, same};
use crate::units::WireSize;

/// A printed current.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Printed {
    /// Ampere.
    pub amperes: f64,
    /// The number is from memory, not seen in print.
    pub memory: bool,
}

/// Column of NEC table 310.16.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Column {
    C60,
    C75,
    C90,
}

impl Column {
    /// Temperature of the conductor's insulation, in °C.
    pub fn degrees(self) -> f64 {
        match self {
            Self::C60 => 60.0,
            Self::C75 => 75.0,
            Self::C90 => 90.0,
        }
    }
}

/// Installation reference method of BS 7671 for flat cable with a protective conductor.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Method {
    /// Above a plasterboard ceiling, under at most 100 mm of insulation.
    M100,
    /// Above a plasterboard ceiling, under more than 100 mm of insulation.
    M101,
    /// In a stud wall with insulation, touching the inner face.
    M102,
    /// In a stud wall with insulation, not touching the inner face.
    M103,
    /// Clipped direct.
    C,
    /// In conduit in an insulated wall.
    A,
}

impl Method {
    pub const ALL: [Self; 6] = [
        Self::M100,
        Self::M101,
        Self::M102,
        Self::M103,
        Self::C,
        Self::A,
    ];

    /// The name that BS 7671 gives it.
    pub fn name(self) -> &'static str {
        match self {
            Self::M100 => "100",
            Self::M101 => "101",
            Self::M102 => "102",
            Self::M103 => "103",
            Self::C => "C",
            Self::A => "A",
        }
    }

    /// By the name that BS 7671 gives it.
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|method| method.name() == name)
    }
}

#[derive(Debug, Deserialize)]
struct Row(i8, f64, f64, f64);

#[derive(Debug, Deserialize)]
struct SmallRow(i8, f64);

#[derive(Debug, Deserialize)]
struct FlatRow(f64, f64, f64, f64, f64, f64, f64);

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Table {
    source: String,
    copper: Rows<Row>,
    aluminium: Rows<Row>,
    small_source: String,
    small_copper: Rows<SmallRow>,
    small_aluminium: Rows<SmallRow>,
    adjustment_source: String,
    adjustment: Vec<(u32, f64)>,
    breakers_source: String,
    breakers: Vec<f64>,
    flat_source: String,
    flat: Vec<FlatRow>,
}

static TABLE: LazyLock<Table> =
    LazyLock::new(|| read("ampacity", include_str!("../../rules/tables/ampacity.yaml")));

/// Ampacity after NEC table 310.16 (30 °C ambient, at most three conductors). Copper-clad aluminium stands in the
/// aluminium column. `None` for metric sizes and for sizes outside the table.
pub fn ampacity(size: WireSize, material: Material, column: Column) -> Option<Printed> {
    let WireSize::Awg(gauge) = size else {
        return None;
    };
    let rows = match material {
        Material::Copper => &TABLE.copper,
        Material::Aluminium | Material::CopperCladAluminium => &TABLE.aluminium,
    };
    let (row, memory) = rows.find(|row| row.0 == gauge)?;
    let amperes = match column {
        Column::C60 => row.1,
        Column::C75 => row.2,
        Column::C90 => row.3,
    };
    Some(Printed { amperes, memory })
}

/// The largest breaker that NEC 240.4(D) lets protect a small conductor (14, 12, 10 AWG; aluminium
/// and copper-clad aluminium 12, 10 AWG). `None` for other sizes: there the ampacity decides.
pub fn small_conductor_ceiling(size: WireSize, material: Material) -> Option<Printed> {
    let WireSize::Awg(gauge) = size else {
        return None;
    };
    let rows = match material {
        Material::Copper => &TABLE.small_copper,
        Material::Aluminium | Material::CopperCladAluminium => &TABLE.small_aluminium,
    };
    let (row, memory) = rows.find(|row| row.0 == gauge)?;
    Some(Printed {
        amperes: row.1,
        memory,
    })
}

/// Factor on the ampacity for so many current-carrying conductors together over more than 24 in (NEC table
/// 310.15(C)(1)). `None` for none.
pub fn adjustment(conductors: u32) -> Option<f64> {
    let mut rows = TABLE.adjustment.iter().rev();
    let row = rows.find(|row| row.0 <= conductors)?;
    Some(row.1 / 100.0)
}

/// The standard breaker sizes of NEC 240.6(A) up to 600 A, smallest first, in ampere (from memory).
pub fn standard_breakers() -> &'static [f64] {
    &TABLE.breakers
}

/// The smallest standard breaker that is not below an ampacity: what NEC 240.4(B) allows. `None` above 600 A.
pub fn next_standard_breaker(amperes: f64) -> Option<f64> {
    TABLE.breakers.iter().copied().find(|&size| size >= amperes)
}

/// Current of a flat cable with protective conductor after BS 7671 table 4D5 (from memory). `None` for AWG and for
/// sizes outside the table.
pub fn flat_cable(size: WireSize, method: Method) -> Option<Printed> {
    let WireSize::Metric(area) = size else {
        return None;
    };
    let row = TABLE.flat.iter().find(|row| same(row.0, area))?;
    let amperes = match method {
        Method::M100 => row.1,
        Method::M101 => row.2,
        Method::M102 => row.3,
        Method::M103 => row.4,
        Method::C => row.5,
        Method::A => row.6,
    };
    Some(Printed {
        amperes,
        memory: true,
    })
}

/// The method under which a flat cable may carry most, and what it may carry then.
pub fn most_generous(size: WireSize) -> Option<(Method, Printed)> {
    let carried = Method::ALL
        .into_iter()
        .filter_map(|m| Some((m, flat_cable(size, m)?)));
    carried.max_by(|a, b| a.1.amperes.total_cmp(&b.1.amperes))
}

/// Sources of the tables here.
pub fn sources() -> [&'static str; 5] {
    [
        &TABLE.source,
        &TABLE.small_source,
        &TABLE.adjustment_source,
        &TABLE.breakers_source,
        &TABLE.flat_source,
    ]
}
