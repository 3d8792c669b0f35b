//! The house and its graph.

use std::cell::OnceCell;
use std::collections::HashMap;

use petgraph::graph::{NodeIndex, UnGraph};

use super::channel::Lines;
use super::length::RunLength;
use super::power::Power;
use crate::findings::{Id, Lack};
use crate::plan::{Endpoint, EndpointKind, Entry, Plan, Region, Run, Service, Sort, Stock, Thing};
use crate::yaml::{Sources, Span};

/// A node of the graph: a circuit or an endpoint.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Node {
    Circuit(u32),
    Endpoint(u32),
}

impl Node {
    /// The node of an endpoint, by its index in the plan.
    pub fn of_endpoint(index: usize) -> Self {
        Self::Endpoint(small(index))
    }

    /// The node of a circuit, by its index in the plan.
    pub fn of_circuit(index: usize) -> Self {
        Self::Circuit(small(index))
    }

    pub fn thing(self) -> Thing {
        match self {
            Self::Circuit(index) => Thing {
                sort: Sort::Circuit,
                index,
            },
            Self::Endpoint(index) => Thing {
                sort: Sort::Endpoint,
                index,
            },
        }
    }

    pub fn endpoint(self) -> Option<usize> {
        match self {
            Self::Endpoint(index) => Some(index as usize),
            Self::Circuit(_) => None,
        }
    }
}

/// A plan with its graph and its figures.
pub struct House<'p> {
    pub plan: &'p Plan,
    pub sources: &'p Sources,
    /// Circuits first, then endpoints; edges are runs, spare ones included. A run of which only one end can be
    /// read is a loop there: it reaches that end, and what keeps the other from being known has been reported.
    pub graph: UnGraph<Node, usize>,
    services: Vec<Option<Service>>,
    kinds: OnceCell<Vec<Vec<u32>>>,
    by_service: OnceCell<Vec<Vec<u32>>>,
    pub(super) members: Vec<Vec<u32>>,
    pub(super) lines: OnceCell<Lines>,
    pub(super) data: OnceCell<super::data::DataChannels>,
    pub(super) power: OnceCell<Power>,
    pub(super) trees: OnceCell<super::trees::Trees>,
    pub(super) supplies: OnceCell<super::supply::Supplies>,
    pub(super) converted: OnceCell<HashMap<usize, usize>>,
    pub(super) inner_conduits: OnceCell<Vec<Option<usize>>>,
    pub(super) poe_held: OnceCell<super::poe::Held>,
    pub(super) beside: OnceCell<super::beside::Beside>,
    pub(super) stocks: OnceCell<Vec<Vec<u32>>>,
    pub(super) panel: OnceCell<Option<usize>>,
    pub(super) demands: OnceCell<Vec<super::load::Demand>>,
    pub(super) own_demands: OnceCell<Vec<super::load::Demand>>,
    pub(super) drops: OnceCell<Vec<Option<Result<super::drop::Worst, Lack>>>>,
    pub(super) lengths: OnceCell<Vec<Result<RunLength, Lack>>>,
    pub(super) in_pathway: OnceCell<Vec<Vec<u32>>>,
    pub(super) passed: OnceCell<Vec<Vec<u32>>>,
    pub(super) spaces: OnceCell<super::space::Spaces>,
    pub(super) theatres: OnceCell<Vec<super::theatre::Theatre>>,
    pub(super) outcomes: OnceCell<super::variance::Outcomes>,
    pub(super) speaker_lines: OnceCell<Vec<super::speaker_lines::SpeakerLine>>,
    pub(super) media_rooms: OnceCell<Vec<super::places::MediaRoom>>,
    pub(super) in_reserve: OnceCell<Vec<bool>>,
}

