//! A mapping from names that are no ids of things (rules, limits) to values of one shape.

use std::collections::HashMap;

use serde_json::{Value, json};

use super::reader::Reader;
use super::shape::Shape;
use crate::schema::{Defs, Schema};
use crate::yaml::{NodeId, Span};

/// Values by name, in the order of the file. One that could not be read is left out; it has been reported.
#[derive(Debug)]
pub struct Named<T>(pub Vec<NamedValue<T>>);

/// A name, its place, and what it stands for.
#[derive(Debug)]
pub struct NamedValue<T> {
    pub name: Box<str>,
    pub key: NodeId,
    pub at: Span,
    pub value: T,
}

impl<T: Schema> Schema for Named<T> {
    fn schema(defs: &mut Defs) -> Value {
        json!({"type": "object", "additionalProperties": T::schema(defs)})
    }
}

impl<T: Shape> Shape for Named<T> {
    const WANTS: &'static str = "`name: value` pairs";
    fn read(reader: &mut Reader<'_>, node: NodeId) -> Option<Self> {
        let source = reader.source;
        if !source.tree.is_map(node) {
            reader.wrong_kind(node, "a set of names", "`name: {…}` for each");
            return None;
        }
        let mut first: HashMap<&str, Span> = HashMap::new();
        let mut entries = Vec::new();
        for (slot, via) in reader.named(node).0 {
            if !source.tree.is_scalar(slot.key) {
                reader.no_key(slot.key);
                continue;
            }
            let name = source.text_of(slot.key);
            let (at, value) = reader.by_way_of(via, |reader| {
                let at = reader.span(slot.key);
                if let Some(first) = first.get(name) {
                    reader.duplicate_key(name, slot, Some(*first));
                    return (at, None);
                }
                first.insert(name, at);
                reader.path.push(slot);
                let value = reader.stated::<T>(slot.value);
                reader.path.pop();
                (at, value)
            });
            entries.extend(value.map(|stated| NamedValue {
                name: name.into(),
                key: slot.key,
                at,
                value: stated.value,
            }));
        }
        Some(Self(entries))
    }
}
