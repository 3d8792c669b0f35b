//! Finds the feeds: from the circuits outwards, along runs, plugs and racks.

use std::collections::{HashMap, HashSet, VecDeque};

use petgraph::graph::{DiGraph, NodeIndex};
use petgraph::visit::EdgeRef;

use super::power::{Feed, FeedKind, Power};
use super::topology::{House, Node, small};
use crate::plan::Service;

pub(super) struct Builder<'h, 'p> {
    house: &'h House<'p>,
    power: Power,
    reached: Vec<bool>,
    used: Vec<bool>,
    along: VecDeque<NodeIndex>,
    racks: VecDeque<NodeIndex>,
    against: VecDeque<NodeIndex>,
    /// Circuits that say they are rings.
    ringed: VecDeque<NodeIndex>,
    /// Those of them whose first run has been followed.
    started: HashSet<NodeIndex>,
    /// Devices by the outlet that they are plugged into.
    plugged: HashMap<usize, Vec<usize>>,
}

impl<'h, 'p> Builder<'h, 'p> {
    pub(super) fn new(house: &'h House<'p>) -> Self {
        let plan = house.plan;
        let mut feeds = DiGraph::with_capacity(house.graph.node_count(), plan.runs.len());
        for node in house.graph.node_indices() {
            feeds.add_node(house.graph[node]);
        }
        let mut plugged: HashMap<usize, Vec<usize>> = HashMap::new();
        for (index, endpoint) in plan.endpoints.iter().enumerate() {
            for outlet in endpoint
                .at_outlet
                .value()
                .into_iter()
                .flat_map(|list| list.values())
            {
                plugged.entry(outlet.at()).or_default().push(index);
            }
        }
        let nodes = house.graph.node_count();
        Self {
            house,
            power: Power {
                feeds,
                rings: vec![None; plan.circuits.len()],
                ..Power::default()
            },
            reached: vec![false; nodes],
            used: vec![false; plan.runs.len()],
            along: VecDeque::new(),
            racks: VecDeque::new(),
            against: VecDeque::new(),
            ringed: VecDeque::new(),
            started: HashSet::new(),
            plugged,
        }
    }

    /// Power starts at the circuits and goes along runs as they are written; then, where that
    /// reaches nothing more, by way of racks; then along runs that are written the other way
    /// round; last, for a run that returns to its circuit must not start a ring, along runs written
    /// towards a ring's circuit, one at a time. Every node waits once in each queue, so this is linear.
    pub(super) fn build(mut self) -> Power {
        for circuit in 0..self.house.plan.circuits.len() {
            self.reach(NodeIndex::new(circuit));
        }
        loop {
            if let Some(at) = self.along.pop_front() {
                self.spread(at);
            } else if let Some(at) = self.racks.pop_front() {
                self.cords(at);
            } else if let Some(at) = self.against.pop_front() {
                self.backwards(at);
            } else if let Some(at) = self.ringed.pop_front() {
                self.start_ring(at);
            } else {
                break;
            }
        }
        self.sort();
        self.power.shares = super::load::shares(self.house, &self.power);
        self.power
    }

    fn reach(&mut self, node: NodeIndex) {
        if !std::mem::replace(&mut self.reached[node.index()], true) {
            self.along.push_back(node);
            self.racks.push_back(node);
            self.against.push_back(node);
        }
    }

    fn feed(&mut self, from: NodeIndex, to: NodeIndex, kind: FeedKind) {
        self.power
            .feeds
            .add_edge(from, to, Feed { kind, ring: false });
        self.reach(to);
    }

    /// Whether a run carries power and is connected.
    fn carries(&self, run: usize) -> bool {
        self.house.service(run) == Some(Service::Power) && !self.house.is_spare(run)
    }

    /// Along runs from their `from` to their `to`, and along plugs.
    fn spread(&mut self, at: NodeIndex) {
        let node = self.house.graph[at];
        let mut runs: Vec<usize> = self.house.runs_at(node).collect();
        runs.sort_unstable();
        for run in runs {
            let Some((from, to)) = self.house.ends(run) else {
                continue;
            };
            if self.used[run] || !self.carries(run) || from == to {
                continue;
            }
            match (from, to) {
                // Written towards a breaker, which is where its power comes from all the same.
                (Node::Endpoint(_), Node::Circuit(circuit))
                    if !self.says_ring(circuit as usize) =>
                {
                    if to == node {
                        self.used[run] = true;
                        self.feed(at, self.house.graph_index(from), FeedKind::Run(run));
                    }
                }
                _ if from != node => {}
                (_, Node::Circuit(circuit)) => {
                    self.used[run] = true;
                    self.close_ring(circuit as usize, run, at);
                }
                (_, Node::Endpoint(_)) => {
                    self.used[run] = true;
                    self.feed(at, self.house.graph_index(to), FeedKind::Run(run));
                }
            }
        }
        let Some(outlet) = node.endpoint() else {
            return;
        };
        for device in self.plugged.remove(&outlet).unwrap_or_default() {
            let device = self.house.graph_index(Node::of_endpoint(device));
            if device != at {
                self.feed(at, device, FeedKind::Plug);
            }
        }
    }

