//! Channels: the runs of one service in series through passive endpoints, from active device to
//! active device.

use std::collections::HashMap;

use petgraph::unionfind::UnionFind;

use super::kinds::{is_active, is_passive, is_passive_speaker, is_sink};
use super::topology::{House, Node, small};
use crate::findings::Lack;
use crate::plan::Service;

/// Runs of one service that passive endpoints join.
#[derive(Debug)]
pub struct Line {
    pub service: Service,
    /// Its runs, from the source outwards.
    pub steps: Vec<Step>,
    pub source: Node,
    /// Where runs meet so that it cannot be known which goes on as which.
    pub tangle: Option<Node>,
    /// So many branches that not all ways through it are listed.
    pub bus: bool,
    /// A run of no known service or end at a loose end of it, which it may go on as.
    pub goes_on: Option<u32>,
}

/// One run of a line.
#[derive(Debug, Clone, Copy)]
pub struct Step {
    /// Index of the run in the plan.
    pub run: u32,
    /// The run's end away from the source.
    pub end: Node,
    /// Index of the step before it.
    pub before: Option<u32>,
}

/// One way through a line, from its source to one far end.
#[derive(Debug)]
pub struct Channel<'a> {
    pub line: &'a Line,
    /// Indices of runs in the plan, from the source on.
    pub runs: Vec<usize>,
    /// Indices of the same in `line.steps`.
    pub steps: Vec<usize>,
    pub end: Node,
}

/// All lines of a plan.
#[derive(Debug, Default)]
pub struct Lines {
    pub lines: Vec<Line>,
    /// For each run of the plan, its line; none for spares, power, and runs whose service or ends
    /// are not known.
    pub of_run: Vec<Option<u32>>,
}

/// How many steps all ways through a line may have together. A comb with more than a thousand
/// teeth is no channel but a bus; what is not listed of it is a gap ([`House::follow`]).
const MOST_STEPS: usize = 1_000_000;

impl Line {
    /// Whether all its runs go from its source to one and the same end, as where a speaker is wired twice.
    pub fn is_side_by_side(&self) -> bool {
        let end = |step: &Step| step.before.is_none() && step.end == self.steps[0].end;
        self.tangle.is_some() && self.goes_on.is_none() && self.steps.iter().all(end)
    }

    /// Steps of all ways from the source to the far ends together. A step stands behind the one
    /// before it, so one pass is enough.
    fn total_steps(&self) -> usize {
        let mut depth = vec![1_usize; self.steps.len()];
        let mut goes_on = vec![false; self.steps.len()];
        for (at, step) in self.steps.iter().enumerate() {
            if let Some(before) = step.before {
                depth[at] = depth[before as usize] + 1;
                goes_on[before as usize] = true;
            }
        }
        let ends = depth.iter().zip(goes_on).filter(|(_, goes_on)| !goes_on);
        ends.map(|(depth, _)| *depth).sum()
    }

    /// The ways from the source to each far end.
    pub fn channels(&self) -> Vec<Channel<'_>> {
        let mut goes_on = vec![false; self.steps.len()];
        for before in self.steps.iter().filter_map(|step| step.before) {
            goes_on[before as usize] = true;
        }
        let mut budget = MOST_STEPS.max(self.steps.len());
        let mut channels = Vec::new();
        for leaf in (0..self.steps.len()).filter(|at| !goes_on[*at]) {
            let mut steps: Vec<usize> =
                std::iter::successors(Some(leaf), |at| self.steps[*at].before.map(|b| b as usize))
                    .take(budget)
                    .collect();
            budget = budget.saturating_sub(steps.len());
            if self.bus && budget == 0 {
                break;
            }
            steps.reverse();
            channels.push(Channel {
                line: self,
                runs: steps
                    .iter()
                    .map(|at| self.steps[*at].run as usize)
                    .collect(),
                end: self.steps[leaf].end,
                steps,
            });
        }
        channels
    }
}

impl<'p> House<'p> {
    /// The lines of the plan, power and spares left out.
    pub fn lines(&self) -> &Lines {
        self.lines.get_or_init(|| self.build_lines())
    }

    /// Lines of one service.
    pub fn lines_of(&self, service: Service) -> impl Iterator<Item = &Line> {
        self.lines()
            .lines
            .iter()
            .filter(move |line| line.service == service)
    }

