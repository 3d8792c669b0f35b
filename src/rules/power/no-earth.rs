//! A power run without an earthing conductor on the way to what is to be earthed.

use std::collections::BTreeSet;

use serde::Deserialize;

use crate::findings::{Finding, Lack, Report};
use crate::house::{House, NoEarthing, Node, WantsEarth};
use crate::plan::{Entry, Service, Stock};
use crate::rules::{Limit, Sheet};
use crate::units::{Distance, unit};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    /// The longest flexible metal conduit that may serve as earthing conductor.
    flexible: Limit<Distance>,
}

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    let Ok(region) = house.region() else { return };
    let longest = if limits.flexible.holds_in(region) {
        limits.flexible.value.base()
    } else {
        0.0
    };
    let mut bare: Vec<(usize, Result<bool, NoEarthing<'_>>)> = Vec::new();
    for run in house.runs_of(Service::Power) {
        if house.is_spare(run) {
            continue;
        }
        match house.earthing(run, longest) {
            Ok(true) => out.checked(),
            earthing => bare.push((run, earthing)),
        }
    }
    if !bare.is_empty() {
        judge_bare(house, sheet, out, bare);
    }
}

fn judge_bare(
    house: &House<'_>,
    sheet: &Sheet,
    out: &mut Report,
    bare: Vec<(usize, Result<bool, NoEarthing<'_>>)>,
) {
    let runs: Vec<usize> = bare.iter().map(|(run, _)| *run).collect();
    let (fed, earths) = (house.fed_by(&runs), house.earths());
    // What hangs on a run without an earth, and may want one.
    let mut open: Vec<Node> = Vec::new();
    let mut open_ends: BTreeSet<usize> = BTreeSet::new();
    // A stock or pathway lacks a thing once, however many runs ask for it.
    let mut lacks = BTreeSet::new();
    for (run, earthing) in bare {
        let below = fed.get(&run).copied();
        let ends = ends(house, run);
        let own = |wanted: WantsEarth| {
            let mut ends = ends.iter().copied();
            ends.find(|end| house.wants_earth(*end) == wanted)
        };
        let (wanted, unknown) = match below {
            Some(at) => (earths.wanted(house, at), earths.unknown(house, at)),
            // No power yet: only its own ends are known to hang on it.
            None => (own(WantsEarth::Yes), own(WantsEarth::Unknown).is_some()),
        };
        let looped = below.and_then(|at| house.no_loop(at).err());
        match (earthing, wanted) {
            (Ok(_), Some(end)) => {
                out.checked();
                out.find(finding(house, sheet, run, end));
            }
            (_, None) if looped.is_some() => {
                out.loud_gap(
                    sheet.id,
                    &house.plan.runs[run].id,
                    looped.unwrap_or(Lack::Reported),
                );
            }
            (_, None) if !unknown => out.checked(),
            (Ok(_), None) => match below {
                Some(at) => open.push(at),
                None => open_ends.extend(
                    ends.iter()
                        .filter(|end| house.wants_earth(**end) == WantsEarth::Unknown),
                ),
            },
            (Err((id, lack)), _) => {
                if let Lack::Absent(what) = lack
                    && lacks.insert((id, what.clone()))
                {
                    out.loud_gap(sheet.id, id, Lack::Absent(what));
                }
            }
        }
    }
    open_ends.extend(house.unknown_below(&open));
    for end in open_ends {
        let endpoint = &house.plan.endpoints[end];
        if let Err(lack) = endpoint.earthed.want("earthed", &endpoint.id) {
            out.loud_gap(sheet.id, &endpoint.id, lack);
        }
    }
}

/// The endpoints that a run ends on.
fn ends(house: &House<'_>, run: usize) -> Vec<usize> {
    let ends = house
        .ends(run)
        .into_iter()
        .flat_map(|(from, to)| [from, to]);
    ends.filter_map(Node::endpoint).collect()
}

fn finding(house: &House<'_>, sheet: &Sheet, run: usize, end: usize) -> Finding {
    let entry = &house.plan.runs[run];
    let device = &house.plan.endpoints[end];
    let stock = house.want_stock(entry).ok();
    let in_stock = stock.map_or_else(String::new, |stock| format!(" ({})", stock.id));
    let says = format!(
        "{} has no earthing conductor{in_stock} and feeds {}, which is to be earthed",
        entry.id, device.id
    );
    let at = entry.stock.span().unwrap_or(entry.span);
    let mut finding = sheet
        .finding(&entry.id, says, at, "no earthing conductor")
        .with_on(&device.id);
    if let Some(stock) = stock {
        let cores = stock.cores.span().unwrap_or(stock.span);
        finding = finding.with_on(&stock.id).with_mark(cores, "no `+ earth`");
    }
    let earthed = device.earthed.span().unwrap_or(device.span);
    finding = finding.with_mark(earthed, "to be earthed");
    let area = |stock: &Entry<Stock>| {
        let cores = stock.cores.value();
        cores.map_or(f64::INFINITY, |cores| {
            cores.size.area().get::<unit::square_millimeter>()
        })
    };
    let earthed = house
        .substitutes(run, Service::Power, |stock| {
            stock.cores.value().is_some_and(|cores| cores.earth)
        })
        .min_by(|a, b| area(a).total_cmp(&area(b)));
    let Some(stock) = earthed else {
        return finding;
    };
    let redline = house.pull_as(&[(run, stock)]);
    finding
        .with_put_right(format!("pull {} as {}", entry.id, stock.id))
        .with_redline(redline)
}
