//! Voltage drop to each node of a circuit's tree, taps taken one by one along the tree.

use petgraph::Direction;
use petgraph::graph::{EdgeIndex, NodeIndex};
use petgraph::visit::EdgeRef;

use super::load::{ring_nodes, share_of};
use super::power::{FeedKind, Power};
use super::ring::SolvedRing;
use super::topology::{House, Node};
use crate::figures::drop::{Feeder, Segment, VoltageDrop};
use crate::findings::Lack;
use crate::plan::{Region, Service};
use crate::units::{Current, Volts, unit};

/// The worse way to a node.
#[derive(Debug, Clone)]
pub struct Worst {
    pub circuit: usize,
    /// The feed by which it comes; none at the circuit itself, and on a ring.
    pub feed: Option<EdgeIndex>,
    /// Volts lost from the service, or from the breaker where no feeder drop is stated.
    pub volts: f64,
    /// What is missing on the way, so that the true drop is greater.
    pub lack: Option<Lack>,
}

/// The drop to a node, and what it leaves out.
#[derive(Debug)]
pub struct NodeDrop {
    pub figure: VoltageDrop,
    pub circuit: usize,
    /// Runs on the way, from the circuit on.
    pub runs: Vec<usize>,
    /// The node has several feeds, of which this is the worst.
    pub worst_of: usize,
    /// Some length on the way is estimated.
    pub estimated: bool,
}

impl House<'_> {
    /// Temperature at which power conductors are reckoned, in degrees Celsius: 75 in the us and
    /// ca (NEC chapter 9 table 8), 70 elsewhere (BS 7671 appendix 4).
    ///
    /// # Errors
    /// The plan has no region.
    pub fn power_celsius(&self) -> Result<f64, Lack> {
        Ok(match self.region()? {
            Region::Us | Region::Ca => 75.0,
            Region::Gb | Region::Eu | Region::Au => 70.0,
        })
    }

    /// The worse way to a node: percent of nominal volts, and what it leaves out. None where no
    /// circuit reaches the node, or a loop is in the way.
    pub fn worst(&self, node: Node) -> Option<(&Worst, f64)> {
        let drops = self.drops.get_or_init(|| self.compute_drops());
        let worst = drops[self.graph_index(node).index()].as_ref()?;
        let volts = self.plan.circuits[worst.circuit].volts.value()?.base();
        Some((worst, worst.volts / volts * 100.0))
    }

    /// The drop to a node with its working. None where [`Self::worst`] has none.
    pub fn voltage_drop(&self, node: Node) -> Option<NodeDrop> {
        let power = self.power();
        let drops = self.drops.get_or_init(|| self.compute_drops());
        let circuit = drops[self.graph_index(node).index()].as_ref()?.circuit;
        let volts: Volts = **self.plan.circuits[circuit].volts.value()?;
        let (mut segments, mut runs) = (Vec::new(), Vec::new());
        let mut at = self.graph_index(node);
        let worst_of = power.feeds.edges_directed(at, Direction::Incoming).count();
        while let Some(feed) = drops[at.index()].as_ref()?.feed {
            let (from, _) = power.feeds.edge_endpoints(feed)?;
            if let FeedKind::Run(run) = power.feeds[feed].kind {
                runs.push(run);
                segments.extend(self.segment(run, self.current(power, feed, at, volts)));
            }
            at = from;
        }
        segments.reverse();
        runs.reverse();
        if let Node::Endpoint(_) = power.feeds[at] {
            let ring = power.rings[circuit].as_ref()?;
            let tap = ring_nodes(self, ring).iter().position(|node| *node == at)?;
            let mut solved = SolvedRing::of(self, circuit, ring)?.ring.path_to(tap)?;
            solved.append(&mut segments);
            segments = solved;
            runs = ring.iter().copied().chain(runs).collect();
        }
        let feeder = self.plan.circuits[circuit].feeder_drop.value().map(|share| Feeder::Share(**share));
        let figure = VoltageDrop::of(segments, volts, feeder)?;
        let estimated = runs.iter().any(|run| self.length(*run).is_ok_and(|length| length.is_estimated()));
        Some(NodeDrop { figure, circuit, runs, worst_of, estimated })
    }

    /// Current in a feed.
    fn current(&self, power: &Power, feed: EdgeIndex, to: NodeIndex, volts: Volts) -> Current {
        let share = share_of(self, power, to, feed);
        Current::new::<unit::ampere>(self.demands()[to.index()].watts() * share / volts.base())
    }

    fn segment(&self, run: usize, current: Current) -> Option<Segment> {
        let wire = self.wire(run, Service::Power, self.power_celsius().ok()?).ok()?;
        let length = self.length(run).ok()?.distance();
        Some(Segment { length, wire, current })
    }

    /// Out-and-back ohms of a power run.
    ///
    /// # Errors
    /// Its length, stock or cores are missing.
    pub(super) fn power_ohms(&self, run: usize) -> Result<f64, Lack> {
        let resistance = self.loop_resistance(&[run], Service::Power, self.power_celsius()?)?;
        Ok(resistance.resistance().get::<unit::ohm>())
    }

    fn compute_drops(&self) -> Vec<Option<Worst>> {
        let power = self.power();
        let mut drops: Vec<Option<Worst>> = vec![None; power.feeds.node_count()];
        for (index, circuit) in self.plan.circuits.iter().enumerate() {
            let Some(volts) = circuit.volts.value().map(|volts| volts.base()) else { continue };
            let feeder = circuit.feeder_drop.value().map_or(0.0, |share| share.base() * volts);
            drops[index] = Some(Worst { circuit: index, feed: None, volts: feeder, lack: None });
            if let Some(ring) = &power.rings[index]
                && let Some(solved) = SolvedRing::of(self, index, ring)
            {
                for (node, volts) in ring_nodes(self, ring).into_iter().zip(solved.volts()) {
                    drops[node.index()] = Some(Worst {
                        circuit: index,
                        feed: None,
                        volts: feeder + volts,
                        lack: solved.lack.clone(),
                    });
                }
            }
        }
        for at in &power.order {
            for feed in power.feeds.edges_directed(*at, Direction::Incoming).filter(|feed| !feed.weight().ring) {
                let Some(before) = drops[feed.source().index()].clone() else { continue };
                let Some(volts) = self.plan.circuits[before.circuit].volts.value() else { continue };
                let mut way = Worst { feed: Some(feed.id()), ..before };
                if let FeedKind::Run(run) = feed.weight().kind {
                    let current = self.current(power, feed.id(), *at, **volts).get::<unit::ampere>();
                    match self.power_ohms(run) {
                        Ok(ohms) => way.volts += ohms * current,
                        Err(lack) => way.lack = Some(way.lack.unwrap_or(lack)),
                    }
                    if let Err(lack) = self.demands()[at.index()].whole(self) {
                        way.lack = Some(way.lack.unwrap_or(lack));
                    }
                }
                let share = |worst: &Worst| {
                    let volts = self.plan.circuits[worst.circuit].volts.value().map_or(1.0, |volts| volts.base());
                    worst.volts / volts
                };
                let worse = drops[at.index()].as_ref().is_none_or(|known| share(&way) > share(known));
                if worse {
                    drops[at.index()] = Some(way);
                }
            }
        }
        drops
    }
}
