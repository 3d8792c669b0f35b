//! What each node draws, and what each circuit carries.

use std::collections::HashMap;

use petgraph::Direction;
use petgraph::graph::NodeIndex;
use petgraph::visit::EdgeRef;

use super::kinds::is_consumer;
use super::power::{self, FeedKind};
use super::topology::{House, Node};
use crate::figures::load::Load;
use crate::figures::phases::Phases;
use crate::findings::Lack;
use crate::plan::Duty;
use crate::units::{Power, Volts, unit};

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
    /// The first endpoint that hangs on a loop of power runs, so that what it draws is left out.
    pub looped: Option<usize>,
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
        self.looped = self.looped.or(more.looped);
    }

    /// Why the sum is not the whole, if it is not.
    ///
    /// # Errors
    /// The first load that is missing.
    pub fn whole(self, house: &House<'_>) -> Result<(), Lack> {
        if let Some(endpoint) = self.looped {
            return house.no_loop(Node::of_endpoint(endpoint));
        }
        match self.missing {
            Some(endpoint) => Err(Lack::absent(format!(
                "load of {}",
                house.plan.endpoints[endpoint].id
            ))),
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

    /// What an endpoint draws itself. Nothing where the load of what it stands in counts it; and
    /// of a load that counts what stands in it, only what those with feeds of their own leave.
    pub fn own_demand(&self, endpoint: usize) -> Demand {
        self.own_demands.get_or_init(|| self.compute_own_demands())[endpoint]
    }

    fn compute_own_demands(&self) -> Vec<Demand> {
        let endpoints = &self.plan.endpoints;
        // From the members' side, so that a long chain of `in` stays linear.
        let mut elsewhere = vec![0.0; endpoints.len()];
        let mut holds_consumer = vec![false; endpoints.len()];
        for (index, endpoint) in endpoints.iter().enumerate() {
            let consumes = is_consumer(endpoint);
            let load = endpoint.load.value().map_or(0.0, |load| load.base());
            let own_load = load > 0.0 && self.has_feed_of_its_own(index);
            let mut counted = false;
            for host in self.hosts(index).skip(1) {
                holds_consumer[host] |= consumes;
                if own_load && !counted && endpoints[host].load.value().is_some() {
                    elsewhere[host] += load;
                    counted = true;
                }
            }
        }
        (0..endpoints.len())
            .map(|index| self.compute_own(index, elsewhere[index], holds_consumer[index]))
            .collect()
    }

    fn compute_own(&self, endpoint: usize, elsewhere: f64, holds_consumer: bool) -> Demand {
        let stated = &self.plan.endpoints[endpoint];
        let mut demand = Demand::default();
        let counted = self
            .hosts(endpoint)
            .skip(1)
            .any(|host| self.plan.endpoints[host].load.value().is_some());
        if (counted || is_fed_by_data(stated)) && !self.has_feed_of_its_own(endpoint) {
            return demand;
        }
        if let Some(load) = stated.load.value() {
            let watts = (load.base() - elsewhere).max(0.0);
            match stated.duty.or(Duty::Intermittent) {
                Ok(Duty::Continuous) => demand.continuous = watts,
                Ok(Duty::Intermittent) => demand.other = watts,
                Err(_) => {
                    demand.other = watts;
                    demand.bad = true;
                }
            }
        } else if stated.load.is_bad() || stated.kind.is_bad() {
            demand.bad = true;
        } else if is_consumer(stated) && !holds_consumer && !is_fed_by_data(stated) {
            demand.missing = Some(endpoint);
        }
        demand
    }

    /// Whether a run or a plug of its own feeds an endpoint.
    fn has_feed_of_its_own(&self, endpoint: usize) -> bool {
        let at = self.graph_index(Node::of_endpoint(endpoint));
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
                let target = feed.target();
                if power.looped[target.index()] {
                    demand.looped = demand.looped.or(power.feeds[target].endpoint());
                }
                demand.add(demands[target.index()], power.shares[feed.id().index()]);
            }
            demands[at.index()] = demand;
        }
        // Around a ring each node's draw counts at the circuit, not at the node before it.
        for (circuit, ring) in power.rings.iter().enumerate() {
            for node in ring.iter().flat_map(|runs| ring_nodes(self, circuit, runs)) {
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
pub(super) fn ring_nodes(house: &House<'_>, circuit: usize, runs: &[usize]) -> Vec<NodeIndex> {
    let mut at = Node::of_circuit(circuit);
    runs.iter()
        .take(runs.len().saturating_sub(1))
        .filter_map(|run| {
            at = house.other_end(*run, at)?;
            Some(house.graph_index(at))
        })
        .collect()
}

/// For each feed, what share of its node's demand comes by it: as the node's `split` says, else
/// equally. Two feeds from one circuit put all of it there, since each carries its share.
pub(super) fn shares(house: &House<'_>, power: &power::Power) -> Vec<f64> {
    let mut shares = vec![1.0; power.feeds.edge_count()];
    for node in power.feeds.node_indices() {
        let mut feeds: Vec<_> = power
            .feeds
            .edges_directed(node, Direction::Incoming)
            .collect();
        if feeds.len() < 2 {
            continue;
        }
        let Some(endpoint) = power.feeds[node].endpoint() else {
            continue;
        };
        let endpoint = &house.plan.endpoints[endpoint];
        // Runs in the order of the plan, then plugs in the order of `at-outlet`, then racks.
        let outlets: HashMap<usize, usize> = endpoint
            .at_outlet
            .value()
            .into_iter()
            .flat_map(|list| list.values().enumerate())
            .map(|(place, outlet)| (outlet.at(), place))
            .collect();
        feeds.sort_by_key(|feed| match feed.weight().kind {
            FeedKind::Run(run) => (0, run),
            FeedKind::Plug => {
                let outlet = power.feeds[feed.source()].endpoint();
                (
                    1,
                    outlet
                        .and_then(|outlet| outlets.get(&outlet))
                        .copied()
                        .unwrap_or(usize::MAX),
                )
            }
            FeedKind::Cord => (2, feed.id().index()),
        });
        let split = endpoint
            .split
            .value()
            .filter(|split| split.0.len() == feeds.len());
        #[expect(clippy::cast_precision_loss, reason = "a count of feeds")]
        let equal = 1.0 / feeds.len() as f64;
        for (place, feed) in feeds.iter().enumerate() {
            let share = split.map_or(equal, |split| split.0[place].value.base());
            shares[feed.id().index()] = share.clamp(0.0, 1.0);
        }
    }
    shares
}

/// One load that a circuit carries.
#[derive(Debug, Clone, Copy)]
pub struct CarriedLoad {
    pub endpoint: usize,
    pub load: Load,
    pub continuous: bool,
}

/// What part of a circuit's current comes to a node.
type Shares = HashMap<NodeIndex, f64, foldhash::fast::RandomState>;

impl House<'_> {
    /// How many phases a circuit has: three by its poles. In regions of 230 V one pole has no more to earth, so what
    /// has 300 V and more has two or three.
    ///
    /// # Errors
    /// It does not state the poles that tell.
    pub fn phases(&self, circuit: usize) -> Result<Phases, Lack> {
        let entry = &self.plan.circuits[circuit];
        let metric = self
            .region()
            .is_ok_and(|region| !region.is_north_american());
        match (entry.poles.value(), entry.volts.value()) {
            (Some(poles), _) if poles.0 >= 3 => Ok(Phases::Three),
            (None, Some(volts)) if metric && volts.base() >= 300.0 => {
                entry.poles.want("poles", &entry.id).map(|_| Phases::One)
            }
            _ => Ok(Phases::One),
        }
    }

    /// The loads that a circuit carries, in the order of their distance, with the share of each
    /// that falls to this circuit.
    ///
    /// # Errors
    /// The circuit states no volts, or not how many phases it has.
    pub fn carried(&self, circuit: usize) -> Result<Vec<CarriedLoad>, Lack> {
        let power = self.power();
        let entry = &self.plan.circuits[circuit];
        let volts: Volts = *entry.volts.want("volts", &entry.id)?.value;
        let phases = self.phases(circuit)?;
        let mut nodes: Vec<NodeIndex> = self
            .tree(circuit)
            .iter()
            .map(|reached| self.graph_index(reached.node))
            .collect();
        nodes.sort_by_key(|node| power.rank[node.index()]);
        // Each node hands on what comes to it, so that a node of many feeds is asked once.
        let mut shares = Shares::default();
        hand_on(power, NodeIndex::new(circuit), 1.0, &mut shares);
        let mut carried = Vec::new();
        for at in nodes.into_iter().filter(|at| !power.looped[at.index()]) {
            let share = shares.get(&at).copied().unwrap_or(0.0);
            hand_on(power, at, share, &mut shares);
            let Some(endpoint) = power.feeds[at].endpoint() else {
                continue;
            };
            let own = self.own_demand(endpoint);
            if let Some(stated) = self.plan.endpoints[endpoint].load.value()
                && own.watts() > 0.0
            {
                let power = stated.same_unit(Power::new::<unit::watt>(own.watts()));
                let load = Load {
                    power,
                    volts,
                    phases,
                    share: share.min(1.0),
                };
                carried.push(CarriedLoad {
                    endpoint,
                    load,
                    continuous: own.continuous > 0.0,
                });
            }
        }
        Ok(carried)
    }
}

fn hand_on(power: &power::Power, at: NodeIndex, share: f64, shares: &mut Shares) {
    for feed in power.feeds.edges(at) {
        *shares.entry(feed.target()).or_insert(0.0) += share * power.shares[feed.id().index()];
    }
}
