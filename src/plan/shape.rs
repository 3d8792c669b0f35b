//! Shapes that a value may have, apart from quantities and trade spellings.

use std::ops::RangeInclusive;

use serde_json::{Value, json};

use super::field::Stated;
use super::reader::Reader;
use super::{patterns, quantity};
use crate::schema::{Defs, Schema, scalar};
use crate::yaml::NodeId;

/// Something that a YAML node can be read as.
pub trait Shape: Schema + Sized {
    /// What it looks like, for messages.
    const WANTS: &'static str;
    /// An empty value is as good as any (notes).
    const TAKES_NOTHING: bool = false;
    /// The value, or `None` after reporting what is wrong with it. `node` is never an alias.
    fn read(reader: &mut Reader<'_>, node: NodeId) -> Option<Self>;
}

/// Text that is not blank, as written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Text(pub Box<str>);

impl std::ops::Deref for Text {
    type Target = str;
    fn deref(&self) -> &str {
        &self.0
    }
}

impl Schema for Text {
    fn schema(defs: &mut Defs) -> Value {
        defs.define("text", |_| json!({"type": scalar(), "pattern": "\\S"}))
    }
}

impl Shape for Text {
    const WANTS: &'static str = "text";
    fn read(reader: &mut Reader<'_>, node: NodeId) -> Option<Self> {
        let text = reader.scalar(node, "text")?;
        if text.trim().is_empty() {
            reader.no_value(node, "text");
            return None;
        }
        Some(Self(text.into()))
    }
}

/// Anything at all: notes are for people.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Notes;

impl Schema for Notes {
    fn schema(_: &mut Defs) -> Value {
        json!({})
    }
}

impl Shape for Notes {
    const WANTS: &'static str = "anything; it is for people";
    const TAKES_NOTHING: bool = true;
    fn read(_: &mut Reader<'_>, _: NodeId) -> Option<Self> {
        Some(Self)
    }
}

/// `yes` or `no`, or `true` or `false`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct YesNo(pub bool);

pub(crate) const YES: [&str; 4] = ["yes", "true", "Yes", "True"];
pub(crate) const NO: [&str; 4] = ["no", "false", "No", "False"];

impl Schema for YesNo {
    fn schema(defs: &mut Defs) -> Value {
        // YAML 1.1 loads `yes` as a boolean, YAML 1.2 as text.
        defs.define("yes or no", |_| {
            let words = YES.into_iter().chain(NO).map(Value::from);
            let values: Vec<_> = [json!(true), json!(false)]
                .into_iter()
                .chain(words)
                .collect();
            json!({"enum": values})
        })
    }
}

impl Shape for YesNo {
    const WANTS: &'static str = "yes or no";
    fn read(reader: &mut Reader<'_>, node: NodeId) -> Option<Self> {
        let text = reader.scalar(node, "yes or no")?;
        let known = |text| match text {
            text if YES.contains(&text) => Some(Self(true)),
            text if NO.contains(&text) => Some(Self(false)),
            _ => None,
        };
        known(text).or_else(|| {
            let words = &["yes", "no", "true", "false"];
            known(reader.unknown_word(node, text, "yes or no", words)?)
        })
    }
}

/// The version of the plan language: 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Version;

impl Schema for Version {
    fn schema(_: &mut Defs) -> Value {
        json!({"enum": [1, "1"]})
    }
}

impl Shape for Version {
    const WANTS: &'static str = "the version of the plan language: 1";
    fn read(reader: &mut Reader<'_>, node: NodeId) -> Option<Self> {
        let text = reader.scalar(node, "a version")?;
        if text == "1" {
            return Some(Self);
        }
        if text.starts_with(|c: char| c.is_ascii_digit()) {
            reader.wrong_version(node, text);
        } else {
            reader.unreadable(node, text, Self::WANTS);
        }
        None
    }
}

/// A whole number from `MIN` to `MOST`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Count<const MIN: u32, const MOST: u32 = 10_000>(pub u32);

impl<const MIN: u32, const MOST: u32> Schema for Count<MIN, MOST> {
    fn schema(defs: &mut Defs) -> Value {
        defs.define(&format!("whole number from {MIN} to {MOST}"), |_| {
            json!({"anyOf": [
                {"type": "integer", "minimum": MIN, "maximum": MOST},
                {"type": "string", "pattern": r"^\s*[+-]?[0-9]+\s*$"},
            ]})
        })
    }
}

impl<const MIN: u32, const MOST: u32> Shape for Count<MIN, MOST> {
    const WANTS: &'static str = "a whole number";
    fn read(reader: &mut Reader<'_>, node: NodeId) -> Option<Self> {
        let text = reader.scalar(node, "a whole number")?;
        match text.trim().parse::<i64>() {
            Ok(n) if (i64::from(MIN)..=i64::from(MOST)).contains(&n) => {
                Some(Self(u32::try_from(n).ok()?))
            }
            Ok(n) => {
                reader.out_of_range(node, &n.to_string(), &format!("{MIN} to {MOST}"));
                None
            }
            Err(_) => {
                reader.unreadable(node, text, "a whole number, such as 2");
                None
            }
        }
    }
}

/// A plain number without a unit: a floor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Number(pub f64);

/// A plain number more than zero: a throw ratio, a coefficient of friction.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AboveZero(pub f64);

/// A plain number, zero or more: hours of fire resistance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FromZero(pub f64);

/// What such numbers may be (common sense, no source).
const FLOORS: RangeInclusive<f64> = -20.0..=200.0;
const RATIOS: RangeInclusive<f64> = 0.001..=100.0;
const HOURS: RangeInclusive<f64> = 0.0..=24.0;

/// A number as such, or a text that is read as one: `1/2`.
fn number_schema(defs: &mut Defs, name: &str, bound: u8, range: &RangeInclusive<f64>) -> Value {
    defs.define(name, |_| {
        let pattern = patterns::alone(bound, &patterns::number(bound));
        let number = json!({"type": "number", "minimum": range.start(), "maximum": range.end()});
        json!({"anyOf": [number, {"type": "string", "pattern": pattern}]})
    })
}

impl Schema for Number {
    fn schema(defs: &mut Defs) -> Value {
        number_schema(defs, Self::WANTS, quantity::SIGNED, &FLOORS)
    }
}

impl Schema for AboveZero {
    fn schema(defs: &mut Defs) -> Value {
        number_schema(defs, Self::WANTS, quantity::OVER_ZERO, &RATIOS)
    }
}

impl Schema for FromZero {
    fn schema(defs: &mut Defs) -> Value {
        number_schema(defs, Self::WANTS, quantity::FROM_ZERO, &HOURS)
    }
}

impl Shape for Number {
    const WANTS: &'static str = "a number";
    fn read(reader: &mut Reader<'_>, node: NodeId) -> Option<Self> {
        number(reader, node, &FLOORS).map(Self)
    }
}

impl Shape for AboveZero {
    const WANTS: &'static str = "a number more than zero";
    fn read(reader: &mut Reader<'_>, node: NodeId) -> Option<Self> {
        number(reader, node, &RATIOS).map(Self)
    }
}

impl Shape for FromZero {
    const WANTS: &'static str = "a number, 0 or more";
    fn read(reader: &mut Reader<'_>, node: NodeId) -> Option<Self> {
        number(reader, node, &HOURS).map(Self)
    }
}

fn number(reader: &mut Reader<'_>, node: NodeId, range: &RangeInclusive<f64>) -> Option<f64> {
    let text = reader.scalar(node, "a number")?;
    match crate::units::split_number(text) {
        // Somebody means nought, or something that can be told from it.
        Some((n, "")) if range.contains(&n) && (n == 0.0 || n.abs() >= 0.001) => Some(n),
        Some((n, "")) => {
            let allowed = format!("{} to {}", range.start(), range.end());
            reader.out_of_range(node, &crate::units::plain(n), &allowed);
            None
        }
        _ => {
            reader.unreadable(node, text, "a number alone, such as 1.5");
            None
        }
    }
}

/// One value, or a list of them.
#[derive(Debug, Clone, PartialEq)]
pub struct List<T>(pub Vec<Stated<T>>);

impl<T> List<T> {
    pub fn iter(&self) -> std::slice::Iter<'_, Stated<T>> {
        self.0.iter()
    }

