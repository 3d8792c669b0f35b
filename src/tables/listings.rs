//! Cable listings: which may stand for which (NEC 725.154 / 722.135, 760.154, 770.154, 800.154, 820.154).

use std::collections::BTreeMap;
use std::sync::LazyLock;

use petgraph::graph::{DiGraph, NodeIndex};
use petgraph::visit::{Dfs, Walker};
use serde::Deserialize;

use super::edition::Edition;
use super::read;

#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Deserialize)]
pub enum Family {
    /// Class 2 and Class 3.
    #[serde(rename = "CL")]
    Class23,
    /// Communications.
    #[serde(rename = "CM")]
    Communications,
    /// Coaxial.
    #[serde(rename = "CATV")]
    Coaxial,
    /// Optical fibre.
    #[serde(rename = "OF")]
    Fibre,
    /// Power-limited fire alarm.
    #[serde(rename = "FPL")]
    FireAlarm,
    /// Power-limited tray cable.
    #[serde(rename = "PLTC")]
    Tray,
}

/// How far a cable may spread flame, the least first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Grade {
    /// One- and two-family dwellings only, and thin: the types that end in X.
    DwellingOnly,
    General,
    Riser,
    Plenum,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Table {
    source: String,
    substitutes: BTreeMap<String, Vec<String>>,
    same_level: Vec<[String; 2]>,
    families: BTreeMap<Family, Vec<String>>,
    flame_marks_source: String,
    flame_marks: BTreeMap<String, Grade>,
    beside: Vec<String>,
    clauses_source: String,
    clauses: BTreeMap<Family, BTreeMap<Edition, [String; 2]>>,
}

#[derive(Debug)]
struct Node {
    name: String,
    family: Family,
    /// Which listings may stand for this one, itself included: one bit a listing.
    stood_for_by: u64,
}

#[derive(Debug)]
struct Known {
    table: Table,
    nodes: Vec<Node>,
}

static KNOWN: LazyLock<Known> = LazyLock::new(|| {
    let table: Table = read("listings", include_str!("../../rules/tables/listings.yaml"));
    let nodes = closure(&table);
    Known { table, nodes }
});

/// Walks the substitutions once, so that each question later is one bit.
fn closure(table: &Table) -> Vec<Node> {
    let mut graph: DiGraph<(&str, Family), ()> = DiGraph::new();
    let mut nodes: BTreeMap<&str, NodeIndex> = BTreeMap::new();
    for (family, names) in &table.families {
        for name in names {
            nodes.insert(name, graph.add_node((name, *family)));
        }
    }
    let node = |name: &String| -> NodeIndex {
        *nodes
            .get(name.as_str())
            .unwrap_or_else(|| panic!("rules/tables/listings.yaml: {name} has no family"))
    };
    for (demanded, substitutes) in &table.substitutes {
        for substitute in substitutes {
            graph.add_edge(node(demanded), node(substitute), ());
        }
    }
    for [a, b] in &table.same_level {
        graph.update_edge(node(a), node(b), ());
        graph.update_edge(node(b), node(a), ());
    }
    let indices = graph.node_indices();
    let known = indices.map(|from| {
        let reached = Dfs::new(&graph, from).iter(&graph);
        let (name, family) = graph[from];
        Node {
            name: name.to_owned(),
            family,
            stood_for_by: reached.fold(0, |bits, to| bits | 1 << to.index()),
        }
    });
    known.collect()
}

/// A listing of the US code's table.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Listing(u8);

impl Listing {
    /// The listing of exactly this name (`CL3R`).
    pub fn named(name: &str) -> Option<Self> {
        let index = KNOWN.nodes.iter().position(|node| node.name == name)?;
        Some(Self(u8::try_from(index).ok()?))
    }

    /// All listings.
    pub fn all() -> impl Iterator<Item = Self> {
        (0u8..).take(KNOWN.nodes.len()).map(Self)
    }

