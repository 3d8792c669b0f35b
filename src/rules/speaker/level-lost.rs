//! A speaker channel that loses level in its own cable.

use serde::Deserialize;

use crate::figures::Figure;
use crate::figures::line::{LineLoss, Segment};
use crate::findings::{Finding, Report};
use crate::house::{Channel, ChannelLoop, House, SpeakerLine, Thicker};
use crate::rules::{Limit, Sheet, judge_low_impedance, over, shown};
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
    let limit = limits.loss.value.base();
    let is_sound = |line: &SpeakerLine| line.most_decibels().is_some_and(|most| most <= limit);
    judge_low_impedance(house, sheet, out, is_sound, |channel, found| {
        let loss = found.loss()?;
        let is_lost = over(loss.value(), limit);
        Ok(is_lost.then(|| finding(house, sheet, limits, channel, &loss, found)))
    });
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
    let thicker = Thicker::of(channel, found);
    let says = format!(
        "{} loses {} dB on the way to {}, advised is at most {limit}",
        house.named(&channel.runs),
        figure3(loss.value()),
        house.end_id(channel),
    );
    let (at, label) = thicker.place(house);
    let finding = sheet.finding(&house.plan.runs[channel.runs[0]].id, says, at, label);
    let does = |segments: Vec<Segment>| {
        LineLoss::of(segments).is_some_and(|loss| !over(loss.value(), limit.base()))
    };
    thicker
        .put_right(house, finding, does)
        .with_figure(shown(loss), limit.base())
        .with_authority(limits.loss.authority.clone())
}
