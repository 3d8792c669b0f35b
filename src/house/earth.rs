//! The earthing conductor of power runs, and what wants one.

use std::collections::{HashMap, HashSet};

use petgraph::visit::EdgeRef;

use super::kinds::is_consumer;
use super::power::FeedKind;
use super::topology::{House, Node};
use crate::findings::{Id, Lack};
use crate::plan::{EndpointKind as Kind, Entry, Make, Pathway, PathwayKind, Run, Stock};

/// Why it is not known whether a run has an earthing conductor: the thing that lacks, and what.
pub type NoEarthing<'p> = (&'p Id, Lack);

/// Whether an endpoint is to be earthed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WantsEarth {
    Yes,
    No,
    /// It draws power, or has sockets, and the plan does not say.
    Unknown,
}

/// What wants an earth at and below each node of the house's graph.
pub struct Earths {
    wanted: Vec<Option<u32>>,
    unknown: Vec<bool>,
}

impl Earths {
    /// The first endpoint at or below a node that is to be earthed.
    pub fn wanted(&self, house: &House<'_>, node: Node) -> Option<usize> {
        self.wanted[house.graph_index(node).index()].map(|endpoint| endpoint as usize)
    }

    /// Whether there is one of which the plan does not say it.
    pub fn unknown(&self, house: &House<'_>, node: Node) -> bool {
        self.unknown[house.graph_index(node).index()]
    }
}

