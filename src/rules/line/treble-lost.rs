//! A line whose cable is too long for its source's output, so that treble is lost.

use std::collections::HashSet;

use serde::Deserialize;

use crate::figures::Figure;
use crate::figures::corner::CornerFrequency;
use crate::findings::{Finding, Id, Lack, Redline, Report};
use crate::house::{Heard, House, Line};
use crate::plan::{Service, Stock};
use crate::rules::{Limit, Sheet, over, shown};
use crate::units::{Hertz, figure3};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    corner: Limit<Hertz>,
}

/// Runs up to which an edit changes them all.
const MOST_RUNS: usize = 16;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    let least = limits.corner.value.base();
    for (id, lack) in house.uncertain_runs() {
        out.gap(sheet.id, id, lack);
    }
    // What one source or one stock lacks, it lacks once, however many lines want it.
    let mut told: HashSet<(&Id, Lack)> = HashSet::new();
    for line in house.lines_of(Service::Line) {
        let heard = house.heard(line);
        if heard == Heard::Bass {
            continue;
        }
        match (house.corner(line), heard) {
            (Err(lacks), _) => {
                for (id, lack) in lacks {
                    if told.insert((id, lack.clone())) {
                        out.gap(sheet.id, id, lack);
                    }
                }
            }
            (Ok(corner), heard) if over(least, corner.value()) => match heard {
                Heard::Unknown(lack) => {
                    out.gap(
                        sheet.id,
                        &house.plan.runs[line.steps[0].run as usize].id,
                        lack,
                    );
                }
                _ => {
                    out.checked();
                    out.find(finding(house, sheet, limits, line, &corner));
                }
            },
            (Ok(_), _) => out.checked(),
        }
    }
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    limits: &Limits,
    line: &Line,
    corner: &CornerFrequency,
) -> Finding {
    let limit = &limits.corner;
    let runs = || {
        line.steps
            .iter()
            .map(|step| &house.plan.runs[step.run as usize])
    };
    let first = &house.plan.runs[line.steps[0].run as usize];
    let kilo = |hertz: f64| figure3(hertz / 1000.0);
    let end = &line.steps[line.steps.len() - 1].end;
    let (source, end) = (house.id(line.source), house.id(*end));
    let says = format!(
        "{} loses treble between {source} and {end}: it is 3 dB down at {} kHz, advised is {} or more",
        first.id,
        kilo(corner.value()),
        limit.value,
    );
    let (at, label) = match first.length.span() {
        Some(span) => (span, "this much cable"),
        None => (first.span, "estimated length"),
    };
    let mut finding = sheet.finding(&first.id, says, at, label);
    for run in runs().take(MOST_RUNS) {
        finding = finding.with_on(&run.id);
    }
    finding = finding.with_on(source).with_on(end);
    if let Ok(stock) = house.want_stock(first)
        && let Some(span) = stock.capacitance.span()
    {
        finding = finding.with_mark(span, "of this capacitance");
    }
    let impedance = line.source.endpoint().and_then(|source| {
        let mut hosts = house.hosts(source);
        hosts.find_map(|at| house.plan.endpoints[at].output_impedance.stated())
    });
    // What there is has to shrink by this much, whichever part does.
    let share = corner.value() / limit.value.base();
    let mut advice = format!(
        "keep the cable to {} % of its present length or capacitance",
        figure3((share * 1000.0).floor() / 10.0)
    );
    if let Some(impedance) = impedance {
        finding = finding.with_mark(impedance.span, "behind this output");
        let most = impedance.value.0;
        advice = format!(
            "take {} from an output of {} {} or less, or {advice}",
            first.id,
            figure3(most.number() * share),
            most.unit().spelling
        );
    }
    finding
        .with_figure(shown(corner), limit.value.base())
        .with_authority(limit.authority.clone())
        .with_put_right(advice)
        .with_redline(redline(house, line, share))
}

/// Every run in a stock of the plan whose capacitance is low enough for the whole line.
fn redline(house: &House<'_>, line: &Line, share: f64) -> Option<Redline> {
    if line.steps.len() > MOST_RUNS {
        return None;
    }
    let of = |stock: &Stock| Some(stock.capacitance.value()?.base()).filter(|farads| *farads > 0.0);
    let mut pulls = Vec::new();
    for step in &line.steps {
        let index = step.run as usize;
        let present = house
            .want_stock(&house.plan.runs[index])
            .ok()
            .and_then(|stock| of(stock))?;
        let low = |stock: &Stock| of(stock).is_some_and(|farads| farads <= present * share);
        let better = house
            .substitutes(index, Service::Line, |stock| low(stock))
            .next()?;
        pulls.push((index, better));
    }
    house.pull_as(&pulls)
}
