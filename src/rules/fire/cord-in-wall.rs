//! A flexible cord hidden in wall, ceiling or conduit, where it stands in for building wire.

use crate::findings::{Finding, Lack, Report};
use crate::house::{House, is_cord};
use crate::plan::{Region, Service};
pub use crate::rules::NoLimits as Limits;
use crate::rules::Sheet;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Ok(region) = house.region() else { return };
    // NEC 400.12 and the Canadian code; of the others nothing is held here.
    let held = region.is_north_american();
    let cords: Vec<_> = house.plan.stock.iter().map(is_cord).collect();
    let mut asked = vec![false; cords.len()];
    for run in house.runs_that_may_be(Service::Power) {
        let entry = &house.plan.runs[run];
        let stock = match entry.stock.want("stock", &entry.id) {
            Ok(stock) => stock.at(),
            Err(lack) => {
                out.loud_gap(sheet.id, &entry.id, lack);
                continue;
            }
        };
        if cords[stock] == Ok(false) {
            out.checked();
            continue;
        }
        if cords[stock].is_err() && !held {
            continue;
        }
        let way = match hidden(house, run) {
            Ok(Some(way)) => way,
            Ok(None) => {
                out.checked();
                continue;
            }
            Err(lack) => {
                out.loud_gap(sheet.id, &entry.id, lack);
                continue;
            }
        };
        let stock_id = &house.plan.stock[stock].id;
        if let Err(lack) = house.want_service(run) {
            out.loud_gap(sheet.id, &entry.id, lack);
            continue;
        }
        let first = !std::mem::replace(&mut asked[stock], true);
        match &cords[stock] {
            Err(lack) if first => out.loud_gap(sheet.id, stock_id, lack.clone()),
            Err(_) => {}
            Ok(_) if held => {
                out.checked();
                out.find(finding(house, sheet, run, way));
            }
            Ok(_) if first => out.loud_gap(sheet.id, stock_id, no_limit(region)),
            Ok(_) => {}
        }
    }
}

/// Where a run is hidden, or in raceway whatever that lies in.
fn hidden(house: &House<'_>, run: usize) -> Result<Option<usize>, Lack> {
    let space = house.spaces().find(house, run, |_| true);
    if let Ok(Some(space)) = space {
        return Ok(Some(space.way as usize));
    }
    let mut ways = house.passes(run).iter().map(|way| *way as usize);
    match ways.find(|way| house.is_raceway(*way)) {
        Some(way) => Ok(Some(way)),
        None => space.map(|_| None),
    }
}

fn no_limit(region: Region) -> Lack {
    Lack::absent(format!("a limit for {region} on hidden cord"))
}

fn finding(house: &House<'_>, sheet: &Sheet, run: usize, way: usize) -> Finding {
    let entry = &house.plan.runs[run];
    let pathway = &house.plan.pathways[way];
    let says = format!(
        "{} is a flexible cord and lies hidden in {}, where only building wire may",
        entry.id, pathway.id
    );
    let at = entry.stock.span().unwrap_or(entry.span);
    let mut finding = sheet.finding(&entry.id, says, at, "this cord");
    if let Some(stock) = entry.stock.value() {
        let stock = &house.plan.stock[stock.at()];
        finding = finding.with_on(&stock.id);
        let flexible = stock.flexible.stated().filter(|flexible| flexible.0);
        let span = flexible.map(|stated| stated.span).or(stock.rating.span());
        if let Some(span) = span {
            finding = finding.with_mark(span, "a cord by this");
        }
    }
    let kind = pathway.kind.span().unwrap_or(pathway.span);
    finding
        .with_on(&pathway.id)
        .with_mark(kind, "hidden in here")
        .with_put_right(format!(
            "run building wire (NM-B, MC, or wire in conduit) through {} to an outlet or a recessed inlet, and plug the cord in there in the open",
            pathway.id
        ))
}
