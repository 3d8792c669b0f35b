//! What each node draws, and what each circuit carries.

use std::collections::HashMap;

use petgraph::Direction;
use petgraph::graph::NodeIndex;
use petgraph::visit::EdgeRef;

use super::kinds::is_consumer;
use super::power::{FeedKind, Power};
use super::topology::{House, Node};
use crate::figures::load::Load;
use crate::findings::Lack;
use crate::plan::Duty;
use crate::units::Volts;

/// Power drawn at and below a node.
#[derive(Debug, Clone, Copy, Default)]
pub struct Demand {
    /// Watts of loads that run three hours or more.
    pub continuous: f64,
    /// Watts of the rest.
    pub other: f64,
    /// The first endpoint whose load is not stated.
    pub missing: Option<usize>,
    /// A load that could not be read is among them.
    pub bad: bool,
}

impl Demand {
    pub fn watts(self) -> f64 {
        self.continuous + self.other
    }

    fn add(&mut self, more: Self, share: f64) {
        self.continuous += more.continuous * share;
        self.other += more.other * share;
        self.missing = self.missing.or(more.missing);
        self.bad |= more.bad;
    }

    /// Why the sum is not the whole, if it is not.
    ///
    /// # Errors
    /// The first load that is missing.
    pub fn whole(self, house: &House<'_>) -> Result<(), Lack> {
        match self.missing {
            Some(endpoint) => Err(Lack::absent(format!("load of {}", house.plan.endpoints[endpoint].id))),
            None if self.bad => Err(Lack::Reported),
            None => Ok(()),
        }
    }
}

impl House<'_> {
    /// Power drawn at and below every node of the house's graph.
    pub fn demands(&self) -> &[Demand] {
        self.demands.get_or_init(|| self.compute_demands())
    }

    /// Power that a circuit carries. An overestimate of nothing: what is missing is said in it.
    pub fn demand(&self, node: Node) -> Demand {
        self.demands()[self.graph_index(node).index()]
    }

    /// What an endpoint draws itself. Nothing where the load of what it stands in counts it.
    pub fn own_demand(&self, endpoint: usize) -> Demand {
        let stated = &self.plan.endpoints[endpoint];
        let mut demand = Demand::default();
        let counted = self.hosts(endpoint).skip(1).any(|host| self.plan.endpoints[host].load.value().is_some());
        if counted && !self.has_feed_of_its_own(endpoint) {
            return demand;
        }
        if let Some(load) = stated.load.value() {
            match stated.duty.or(Duty::Intermittent) {
                Ok(Duty::Continuous) => demand.continuous = load.base(),
                Ok(Duty::Intermittent) => demand.other = load.base(),
                Err(_) => {
                    demand.other = load.base();
                    demand.bad = true;
                }
            }
        } else if stated.load.is_bad() || stated.kind.is_bad() {
            demand.bad = true;
        } else if is_consumer(stated) && self.members[endpoint].is_empty() && !is_fed_by_data(stated) {
            demand.missing = Some(endpoint);
        }
        demand
    }

    /// Whether a run or a plug of its own feeds an endpoint.
    pub fn has_feed_of_its_own(&self, endpoint: usize) -> bool {
        let at = self.graph_index(Node::Endpoint(super::topology::small(endpoint)));
        let mut feeds = self.power().feeds.edges_directed(at, Direction::Incoming);
        feeds.any(|feed| feed.weight().kind != FeedKind::Cord)
    }

    fn compute_demands(&self) -> Vec<Demand> {
        let power = self.power();
        let mut demands = vec![Demand::default(); power.feeds.node_count()];
        for at in power.order.iter().rev() {
            let mut demand = match power.feeds[*at] {
                Node::Endpoint(index) => self.own_demand(index as usize),
                Node::Circuit(_) => Demand::default(),
            };
            for feed in power.feeds.edges(*at).filter(|feed| !feed.weight().ring) {
                let share = share_of(self, power, feed.target(), feed.id());
                demand.add(demands[feed.target().index()], share);
            }
            demands[at.index()] = demand;
        }
        // Around a ring each node's draw counts at the circuit, not at the node before it.
        for (circuit, ring) in power.rings.iter().enumerate() {
            for node in ring.iter().flat_map(|runs| ring_nodes(self, runs)) {
                let more = demands[node.index()];
                demands[circuit].add(more, 1.0);
            }
        }
        demands
    }
}

