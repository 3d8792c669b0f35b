//! What a punch list has as owed.

use std::io::Result;

use super::super::markup::code;
use super::super::owed::{by_rule, fates, is_hazard, words as became};
use super::super::words::Words;
use super::Desk;
use super::observation::{place, said};
use super::paper::Paper;
use crate::findings::{Id, Level};

/// Hazards each by itself, the rest by rule.
///
/// # Errors
/// Those of the writer.
pub fn owed(desk: Desk<'_>, words: &mut Words, paper: &mut Paper<'_>) -> Result<()> {
    let owed = &desk.review.owed;
    if owed.is_empty() {
        return Ok(());
    }
    paper.put("\n### Owed\n")?;
    let hazards = owed.iter().filter(|owed| is_hazard(owed)).map(|owed| {
        let finding = &owed.finding;
        let place = place(desk, finding).map_or(String::new(), |place| format!("{place} "));
        let put_right = words.get(finding.rule).put_right(finding);
        let put_right =
            put_right.map_or(String::new(), |text| format!("; put right: {}", said(text)));
        format!(
            "- {place}{}: {} ({}), owed since {}{put_right}\n",
            finding.level,
            said(&finding.says),
            code(finding.rule),
            owed.entry.since
        )
    });
    let rest = [Level::Fault, Level::Advice].into_iter().flat_map(|level| {
        let of_level = owed.iter().filter(move |owed| owed.finding.level == level);
        let entries = of_level.map(|owed| {
            let on = owed.finding.on.first().map_or("plan", Id::as_str);
            (owed.finding.rule, on)
        });
        by_rule(entries).map(move |line| format!("- {level}: {}\n", said(&line)))
    });
    paper.list(hazards.chain(rest), usize::MAX)
}

/// What is on the list of a plan and was not found, by what became of it.
///
/// # Errors
/// Those of the writer.
pub fn not_found(desk: Desk<'_>, paper: &mut Paper<'_>) -> Result<()> {
    let gone = &desk.review.not_found;
    if gone.is_empty() {
        return Ok(());
    }
    paper.put("\n### Still on the punch list, not found again\n")?;
    let fates = fates(gone.iter().map(|gone| (became(&gone.became), gone)));
    let lines = fates.into_iter().flat_map(|(fate, entries)| {
        let lines = by_rule(entries.into_iter());
        lines.map(move |line| format!("- {}: {}\n", said(&fate), said(&line)))
    });
    paper.list(lines, usize::MAX)
}
