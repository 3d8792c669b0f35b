//! Data channels: runs in series from one device or panel to another.
//!
//! A data run goes on as one other run and never branches. Where three or more meet, at a panel, it
//! is the cords there that join them to what they serve, and each run's channel ends.

use std::collections::HashMap;

use super::channel::Line;
use super::kinds::{is_passive, is_sink};
use super::topology::{House, Node, small};
use crate::figures::insertion::{DataChannel as Channel, InsertionLoss};
use crate::figures::route::RouteLength;
use crate::findings::{Id, Lack};
use crate::plan::{Endpoint, EndpointKind, Entry, Run, Service, Stock};
use crate::tables::categories::{Category, all, named};
use crate::units::{Distance, Length, unit};

/// Conductor size of cords, where nothing says otherwise: 24 AWG, the thicker of the two that TIA-568 reckons with.
pub const CORD_GAUGE: i8 = 24;
/// Temperature of data cable where the plan names none, in °C: that of the standards' losses.
pub const DATA_CELSIUS: f64 = 20.0;
/// The warmest that the standards rate data cable for, in °C (TIA-568.2-D, from memory).
pub const HOTTEST_CELSIUS: f64 = 60.0;

/// All data channels of a plan.
#[derive(Debug, Default)]
pub struct DataChannels {
    runs: Vec<usize>,
    /// First run and number of runs in `runs`, where it starts, where it ends.
    channels: Vec<(u32, u32, Node, Node)>,
    /// For each run of the plan its channel, where it is in one.
    of_run: Vec<u32>,
}

/// One data channel.
#[derive(Debug, Clone, Copy)]
pub struct DataChannel<'a> {
    /// Indices of runs in the plan, from the source on.
    pub runs: &'a [usize],
    pub source: Node,
    pub end: Node,
}

/// The cords of a channel, at both ends together.
#[derive(Debug, Clone, Copy)]
pub struct Cords {
    pub length: Distance,
    /// The plan states it; else it is what the standard leaves for cords.
    pub stated: bool,
}

