//! A firm's own sheets: `<area>/<name>.yaml` in a folder, each in the place of the built-in one.

use std::collections::BTreeMap;
use std::path::Path;

use super::file::{SheetFile, SheetLimit};
use super::mistake::misfit;
use crate::findings::{Finding, Id, Level};
use crate::plan::reader::Reader;
use crate::plan::wording::shown;
use crate::plan::{Field, NamedValue, Things};
use crate::rules::sheet::{AnyLimit, Whole};
use crate::rules::{RULES, sheet};
use crate::yaml::{FileId, Sources, Span};

/// A sheet that can take the place of the built-in one, and where its parts stand.
pub struct Own {
    pub rule: usize,
    pub whole: Whole,
    pub file: FileId,
    /// Where its keys stand, `level:`, and its limits by their names.
    pub at: BTreeMap<String, Span>,
}

/// Reads one sheet. `below` is its path from the folder of sheets on.
pub fn read(sources: &mut Sources, file: FileId, below: &Path) -> (Option<Own>, Vec<Finding>) {
    let things = Things::default();
    let mut reader = Reader::new(sources.file(file), &things, sources.detours(), false);
    reader.on = Id::new("sheet");
    let own = own(&mut reader, file, below);
    let (findings, detours) = reader.finish();
    sources.add_detours(detours);
    // A sheet with a mistake is not in effect at all.
    (own.filter(|_| findings.is_empty()), findings)
}

fn own(reader: &mut Reader<'_>, file: FileId, below: &Path) -> Option<Own> {
    let Some(named) = id_of(below) else {
        let says = format!(
            "the sheet {} is not where its rule is looked for",
            shown(&below.to_string_lossy())
        );
        let words = "put it in a folder named after the rule's area, speaker/undersized.yaml for speaker.undersized";
        reader.unfit_sheet(reader.at, says, "out of its place", words);
        return None;
    };
    let position = |id: &str| RULES.iter().position(|rule| rule.id == id);
    let sheet: SheetFile = reader.document();
    let Some(id) = sheet.id.stated() else {
        if position(&named).is_none() {
            reader.no_such_rule(None, reader.at, &named);
        }
        return None;
    };
    let (own, rule) = (&*id.value.0, position(&named));
    match rule {
        Some(rule) if own == named => whole(reader, &sheet, rule, file),
        None if position(own).is_none() => {
            reader.no_such_rule(None, id.span, own);
            None
        }
        _ => {
            let says = format!(
                "the sheet of `{}` lies in {}, the place of {}",
                shown(own),
                shown(&below.to_string_lossy()),
                shown(&named),
            );
            let words = "give the file and the rule the same name";
            reader.unfit_sheet(id.span, says, "not the name of the file", words);
            None
        }
    }
}

/// `speaker.undersized` of `speaker/undersized.yaml`.
fn id_of(below: &Path) -> Option<String> {
    let mut steps = below.iter();
    let (area, name, more) = (steps.next()?, steps.next()?, steps.next());
    let name = name.to_str()?.strip_suffix(".yaml")?;
    more.is_none()
        .then(|| format!("{}.{name}", area.to_string_lossy()))
}

fn whole(reader: &mut Reader<'_>, sheet: &SheetFile, rule: usize, file: FileId) -> Option<Own> {
    let id = RULES[rule].id;
    let built_in = self::sheet(id)?;
    let known = built_in.whole().ok()?;
    if let Some(to) = sheet.yields_to.stated()
        && Some(&*to.value.0) != built_in.yields_to()
    {
        let says = match built_in.yields_to() {
            Some(other) => format!("{id} yields to {other}, not to {}", shown(&to.value.0)),
            None => format!(
                "{id} yields to no other rule, not to {}",
                shown(&to.value.0)
            ),
        };
        let words = "leave `yields-to` as it is built in, or leave it out";
        reader.unfit_sheet(to.span, says, "not a firm's to set", words);
    }
    let mut at = BTreeMap::new();
    let mut limits = BTreeMap::new();
    for limit in sheet.limits.value().into_iter().flat_map(|named| &named.0) {
        if !known.limits.contains_key(&*limit.name) {
            reader.no_such_limit(limit.key, limit.at, &limit.name, id, &known);
        } else if let Some((stated, span)) = any(limit) {
            if let Some(reason) = misfit(rule, &known, &limit.name, &stated) {
                reader.unfit_limit(span, &limit.name, id, &stated.value, &reason);
            }
            at.insert(limit.name.to_string(), limit.at);
            limits.insert(limit.name.to_string(), stated);
        }
    }
    let named = known.limits.keys().map(String::as_str);
    let missing: Vec<&str> = named.filter(|name| !limits.contains_key(*name)).collect();
    // A limit that is there and could not be read has been reported.
    if !missing.is_empty() && reader.findings.is_empty() {
        let at = sheet.limits.span().or(sheet.id.span())?;
        let says = format!(
            "the sheet of {id} leaves out its limit {}",
            missing.join(", ")
        );
        let words =
            "state every limit of the rule; to change one alone, use `rules:` in nailplate.yaml";
        reader.unfit_sheet(at, says, "not all limits", words);
    }
    let text = |field: &Field<crate::plan::Text>| field.value().map(|text| text.to_string());
    for (key, span) in [
        ("id", sheet.id.span()),
        ("level", sheet.level.span()),
        ("regions", sheet.regions.span().or(sheet.id.span())),
        ("from-stage", sheet.from_stage.span().or(sheet.id.span())),
    ] {
        at.extend(span.map(|span| (format!("{key}:"), span)));
    }
    let whole = Whole {
        id: id.to_owned(),
        title: text(&sheet.title)?,
        level: Level::from(*sheet.level.value()?),
        authority: text(&sheet.authority)?,
        regions: sheet.regions.value().map(super::file::Regions::all),
        from_stage: sheet.from_stage.value().copied(),
        yields_to: known.yields_to,
        limits,
        why: text(&sheet.why)?,
        put_right: text(&sheet.put_right)?,
        wrong: text(&sheet.wrong)?,
        right: text(&sheet.right)?,
    };
    Some(Own {
        rule,
        whole,
        file,
        at,
    })
}

fn any(limit: &NamedValue<SheetLimit>) -> Option<(AnyLimit, Span)> {
    let stated = limit.value.value.stated()?;
    let any = AnyLimit {
        value: stated.value.0.to_string(),
        authority: limit.value.authority.value()?.to_string(),
        level: limit.value.level.value().map(|level| Level::from(*level)),
        regions: limit.value.regions.value().map(super::file::Regions::all),
    };
    Some((any, stated.span))
}
