//! Certified cable grades of the digital video interface, and what they carry.

use std::sync::LazyLock;

use serde::Deserialize;

use super::read;
use crate::units::Rate;

#[derive(Debug, Deserialize)]
struct Row(String, Vec<String>, f64);

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    source: String,
    grades: Vec<Row>,
}

static TABLE: LazyLock<Table> = LazyLock::new(|| {
    read(
        "video_grades",
        include_str!("../../rules/tables/video_grades.yaml"),
    )
});

/// One certified grade.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Grade {
    /// As a plan writes it.
    pub name: &'static str,
    /// What all lanes together carry, line coding included.
    pub carries: Rate,
}

fn grade(row: &'static Row) -> Option<Grade> {
    Some(Grade {
        name: &row.0,
        carries: Rate::new(row.2, "Gbit/s")?,
    })
}

/// All grades, the weakest first.
pub fn all() -> impl Iterator<Item = Grade> {
    TABLE.grades.iter().filter_map(grade)
}

/// The grade of a name; `category-1` and `category-2` are read as the first two.
pub fn named(name: &str) -> Option<Grade> {
    let row = TABLE
        .grades
        .iter()
        .find(|row| row.0 == name || row.1.iter().any(|also| also == name))?;
    grade(row)
}

/// The weakest grade that carries a rate in Gbit/s. `None` when none does.
pub fn weakest_for(gigabits: f64) -> Option<Grade> {
    all().find(|grade| grade.carries.base() >= gigabits)
}

/// Where the grades come from.
pub fn source() -> &'static str {
    &TABLE.source
}
