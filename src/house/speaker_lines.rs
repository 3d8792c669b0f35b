//! Speaker lines with the worst of their channels: what most rules on them need to know of most lines.

use super::channel::{Channel, Line};
use super::line::ChannelLoop;
use super::topology::House;
use crate::figures::Figure;
use crate::findings::Lack;
use crate::plan::Service;

/// A speaker line at a glance.
#[derive(Debug)]
pub struct SpeakerLine {
    /// Index among all lines.
    pub line: u32,
    pub channels: u32,
    /// It is of constant voltage.
    pub is_tapped: bool,
    /// The greatest share of its load that any of its channels makes, in percent. `None` where
    /// something is missing for one of them.
    pub most: Option<f64>,
}

impl SpeakerLine {
    /// A bound of what any of its channels loses, in decibel: `20 log10(1 + s) ≤ 20 s / ln 10`.
    pub fn most_decibels(&self) -> Option<f64> {
        Some(self.most? / 100.0 * 20.0 / std::f64::consts::LN_10)
    }
}

impl House<'_> {
    /// All speaker lines in the plan's order.
    pub fn speaker_lines(&self) -> &[SpeakerLine] {
        self.speaker_lines.get_or_init(|| {
            let lines = self.lines().lines.iter().zip(0..);
            let lines = lines.filter(|(line, _)| line.service == Service::Speaker);
            lines
                .map(|(line, index)| {
                    let (mut channels, mut most) = (0, Some(0.0_f64));
                    let beyond = self.beyond(line);
                    for channel in line.channels() {
                        // Runs side by side feed the speaker together, or a part of it each: none keeps more
                        // than it would alone.
                        let found = match line.is_side_by_side() {
                            true => self.loop_alone(&channel, &beyond),
                            false => self.speaker_loop(&channel, &beyond),
                        };
                        let share = found.and_then(|found| found.share());
                        most = most
                            .zip(share.ok())
                            .map(|(most, share)| most.max(share.value()));
                        channels += 1;
                    }
                    SpeakerLine {
                        line: index,
                        channels,
                        is_tapped: self.constant_voltage(line).is_some(),
                        most,
                    }
                })
                .collect()
        })
    }

    /// The line of one.
    pub fn line(&self, known: &SpeakerLine) -> &Line {
        &self.lines().lines[known.line as usize]
    }

    /// The channels of a speaker line, each with its loop.
    pub fn speaker_channels<'l>(
        &self,
        line: &'l Line,
    ) -> impl Iterator<Item = (Channel<'l>, Result<ChannelLoop, Lack>)> {
        let beyond = self.beyond(line);
        line.channels().into_iter().map(move |channel| {
            let found = self.speaker_loop(&channel, &beyond);
            (channel, found)
        })
    }
}