impl<'p> House<'p> {
    /// Whether a run has an earthing conductor: a core of its own, the armour of AC cable, or in us
    /// and ca a metal conduit around all of it. Flexible metal conduit may serve up to `longest`
    /// metres.
    ///
    /// # Errors
    /// What is missing to know.
    pub fn earthing(&self, index: usize, longest: f64) -> Result<bool, NoEarthing<'p>> {
        let run = &self.plan.runs[index];
        let stock = self.want_stock(run).map_err(|lack| (&run.id, lack))?;
        let cores = stock.cores.want("cores", &stock.id);
        if cores.map_err(|lack| (&stock.id, lack))?.earth {
            return Ok(true);
        }
        if let Some(armour) = armour(stock)? {
            return Ok(armour);
        }
        self.conduit_earths(run, longest)
    }

    fn conduit_earths(&self, run: &'p Entry<Run>, longest: f64) -> Result<bool, NoEarthing<'p>> {
        let american = self
            .region()
            .map_err(|lack| (&run.id, lack))?
            .is_north_american();
        let named = match run.through.want("through", &run.id) {
            Ok(named) if !named.0.is_empty() => named,
            Err(Lack::Reported) => return Err((&run.id, Lack::Reported)),
            // Conduit is all but unknown in houses elsewhere.
            _ if !american => return Ok(false),
            _ => {
                return Err((&run.id, Lack::absent(format!("through of {}", run.id))));
            }
        };
        let ways: Vec<&'p Entry<Pathway>> = named
            .values()
            .map(|way| &self.plan.pathways[way.at()])
            .collect();
        let mut lack = None;
        let mut flexible = 0.0;
        for way in &ways {
            let kind = way.kind.want("kind", &way.id);
            match (kind.map(|kind| kind.value), way.make.value()) {
                (Err(missing), _) => lack = lack.or(Some((&way.id, missing))),
                (Ok(PathwayKind::Conduit | PathwayKind::Raceway), Some(Make::Fmc)) => {
                    flexible += way.laid_length().map_or(0.0, |length| length.base());
                    let open = format!("whether {} may serve as the earthing conductor", way.id);
                    lack = lack.or(Some((&way.id, Lack::absent(open))));
                }
                (Ok(PathwayKind::Conduit | PathwayKind::Raceway), Some(make))
                    if make.is_metal() =>
                {
                    if !american {
                        let open =
                            format!("whether {} may serve as the earthing conductor", way.id);
                        lack = lack.or(Some((&way.id, Lack::absent(open))));
                    }
                }
                (Ok(PathwayKind::Conduit | PathwayKind::Raceway), Some(_)) => return Ok(false),
                (Ok(PathwayKind::Conduit | PathwayKind::Raceway), None) => {
                    let missing = way.make.want("make", &way.id).err();
                    lack = lack.or(missing.map(|missing| (&way.id, missing)));
                }
                // The space that a conduit of the run lies in; any other is passed in the open.
                (Ok(_), _) => match ways.iter().find(|inner| lies_in(inner, self, way)) {
                    None => return Ok(false),
                    Some(inner) => {
                        let open = format!("whether {} is around all of {}", inner.id, run.id);
                        lack = lack.or(Some((&run.id, Lack::absent(open))));
                    }
                },
            }
        }
        if flexible > longest * (1.0 + 1e-9) {
            return Ok(false);
        }
        lack.map_or(Ok(true), Err)
    }

    /// Whether an endpoint is to be earthed. An outlet is unless it says otherwise; what else passes
    /// power on and draws none is not unless it says so.
    pub fn wants_earth(&self, endpoint: usize) -> WantsEarth {
        let entry = &self.plan.endpoints[endpoint];
        match entry.earthed.value() {
            Some(earthed) if earthed.0 => WantsEarth::Yes,
            Some(_) => WantsEarth::No,
            None if entry.earthed.is_bad() => WantsEarth::Unknown,
            // NEC 406.4(A) and BS 7671 411.3.1.1, from memory: a new outlet is earthed.
            None if entry.kind.value() == Some(&Kind::Outlet) => WantsEarth::Yes,
            None if is_consumer(entry) || entry.kind.value() == Some(&Kind::PowerConditioner) => {
                WantsEarth::Unknown
            }
            None => WantsEarth::No,
        }
    }

    /// What wants an earth at and below each node. In and behind a loop only a node itself counts.
    pub fn earths(&self) -> Earths {
        let power = self.power();
        let count = power.feeds.node_count();
        let mut earths = Earths {
            wanted: vec![None; count],
            unknown: vec![false; count],
        };
        for at in power.feeds.node_indices() {
            if let Node::Endpoint(endpoint) = power.feeds[at] {
                match self.wants_earth(endpoint as usize) {
                    WantsEarth::Yes => earths.wanted[at.index()] = Some(endpoint),
                    WantsEarth::Unknown => earths.unknown[at.index()] = true,
                    WantsEarth::No => {}
                }
            }
        }
        for at in power.order.iter().rev() {
            for target in power.feeds.neighbors(*at) {
                let (at, target) = (at.index(), target.index());
                earths.wanted[at] = earths.wanted[at].or(earths.wanted[target]);
                earths.unknown[at] |= earths.unknown[target];
            }
        }
        earths
    }

    /// The node that each of some runs feeds. The last run of a ring stands for all of it; a run
    /// that carries no power is left out.
    pub fn fed_by(&self, runs: &[usize]) -> HashMap<usize, Node> {
        let power = self.power();
        let wanted: HashSet<usize> = runs.iter().copied().collect();
        let mut fed = HashMap::new();
        for feed in power.feeds.edge_references() {
            if let FeedKind::Run(run) = feed.weight().kind
                && wanted.contains(&run)
            {
                fed.insert(run, power.feeds[feed.target()]);
            }
        }
        for ring in power.rings.iter().flatten() {
            if let (Some(first), Some(last)) = (ring.first(), ring.last())
                && wanted.contains(last)
            {
                let start = self.ends(*first).map(|(from, to)| match from {
                    Node::Circuit(_) => to,
                    Node::Endpoint(_) => from,
                });
                fed.extend(start.map(|start| (*last, start)));
            }
        }
        fed
    }

    /// Endpoints of which it is not known whether they are to be earthed, at and below some nodes.
    pub fn unknown_below(&self, nodes: &[Node]) -> Vec<usize> {
        let power = self.power();
        let mut below = vec![false; power.feeds.node_count()];
        for node in nodes {
            below[self.graph_index(*node).index()] = true;
        }
        let mut found = Vec::new();
        for at in &power.order {
            let above = power
                .feeds
                .neighbors_directed(*at, petgraph::Direction::Incoming);
            below[at.index()] |= above.into_iter().any(|above| below[above.index()]);
        }
        for at in power.feeds.node_indices().filter(|at| below[at.index()]) {
            let endpoint = power.feeds[at].endpoint();
            found.extend(endpoint.filter(|at| self.wants_earth(*at) == WantsEarth::Unknown));
        }
        found
    }
}

/// Whether the armour of a cable serves as its earthing conductor, where it has armour: that of AC
/// does, that of MC by its kind (NEC 250.118, from memory).
fn armour(stock: &Entry<Stock>) -> Result<Option<bool>, NoEarthing<'_>> {
    if stock.rating.is_bad() {
        return Err((&stock.id, Lack::Reported));
    }
    let listings = stock.rating.value().into_iter();
    let mut listings = listings.flat_map(|list| list.values()).map(|text| {
        let end = text.find(|c: char| !c.is_ascii_alphabetic());
        &text[..end.unwrap_or(text.len())]
    });
    match listings.find(|kind| matches!(*kind, "AC" | "MC")) {
        Some("AC") => Ok(Some(true)),
        Some(_) => {
            let open = format!("whether the armour of {} is made to earth", stock.id);
            Err((&stock.id, Lack::absent(open)))
        }
        None => Ok(None),
    }
}

fn lies_in(inner: &Pathway, house: &House<'_>, outer: &Entry<Pathway>) -> bool {
    let mut inside = inner
        .inside
        .value()
        .into_iter()
        .flat_map(|list| list.values());
    inside.any(|way| house.plan.pathways[way.at()].id == outer.id)
}
