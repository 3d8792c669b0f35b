//! A coaxial cable with fewer shields than is advised.

use serde::Deserialize;

use crate::findings::{Finding, Redline, Report};
use crate::house::House;
use crate::plan::{Entry, Service, Stock};
use crate::rules::{Limit, Sheet};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    shields: Limit<u32>,
}

/// Runs up to which an edit changes them all.
const MOST_RUNS: usize = 16;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    // A cable is thin once, however often it is pulled.
    let mut pulled = vec![Vec::new(); house.plan.stock.len()];
    for index in house.runs_of(Service::Coax) {
        let run = &house.plan.runs[index];
        match run.stock.want("stock", &run.id) {
            Ok(stock) => pulled[stock.at()].push(index),
            Err(lack) => out.gap(sheet.id, &run.id, lack),
        }
    }
    for (stock, runs) in house.plan.stock.iter().zip(&pulled) {
        if runs.is_empty() {
            continue;
        }
        match stock.shields.want("shields", &stock.id) {
            Err(lack) => out.gap(sheet.id, &stock.id, lack),
            Ok(shields) => {
                out.checked();
                if shields.0 < limits.shields.value {
                    out.find(finding(house, sheet, limits, stock, shields.0, runs));
                }
            }
        }
    }
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    limits: &Limits,
    stock: &Entry<Stock>,
    shields: u32,
    runs: &[usize],
) -> Finding {
    let advised = limits.shields.value;
    let found = match shields {
        0 => "no shield".to_owned(),
        1 => "1 shield".to_owned(),
        more => format!("{more} shields"),
    };
    let says = format!("{} has {found}, advised are {advised} or more", stock.id);
    let at = stock.shields.span().unwrap_or(stock.span);
    let mut finding = sheet.finding(&stock.id, says, at, "too few shields");
    for run in runs.iter().take(8) {
        finding = finding.with_on(&house.plan.runs[*run].id);
    }
    let first = &house.plan.runs[runs[0]];
    finding
        .with_mark(first.stock.span().unwrap_or(first.span), "pulled here")
        .with_authority(limits.shields.authority.clone())
        .with_redline(redline(house, advised, stock, runs))
}

/// All of its runs in another stock of the same series.
fn redline(
    house: &House<'_>,
    advised: u32,
    stock: &Entry<Stock>,
    runs: &[usize],
) -> Option<Redline> {
    if runs.len() > MOST_RUNS {
        return None;
    }
    let series = |stock: &Stock| {
        stock
            .series
            .value()
            .map(|series| series.to_ascii_lowercase())
    };
    let present = series(stock);
    let mut pulls = Vec::new();
    for run in runs {
        let better = |other: &Entry<Stock>| {
            other.shields.value().is_some_and(|it| it.0 >= advised)
                && (present.is_none() || series(other) == present)
        };
        let other = house.substitutes(*run, Service::Coax, better).next()?;
        pulls.push((*run, other));
    }
    house.pull_as(&pulls)
}
