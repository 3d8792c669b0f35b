//! More copper for a speaker line: which size would do, and what of the plan's own stock.

use super::channel::Channel;
use super::line::{ChannelLoop, SIGNAL_CELSIUS};
use super::topology::{House, Node};
use crate::figures::conductor::Stranding;
use crate::figures::line::{
    AWG_SIZES, LoopShare, METRIC_SIZES, Part, Segment, smallest_size, tied_cores,
};
use crate::findings::{Finding, Redline};
use crate::plan::{Cores, Entry, Service, Stock};
use crate::units::WireSize;
use crate::yaml::Span;

/// The size from which a two-core is hard to bend and terminate (common practice, no source). The
/// same number stands as a limit in `rules/speaker/hard-to-terminate.yaml`, where a test holds
/// them together: no redline may pull what that rule advises against.
pub const STIFF: WireSize = WireSize::Awg(10);

/// A speaker channel that wants less resistance.
pub struct Thicker<'a> {
    /// Indices of its runs, and its loop.
    runs: &'a [usize],
    found: &'a ChannelLoop,
    end: Node,
}

/// What one run of a channel loses, as a share of what is beyond it.
fn lost(segment: Segment) -> f64 {
    LoopShare::of(vec![segment]).map_or(0.0, |share| share.ratio())
}

impl<'a> Thicker<'a> {
    pub fn of(channel: &'a Channel<'_>, found: &'a ChannelLoop) -> Self {
        Self {
            runs: &channel.runs,
            found,
            end: channel.end,
        }
    }

    /// The run that loses most, which is the one to change: its place in the channel.
    fn worst(&self) -> usize {
        let lost = |at: usize| lost(self.found.segments[at]);
        (0..self.runs.len())
            .max_by(|a, b| lost(*a).total_cmp(&lost(*b)))
            .unwrap_or(0)
    }

    /// Where the run that loses most stands, and what it says there.
    pub fn place(&self, house: &House<'_>) -> (Span, String) {
        let run = &house.plan.runs[self.runs[self.worst()]];
        match run.length.stated() {
            Some(length) => (
                length.span,
                format!("{} out and as much back", *length.value),
            ),
            None => (run.span, "estimated length".to_owned()),
        }
    }

    /// Says that all runs and the far speaker are concerned, and marks the core and the load.
    pub fn marked(&self, house: &House<'_>, finding: Finding, load: Option<Span>) -> Finding {
        let mut finding = house
            .with_runs(finding, self.runs)
            .with_on(house.id(self.end));
        let run = &house.plan.runs[self.runs[self.worst()]];
        let cores = house.want_stock(run).ok();
        if let Some(span) = cores.and_then(|stock| stock.cores.span()) {
            finding = finding.with_mark(span, "this size of core");
        }
        match load {
            Some(load) => finding.with_mark(load, "the load"),
            None => finding,
        }
    }

    /// The same for a speaker of stated impedance, with what would do instead, in words and as a redline.
    pub fn put_right(
        &self,
        house: &House<'_>,
        finding: Finding,
        does: impl Fn(Vec<Segment>) -> bool,
    ) -> Finding {
        let speaker = house.endpoint(self.end);
        let load = speaker.and_then(|speaker| speaker.impedance.span());
        self.marked(house, finding, load)
            .with_put_right(self.words(house, &does))
            .with_redline(self.redline(house, does))
    }

