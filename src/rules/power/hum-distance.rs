//! A line or speaker run that lies close beside power for long.

use serde::Deserialize;

use crate::findings::{Finding, Lack, Redline, RedlineKind, Report, Shown};
use crate::house::{House, Nearby, Neighbour};
use crate::plan::{Apart, Beside, Field, Service, Stated};
use crate::rules::{Limit, Sheet};
use crate::units::{Distance, plain};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    distance: Limit<Distance>,
    distance_metric: Limit<Distance>,
    for_long: Limit<Distance>,
    for_long_metric: Limit<Distance>,
}

/// What is as far, or as short, as the limit is good; a rounding must not say otherwise.
const ROUNDING: f64 = 1.0 - 1e-9;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    let nearby = house.nearby(|_| true);
    // A power run that hides its way is told of once, where somebody could lie beside it.
    let mut blind = false;
    let audio = [Service::Line, Service::Speaker];
    for run in audio.into_iter().flat_map(|service| house.runs_of(service)) {
        let entry = &house.plan.runs[run];
        blind |= entry.beside.is_absent();
        match verdict(house, &limits, &nearby, run) {
            Err(lack) => out.gap(sheet.id, &entry.id, lack),
            Ok(found) => {
                out.checked();
                if let Some(nearest) = found.first() {
                    out.find(finding(house, sheet, &limits, run, &found, nearest));
                }
            }
        }
    }
    if blind {
        for run in house.runs_of(Service::Power) {
            if let (false, Err(lack)) = (house.is_spare(run), house.want_through(run)) {
                out.gap(sheet.id, &house.plan.runs[run].id, lack);
            }
        }
    }
}

/// An entry of `beside` that is too close for too long.
struct Close<'p> {
    power: usize,
    beside: &'p Beside,
    apart: &'p Stated<Apart>,
    over: Distance,
}

/// What a run is too close to for too long, the nearest first.
fn verdict<'p>(
    house: &House<'p>,
    limits: &Limits,
    nearby: &Nearby<'p>,
    run: usize,
) -> Result<Vec<Close<'p>>, Lack> {
    let entries = nearby.of(run);
    let (mut close, mut lack) = (Vec::new(), None);
    let told = |entry: &Neighbour<'_>| entry.beside.value.apart.value().is_some();
    for entry in entries {
        match too_close(house, limits, entry) {
            Ok(found) => close.extend(found),
            Err(missing) => {
                // Another entry of the same pair may tell.
                let elsewhere = |other: &Neighbour<'_>| other.power == entry.power && told(other);
                if told(entry) || !entries.iter().any(elsewhere) {
                    lack = lack.or(Some(missing));
                }
            }
        }
    }
    if let (true, Some(lack)) = (close.is_empty(), lack) {
        return Err(lack);
    }
    if !close.is_empty() {
        close.sort_by(|a: &Close<'_>, b| a.apart.base().total_cmp(&b.apart.base()));
        return Ok(close);
    }
    let entry = &house.plan.runs[run];
    if let Some(power) = nearby.unstated(house, run)? {
        let power = &house.plan.runs[power].id;
        return Err(Lack::absent(format!(
            "beside of {} ({power} passes the same way)",
            entry.id
        )));
    }
    // Nothing is known of a way that is not stated.
    if entry.beside.is_absent() && nearby.any() {
        house.want_through(run)?;
    }
    Ok(close)
}

fn too_close<'p>(
    house: &House<'p>,
    limits: &Limits,
    entry: &Neighbour<'p>,
) -> Result<Option<Close<'p>>, Lack> {
    let beside = &entry.beside.value;
    let power = entry.power as usize;
    let of = |key: &str| {
        let signal = &house.plan.runs[entry.signal as usize].id;
        format!("{key} of {signal} beside {}", house.plan.runs[power].id)
    };
    let short = beside.over.value().is_some_and(|over| {
        let limit = pick(**over, &limits.for_long, &limits.for_long_metric);
        over.base() < limit.value.base() * ROUNDING
    });
    if short {
        return Ok(None);
    }
    let apart = match &beside.apart {
        Field::Stated(apart) => apart,
        Field::Bad => return Err(Lack::Reported),
        Field::Absent => return Err(Lack::absent(of("apart"))),
    };
    let limit = pick(*apart.value, &limits.distance, &limits.distance_metric);
    if apart.base() >= limit.value.base() * ROUNDING {
        return Ok(None);
    }
    house.want_service(power)?;
    let over = match &beside.over {
        Field::Stated(over) => *over.value,
        Field::Bad => return Err(Lack::Reported),
        Field::Absent => return Err(Lack::absent(of("over"))),
    };
    Ok(Some(Close {
        power,
        beside,
        apart,
        over,
    }))
}

/// The limit in the units that the author writes.
fn pick<'l>(
    written: Distance,
    trade: &'l Limit<Distance>,
    metric: &'l Limit<Distance>,
) -> &'l Limit<Distance> {
    if written.unit().spelling.ends_with('m') {
        metric
    } else {
        trade
    }
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    limits: &Limits,
    run: usize,
    all: &[Close<'_>],
    nearest: &Close<'_>,
) -> Finding {
    let entry = &house.plan.runs[run];
    let power = &house.plan.runs[nearest.power];
    let what = match house.service(run) {
        Some(Service::Line) => "a line",
        _ => "a speaker line",
    };
    let (distance, over) = (*nearest.apart.value, nearest.over);
    let limit = |distance| pick(distance, &limits.distance, &limits.distance_metric);
    let held = limit(distance);
    let says = format!(
        "{} is {what} and lies {distance} beside {} for {over}, where {} is usual",
        entry.id, power.id, held.value
    );
    let millimetres = distance.base() * 1000.0;
    let figure = Shown {
        name: "apart",
        value: millimetres,
        unit: "mm",
        working: match distance.unit().spelling {
            "mm" => format!("{distance} as stated"),
            _ => format!("{distance} as stated = {} mm", plain(millimetres)),
        },
    };
    let mut finding = sheet.finding(&entry.id, says, nearest.apart.span, "this close");
    let mut edits = Some(Vec::new());
    for close in all {
        finding = finding.with_on(&house.plan.runs[close.power].id);
        let value = limit(*close.apart.value).value.to_string();
        let edit = house.edit(entry, &close.beside.apart, "apart", &value);
        edits = edits.zip(edit).map(|(mut edits, edit)| {
            edits.push(edit);
            edits
        });
    }
    if let Some(span) = nearest.beside.over.span() {
        finding = finding.with_mark(span, "for so long");
    }
    let from = match all.len() - 1 {
        0 => power.id.to_string(),
        more => format!("{} and {more} more", power.id),
    };
    let title = format!("lead {} {} from {from}", entry.id, held.value);
    finding
        .with_figure(figure, held.value.base() * 1000.0)
        .with_authority(held.authority.clone())
        .with_put_right(format!(
            "lead {} another way, {} from {from} or more",
            entry.id, held.value
        ))
        .with_redline(edits.map(|edits| Redline {
            kind: RedlineKind::Change,
            title,
            edits,
        }))
}
