//! What was not judged, what was let pass, and by which rulebook.

use std::collections::BTreeSet;
use std::io::Result;

use super::super::departures::told;
use super::super::markup::code;
use super::super::sections::{MOST, by_what, listed, rules};
use super::Desk;
use super::observation::{place, said};
use super::paper::Paper;
use crate::findings::{Gap, Id};
use crate::review::LetPass;
use crate::rules::Rulebook;

/// Gaps by what is lacking: those that may hide a hazard first, the others folded away.
///
/// # Errors
/// Those of the writer.
pub fn not_judged(gaps: &[Gap], paper: &mut Paper<'_>) -> Result<()> {
    if gaps.is_empty() {
        return Ok(());
    }
    paper.put("\n### Not judged\n")?;
    let loud = by_what(gaps.iter().filter(|gap| gap.loud));
    if !loud.is_empty() {
        paper.put("\nThese may hide a hazard. Not known:\n")?;
        let lines = loud.iter().map(|(lacks, group)| {
            let on: BTreeSet<&Id> = group.iter().flat_map(|gap| &gap.on).collect();
            let on = listed(on.iter().map(|id| id.as_str()));
            format!(
                "- {}, for {}: {}\n",
                said(lacks),
                said(&on),
                said(&rules(group))
            )
        });
        paper.list(lines, usize::MAX)?;
    }
    let quiet = by_what(gaps.iter().filter(|gap| !gap.loud));
    if !quiet.is_empty() {
        let count: usize = quiet.iter().map(|(_, group)| group.len()).sum();
        let checks = if count == 1 { "check" } else { "checks" };
        paper.put(&format!(
            "\n<details>\n<summary>{count} {checks} for want of a figure</summary>\n"
        ))?;
        let lines = quiet
            .iter()
            .map(|(lacks, group)| format!("- {}: {}\n", said(lacks), said(&rules(group))));
        paper.list(lines, MOST)?;
        paper.put("\n</details>\n")?;
    }
    Ok(())
}

/// Findings that a variance lets pass: what, why, by whom.
///
/// # Errors
/// Those of the writer.
pub fn let_pass(desk: Desk<'_>, paper: &mut Paper<'_>) -> Result<()> {
    if desk.review.let_pass.is_empty() {
        return Ok(());
    }
    paper.put("\n### Let pass\n")?;
    let lines = desk.review.let_pass.iter().map(|passed| {
        let LetPass {
            finding,
            reason,
            by,
            until,
            approval,
            ..
        } = passed;
        let place = place(desk, finding).map_or(String::new(), |place| format!("{place} "));
        let mut line = format!(
            "- {place}{}: {} ({}); reason: {}; by {}",
            finding.level,
            said(&finding.says),
            code(finding.rule),
            said(reason),
            said(by)
        );
        if let Some(approval) = approval {
            line.push_str(&format!("; approval {}", said(approval)));
        }
        if let Some(until) = until {
            line.push_str(&format!("; until {}", said(until)));
        }
        line + "\n"
    });
    paper.list(lines, usize::MAX)
}

/// What is not as in the built-in rulebook, and which line says so; what may hide a hazard first.
///
/// # Errors
/// Those of the writer.
pub fn rulebook(rulebook: &Rulebook, paper: &mut Paper<'_>) -> Result<()> {
    if rulebook.departures.is_empty() {
        return Ok(());
    }
    paper.put("\n### The rulebook\n\nIt is not the built-in one in this:\n")?;
    let (grave, others): (Vec<_>, Vec<_>) = rulebook
        .departures
        .iter()
        .partition(|departure| departure.may_hide_hazard());
    let grave = grave
        .into_iter()
        .map(|departure| ("may hide a hazard; ", departure));
    let others = others.into_iter().map(|departure| ("", departure));
    let lines = grave
        .chain(others)
        .map(|(sign, departure)| format!("- {sign}{}\n", said(&told(departure))));
    paper.list(lines, usize::MAX)
}