    /// The smallest size that would do, and how many cores of the present one, in words. Sizes are
    /// of the series that the plan's own cable is of.
    pub fn words(&self, house: &House<'_>, does: impl Fn(Vec<Segment>) -> bool) -> String {
        let run = &house.plan.runs[self.runs[self.worst()]];
        let cores = house.want_stock(run).ok();
        let size = cores.and_then(|stock| Some(stock.cores.value()?.size));
        // What is offered is of copper, which goes without saying where the present cable is.
        let copper = match cores.is_none_or(|stock| house.is_taken_as_copper(stock)) {
            true => "",
            false => " copper",
        };
        let along = if self.runs.len() > 1 {
            " all the way"
        } else {
            ""
        };
        let sizes = match size {
            Some(WireSize::Metric(_)) => &METRIC_SIZES,
            _ => &AWG_SIZES,
        };
        let segments = &self.found.segments;
        let size = smallest_size(segments, sizes, Stranding::Stranded, 1, &does);
        let mut ways = Vec::new();
        if let Some(size) = size {
            ways.push(format!("pull {size}{copper} or thicker{along}"));
            // What is hard to bend is not offered alone.
            let bends = |size: &&WireSize| size.area() < STIFF.area();
            let bending: Vec<WireSize> = sizes.iter().filter(bends).copied().collect();
            if !bends(&&size)
                && let Some(size) = smallest_size(segments, &bending, Stranding::Stranded, 2, &does)
            {
                ways.push(format!(
                    "pull 4 cores of {size}{copper}{along} and tie 2 for each leg"
                ));
            }
        }
        if let Some(tied) = tied_cores(segments, &does) {
            ways.push(format!(
                "tie {tied} cores of the present size for each leg{along}"
            ));
        }
        if ways.is_empty() {
            return "no common size is enough: stand the amplifier nearer to the speaker".into();
        }
        ways.join(", or ")
    }

    /// The present cable's spare cores tied; or a stock of the plan that is thick enough, of as
    /// many cores as the present one if there is such a one, then the thinnest. Neither may take the last pair
    /// that a front speaker has in reserve, nor be a two-core that is hard to bend.
    pub fn redline(
        &self,
        house: &House<'_>,
        does: impl Fn(Vec<Segment>) -> bool,
    ) -> Option<Redline> {
        let worst = self.worst();
        let index = self.runs[worst];
        let run = &house.plan.runs[index];
        let with = |part: Part| {
            let mut segments = self.found.segments.clone();
            segments[worst].part = part;
            does(segments)
        };
        let present = self.found.segments[worst].part;
        let cores = *house.want_stock(run).ok()?.cores.value()?;
        let tie = |tie: &u32| {
            let tied = u8::try_from(*tie).unwrap_or(1);
            with(Part { tied, ..present }) && !self.takes_reserve(house, index, cores, *tie)
        };
        if let Some(tie) = (2..=cores.count / 2).find(tie) {
            let edit = house.edit(run, &run.tie, "tie", &tie.to_string());
            return house.change(format!("tie {tie} cores of {} for each leg", run.id), edit);
        }
        let enough = |stock: &Entry<Stock>| {
            let wire = house.wire_of(stock, Service::Speaker, SIGNAL_CELSIUS);
            wire.is_ok_and(|wire| with(Part { wire, ..present }))
                && (is_stiff(cores) || !stock.cores.value().is_some_and(|cores| is_stiff(*cores)))
        };
        let order = |stock: &&Entry<Stock>| {
            let own = stock.cores.value().copied().unwrap_or(cores);
            (own.count != cores.count, own.size.area().value)
        };
        let thick = house
            .substitutes(index, Service::Speaker, enough)
            .min_by(|a, b| {
                order(a)
                    .partial_cmp(&order(b))
                    .unwrap_or(std::cmp::Ordering::Equal)
            })?;
        let edit = house.edit(run, &run.stock, "stock", thick.id.as_str());
        house.change(format!("pull {} as {}", run.id, thick.id), edit)
    }

    /// Whether tying more cores leaves a front speaker without a pair in reserve that it has now.
    fn takes_reserve(&self, house: &House<'_>, run: usize, cores: Cores, tie: u32) -> bool {
        let now = house.plan.runs[run].tie.value().map_or(1, |tie| tie.0);
        let spare = |tie: u32| cores.count >= 2 * tie + 2;
        let Some(end) = self.end.endpoint() else {
            return false;
        };
        house.is_front(end) && spare(now) && !spare(tie) && !house.has_spare_speaker_run(end)
    }
}

/// A two-core that is hard to bend and terminate.
pub fn is_stiff(cores: Cores) -> bool {
    cores.count == 2 && cores.size.area() >= STIFF.area()
}
