//! A load that no circuit reaches.

use serde::Deserialize;

use crate::findings::{Finding, Id, Lack, Report};
use crate::house::{House, Node, is_consumer};
use crate::plan::{Endpoint, EndpointKind as Kind, Entry, Service};
use crate::rules::{Limit, Sheet, over};
use crate::units::Volts;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    /// Up to this, signal cable may feed a device.
    low_voltage: Limit<Volts>,
}

/// What may feed a device of low voltage besides what it is pulled for.
const MAY_FEED: [Service; 3] = [Service::Control, Service::Data, Service::Coax];

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    let mut loads = (0..house.plan.endpoints.len()).filter(|at| is_load(house, *at));
    if house.plan.circuits.is_empty() {
        // A plan of signal cable only: its power is drawn elsewhere, or forgotten.
        if loads.next().is_some() {
            let plan = Id::new("plan");
            out.gap(sheet.id, &plan, Lack::absent("circuits of the plan"));
        }
        return;
    }
    let mut ends = None;
    for index in loads {
        let endpoint = &house.plan.endpoints[index];
        let node = Node::of_endpoint(index);
        if house.is_fed(node) {
            out.checked();
            continue;
        }
        let ends = ends.get_or_insert_with(|| house.loose_ends());
        if ends.broken[index]
            || endpoint.at_outlet.is_bad()
            || is_loose(house, index, ends.named[index])
            || outlets(house, index)
                .into_iter()
                .any(|outlet| is_bare(&house.plan.endpoints[outlet], ends.named[outlet]))
        {
            continue;
        }
        match unsure(house, limits, index) {
            Some(lack) => out.gap(sheet.id, &endpoint.id, lack),
            None => {
                out.checked();
                out.find(finding(house, sheet, index));
            }
        }
    }
}

/// Whether an endpoint has to be reached by a circuit itself: it draws power, does not live off its
/// data line, and nothing that it stands in is judged for it.
fn is_load(house: &House<'_>, index: usize) -> bool {
    let endpoint = &house.plan.endpoints[index];
    let draws = |endpoint: &Endpoint| {
        is_consumer(endpoint) && endpoint.load.value().is_none_or(|load| load.base() > 0.0)
    };
    draws(endpoint)
        && endpoint.poe.is_absent()
        && !endpoint.within.is_bad()
        && !endpoint.kind.is_bad()
        && !house
            .hosts(index)
            .skip(1)
            .any(|host| draws(&house.plan.endpoints[host]))
}

/// Nothing at all leads there and no load is stated: that is plan.loose-end's, save for a
/// subwoofer.
fn is_loose(house: &House<'_>, index: usize, named: bool) -> bool {
    let endpoint = &house.plan.endpoints[index];
    !named
        && endpoint.load.is_absent()
        && endpoint.within.is_absent()
        && endpoint.at_outlet.is_absent()
        && endpoint.kind.value() != Some(&Kind::Subwoofer)
        && house.with_members(index).iter().all(|member| {
            let member = &house.plan.endpoints[*member];
            member.load.is_absent() && member.at_outlet.is_absent()
        })
}

/// An outlet that nothing leads to, which is plan.loose-end's.
fn is_bare(outlet: &Endpoint, named: bool) -> bool {
    !named
        && outlet.load.is_absent()
        && outlet.within.is_absent()
        && outlet.at_outlet.is_absent()
        && outlet.kind.value() == Some(&Kind::Outlet)
}

