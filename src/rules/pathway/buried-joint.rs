//! A joint that cannot be reached once the wall is closed.

use std::collections::HashMap;

use crate::findings::{Finding, Id, Lack, Level, Report};
use crate::house::{House, is_passive};
use crate::plan::{Endpoint, EndpointKind as Kind, Entry, Service, Sort};
use crate::rules::Sheet;

pub use crate::rules::NoLimits as Limits;

/// Kinds that may join runs, and whether they can be reached by what they are: a plate sits on the wall, a box or a
/// splitter may be behind it.
const KINDS: &[(Kind, bool)] = &[
    (Kind::Box, false),
    (Kind::Splitter, false),
    (Kind::WallPlate, true),
    (Kind::Outlet, true),
    (Kind::Inlet, true),
    (Kind::DataOutlet, true),
    (Kind::PatchPanel, true),
    (Kind::Entry, true),
    (Kind::Distribution, true),
];

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let mut ends: Option<HashMap<usize, Vec<usize>>> = None;
    for (kind, in_reach) in KINDS {
        for index in house.endpoints_of(*kind) {
            let endpoint = &house.plan.endpoints[index];
            let access = endpoint.access.value().map(|access| access.0);
            let by_nature = *in_reach || endpoint.within.value().is_some();
            if is_passive(endpoint) != Some(true) || by_nature && access != Some(false) {
                continue;
            }
            let ends = ends.get_or_insert_with(|| conduits_at_boxes(house));
            let conduits = ends.get(&index).map_or(&[][..], |conduits| conduits);
            let joins = match house.is_joint(index) {
                Ok(joins) => joins || conduits.len() >= 2,
                Err(_) if conduits.len() >= 2 => true,
                Err(lack) => {
                    if access != Some(true) {
                        out.gap(sheet.id, &endpoint.id, lack);
                    }
                    continue;
                }
            };
            if !joins {
                continue;
            }
            match endpoint.access.want("access", &endpoint.id) {
                Err(lack) => tell(house, sheet, index, endpoint, lack, out),
                Ok(access) => {
                    out.checked();
                    if !access.0 {
                        out.find(finding(house, sheet, index, endpoint, conduits));
                    }
                }
            }
        }
    }
}

/// A gap, in full where power is joined.
fn tell(
    house: &House<'_>,
    sheet: &Sheet,
    index: usize,
    endpoint: &Entry<Endpoint>,
    lack: Lack,
    out: &mut Report,
) {
    let joint = house.joint(index);
    if joint.is_some_and(|joint| joint.service == Service::Power) {
        out.loud_gap(sheet.id, &endpoint.id, lack);
    } else {
        out.gap(sheet.id, &endpoint.id, lack);
    }
}

/// The conduits that start or end at each box.
fn conduits_at_boxes(house: &House<'_>) -> HashMap<usize, Vec<usize>> {
    let mut ends: HashMap<usize, Vec<usize>> = HashMap::new();
    for (index, conduit) in house.conduits() {
        for end in [&conduit.from, &conduit.to] {
            let thing = end.value().map(|end| end.thing);
            let at = thing
                .filter(|thing| thing.sort == Sort::Endpoint)
                .map(|thing| thing.at());
            let is_box = |at: &usize| house.plan.endpoints[*at].kind.value() == Some(&Kind::Box);
            if let Some(at) = at.filter(is_box) {
                ends.entry(at).or_default().push(index);
            }
        }
    }
    ends
}

/// "P1 and P2", "P1, P2 and 3 more".
fn listed(ids: &[&Id]) -> String {
    match ids {
        [] => String::new(),
        [one] => one.to_string(),
        [a, b] => format!("{a} and {b}"),
        [a, b, more @ ..] => format!("{a}, {b} and {} more", more.len()),
    }
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    index: usize,
    endpoint: &Entry<Endpoint>,
    conduits: &[usize],
) -> Finding {
    let at = endpoint.access.span().unwrap_or(endpoint.span);
    let joint = house.joint(index);
    let (ids, power, says) = match &joint {
        Some(joint) => {
            let ids: Vec<&Id> = joint
                .runs
                .iter()
                .map(|run| &house.plan.runs[*run].id)
                .collect();
            let says = format!(
                "{} joins {} and cannot be reached once the wall is closed",
                endpoint.id,
                listed(&ids)
            );
            (ids, joint.service == Service::Power, says)
        }
        None => {
            let ids: Vec<&Id> = conduits
                .iter()
                .map(|way| &house.plan.pathways[*way].id)
                .collect();
            let power = conduits.iter().any(|way| {
                let mut runs = house.runs_in(*way).iter();
                runs.any(|run| house.service(*run as usize) == Some(Service::Power))
            });
            let says = format!(
                "{} stands between {} and cannot be reached once the wall is closed",
                endpoint.id,
                listed(&ids)
            );
            (ids, power, says)
        }
    };
    let mut finding = sheet.finding(&endpoint.id, says, at, "out of reach");
    if power {
        finding.level = Level::Hazard;
    }
    finding = finding.with_each_on(ids);
    if let Some(joint) = &joint {
        for run in joint.runs.iter().take(2) {
            let run = &house.plan.runs[*run];
            finding = finding.with_mark(run.span, "joined in it");
        }
    }
    let edit = house.edit(endpoint, &endpoint.access, "access", "yes");
    finding.with_redline(house.change(
        format!("place {} where it stays in reach", endpoint.id),
        edit,
    ))
}
