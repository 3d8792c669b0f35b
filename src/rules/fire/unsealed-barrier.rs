//! A wall, floor or ceiling that resists fire, with cables through it and its openings not sealed.

use crate::findings::{Finding, Report};
use crate::house::House;
use crate::plan::{Entry, Field, Pathway, PathwayKind};
use crate::rules::Sheet;
use crate::units::plain;

pub use crate::rules::NoLimits as Limits;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    for (index, way) in house.plan.pathways.iter().enumerate() {
        if house.runs_in(index).is_empty() && house.inner_conduit(index).is_none() {
            continue;
        }
        let hours = match &way.fire_hours {
            Field::Stated(hours) => hours.value.0,
            Field::Absent if is_barrier(way) => {
                let lack = way.fire_hours.want("fire-hours", &way.id).err();
                lack.into_iter()
                    .for_each(|lack| out.loud_gap(sheet.id, &way.id, lack));
                continue;
            }
            _ => continue,
        };
        if way.sealed.is_bad() {
            continue;
        }
        out.checked();
        let sealed = way.sealed.value().is_some_and(|sealed| sealed.0);
        if hours > 0.0 && !sealed {
            out.find(finding(house, sheet, index, hours));
        }
    }
}

/// Whether it can be expected to tell how long it resists fire.
fn is_barrier(way: &Pathway) -> bool {
    matches!(
        way.kind.value(),
        None | Some(
            PathwayKind::Wall
                | PathwayKind::Ceiling
                | PathwayKind::Floor
                | PathwayKind::Riser
                | PathwayKind::Slab
        )
    )
}

/// So many runs are named; of the rest their number.
const NAMED: usize = 4;

fn finding(house: &House<'_>, sheet: &Sheet, index: usize, hours: f64) -> Finding {
    let way = &house.plan.pathways[index];
    let (runs, inner) = (house.runs_in(index), house.inner_conduit(index));
    let ids: Vec<_> = runs
        .iter()
        .map(|run| &house.plan.runs[*run as usize].id)
        .chain(inner.map(|inner| &house.plan.pathways[inner].id))
        .take(NAMED)
        .collect();
    let names: Vec<&str> = ids.iter().map(|id| id.as_str()).collect();
    let more = (runs.len() + usize::from(inner.is_some())).saturating_sub(NAMED);
    let more = if more > 0 {
        format!(" and {more} more")
    } else {
        String::new()
    };
    let rated = rated(hours);
    let says = format!(
        "{} resists fire for {rated} and lets {}{more} through, and is not marked sealed",
        way.id,
        names.join(", ")
    );
    let at = way.sealed.span().or(way.fire_hours.span());
    let label = if way.sealed.is_absent() {
        "rated, and `sealed` is not stated"
    } else {
        "not sealed"
    };
    let mut finding = sheet.finding(&way.id, says, at.unwrap_or(way.span), label);
    if let Some(span) = way.fire_hours.span() {
        finding = finding.with_mark(span, "its rating");
    }
    finding = finding.with_each_on(ids);
    finding.with_put_right(put_right(way, &rated))
}

fn rated(hours: f64) -> String {
    let plural = if hours == 1.0 { "" } else { "s" };
    format!("{} hour{plural}", plain(hours))
}

fn put_right(way: &Entry<Pathway>, rated: &str) -> String {
    format!(
        "seal every opening in {} with a tested firestop system for {rated}, and state `sealed: yes` once that is in",
        way.id
    )
}
