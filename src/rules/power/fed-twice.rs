//! More power feeds at a node than it has inlets, and loops of power runs.

use serde::Deserialize;

use crate::findings::{Finding, Lack, Report};
use crate::house::{FeedKind, House, Node, is_active};
use crate::plan::{Count, Endpoint, Entry, Region};
use crate::rules::{Limit, Sheet};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    /// Rings that one circuit may close.
    rings: Limit<usize>,
}

/// Feeds and runs of a loop that a finding names.
const MOST_NAMED: usize = 8;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    let Ok(region) = house.region() else { return };
    let mut found = vec![false; house.plan.endpoints.len()];
    for (index, endpoint) in house.plan.endpoints.iter().enumerate() {
        let feeds = house.feeds_meeting(index);
        let Ok(inlets) = endpoint.inlets.or(Count(1)) else {
            continue;
        };
        if feeds == 0 {
            continue;
        }
        // A device with two plugs has two inlets, unless two devices were meant.
        if feeds > inlets.0 as usize
            && endpoint.inlets.is_absent()
            && house
                .feeds_at(index)
                .iter()
                .all(|(kind, _)| matches!(kind, FeedKind::Plug))
        {
            let lack = Lack::absent(format!("inlets of {}", endpoint.id));
            out.loud_gap(sheet.id, &endpoint.id, lack);
            continue;
        }
        out.checked();
        if feeds > inlets.0 as usize {
            out.find(too_many(house, sheet, region, limits, index));
            found[index] = true;
        }
    }
    // A loop with a node that has too many feeds is found there.
    for nodes in house.loops() {
        if !nodes.iter().any(|node| found[*node]) {
            out.find(circle(house, sheet, &nodes));
        }
    }
    let allowed = if limits.rings.holds_in(region) {
        limits.rings.value
    } else {
        0
    };
    for (index, circuit) in house.plan.circuits.iter().enumerate() {
        if let Some(ring) = &house.power().rings[index] {
            out.checked();
            if allowed < 1 {
                let says = format!(
                    "{} is closed to a ring by {}, and {region} has no ring final circuits",
                    circuit.id,
                    house.plan.runs[ring[ring.len() - 1]].id
                );
                let at = circuit.ring.span().unwrap_or(circuit.span);
                let mut finding = sheet.finding(&circuit.id, says, at, "said to be a ring");
                for run in ring.iter().rev().take(MOST_NAMED) {
                    finding = finding.with_on(&house.plan.runs[*run].id);
                }
                let last = &house.plan.runs[ring[ring.len() - 1]];
                out.find(
                    finding
                        .with_mark(last.span, "returns to the breaker")
                        .with_put_right(format!(
                            "take out {}, or another run of the ring",
                            last.id
                        )),
                );
            }
        }
        for run in house.joining_runs(index) {
            // A run between two circuits is found at one of them.
            let Some(other) = house.other_end(run, Node::of_circuit(index)) else {
                continue;
            };
            if matches!(other, Node::Circuit(second) if (second as usize) < index) {
                continue;
            }
            out.checked();
            out.find(joins(house, sheet, index, run, other));
        }
    }
}

