//! A data cable whose category does not carry the rate over the channel's length.

use std::collections::HashSet;

use serde::Deserialize;

use crate::figures::Figure;
use crate::figures::route::RouteLength;
use crate::findings::{Finding, Lack, Level, Redline, Report};
use crate::house::{DataChannel, House};
use crate::plan::{Entry, Service, Stock};
use crate::rules::{Limit, Sheet, over, shown};
use crate::tables::categories::{Category, rates};
use crate::units::{Distance, Rate, plain};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    /// How grave a length is that the category carries only where alien crosstalk is under control.
    alien_crosstalk: Limit<String>,
}

/// Runs up to which an edit changes them all.
const MOST_RUNS: usize = 16;

/// A category that is too low for a rate.
struct Low {
    rate: Rate,
    category: Category,
    /// Greatest length in metre, as the plan stands, and with alien crosstalk under control. None where the category
    /// does not carry the rate at all.
    reach: Option<(f64, f64)>,
}

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    let mut told = HashSet::new();
    for channel in house.data_channels() {
        let on = &house.plan.runs[channel.runs[0]].id;
        let rate = match rate(house, &channel) {
            Ok(rate) => rate,
            Err(lack) => {
                out.gap(sheet.id, on, lack);
                continue;
            }
        };
        let category = match house.category(&channel) {
            Ok(category) => category,
            Err((of, lack)) => {
                if told.insert(of) {
                    out.gap(sheet.id, of, lack);
                }
                continue;
            }
        };
        match verdict(house, &channel, rate, category) {
            Err(lack) => out.gap(sheet.id, on, lack),
            Ok(found) => {
                out.checked();
                if let Some(low) = found {
                    out.find(finding(house, sheet, limits, &channel, &low));
                }
            }
        }
    }
}

/// The greatest rate that the runs of a channel are to carry.
fn rate(house: &House<'_>, channel: &DataChannel<'_>) -> Result<Rate, Lack> {
    let mut greatest: Option<Rate> = None;
    for run in channel.runs {
        let rate = &house.plan.runs[*run].rate;
        if rate.is_bad() {
            return Err(Lack::Reported);
        }
        if let Some(rate) = rate.value()
            && greatest.is_none_or(|known| rate.base() > known.base())
        {
            greatest = Some(**rate);
        }
    }
    let of = &house.plan.runs[channel.runs[0]].id;
    greatest.ok_or_else(|| Lack::absent(format!("rate of {of}")))
}

