//! Power cable without metal around it in a space that moves the air of the house.

use crate::findings::{Finding, Lack, Report};
use crate::house::{House, Made, Shell, Space, is_cord, made};
use crate::plan::{Air, Building, Crosses, PathwayKind, Region, Service};
use crate::rules::Sheet;
use crate::tables::wiring::Wiring;

pub use crate::rules::NoLimits as Limits;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Ok(region) = house.region() else { return };
    let mut asked = vec![false; house.plan.stock.len()];
    let cords: Vec<_> = house.plan.stock.iter().map(is_cord).collect();
    let made: Vec<_> = house.plan.stock.iter().map(made).collect();
    for run in house.runs_that_may_be(Service::Power) {
        let entry = &house.plan.runs[run];
        let stock = match entry.stock.want("stock", &entry.id) {
            Ok(stock) => stock.at(),
            Err(lack) => {
                out.loud_gap(sheet.id, &entry.id, lack);
                continue;
            }
        };
        let kind = &house.plan.stock[stock];
        // What a cord may do is for `fire.cord-in-wall`.
        if cords[stock] == Ok(true) {
            continue;
        }
        let way = match plenum(house, run) {
            _ if made[stock] == Ok(Made::Of(Wiring::Armoured)) => Ok(None),
            Ok(Some(way)) => house.want_service(run).map(|_| Some(way)),
            found => found,
        };
        let lack = match (way, &made[stock]) {
            (Ok(None), _) => {
                out.checked();
                continue;
            }
            (Err(lack), _) => {
                out.loud_gap(sheet.id, &entry.id, lack);
                continue;
            }
            (Ok(Some(way)), Ok(made)) if region == Region::Us => {
                out.checked();
                out.find(finding(house, sheet, run, *made, way));
                continue;
            }
            (_, Err(lack)) if region == Region::Us => lack.clone(),
            _ => Lack::absent(format!(
                "a limit for {region} on power cable in spaces that move air"
            )),
        };
        if !std::mem::replace(&mut asked[stock], true) {
            out.loud_gap(sheet.id, &kind.id, lack);
        }
    }
}

/// The plenum that a run lies bare in. Raceway in a plenum is for `fire.plastic-conduit-in-plenum`.
fn plenum(house: &House<'_>, run: usize) -> Result<Option<usize>, Lack> {
    let crosses = &house.plan.runs[run].crosses;
    let square = crosses.value() == Some(&Crosses::Square);
    let commercial = house.plan.building.value() == Some(&Building::Commercial);
    let bare = |space: &Space| {
        let way = &house.plan.pathways[space.way as usize];
        let joist_bay = way.air.value() == Some(&Air::JoistBay);
        space.shell == Shell::Open
            && way.kind.value() == Some(&PathwayKind::Plenum)
            && !(joist_bay && square && !commercial)
    };
    let Some(space) = house.spaces().find(house, run, bare)? else {
        return Ok(None);
    };
    let air = &house.plan.pathways[space.way as usize].air;
    let unread = air.is_bad() || air.value() == Some(&Air::JoistBay) && crosses.is_bad();
    if unread {
        Err(Lack::Reported)
    } else {
        Ok(Some(space.way as usize))
    }
}

fn finding(house: &House<'_>, sheet: &Sheet, run: usize, made: Made, way: usize) -> Finding {
    let entry = &house.plan.runs[run];
    let pathway = &house.plan.pathways[way];
    let stock = entry.stock.value().map(|at| &house.plan.stock[at.at()]);
    let rating: Vec<&str> = stock
        .and_then(|stock| stock.rating.value())
        .into_iter()
        .flat_map(|rating| rating.values().map(|text| &**text))
        .collect();
    let what = match made {
        Made::Of(Wiring::Conductor) => "single conductors without raceway",
        Made::Unlisted => "power cable of no listing",
        _ => "building wire without metal around it",
    };
    let listed = match rating.as_slice() {
        [] | ["none"] => String::new(),
        texts => format!(" ({})", texts.join(" ")),
    };
    let square = entry.crosses.value() == Some(&Crosses::Square);
    let (place, crossable) = match pathway.air.value() {
        Some(Air::JoistBay) => ("a joist bay that moves air", !square),
        Some(Air::Duct) => ("a fabricated duct", false),
        _ => ("a plenum", false),
    };
    let says = format!(
        "{} is {what}{listed} and lies in {}, {place}",
        entry.id, pathway.id
    );
    let advice = if crossable {
        "cross the bay square (and state `crosses: square`), or run it as MC or AC cable or in metal conduit"
    } else if pathway.air.value() == Some(&Air::Duct) {
        "lead it round the duct"
    } else {
        "run it as MC or AC cable or in metal conduit, or lead it round the plenum"
    };
    let at = entry.stock.span().unwrap_or(entry.span);
    let mut finding = sheet.finding(&entry.id, says, at, "this cable");
    if let Some(stock) = stock {
        finding = finding.with_on(&stock.id);
        if let Some(span) = stock.rating.span() {
            finding = finding.with_mark(span, "its type");
        }
    }
    let kind = pathway.air.span().or(pathway.kind.span());
    finding
        .with_on(&pathway.id)
        .with_mark(kind.unwrap_or(pathway.span), place)
        .with_put_right(advice)
}
