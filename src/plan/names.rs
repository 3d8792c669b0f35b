//! The names that a file gives: collected ahead of everything else, so that references are known
//! as they are met.

use super::reader::{Reader, Slot};
use super::record::{Key, given_as};
use super::refs::{Sort, Thing, Things};
use crate::findings::Id;
use crate::yaml::{Source, Span};

/// The entries of each section of a file, in the order in which they are read, each with the
/// alias that it came by.
#[derive(Debug, Default)]
pub struct Names {
    sections: [Entries; 6],
}

#[derive(Debug, Default)]
struct Entries {
    slots: Vec<(Slot, Option<Span>)>,
    /// There are merge keys, or keys that are no scalars.
    has_odd_keys: bool,
}

impl Names {
    /// Collects the entries of the sections that `keys` allows, and gives each its thing. The
    /// file's first stock is thing number `first_stock`.
    pub fn collect(source: &Source, keys: &[Key], things: &mut Things, first_stock: usize) -> Self {
        let none = Things::default();
        let mut reader = Reader::new(source, &none, 0, false);
        let mut names = Self::default();
        let Some(root) = source.tree.root() else {
            return names;
        };
        let mut in_order = Vec::new();
        for (slot, via, key) in top(&mut reader, root, keys) {
            let Some(sort) = Sort::ALL.into_iter().find(|sort| sort.words().0 == key) else {
                continue;
            };
            let mut is_empty = false;
            let found = reader.by_way_of(via, |reader| {
                reader.follow(slot.value, |reader, section| {
                    let whole = source.tree.is_map(section);
                    is_empty = source.tree.is_empty_scalar(section);
                    whole.then(|| reader.named(section))
                })
            });
            let Some((mut slots, has_merges)) = found else {
                // The section is there and says nothing: what it should hold is not known.
                // Runs of a stock that is not known are known to be that; what no run leads to is not.
                match is_empty || sort == Sort::Stock {
                    true => things.lose(sort),
                    false => things.unread(sort),
                }
                continue;
            };
            let all = slots.len();
            slots.retain(|(slot, _)| source.tree.is_scalar(slot.key));
            in_order.push(sort);
            names.sections[sort as usize] = Entries {
                has_odd_keys: has_merges || slots.len() < all,
                slots,
            };
        }
        things.reserve(names.sections.iter().map(|found| found.slots.len()).sum());
        for sort in in_order {
            let first = if sort == Sort::Stock { first_stock } else { 0 };
            for (index, (slot, _)) in names.of(sort).iter().enumerate() {
                let id = Id::new(source.text_of(slot.key));
                things.name(id, Thing::new(sort, first + index), reader.solid(slot.key));
            }
        }
        names
    }

    pub fn of(&self, sort: Sort) -> &[(Slot, Option<Span>)] {
        &self.sections[sort as usize].slots
    }

    /// Whether a section has keys that are no names of entries: merge keys, or such as are no
    /// scalars.
    pub fn has_odd_keys(&self, sort: Sort) -> bool {
        self.sections[sort as usize].has_odd_keys
    }
}

/// The keys of the topmost mapping, each once and as what it is read, as [`Reader::record`] has it.
pub(super) fn top(
    reader: &mut Reader<'_>,
    root: crate::yaml::NodeId,
    keys: &[Key],
) -> Vec<(Slot, Option<Span>, &'static str)> {
    let source = reader.source;
    let (slots, _) = reader.named(root);
    let known = |name: &str| keys.iter().map(|key| key.name).find(|key| *key == name);
    let mut out: Vec<(Slot, Option<Span>, &'static str)> = Vec::new();
    let given = |out: &[(Slot, Option<Span>, &'static str)], name: &str| {
        out.iter().any(|(_, _, key)| *key == name)
    };
    for merged in [false, true] {
        let mut unknown = Vec::new();
        for (slot, via) in slots.iter().filter(|(slot, _)| slot.merged == merged) {
            match known(source.text_of(slot.key)) {
                Some(key) if !given(&out, key) => out.push((*slot, *via, key)),
                Some(_) => {}
                None if source.tree.is_scalar(slot.key) => unknown.push((*slot, *via)),
                None => {}
            }
        }
        if merged {
            break;
        }
        for (slot, via) in unknown {
            let near = reader.near(source.text_of(slot.key), keys.iter().map(|key| key.name));
            if let Some(key) = given_as(near.as_ref(), keys)
                && !given(&out, key)
            {
                out.push((slot, via, key));
            }
        }
    }
    out
}

/// Whether the plan's region uses American units, read ahead of everything else because the unit
/// suggested for a bare number depends on it.
pub(super) fn is_north_american(source: &Source) -> bool {
    let Some(root) = source.tree.root() else {
        return false;
    };
    source.tree.entries(root).any(|(key, value)| {
        source.text_of(key) == "region" && matches!(source.text_of(value), "us" | "ca")
    })
}
