//! Lines that end on the rack itself instead of a panel in it.

use crate::findings::{Finding, Redline, RedlineKind, Report};
use crate::house::House;
use crate::plan::EndpointKind;
use crate::rules::Sheet;

pub use crate::rules::NoLimits as Limits;

/// Runs that the sentence names; the rest are counted.
const NAMED: usize = 4;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    for index in house.endpoints_of(EndpointKind::Rack) {
        let rack = &house.plan.endpoints[index];
        let (runs, lack) = house.unpatched(index);
        match lack {
            Some(lack) if runs.is_empty() => out.gap(sheet.id, &rack.id, lack),
            _ => out.checked(),
        }
        if !runs.is_empty() {
            out.find(finding(house, sheet, index, &runs));
        }
    }
    for index in house.kindless() {
        let endpoint = &house.plan.endpoints[index];
        if !house.unpatched(index).0.is_empty()
            && let Err(lack) = endpoint.kind.want("kind", &endpoint.id)
        {
            out.gap(sheet.id, &endpoint.id, lack);
        }
    }
}

fn finding(house: &House<'_>, sheet: &Sheet, index: usize, runs: &[usize]) -> Finding {
    let rack = &house.plan.endpoints[index];
    let mut names: Vec<String> = runs
        .iter()
        .take(NAMED)
        .map(|run| house.plan.runs[*run].id.to_string())
        .collect();
    if runs.len() > NAMED {
        names.push(format!("{} more", runs.len() - NAMED));
    }
    let last = names.pop().unwrap_or_default();
    let names = match names.is_empty() {
        true => last,
        false => format!("{} and {last}", names.join(", ")),
    };
    let (count, end) = match runs.len() {
        1 => ("one line".to_owned(), "ends"),
        count => (format!("{count} lines"), "end"),
    };
    let says = format!("{count} {end} on {} and on no panel: {names}", rack.id);
    let mut finding = sheet.finding(&rack.id, says, rack.span, "no panel between");
    for run in runs {
        finding.on.push(house.plan.runs[*run].id.clone());
    }
    for run in runs.iter().take(2) {
        finding = finding.with_mark(house.plan.runs[*run].span, "ends on the rack");
    }
    finding.with_redline(redline(house, index, runs))
}

/// Lands the lines on the patch panel that the rack has, where all of them find a port.
fn redline(house: &House<'_>, index: usize, runs: &[usize]) -> Option<Redline> {
    let panel = &house.plan.endpoints[house.panel_for(index, runs.len())?].id;
    let mut edits = Vec::new();
    for run in runs {
        let run = &house.plan.runs[*run];
        let ends_here = run
            .from
            .value()
            .is_some_and(|from| house.node(from.thing).endpoint() == Some(index));
        let edit = match ends_here {
            true => house.edit(run, &run.from, "from", panel.as_str()),
            false => house.edit(run, &run.to, "to", panel.as_str()),
        };
        edits.push(edit?);
    }
    Some(Redline {
        kind: RedlineKind::Change,
        title: format!(
            "land the lines of {} on {panel}",
            house.plan.endpoints[index].id
        ),
        edits,
    })
}
