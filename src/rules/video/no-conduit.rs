//! A projector that no conduit reaches.

use std::collections::HashSet;

use crate::findings::{Finding, Lack, Report};
use crate::house::{House, Node};
use crate::plan::{EndpointKind, PathwayKind, Service, Sort, Thing};
use crate::rules::Sheet;

pub use crate::rules::NoLimits as Limits;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    // Endpoints at which a conduit ends, or for which one is kept; and a conduit whose ends are
    // not stated, which may end anywhere.
    let mut ends: HashSet<usize> = HashSet::new();
    let mut loose = None;
    for (index, conduit) in house.conduits() {
        for end in [&conduit.from, &conduit.to] {
            if let Some(Thing {
                sort: Sort::Endpoint,
                index,
            }) = end.value().map(|end| end.thing)
            {
                ends.insert(index as usize);
            }
        }
        ends.extend(
            conduit
                .spare_for
                .value()
                .into_iter()
                .flat_map(|list| list.values())
                .map(|end| end.at()),
        );
        if conduit.from.value().is_none() || conduit.to.value().is_none() {
            loose.get_or_insert(index);
        }
    }
    let any_conduit = house.conduits().next().is_some();
    for (index, projector) in house.plan.endpoints.iter().enumerate() {
        if projector.kind.value() != Some(&EndpointKind::Projector) {
            continue;
        }
        let beside = projector
            .beside
            .value()
            .into_iter()
            .flat_map(|list| list.values())
            .map(|end| end.at());
        let mut near = house.with_members(index);
        near.extend(house.hosts(index).skip(1));
        let (mut passes, mut unknown) = (false, None);
        for at in &near {
            for run in house.runs_at(Node::of_endpoint(*at)) {
                let entry = &house.plan.runs[run];
                if house.service(run) == Some(Service::Power) {
                    continue;
                }
                passes |= house.passes(run).iter().any(|way| {
                    house.plan.pathways[*way as usize].kind.value() == Some(&PathwayKind::Conduit)
                });
                if any_conduit && !entry.lies_open() {
                    unknown = unknown.or(entry.through.want("through", &entry.id).err());
                }
            }
        }
        let reached = passes
            || near
                .iter()
                .copied()
                .chain(beside)
                .any(|at| ends.contains(&at));
        if reached {
            out.checked();
        } else if let Some(lack) = unknown.or_else(|| loose.map(|at| ends_of(house, at))) {
            out.gap(sheet.id, &projector.id, lack);
        } else if projector.beside.is_bad() {
            out.gap(sheet.id, &projector.id, Lack::Reported);
        } else {
            out.checked();
            out.find(finding(house, sheet, index));
        }
    }
}

fn ends_of(house: &House<'_>, conduit: usize) -> Lack {
    let conduit = &house.plan.pathways[conduit];
    let from = conduit.from.want("from", &conduit.id).err();
    from.or_else(|| conduit.to.want("to", &conduit.id).err())
        .unwrap_or(Lack::Reported)
}

fn finding(house: &House<'_>, sheet: &Sheet, index: usize) -> Finding {
    let projector = &house.plan.endpoints[index];
    let says = format!("{} is reached by no conduit, 1 is advised", projector.id);
    let mut finding = sheet.finding(&projector.id, says, projector.span, "no conduit ends here");
    let videos = house.live_runs_at(index, Service::Video);
    if let Some(run) = videos.first() {
        let run = &house.plan.runs[*run];
        finding = finding
            .with_on(&run.id)
            .with_mark(run.through.span().unwrap_or(run.span), "passes none");
    }
    finding
}
