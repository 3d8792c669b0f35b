//! What stands below the findings: what was not judged, what was let pass.

use std::collections::{BTreeSet, HashMap};
use std::io::{Result, Write};

use super::clean::clean;
use super::{Page, theme};
use crate::findings::{Gap, Id};
use crate::review::{LetPass, Review};

/// Lines of ordinary gaps that are printed; JSON has all.
pub(super) const MOST: usize = 20;
/// Things named on one line.
const NAMED: usize = 6;

/// Gaps, by what is lacking: those that may hide a hazard in full and with what they are about, the
/// others shortened.
///
/// # Errors
/// Those of the writer.
pub fn not_judged(gaps: &[Gap], page: Page, out: &mut dyn Write) -> Result<()> {
    if gaps.is_empty() {
        return Ok(());
    }
    writeln!(out, "{}", page.paint(theme::margin(), "NOT JUDGED"))?;
    let loud = by_what(gaps.iter().filter(|gap| gap.loud));
    if !loud.is_empty() {
        writeln!(out, "  These may hide a hazard. Not known:")?;
    }
    for (lacks, group) in &loud {
        let on: BTreeSet<&Id> = group.iter().flat_map(|gap| &gap.on).collect();
        let line = format!(
            "{}, for {}: {}",
            clean(lacks),
            listed(on.iter().map(|id| id.as_str())),
            rules(group)
        );
        writeln!(out, "{}", page.wrap(&line, "    ", "      "))?;
    }
    let quiet = by_what(gaps.iter().filter(|gap| !gap.loud));
    if !quiet.is_empty() {
        writeln!(out, "  For want of:")?;
    }
    by_lack(&quiet, page, out)?;
    writeln!(out)
}

/// Figures that could not be had, by what is lacking.
///
/// # Errors
/// Those of the writer.
pub fn not_computed(gaps: &[Gap], page: Page, out: &mut dyn Write) -> Result<()> {
    if gaps.is_empty() {
        return Ok(());
    }
    writeln!(
        out,
        "{} for want of:",
        page.paint(theme::margin(), "NOT COMPUTED")
    )?;
    by_lack(&by_what(gaps.iter()), page, out)?;
    writeln!(out)
}

/// `length of S4: speaker.undersized, video.over-reach`
fn by_lack(groups: &[(&str, Vec<&Gap>)], page: Page, out: &mut dyn Write) -> Result<()> {
    for (lacks, group) in groups.iter().take(MOST) {
        let line = format!("{}: {}", clean(lacks), rules(group));
        writeln!(out, "{}", page.wrap(&line, "    ", "      "))?;
    }
    if let Some(more) = groups.len().checked_sub(MOST).filter(|more| *more > 0) {
        writeln!(out, "    and {more} more (--as json has all)")?;
    }
    Ok(())
}

/// The rules that lack the same.
pub(super) fn rules(group: &[&Gap]) -> String {
    let rules: BTreeSet<&str> = group.iter().map(|gap| gap.rule).collect();
    listed(rules.into_iter())
}

/// By what is lacking, in the order in which each first comes.
pub(super) fn by_what<'g>(gaps: impl Iterator<Item = &'g Gap>) -> Vec<(&'g str, Vec<&'g Gap>)> {
    let mut at: HashMap<&str, usize> = HashMap::new();
    let mut groups: Vec<(&str, Vec<&Gap>)> = Vec::new();
    for gap in gaps {
        let lacks = &*gap.lacks;
        let index = *at.entry(lacks).or_insert(groups.len());
        if index == groups.len() {
            groups.push((lacks, Vec::new()));
        }
        groups[index].1.push(gap);
    }
    groups
}

/// Some names, the first few of them.
pub(super) fn listed<'t>(names: impl Iterator<Item = &'t str>) -> String {
    let names: Vec<&str> = names.collect();
    let shown: Vec<_> = names.iter().take(NAMED).map(|name| clean(name)).collect();
    match names.len().checked_sub(NAMED) {
        Some(more) if more > 0 => format!("{} and {more} more", shown.join(", ")),
        _ => shown.join(", "),
    }
}

/// Findings that a variance lets pass: what, why, by whom.
///
/// # Errors
/// Those of the writer.
pub fn let_pass(review: &Review, page: Page, out: &mut dyn Write) -> Result<()> {
    if review.let_pass.is_empty() {
        return Ok(());
    }
    writeln!(out, "{}", page.paint(theme::margin(), "LET PASS"))?;
    for LetPass {
        finding,
        reason,
        by,
        until,
        approval,
        ..
    } in &review.let_pass
    {
        let place = finding.marks.first().map_or(String::new(), |mark| {
            let (spot, _) = review.sources.spots(mark.span);
            let source = review.sources.file(spot.file);
            let line = source.position(spot.start).line;
            let path = source.path.to_string_lossy();
            if spot.file == review.file {
                format!("line {line}, ")
            } else {
                format!("{}, line {line}, ", clean(&path))
            }
        });
        let what = format!(
            "{place}{}: {} ({})",
            finding.level,
            clean(&finding.says),
            finding.rule
        );
        writeln!(out, "{}", page.wrap(&what, "  ", "    "))?;
        let mut why = format!("reason: {}; by {}", clean(reason), clean(by));
        if let Some(approval) = approval {
            why.push_str(&format!("; approval {}", clean(approval)));
        }
        if let Some(until) = until {
            why.push_str(&format!("; until {}", clean(until)));
        }
        writeln!(out, "{}", page.wrap(&why, "    ", "    "))?;
    }
    writeln!(out)
}
