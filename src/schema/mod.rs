//! JSON Schema (draft 2020-12) of what is read and what is written, made from the lines that also make the types.
//!
//! Knows: JSON Schema, and how a struct of data becomes one. Must not know: plans, rules, which documents there are.

mod data;

use std::collections::BTreeMap;

use serde_json::{Map, Value, json};

pub(crate) use data::data;
pub use data::{Part, of_data};

/// A type that a schema describes.
pub trait Schema {
    /// What a value looks like. Larger shapes are put into `defs` and referred to.
    fn schema(defs: &mut Defs) -> Value;
}

/// The definitions of one document.
#[derive(Debug, Default)]
pub struct Defs(Map<String, Value>);

impl Defs {
    /// Defines `name` (`a run` becomes `run`) unless it is defined already, and gives a reference to it.
    pub fn define(&mut self, name: &str, make: impl FnOnce(&mut Self) -> Value) -> Value {
        let name = spelled(name);
        if !self.0.contains_key(&name) {
            let made = make(self);
            self.0.insert(name.clone(), made);
        }
        json!({"$ref": format!("#/$defs/{name}")})
    }

    /// What a reference refers to.
    pub fn get(&self, reference: &Value) -> Option<&Value> {
        let name = reference.get("$ref")?.as_str()?.rsplit('/').next()?;
        self.0.get(name)
    }

    /// All of them, by name.
    pub fn into_map(self) -> Map<String, Value> {
        self.0
    }
}

/// `an entry of x` as a name: `entry-of-x`.
fn spelled(name: &str) -> String {
    let bare = name.trim_start_matches("an ").trim_start_matches("a ");
    let words = bare.split(|c: char| !c.is_ascii_alphanumeric());
    let words: Vec<_> = words.filter(|word| !word.is_empty()).collect();
    words.join("-").to_lowercase()
}

/// A whole schema: `root` with its definitions.
pub fn document(title: &str, description: &str, root: impl FnOnce(&mut Defs) -> Value) -> Value {
    let mut defs = Defs::default();
    let root = root(&mut defs);
    let mut document = Map::new();
    document.insert(
        "$schema".into(),
        json!("https://json-schema.org/draft/2020-12/schema"),
    );
    if let Value::Object(root) = root {
        document.extend(root);
    }
    document.insert("title".into(), json!(title));
    document.insert("description".into(), json!(description));
    document.insert("$defs".into(), Value::Object(defs.into_map()));
    Value::Object(document)
}

/// A schema with a description of its own beside it.
pub fn described(schema: Value, what: &str) -> Value {
    let mut schema = match schema {
        Value::Object(map) => map,
        _ => Map::new(),
    };
    schema.insert("description".into(), json!(what.trim()));
    Value::Object(schema)
}

/// An object with these keys and no others.
pub fn object(title: &str, what: &str, keys: impl Iterator<Item = (String, Value, bool)>) -> Value {
    let (mut properties, mut required) = (Map::new(), Vec::new());
    for (name, schema, needed) in keys {
        if needed {
            required.push(json!(name));
        }
        properties.insert(name, schema);
    }
    json!({
        "title": title,
        "description": what.trim(),
        "type": "object",
        "properties": properties,
        "required": required,
        "additionalProperties": false,
    })
}

/// One of some words. A word that a loader of YAML takes for a number may come as one.
pub fn one_of<'w>(words: impl Iterator<Item = &'w str>) -> Value {
    let mut values = Vec::new();
    for word in words {
        values.push(json!(word));
        values.extend(word.parse::<i64>().ok().map(|number| json!(number)));
    }
    json!({"enum": values})
}

/// The types that a loader of YAML may take a text for.
pub fn scalar() -> Value {
    json!(["string", "number", "boolean"])
}

/// Text that is written.
impl Schema for &str {
    fn schema(_: &mut Defs) -> Value {
        json!({"type": "string"})
    }
}

impl Schema for std::borrow::Cow<'_, str> {
    fn schema(_: &mut Defs) -> Value {
        json!({"type": "string"})
    }
}

/// Text that is read out of YAML.
impl Schema for String {
    fn schema(_: &mut Defs) -> Value {
        json!({"type": scalar()})
    }
}

impl Schema for f64 {
    fn schema(_: &mut Defs) -> Value {
        json!({"type": "number"})
    }
}

impl Schema for usize {
    fn schema(_: &mut Defs) -> Value {
        json!({"type": "integer", "minimum": 0})
    }
}

impl Schema for bool {
    fn schema(_: &mut Defs) -> Value {
        json!({"type": "boolean"})
    }
}

impl<T: Schema> Schema for Option<T> {
    fn schema(defs: &mut Defs) -> Value {
        json!({"anyOf": [T::schema(defs), {"type": "null"}]})
    }
}

impl<T: Schema> Schema for Vec<T> {
    fn schema(defs: &mut Defs) -> Value {
        json!({"type": "array", "items": T::schema(defs)})
    }
}

impl<T: Schema> Schema for BTreeMap<String, T> {
    fn schema(defs: &mut Defs) -> Value {
        json!({"type": "object", "additionalProperties": T::schema(defs)})
    }
}
