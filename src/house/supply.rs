//! Which circuits a node has its power from, and where feeds meet.

use std::collections::HashSet;

use petgraph::Direction;
use petgraph::visit::EdgeRef;

use super::kinds::is_passive;
use super::power::FeedKind;
use super::topology::{House, Node};
use crate::plan::{EndpointKind as Kind, Service, Sort};

/// Circuits by the node that they reach.
#[derive(Debug)]
pub(super) struct Supplies {
    /// For each node, its set.
    of: Vec<u32>,
    sets: Vec<Vec<u32>>,
}

/// Ends of what the plan draws to each endpoint.
pub struct LooseEnds {
    /// A run or conduit ends there or at something that stands in it.
    pub named: Vec<bool>,
    /// A run there has another end that could not be read.
    pub broken: Vec<bool>,
}

/// Circuits of one node beyond these are not told apart: no house feeds one thing by so many.
const MOST: usize = 64;

impl House<'_> {
    /// The circuits that feed a node, the first in the plan first: for a circuit itself, and none
    /// for what no circuit reaches and for what lies in or behind a loop.
    pub fn circuits_of(&self, node: Node) -> &[u32] {
        let supplies = self.supplies.get_or_init(|| self.build_supplies());
        let set = supplies.of[self.graph_index(node).index()];
        &supplies.sets[set as usize]
    }

    /// One walk from the circuits outwards; a node with one feed shares the set of what feeds it.
    fn build_supplies(&self) -> Supplies {
        let power = self.power();
        let mut supplies = Supplies {
            of: vec![0; power.feeds.node_count()],
            sets: vec![Vec::new()],
        };
        for at in &power.order {
            if let Node::Circuit(circuit) = power.feeds[*at] {
                supplies.of[at.index()] = super::topology::small(supplies.sets.len());
                supplies.sets.push(vec![circuit]);
                continue;
            }
            let mut sources = power.feeds.neighbors_directed(*at, Direction::Incoming);
            let Some(first) = sources.next() else {
                continue;
            };
            let first = supplies.of[first.index()];
            let others: Vec<u32> = sources
                .map(|source| supplies.of[source.index()])
                .filter(|set| *set != first)
                .collect();
            supplies.of[at.index()] = first;
            if others.is_empty() {
                continue;
            }
            let mut all = supplies.sets[first as usize].clone();
            for set in others {
                all.extend(&supplies.sets[set as usize]);
            }
            all.sort_unstable();
            all.dedup();
            all.truncate(MOST);
            supplies.of[at.index()] = super::topology::small(supplies.sets.len());
            supplies.sets.push(all);
        }
        supplies
    }

    /// For each endpoint, whether runs and conduits end there and whether all of them can be read.
    pub fn loose_ends(&self) -> LooseEnds {
        let count = self.plan.endpoints.len();
        let mut ends = LooseEnds {
            named: vec![false; count],
            broken: vec![false; count],
        };
        // A run needs both of its ends, a conduit may leave them out.
        let runs = self.plan.runs.iter().map(|run| {
            let broken = run.from.value().is_none() || run.to.value().is_none();
            (&run.from, &run.to, broken)
        });
        let conduits = self.plan.pathways.iter().map(|way| {
            let broken = way.from.is_bad() || way.to.is_bad();
            (&way.from, &way.to, broken)
        });
        for (from, to, broken) in runs.chain(conduits) {
            for end in [from, to].into_iter().filter_map(|end| end.value()) {
                if end.thing.sort != Sort::Endpoint {
                    continue;
                }
                for host in self.hosts(end.at()) {
                    ends.named[host] = true;
                    ends.broken[host] |= broken;
                }
            }
        }
        ends
    }

    /// How many runs and plugs of its own feed an endpoint.
    pub fn feeds_meeting(&self, endpoint: usize) -> usize {
        self.own_feeds(endpoint).count()
    }

    /// The runs and plugs of its own that feed an endpoint, and from where; runs first, in the
    /// plan's order.
    pub fn feeds_at(&self, endpoint: usize) -> Vec<(FeedKind, Node)> {
        let mut feeds: Vec<_> = self.own_feeds(endpoint).collect();
        feeds.sort_by_key(|(kind, from)| match kind {
            FeedKind::Run(run) => (0, *run),
            _ => (1, from.endpoint().unwrap_or(0)),
        });
        feeds
    }

    fn own_feeds(&self, endpoint: usize) -> impl Iterator<Item = (FeedKind, Node)> + '_ {
        let power = self.power();
        let at = self.graph_index(Node::of_endpoint(endpoint));
        power
            .feeds
            .edges_directed(at, Direction::Incoming)
            .map(|feed| (feed.weight().kind, power.feeds[feed.source()]))
            .filter(|(kind, _)| *kind != FeedKind::Cord)
    }

    /// The nearest device ahead of an endpoint, where that may change the voltage: an appliance or a
    /// power conditioner. Boxes, plates, outlets and switches are passed over, and what is made for the same
    /// voltage: it hands on what it gets.
    pub fn converter_ahead(&self, endpoint: usize) -> Option<usize> {
        let power = self.power();
        let made_for = self.plan.endpoints[endpoint].made_for();
        let mut at = self.graph_index(Node::of_endpoint(endpoint));
        for _ in 0..super::place::STEPS {
            let mut sources = power.feeds.neighbors_directed(at, Direction::Incoming);
            at = sources.next()?;
            let ahead = power.feeds[at].endpoint()?;
            let entry = &self.plan.endpoints[ahead];
            match entry.kind.value() {
                Some(Kind::Appliance | Kind::PowerConditioner) => return Some(ahead),
                Some(Kind::WallSwitch) => {}
                _ if is_passive(entry) == Some(true) => {}
                _ if made_for.is_some() && entry.made_for() == made_for => {}
                _ => return None,
            }
        }
        None
    }

    /// The run by which a circuit starts on the way to an endpoint, by its first feeds.
    pub fn first_run_to(&self, endpoint: usize) -> Option<usize> {
        let power = self.power();
        let mut at = self.graph_index(Node::of_endpoint(endpoint));
        for _ in 0..super::place::STEPS {
            let feed = power.feeds.edges_directed(at, Direction::Incoming).next()?;
            at = feed.source();
            if let (Node::Circuit(_), FeedKind::Run(run)) = (power.feeds[at], feed.weight().kind) {
                return Some(run);
            }
        }
        None
    }

    /// Endpoints that feed each other round and round, each loop once.
    pub fn loops(&self) -> Vec<Vec<usize>> {
        let power = self.power();
        if !power.looped.iter().any(|looped| *looped) {
            return Vec::new();
        }
        // Kosaraju's way, not Tarjan's: it does not recurse, and a loop may be as long as the plan.
        let mut loops: Vec<Vec<usize>> = petgraph::algo::kosaraju_scc(&power.feeds)
            .into_iter()
            .filter(|nodes| nodes.len() > 1)
            .map(|nodes| {
                let ends = nodes.into_iter().map(|at| power.feeds[at].endpoint());
                let mut ends: Vec<usize> = ends.flatten().collect();
                ends.sort_unstable();
                ends
            })
            .collect();
        loops.sort();
        loops
    }

    /// Live power runs that end on a circuit and neither lead power away from it nor close its
    /// ring: they join what is live already.
    pub fn joining_runs(&self, circuit: usize) -> Vec<usize> {
        let power = self.power();
        let node = Node::of_circuit(circuit);
        let live = |run: &usize| {
            self.service(*run) == Some(Service::Power)
                && !self.is_spare(*run)
                && self.ends(*run).is_some_and(|(from, to)| from != to)
        };
        let fed = power.feeds.edges(self.graph_index(node));
        let fed = fed.filter_map(|feed| match feed.weight().kind {
            FeedKind::Run(run) => Some(run),
            FeedKind::Plug | FeedKind::Cord => None,
        });
        let last = power.rings[circuit].as_ref().and_then(|ring| ring.last());
        // All runs of most circuits lead away from it.
        let known = fed.clone().count() + last.iter().count();
        if self.runs_at(node).filter(live).count() == known {
            return Vec::new();
        }
        let known: HashSet<usize> = fed.chain(last.copied()).collect();
        let mut joining: Vec<usize> = self
            .runs_at(node)
            .filter(|run| live(run) && !known.contains(run))
            .collect();
        joining.sort_unstable();
        joining
    }
}
