//! A projector fed past what protects, although the plan has it.

use std::collections::BTreeSet;

use crate::findings::{Finding, Report};
use crate::house::{FeedKind, House, Node};
use crate::plan::EndpointKind as Kind;
use crate::rules::Sheet;

pub use crate::rules::NoLimits as Limits;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let node = |at: usize| Node::of_endpoint(at);
    let projectors: Vec<usize> = house
        .endpoints_of(Kind::Projector)
        .filter(|at| house.is_fed(node(*at)) && house.no_loop(node(*at)).is_ok())
        .collect();
    if projectors.is_empty() {
        return;
    }
    let all = 0..house.plan.endpoints.len();
    let protector = all.clone().find(|at| house.guards(*at).is_whole());
    // Without a known one, any that does not say may be one.
    let mut silent: BTreeSet<usize> = match protector {
        Some(_) => BTreeSet::new(),
        None => all
            .filter_map(|at| house.guards(at).silent)
            .map(|at| at as usize)
            .collect(),
    };
    let shelters = house.shelters();
    for projector in projectors {
        let shelter = shelters[house.graph_index(node(projector)).index()];
        match (protector, shelter.silent) {
            _ if shelter.is_whole() => out.checked(),
            (None, _) => {}
            (Some(_), Some(at)) => {
                silent.insert(at as usize);
            }
            (Some(protector), None) => {
                out.checked();
                out.find(finding(house, sheet, projector, protector));
            }
        }
    }
    for at in silent {
        let endpoint = &house.plan.endpoints[at];
        if let Err(lack) = endpoint.protects.want("protects", &endpoint.id) {
            out.gap(sheet.id, &endpoint.id, lack);
        }
    }
}

fn finding(house: &House<'_>, sheet: &Sheet, projector: usize, protector: usize) -> Finding {
    let entry = &house.plan.endpoints[projector];
    let guard = &house.plan.endpoints[protector];
    let says = format!(
        "{} is not fed by way of {}, which protects against surges and power cuts",
        entry.id, guard.id
    );
    let mut finding = sheet
        .finding(&entry.id, says, entry.span, "fed past it")
        .with_on(&guard.id)
        .with_mark(
            guard.protects.span().unwrap_or(guard.span),
            "protects what it feeds",
        );
    let feed = house.feeds_at(projector).into_iter().next();
    match feed {
        Some((FeedKind::Run(run), _)) => {
            let run = &house.plan.runs[run];
            finding = finding
                .with_on(&run.id)
                .with_mark(run.span, "feeds it from elsewhere");
        }
        Some((_, outlet)) => {
            finding = finding
                .with_on(house.id(outlet))
                .with_mark(house.span(outlet), "it is plugged in here");
        }
        None => {}
    }
    let what = match feed {
        Some((FeedKind::Run(_), _)) | None => entry.id.to_string(),
        Some((_, outlet)) => format!("{}, where {} is plugged in,", house.id(outlet), entry.id),
    };
    finding.with_put_right(format!(
        "feed {what} from {}, if it and its circuit can carry the load",
        guard.id
    ))
}
