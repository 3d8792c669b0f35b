//! A constant-voltage speaker line that loses too much on the way.

use serde::Deserialize;

use crate::figures::Figure;
use crate::figures::constant_voltage::LineVoltageLoss;
use crate::figures::line::{LineLoss, Segment};
use crate::findings::{Finding, Lack, Level, Report, Shown};
use crate::house::{Channel, ChannelLoop, House, SpeakerLine, Supply, Thicker};
use crate::plan::Service;
use crate::rules::{Limit, Sheet, over, shown};
use crate::units::{Loss, Percent, figure3};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    /// Part of the amplifier's power that may stay in the line.
    power: Limit<Percent>,
    /// Level that the farthest speaker may lose.
    level: Limit<Loss>,
}

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    let counts = |run| !house.is_spare(run) && house.is_tapped(run);
    for (on, lack) in house.hidden_runs(Service::Speaker, counts) {
        out.gap(sheet.id, on, lack);
    }
    let within = |known: &SpeakerLine| {
        // No more than its share of the load is lost of the power.
        let power = known
            .most
            .is_some_and(|most| most <= limits.power.value.number());
        let level = known.most_decibels();
        power && level.is_some_and(|level| level <= limits.level.value.base())
    };
    for known in house.speaker_lines().iter().filter(|known| known.is_tapped) {
        let line = house.line(known);
        let Some(supply) = house.constant_voltage(line) else {
            continue;
        };
        if within(known) {
            (0..known.channels).for_each(|_| out.checked());
            continue;
        }
        for (channel, found) in house.speaker_channels(line) {
            let on = &house.plan.runs[channel.runs[0]].id;
            let found = found.and_then(|found| Ok((losses(&found.segments)?, found)));
            match found {
                Err(lack) => out.gap(sheet.id, on, lack),
                Ok(((power, level), found)) => {
                    out.checked();
                    let case = Case {
                        house,
                        channel: &channel,
                        supply: &supply,
                        found: &found,
                    };
                    if over(power.value(), limits.power.value.number()) {
                        out.find(case.by_power(sheet, limits, &power));
                    } else if over(level.value(), limits.level.value.base()) {
                        out.find(case.by_level(sheet, limits, &level));
                    }
                }
            }
        }
    }
}

fn losses(segments: &[Segment]) -> Result<(LineVoltageLoss, LineLoss), Lack> {
    LineVoltageLoss::of(segments.to_vec())
        .zip(LineLoss::of(segments.to_vec()))
        .ok_or(Lack::Reported)
}

/// A channel that loses too much.
struct Case<'a, 'p> {
    house: &'a House<'p>,
    channel: &'a Channel<'a>,
    supply: &'a Supply<'p>,
    found: &'a ChannelLoop,
}

impl Case<'_, '_> {
    fn by_power(&self, sheet: &Sheet, limits: &Limits, loss: &LineVoltageLoss) -> Finding {
        let limit = limits.power.value;
        let says = format!(
            "{} keeps {} % of the power for {} to itself, allowed is {limit}",
            self.house.named(&self.channel.runs),
            figure3(loss.value()),
            self.house.end_id(self.channel),
        );
        let within = |segments: Vec<Segment>| {
            LineVoltageLoss::of(segments).is_some_and(|loss| !over(loss.value(), limit.number()))
        };
        let level = limits.power.level.unwrap_or(sheet.level);
        self.finding(sheet, says, level, shown(loss), limit.number(), within)
            .with_authority(limits.power.authority.clone())
    }

    fn by_level(&self, sheet: &Sheet, limits: &Limits, loss: &LineLoss) -> Finding {
        let limit = limits.level.value;
        let says = format!(
            "{} loses {} dB on the way to {}, advised is at most {limit}",
            self.house.named(&self.channel.runs),
            figure3(loss.value()),
            self.house.end_id(self.channel),
        );
        let within = |segments: Vec<Segment>| {
            LineLoss::of(segments).is_some_and(|loss| !over(loss.value(), limit.base()))
        };
        let level = limits.level.level.unwrap_or(Level::Advice);
        self.finding(sheet, says, level, shown(loss), limit.base(), within)
            .with_authority(limits.level.authority.clone())
    }

    fn finding(
        &self,
        sheet: &Sheet,
        says: String,
        level: Level,
        mut figure: Shown,
        limit: f64,
        within: impl Fn(Vec<Segment>) -> bool,
    ) -> Finding {
        let house = self.house;
        let thicker = Thicker::of(self.channel, self.found);
        let (at, label) = thicker.place(house);
        let first = &house.plan.runs[self.channel.runs[0]].id;
        let mut finding = sheet.finding(first, says, at, label);
        finding.level = level;
        let end = house.endpoint(self.channel.end);
        let volts = end.and_then(|end| house.line_volts(end, self.supply).ok());
        if let (Some(volts), Some(first)) = (volts, self.found.segments.first()) {
            let (ohms, nominal) = (first.beyond.base(), volts.base());
            figure.working += &format!(
                "; {} W of taps at {volts} are {} Ω",
                figure3(nominal * nominal / ohms),
                figure3(ohms)
            );
        }
        let words = thicker.words(house, &within);
        thicker
            .marked(house, finding, end.and_then(|end| end.tap.span()))
            .with_figure(figure, limit)
            .with_put_right(format!("{words}; or set the taps lower"))
            .with_redline(thicker.redline(house, within))
    }
}
