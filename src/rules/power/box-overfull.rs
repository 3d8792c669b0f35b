//! A box with less volume than its conductors and devices need.

use crate::figures::boxfill::{BoxFill, Content};
use crate::findings::{Finding, Id, Lack, Redline, Report};
use crate::house::{Boxed, House};
use crate::plan::{Endpoint, EndpointKind, Entry, Region};
use crate::rules::{Sheet, shown};
use crate::tables::boxes::boxes;
use crate::tables::edition::Edition;
use crate::units::Space;

pub use crate::rules::NoLimits as Limits;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let (Ok(region), Ok(edition)) = (house.region(), house.edition()) else {
        return;
    };
    for (index, endpoint) in house.plan.endpoints.iter().enumerate() {
        if !house.is_power_box(index) {
            continue;
        }
        if region != Region::Us {
            // The region's, so once, however many boxes there are.
            let lack = Lack::absent(format!("a limit for {region} (the volume of boxes)"));
            out.gap(sheet.id, &Id::new("plan"), lack);
            return;
        }
        match verdict(house, index, edition) {
            Err(lack) => out.gap(sheet.id, &endpoint.id, lack),
            Ok(found) => {
                out.checked();
                if let Some(found) = found {
                    out.find(finding(house, sheet, edition, index, &found));
                }
            }
        }
    }
}

/// A box that is too small.
struct Found {
    boxed: Boxed,
    fill: BoxFill,
    /// With clamps, where the plan does not say that there are none.
    most: BoxFill,
    volume: Space,
}

/// # Errors
/// What is missing to know, unless the box is too small for what is known to be in it.
fn verdict(house: &House<'_>, index: usize, edition: Edition) -> Result<Option<Found>, Lack> {
    let endpoint = &house.plan.endpoints[index];
    let volume = ***endpoint.volume.want("volume", &endpoint.id)?;
    let boxed = house.boxed(index);
    let with = |clamps: bool| {
        let content = Content {
            clamps,
            ..boxed.content.clone()
        };
        let none = || Lack::absent(format!("the volume of the conductors in {}", endpoint.id));
        BoxFill::of(&content, edition).ok_or_else(none)
    };
    let fill = with(boxed.clamps == Ok(true))?;
    if !fill.fits(volume) {
        let most = with(boxed.clamps != Ok(false))?;
        return Ok(Some(Found {
            boxed,
            fill,
            most,
            volume,
        }));
    }
    if let Some(lack) = boxed.lack {
        return Err(lack);
    }
    if let Err(lack) = &boxed.clamps
        && !with(true)?.fits(volume)
    {
        return Err(lack.clone());
    }
    Ok(None)
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    edition: Edition,
    index: usize,
    found: &Found,
) -> Finding {
    let endpoint = &house.plan.endpoints[index];
    let needs = found.volume.same_unit(found.fill.volume());
    let at_least = if found.boxed.lack.is_some() {
        "at least "
    } else {
        ""
    };
    let says = format!(
        "{} needs {at_least}{} for what is in it, its volume is {}",
        endpoint.id,
        needs.rounded_words(),
        found.volume,
    );
    let at = endpoint.volume.span().unwrap_or(endpoint.span);
    let mut finding = sheet.finding(&endpoint.id, says, at, "this volume");
    let runs = || found.boxed.runs.iter().map(|run| &house.plan.runs[*run]);
    for run in runs().take(8) {
        finding = finding.with_on(&run.id);
    }
    for (nth, run) in runs().take(2).enumerate() {
        let label = ["ends in it", "and this"][nth];
        finding = finding.with_mark(run.span, label);
    }
    let larger = larger(endpoint, &found.most);
    let advice = match larger {
        Some((name, volume)) => {
            format!("set a box of {volume} or more ({name}), or end a cable elsewhere")
        }
        None => "end some of the cables in another box: no common box is large enough".to_owned(),
    };
    let limit = found.volume.base() * 1e6;
    finding
        .with_figure(shown(&found.fill), limit)
        .with_authority(format!(
            "NEC 314.16(B), from memory; judged by {}",
            house.edition_words(edition)
        ))
        .with_put_right(advice)
        .with_redline(redline(house, index, found, larger))
}

/// The smallest common box that will do: one for a device where a device is in it.
fn larger(endpoint: &Endpoint, needs: &BoxFill) -> Option<(&'static str, Space)> {
    let joint = endpoint.kind.value() == Some(&EndpointKind::Box);
    let will_do = boxes().filter(|(name, volume)| {
        needs.fits(*volume) && (name.ends_with("square") || !joint && name.ends_with("device"))
    });
    will_do.min_by(|a, b| a.1.base().total_cmp(&b.1.base()))
}

fn redline(
    house: &House<'_>,
    index: usize,
    found: &Found,
    larger: Option<(&'static str, Space)>,
) -> Option<Redline> {
    let endpoint: &Entry<Endpoint> = &house.plan.endpoints[index];
    let (name, volume) = larger.filter(|_| found.boxed.lack.is_none())?;
    let edit = house.edit(endpoint, &endpoint.volume, "volume", &volume.to_string());
    house.change(
        format!("set a box of {volume} ({name}) for {}", endpoint.id),
        edit,
    )
}