    /// Why a line cannot be followed, if it cannot.
    ///
    /// # Errors
    /// The endpoint where it is not known which run goes on as which; what a run carries that it
    /// may go on as.
    pub fn follow(&self, line: &Line) -> Result<(), Lack> {
        if line.bus {
            return Err(Lack::absent(format!(
                "a line from {} with fewer branches",
                self.id(line.source)
            )));
        }
        if let Some(run) = line.goes_on {
            self.want_service(run as usize)?;
            self.ends(run as usize).ok_or(Lack::Reported)?;
        }
        match line.tangle {
            Some(node) => Err(Lack::absent(format!(
                "which run goes on as which at {}",
                self.id(node)
            ))),
            None => Ok(()),
        }
    }

    /// Whether a node passes a service on to another run. A passive endpoint does, unless it
    /// stands in an active one, which is where the channel ends; a passive speaker passes its
    /// speaker line on.
    pub fn joins(&self, node: Node, service: Service) -> bool {
        let Node::Endpoint(index) = node else {
            return false;
        };
        let endpoint = &self.plan.endpoints[index as usize];
        if service == Service::Speaker && is_passive_speaker(endpoint) {
            return true;
        }
        is_passive(endpoint) == Some(true)
            && !self
                .hosts(index as usize)
                .skip(1)
                .any(|host| is_active(&self.plan.endpoints[host]))
    }

    fn build_lines(&self) -> Lines {
        let count = self.plan.runs.len();
        let signal: Vec<Option<Service>> = (0..count)
            .map(|run| {
                let service = self.service(run)?;
                let counts =
                    service != Service::Power && !self.is_spare(run) && self.ends(run).is_some();
                counts.then_some(service)
            })
            .collect();
        let mut joined = UnionFind::<u32>::new(count);
        for node in self.graph.node_indices() {
            let at = self.graph[node];
            let mut first: Vec<(Service, u32)> = Vec::new();
            for edge in self.graph.edges(node) {
                let run = *edge.weight();
                let Some(service) = signal[run] else { continue };
                match first.iter().find(|(known, _)| *known == service) {
                    Some((_, other)) => {
                        if self.joins(at, service) {
                            joined.union(*other, small(run));
                        }
                    }
                    None => first.push((service, small(run))),
                }
            }
        }
        let labels = joined.into_labeling();
        let mut groups: Vec<(u32, Vec<u32>)> = Vec::new();
        let mut group_of = vec![u32::MAX; count];
        for run in 0..count {
            if signal[run].is_none() {
                continue;
            }
            let label = labels[run] as usize;
            if group_of[label] == u32::MAX {
                group_of[label] = small(groups.len());
                groups.push((labels[run], Vec::with_capacity(1)));
            }
            groups[group_of[label] as usize].1.push(small(run));
        }
        let mut lines = Lines {
            lines: Vec::with_capacity(groups.len()),
            of_run: vec![None; count],
        };
        for (_, runs) in groups {
            let service = signal[runs[0] as usize].unwrap_or(Service::Control);
            let line = self.build_line(service, runs);
            for step in &line.steps {
                lines.of_run[step.run as usize] = Some(small(lines.lines.len()));
            }
            lines.lines.push(line);
        }
        self.find_loose_ends(&mut lines.lines);
        lines
    }

    fn build_line(&self, service: Service, runs: Vec<u32>) -> Line {
        let ends_of = |run: u32| self.ends(run as usize);
        if let [run] = runs[..]
            && let Some((from, to)) = ends_of(run)
        {
            let sink = |node: Node| {
                self.endpoint(node)
                    .is_some_and(|endpoint| is_sink(endpoint))
            };
            let backwards = service == Service::Coax && self.feeds_coax(to) > self.feeds_coax(from);
            let (source, end) = if backwards || sink(from) && !sink(to) {
                (to, from)
            } else {
                (from, to)
            };
            return Line {
                service,
                steps: vec![Step {
                    run,
                    end,
                    before: None,
                }],
                source,
                tangle: None,
                bus: false,
                goes_on: None,
            };
        }
        self.build_joined(service, &runs)
    }