/// Devices that take their power from a data cable.
fn is_fed_by_data(endpoint: &crate::plan::Endpoint) -> bool {
    !endpoint.poe.is_absent()
}

/// Nodes of a ring in the order of its runs, without the circuit.
pub(super) fn ring_nodes(house: &House<'_>, runs: &[usize]) -> Vec<NodeIndex> {
    runs.iter()
        .take(runs.len().saturating_sub(1))
        .filter_map(|run| house.ends(*run))
        .map(|(_, to)| house.graph_index(to))
        .collect()
}

/// What share of a node's demand comes by one of its feeds: as its `split` says, else equally.
/// Two feeds from one circuit put all of it there, since each carries its share.
pub(super) fn share_of(
    house: &House<'_>,
    power: &Power,
    node: NodeIndex,
    feed: petgraph::graph::EdgeIndex,
) -> f64 {
    let mut feeds: Vec<_> = power.feeds.edges_directed(node, Direction::Incoming).map(|edge| edge.id()).collect();
    if feeds.len() < 2 {
        return 1.0;
    }
    // In the order of the runs.
    feeds.sort_unstable_by_key(|edge| match power.feeds[*edge].kind {
        FeedKind::Run(run) => (0, run),
        _ => (1, edge.index()),
    });
    let at = feeds.iter().position(|edge| *edge == feed).unwrap_or(0);
    let split = power.feeds[node].endpoint().and_then(|index| house.plan.endpoints[index].split.value());
    if let Some(split) = split
        && split.0.len() == feeds.len()
    {
        return split.0[at].value.base();
    }
    #[expect(clippy::cast_precision_loss, reason = "a count of feeds")]
    let equal = 1.0 / feeds.len() as f64;
    equal
}

/// One load that a circuit carries.
#[derive(Debug, Clone, Copy)]
pub struct CarriedLoad {
    pub endpoint: usize,
    pub load: Load,
    pub continuous: bool,
}

impl House<'_> {
    /// The loads that a circuit carries, in the order of their distance, with the share of each
    /// that falls to this circuit.
    ///
    /// # Errors
    /// The circuit states no volts.
    pub fn carried(&self, circuit: usize) -> Result<Vec<CarriedLoad>, Lack> {
        let power = self.power();
        let entry = &self.plan.circuits[circuit];
        let volts: Volts = *entry.volts.want("volts", &entry.id)?.value;
        let mut nodes: Vec<NodeIndex> =
            self.tree(circuit).iter().map(|reached| self.graph_index(reached.node)).collect();
        nodes.sort_by_key(|node| power.rank[node.index()]);
        let mut shares: HashMap<NodeIndex, f64> = HashMap::from([(NodeIndex::new(circuit), 1.0)]);
        let mut carried = Vec::new();
        for at in nodes {
            let feeds = power.feeds.edges_directed(at, Direction::Incoming);
            let share: f64 = feeds
                .filter_map(|feed| Some(shares.get(&feed.source())? * share_of(self, power, at, feed.id())))
                .sum();
            shares.insert(at, share);
            let Some(endpoint) = power.feeds[at].endpoint() else { continue };
            let own = self.own_demand(endpoint);
            if let Some(stated) = self.plan.endpoints[endpoint].load.value()
                && own.watts() > 0.0
            {
                let load = Load { power: **stated, volts, share: share.min(1.0) };
                carried.push(CarriedLoad { endpoint, load, continuous: own.continuous > 0.0 });
            }
        }
        Ok(carried)
    }
}
