//! Separation of data cabling from power cabling: EN 50174-2, from the 2009 edition on.

use std::sync::LazyLock;

use serde::Deserialize;

use super::{Rows, read};

/// Separation class of a data cable, the most easily disturbed first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Class {
    /// Coaxial, unbalanced, or of no category.
    A,
    /// Unscreened twisted pair.
    B,
    /// Screened twisted pair.
    C,
    /// Twisted pair with every pair screened.
    D,
}

impl Class {
    /// The letter that the standard gives it.
    pub fn letter(self) -> char {
        match self {
            Self::A => 'a',
            Self::B => 'b',
            Self::C => 'c',
            Self::D => 'd',
        }
    }
}

/// What stands between data and power cables, the weakest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Containment {
    /// None, or of plastic.
    None,
    /// Wire tray or ladder.
    OpenMetal,
    PerforatedMetal,
    /// Closed, of solid metal.
    SolidMetal,
}

#[derive(Debug, Deserialize)]
struct Row(Class, f64, f64, f64, f64);

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Table {
    source: String,
    basic: Rows<Row>,
    factor_source: String,
    factor: Vec<(u32, f64)>,
    class_source: String,
    classes: Vec<(String, Option<Class>, Option<Class>)>,
}

static TABLE: LazyLock<Table> = LazyLock::new(|| {
    read(
        "separation",
        include_str!("../../rules/tables/separation.yaml"),
    )
});

/// A printed separation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Printed {
    pub millimetres: f64,
    /// The number is from memory, not seen in print.
    pub memory: bool,
}

/// The basic separation S of table 4.
pub fn basic(class: Class, containment: Containment) -> Option<Printed> {
    let (row, memory) = TABLE.basic.find(|row| row.0 == class)?;
    let millimetres = match containment {
        Containment::None => row.1,
        Containment::OpenMetal => row.2,
        Containment::PerforatedMetal => row.3,
        Containment::SolidMetal => row.4,
    };
    Some(Printed {
        millimetres,
        memory,
    })
}

/// The factor P of table 5 for so many single-phase circuits of at most 20 A. `None` for none.
pub fn circuit_factor(circuits: u32) -> Option<f64> {
    let mut rows = TABLE.factor.iter().rev();
    Some(rows.find(|row| row.0 <= circuits)?.1)
}

/// How many circuits of at most 20 A one breaker counts as (table 5 notes, from memory). `None` unless above zero.
pub fn circuits_of(breaker_amperes: f64, phases: u8) -> Option<u32> {
    let multiples = (breaker_amperes / 20.0).ceil();
    if !(1.0..=1000.0).contains(&multiples) || phases == 0 {
        return None;
    }
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "1 to 1000"
    )]
    Some(multiples as u32 * u32::from(phases))
}

/// Class of a data grade (`cat6a`). `None` for a grade that the table does not hold in that make.
pub fn class_of(grade: &str, screened: bool) -> Option<Class> {
    let row = TABLE.classes.iter().find(|row| row.0 == grade)?;
    if screened { row.2 } else { row.1 }
}

/// Sources of the separations, the factor and the classes.
pub fn sources() -> [&'static str; 3] {
    [&TABLE.source, &TABLE.factor_source, &TABLE.class_source]
}
