//! An endpoint that nothing reaches.

use crate::findings::Report;
use crate::house::{Beside, House, is_passive, is_passive_speaker};
use crate::plan::{Endpoint, EndpointKind as Kind, Entry, Sort};
use crate::rules::Sheet;

pub use crate::rules::NoLimits as Limits;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let beside = house.beside();
    let reached = reached(house);
    for (index, endpoint) in house.plan.endpoints.iter().enumerate() {
        if !is_concerned(house, index, endpoint, beside) {
            continue;
        }
        // A screen is reached by way of the motor beside it, a picture by way of the plate where its lines are told to end.
        let leads_on = |at: usize| {
            let other = &house.plan.endpoints[at];
            match endpoint.kind.value() {
                Some(Kind::Screen) => other.kind.value() == Some(&Kind::Motor),
                Some(Kind::Projector | Kind::Display) => is_passive(other) == Some(true),
                _ => false,
            }
        };
        let next = || beside.of(index).any(|at| reached[at] && leads_on(at));
        if reached[index] || next() {
            out.checked();
        } else if let Err(lack) = endpoint.kind.want("kind", &endpoint.id) {
            // It may be a seat.
            out.gap(sheet.id, &endpoint.id, lack);
        } else {
            out.checked();
            let says = format!("{} is reached by no run", endpoint.id);
            out.find(sheet.finding(&endpoint.id, says, endpoint.span, "no run ends here"));
        }
    }
    carried(house, sheet, out);
}

/// Runs of which it is not known what they carry reach their ends with nothing that a rule could judge: one gap for each
/// stock or run that does not say.
fn carried(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let mut told = vec![false; house.plan.stock.len()];
    for (index, run) in house.plan.runs.iter().enumerate() {
        if house.service(index).is_some() {
            continue;
        }
        let on = match run.stock.value() {
            Some(stock) if std::mem::replace(&mut told[stock.at()], true) => continue,
            Some(stock) => &house.plan.stock[stock.at()].id,
            None => &run.id,
        };
        if let Err(lack) = house.want_service(index) {
            out.gap(sheet.id, on, lack);
        }
    }
}

/// Endpoints at which a run ends, spare ones included, or at something that stands in them; and
/// those at which a conduit ends.
fn reached(house: &House<'_>) -> Vec<bool> {
    let mut reached = vec![false; house.plan.endpoints.len()];
    let ends = house.plan.runs.iter().flat_map(|run| [&run.from, &run.to]);
    let conduits = house
        .plan
        .pathways
        .iter()
        .flat_map(|way| [&way.from, &way.to]);
    for end in ends.chain(conduits).filter_map(|end| end.value()) {
        if end.thing.sort != Sort::Endpoint {
            continue;
        }
        for host in house.hosts(end.at()) {
            // From here on up all is marked already.
            if std::mem::replace(&mut reached[host], true) {
                break;
            }
        }
    }
    reached
}

fn is_concerned(
    house: &House<'_>,
    index: usize,
    endpoint: &Entry<Endpoint>,
    beside: &Beside,
) -> bool {
    // Stands in or plugs into something else, which is where runs end.
    if !endpoint.within.is_absent() || !endpoint.at_outlet.is_absent() {
        return false;
    }
    // A load without a feed is power.no-feed's; what lives off its data line is not.
    if !endpoint.load.is_absent() && endpoint.poe.is_absent() {
        return false;
    }
    match endpoint.kind.value() {
        Some(Kind::Seat | Kind::Sink | Kind::BreakerPanel | Kind::Subwoofer) => false,
        Some(Kind::Screen) => house.is_powered_screen(index, beside),
        // A passive speaker without a line is speaker.no-line's.
        Some(Kind::Speaker) => !is_passive_speaker(endpoint),
        _ => true,
    }
}