fn verdict(
    house: &House<'_>,
    channel: &DataChannel<'_>,
    rate: Rate,
    category: Category,
) -> Result<Option<Low>, Lack> {
    let found = |reach| {
        Ok(Some(Low {
            rate,
            category,
            reach,
        }))
    };
    let gigabits = rate.base();
    let reaches = [false, true].map(|controlled| category.reach(gigabits, controlled));
    let [Some(plain), Some(controlled)] = reaches else {
        return found(None);
    };
    let (link, cords) = (house.link_metres(channel)?, house.cords(channel)?);
    // It carries the rate as far as any of its channels may reach: beyond, `data.over-length` speaks.
    if plain >= category.channel_metres() {
        return Ok(None);
    }
    let known = if cords.stated {
        link + cords.length.base()
    } else {
        link
    };
    if over(known, plain) {
        return found(Some((plain, controlled)));
    }
    // The fixed cable alone is short enough: cords that the plan leaves out may still decide.
    if over(link + cords.length.base(), plain) && !cords.stated {
        let first = &house.plan.runs[channel.runs[0]].id;
        return Err(Lack::absent(format!("cords of {first}")));
    }
    Ok(None)
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    limits: &Limits,
    channel: &DataChannel<'_>,
    low: &Low,
) -> Finding {
    let channel_name = house.named(channel.runs);
    let category = low.category.name;
    let length = house.data_length(channel).ok();
    let like = |metres: f64| {
        let written = length
            .as_ref()
            .map(RouteLength::distance)
            .or(Distance::new(0.0, "m"));
        written.map_or(String::new(), |written| written.show_metres(metres))
    };
    let metres = length.as_ref().map_or(0.0, Figure::value);
    let is_measured = low
        .reach
        .is_some_and(|(_, controlled)| !over(metres, controlled));
    let says = match low.reach {
        None => match greatest_rate(low.category, 0.0) {
            Some(most) => format!(
                "{channel_name} is to carry {}, {category} carries {} Gbit/s at most",
                low.rate,
                plain(most)
            ),
            None => format!(
                "{channel_name} is to carry {}, {category} carries less",
                low.rate
            ),
        },
        Some((reach, controlled)) => {
            let about = if length.as_ref().is_some_and(RouteLength::is_estimated) {
                "about "
            } else {
                ""
            };
            let until = if is_measured { reach } else { controlled };
            let unless = if is_measured {
                " unless alien crosstalk is measured"
            } else {
                " at most"
            };
            format!(
                "{channel_name} is to carry {} over {about}{}, {category} carries it over {}{unless}",
                low.rate,
                like(metres),
                like(until)
            )
        }
    };
    let weakest = channel
        .runs
        .iter()
        .find(|run| own_category(house, **run).is_some_and(|own| own.name == category));
    let run = &house.plan.runs[*weakest.unwrap_or(&channel.runs[0])];
    let first = &house.plan.runs[channel.runs[0]].id;
    let at = run.stock.span().unwrap_or(run.span);
    let finding = sheet.finding(first, says, at, format!("{category} cable"));
    let mut finding = house.with_runs(finding, channel.runs);
    let stated = channel
        .runs
        .iter()
        .find_map(|run| house.plan.runs[*run].rate.span());
    if let Some(rate) = stated {
        finding = finding.with_mark(rate, "the rate");
    }
    if let (Some((reach, controlled)), Some(length)) = (low.reach, &length) {
        if let Some(span) = run.length.span() {
            finding = finding.with_mark(span, "this long");
        }
        finding = finding.with_figure(shown(length), if is_measured { reach } else { controlled });
        if is_measured {
            finding.level = limits.alien_crosstalk.level.unwrap_or(Level::Advice);
            finding = finding.with_authority(limits.alien_crosstalk.authority.clone());
        }
    }
    let lower =
        greatest_rate(low.category, metres).map(|rate| format!("plan for {} Gbit/s", plain(rate)));
    let mut ways = vec![format!(
        "pull a cable that carries {} over this length",
        low.rate
    )];
    ways.extend(lower);
    ways.extend(
        is_measured
            .then(|| "keep the cable out of bundles and have alien crosstalk measured".into()),
    );
    finding
        .with_put_right(ways.join(", or "))
        .with_redline(redline(house, channel, low.rate))
}

/// The greatest rate in Gbit/s that a category carries over a length in metre.
fn greatest_rate(category: Category, metres: f64) -> Option<f64> {
    let carries = |rate: &f64| {
        category
            .reach(*rate, false)
            .is_some_and(|reach| !over(metres, reach))
    };
    rates().rev().find(carries)
}

fn own_category(house: &House<'_>, run: usize) -> Option<Category> {
    let stock = house.want_stock(&house.plan.runs[run]).ok()?;
    house.category_of(stock).ok()
}

/// Every run that is too low in the plan's stock of the lowest category that is enough.
fn redline(house: &House<'_>, channel: &DataChannel<'_>, rate: Rate) -> Option<Redline> {
    if channel.runs.len() > MOST_RUNS {
        return None;
    }
    let metres = house.link_metres(channel).ok()? + house.cords(channel).ok()?.length.base();
    let does = |category: Category| {
        category
            .reach(rate.base(), false)
            .is_some_and(|reach| !over(metres, reach))
    };
    let category = |stock: &Entry<Stock>| house.category_of(stock).ok();
    let mut pulls = Vec::new();
    for run in channel.runs {
        if own_category(house, *run).is_some_and(does) {
            continue;
        }
        let fits = |stock: &Entry<Stock>| {
            category(stock).is_some_and(does) && house.is_taken_as_copper(stock)
        };
        let top = |stock: &Entry<Stock>| category(stock).map_or(f64::MAX, Category::top_megahertz);
        let stock = house
            .substitutes(*run, Service::Data, fits)
            .min_by(|a, b| top(a).total_cmp(&top(b)))?;
        pulls.push((*run, stock));
    }
    if pulls.is_empty() {
        None
    } else {
        house.pull_as(&pulls)
    }
}
