//! A speaker channel whose loop resistance takes more than its share of the load.

use serde::Deserialize;

use crate::figures::Figure;
use crate::figures::conductor::Stranding;
use crate::figures::line::{AWG_SIZES, LoopShare, METRIC_SIZES, Part, Segment};
use crate::findings::{Finding, Lack, Redline, Report};
use crate::house::{Channel, ChannelLoop, House, SIGNAL_CELSIUS};
use crate::plan::Service;
use crate::rules::{Limit, Sheet, shown};
use crate::units::{Percent, WireSize, figure3};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    share_of_load: Limit<Percent>,
}

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    for line in house.lines_of(Service::Speaker) {
        let beyond = house.beyond(line);
        for channel in line.channels() {
            let on = &house.plan.runs[channel.runs[0]].id;
            let found = house
                .speaker_loop(&channel, &beyond)
                .and_then(|found| Ok((found.share()?, found)));
            match found {
                Err(lack) => out.gap(sheet.id, on, lack),
                Ok((share, found)) => {
                    out.checked();
                    if share.value() > limits.share_of_load.value.number() {
                        out.find(finding(house, sheet, &limits, &channel, &share, &found));
                    }
                }
            }
        }
    }
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    limits: &Limits,
    channel: &Channel<'_>,
    share: &LoopShare,
    found: &ChannelLoop,
) -> Finding {
    let limit = limits.share_of_load.value;
    // The run that loses most is the one to change.
    let worst = (0..channel.runs.len())
        .max_by(|a, b| lost(found, *a).total_cmp(&lost(found, *b)))
        .unwrap_or(0);
    let run = &house.plan.runs[channel.runs[worst]];
    let end = house.end_id(channel);
    let runs: Vec<_> = channel
        .runs
        .iter()
        .map(|run| house.plan.runs[*run].id.as_str())
        .collect();
    let says = format!(
        "{} keeps {} % of the {} of {end} in its own resistance, allowed is {limit}",
        runs.join(" with "),
        figure3(share.value()),
        found.segments[found.segments.len() - 1].beyond,
    );
    let (at, label) = match run.length.stated() {
        Some(length) => (
            length.span,
            format!("{} out and as much back", *length.value),
        ),
        None => (run.span, "estimated length".to_owned()),
    };
    let mut finding = sheet.finding(&house.plan.runs[channel.runs[0]].id, says, at, label);
    for run in &channel.runs {
        finding = finding.with_on(&house.plan.runs[*run].id);
    }
    finding = finding.with_on(end);
    if let Ok(stock) = house.want_stock(run)
        && let Some(cores) = stock.cores.stated()
    {
        finding = finding.with_mark(cores.span, "this size of core");
    }
    if let Some(impedance) = house
        .endpoint(channel.end)
        .and_then(|end| end.impedance.stated())
    {
        finding = finding.with_mark(impedance.span, "the load");
    }
    let figure = shown(share);
    finding
        .with_figure(figure, limit.number())
        .with_authority(limits.share_of_load.authority.clone())
        .with_put_right(advice(share, found, worst, limit.number()))
        .with_redline(redline(house, channel, found, worst, limit.number()))
}

/// What one run of the channel loses, as a share of what is beyond it.
fn lost(found: &ChannelLoop, at: usize) -> f64 {
    LoopShare::of(vec![found.segments[at]]).map_or(0.0, |share| share.ratio())
}

/// The smallest size that would do, and how many cores of the present one.
fn advice(share: &LoopShare, found: &ChannelLoop, worst: usize, limit: f64) -> String {
    let metric = found.segments[worst]
        .part
        .length
        .unit()
        .spelling
        .ends_with('m');
    let sizes = if metric { &METRIC_SIZES } else { &AWG_SIZES };
    let size = share.smallest_size(sizes, Stranding::Stranded, limit);
    let tied = share.tied_cores(limit);
    match (size, tied) {
        (Some(size), Some(tied)) => {
            format!("pull {size} or thicker, or tie {tied} cores of the present size for each leg")
        }
        (Some(size), None) => format!("pull {size} or thicker"),
        (None, Some(tied)) => format!("tie {tied} cores of the present size for each leg"),
        (None, None) => {
            "no common size is enough: stand the amplifier nearer to the speaker".into()
        }
    }
}

/// A stock of the plan that is thick enough, the thinnest of those; or the present one's spare
/// cores tied.
fn redline(
    house: &House<'_>,
    channel: &Channel<'_>,
    found: &ChannelLoop,
    worst: usize,
    limit: f64,
) -> Option<Redline> {
    let index = channel.runs[worst];
    let run = &house.plan.runs[index];
    let with = |part: Part| {
        let mut segments = found.segments.clone();
        segments[worst] = Segment {
            part,
            ..segments[worst]
        };
        LoopShare::of(segments).is_some_and(|share| share.value() <= limit)
    };
    let present = found.segments[worst].part;
    let cores = house.want_stock(run).ok()?.cores.value()?.count;
    let ties = (2..=cores / 2).find(|tie| {
        with(Part {
            tied: u8::try_from(*tie).unwrap_or(1),
            ..present
        })
    });
    if let Some(tie) = ties {
        let edit = house.edit(run, &run.tie, "tie", &tie.to_string());
        return house.change(format!("tie {tie} cores of {} for each leg", run.id), edit);
    }
    let wire = |stock: &crate::plan::Stock| -> Result<_, Lack> {
        let size = stock.cores.value().ok_or(Lack::Reported)?.size;
        let stranding = house.stranding(stock, Service::Speaker)?;
        let material = house.material(stock)?;
        crate::figures::conductor::one_way(size, material, stranding, SIGNAL_CELSIUS)
            .ok_or(Lack::Reported)
    };
    let area = |size: WireSize| size.area();
    let thick = house
        .substitutes(index, Service::Speaker, |stock| {
            wire(stock).is_ok_and(|wire| with(Part { wire, ..present }))
        })
        .min_by(|a, b| {
            let size =
                |stock: &crate::plan::Stock| stock.cores.value().map(|cores| area(cores.size));
            size(a)
                .partial_cmp(&size(b))
                .unwrap_or(std::cmp::Ordering::Equal)
        })?;
    let edit = house.edit(run, &run.stock, "stock", thick.id.as_str());
    house.change(format!("pull {} as {}", run.id, thick.id), edit)
}