fn too_many(
    house: &House<'_>,
    sheet: &Sheet,
    region: Region,
    limits: &Limits,
    index: usize,
) -> Finding {
    let endpoint = &house.plan.endpoints[index];
    let feeds = house.feeds_at(index);
    let inlets = endpoint.inlets.value().map_or(1, |count| count.0);
    let by: Vec<String> = feeds
        .iter()
        .take(3)
        .map(|(kind, from)| match kind {
            FeedKind::Run(run) => house.plan.runs[*run].id.to_string(),
            _ => format!("a plug in {}", house.id(*from)),
        })
        .collect();
    let more = match feeds.len().saturating_sub(by.len()) {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    let says = format!(
        "{} is fed {} times, by {}{more}, and has {}",
        endpoint.id,
        feeds.len(),
        by.join(" and "),
        if inlets == 1 {
            "1 inlet".to_owned()
        } else {
            format!("{inlets} inlets")
        },
    );
    let at = endpoint.inlets.span().unwrap_or(endpoint.span);
    let label = if endpoint.inlets.is_absent() {
        "feeds meet here"
    } else {
        "fewer inlets than feeds"
    };
    let mut finding = sheet.finding(&endpoint.id, says, at, label);
    for (kind, from) in feeds.iter().take(MOST_NAMED) {
        finding = match kind {
            FeedKind::Run(run) => finding.with_on(&house.plan.runs[*run].id),
            _ => finding.with_on(house.id(*from)),
        };
    }
    for (kind, from) in feeds.iter().take(2) {
        finding = match kind {
            FeedKind::Run(run) => finding.with_mark(house.plan.runs[*run].span, "feeds it"),
            _ => finding.with_mark(house.span(*from), "feeds it by a plug"),
        };
    }
    let put_right = put_right(house, region, limits, endpoint, &by, &feeds);
    finding.with_put_right(put_right)
}

fn put_right(
    house: &House<'_>,
    region: Region,
    limits: &Limits,
    endpoint: &Entry<Endpoint>,
    by: &[String],
    feeds: &[(FeedKind, Node)],
) -> String {
    let sets: Vec<&[u32]> = feeds
        .iter()
        .map(|(_, from)| house.circuits_of(*from))
        .collect();
    let shared = sets[0]
        .iter()
        .find(|circuit| sets[1..].iter().any(|set| set.contains(circuit)));
    let looped = sets.iter().any(|set| set.is_empty());
    let keep = by.join(" or ");
    if looped {
        return format!("take out {keep}: one of them makes a loop");
    }
    if let Some(circuit) = shared {
        let circuit = &house.plan.circuits[*circuit as usize].id;
        let ring = if limits.rings.holds_in(region) {
            format!("; or say `ring: yes` on {circuit} if it is a ring final circuit")
        } else {
            String::new()
        };
        return format!("take out {keep}: they come from {circuit} and make a loop{ring}");
    }
    if is_active(endpoint) {
        format!(
            "leave only one of {}; or say `inlets: {}` if {} has as many inlets, kept apart",
            by.join(" and "),
            feeds.len(),
            endpoint.id
        )
    } else {
        format!(
            "leave only one of {}; or draw a box or outlet for each circuit",
            by.join(" and ")
        )
    }
}

fn circle(house: &House<'_>, sheet: &Sheet, nodes: &[usize]) -> Finding {
    let id = |at: usize| &house.plan.endpoints[at].id;
    let others: Vec<&str> = nodes[1..]
        .iter()
        .take(3)
        .map(|at| id(*at).as_str())
        .collect();
    let more = match nodes.len().saturating_sub(others.len() + 1) {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    let says = format!(
        "{} feeds itself by way of {}{more}, in a loop of power runs",
        id(nodes[0]),
        others.join(", ")
    );
    let first = &house.plan.endpoints[nodes[0]];
    let mut finding = sheet.finding(&first.id, says, first.span, "in the loop");
    for node in nodes.iter().take(MOST_NAMED) {
        finding = finding.with_on(id(*node));
    }
    for node in nodes.iter().skip(1).take(2) {
        finding = finding.with_mark(house.plan.endpoints[*node].span, "in the loop too");
    }
    finding.with_put_right("take out the run that closes the loop")
}

fn joins(house: &House<'_>, sheet: &Sheet, circuit: usize, run: usize, other: Node) -> Finding {
    let circuit_id = &house.plan.circuits[circuit].id;
    let run = &house.plan.runs[run];
    let from = house.circuits_of(other);
    let is_own = |known: &u32| *known as usize == circuit;
    let second = from.iter().find(|known| !is_own(known));
    let says = match second.filter(|_| !from.iter().any(is_own)) {
        Some(second) => format!(
            "{} joins {circuit_id} to {}, two breakers that feed each other",
            run.id, house.plan.circuits[*second as usize].id
        ),
        None => format!("{} leads back to {circuit_id} and closes a loop", run.id),
    };
    let mut finding = sheet
        .finding(circuit_id, says, run.span, "this run")
        .with_on(&run.id)
        .with_on(house.id(other));
    if let Some(second) = second {
        finding = finding.with_on(&house.plan.circuits[*second as usize].id);
    }
    finding
        .with_mark(house.plan.circuits[circuit].span, "ends at this breaker")
        .with_put_right(format!("take out {}, or end it at another place", run.id))
}
