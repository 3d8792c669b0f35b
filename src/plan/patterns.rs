//! The schema of a plan, and its spellings as patterns: each takes every text that the reader takes.
//!
//! A pattern keeps to what ECMA-262 and the regular expressions of other languages have in common.

use serde_json::{Value, json};

use super::catalogue::Catalogue;
use super::quantity::{FROM_ZERO, SIGNED, SMALL_FROM_ZERO};
use super::read::Document;
use crate::schema::{self, Defs, Schema};
use crate::units::{Dimension, Unit};

/// How a plan comes to a validator, and what it cannot see.
const ABOUT: &str = "A wiring plan as nailplate reads it. Load its YAML by the core schema of YAML 1.2, aliases and merge \
keys followed, keys as text, dates as text, block texts without their last line end (`|-`). nailplate reads a value by its \
text: where a number or a boolean can be meant as text, either is allowed. References, sizes beyond reason, sums and circles \
are not seen by a schema: `nailplate review` reports them. A catalogue of stock is described by #/$defs/catalogue.";

/// The schema of a plan.
pub fn schema() -> Value {
    schema::document("nailplate plan", ABOUT, |defs| {
        // No plan holds a catalogue; it is there for those who write one.
        Catalogue::schema(defs);
        Document::schema(defs)
    })
}

/// A name without unseen characters, as `wording::is_unseen` has them; without the tags far up, which not every dialect can name.
pub(super) const SEEN: &str = r"^[^\u0000-\u001f\u007f-\u009f\u00ad\u061c\u115f\u1160\u180e\u200b-\u200f\u2028-\u202e\u2060-\u206f\u3164\ufeff\uffa0\ufff9-\ufffb]*$";

/// A number as `units::split_number` takes it, without its sign.
const DIGITS: &str = r"(?:[0-9]+/[0-9]{1,6}|[0-9]+[- ][0-9]{1,6}/[0-9]{1,6}|(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?)";

/// A number within a bound. Nought may have either sign.
pub(super) fn number(bound: u8) -> String {
    match bound {
        SIGNED => format!("[+-]?{DIGITS}"),
        _ => format!(r"(?:\+|-(?=[0.]+(?:[^0-9.]|$)))?{DIGITS}"),
    }
}

/// A number and its unit, or two where the second unit is the smaller: `8 ft 6 in`.
pub(super) fn quantity<D: Dimension>(bound: u8) -> String {
    let mut units = vec![any_of(D::UNITS.iter().flat_map(every))];
    for unit in D::UNITS.iter().filter(|unit| unit.nought == 0.0) {
        let smaller = D::UNITS
            .iter()
            .filter(|other| other.nought == 0.0 && other.size < unit.size);
        // The reader looks for the second number at the first figure: a unit such as `m3` ends the search.
        let first: Vec<_> = every(unit)
            .filter(|spelling| !spelling.contains(|c: char| c.is_ascii_digit()))
            .collect();
        if !first.is_empty() && smaller.clone().next().is_some() {
            let (first, second) = (any_of(first.into_iter()), any_of(smaller.flat_map(every)));
            units.push(format!(r"{first}-?\s*{DIGITS}\s*{second}"));
        }
    }
    format!(r"{}\s*(?:{})", number(bound), units.join("|"))
}

/// A conductor size, as `WireSize::parse` takes it.
pub(super) fn wire_size() -> String {
    let gauge = "(?:[aA][wW][gG]|ga|gauge)";
    let number = number(FROM_ZERO);
    format!(r"(?:\+?0*[1-4]\s*/0\s*{gauge}|{number}\s*(?:{gauge}|mm2|mm²|mm\^2|sqmm))")
}

/// Every spelling of a unit.
fn every(unit: &'static Unit) -> impl Iterator<Item = &'static str> {
    std::iter::once(unit.spelling).chain(unit.also.iter().copied())
}

fn any_of(spellings: impl Iterator<Item = &'static str>) -> String {
    let all: Vec<_> = spellings.map(literal).collect();
    format!("(?:{})", all.join("|"))
}

/// A text as a pattern of itself. Only what has a meaning is escaped: some dialects refuse more.
fn literal(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars() {
        if r"\.+*?()|[]{}^$/".contains(c) {
            out.push('\\');
        }
        out.push(c);
    }
    out
}

/// The pattern of a text that is this and nothing else but space around it. What is more than zero
/// has some figure that is not nought.
pub(super) fn alone(bound: u8, pattern: &str) -> String {
    let figure = match bound {
        SIGNED | FROM_ZERO | SMALL_FROM_ZERO => "",
        _ => r"(?=[\s\S]*[1-9])",
    };
    format!(r"^{figure}\s*{pattern}\s*$")
}

/// Defines a spelling of the trade by its pattern.
pub(super) fn define(defs: &mut Defs, name: &str, what: &str, bound: u8, pattern: &str) -> Value {
    defs.define(
        name,
        |_| json!({"type": "string", "pattern": alone(bound, pattern), "description": what}),
    )
}
