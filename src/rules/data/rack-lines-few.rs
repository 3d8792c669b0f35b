//! A rack with fewer data runs than are advised.

use std::collections::HashMap;

use serde::Deserialize;

use crate::findings::{Finding, Lack, Report};
use crate::house::{House, Node};
use crate::plan::{EndpointKind as Kind, Service};
use crate::rules::{Limit, Sheet};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    lines: Limit<u32>,
}

/// The data runs of a rack.
#[derive(Default)]
struct Lines {
    /// Those that bring the network, in the plan's order.
    found: Vec<usize>,
    spare: Option<usize>,
    /// What is missing to know of others whether they do, and how many of them there are.
    unsure: u32,
    lack: Option<Lack>,
}

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    let least = limits.lines.value;
    for index in house.endpoints_of(Kind::Rack) {
        let within = house.with_members(index);
        if stands_in_a_rack(house, index) || is_the_panel(house, &within) {
            continue;
        }
        let rack = &house.plan.endpoints[index];
        let lines = lines(house, index, &within);
        let found = u32::try_from(lines.found.len()).unwrap_or(u32::MAX);
        match lines.lack {
            Some(lack) if found < least && found.saturating_add(lines.unsure) >= least => {
                out.gap(sheet.id, &rack.id, lack);
            }
            _ => {
                out.checked();
                if found < least {
                    out.find(finding(house, sheet, limits, index, &lines));
                }
            }
        }
    }
    for index in house.kindless() {
        let endpoint = &house.plan.endpoints[index];
        let lines = lines(house, index, &house.with_members(index));
        if lines.found.len() >= least as usize {
            out.checked();
        } else {
            let lack = Lack::absent(format!("kind of {}", endpoint.id));
            out.gap(sheet.id, &endpoint.id, lack);
        }
    }
}

fn stands_in_a_rack(house: &House<'_>, index: usize) -> bool {
    let mut hosts = house.hosts(index).skip(1);
    hosts.any(|host| host != index && house.plan.endpoints[host].kind.value() == Some(&Kind::Rack))
}

/// A rack that holds the panel or router of the house is where the network starts.
fn is_the_panel(house: &House<'_>, within: &[usize]) -> bool {
    within.iter().any(|at| {
        let kind = house.plan.endpoints[*at].kind.value();
        matches!(kind, Some(Kind::Distribution | Kind::Router))
    })
}

fn lines(house: &House<'_>, rack: usize, within: &[usize]) -> Lines {
    let (mut lines, mut fed) = (Lines::default(), HashMap::new());
    for at in within {
        let node = Node::of_endpoint(*at);
        for run in house.runs_at(node) {
            let Some(other) = house.other_end(run, node).and_then(Node::endpoint) else {
                continue;
            };
            if house.hosts(other).any(|host| host == rack) {
                continue;
            }
            match house.service(run) {
                Some(Service::Data | Service::Fibre) => {
                    if house.is_spare(run) {
                        lines.spare = lines.spare.or(Some(run));
                        continue;
                    }
                    let end = &house.plan.endpoints[other];
                    match end.kind.want("kind", &end.id) {
                        Ok(kind) if serves_only(**kind) => {}
                        Ok(_)
                            if *fed
                                .entry(other)
                                .or_insert_with(|| is_fed(house, rack, other)) => {}
                        Ok(_) => lines.found.push(run),
                        Err(lack) => lines.unsure(lack),
                    }
                }
                Some(_) => {}
                None if house.is_spare(run) => {}
                None => {
                    if let Err(lack) = house.want_service(run) {
                        lines.unsure(lack);
                    }
                }
            }
        }
    }
    lines.found.sort_unstable();
    lines
}

impl Lines {
    fn unsure(&mut self, lack: Lack) {
        self.unsure += 1;
        self.lack.get_or_insert(lack);
    }
}

/// A run to one of these serves it, and brings the rack nothing.
fn serves_only(kind: Kind) -> bool {
    matches!(
        kind,
        Kind::Projector
            | Kind::Display
            | Kind::Screen
            | Kind::Speaker
            | Kind::Subwoofer
            | Kind::AccessPoint
            | Kind::Camera
            | Kind::Keypad
            | Kind::Sensor
            | Kind::Motor
            | Kind::Light
            | Kind::Fan
            | Kind::Appliance
    )
}

/// Whether an endpoint is an outlet, plate or box that the rack feeds: the house's network starts elsewhere, and from
/// the outlet runs go on to other outlets and devices only.
fn is_fed(house: &House<'_>, rack: usize, outlet: usize) -> bool {
    let kind = |at: usize| house.plan.endpoints[at].kind.value().copied();
    let is_outlet = |at: usize| matches!(kind(at), Some(Kind::DataOutlet | Kind::WallPlate));
    let is_passive = is_outlet(outlet) || kind(outlet) == Some(Kind::Box);
    let starts = [Kind::Distribution, Kind::Router];
    let mut starts = starts.into_iter().flat_map(|kind| house.endpoints_of(kind));
    if !is_passive || starts.next().is_none() {
        return false;
    }
    let node = Node::of_endpoint(outlet);
    house.data_runs_at(outlet).all(|run| {
        let end = house.other_end(run, node).and_then(Node::endpoint);
        end.is_some_and(|end| {
            is_outlet(end)
                || kind(end).is_some_and(serves_only)
                || house.hosts(end).any(|host| host == rack)
        })
    })
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    limits: &Limits,
    index: usize,
    lines: &Lines,
) -> Finding {
    let rack = &house.plan.endpoints[index];
    let advised = limits.lines.value;
    let found = match lines.found.len() {
        0 => "no data run".to_owned(),
        1 => "1 data run".to_owned(),
        more => format!("{more} data runs"),
    };
    let says = format!(
        "{} has {found} from the network, advised are {advised}",
        rack.id
    );
    let mut finding = sheet.finding(&rack.id, says, rack.span, "the network comes in here");
    for run in lines.found.iter().take(2) {
        let run = &house.plan.runs[*run];
        finding = finding.with_on(&run.id).with_mark(run.span, "brings it");
    }
    if let Some(spare) = lines.spare.map(|spare| &house.plan.runs[spare]) {
        finding = finding
            .with_on(&spare.id)
            .with_mark(
                spare.spare.span().unwrap_or(spare.span),
                "a spare, connected to nothing",
            )
            .with_put_right(format!(
                "connect {} and take its `spare` out, or pull another",
                spare.id
            ));
    }
    finding.with_authority(limits.lines.authority.clone())
}
