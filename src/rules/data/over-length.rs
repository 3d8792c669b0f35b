//! A data channel longer than its standard allows.

use std::collections::HashSet;

pub use crate::rules::NoLimits as Limits;

use crate::figures::Figure;
use crate::figures::insertion::greatest_cords;
use crate::figures::route::RouteLength;
use crate::findings::{Finding, Lack, Report};
use crate::house::{DataChannel, House};
use crate::rules::{Sheet, over, shown};
use crate::tables::categories::{Category, all};
use crate::units::Distance;

/// The formula for cords is that of the 100 m channel.
const FORMULA_METRES: f64 = 100.0;
/// Cords of 24 AWG, which lose least.
const CORD_GAUGE: i8 = 24;

/// What is too long.
enum Long {
    Link {
        limit: f64,
    },
    Channel {
        limit: f64,
    },
    Cords {
        link: Distance,
        cords: Distance,
        limit: f64,
    },
}

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let mut told = HashSet::new();
    for channel in house.data_channels() {
        let on = &house.plan.runs[channel.runs[0]].id;
        let category = house.category(&channel);
        // What is too long for the longest of them is too long for all; what the shortest takes, all take.
        let by_length = |a: &Category, b: &Category| a.link_metres().total_cmp(&b.link_metres());
        let (most, least) = match &category {
            Ok(category) => (Some(*category), Some(*category)),
            Err(_) => (all().max_by(by_length), all().min_by(by_length)),
        };
        let (Some(most), Some(least)) = (most, least) else {
            continue;
        };
        let found = long(house, &channel, most);
        let perhaps = match (&found, &category) {
            (Ok(None), Err(_)) => long(house, &channel, least),
            _ => Ok(None),
        };
        match (found, perhaps) {
            (Err(lack), _) | (_, Err(lack)) => out.gap(sheet.id, on, lack),
            (Ok(Some(found)), _) => {
                out.checked();
                if let Ok(length) = house.data_length(&channel) {
                    out.find(finding(house, sheet, &channel, &length, &found));
                }
            }
            (Ok(None), Ok(Some(_))) => {
                if let Err((of, lack)) = category
                    && told.insert(of)
                {
                    out.gap(sheet.id, of, lack);
                }
            }
            (Ok(None), Ok(None)) => out.checked(),
        }
    }
}

fn long(
    house: &House<'_>,
    channel: &DataChannel<'_>,
    category: Category,
) -> Result<Option<Long>, Lack> {
    let link = house.link_metres(channel)?;
    let cords = house.stated_cords(channel)?;
    let limit = category.link_metres();
    if over(link, limit) {
        return Ok(Some(Long::Link { limit }));
    }
    let Some(cords) = cords else { return Ok(None) };
    let limit = category.channel_metres();
    if over(link + cords.base(), limit) {
        return Ok(Some(Long::Channel { limit }));
    }
    if over(FORMULA_METRES, limit) {
        return Ok(None);
    }
    let link = house.channel_length(channel.runs)?.distance();
    let limit = greatest_cords(link, CORD_GAUGE).unwrap_or(0.0);
    let cords = over(cords.base(), limit).then_some(Long::Cords { link, cords, limit });
    Ok(cords)
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    channel: &DataChannel<'_>,
    length: &RouteLength,
    found: &Long,
) -> Finding {
    let channel_name = house.named(channel.runs);
    let is = if length.is_estimated() {
        "is about"
    } else {
        "is"
    };
    let written = length.distance();
    let link = house.link_metres(channel).unwrap_or(0.0);
    let (says, limit) = match found {
        Long::Link { limit } => (
            format!(
                "{channel_name} {is} {} of fixed cable, allowed is {}",
                written.show_metres(link),
                written.show_metres(*limit)
            ),
            *limit,
        ),
        Long::Channel { limit } => (
            format!(
                "{channel_name} {is} {} with its cords, allowed is {}",
                written.show_metres(length.value()),
                written.show_metres(*limit)
            ),
            *limit,
        ),
        Long::Cords { link, cords, limit } => (
            format!(
                "{channel_name} has {} of cords, {} of fixed cable leave room for {}",
                cords.rounded_words(),
                link.rounded_words(),
                cords.show_metres(*limit)
            ),
            *limit,
        ),
    };
    let longest = house.longest(channel.runs).unwrap_or(channel.runs[0]);
    let (at, label) = house.length_mark(longest, true);
    let first = &house.plan.runs[channel.runs[0]].id;
    let finding = sheet.finding(first, says, at, label);
    let mut finding = house.with_runs(finding, channel.runs);
    let stated = channel
        .runs
        .iter()
        .find_map(|run| house.plan.runs[*run].cords.span());
    if let (Long::Channel { .. } | Long::Cords { .. }, Some(cords)) = (found, stated) {
        finding = finding.with_mark(cords, "cords at both ends");
    }
    let put_right = match found {
        Long::Link { limit } => format!(
            "put a switch on the way, so that neither part is over {}, or pull optical fibre",
            written.show_metres(*limit)
        ),
        Long::Channel { limit } => format!(
            "take cords of {} at most in all, or stand the panel nearer",
            written.show_metres((limit - link).max(0.0))
        ),
        Long::Cords { cords, limit, .. } => {
            format!("take cords of {} at most in all", cords.show_metres(*limit))
        }
    };
    let figure = match found {
        Long::Link { .. } => house.channel_length(channel.runs).map(|link| shown(&link)),
        Long::Channel { .. } => Ok(shown(length)),
        Long::Cords { cords, .. } => RouteLength::stated(*cords)
            .map(|cords| shown(&cords))
            .ok_or(Lack::Reported),
    };
    match figure {
        Ok(figure) => finding.with_figure(figure, limit),
        Err(_) => finding,
    }
    .with_put_right(put_right)
}
