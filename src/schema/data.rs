//! Structs of data that are written as JSON or read from a sheet, with their schemas.

use serde_json::Value;

use super::{Defs, described, object};

/// One field of a struct of data.
#[derive(Debug)]
pub struct Part {
    pub name: &'static str,
    pub what: &'static str,
    /// `default`: may be left out. `flatten`: its keys stand among the others.
    pub mark: &'static str,
    pub schema: fn(&mut Defs) -> Value,
}

/// The schema of a struct of data.
pub fn of_data(defs: &mut Defs, style: &str, name: &str, what: &str, parts: &[Part]) -> Value {
    defs.define(name, |defs| {
        let mut keys = Vec::new();
        for part in parts {
            let schema = (part.schema)(defs);
            if part.mark == "flatten" {
                keys.extend(keys_of(defs.get(&schema)));
                continue;
            }
            let name = match style {
                "read" => part.name.replace('_', "-"),
                _ => part.name.to_owned(),
            };
            let needed = part.mark != "default";
            keys.push((name, described(schema, part.what), needed));
        }
        object(&name.to_lowercase(), what, keys.into_iter())
    })
}

/// The keys of an object, as [`object`] takes them.
fn keys_of(object: Option<&Value>) -> Vec<(String, Value, bool)> {
    let (Some(properties), Some(required)) = (
        object.and_then(|object| object["properties"].as_object()),
        object.and_then(|object| object["required"].as_array()),
    ) else {
        return Vec::new();
    };
    let key = |(name, schema): (&String, &Value)| {
        let needed = required.iter().any(|needed| needed == name);
        (name.clone(), schema.clone(), needed)
    };
    properties.iter().map(key).collect()
}

/// Declares a struct of data and its schema. `written` structs become JSON under the names of their
/// fields; `read` ones come from a sheet, in kebab-case. A field is needed unless marked `@default`.
///
/// ```text
/// data! { written [derive(Serialize)]
///     /// What a figure is held against.
///     struct Limit<'r> {
///         /// The limit, in `unit`.
///         value: f64,
///     }
/// }
/// ```
macro_rules! data {
    ($style:ident [$($attribute:meta),*] $(#[doc = $doc:literal])*
     $vis:vis struct $name:ident $(<$life:lifetime>)? {
        $($(#[doc = $what:literal])* $(@$mark:ident)? $field_vis:vis $field:ident: $type:ty,)*
    }) => {
        $(#[doc = $doc])*
        $(#[$attribute])*
        $vis struct $name $(<$life>)? {
            $($(#[doc = $what])* $(#[serde($mark)])? $field_vis $field: $type,)*
        }

        impl $(<$life>)? $crate::schema::Schema for $name $(<$life>)? {
            fn schema(defs: &mut $crate::schema::Defs) -> serde_json::Value {
                let parts = [$($crate::schema::Part {
                    name: stringify!($field),
                    what: concat!($($what),*),
                    mark: concat!($(stringify!($mark))?),
                    schema: <$type as $crate::schema::Schema>::schema,
                }),*];
                let what = concat!($($doc),*);
                $crate::schema::of_data(defs, stringify!($style), stringify!($name), what, &parts)
            }
        }
    };
}
pub(crate) use data;