    /// From a node to what stands in it, and to what it stands in, where nothing else feeds those.
    /// Something that is fed only by way of what stands in it is fed by all of that.
    fn cords(&mut self, at: NodeIndex) {
        let Some(index) = self.house.graph[at].endpoint() else {
            return;
        };
        let index_of = |endpoint: usize| self.house.graph_index(Node::of_endpoint(endpoint));
        if let Some(host) = self.house.plan.endpoints[index]
            .within
            .value()
            .map(|within| within.at())
            && !self.reached[index_of(host).index()]
        {
            for member in &self.house.members[host] {
                let member = index_of(*member as usize);
                if self.reached[member.index()] {
                    self.feed(member, index_of(host), FeedKind::Cord);
                }
            }
        }
        for member in &self.house.members[index] {
            let member = index_of(*member as usize);
            if !self.reached[member.index()] {
                self.feed(at, member, FeedKind::Cord);
            }
        }
    }

    /// Along runs whose `from` and `to` are written the other way round.
    fn backwards(&mut self, at: NodeIndex) {
        if let Node::Circuit(circuit) = self.house.graph[at]
            && self.says_ring(circuit as usize)
        {
            self.ringed.push_back(at);
            return;
        }
        self.follow_backwards(at, usize::MAX);
    }

    /// One run first: the others to the circuit may close its ring once that has been followed.
    fn start_ring(&mut self, at: NodeIndex) {
        let most = if self.started.insert(at) {
            1
        } else {
            usize::MAX
        };
        if self.follow_backwards(at, most) == 1 && most == 1 {
            self.ringed.push_back(at);
        }
    }

    /// Feeds along at most so many runs that are written towards a node; how many there were.
    fn follow_backwards(&mut self, at: NodeIndex, most: usize) -> usize {
        let node = self.house.graph[at];
        let runs: Vec<usize> = self.house.runs_at(node).collect();
        let mut followed = 0;
        for run in runs {
            let Some((from, to)) = self.house.ends(run) else {
                continue;
            };
            let other = self.house.graph_index(from);
            if followed == most
                || self.used[run]
                || !self.carries(run)
                || to != node
                || self.reached[other.index()]
            {
                continue;
            }
            self.used[run] = true;
            self.feed(at, other, FeedKind::Run(run));
            followed += 1;
        }
        followed
    }

    fn says_ring(&self, circuit: usize) -> bool {
        self.house.plan.circuits[circuit]
            .ring
            .value()
            .is_some_and(|ring| ring.0)
    }

    /// A run that returns to a circuit closes its ring, if the circuit says that it is one and the
    /// run comes from its own chain.
    fn close_ring(&mut self, circuit: usize, last: usize, from: NodeIndex) {
        if !self.says_ring(circuit) || self.power.rings[circuit].is_some() {
            return;
        }
        let start = NodeIndex::new(circuit);
        let mut chain = Vec::new();
        let mut at = from;
        while at != start {
            let Some(edge) = self
                .power
                .feeds
                .edges_directed(at, petgraph::Direction::Incoming)
                .last()
            else {
                return;
            };
            let FeedKind::Run(run) = edge.weight().kind else {
                return;
            };
            chain.push((edge.id(), run));
            at = edge.source();
            if chain.len() > self.used.len() {
                return;
            }
        }
        for (edge, _) in &chain {
            self.power.feeds[*edge].ring = true;
        }
        let mut runs: Vec<usize> = chain.into_iter().rev().map(|(_, run)| run).collect();
        runs.push(last);
        self.power.rings[circuit] = Some(runs);
    }

    /// Puts the nodes in order; what lies in or behind a loop is left out and marked.
    fn sort(&mut self) {
        let feeds = &self.power.feeds;
        let count = feeds.node_count();
        let mut waiting: Vec<usize> = (0..count)
            .map(|at| {
                feeds
                    .edges_directed(NodeIndex::new(at), petgraph::Direction::Incoming)
                    .count()
            })
            .collect();
        let mut queue: VecDeque<NodeIndex> = (0..count)
            .filter(|at| waiting[*at] == 0)
            .map(NodeIndex::new)
            .collect();
        let mut order = Vec::with_capacity(count);
        while let Some(at) = queue.pop_front() {
            order.push(at);
            for target in feeds.neighbors(at) {
                waiting[target.index()] -= 1;
                if waiting[target.index()] == 0 {
                    queue.push_back(target);
                }
            }
        }
        let mut looped = vec![true; count];
        let mut rank = vec![u32::MAX; count];
        for (place, at) in order.iter().enumerate() {
            looped[at.index()] = false;
            rank[at.index()] = small(place);
        }
        self.power.rank = rank;
        self.power.order = order;
        self.power.looped = looped;
    }
}