/// What a channel's loss depends on besides its lengths, from the best that the plan leaves open to
/// the worst.
#[derive(Debug)]
pub struct LossBounds<'p> {
    pub best: Channel,
    /// Each is worse than the one before it, by what the plan leaves open.
    pub worse: [Option<(Channel, Open<'p>)>; 3],
}

/// What the plan leaves open.
#[derive(Debug, Clone, Copy)]
pub enum Open<'p> {
    Ambient(&'p Entry<Run>),
    Shields(&'p Entry<Stock>),
    Kind(&'p Entry<Endpoint>),
}

impl Open<'_> {
    pub fn lack(self) -> Lack {
        Lack::absent(match self {
            Self::Ambient(run) => format!("ambient of {}", run.id),
            Self::Shields(stock) => format!("shields of {}", stock.id),
            Self::Kind(endpoint) => format!("kind of {}", endpoint.id),
        })
    }
}

impl<'p> House<'p> {
    /// The data channels of the plan, spares left out.
    pub fn data_channels(&self) -> impl Iterator<Item = DataChannel<'_>> {
        let all = self.all_data_channels();
        all.channels.iter().map(|channel| all.channel(*channel))
    }

    /// The channel that a data run is part of.
    pub fn data_channel_of(&self, run: usize) -> Option<DataChannel<'_>> {
        let all = self.all_data_channels();
        let at = *all.of_run.get(run)? as usize;
        all.channels.get(at).map(|channel| all.channel(*channel))
    }

    fn all_data_channels(&self) -> &DataChannels {
        self.data.get_or_init(|| {
            let mut all = DataChannels::default();
            for line in self.lines_of(Service::Data) {
                match &line.steps[..] {
                    [one] => all.add(&[one.run as usize], line.source, one.end),
                    _ => self.split(line, &mut all),
                }
            }
            all.of_run = vec![
                u32::MAX;
                if all.runs.is_empty() {
                    0
                } else {
                    self.plan.runs.len()
                }
            ];
            for (at, (first, count, ..)) in all.channels.iter().enumerate() {
                for run in &all.runs[*first as usize..(first + count) as usize] {
                    all.of_run[*run] = small(at);
                }
            }
            all
        })
    }

    /// The channels of a line of several runs: it goes on only where exactly two meet.
    fn split(&self, line: &Line, all: &mut DataChannels) {
        let mut meet: HashMap<Node, u32> = HashMap::new();
        for step in &line.steps {
            if let Some((from, to)) = self.ends(step.run as usize) {
                *meet.entry(from).or_default() += 1;
                *meet.entry(to).or_default() += 1;
            }
        }
        let before = |at: usize| {
            let before = line.steps[at].before? as usize;
            let joint = line.steps[before].end;
            (meet.get(&joint) == Some(&2)).then_some(before)
        };
        let mut next = vec![None; line.steps.len()];
        for at in 0..line.steps.len() {
            if let Some(before) = before(at) {
                next[before] = Some(at);
            }
        }
        let mut runs = Vec::new();
        for head in (0..line.steps.len()).filter(|at| before(*at).is_none()) {
            runs.clear();
            let mut last = head;
            for at in std::iter::successors(Some(head), |at| next[*at]) {
                runs.push(line.steps[at].run as usize);
                last = at;
            }
            let step = &line.steps[head];
            let source = self.other_end(step.run as usize, step.end);
            let source = source.unwrap_or(line.source);
            self.add_homed(&mut runs, source, line.steps[last].end, all);
        }
    }

    /// A chain of runs; where both its ends are outlets or devices, two that come home to the panel between them.
    fn add_homed(&self, runs: &mut [usize], source: Node, end: Node, all: &mut DataChannels) {
        let is_sink = |node| {
            self.endpoint(node)
                .is_some_and(|endpoint| is_sink(endpoint))
        };
        if is_sink(source) && is_sink(end) {
            let mut at = source;
            for count in 1..runs.len() {
                at = self.other_end(runs[count - 1], at).unwrap_or(at);
                let kind = self.endpoint(at).and_then(|endpoint| endpoint.kind.value());
                if matches!(
                    kind,
                    Some(EndpointKind::PatchPanel | EndpointKind::Distribution)
                ) {
                    let (near, far) = runs.split_at_mut(count);
                    near.reverse();
                    all.add(near, at, source);
                    all.add(far, at, end);
                    return;
                }
            }
        }
        all.add(runs, source, end);
    }

    /// The fixed cable of a channel in metre, without its cords.
    ///
    /// # Errors
    /// A run has no length and none can be estimated.
    pub fn link_metres(&self, channel: &DataChannel<'_>) -> Result<f64, Lack> {
        let mut metres = 0.0;
        for run in channel.runs {
            metres += self.length(*run)?.distance().base();
        }
        Ok(metres)
    }

    /// Length of a channel with the cords that the plan states.
    ///
    /// # Errors
    /// A run has no length and none can be estimated, or cords could not be read.
    pub fn data_length(&self, channel: &DataChannel<'_>) -> Result<RouteLength, Lack> {
        let link = self.channel_length(channel.runs)?;
        match self.stated_cords(channel)? {
            None => Ok(link),
            Some(cords) => link.with_cords(cords).ok_or(Lack::Reported),
        }
    }

    /// The category of a channel: that of its weakest cable.
    ///
    /// # Errors
    /// What is missing, and of which stock or run.
    pub fn category(&self, channel: &DataChannel<'_>) -> Result<Category, (&'p Id, Lack)> {
        let mut weakest: Option<Category> = None;
        for run in channel.runs {
            let run = &self.plan.runs[*run];
            let stock = self.want_stock(run).map_err(|lack| (&run.id, lack))?;
            let category = self.category_of(stock).map_err(|lack| (&stock.id, lack))?;
            if weakest.is_none_or(|known| category.top_megahertz() < known.top_megahertz()) {
                weakest = Some(category);
            }
        }
        let first = &self.plan.runs[channel.runs[0]].id;
        weakest.ok_or((first, Lack::Reported))
    }

    /// The category of a stock.
    ///
    /// # Errors
    /// It states no grade, or one of another service.
    pub fn category_of(&self, stock: &Entry<Stock>) -> Result<Category, Lack> {
        let grade = stock.grade.want("grade", &stock.id)?;
        let none = || Lack::absent(format!("a category of data cable of {}", stock.id));
        named(grade.word()).ok_or_else(none)
    }

    /// The cords that the plan states for a channel, together.
    ///
    /// # Errors
    /// They could not be read.
    pub fn stated_cords(&self, channel: &DataChannel<'_>) -> Result<Option<Distance>, Lack> {
        let mut total: Option<Distance> = None;
        for run in channel.runs {
            let cords = &self.plan.runs[*run].cords;
            if cords.is_bad() {
                return Err(Lack::Reported);
            }
            let Some(cords) = cords.value() else { continue };
            total = Some(match total {
                None => **cords,
                Some(total) => {
                    let metres = total.base() + cords.base();
                    total.same_unit(Length::new::<unit::meter>(metres))
                }
            });
        }
        Ok(total)
    }

    /// The cords of a channel; where the plan states none, what its category leaves for them (10 m, Cat 8 6 m), and
    /// 10 m where that is not known.
    ///
    /// # Errors
    /// They could not be read.
    pub fn cords(&self, channel: &DataChannel<'_>) -> Result<Cords, Lack> {
        if let Some(length) = self.stated_cords(channel)? {
            return Ok(Cords {
                length,
                stated: true,
            });
        }
        let room = |category: Category| category.channel_metres() - category.link_metres();
        let metres = match self.category(channel) {
            Ok(category) => room(category),
            Err(_) => all().map(room).fold(0.0, f64::max),
        };
        Ok(Cords {
            length: Distance::new(metres, "m").ok_or(Lack::Reported)?,
            stated: false,
        })
    }

    /// What a channel of a category loses, from the best that the plan leaves open to the worst.
    ///
    /// # Errors
    /// A length is missing, or a value could not be read.
    pub fn loss_bounds(
        &self,
        channel: &DataChannel<'_>,
        category: Category,
    ) -> Result<LossBounds<'p>, Lack> {
        let (mut celsius, mut no_ambient) = (DATA_CELSIUS, None);
        let (mut screened, mut no_shields) = (true, None);
        for run in channel.runs {
            let run = &self.plan.runs[*run];
            if run.ambient.is_bad() {
                return Err(Lack::Reported);
            }
            match run.ambient.value() {
                Some(ambient) => celsius = celsius.max(ambient.base()),
                None => no_ambient = no_ambient.or(Some(run)),
            }
            let stock = self.want_stock(run)?;
            if stock.shields.is_bad() {
                return Err(Lack::Reported);
            }
            match stock.shields.value() {
                Some(shields) => screened &= shields.0 > 0,
                None => no_shields = no_shields.or(Some(stock)),
            }
        }
        let (mut connectors, mut unknown, mut no_kind) = (0, 0, None);
        for node in self.nodes_of(channel) {
            let endpoint = self.endpoint(node);
            match endpoint.map(|endpoint| is_passive(endpoint)) {
                Some(Some(true)) => connectors = u8::saturating_add(connectors, 1),
                Some(None) => {
                    unknown = u8::saturating_add(unknown, 1);
                    no_kind = no_kind.or(endpoint);
                }
                _ => {}
            }
        }
        // Past the standards' tables nothing is worse than what is stated.
        let hottest = celsius.max(HOTTEST_CELSIUS);
        let best = Channel {
            category,
            link: self.channel_length(channel.runs)?.distance(),
            cords: self.cords(channel)?.length,
            cord_gauge: CORD_GAUGE,
            connectors,
            celsius,
            screened,
        };
        let mut at = best;
        let ambient = no_ambient.map(|run| {
            at.celsius = hottest;
            (at, Open::Ambient(run))
        });
        let matters = screened && at.celsius > DATA_CELSIUS;
        let shields = no_shields.filter(|_| matters).map(|stock| {
            at.screened = false;
            (at, Open::Shields(stock))
        });
        let kind = no_kind.map(|endpoint| {
            at.connectors = at.connectors.saturating_add(unknown);
            (at, Open::Kind(endpoint))
        });
        let worse = [ambient, shields, kind];
        Ok(LossBounds { best, worse })
    }

    /// Loss of a channel at its category's top frequency.
    ///
    /// # Errors
    /// It is warmer than the standard's tables go.
    pub fn insertion_loss(&self, channel: Channel) -> Result<InsertionLoss, Lack> {
        InsertionLoss::at_top(channel).ok_or_else(|| {
            let at = crate::units::figure3(channel.celsius);
            Lack::absent(format!(
                "a loss of {} at {at} °C, which the standard does not give",
                channel.category.name
            ))
        })
    }

    /// Where a channel starts, what joins its runs, and where it ends.
    fn nodes_of<'a>(&'a self, channel: &DataChannel<'a>) -> impl Iterator<Item = Node> + 'a {
        let mut at = channel.source;
        let further = channel.runs.iter().map(move |run| {
            at = self.other_end(*run, at).unwrap_or(at);
            at
        });
        std::iter::once(channel.source).chain(further)
    }
}

impl DataChannels {
    fn add(&mut self, runs: &[usize], source: Node, end: Node) {
        let first = small(self.runs.len());
        self.runs.extend_from_slice(runs);
        self.channels.push((first, small(runs.len()), source, end));
    }

    fn channel(&self, (first, count, source, end): (u32, u32, Node, Node)) -> DataChannel<'_> {
        DataChannel {
            runs: &self.runs[first as usize..(first + count) as usize],
            source,
            end,
        }
    }
}
