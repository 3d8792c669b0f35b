//! A speaker channel that loses level in its own cable.

use serde::Deserialize;

use crate::figures::Figure;
use crate::figures::line::{LineLoss, Segment};
use crate::findings::{Finding, Report};
use crate::house::{Channel, ChannelLoop, House, Thicker};
use crate::plan::Service;
use crate::rules::{Limit, Sheet, over, shown};
use crate::units::{Loss, figure3};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    loss: Limit<Loss>,
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
        // A line of constant voltage has its own limits: speaker.line-70v.
        if known.is_tapped {
            continue;
        }
        if known
            .most_decibels()
            .is_some_and(|most| most <= limits.loss.value.base())
        {
            (0..known.channels).for_each(|_| out.checked());
            continue;
        }
        for (channel, found) in house.speaker_channels(house.line(known)) {
            let on = &house.plan.runs[channel.runs[0]].id;
            let found = found.and_then(|found| Ok((found.loss()?, found)));
            match found {
                Err(lack) => out.gap(sheet.id, on, lack),
                Ok((loss, found)) => {
                    out.checked();
                    if over(loss.value(), limits.loss.value.base()) {
                        out.find(finding(house, sheet, limits, &channel, &loss, &found));
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
    loss: &LineLoss,
    found: &ChannelLoop,
) -> Finding {
    let limit = limits.loss.value;
    let thicker = Thicker {
        runs: &channel.runs,
        found,
        end: channel.end,
    };
    let says = format!(
        "{} loses {} dB on the way to {}, advised is at most {limit}",
        house.named(&channel.runs),
        figure3(loss.value()),
        house.end_id(channel),
    );
    let (at, label) = thicker.place(house);
    let finding = sheet.finding(&house.plan.runs[channel.runs[0]].id, says, at, label);
    let load = house
        .endpoint(channel.end)
        .and_then(|end| end.impedance.span());
    let does = |segments: Vec<Segment>| {
        LineLoss::of(segments).is_some_and(|loss| !over(loss.value(), limit.base()))
    };
    thicker
        .marked(house, finding, load)
        .with_figure(shown(loss), limit.base())
        .with_authority(limits.loss.authority.clone())
        .with_put_right(thicker.words(house, does))
        .with_redline(thicker.redline(house, does))
}