impl<'p> House<'p> {
    /// Builds the graph, in time linear in the plan.
    pub fn build(plan: &'p Plan, sources: &'p Sources) -> Self {
        let nodes = plan.circuits.len() + plan.endpoints.len();
        let mut graph = UnGraph::with_capacity(nodes, plan.runs.len());
        for index in 0..plan.circuits.len() {
            graph.add_node(Node::Circuit(small(index)));
        }
        for index in 0..plan.endpoints.len() {
            graph.add_node(Node::Endpoint(small(index)));
        }
        let circuits = plan.circuits.len();
        for (index, run) in plan.runs.iter().enumerate() {
            let ends = [&run.from, &run.to].map(|end| end.value().map(|end| end.thing));
            if let [Some(from), Some(to)] = [ends[0].or(ends[1]), ends[1].or(ends[0])] {
                let at = |thing: Thing| NodeIndex::new(node_at(thing, circuits));
                graph.add_edge(at(from), at(to), index);
            }
        }
        let services = plan
            .runs
            .iter()
            .map(|run| {
                let stock = run.stock.value().map(|stock| &plan.stock[stock.at()]);
                let stated = run.carries.value().copied();
                let stated = stated.or_else(|| stock?.service.value().copied());
                // What could not be read of the cable is reported and is no gap, and nothing but power comes from a
                // breaker.
                let unread =
                    run.stock.is_bad() || stock.is_some_and(|stock| stock.service.is_bad());
                let ends = [&run.from, &run.to].map(|end| end.value().map(|end| end.thing.sort));
                let fed = unread && !run.carries.is_bad() && ends.contains(&Some(Sort::Circuit));
                stated.or(fed.then_some(Service::Power))
            })
            .collect();
        let mut members = vec![Vec::new(); plan.endpoints.len()];
        for (index, endpoint) in plan.endpoints.iter().enumerate() {
            if let Some(within) = endpoint.within.value() {
                members[within.at()].push(small(index));
            }
        }
        Self {
            plan,
            sources,
            graph,
            services,
            kinds: OnceCell::new(),
            by_service: OnceCell::new(),
            members,
            lines: OnceCell::new(),
            data: OnceCell::new(),
            power: OnceCell::new(),
            trees: OnceCell::new(),
            supplies: OnceCell::new(),
            converted: OnceCell::new(),
            inner_conduits: OnceCell::new(),
            poe_held: OnceCell::new(),
            beside: OnceCell::new(),
            stocks: OnceCell::new(),
            panel: OnceCell::new(),
            demands: OnceCell::new(),
            own_demands: OnceCell::new(),
            drops: OnceCell::new(),
            lengths: OnceCell::new(),
            in_pathway: OnceCell::new(),
            passed: OnceCell::new(),
            spaces: OnceCell::new(),
            theatres: OnceCell::new(),
            outcomes: OnceCell::new(),
            speaker_lines: OnceCell::new(),
            media_rooms: OnceCell::new(),
            in_reserve: OnceCell::new(),
        }
    }

    /// The region, or that it was reported.
    ///
    /// # Errors
    /// [`Lack::Reported`] where the plan has none: reading has said so.
    pub fn region(&self) -> Result<Region, Lack> {
        self.plan.region.value().copied().ok_or(Lack::Reported)
    }

    pub fn graph_index(&self, node: Node) -> NodeIndex {
        NodeIndex::new(node_at(node.thing(), self.plan.circuits.len()))
    }

    pub fn node(&self, thing: Thing) -> Node {
        match thing.sort {
            Sort::Circuit => Node::Circuit(thing.index),
            _ => Node::Endpoint(thing.index),
        }
    }

    /// Both ends of a run, where it has both.
    pub fn ends(&self, run: usize) -> Option<(Node, Node)> {
        let run = &self.plan.runs[run];
        Some((
            self.node(run.from.value()?.thing),
            self.node(run.to.value()?.thing),
        ))
    }

