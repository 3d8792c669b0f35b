//! A speaker channel whose loop resistance takes more than its share of the load.

use serde::Deserialize;

use crate::figures::Figure;
use crate::figures::line::{LoopShare, Segment};
use crate::findings::{Finding, Report};
use crate::house::{Channel, ChannelLoop, House, SpeakerLine, Thicker};
use crate::rules::{Limit, Sheet, judge_low_impedance, shown};
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
    let limit = limits.share_of_load.value.number();
    let is_sound = |line: &SpeakerLine| line.most.is_some_and(|most| most <= limit);
    judge_low_impedance(house, sheet, out, is_sound, |channel, found| {
        let share = found.share()?;
        let is_undersized = share.value() > limit;
        Ok(is_undersized.then(|| finding(house, sheet, limits, channel, &share, found)))
    });
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
    let thicker = Thicker::of(channel, found);
    let says = format!(
        "{} keeps {} % of the {} of {} in its own resistance, allowed is {limit}",
        house.named(&channel.runs),
        figure3(share.value()),
        found.segments[found.segments.len() - 1].beyond,
        house.end_id(channel),
    );
    let (at, label) = thicker.place(house);
    let finding = sheet.finding(&house.plan.runs[channel.runs[0]].id, says, at, label);
    let does = |segments: Vec<Segment>| {
        LoopShare::of(segments).is_some_and(|share| share.value() <= limit.number())
    };
    thicker
        .put_right(house, finding, does)
        .with_figure(shown(share), limit.number())
        .with_authority(limits.share_of_load.authority.clone())
}
