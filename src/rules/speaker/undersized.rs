//! A speaker channel whose loop resistance takes more than its share of the load.

use serde::Deserialize;

use crate::figures::Figure;
use crate::figures::line::{LoopShare, Segment};
use crate::findings::{Finding, Report};
use crate::house::{Channel, ChannelLoop, House, Thicker};
use crate::plan::Service;
use crate::rules::{Limit, Sheet, shown};
use crate::units::{Percent, figure3};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    share_of_load: Limit<Percent>,
}

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    let counts = |run| !house.is_spare(run) && !house.is_tapped(run);
    for (on, lack) in house.hidden_runs(Service::Speaker, counts) {
        out.gap(sheet.id, on, lack);
    }
    for known in house.speaker_lines() {
        // A line of constant voltage loses by its taps: speaker.line-70v.
        if known.is_tapped {
            continue;
        }
        if known
            .most
            .is_some_and(|most| most <= limits.share_of_load.value.number())
        {
            (0..known.channels).for_each(|_| out.checked());
            continue;
        }
        for (channel, found) in house.speaker_channels(house.line(known)) {
            let on = &house.plan.runs[channel.runs[0]].id;
            let found = found.and_then(|found| Ok((found.share()?, found)));
            match found {
                Err(lack) => out.gap(sheet.id, on, lack),
                Ok((share, found)) => {
                    out.checked();
                    if share.value() > limits.share_of_load.value.number() {
                        out.find(finding(house, sheet, limits, &channel, &share, &found));
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
    let thicker = Thicker {
        runs: &channel.runs,
        found,
        end: channel.end,
    };
    let says = format!(
        "{} keeps {} % of the {} of {} in its own resistance, allowed is {limit}",
        house.named(&channel.runs),
        figure3(share.value()),
        found.segments[found.segments.len() - 1].beyond,
        house.end_id(channel),
    );
    let (at, label) = thicker.place(house);
    let finding = sheet.finding(&house.plan.runs[channel.runs[0]].id, says, at, label);
    let load = house
        .endpoint(channel.end)
        .and_then(|end| end.impedance.span());
    let does = |segments: Vec<Segment>| {
        LoopShare::of(segments).is_some_and(|share| share.value() <= limit.number())
    };
    thicker
        .marked(house, finding, load)
        .with_figure(shown(share), limit.number())
        .with_authority(limits.share_of_load.authority.clone())
        .with_put_right(thicker.words(house, does))
        .with_redline(thicker.redline(house, does))
}