/// What is missing to know that an endpoint draws power and has none.
fn unsure(house: &House<'_>, limits: &Limits, index: usize) -> Option<Lack> {
    let endpoint = &house.plan.endpoints[index];
    let stated = endpoint.load.value().is_some();
    if !stated && let Err(lack) = endpoint.kind.want("kind", &endpoint.id) {
        return Some(lack);
    }
    let low = endpoint.made_for().map(|(_, greatest)| greatest);
    let low = low.filter(|volts| !over(volts.base(), limits.low_voltage.value.base()));
    let mut data = false;
    for at in outlets(house, index)
        .into_iter()
        .chain(house.with_members(index))
    {
        for run in house.runs_at(Node::of_endpoint(at)) {
            match house.want_service(run) {
                // It may be the run that feeds it.
                Err(lack) if !house.is_spare(run) => return Some(lack),
                Ok(service) if MAY_FEED.contains(&service) => {
                    if let (Some(volts), false) = (low, house.is_spare(run)) {
                        let circuit = format!("a circuit of {volts} that feeds {}", endpoint.id);
                        return Some(Lack::absent(circuit));
                    }
                    data |= service == Service::Data;
                }
                _ => {}
            }
        }
    }
    let by_data = matches!(
        endpoint.kind.value(),
        Some(Kind::AccessPoint | Kind::Camera)
    );
    (by_data && data && !stated).then(|| Lack::absent(format!("poe or load of {}", endpoint.id)))
}

/// The outlets that an endpoint is plugged into.
fn outlets(house: &House<'_>, index: usize) -> Vec<usize> {
    let outlets = house.plan.endpoints[index].at_outlet.value();
    let outlets = outlets.into_iter().flat_map(|list| list.values());
    outlets.map(|outlet| outlet.at()).collect()
}

fn finding(house: &House<'_>, sheet: &Sheet, index: usize) -> Finding {
    let endpoint: &Entry<Endpoint> = &house.plan.endpoints[index];
    let id = &endpoint.id;
    let outlets = outlets(house, index);
    let run = house
        .live_runs_at(index, Service::Power)
        .into_iter()
        .chain(
            outlets
                .first()
                .map(|outlet| house.live_runs_at(*outlet, Service::Power))
                .into_iter()
                .flatten(),
        )
        .min();
    let (says, put_right) = match (outlets.first(), run) {
        (Some(outlet), _) => {
            let outlet = &house.plan.endpoints[*outlet].id;
            (
                format!("{id} is plugged in at {outlet}, which no circuit reaches"),
                format!("feed {outlet} from a circuit, or plug {id} in elsewhere"),
            )
        }
        (None, Some(run)) => {
            let run = &house.plan.runs[run].id;
            (
                format!("{id} is reached by no circuit: {run} comes from nothing that has power"),
                format!("feed the other end of {run} from a circuit"),
            )
        }
        (None, None) => {
            let data = matches!(
                endpoint.kind.value(),
                Some(Kind::AccessPoint | Kind::Camera | Kind::Sensor | Kind::Keypad)
            );
            let poe = if data {
                "; or say `poe` if it lives off its data line"
            } else {
                ""
            };
            let may_feed = |service: &Service| house.live_runs_at(index, *service).first().copied();
            let small = matches!(
                endpoint.kind.value(),
                Some(Kind::Motor | Kind::Sensor | Kind::Keypad | Kind::Amplifier)
            );
            let low = match MAY_FEED.iter().find_map(may_feed) {
                Some(run) if small && endpoint.volts.is_absent() => {
                    let run = &house.plan.runs[run].id;
                    format!("; or say its `volts` if {run} feeds it with low voltage")
                }
                _ => String::new(),
            };
            (
                format!("{id} is reached by no circuit"),
                format!(
                    "draw a power run to {id}, or say at which outlet it is plugged in (`at-outlet`){poe}{low}"
                ),
            )
        }
    };
    let at = endpoint.load.span().unwrap_or(endpoint.span);
    let mut finding = sheet.finding(id, says, at, "draws power");
    for outlet in &outlets {
        let outlet = &house.plan.endpoints[*outlet];
        finding = finding.with_on(&outlet.id);
    }
    if let Some(outlet) = outlets.first() {
        finding = finding.with_mark(house.plan.endpoints[*outlet].span, "has no feed");
    }
    if let Some(run) = run {
        let run = &house.plan.runs[run];
        finding = finding.with_on(&run.id).with_mark(run.span, "has no power");
    }
    finding.with_put_right(put_right)
}
