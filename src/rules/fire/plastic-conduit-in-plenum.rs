//! Conduit that is not of metal in a space that moves the air of the house.

use crate::findings::{Finding, Lack, Report};
use crate::house::{House, Shell, Space};
use crate::plan::{Air, Building, ConduitListing, Crosses, Entry, Pathway, PathwayKind, Region};
use crate::rules::Sheet;

pub use crate::rules::NoLimits as Limits;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Ok(region) = house.region() else { return };
    let ways = &house.plan.pathways;
    let plenums = house.spaces().any_plenum();
    let ducts = ways.iter().any(|way| way.air.value() == Some(&Air::Duct));
    for (index, way) in ways.iter().enumerate() {
        if !house.is_raceway(index) {
            // What looks like a conduit may be one.
            let kind = way.kind.want("kind", &way.id);
            if let (true, Err(lack)) = (plenums && !way.make.is_absent(), kind) {
                out.loud_gap(sheet.id, &way.id, lack);
            }
            continue;
        }
        let around = match plenums {
            true => around(way, ducts),
            false => Ok(()),
        };
        match around.and_then(|()| verdict(house, region, index)) {
            Err(lack) => out.loud_gap(sheet.id, &ways[index].id, lack),
            Ok(None) => out.checked(),
            Ok(Some(space)) => {
                out.checked();
                out.find(finding(house, sheet, index, space));
            }
        }
    }
}

/// Whether what lies around a conduit is known where it matters: it is neither of metal nor listed,
/// or there are `ducts`, where no listing helps.
fn around(conduit: &Entry<Pathway>, ducts: bool) -> Result<(), Lack> {
    let metal = conduit.make.value().is_some_and(|make| make.is_metal());
    match is_listed(conduit) {
        _ if metal => Ok(()),
        Ok(true) if !ducts => Ok(()),
        _ => conduit.inside.want("inside", &conduit.id).map(|_| ()),
    }
}

/// The plenum that a conduit may not lie in.
fn verdict(house: &House<'_>, region: Region, index: usize) -> Result<Option<Space>, Lack> {
    let conduit = &house.plan.pathways[index];
    let (spaces, lack) = house.spaces().behind(index);
    let mut lack = lack.cloned();
    for space in spaces {
        let way = &house.plan.pathways[space.way as usize];
        // What lies in metal is kept from the air by that.
        let in_metal = matches!(space.shell, Shell::FlexibleMetal | Shell::RigidMetal);
        if way.kind.value() != Some(&PathwayKind::Plenum) || in_metal {
            continue;
        }
        let found = match way.air.value() {
            _ if way.air.is_bad() => Err(Lack::Reported),
            // No listing lets plastic into a duct.
            Some(Air::Duct) => plastic(house, *space),
            _ if is_listed(conduit)? => Ok(false),
            Some(Air::JoistBay) if crossed(house, index)? => Ok(false),
            _ => plastic(house, *space),
        };
        match found {
            Ok(true) if region == Region::Us => return Ok(Some(*space)),
            Ok(true) => {
                return Err(Lack::absent(format!(
                    "a limit for {region} on conduit in spaces that move air"
                )));
            }
            Ok(false) => {}
            Err(missing) => lack = lack.or(Some(missing)),
        }
    }
    lack.map_or(Ok(None), Err)
}

/// Whether what encloses the inside of a conduit in a space is all of plastic.
fn plastic(house: &House<'_>, space: Space) -> Result<bool, Lack> {
    match space.shell {
        Shell::Unknown(way) => {
            let way = &house.plan.pathways[way as usize];
            let lack = way.make.want("make", &way.id).err();
            Err(lack.unwrap_or(Lack::Reported))
        }
        _ => Ok(space.shell == Shell::Plastic),
    }
}

fn is_listed(conduit: &Pathway) -> Result<bool, Lack> {
    if conduit.listing.is_bad() {
        return Err(Lack::Reported);
    }
    let mut listings = conduit.listing.value().into_iter().flat_map(|l| l.values());
    Ok(listings.any(|listing| *listing == ConduitListing::Plenum))
}

/// Whether a conduit only crosses the joist bay of a dwelling square: all that it holds does.
fn crossed(house: &House<'_>, index: usize) -> Result<bool, Lack> {
    if house.plan.building.value() == Some(&Building::Commercial) {
        return Ok(false);
    }
    let runs = house.runs_in(index);
    let crosses = |run: &u32| &house.plan.runs[*run as usize].crosses;
    if runs.iter().any(|run| crosses(run).is_bad()) {
        return Err(Lack::Reported);
    }
    if runs.is_empty() {
        let conduit = &house.plan.pathways[index].id;
        return Err(Lack::absent(format!(
            "a run in {conduit} that says how it crosses"
        )));
    }
    Ok(runs
        .iter()
        .all(|run| crosses(run).value() == Some(&Crosses::Square)))
}

fn finding(house: &House<'_>, sheet: &Sheet, index: usize, space: Space) -> Finding {
    let conduit = &house.plan.pathways[index];
    let way = &house.plan.pathways[space.way as usize];
    let place = match way.air.value() {
        Some(Air::Duct) => "a fabricated duct",
        Some(Air::JoistBay) => "a joist bay that moves air",
        _ => "a plenum",
    };
    let make = conduit.make.value().map_or("plastic", |make| make.word());
    let duct = way.air.value() == Some(&Air::Duct);
    let listing = if duct {
        ""
    } else {
        ", without a listing for it"
    };
    let says = format!(
        "{} is {make}, not of metal, and lies in {}, {place}{listing}",
        conduit.id, way.id
    );
    let advice = if duct {
        "lead it round the duct"
    } else {
        "use EMT, or tubing listed for plenums (and state `listing: plenum`), or lead it round the plenum"
    };
    let at = conduit.make.span().unwrap_or(conduit.span);
    let kind = way.air.span().or(way.kind.span());
    sheet
        .finding(&conduit.id, says, at, "not of metal")
        .with_on(&way.id)
        .with_mark(kind.unwrap_or(way.span), place)
        .with_put_right(advice)
}
