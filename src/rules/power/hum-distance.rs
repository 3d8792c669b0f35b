//! A line or speaker run that lies close beside power for long.

use serde::Deserialize;

use crate::findings::{Finding, Lack, Report};
use crate::house::{House, Nearby, Neighbour};
use crate::plan::{Apart, Beside, Field, Service, Stated};
use crate::rules::{Limit, Sheet, in_units_of, lead_away, stated_distance, under};
use crate::units::Distance;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    distance: Limit<Distance>,
    distance_metric: Limit<Distance>,
    for_long: Limit<Distance>,
    for_long_metric: Limit<Distance>,
}

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
        match verdict(house, limits, &nearby, run) {
            Err(lack) => out.gap(sheet.id, &entry.id, lack),
            Ok(found) => {
                out.checked();
                if let Some(nearest) = found.first() {
                    out.find(finding(house, sheet, limits, run, &found, nearest));
                }
            }
        }
    }
    // Of what has no known service it is not known whether it hums.
    let live = |run: &usize| !house.is_spare(*run);
    if house.runs_of(Service::Power).any(|run| live(&run)) {
        for run in house.runs_of_no_known_service() {
            if let Err(lack) = house.want_service(run) {
                out.gap(sheet.id, &house.plan.runs[run].id, lack);
            }
        }
    }
    if blind {
        for run in house.runs_of(Service::Power).filter(live) {
            if let Err(lack) = house.want_through(run) {
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
        let limit = in_units_of(**over, &limits.for_long, &limits.for_long_metric);
        under(**over, limit.value.base())
    });
    if short {
        return Ok(None);
    }
    let apart = match &beside.apart {
        Field::Stated(apart) => apart,
        Field::Bad => return Err(Lack::Reported),
        Field::Absent => return Err(Lack::absent(of("apart"))),
    };
    let limit = in_units_of(*apart.value, &limits.distance, &limits.distance_metric);
    if !under(*apart.value, limit.value.base()) {
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
        Some(Service::Line) => "carries line level",
        _ => "is a speaker line",
    };
    let (distance, over) = (*nearest.apart.value, nearest.over);
    let limit = |distance| in_units_of(distance, &limits.distance, &limits.distance_metric);
    let held = limit(distance);
    let says = format!(
        "{} {what} and lies {distance} from {} for {over}, where {} is usual",
        entry.id, power.id, held.value
    );
    let mut finding = sheet.finding(&entry.id, says, nearest.apart.span, "this close");
    finding = finding.with_each_on(all.iter().map(|close| &house.plan.runs[close.power].id));
    if let Some(span) = nearest.beside.over.span() {
        finding = finding.with_mark(span, "for so long");
    }
    let from = match all.len() - 1 {
        0 => power.id.to_string(),
        more => format!("{} and {more} more", power.id),
    };
    let title = format!("lead {} {} from {from}", entry.id, held.value);
    let entries = all
        .iter()
        .map(|close| (close.beside, limit(*close.apart.value).value));
    finding
        .with_figure(stated_distance(distance), held.value.base() * 1000.0)
        .with_authority(held.authority.clone())
        .with_put_right(format!(
            "lead {} another way, {} from {from} or more",
            entry.id, held.value
        ))
        .with_redline(lead_away(house, entry, title, entries))
}
