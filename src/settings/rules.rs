//! `rules:` of the settings: what is not as in the sheets, rule by rule.

use serde_json::{Value, json};

use super::file::RuleEntry;
use super::mistake::misfit;
use crate::findings::Level;
use crate::plan::reader::Reader;
use crate::plan::shape::Shape;
use crate::plan::{Field, Named, NamedValue};
use crate::rules::sheet::{AnyLimit, Whole};
use crate::rules::{RULES, sheet};
use crate::schema::{Defs, Schema};
use crate::yaml::{NodeId, Span};

/// What is in effect of `rules:`: entries without mistakes.
#[derive(Debug)]
pub struct Rules(pub Vec<Change>);

/// What the settings say of one rule.
#[derive(Debug)]
pub struct Change {
    /// Index into [`RULES`].
    pub rule: usize,
    pub level: Option<(Level, Span)>,
    pub limits: Vec<Changed>,
    pub not_adopted: Option<(String, Span)>,
}

/// A limit that is another.
#[derive(Debug)]
pub struct Changed {
    pub name: String,
    pub value: String,
    pub authority: String,
    pub at: Span,
}

impl Schema for Rules {
    fn schema(defs: &mut Defs) -> Value {
        let ids: Vec<_> = RULES.iter().map(|rule| rule.id).collect();
        json!({
            "type": "object",
            "propertyNames": {"enum": ids},
            "additionalProperties": RuleEntry::schema(defs),
        })
    }
}

impl Shape for Rules {
    const WANTS: &'static str = "rules by their ids";
    fn read(reader: &mut Reader<'_>, node: NodeId) -> Option<Self> {
        let Named(entries) = Named::<RuleEntry>::read(reader, node)?;
        let mut changes = Vec::with_capacity(entries.len());
        for entry in entries {
            match RULES.iter().position(|rule| *rule.id == *entry.name) {
                Some(rule) => changes.extend(change(reader, rule, &entry)),
                None => reader.no_such_rule(Some(entry.key), entry.at, &entry.name),
            }
        }
        Some(Self(changes))
    }
}

/// What is sound in an entry.
fn change(reader: &mut Reader<'_>, rule: usize, entry: &NamedValue<RuleEntry>) -> Option<Change> {
    let NamedValue { name, value, .. } = entry;
    let is_set = !(value.level.is_absent() && value.limits.is_absent());
    if is_set && !value.not_adopted.is_absent() {
        reader.at_odds(value.not_adopted.span().unwrap_or(entry.at), name);
        return None;
    }
    let whole = sheet(RULES[rule].id)?.whole().ok()?;
    let mut limits = Vec::new();
    for limit in value.limits.value().into_iter().flat_map(|named| &named.0) {
        let (Some(stated), Some(authority)) =
            (limit.value.value.stated(), limit.value.authority.value())
        else {
            continue;
        };
        let Some(known) = whole.limits.get(&*limit.name) else {
            reader.no_such_limit(limit.key, limit.at, &limit.name, name, &whole);
            continue;
        };
        let (text, authority) = (stated.value.0.to_string(), authority.to_string());
        let wanted = AnyLimit {
            value: text.clone(),
            authority: authority.clone(),
            ..known.clone()
        };
        match misfit(rule, &whole, &limit.name, &wanted) {
            Some(reason) => reader.unfit_limit(stated.span, &limit.name, name, &text, &reason),
            None => limits.push(Changed {
                name: limit.name.to_string(),
                value: text,
                authority,
                at: limit.at,
            }),
        }
    }
    Some(Change {
        rule,
        level: level(&value.level),
        limits,
        not_adopted: value
            .not_adopted
            .stated()
            .map(|reason| (reason.value.0.to_string(), reason.span)),
    })
}

fn level(field: &Field<super::file::LevelWord>) -> Option<(Level, Span)> {
    field.stated().map(|level| (level.value.into(), level.span))
}

/// A change of a built-in sheet, made in its whole.
pub fn apply(change: &Change, whole: &mut Whole) {
    if let Some((level, _)) = change.level {
        whole.level = level;
    }
    for changed in &change.limits {
        if let Some(limit) = whole.limits.get_mut(&changed.name) {
            limit.value.clone_from(&changed.value);
            limit.authority.clone_from(&changed.authority);
        }
    }
}
