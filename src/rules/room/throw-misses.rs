//! A projector that stands where its picture does not fit the screen.

use serde::Deserialize;

use crate::figures::Figure;
use crate::figures::picture::{ImageWidth, ThrowDistance};
use crate::findings::{Finding, Lack, Report, Shown};
use crate::house::House;
use crate::plan::EndpointKind;
use crate::rules::{Limit, Sheet, over};
use crate::units::{Distance, Percent, figure3};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    /// How far the distance may lie off, as a share of the one that fits.
    tolerance: Limit<Percent>,
}

/// A projector, its screen, and how far from it the picture fits.
struct Throw {
    projector: usize,
    screen: usize,
    distance: Distance,
    least: ThrowDistance,
    greatest: ThrowDistance,
    ratios: Vec<f64>,
}

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    let share = limits.tolerance.value.base();
    for projector in house.endpoints_of(EndpointKind::Projector) {
        match throw(house, projector) {
            Err((on, lack)) => out.gap(sheet.id, &house.plan.endpoints[on].id, lack),
            Ok(throw) => {
                out.checked();
                let metres = throw.distance.base();
                if over(metres, throw.greatest.value() * (1.0 + share))
                    || over(throw.least.value() * (1.0 - share), metres)
                {
                    out.find(finding(house, sheet, limits, &throw));
                }
            }
        }
    }
    for index in house.kindless() {
        let endpoint = &house.plan.endpoints[index];
        if !endpoint.throw.is_absent()
            && let Err(lack) = endpoint.kind.want("kind", &endpoint.id)
        {
            out.gap(sheet.id, &endpoint.id, lack);
        }
    }
}

/// What a projector's place is judged by, or on which endpoint something is missing.
fn throw(house: &House<'_>, projector: usize) -> Result<Throw, (usize, Lack)> {
    let of_projector = |lack| (projector, lack);
    let (ratios, screen) = house.throw(projector).map_err(of_projector)?;
    let entry = &house.plan.endpoints[screen];
    let width = entry.width.want("width", &entry.id);
    let width = ***width.map_err(|lack| (screen, lack))?;
    let distance = house
        .apart_in_plan(projector, screen)
        .map_err(of_projector)?;
    let needed = |ratio: f64| ThrowDistance::of(ratio, width).ok_or((projector, Lack::Reported));
    Ok(Throw {
        projector,
        screen,
        distance,
        least: needed(ratios[0])?,
        greatest: needed(ratios[ratios.len() - 1])?,
        ratios,
    })
}

fn finding(house: &House<'_>, sheet: &Sheet, limits: &Limits, throw: &Throw) -> Finding {
    let projector = &house.plan.endpoints[throw.projector];
    let screen = &house.plan.endpoints[throw.screen];
    let unit = throw.distance.unit().spelling;
    // In the unit of the points, as the distance between them is.
    let shown = |figure: &ThrowDistance| {
        let length = throw.distance.same_unit(figure.length());
        format!("{} {unit}", figure3(length.number()))
    };
    let (least, greatest) = (shown(&throw.least), shown(&throw.greatest));
    let range = if throw.ratios.len() > 1 {
        format!("{least} to {greatest}")
    } else {
        least
    };
    let found = format!("{} {unit}", figure3(throw.distance.number()));
    let too_far = over(throw.distance.base(), throw.greatest.value());
    let says = format!(
        "{} stands {found} from {}, its picture fits at {range}",
        projector.id, screen.id
    );
    let at = projector.at.span().unwrap_or(projector.span);
    let label = if too_far { "too far" } else { "too near" };
    let mut finding = sheet.finding(&projector.id, says, at, label);
    finding = finding.with_on(&screen.id);
    for (span, label) in [
        (projector.throw.span(), "distance over width"),
        (screen.width.span(), "width to be filled"),
    ] {
        if let Some(span) = span {
            finding = finding.with_mark(span, label);
        }
    }
    let (bound, ratio) = match too_far {
        true => (&throw.greatest, throw.ratios[throw.ratios.len() - 1]),
        false => (&throw.least, throw.ratios[0]),
    };
    let figure = Shown {
        name: ThrowDistance::NAME,
        value: throw.distance.base(),
        unit: ThrowDistance::UNIT,
        working: format!(
            "{found} from {} to {} in plan; {}",
            projector.id,
            screen.id,
            bound.working()
        ),
    };
    finding
        .with_figure(figure, bound.value())
        .with_authority(limits.tolerance.authority.clone())
        .with_put_right(words(house, throw, &range, ratio))
}

/// What would fit: another place, another lens, another screen.
fn words(house: &House<'_>, throw: &Throw, range: &str, ratio: f64) -> String {
    let projector = &house.plan.endpoints[throw.projector].id;
    let mut words = format!("stand {projector} {range} from the screen");
    let width = house.plan.endpoints[throw.screen].width.value();
    if let Some(width) = width {
        let lens = throw.distance.base() / width.base();
        words += &format!(", take a lens with a throw of {}", figure3(lens));
    }
    if let (Some(image), Some(width)) = (ImageWidth::of_throw(throw.distance, ratio), width) {
        let image = width.same_unit(image.length());
        let unit = image.unit().spelling;
        words += &format!(", or a screen {} {unit} wide", figure3(image.number()));
    }
    words
}
