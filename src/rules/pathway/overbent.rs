//! A conduit with more bend between its pull points than a cable can be pulled round.

use serde::Deserialize;

use crate::findings::{Finding, Lack, Report, Shown};
use crate::house::House;
use crate::plan::{Entry, Pathway, Service};
use crate::rules::{Limit, Sheet, over};
use crate::units::{Degrees, figure3, plain};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    any_cable: Limit<Degrees>,
    signal_cable: Limit<Degrees>,
}

/// Bends that are written out in a working.
const SHOWN: usize = 8;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    for (index, conduit) in house.conduits() {
        match judged(house, limits, index, conduit) {
            Err(lack) => out.gap(sheet.id, &conduit.id, lack),
            Ok(over) => {
                out.checked();
                if let Some((limit, degrees, run)) = over {
                    out.find(finding(house, sheet, conduit, limit, degrees, run));
                }
            }
        }
    }
}

/// The limit that a conduit's bends are over, with their sum, and the run that brings the limit.
type Over<'a> = Option<(&'a Limit<Degrees>, f64, Option<usize>)>;

fn judged<'a>(
    house: &House<'_>,
    limits: &'a Limits,
    index: usize,
    conduit: &Entry<Pathway>,
) -> Result<Over<'a>, Lack> {
    let degrees = house.bend_total(conduit)?;
    let is_over = |limit: &Limit<Degrees>| over(degrees, limit.value.base());
    if is_over(&limits.any_cable) {
        return Ok(Some((&limits.any_cable, degrees, None)));
    }
    if !is_over(&limits.signal_cable) {
        return Ok(None);
    }
    let mut lack = None;
    for run in house.runs_in(index) {
        match house.want_service(*run as usize) {
            Ok(Service::Data | Service::Video | Service::Coax | Service::Fibre) => {
                return Ok(Some((&limits.signal_cable, degrees, Some(*run as usize))));
            }
            Ok(_) => {}
            Err(missing) => lack = lack.or(Some(missing)),
        }
    }
    lack.map_or(Ok(None), Err)
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    conduit: &Entry<Pathway>,
    limit: &Limit<Degrees>,
    degrees: f64,
    run: Option<usize>,
) -> Finding {
    let with = run.and_then(|run| Some((&house.plan.runs[run], house.service(run)?)));
    let says = match with {
        Some((_, service)) => format!(
            "{} bends by {} deg between its pull points with {service} cable in it, advised is {} at most",
            conduit.id,
            figure3(degrees),
            limit.value,
        ),
        None => format!(
            "{} bends by {} deg between its pull points, allowed is {}",
            conduit.id,
            figure3(degrees),
            limit.value,
        ),
    };
    let at = (conduit.bends.span().or(conduit.route.span())).unwrap_or(conduit.span);
    let mut finding = sheet.finding(&conduit.id, says, at, "these bends");
    if let Some(level) = limit.level {
        finding.level = level;
    }
    if let Some((run, service)) = with {
        let through = run.through.span().unwrap_or(run.span);
        finding = finding
            .with_on(&run.id)
            .with_mark(through, format!("{service} cable in it"));
    }
    let bends = conduit.all_bends().into_iter().flatten();
    let bends: Vec<f64> = bends.map(Degrees::base).collect();
    let shown: Vec<String> = bends.iter().take(SHOWN).map(|bend| plain(*bend)).collect();
    let more = match bends.len().saturating_sub(SHOWN) {
        0 => String::new(),
        more => format!(" + {more} more"),
    };
    let figure = Shown {
        name: "bend-total",
        value: degrees,
        unit: "deg",
        working: format!("{}{more} = {} deg", shown.join(" + "), plain(degrees)),
    };
    let parts = (degrees / limit.value.base()).ceil() - 1.0;
    let advice = if parts <= 1.0 {
        format!(
            "put a pull box into it, so that neither part bends by more than {}",
            limit.value
        )
    } else {
        format!(
            "put {} pull boxes into it, so that no part bends by more than {}",
            plain(parts),
            limit.value
        )
    };
    finding
        .with_figure(figure, limit.value.base())
        .with_authority(limit.authority.clone())
        .with_put_right(advice)
}
