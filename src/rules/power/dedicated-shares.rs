//! A circuit that serves something alone feeds something else as well.

use std::collections::HashSet;

use crate::findings::{Finding, Lack, Report};
use crate::house::{FeedKind, House, Reached, is_consumer, is_passive};
use crate::plan::{Circuit, EndpointKind, Entry};
use crate::rules::Sheet;

pub use crate::rules::NoLimits as Limits;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    for (index, circuit) in house.plan.circuits.iter().enumerate() {
        let Some(serves) = circuit.serves.value() else {
            continue;
        };
        let served: HashSet<usize> = serves.values().map(|endpoint| endpoint.at()).collect();
        let tree = house.tree(index);
        if served.is_empty() || tree.is_empty() {
            continue;
        }
        let (others, lack) = others(house, &served, &tree);
        if !others.is_empty() {
            out.checked();
            out.find(finding(house, sheet, circuit, &tree, &others));
        } else if let Some(lack) = lack {
            out.gap(sheet.id, &circuit.id, lack);
        } else {
            out.checked();
        }
    }
}

/// Places in the tree of consumers that the circuit does not serve, and what is missing to know.
fn others(
    house: &House<'_>,
    served: &HashSet<usize>,
    tree: &[Reached],
) -> (Vec<usize>, Option<Lack>) {
    // A power conditioner ahead of what is served is part of its wiring, whatever it draws itself.
    let ahead = ahead(house, served, tree);
    let mut passes = vec![false; tree.len()];
    let mut others = Vec::new();
    let mut lack = None;
    for (at, reached) in tree.iter().enumerate() {
        let Some(index) = reached.node.endpoint() else {
            continue;
        };
        let before = reached.before;
        let through = before.is_some_and(|before| passes[before]);
        // What stands in a served thing is part of it.
        let part_of = house.hosts(index).find(|host| served.contains(host));
        let on = |host: usize| {
            let endpoint = &house.plan.endpoints[host];
            endpoint.kind.value() == Some(&EndpointKind::Rack)
                || endpoint
                    .protects
                    .value()
                    .is_some_and(|protects| !protects.0.is_empty())
        };
        passes[at] = through || part_of.is_some_and(on);
        // A circuit that serves an outlet serves what is plugged into it.
        let outlet = before.and_then(|before| tree[before].node.endpoint());
        let plugged = reached.by == FeedKind::Plug
            && outlet.is_some_and(|outlet| {
                served.contains(&outlet) && is_passive(&house.plan.endpoints[outlet]) == Some(true)
            });
        let endpoint = &house.plan.endpoints[index];
        if passes[at] || part_of.is_some() || plugged {
            continue;
        }
        if endpoint.kind.value().is_none() && endpoint.load.value().is_none() {
            lack = lack.or(endpoint.kind.want("kind", &endpoint.id).err());
        } else if is_consumer(endpoint)
            && !(ahead[at] && endpoint.kind.value() == Some(&EndpointKind::PowerConditioner))
        {
            others.push(at);
        }
    }
    (others, lack)
}

/// Places in the tree that lie on the way to something served.
fn ahead(house: &House<'_>, served: &HashSet<usize>, tree: &[Reached]) -> Vec<bool> {
    let mut ahead = vec![false; tree.len()];
    // The nodes of a tree come in the order of their distance.
    for at in (0..tree.len()).rev() {
        let serves = tree[at]
            .node
            .endpoint()
            .is_some_and(|index| house.hosts(index).any(|host| served.contains(&host)));
        if let Some(before) = tree[at].before
            && (serves || ahead[at])
        {
            ahead[before] = true;
        }
    }
    ahead
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    circuit: &Entry<Circuit>,
    tree: &[Reached],
    others: &[usize],
) -> Finding {
    let served = circuit
        .serves
        .value()
        .into_iter()
        .flat_map(|serves| serves.values());
    let served: Vec<&str> = served
        .map(|served| house.plan.endpoints[served.at()].id.as_str())
        .collect();
    let ids = others
        .iter()
        .filter_map(|at| house.endpoint(tree[*at].node))
        .map(|endpoint| &endpoint.id);
    let names: Vec<&str> = ids.clone().map(|id| id.as_str()).take(3).collect();
    let more = others.len().saturating_sub(names.len());
    let more = if more > 0 {
        format!(" and {more} more")
    } else {
        String::new()
    };
    let says = format!(
        "{} is to serve {} alone, but feeds {}{more} too",
        circuit.id,
        served.join(", "),
        names.join(", ")
    );
    let mut finding = sheet.finding(
        &circuit.id,
        says,
        circuit.serves.span().unwrap_or(circuit.span),
        "said to be served alone",
    );
    for id in ids.take(8) {
        finding = finding.with_on(id);
    }
    for at in others.iter().take(2) {
        let run = house.way(tree, *at).last().copied();
        let (span, label) = match (run, tree[*at].by) {
            (Some(run), FeedKind::Run(_)) => (house.plan.runs[run].span, "feeds another"),
            _ => (house.span(tree[*at].node), "is fed too"),
        };
        finding = finding.with_mark(span, label);
    }
    finding.with_put_right(format!(
        "feed {} from another circuit; or, if they may share, name them in `serves` of {}",
        names.join(", "),
        circuit.id
    ))
}
