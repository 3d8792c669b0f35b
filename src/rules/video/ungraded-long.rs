//! A long video cable that states no grade.

use std::collections::HashSet;

use serde::Deserialize;

use crate::figures::Figure;
use crate::figures::route::RouteLength;
use crate::findings::{Finding, Report};
use crate::house::House;
use crate::plan::{Build, Entry, Service, Stock};
use crate::rules::{Limit, Sheet, over, shown};
use crate::units::Distance;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    length: Limit<Distance>,
}

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    for (on, lack) in house.hidden_runs(Service::Video, |_| true) {
        out.gap(sheet.id, on, lack);
    }
    let mut lacking = HashSet::new();
    for index in house.runs_of(Service::Video) {
        let run = &house.plan.runs[index];
        let stock = match house.want_stock(run) {
            Ok(stock) => stock,
            Err(lack) => {
                out.gap(sheet.id, &run.id, lack);
                continue;
            }
        };
        if !stock.grade.is_absent() {
            // A grade that could not be read has been reported.
            if stock.grade.value().is_some() {
                out.checked();
            }
            continue;
        }
        match stock.service.want("`for`", &stock.id) {
            Ok(service) if service.value == Service::Video => {}
            // Coax or fibre that carries pictures has no grade of video cable.
            Ok(_) => continue,
            Err(lack) => {
                if lacking.insert(stock.id.as_str()) {
                    out.gap(sheet.id, &stock.id, lack);
                }
                continue;
            }
        }
        // What an active or optical cable does is its maker's word.
        if matches!(stock.build.value(), Some(Build::Active | Build::Optical)) {
            out.checked();
            continue;
        }
        if stock.build.is_bad() {
            continue;
        }
        match house.length(index) {
            Err(lack) => out.gap(sheet.id, &run.id, lack),
            Ok(length) => {
                out.checked();
                if over(length.value(), limits.length.value.base()) {
                    out.find(finding(house, sheet, index, stock, length, &limits.length));
                }
            }
        }
    }
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    index: usize,
    stock: &Entry<Stock>,
    length: &RouteLength,
    limit: &Limit<Distance>,
) -> Finding {
    let run = &house.plan.runs[index];
    let says = format!(
        "{} is {} of video cable with no grade stated, without one at most {} is advised",
        run.id,
        length.words(),
        limit.value.beside(length.distance())
    );
    let (at, label) = house.length_mark(index, true);
    sheet
        .finding(&run.id, says, at, label)
        .with_on(&stock.id)
        .with_mark(stock.span, "no grade")
        .with_figure(shown(length), limit.value.base())
        .with_authority(limit.authority.clone())
        .with_put_right(format!(
            "state the `grade` that is printed on {}, or pull a cable that has one",
            stock.id
        ))
}
