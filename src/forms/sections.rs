//! What stands below the findings: what was not judged, what was let pass.

use std::collections::{BTreeSet, HashMap};
use std::io::{Result, Write};

use super::clean::clean;
use super::places::Places;
use super::{Page, theme};
use crate::findings::{Gap, Id};
use crate::review::{LetPass, Review};

/// Lines of ordinary gaps that are printed; JSON has all.
const MOST: usize = 20;
/// Things named on one line.
const NAMED: usize = 6;

/// Gaps: those that may hide a hazard one by one, the others by what is lacking.
///
/// # Errors
/// Those of the writer.
pub fn not_judged(gaps: &[Gap], page: Page, out: &mut dyn Write) -> Result<()> {
    if gaps.is_empty() {
        return Ok(());
    }
    writeln!(out, "{}", page.paint(theme::margin(), "NOT JUDGED"))?;
    let loud = grouped(gaps.iter().filter(|gap| gap.loud), |gap| {
        (&*gap.lacks, gap.rule)
    });
    if !loud.is_empty() {
        writeln!(out, "  These may hide a hazard. Not known:")?;
    }
    for ((lacks, rule), group) in &loud {
        let on: BTreeSet<&Id> = group.iter().flat_map(|gap| &gap.on).collect();
        let line = format!(
            "{}, for {}: {rule}",
            clean(lacks),
            listed(on.iter().map(|id| id.as_str()))
        );
        writeln!(out, "{}", page.wrap(&line, "    ", "      "))?;
    }
    let quiet = grouped(gaps.iter().filter(|gap| !gap.loud), |gap| &*gap.lacks);
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
    by_lack(&grouped(gaps.iter(), |gap| &*gap.lacks), page, out)?;
    writeln!(out)
}

/// `length of S4: speaker.undersized, video.over-reach`
fn by_lack(groups: &[(&str, Vec<&Gap>)], page: Page, out: &mut dyn Write) -> Result<()> {
    for (lacks, group) in groups.iter().take(MOST) {
        let rules: BTreeSet<&str> = group.iter().map(|gap| gap.rule).collect();
        let line = format!("{}: {}", clean(lacks), listed(rules.into_iter()));
        writeln!(out, "{}", page.wrap(&line, "    ", "      "))?;
    }
    if let Some(more) = groups.len().checked_sub(MOST).filter(|more| *more > 0) {
        writeln!(out, "    and {more} more (--as json has all)")?;
    }
    Ok(())
}

/// In the order in which each key first comes.
fn grouped<'g, K: Eq + std::hash::Hash + Copy>(
    gaps: impl Iterator<Item = &'g Gap>,
    key: impl Fn(&'g Gap) -> K,
) -> Vec<(K, Vec<&'g Gap>)> {
    let mut at: HashMap<K, usize> = HashMap::new();
    let mut groups: Vec<(K, Vec<&Gap>)> = Vec::new();
    for gap in gaps {
        let key = key(gap);
        let index = *at.entry(key).or_insert(groups.len());
        if index == groups.len() {
            groups.push((key, Vec::new()));
        }
        groups[index].1.push(gap);
    }
    groups
}

fn listed<'t>(names: impl Iterator<Item = &'t str>) -> String {
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
pub fn let_pass(
    review: &Review,
    places: &Places<'_>,
    page: Page,
    out: &mut dyn Write,
) -> Result<()> {
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
    } in &review.let_pass
    {
        let place = finding.marks.first().map_or(String::new(), |mark| {
            let (spot, _) = review.sources.spots(mark.span);
            let line = places.position(spot.file, spot.start).line;
            let path = review.sources.file(spot.file).path.to_string_lossy();
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
