//! Power and low voltage in one conduit or box, with nothing between them.

use crate::findings::{Finding, Id, Lack, Report};
use crate::house::{House, Sharing};
use crate::plan::{Field, PathwayKind, Region, Service, YesNo};
use crate::rules::Sheet;
use crate::yaml::Span;

pub use crate::rules::NoLimits as Limits;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Ok(region) = house.region() else { return };
    let ways = &house.plan.pathways;
    let (mut power, mut signal) = (false, false);
    for (index, way) in ways.iter().enumerate() {
        let known = house.is_raceway(index);
        if !known && !way.kind.is_absent() || house.runs_in(index).is_empty() {
            continue;
        }
        let sharing = house.sharing_raceway(index);
        if known {
            let open = !way.barrier.value().is_some_and(|barrier| barrier.0);
            power |= open && sharing.power.is_some();
            signal |= open && sharing.power.is_none();
            let place = Place::Raceway(index);
            one(
                house,
                sheet,
                out,
                region,
                (&way.id, &way.barrier),
                place,
                &sharing,
            );
        } else {
            unknown(sheet, out, &way.id, &way.kind, &way.barrier, &sharing);
        }
    }
    for index in house.wall_boxes() {
        let endpoint = &house.plan.endpoints[index];
        let Some(sharing) = house.sharing_box(index) else {
            continue;
        };
        let place = Place::Box(index);
        one(
            house,
            sheet,
            out,
            region,
            (&endpoint.id, &endpoint.barrier),
            place,
            &sharing,
        );
    }
    for (index, endpoint) in house.plan.endpoints.iter().enumerate() {
        if endpoint.kind.is_absent()
            && let Some(sharing) = house.sharing_box(index)
        {
            unknown(
                sheet,
                out,
                &endpoint.id,
                &endpoint.kind,
                &endpoint.barrier,
                &sharing,
            );
        }
    }
    // A run that hides its way may lie in a raceway with the other kind.
    if !region.is_north_american() || !(power || signal) {
        return;
    }
    for (run, entry) in house.plan.runs.iter().enumerate() {
        let shares = match house.service(run) {
            Some(Service::Power) => signal,
            _ => power && house.is_low_voltage(run),
        };
        if let (true, Err(lack)) = (shares, house.want_through(run)) {
            out.gap(sheet.id, &entry.id, lack);
        }
    }
}

/// Something that is a raceway or a box, or is not.
fn unknown<K>(
    sheet: &Sheet,
    out: &mut Report,
    id: &Id,
    kind: &Field<K>,
    barrier: &Field<YesNo>,
    sharing: &Sharing,
) {
    let parted = barrier.value().is_some_and(|barrier| barrier.0);
    if let (false, Ok(true), Err(lack)) = (parted, sharing.is_mixed(), kind.want("kind", id)) {
        out.loud_gap(sheet.id, id, lack);
    }
}

#[derive(Clone, Copy)]
enum Place {
    Raceway(usize),
    Box(usize),
}

fn one(
    house: &House<'_>,
    sheet: &Sheet,
    out: &mut Report,
    region: Region,
    (id, barrier): (&Id, &Field<YesNo>),
    place: Place,
    sharing: &Sharing,
) {
    let parted = barrier.value().is_some_and(|barrier| barrier.0);
    match sharing.is_mixed() {
        Ok(false) => out.checked(),
        Ok(true) | Err(_) if parted => out.checked(),
        Ok(true) | Err(_) if barrier.is_bad() => {}
        Err(lack) => out.loud_gap(sheet.id, id, lack),
        Ok(true) if region.is_north_american() => {
            out.checked();
            out.find(finding(house, sheet, id, barrier, place, sharing));
        }
        Ok(true) => out.loud_gap(
            sheet.id,
            id,
            Lack::absent(format!(
                "a limit for {region} on sharing with power (there the insulation of both decides)"
            )),
        ),
    }
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    id: &Id,
    barrier: &Field<YesNo>,
    place: Place,
    sharing: &Sharing,
) -> Finding {
    let plan = house.plan;
    let power = sharing.power.map(|run| &plan.runs[run]);
    let signal = sharing.signal.first().map(|run| &plan.runs[*run]);
    let power_id = power.map_or("power", |run| run.id.as_str());
    let signal_id = signal.map_or("low voltage", |run| run.id.as_str());
    let more = match sharing.signal.len().saturating_sub(1) {
        0 => String::new(),
        more => format!(" and {more} more of low voltage"),
    };
    let says = format!(
        "{id} holds {power_id}, which is power, together with {signal_id}{more}, and no barrier"
    );
    let at = match place {
        Place::Raceway(way) => plan.pathways[way].span,
        Place::Box(endpoint) => plan.endpoints[endpoint].span,
    };
    let mut finding = sheet.finding(id, says, barrier.span().unwrap_or(at), "holds both");
    for (run, label) in [(power, "power"), (signal, "low voltage")] {
        let Some(run) = run else { continue };
        finding = finding
            .with_on(&run.id)
            .with_mark(named(house, run, place).unwrap_or(run.span), label);
    }
    finding = finding.with_each_on(sharing.signal.iter().map(|run| &plan.runs[*run].id));
    let (advice, edit) = match place {
        // Nothing parts the inside of a pipe.
        Place::Raceway(way) if plan.pathways[way].kind.value() == Some(&PathwayKind::Conduit) => (
            format!("pull {signal_id} through a conduit of its own"),
            None,
        ),
        Place::Raceway(way) => (
            format!("take a raceway with a fixed barrier, and state `barrier: yes` on {id}"),
            house.edit(&plan.pathways[way], barrier, "barrier", "yes"),
        ),
        Place::Box(endpoint) => (
            format!(
                "fit the divider that is made for this box and state `barrier: yes` on {id}, or end {signal_id} in a box of its own"
            ),
            house.edit(&plan.endpoints[endpoint], barrier, "barrier", "yes"),
        ),
    };
    finding
        .with_put_right(advice)
        .with_redline(house.change(format!("fit a barrier in {id}"), edit))
}

/// Where a run names the place.
fn named(house: &House<'_>, run: &crate::plan::Run, place: Place) -> Option<Span> {
    match place {
        Place::Raceway(way) => {
            let mut ways = run.through.value()?.iter();
            ways.find(|named| named.value.at() == way)
                .map(|named| named.span)
        }
        Place::Box(endpoint) => {
            let inside = house.with_members(endpoint);
            let ends = [&run.from, &run.to].into_iter().filter_map(Field::stated);
            ends.filter(|end| {
                house
                    .node(end.value.thing)
                    .endpoint()
                    .is_some_and(|at| inside.contains(&at))
            })
            .map(|end| end.span)
            .next()
        }
    }
}
