//! A coaxial channel that leaves less of the level than its end needs.

use std::collections::HashSet;

use crate::figures::Figure;
use crate::findings::{Finding, Id, Lack, Redline, Report};
use crate::house::{Branches, Channel, CoaxWay, House, LackOf};
use crate::plan::{Entry, Service, Stock};
use crate::rules::{Sheet, over, shown};
use crate::tables::coax::{all, series};
use crate::units::{SignalLevel, figure3};

pub use crate::rules::NoLimits as Limits;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    // What a stock, a splitter or the source lacks is one gap, however many channels want it.
    let mut known: HashSet<(Id, String)> = HashSet::new();
    for line in house.lines_of(Service::Coax) {
        let mut gap = |out: &mut Report, (on, lack): LackOf<'_>| {
            let new = match &lack {
                Lack::Absent(what) => known.insert((on.clone(), what.to_string())),
                Lack::Reported => false,
            };
            if new {
                out.gap(sheet.id, on, lack);
            }
        };
        let channels = line.channels();
        let serves = |channel: &&Channel<'_>| house.served_by(channel).is_some();
        if channels.iter().find(serves).is_none() {
            continue;
        }
        if let Err(lack) = house.one_source(line) {
            gap(out, (&house.plan.runs[channels[0].runs[0]].id, lack));
            continue;
        }
        let branches = house.branches(line);
        for channel in channels.iter().filter(serves) {
            match budget(house, channel, &branches) {
                Err(lack) => gap(out, lack),
                Ok(budget) => {
                    out.checked();
                    if over(budget.way.loss.value(), budget.allowed()) {
                        out.find(finding(house, sheet, &budget));
                    }
                }
            }
        }
    }
}

/// A way and the levels at its ends.
struct Budget<'p> {
    way: CoaxWay<'p>,
    starts: SignalLevel,
    needs: SignalLevel,
}

impl Budget<'_> {
    /// What may be lost, in dB; below zero where less comes in than is needed.
    fn allowed(&self) -> f64 {
        self.starts.base() - self.needs.base()
    }
}

/// The level first: a line of which no level is known wants one figure, not one an outlet.
fn budget<'p>(
    house: &House<'p>,
    channel: &Channel<'_>,
    branches: &Branches,
) -> Result<Budget<'p>, LackOf<'p>> {
    let starts = house.start_level(house.known_level(channel)?)?;
    let end = house.served_by(channel);
    let end = end.ok_or((house.id(channel.end), Lack::Reported))?;
    let needs = end.needs.want("needs", &end.id);
    let needs = needs
        .map(|needs| ***needs)
        .map_err(|lack| (&end.id, lack))?;
    Ok(Budget {
        way: house.coax_way(channel, branches)?,
        starts,
        needs,
    })
}

fn finding(house: &House<'_>, sheet: &Sheet, budget: &Budget<'_>) -> Finding {
    let way = &budget.way;
    let runs = || way.runs.iter().map(|run| &house.plan.runs[*run]);
    let estimated = way
        .runs
        .iter()
        .any(|run| house.length(*run).is_ok_and(|length| length.is_estimated()));
    let about = if estimated { "about " } else { "" };
    let left = way.loss.level_from(budget.starts);
    let says = format!(
        "{} is left with {about}{} of the {} at {}, needed are {}",
        way.end.id,
        left.rounded_words(),
        budget.starts,
        way.start.id,
        budget.needs,
    );
    let at = way.end.needs.span().unwrap_or(way.end.span);
    let mut finding = sheet.finding(&way.end.id, says, at, "needed here");
    for run in runs().take(8) {
        finding = finding.with_on(&run.id);
    }
    finding = finding.with_on(&way.start.id);
    let (loses, label) = most_lost(house, way);
    let level = way.start.level.span().unwrap_or(way.start.span);
    finding
        .with_mark(loses, label)
        .with_mark(level, "comes in here")
        .with_figure(shown(&way.loss), budget.allowed())
        .with_put_right(advice(house, budget))
        .with_redline(redline(house, budget))
}

/// The cable or node that takes most.
fn most_lost(house: &House<'_>, way: &CoaxWay<'_>) -> (crate::yaml::Span, String) {
    let mut most = (0.0, way.end.span, String::new());
    for (run, (cable, node)) in way.runs.iter().zip(&way.each) {
        let run = &house.plan.runs[*run];
        if *cable >= most.0 {
            let at = run.length.span().unwrap_or(run.span);
            most = (
                *cable,
                at,
                format!("{} dB lost on the way", figure3(*cable)),
            );
        }
        if let Some((node, loss)) = node
            && *loss > most.0
        {
            let node = &house.plan.endpoints[*node];
            most = (
                *loss,
                node.span,
                format!("{} dB lost in it", figure3(*loss)),
            );
        }
    }
    (most.1, most.2)
}

/// What would do: a series of less loss all along, or an amplifier.
fn advice(house: &House<'_>, budget: &Budget<'_>) -> String {
    let way = &budget.way;
    let missing = way.loss.value() - budget.allowed();
    let length: f64 = way
        .runs
        .iter()
        .filter_map(|run| house.length(*run).ok())
        .map(|length| length.distance().base())
        .sum();
    let cables: f64 = way.each.iter().map(|(cable, _)| cable).sum();
    let would = all()
        .filter_map(|series| Some((series, series.loss_per_metre(way.megahertz)? * length)))
        .filter(|(_, lost)| !over(way.loss.value() - cables + lost, budget.allowed()))
        // The thinnest that will do.
        .max_by(|a, b| a.1.total_cmp(&b.1));
    let split = way.each.iter().find_map(|(_, node)| *node);
    let ahead = match split {
        Some((node, _)) => format!(" ahead of {}", house.plan.endpoints[node].id),
        None => format!(" at {}", way.start.id),
    };
    let decibels = figure3((missing * 10.0).ceil() / 10.0);
    let amplifier = format!("put an amplifier of {decibels} dB or more{ahead}");
    match would {
        Some((series, _)) => format!("pull {} all the way, or {amplifier}", series.name),
        None => amplifier,
    }
}

/// The run that loses most in another stock of the plan, if that is enough.
fn redline(house: &House<'_>, budget: &Budget<'_>) -> Option<Redline> {
    let way = &budget.way;
    let (at, run) = way
        .runs
        .iter()
        .enumerate()
        .max_by(|a, b| way.each[a.0].0.total_cmp(&way.each[b.0].0))?;
    let rest = way.loss.value() - way.each[at].0;
    let length = house.length(*run).ok()?.distance().base();
    let lost = |stock: &Entry<Stock>| -> Option<f64> {
        let known = series(stock.series.value()?)?;
        Some(known.loss_per_metre(way.megahertz)? * length)
    };
    let enough =
        |stock: &Entry<Stock>| lost(stock).is_some_and(|lost| !over(rest + lost, budget.allowed()));
    let shields = |stock: &Stock| stock.shields.value().map_or(0, |shields| shields.0);
    let present = house.want_stock(&house.plan.runs[*run]).ok()?;
    let stock = house
        .substitutes(*run, Service::Coax, |stock| {
            enough(stock) && shields(stock) >= shields(present)
        })
        .next()?;
    house.pull_as(&[(*run, stock)])
}