    pub fn id(&self, node: Node) -> &'p Id {
        self.plan.id(node.thing())
    }

    /// The place of a node's id.
    pub fn span(&self, node: Node) -> Span {
        self.plan.place(node.thing())
    }

    pub fn endpoint(&self, node: Node) -> Option<&'p Entry<Endpoint>> {
        Some(&self.plan.endpoints[node.endpoint()?])
    }

    /// What a run carries: its own word, else what its stock is made for; power where that could
    /// not be read and it ends at a circuit.
    pub fn service(&self, run: usize) -> Option<Service> {
        self.services[run]
    }

    /// Runs of one service in the plan's order, spare ones included: a rule that judges one
    /// service passes no others over.
    pub fn runs_of(&self, service: Service) -> impl Iterator<Item = usize> + '_ {
        self.listed_runs(service as usize)
    }

    /// Runs of which it is not known what they carry, in the plan's order; [`Self::want_service`]
    /// says why.
    pub fn runs_of_no_known_service(&self) -> impl Iterator<Item = usize> + '_ {
        self.listed_runs(Service::WORDS.len())
    }

    /// Runs that carry a service, then those that may: for rules of hazards, which ask the second
    /// what they carry.
    pub fn runs_that_may_be(&self, service: Service) -> impl Iterator<Item = usize> + '_ {
        self.runs_of(service).chain(self.runs_of_no_known_service())
    }

    fn listed_runs(&self, list: usize) -> impl Iterator<Item = usize> + '_ {
        let lists = self.by_service.get_or_init(|| {
            let mut lists = vec![Vec::new(); Service::WORDS.len() + 1];
            for (run, service) in self.services.iter().enumerate() {
                let list = service.map_or(Service::WORDS.len(), |service| service as usize);
                lists[list].push(small(run));
            }
            lists
        });
        lists[list].iter().map(|run| *run as usize)
    }

    /// Endpoints of one kind in the plan's order.
    pub fn endpoints_of(&self, kind: EndpointKind) -> impl Iterator<Item = usize> + '_ {
        let lists = self.kinds.get_or_init(|| {
            let mut lists = vec![Vec::new(); EndpointKind::WORDS.len()];
            for (index, endpoint) in self.plan.endpoints.iter().enumerate() {
                if let Some(kind) = endpoint.kind.value() {
                    lists[*kind as usize].push(small(index));
                }
            }
            lists
        });
        lists[kind as usize].iter().map(|index| *index as usize)
    }

    /// What a run carries, or what is missing to know it.
    ///
    /// # Errors
    /// The missing `stock` of the run or `for` of the stock.
    pub fn want_service(&self, run: usize) -> Result<Service, Lack> {
        if let Some(service) = self.services[run] {
            return Ok(service);
        }
        let run = &self.plan.runs[run];
        if run.carries.is_bad() {
            return Err(Lack::Reported);
        }
        let stock = self.want_stock(run)?;
        Err(stock
            .service
            .want("`for`", &stock.id)
            .err()
            .unwrap_or(Lack::Reported))
    }

    /// The stock of a run.
    ///
    /// # Errors
    /// The run states none.
    pub fn want_stock(&self, run: &Entry<Run>) -> Result<&'p Entry<Stock>, Lack> {
        let stock = run.stock.want("stock", &run.id)?;
        Ok(&self.plan.stock[stock.at()])
    }

    pub fn is_spare(&self, run: usize) -> bool {
        self.plan.runs[run]
            .spare
            .value()
            .is_some_and(|spare| spare.0)
    }

    /// Runs that end at a node, spare ones included.
    pub fn runs_at(&self, node: Node) -> impl Iterator<Item = usize> + '_ {
        self.graph
            .edges(self.graph_index(node))
            .map(|edge| *edge.weight())
    }

    /// Runs of one service that end at an endpoint or at anything that stands in it, without
    /// spares.
    pub fn live_runs_at(&self, endpoint: usize, service: Service) -> Vec<usize> {
        let mut found = Vec::new();
        for at in self.with_members(endpoint) {
            found.extend(
                self.runs_at(Node::Endpoint(small(at)))
                    .filter(|run| self.service(*run) == Some(service) && !self.is_spare(*run)),
            );
        }
        found
    }

    /// An endpoint and everything that stands in it, directly or by way of others.
    pub fn with_members(&self, endpoint: usize) -> Vec<usize> {
        let mut all = vec![endpoint];
        if self.members[endpoint].is_empty() {
            return all;
        }
        let mut seen = std::collections::HashSet::from([endpoint]);
        let mut next = 0;
        while next < all.len() {
            for member in &self.members[all[next]] {
                let member = *member as usize;
                // A circle of `in` has been reported; it must not trap us.
                if seen.insert(member) {
                    all.push(member);
                }
            }
            next += 1;
        }
        all
    }
}

fn node_at(thing: Thing, circuits: usize) -> usize {
    match thing.sort {
        Sort::Circuit => thing.at(),
        _ => circuits + thing.at(),
    }
}

/// Plans are held to 4 GB, so every index fits.
pub(super) fn small(index: usize) -> u32 {
    u32::try_from(index).unwrap_or(u32::MAX)
}