    fn node(self) -> &'static Node {
        &KNOWN.nodes[usize::from(self.0)]
    }

    /// As the code spells it.
    pub fn name(self) -> &'static str {
        &self.node().name
    }

    pub fn family(self) -> Family {
        self.node().family
    }

    /// Whether a cable of this listing may be pulled where `demanded` is.
    pub fn stands_for(self, demanded: Self) -> bool {
        demanded.node().stood_for_by >> self.0 & 1 == 1
    }

    pub fn grade(self) -> Grade {
        // The last letter is the code's own mark; PLTC ends in none of them.
        match self.name().as_bytes().last() {
            Some(b'P') => Grade::Plenum,
            Some(b'R') => Grade::Riser,
            Some(b'X') => Grade::DwellingOnly,
            _ => Grade::General,
        }
    }

    /// Whether it is one of the X types, for one- and two-family dwellings.
    pub fn is_dwelling_only(self) -> bool {
        self.grade() == Grade::DwellingOnly
    }
}

/// A flame mark of the Canadian code (`FT4`), which is no listing of the US table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FlameMark {
    pub name: &'static str,
    /// The grade that it comes near, from memory.
    pub near: Grade,
}

/// What is printed on a jacket, as far as it is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Printed {
    pub listing: Option<Listing>,
    pub flame_mark: Option<FlameMark>,
}

/// Reads what is printed on a jacket: `CL3R-OF`, `CMP-LP (0.5A)`, `c(UL)us CL2`, `CMR FT4`. Where
/// several listings are printed, the one that stands for all the others is taken. `None` when
/// nothing is known in it, when an unknown word could change its meaning, or when two listings
/// are printed of which neither stands for the other.
pub fn read_printed(printed: &str) -> Option<Printed> {
    let upper = printed.to_uppercase();
    let words = upper.split(|c: char| c.is_whitespace() || matches!(c, '-' | '/' | ',' | ';'));
    let mut found = Printed {
        listing: None,
        flame_mark: None,
    };
    for word in words.filter(|word| !word.is_empty()) {
        if let Some(listing) = Listing::named(word) {
            found.listing = Some(match found.listing {
                Some(before) if before.stands_for(listing) => before,
                Some(before) if !listing.stands_for(before) => return None,
                _ => listing,
            });
        } else if let Some((name, near)) = KNOWN.table.flame_marks.get_key_value(word) {
            let mark = FlameMark { name, near: *near };
            found.flame_mark = match found.flame_mark {
                Some(before) if before.near > mark.near => Some(before),
                _ => Some(mark),
            };
        } else if !(is_amperes(word) || KNOWN.table.beside.iter().any(|known| known == word)) {
            return None;
        }
    }
    (found.listing.is_some() || found.flame_mark.is_some()).then_some(found)
}

/// `(0.5A)`, `0.6A)`: the current of a limited-power cable, as printed behind `-LP`.
fn is_amperes(word: &str) -> bool {
    let word = word.trim_matches(['(', ')']);
    let number = word.strip_suffix('A').unwrap_or(word);
    !number.is_empty() && number.bytes().all(|b| b.is_ascii_digit() || b == b'.')
}

/// Ampere in each conductor that a limited-power cable is listed for in any bundle: `CMP-LP (0.5A)` (NEC 725.179(I),
/// from memory). `None` for other cables.
pub fn limited_power(printed: &str) -> Option<f64> {
    let upper = printed.to_uppercase();
    let words = upper.split(|c: char| c.is_whitespace() || matches!(c, '-' | '(' | ')'));
    let mut words = words.filter(|word| !word.is_empty());
    words.find(|word| *word == "LP")?;
    let amperes = words.next()?.strip_suffix('A')?.parse().ok()?;
    (0.0..=10.0).contains(&amperes).then_some(amperes)
}

/// Whether a cable with this printed on its jacket may be pulled where the listing `demanded` is. `None`
/// when either is not known.
pub fn stands_for(printed: &str, demanded: &str) -> Option<bool> {
    let demanded = Listing::named(demanded)?;
    Some(read_printed(printed)?.listing?.stands_for(demanded))
}

/// The clause of an edition of the NEC that asks for listings of a family; with `dwelling`, the one that lets its X
/// types into dwellings. `None` for fire alarm and tray cable, which no rule asks for.
pub fn clause(edition: Edition, family: Family, dwelling: bool) -> Option<&'static str> {
    let clauses = KNOWN.table.clauses.get(&family)?.get(&edition)?;
    Some(&clauses[usize::from(dwelling)])
}

/// Sources of the substitutions, of the flame marks and of the clauses.
pub fn sources() -> [&'static str; 3] {
    let table = &KNOWN.table;
    [
        &table.source,
        &table.flame_marks_source,
        &table.clauses_source,
    ]
}
