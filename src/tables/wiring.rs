//! Types of power cable and wire: NEC chapter 3 cables and conductors, and flexible cords (table 400.4).

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::Deserialize;

use super::ampacity::Column;
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
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Table {
    source: String,
    types: BTreeMap<Wiring, Vec<String>>,
    beside: Vec<String>,
    degrees_source: String,
    dry_90: Vec<String>,
    wet_90: Vec<String>,
    only_60: Vec<String>,
}

static TABLE: LazyLock<Table> =
    LazyLock::new(|| read("wiring", include_str!("../../rules/tables/wiring.yaml")));

impl Wiring {
    /// Reads what is printed: `NM-B`, `THHN/THWN-2`, `UL SJTW 300V`. `None` where nothing is known
    /// in it, where a word is not known, or where two types of different sorts are printed.
    pub fn parse(printed: &str) -> Option<Self> {
        let upper = printed.to_uppercase();
        let mut found = None;
        for word in words(&upper) {
            if TABLE.beside.iter().any(|known| known == word) {
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

fn words(printed: &str) -> impl Iterator<Item = &str> {
    let words = printed.split(|c: char| c.is_whitespace() || matches!(c, '/' | ',' | ';'));
    words.filter(|word| !word.is_empty())
}

/// Whether a type that is printed begins like this: `NM` of `TYPE NM-B`.
pub fn is_of(printed: &str, family: &str) -> bool {
    words(&printed.to_uppercase()).any(|word| word.starts_with(family))
}

/// The column of NEC table 310.16 for single conductors of what is printed, the best where several types are.
pub fn insulation(printed: &str, wet: bool) -> Column {
    let upper = printed.to_uppercase();
    let among = |list: &[String]| words(&upper).any(|word| list.iter().any(|name| name == word));
    let best = if wet { &TABLE.wet_90 } else { &TABLE.dry_90 };
    let known = |word: &str| TABLE.beside.iter().any(|beside| beside == word);
    let mut types = words(&upper).filter(|word| !known(word));
    match (among(best), types.all(among_60)) {
        (true, _) => Column::C90,
        (false, true) => Column::C60,
        (false, false) => Column::C75,
    }
}

fn among_60(word: &str) -> bool {
    TABLE.only_60.iter().any(|name| name == word)
}

/// Where the types, and the temperatures of single conductors, come from.
pub fn sources() -> [&'static str; 2] {
    [&TABLE.source, &TABLE.degrees_source]
}
