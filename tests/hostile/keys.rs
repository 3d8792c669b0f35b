//! Every quantity that the plan language knows, from its records, and where it stands in a house.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use nailplate::plan::{
    Beside, Circuit, Document, Done, Endpoint, Framing, Key, Pathway, Record, Room, Run, Stock,
    Variance,
};
use nailplate::schema::Defs;
use nailplate::yaml::{Edit, FileId, Kind, NodeId, Source, Sources, apply, entry_edit};
use serde_json::Value;

use super::HOUSES;
use crate::rules::optional_keys::shipped;

/// Keys by where their record stands in a plan.
pub const RECORDS: &[(&str, &[Key])] = &[
    ("", Document::KEYS),
    ("rooms", Room::KEYS),
    ("stock", Stock::KEYS),
    ("pathways", Pathway::KEYS),
    ("pathways.framing", Framing::KEYS),
    ("circuits", Circuit::KEYS),
    ("endpoints", Endpoint::KEYS),
    ("runs", Run::KEYS),
    ("runs.beside", Beside::KEYS),
    ("runs.done", Done::KEYS),
    ("variances", Variance::KEYS),
];

/// Whether a schema, or a part of it, is one of numbers.
fn is_quantity(schema: &Value, defs: &Defs) -> bool {
    let schema = defs.get(schema).unwrap_or(schema);
    let parts = schema["anyOf"].as_array().into_iter().flatten();
    let mut parts = parts.chain(schema.get("items"));
    let kind = &schema["type"];
    kind == "number"
        || kind == "integer"
        || kind == "string" && schema.get("pattern").is_some()
        || parts.any(|part| is_quantity(part, defs))
}

/// The paths of all quantities of the language: `endpoints.load`.
pub fn quantities() -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    for (at, keys) in RECORDS {
        for key in *keys {
            let mut defs = Defs::default();
            if is_quantity(&(key.schema)(&mut defs), &defs) {
                found.insert(format!("{at}.{}", key.name));
            }
        }
    }
    found
}

/// Every entry of every record of a plan: its path, its mapping, its value.
pub fn entries(source: &Source) -> Vec<(String, NodeId, NodeId)> {
    let mut found = Vec::new();
    let tree = &source.tree;
    for (key, value) in tree.entries(tree.root().expect("a plan")) {
        let section = source.text_of(key);
        if section == "variances" {
            inside(source, section, value, &mut found);
        } else if tree.is_map(value) {
            for (_, thing) in tree.entries(value) {
                inside(source, section, thing, &mut found);
            }
        }
    }
    found
}

fn inside(source: &Source, at: &str, node: NodeId, found: &mut Vec<(String, NodeId, NodeId)>) {
    let tree = &source.tree;
    if tree.kind(node) == Kind::Seq {
        for item in tree.children(node) {
            inside(source, at, item, found);
        }
    }
    for (key, value) in tree.entries(node) {
        let path = format!("{at}.{}", source.text_of(key));
        inside(source, &path, value, found);
        found.push((path, node, value));
    }
}

/// A house as it is shipped, its catalogue written into it.
pub fn house(name: &str) -> (Sources, FileId) {
    let mut sources = Sources::default();
    let text = shipped(&format!("{name}.plan.yaml"));
    let (file, read) = sources.add(Path::new("examples/house.plan.yaml"), text);
    read.expect("it is YAML");
    (sources, file)
}

/// A sound value of every quantity, as some house has it.
pub fn sound() -> BTreeMap<String, String> {
    let mut sound = BTreeMap::new();
    for name in HOUSES {
        let (sources, file) = house(name);
        let source = sources.file(file);
        for (path, _, value) in entries(source) {
            let text = &source.text[source.tree.bytes(value)];
            sound.entry(path).or_insert_with(|| text.to_owned());
        }
    }
    let quantities = quantities();
    sound.retain(|path, _| quantities.contains(path));
    let missing: Vec<_> = quantities
        .iter()
        .filter(|path| !sound.contains_key(*path))
        .collect();
    assert!(missing.is_empty(), "no house has {missing:?}");
    sound
}

/// A house with some entries in the place of its own or beside them: its text, and where each of them stands.
pub fn with(
    source: &Source,
    values: &[(String, String)],
    nth: usize,
) -> (String, Vec<std::ops::Range<usize>>) {
    let entries = entries(source);
    let mut edits: Vec<(usize, Edit)> = Vec::new();
    for (at, (path, value)) in values.iter().enumerate() {
        let has = entries.iter().filter(|(other, ..)| other == path).nth(nth);
        let (start, end, text) = match has {
            Some((_, _, node)) => {
                let bytes = source.tree.bytes(*node);
                (bytes.start, bytes.end, value.clone())
            }
            None => {
                let (record, key) = path.rsplit_once('.').expect("a key of a record");
                let in_record = |(other, ..): &&(String, NodeId, NodeId)| {
                    other.rsplit_once('.').expect("a path").0 == record
                };
                let (map, key, value) = match entries.iter().find(in_record) {
                    Some((_, map, _)) => (*map, key.to_owned(), value.clone()),
                    None => {
                        // The record stands in another one.
                        let (outer, inner) = record
                            .rsplit_once('.')
                            .unwrap_or_else(|| panic!("no {record} in this house"));
                        let map = entries
                            .iter()
                            .find(|(other, ..)| other.rsplit_once('.').expect("a path").0 == outer);
                        let run = if inner == "beside" { "run: zz, " } else { "" };
                        (
                            map.expect("a thing").1,
                            inner.to_owned(),
                            format!("{{{run}{key}: {value}}}"),
                        )
                    }
                };
                let (byte, text) = entry_edit(source, map, &key, &value).expect("an entry fits");
                (byte, byte, text)
            }
        };
        let at_spot = source.spot_of(start..end);
        edits.push((at, Edit { at: at_spot, text }));
    }
    edits.sort_by_key(|(_, edit)| edit.at.start);
    let mut places = vec![0..0; values.len()];
    let (mut longer, mut shorter) = (0, 0);
    for (at, edit) in &edits {
        let start = edit.at.start + longer - shorter;
        places[*at] = start..start + edit.text.len();
        longer += edit.text.len();
        shorter += edit.at.end - edit.at.start;
    }
    let edits: Vec<_> = edits.into_iter().map(|(_, edit)| edit).collect();
    (apply(&source.text, &edits).expect("edits in order"), places)
}
