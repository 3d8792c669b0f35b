//! Nothing solid in the wall behind something heavy.

use serde::Deserialize;

use crate::findings::{Finding, Lack, Report};
use crate::house::{House, Mounting, hangs};
use crate::plan::{Endpoint, EndpointKind as Kind, Entry};
use crate::rules::{Limit, Sheet, over};
use crate::units::{Distance, Kilograms};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    /// What a loudspeaker may weigh and still hang on the wall's board.
    heavy_speaker: Limit<Kilograms>,
    /// How low something must be to stand on the floor.
    on_the_floor: Limit<Distance>,
}

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    let low = limits.on_the_floor.value;
    for kind in [Kind::Projector, Kind::Display, Kind::Screen, Kind::Speaker] {
        for index in house.endpoints_of(kind) {
            if house.mounting(index, low) != Mounting::Hung {
                continue;
            }
            let endpoint = &house.plan.endpoints[index];
            match needs(endpoint, limits) {
                Ok(true) => {
                    out.checked();
                    out.find(finding(house, sheet, endpoint, limits));
                }
                Ok(false) => out.checked(),
                Err(lack) => out.gap(sheet.id, &endpoint.id, lack),
            }
        }
    }
    // It may be one of these.
    for index in house.kindless() {
        let endpoint = &house.plan.endpoints[index];
        if !endpoint.backing.is_absent()
            && house.mounting(index, low) == Mounting::Hung
            && let Err(lack) = endpoint.kind.want("kind", &endpoint.id)
        {
            out.gap(sheet.id, &endpoint.id, lack);
        }
    }
}

/// Whether backing is needed and not there.
fn needs(endpoint: &Entry<Endpoint>, limits: &Limits) -> Result<bool, Lack> {
    if endpoint.backing.value().is_some_and(|backing| backing.0) {
        return Ok(false);
    }
    let heavy = match hangs(endpoint) {
        Some(hangs) => hangs,
        None => {
            let weight = endpoint.weight.want("weight", &endpoint.id)?;
            over(weight.base(), limits.heavy_speaker.value.base())
        }
    };
    if !heavy {
        return Ok(false);
    }
    endpoint.backing.want("backing", &endpoint.id)?;
    Ok(true)
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    endpoint: &Entry<Endpoint>,
    limits: &Limits,
) -> Finding {
    let kind = endpoint.kind.value().map_or("", |kind| kind.word());
    let at = endpoint.backing.span().unwrap_or(endpoint.span);
    let (says, weight) = match endpoint.weight.stated() {
        Some(weight) if kind == Kind::Speaker.word() => (
            format!(
                "{} weighs {} and has no backing, which it needs over {}",
                endpoint.id,
                ***weight,
                weight
                    .same_unit(limits.heavy_speaker.value.quantity())
                    .to_hundredths()
            ),
            Some(weight.span),
        ),
        _ => (
            format!("{} is a {kind} and has no backing", endpoint.id),
            None,
        ),
    };
    let mut finding = sheet.finding(&endpoint.id, says, at, "nothing solid behind it");
    if let Some(weight) = weight {
        finding = finding
            .with_mark(weight, "what has to be held")
            .with_authority(limits.heavy_speaker.authority.clone());
    }
    let edit = house.edit(endpoint, &endpoint.backing, "backing", "yes");
    finding.with_redline(house.change(format!("set blocking behind {}", endpoint.id), edit))
}
