//! Coaxial channels: where their signal comes from, what they lose, what is left of the level.

use super::channel::{Channel, Line};
use super::topology::{House, Node};
use crate::figures::Figure;
use crate::figures::coax::{CoaxLoss, Part};
use crate::findings::{Id, Lack};
use crate::plan::{Endpoint, EndpointKind as Kind, Entry};
use crate::tables::coax::{series, splitter_loss};
use crate::units::{SignalLevel, unit};

/// What is missing, and the thing that lacks it.
pub type LackOf<'p> = (&'p Id, Lack);

/// A way of the signal from the last place where its level is known to a far end.
#[derive(Debug)]
pub struct CoaxWay<'p> {
    /// Where the level is known, or the source where it is nowhere.
    pub start: &'p Entry<Endpoint>,
    pub end: &'p Entry<Endpoint>,
    /// Runs from the start on.
    pub runs: Vec<usize>,
    /// The highest frequency, in megahertz.
    pub megahertz: f64,
    pub loss: CoaxLoss,
    /// For each run its loss in dB, and the loss of the node that it comes from, if that has any.
    pub each: Vec<(f64, Option<(usize, f64)>)>,
}

/// How a line of coax branches: for each of its steps, the number of runs behind it.
pub struct Branches(Vec<u32>);

impl<'p> House<'p> {
    /// How surely the signal of a coaxial line comes from a node: the higher the surer, 0 where
    /// nothing says so.
    pub(super) fn feeds_coax(&self, node: Node) -> u8 {
        let Some(endpoint) = self.endpoint(node) else {
            return 0;
        };
        match endpoint.kind.value() {
            Some(Kind::Antenna) => 3,
            Some(Kind::Entry) => 2,
            _ if !endpoint.level.is_absent() => 1,
            _ => 0,
        }
    }

    pub fn branches(&self, line: &Line) -> Branches {
        let mut behind = vec![0; line.steps.len()];
        for before in line.steps.iter().filter_map(|step| step.before) {
            behind[before as usize] += 1;
        }
        Branches(behind)
    }

