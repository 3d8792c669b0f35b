//! What a punch list has as owed, and what is still on it though it was not found again.

use std::collections::{BTreeMap, HashSet};
use std::io::{Result, Write};

use super::clean::clean;
use super::sections::listed;
use super::words::Words;
use super::{Page, theme};
use crate::findings::{Id, Level};
use crate::review::{Became, NotFound, Owed, Review};

/// Hazards each by itself, the rest by rule. What a rule says in general is said at its first hazard.
///
/// # Errors
/// Those of the writer.
pub fn owed(review: &Review, words: &mut Words, page: Page, out: &mut dyn Write) -> Result<()> {
    if review.owed.is_empty() {
        return Ok(());
    }
    writeln!(out, "{}", page.paint(theme::margin(), "OWED"))?;
    let mut explained = HashSet::new();
    for owed in review.owed.iter().filter(|owed| is_hazard(owed)) {
        let finding = &owed.finding;
        let line = finding.marks.first().map_or(String::new(), |mark| {
            let (spot, _) = review.sources.spots(mark.span);
            let source = review.sources.file(spot.file);
            let at = source.position(spot.start);
            if spot.file == review.file {
                format!("line {}: ", at.line)
            } else {
                let path = source.path.to_string_lossy();
                format!("{}:{}: ", clean(&path), at.line)
            }
        });
        let sign = format!("  {}  ", page.sign(Level::Hazard));
        let what = format!(
            "{line}{} ({}), owed since {}",
            clean(&finding.says),
            finding.rule,
            owed.entry.since
        );
        writeln!(out, "{}", page.wrap(&what, &sign, "    "))?;
        let first = explained.insert(finding.rule);
        if let Some(put_right) = words.get(finding.rule).put_right(finding)
            && (first || finding.put_right.is_some())
        {
            let what = format!("put right: {}", clean(put_right));
            writeln!(out, "{}", page.wrap(&what, "    ", "    "))?;
        }
    }
    for level in [Level::Fault, Level::Advice] {
        let rest = review
            .owed
            .iter()
            .filter(|owed| owed.finding.level == level);
        let rest = rest.map(|owed| {
            let on = owed.finding.on.first().map_or("plan", Id::as_str);
            (owed.finding.rule, on)
        });
        for line in by_rule(rest) {
            let line = format!("{level}: {line}");
            writeln!(out, "{}", page.wrap(&line, "  ", "    "))?;
        }
    }
    writeln!(out)
}

/// What is on the list of a plan and was not found, by what became of it.
///
/// # Errors
/// Those of the writer.
pub fn not_found(gone: &[NotFound], page: Page, out: &mut dyn Write) -> Result<()> {
    if gone.is_empty() {
        return Ok(());
    }
    let heading = "STILL ON THE PUNCH LIST, not found again";
    writeln!(out, "{}", page.paint(theme::margin(), heading))?;
    by_fate(
        gone.iter().map(|gone| (words(&gone.became), gone)),
        page,
        out,
    )?;
    writeln!(out)
}

/// Entries under what became of them.
pub(super) fn by_fate<'e>(
    gone: impl Iterator<Item = (String, &'e NotFound)>,
    page: Page,
    out: &mut dyn Write,
) -> Result<()> {
    for (fate, entries) in fates(gone) {
        for line in by_rule(entries.into_iter()) {
            let line = format!("{fate}: {line}");
            writeln!(out, "{}", page.wrap(&line, "  ", "    "))?;
        }
    }
    Ok(())
}

/// Rule and thing at fault of entries, by what became of them.
pub(super) fn fates<'e>(
    gone: impl Iterator<Item = (String, &'e NotFound)>,
) -> BTreeMap<String, Vec<(&'e str, &'e str)>> {
    let mut fates: BTreeMap<String, Vec<(&str, &str)>> = BTreeMap::new();
    for (fate, gone) in gone {
        let entry = (&*gone.entry.rule, gone.entry.at_fault());
        fates.entry(fate).or_default().push(entry);
    }
    fates
}

/// What became of an entry, in words.
pub fn words(became: &Became) -> String {
    match became {
        Became::PutRight => "put right".to_owned(),
        Became::LetPass => "let pass by a variance now".to_owned(),
        Became::NoPlan => "no such plan any more".to_owned(),
        Became::NoRule => "no rule has this name".to_owned(),
        Became::Unjudged(lack) => format!("not judged for want of {}", clean(lack)),
    }
}

pub(super) fn is_hazard(owed: &Owed) -> bool {
    owed.finding.level == Level::Hazard
}

/// `speaker.undersized on S1, S2`, a line a rule.
pub(super) fn by_rule<'e>(
    entries: impl Iterator<Item = (&'e str, &'e str)>,
) -> impl Iterator<Item = String> {
    let mut rules: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for (rule, on) in entries {
        rules.entry(rule).or_default().push(on);
    }
    rules
        .into_iter()
        .map(|(rule, on)| format!("{} on {}", clean(rule), listed(on.into_iter())))
}
