//! A conduit that nothing more can be pulled through: no string in it, or no room.

use crate::figures::Figure;
use crate::figures::fill::Fill;
use crate::findings::{Finding, Report, Shown};
use crate::house::{Filling, House};
use crate::plan::{Entry, Pathway, Region, Service};
use crate::rules::{FillLimits, Sheet};
use crate::units::{Distance, figure3};

pub use crate::rules::FillLimits as Limits;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    let Ok(region) = house.region() else { return };
    for (index, conduit) in house.conduits() {
        let runs = house.runs_in(index);
        // Building wire is never added to in a conduit that it fills alone.
        if !runs.is_empty()
            && runs
                .iter()
                .all(|run| house.service(*run as usize) == Some(Service::Power))
        {
            continue;
        }
        match conduit.pull_string.want("pull-string", &conduit.id) {
            Err(lack) => out.gap(sheet.id, &conduit.id, lack),
            Ok(string) => {
                out.checked();
                if !string.0 {
                    out.find(no_string(house, sheet, conduit, string.span));
                }
            }
        }
        if runs.is_empty() {
            continue;
        }
        let room = house
            .filling(index)
            .and_then(|filling| Ok((limits.has_room(conduit, &filling, region)?, filling)));
        match room {
            Err(lack) => out.gap(sheet.id, &conduit.id, lack),
            Ok((has_room, filling)) => {
                out.checked();
                if let (false, Some(thickest)) = (has_room, filling.thickest_signal) {
                    out.find(no_room(
                        house, sheet, limits, index, &filling, thickest, region,
                    ));
                }
            }
        }
    }
}

fn no_string(
    house: &House<'_>,
    sheet: &Sheet,
    conduit: &Entry<Pathway>,
    at: crate::yaml::Span,
) -> Finding {
    let says = format!("{} has no pull string in it", conduit.id);
    let edit = house.edit(conduit, &conduit.pull_string, "pull-string", "yes");
    sheet
        .finding(&conduit.id, says, at, "no string")
        .with_redline(house.change(format!("leave a pull string in {}", conduit.id), edit))
}

fn no_room(
    house: &House<'_>,
    sheet: &Sheet,
    limits: &Limits,
    index: usize,
    filling: &Filling,
    thickest: Distance,
    region: Region,
) -> Finding {
    let conduit = &house.plan.pathways[index];
    let limit = limits.allowed(conduit, filling, filling.counted + 1, region);
    let mut cables = filling.diameters();
    cables.push(thickest);
    let with_one_more = |bore| Fill::of(bore, cables.clone());
    let more = house.bore(conduit).ok().and_then(with_one_more);
    let percent = more.as_ref().map_or(0.0, Fill::value);
    let with = if filling.occupants.len() < filling.cables {
        format!("{} and one more of {thickest}", filling.counted())
    } else {
        format!("one more cable of {thickest}")
    };
    let says = format!(
        "{} would be {}{} % full with {with}, allowed is {}",
        conduit.id,
        filling.at_least(),
        figure3(percent),
        limit.value,
    );
    let at = conduit
        .bore
        .span()
        .or(conduit.size.span())
        .unwrap_or(conduit.span);
    let mut finding = sheet
        .finding(&conduit.id, says, at, "this wide")
        .with_authority(limit.authority.clone());
    if let Some(more) = &more {
        let figure = Shown {
            name: Fill::NAME,
            value: percent,
            unit: Fill::UNIT,
            working: more.working(),
        };
        finding = finding.with_figure(figure, limit.value.number());
    }
    let thick = filling.occupants.iter().find(|cable| {
        cable.diameter == thickest && house.service(cable.run) != Some(Service::Power)
    });
    let stock = thick.and_then(|cable| house.want_stock(&house.plan.runs[cable.run]).ok());
    if let Some(span) = stock.and_then(|stock| stock.diameter.span()) {
        finding = finding.with_mark(span, "its thickest signal cable");
    }
    let all_known = filling.lack.is_none();
    let larger = house.larger_size(index, |bore| {
        all_known
            && with_one_more(bore).is_some_and(|fill| !FillLimits::is_over(fill.value(), limit))
    });
    match (larger, conduit.make.value()) {
        (Some(size), Some(make)) => {
            let edit = house.edit(conduit, &conduit.size, "size", size);
            finding
                .with_put_right(format!(
                    "use {make} of size {size} or larger, or lay a second conduit beside it"
                ))
                .with_redline(house.change(format!("make {} of size {size}", conduit.id), edit))
        }
        _ => finding.with_put_right("lay a second conduit beside it"),
    }
}
