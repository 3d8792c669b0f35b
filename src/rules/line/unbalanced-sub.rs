//! A long unbalanced line to a subwoofer.

use serde::Deserialize;

use crate::figures::Figure;
use crate::figures::route::RouteLength;
use crate::findings::{Finding, Lack, Redline, Report};
use crate::house::{Channel, House};
use crate::plan::{EndpointKind, Region, Service};
use crate::rules::{self, Limit, Sheet, over};
use crate::units::Distance;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    length: Limit<Distance>,
    length_metric: Limit<Distance>,
}

/// Runs up to which an edit changes them all.
const MOST_RUNS: usize = 16;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    let Ok(region) = house.region() else { return };
    for (on, lack) in house.hidden_runs(Service::Line, |run| !house.is_spare(run)) {
        out.gap(sheet.id, on, lack);
    }
    for line in house.lines_of(Service::Line) {
        for channel in line.channels() {
            let is_sub = subwoofer(house, &channel).is_some();
            let end = house.endpoint(channel.end);
            let kind = end.map(|end| end.kind.want("kind", &end.id));
            let may_be = matches!(&kind, Some(Err(_)));
            if !is_sub && !may_be {
                continue;
            }
            let on = &house.plan.runs[channel.runs[0]].id;
            match verdict(house, limits, region, &channel) {
                Err(lack) => out.gap(sheet.id, on, lack),
                // It may be a subwoofer, and too far away for one.
                Ok(found) if !is_sub => {
                    if let (Some(_), Some(Err(lack))) = (found, kind) {
                        out.gap(sheet.id, on, lack);
                    }
                }
                Ok(found) => {
                    out.checked();
                    if let Some((length, limit, loose)) = found {
                        out.find(finding(house, sheet, &channel, &length, limit, &loose));
                    }
                }
            }
        }
    }
}

/// The subwoofer at the end of a channel, or that its end stands in or is the plate of.
fn subwoofer(house: &House<'_>, channel: &Channel<'_>) -> Option<usize> {
    house.served_at(channel.end.endpoint()?, |end| {
        end.kind.value() == Some(&EndpointKind::Subwoofer)
    })
}

type Found<'l> = Option<(RouteLength, &'l Limit<Distance>, Vec<usize>)>;

/// The length, its limit, and the unbalanced runs, where it is too long. A channel that is
/// unbalanced in any part is so as a whole.
fn verdict<'l>(
    house: &House<'_>,
    limits: &'l Limits,
    region: Region,
    channel: &Channel<'_>,
) -> Result<Found<'l>, Lack> {
    house.follow(channel.line)?;
    let (mut loose, mut lack) = (Vec::new(), None);
    for run in &channel.runs {
        let balanced = house
            .want_stock(&house.plan.runs[*run])
            .and_then(|stock| stock.balanced.want("balanced", &stock.id));
        match balanced {
            Ok(balanced) if balanced.0 => {}
            Ok(_) => loose.push(*run),
            Err(missing) => lack = lack.or(Some(missing)),
        }
    }
    if loose.is_empty() && lack.is_none() {
        return Ok(None);
    }
    let limit = [&limits.length, &limits.length_metric]
        .into_iter()
        .find(|limit| limit.holds_in(region));
    let limit = limit.ok_or_else(|| Lack::absent(format!("a limit for {region}")))?;
    let length = house.channel_length(&channel.runs)?;
    match (
        over(length.value(), limit.value.base()),
        loose.is_empty(),
        lack,
    ) {
        (false, ..) => Ok(None),
        (true, true, Some(lack)) => Err(lack),
        (true, ..) => Ok(Some((length, limit, loose))),
    }
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    channel: &Channel<'_>,
    length: &RouteLength,
    limit: &Limit<Distance>,
    loose: &[usize],
) -> Finding {
    let first = &house.plan.runs[channel.runs[0]].id;
    let says = format!(
        "{} is an unbalanced line of {} to the subwoofer {}, advised is {}",
        house.named(&channel.runs),
        length.words(),
        subwoofer(house, channel).map_or(first, |at| &house.plan.endpoints[at].id),
        limit.value.beside(length.distance()),
    );
    let longest = house.longest(&channel.runs).unwrap_or(channel.runs[0]);
    let (at, label) = house.length_mark(longest, channel.runs.len() == 1);
    let finding = sheet.finding(first, says, at, label);
    let mut finding = house.with_lengths(finding, &channel.runs, longest);
    finding = finding.with_on(house.end_id(channel));
    if let Some(at) = subwoofer(house, channel).filter(|at| Some(*at) != channel.end.endpoint()) {
        finding = finding.with_on(&house.plan.endpoints[at].id);
    }
    if let Some(balanced) = loose
        .first()
        .and_then(|run| house.want_stock(&house.plan.runs[*run]).ok())
        .and_then(|stock| stock.balanced.span())
    {
        finding = finding.with_lesser_mark(balanced, "not balanced");
    }
    let figure = rules::shown(length);
    finding
        .with_figure(figure, limit.value.base())
        .with_authority(limit.authority.clone())
        .with_redline(redline(house, loose))
}

/// Every unbalanced run in a balanced stock of the plan.
fn redline(house: &House<'_>, loose: &[usize]) -> Option<Redline> {
    if loose.len() > MOST_RUNS {
        return None;
    }
    let mut pulls = Vec::new();
    for index in loose {
        let balanced =
            |stock: &crate::plan::Stock| stock.balanced.value().is_some_and(|balanced| balanced.0);
        let stock = house
            .substitutes(*index, Service::Line, |stock| balanced(stock))
            .next()?;
        pulls.push((*index, stock));
    }
    house.pull_as(&pulls)
}