    /// The endpoint that a coaxial channel serves: the device that its end is, or stands in, by
    /// preference one that says what level it needs. None where the channel ends at an antenna, an
    /// entry or a splitter, which are no use in themselves.
    pub fn served_by(&self, channel: &Channel<'_>) -> Option<&'p Entry<Endpoint>> {
        let end = channel.end.endpoint()?;
        let kind = self.plan.endpoints[end].kind.value();
        if matches!(kind, Some(Kind::Antenna | Kind::Entry | Kind::Splitter)) {
            return None;
        }
        let mut hosts = self.hosts(end);
        let says = hosts.find(|at| !self.plan.endpoints[*at].needs.is_absent());
        Some(&self.plan.endpoints[says.unwrap_or(end)])
    }

    /// Whether more than one source feeds a line: which of them a far end hears is not known.
    ///
    /// # Errors
    /// A second antenna, or a line that cannot be followed.
    pub fn one_source(&self, line: &Line) -> Result<(), Lack> {
        self.follow(line)?;
        let mut ends = line.steps.iter().map(|step| step.end);
        let is_antenna = |end: &Node| self.feeds_coax(*end) == 3 && *end != line.source;
        match ends.find(is_antenna) {
            Some(other) => Err(Lack::absent(format!(
                "which of {} and {} is wanted behind the place where they meet",
                self.id(line.source),
                self.id(other)
            ))),
            None => Ok(()),
        }
    }

    /// The level where a way starts.
    ///
    /// # Errors
    /// The source does not state it.
    pub fn start_level(&self, start: &'p Entry<Endpoint>) -> Result<SignalLevel, LackOf<'p>> {
        let level = start.level.want("level", &start.id);
        level
            .map(|level| ***level)
            .map_err(|lack| (&start.id, lack))
    }

    /// The last node ahead of the end that states a level, else the source.
    ///
    /// # Errors
    /// A source that is no endpoint.
    pub fn known_level(&self, channel: &Channel<'_>) -> Result<&'p Entry<Endpoint>, LackOf<'p>> {
        let first = &self.plan.runs[channel.runs[0]].id;
        let nodes = self.way_nodes(channel).ok_or((first, Lack::Reported))?;
        Ok(&self.plan.endpoints[nodes[self.way_start(&nodes)]])
    }

    /// The endpoints of a channel, from the source to the end.
    fn way_nodes(&self, channel: &Channel<'_>) -> Option<Vec<usize>> {
        let steps = channel.steps.iter().map(|step| &channel.line.steps[*step]);
        let nodes = std::iter::once(channel.line.source).chain(steps.map(|step| step.end));
        nodes.map(Node::endpoint).collect()
    }

    fn way_start(&self, nodes: &[usize]) -> usize {
        let known = |at: &usize| !self.plan.endpoints[nodes[*at]].level.is_absent();
        (0..nodes.len() - 1).rev().find(known).unwrap_or(0)
    }

    /// A channel from the last node on the way that states a level, else from its source.
    ///
    /// # Errors
    /// The frequency, or the series or length of a cable, or what a splitter loses.
    pub fn coax_way(
        &self,
        channel: &Channel<'_>,
        branches: &Branches,
    ) -> Result<CoaxWay<'p>, LackOf<'p>> {
        let none = |id| (id, Lack::Reported);
        let first = &self.plan.runs[channel.runs[0]].id;
        let nodes = self.way_nodes(channel).ok_or_else(|| none(first))?;
        let start = self.way_start(&nodes);
        let end = self.served_by(channel).ok_or_else(|| none(first))?;
        let source = &self.plan.endpoints[nodes[start]];
        let megahertz = [end, source]
            .into_iter()
            .find(|endpoint| !endpoint.frequency.is_absent())
            .unwrap_or(end);
        let megahertz = megahertz
            .frequency
            .want("frequency", &megahertz.id)
            .map_err(|lack| (&megahertz.id, lack))?
            .quantity()
            .get::<unit::megahertz>();

        let (mut parts, mut each) = (Vec::new(), Vec::new());
        let decibels = |part: Part| CoaxLoss::of(vec![part], megahertz);
        for (at, run) in channel.runs.iter().enumerate().skip(start) {
            let mut node_loss = None;
            if at > start {
                let behind = branches.0[channel.steps[at - 1]];
                let node = &self.plan.endpoints[nodes[at]];
                if let Some(part) = node_part(node, behind).map_err(|lack| (&node.id, lack))? {
                    let loss = decibels(part).ok_or_else(|| none(&node.id))?;
                    node_loss = Some((nodes[at], loss.value()));
                    parts.push(part);
                }
            }
            let part = self.cable_part(*run, megahertz)?;
            let id = &self.plan.runs[*run].id;
            let loss = decibels(part).ok_or_else(|| none(id))?;
            each.push((loss.value(), node_loss));
            parts.push(part);
        }
        // An outlet at the far end may lose something too.
        let last = &self.plan.endpoints[nodes[nodes.len() - 1]];
        if let Some(loss) = last.loss.value() {
            parts.push(Part::Stated(loss.quantity()));
        }
        let loss = CoaxLoss::of(parts, megahertz).ok_or_else(|| none(first))?;
        Ok(CoaxWay {
            start: source,
            end,
            runs: channel.runs[start..].to_vec(),
            megahertz,
            loss,
            each,
        })
    }

    /// A run of coax as a part of the loss.
    fn cable_part(&self, index: usize, megahertz: f64) -> Result<Part, LackOf<'p>> {
        let run = &self.plan.runs[index];
        let of_run = |lack| (&run.id, lack);
        let stock = self.want_stock(run).map_err(of_run)?;
        let of_stock = |lack| (&stock.id, lack);
        let name = stock.series.want("series", &stock.id).map_err(of_stock)?;
        let known = series(name).ok_or_else(|| {
            of_stock(Lack::absent(format!("a table of the loss of {}", &***name)))
        })?;
        if known.loss_per_metre(megahertz).is_none() {
            let at = crate::units::figure3(megahertz);
            let lack = Lack::absent(format!("the loss of {} at {at} MHz", known.name));
            return Err(of_stock(lack));
        }
        let length = self.length(index).map_err(of_run)?.distance();
        Ok(Part::Cable {
            series: known,
            length,
        })
    }
}

/// What a node on the way loses. One that is no splitter, and states no loss, passes everything on
/// to the one run behind it.
fn node_part(node: &Entry<Endpoint>, behind: u32) -> Result<Option<Part>, Lack> {
    if let Some(loss) = node.loss.value() {
        return Ok(Some(Part::Stated(loss.quantity())));
    }
    if node.loss.is_bad() {
        return Err(Lack::Reported);
    }
    if node.kind.value() != Some(&Kind::Splitter) {
        return match behind {
            0 | 1 => Ok(None),
            _ => Err(Lack::absent(format!(
                "a splitter at {}, where one run goes on as {behind}",
                node.id
            ))),
        };
    }
    let ways = node.ways.want("ways", &node.id)?.0;
    if ways < behind {
        return Err(Lack::absent(format!(
            "a splitter with {behind} outputs at {}",
            node.id
        )));
    }
    let ways = u8::try_from(ways)
        .ok()
        .filter(|ways| splitter_loss(*ways).is_some());
    let none = || Lack::absent(format!("loss of {}", node.id));
    Ok(Some(Part::Splitter(ways.ok_or_else(none)?)))
}
