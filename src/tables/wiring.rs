//! Types of power cable and wire: NEC chapter 3 cables and conductors, and flexible cords (table 400.4).

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::Deserialize;

use super::read;

/// What a power cable is, by the type printed on it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Wiring {
    /// Single conductors, with insulation only.
    Conductor,
    /// A flexible cord.
    Cord,
    /// Nonmetallic-sheathed or underground feeder cable.
    Sheathed,
    /// Another cable with a jacket.
    Jacketed,
    /// In metal: armoured, metal-clad or mineral-insulated.
    Armoured,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    source: String,
    types: BTreeMap<Wiring, Vec<String>>,
    beside: Vec<String>,
}

static TABLE: LazyLock<Table> =
    LazyLock::new(|| read("wiring", include_str!("../../rules/tables/wiring.yaml")));

impl Wiring {
    /// Reads what is printed: `NM-B`, `THHN/THWN-2`, `UL SJTW 300V`. `None` where nothing is known
    /// in it, where a word is not known, or where two types of different sorts are printed.
    pub fn parse(printed: &str) -> Option<Self> {
        let upper = printed.to_uppercase();
        let mut found = None;
        for word in upper.split(|c: char| c.is_whitespace() || matches!(c, '/' | ',' | ';')) {
            if word.is_empty() || TABLE.beside.iter().any(|known| known == word) {
                continue;
            }
            let has = |names: &Vec<String>| names.iter().any(|name| name == word);
            let (sort, _) = TABLE.types.iter().find(|(_, names)| has(names))?;
            if found.is_some_and(|before| before != *sort) {
                return None;
            }
            found = Some(*sort);
        }
        found
    }

    /// Every type with its sort.
    pub fn all() -> impl Iterator<Item = (Self, &'static str)> {
        let types = TABLE.types.iter();
        types.flat_map(|(sort, names)| names.iter().map(|name| (*sort, name.as_str())))
    }
}

/// Where the types come from.
pub fn source() -> &'static str {
    &TABLE.source
}
