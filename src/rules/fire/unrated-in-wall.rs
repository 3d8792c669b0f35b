//! A signal cable without any fire rating in a space that nobody sees into.

use crate::findings::{Finding, Report};
use crate::house::{House, Jacket, Listed, Pull};
use crate::rules::Sheet;

pub use crate::rules::NoLimits as Limits;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(listed) = house.listed() else { return };
    for (run, pull) in listed.pulls() {
        let on = &house.plan.runs[run].id;
        let unrated = pull.and_then(|pull| Ok((listed.jacket(&pull)? == &Jacket::Unrated, pull)));
        match unrated {
            Err(lack) => out.loud_gap(sheet.id, on, lack),
            Ok((unrated, pull)) => {
                out.checked();
                if unrated {
                    out.find(finding(house, sheet, &listed, &pull));
                }
            }
        }
    }
}

fn finding(house: &House<'_>, sheet: &Sheet, listed: &Listed<'_, '_>, pull: &Pull<'_>) -> Finding {
    let run = &house.plan.runs[pull.run];
    let way = &house.plan.pathways[pull.spaces[0].way as usize];
    let better = listed.better(pull);
    let says = match better {
        Some(better) => format!(
            "{} lies hidden in {} with a cable of no fire rating, where {better} or the like is asked for",
            run.id, way.id
        ),
        None => format!(
            "{} lies hidden in {} with a cable of no fire rating",
            run.id, way.id
        ),
    };
    let at = run.stock.span().unwrap_or(run.span);
    let mut finding = sheet
        .finding(&run.id, says, at, "this cable")
        .with_on(&pull.stock.id)
        .with_on(&way.id);
    if let Some(rating) = pull.stock.rating.span() {
        finding = finding.with_mark(rating, "no rating");
    }
    finding = finding.with_mark(way.kind.span().unwrap_or(way.span), "hidden in here");
    if let Some(better) = better {
        finding = finding.with_put_right(format!(
            "pull a cable listed {better}, or one that may stand for it"
        ));
    }
    // The sheet's own authority stands outside the US.
    if let Some(authority) = house.listing_authority(pull.kin.family(), false, "") {
        finding = finding.with_authority(authority);
    }
    finding.with_redline(listed.redline(pull))
}