    pub fn values(&self) -> impl Iterator<Item = &T> {
        self.0.iter().map(|stated| &stated.value)
    }
}

impl<T: Schema> Schema for List<T> {
    fn schema(defs: &mut Defs) -> Value {
        let one = T::schema(defs);
        json!({"anyOf": [one, {"type": "array", "items": one}]})
    }
}

impl<T: Shape> Shape for List<T> {
    const WANTS: &'static str = T::WANTS;
    /// Every item is read, so that every mistake is reported; one bad item makes the list bad.
    fn read(reader: &mut Reader<'_>, node: NodeId) -> Option<Self> {
        let items = reader.items(node);
        if reader.fell_apart_in(&items) {
            return None;
        }
        let mut list = Vec::with_capacity(items.len());
        let mut whole = true;
        for item in items {
            match reader.stated(item) {
                Some(stated) => list.push(stated),
                None => whole = false,
            }
        }
        whole.then_some(Self(list))
    }
}

/// Three values: a point, or a box.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Triple<T>(pub [T; 3]);

impl<T: Schema> Schema for Triple<T> {
    fn schema(defs: &mut Defs) -> Value {
        json!({"type": "array", "items": T::schema(defs), "minItems": 3, "maxItems": 3})
    }
}

impl<T: Shape> Shape for Triple<T> {
    const WANTS: &'static str = "three lengths: [x, y, z]";
    fn read(reader: &mut Reader<'_>, node: NodeId) -> Option<Self> {
        if !reader.is_list(node) {
            reader.wrong_kind(
                node,
                "three lengths",
                "three lengths in brackets, such as [4 ft, 2 ft, 1 ft]",
            );
            return None;
        }
        let items = reader.items(node);
        let found = items.len();
        let values: Vec<_> = items.into_iter().map(|item| reader.stated(item)).collect();
        if found != 3 {
            reader.not_three(node, found);
            return None;
        }
        let mut values = values.into_iter().map(|stated| stated.map(|s| s.value));
        Some(Self([values.next()??, values.next()??, values.next()??]))
    }
}
