//! What the rules on speaker channels of low impedance share: which channels are judged.

use super::Sheet;
use crate::findings::{Finding, Lack, Report};
use crate::house::{Channel, ChannelLoop, House, SpeakerLine};
use crate::plan::Service;

/// Judges every channel of every speaker line; lines of constant voltage have a rule of their own
/// (`speaker.line-70v`). The channels of a line that is sound as a whole are not looked at one by one.
pub fn judge_low_impedance(
    house: &House<'_>,
    sheet: &Sheet,
    out: &mut Report,
    is_sound: impl Fn(&SpeakerLine) -> bool,
    judge_channel: impl Fn(&Channel<'_>, &ChannelLoop) -> Result<Option<Finding>, Lack>,
) {
    let counts = |run| !house.is_spare(run) && !house.is_tapped(run);
    for (on, lack) in house.hidden_runs(Service::Speaker, counts) {
        out.gap(sheet.id, on, lack);
    }
    for line in house.speaker_lines().iter().filter(|line| !line.is_tapped) {
        if is_sound(line) {
            (0..line.channels).for_each(|_| out.checked());
            continue;
        }
        for (channel, found) in house.speaker_channels(house.line(line)) {
            match found.and_then(|found| judge_channel(&channel, &found)) {
                Err(lack) => out.gap(sheet.id, &house.plan.runs[channel.runs[0]].id, lack),
                Ok(finding) => {
                    out.checked();
                    out.findings.extend(finding);
                }
            }
        }
    }
}