    /// A line of several runs: a tree from its source, or a tangle.
    fn build_joined(&self, service: Service, runs: &[u32]) -> Line {
        let mut at: HashMap<Node, Vec<u32>> = HashMap::new();
        for run in runs {
            if let Some((from, to)) = self.ends(*run as usize) {
                at.entry(from).or_default().push(*run);
                at.entry(to).or_default().push(*run);
            }
        }
        let source = self.line_source(service, runs, &at);
        let mut line = Line {
            service,
            steps: Vec::new(),
            source,
            tangle: None,
            bus: false,
            goes_on: None,
        };
        let mut seen_runs = std::collections::HashSet::new();
        let mut seen_nodes = std::collections::HashSet::from([source]);
        let mut queue = std::collections::VecDeque::from([(source, None)]);
        while let Some((node, before)) = queue.pop_front() {
            for run in at.get(&node).into_iter().flatten() {
                if !seen_runs.insert(*run) {
                    continue;
                }
                let Some((from, to)) = self.ends(*run as usize) else {
                    continue;
                };
                let end = if from == node { to } else { from };
                line.steps.push(Step {
                    run: *run,
                    end,
                    before,
                });
                // Two outputs of a splitter into one device are two channels.
                let split = service == Service::Coax && end != source && !self.joins(end, service);
                if !seen_nodes.insert(end) && !split {
                    // Reached twice: parallel runs, or a ring. Which goes on as which is not known.
                    line.tangle =
                        line.tangle
                            .or(Some(if self.joins(end, service) { end } else { node }));
                } else if self.joins(end, service) {
                    queue.push_back((end, Some(small(line.steps.len() - 1))));
                }
            }
        }
        // Parts that hang together only by way of the source's own joints are all reached; what is
        // left hangs on a second source.
        for run in runs {
            if seen_runs.insert(*run)
                && let Some((from, to)) = self.ends(*run as usize)
            {
                line.steps.push(Step {
                    run: *run,
                    end: to,
                    before: None,
                });
                line.tangle =
                    line.tangle
                        .or(Some(if self.joins(from, service) { from } else { to }));
            }
        }
        let sources = at
            .keys()
            .filter(|node| {
                !self.joins(**node, service) && !self.endpoint(**node).is_some_and(|e| is_sink(e))
            })
            .count();
        line.bus = line.total_steps() > MOST_STEPS;
        if sources > 1 && service == Service::Speaker && line.tangle.is_none() {
            line.tangle = at
                .keys()
                .filter(|node| self.joins(**node, service))
                .max_by_key(|node| (at[*node].len(), std::cmp::Reverse(**node)))
                .copied();
        }
        line
    }

    /// Where a line starts: an end that is no sink, by preference one that its run is `from`.
    fn line_source(&self, service: Service, runs: &[u32], at: &HashMap<Node, Vec<u32>>) -> Node {
        let is_end = |node: Node| !self.joins(node, service) || at[&node].len() == 1;
        let sink = |node: Node| {
            self.endpoint(node)
                .is_some_and(|endpoint| is_sink(endpoint))
        };
        let froms = || {
            runs.iter()
                .filter_map(|run| self.ends(*run as usize))
                .map(|(from, _)| from)
        };
        let tos = || {
            runs.iter()
                .filter_map(|run| self.ends(*run as usize))
                .map(|(_, to)| to)
        };
        if service == Service::Coax {
            // Its runs may be written in any direction: the signal comes from outside.
            let feeds = |node: &Node| match self.feeds_coax(*node) {
                0 => 0,
                rank if is_end(*node) || rank > 1 => rank,
                _ => 0,
            };
            let most = froms().chain(tos()).map(|node| feeds(&node)).max();
            if let Some(most) = most.filter(|most| *most > 0) {
                let mut nodes = froms().chain(tos());
                return nodes
                    .find(|node| feeds(node) == most)
                    .unwrap_or(Node::Endpoint(0));
            }
        }
        froms()
            .find(|node| is_end(*node) && !sink(*node) && !self.joins(*node, service))
            .or_else(|| {
                tos().find(|node| is_end(*node) && !sink(*node) && !self.joins(*node, service))
            })
            .or_else(|| froms().find(|node| is_end(*node) && !sink(*node)))
            .or_else(|| froms().find(|node| is_end(*node)))
            .or_else(|| froms().next())
            .unwrap_or(Node::Endpoint(0))
    }
}
