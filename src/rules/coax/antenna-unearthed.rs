//! An outdoor antenna, or the entry of a coaxial cable, that is not bonded to earth.

use serde::Deserialize;

use crate::findings::{Finding, Lack, Report};
use crate::house::{House, Node};
use crate::plan::{EndpointKind, Region, RoomKind, Service};
use crate::rules::{Limit, Sheet};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    bonding_us: Limit<String>,
    bonding_ca: Limit<String>,
    bonding_eu: Limit<String>,
}

impl Limits {
    fn of(&self, region: Region) -> Option<&Limit<String>> {
        [&self.bonding_us, &self.bonding_ca, &self.bonding_eu]
            .into_iter()
            .find(|limit| limit.holds_in(region))
    }
}

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    let Ok(region) = house.region() else { return };
    for kind in [EndpointKind::Antenna, EndpointKind::Entry] {
        for index in house.endpoints_of(kind) {
            let Some(run) = coax_run(house, index) else {
                continue;
            };
            let endpoint = &house.plan.endpoints[index];
            if kind == EndpointKind::Antenna && is_indoors(house, index) {
                out.checked();
                continue;
            }
            let bonded = endpoint.bonded.want("bonded", &endpoint.id);
            let limit = limits.of(region);
            match (bonded, limit) {
                (Ok(bonded), _) if bonded.0 => out.checked(),
                (_, None) => {
                    let lack = Lack::absent(format!("a limit for {region}"));
                    out.loud_gap(sheet.id, &endpoint.id, lack);
                }
                (Err(lack), _) => out.loud_gap(sheet.id, &endpoint.id, lack),
                (Ok(_), Some(limit)) => {
                    out.checked();
                    out.find(finding(house, sheet, limit, index, run));
                }
            }
        }
    }
}

/// A coaxial run that ends at an endpoint or at what stands in it.
fn coax_run(house: &House<'_>, index: usize) -> Option<usize> {
    let at = |at: &usize| {
        let node = Node::of_endpoint(*at);
        let coax =
            |run: &usize| house.service(*run) == Some(Service::Coax) && !house.is_spare(*run);
        house.runs_at(node).find(coax)
    };
    house.with_members(index).iter().find_map(at)
}

fn is_indoors(house: &House<'_>, index: usize) -> bool {
    let kind = house
        .standing(index)
        .room
        .and_then(|room| room.kind.value());
    kind.is_some_and(|kind| *kind != RoomKind::Outdoors)
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    limit: &Limit<String>,
    index: usize,
    run: usize,
) -> Finding {
    let endpoint = &house.plan.endpoints[index];
    let run = &house.plan.runs[run];
    let what = match endpoint.kind.value() {
        Some(EndpointKind::Entry) => "the shield of the cable that comes in",
        _ => "its mast and the shield of its cable",
    };
    let says = format!(
        "{} is not bonded to the earth of the building, {what} must be",
        endpoint.id
    );
    let at = endpoint.bonded.span().unwrap_or(endpoint.span);
    // The clause moved between editions.
    let authority = match (house.region(), house.edition()) {
        (Ok(Region::Us), Ok(edition)) => {
            let words = house.edition_words(edition);
            format!("{}; judged by {words}", limit.authority)
        }
        _ => limit.authority.clone(),
    };
    sheet
        .finding(&endpoint.id, says, at, "not bonded")
        .with_on(&run.id)
        .with_mark(run.span, "its cable")
        .with_authority(authority)
}
