//! Voltage drop to each node of a circuit's tree, taps taken one by one along the tree.

use petgraph::Direction;
use petgraph::graph::{EdgeIndex, NodeIndex};
use petgraph::visit::EdgeRef;

use super::load::ring_nodes;
use super::power::{FeedKind, Power};
use super::ring::SolvedRing;
use super::topology::{House, Node};
use crate::figures::drop::{Feeder, Segment, VoltageDrop};
use crate::figures::phases::Phases;
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
    /// What is missing on this or another way, so that the true drop may be greater.
    pub lack: Option<Lack>,
    /// What it may be where conductors on a way state no material; copper is taken.
    pub doubt: Option<Doubt>,
    /// The next worse way, in percent of nominal volts; 0 where there is none.
    pub other: f64,
}

/// The drop if what states no material is of aluminium.
#[derive(Debug, Clone, Copy)]
pub struct Doubt {
    /// In percent of nominal volts, from the service.
    pub percent: f64,
    /// A stock that states no material.
    pub stock: usize,
}

impl Doubt {
    /// The greater of two ways'.
    fn greater(a: Option<Self>, b: Option<Self>) -> Option<Self> {
        match (a, b) {
            (Some(a), Some(b)) if b.percent > a.percent => Some(b),
            (a, b) => a.or(b),
        }
    }
}

/// The first thing missing that no mistake has reported.
fn join(known: Option<Lack>, more: Lack) -> Lack {
    match (known, more) {
        (Some(Lack::Absent(what)), _) => Lack::Absent(what),
        (_, more) => more,
    }
}

/// The drop to a node, and what it leaves out.
#[derive(Debug)]
pub struct NodeDrop {
    /// From the service, where the circuit states its feeder's drop; else from the breaker.
    pub figure: VoltageDrop,
    /// From the breaker.
    pub branch: VoltageDrop,
    pub circuit: usize,
    /// Runs on the way, from the circuit on.
    pub runs: Vec<usize>,
    /// Volts lost in each of them, a ring's left out: its currents change with its conductor.
    pub lost: Vec<(usize, f64)>,
    /// The node has several feeds, of which this is the worst.
    pub worst_of: usize,
    /// Some length on the way is estimated.
    pub estimated: bool,
    /// Some stock on the way states no material, and copper is taken.
    pub copper_taken: bool,
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

    /// The worse way to a node, and its drop in percent of nominal volts.
    ///
    /// # Errors
    /// No circuit reaches the node, a loop is in the way, or its circuit states no volts.
    pub fn worst(&self, node: Node) -> Result<(&Worst, f64), Lack> {
        self.no_loop(node)?;
        let drop = self.drops()[self.graph_index(node).index()].as_ref();
        let none = || Lack::absent(format!("a circuit that feeds {}", self.id(node)));
        let worst = drop.ok_or_else(none)?.as_ref().map_err(Clone::clone)?;
        let circuit = &self.plan.circuits[worst.circuit];
        let volts = circuit.volts.want("volts", &circuit.id)?.base();
        Ok((worst, worst.volts / volts * 100.0))
    }

    fn drops(&self) -> &[Option<Result<Worst, Lack>>] {
        self.drops.get_or_init(|| self.compute_drops())
    }

    /// The drop to a node with its working. None where [`Self::worst`] has none, and for numbers
    /// beyond all physics.
    pub fn voltage_drop(&self, node: Node) -> Option<NodeDrop> {
        let power = self.power();
        let circuit = self.worst(node).ok()?.0.circuit;
        let volts: Volts = **self.plan.circuits[circuit].volts.value()?;
        let phases = self.phases(circuit).ok()?;
        let (mut segments, mut runs, mut lost) = (Vec::new(), Vec::new(), Vec::new());
        let mut at = self.graph_index(node);
        let worst_of = power.feeds.edges_directed(at, Direction::Incoming).count();
        while let Some(feed) = self.drops()[at.index()].as_ref()?.as_ref().ok()?.feed {
            let (from, _) = power.feeds.edge_endpoints(feed)?;
            if let FeedKind::Run(run) = power.feeds[feed].kind {
                runs.push(run);
                let current = self.current(power, feed, at, volts, phases);
                if let (Some(segment), Ok(ohms)) =
                    (self.segment(run, current, phases), self.power_ohms(run))
                {
                    segments.push(segment);
                    let ohms = ohms * phases.of_loop();
                    lost.push((run, ohms * current.get::<unit::ampere>()));
                }
            }
            at = from;
        }
        segments.reverse();
        runs.reverse();
        if let Node::Endpoint(_) = power.feeds[at] {
            let ring = power.rings[circuit].as_ref()?;
            let tap = ring_nodes(self, circuit, ring)
                .iter()
                .position(|node| *node == at)?;
            if let Ok(solved) = SolvedRing::of(self, circuit, ring, false) {
                let mut way = solved.ring.path_to(tap)?;
                way.append(&mut segments);
                segments = way;
            }
            runs = ring.iter().copied().chain(runs).collect();
        }
        let feeder = self.plan.circuits[circuit]
            .feeder_drop
            .value()
            .map(|share| Feeder::Share(**share));
        let branch = VoltageDrop::of(segments.clone(), volts, None)?;
        let figure = VoltageDrop::of(segments, volts, feeder)?;
        let estimated = runs
            .iter()
            .any(|run| self.length(*run).is_ok_and(|length| length.is_estimated()));
        let copper_taken = runs.iter().any(|run| {
            let stock = self.plan.runs[*run].stock.value();
            stock.is_some_and(|stock| self.plan.stock[stock.at()].material.is_absent())
        });
        Some(NodeDrop {
            figure,
            branch,
            circuit,
            runs,
            lost,
            worst_of,
            estimated,
            copper_taken,
        })
    }

    /// Current in a feed.
    fn current(
        &self,
        power: &Power,
        feed: EdgeIndex,
        to: NodeIndex,
        volts: Volts,
        phases: Phases,
    ) -> Current {
        let share = power.shares[feed.index()];
        let watts = self.demands()[to.index()].watts() * share;
        Current::new::<unit::ampere>(watts / volts.base() / phases.root())
    }

    fn segment(&self, run: usize, current: Current, phases: Phases) -> Option<Segment> {
        let wire = self
            .wire(run, Service::Power, self.power_celsius().ok()?)
            .ok()?;
        let length = self.length(run).ok()?.distance();
        Some(Segment {
            length,
            wire,
            current,
            phases,
        })
    }

    /// Out-and-back ohms of a power run. Cores are never reckoned as tied: small power conductors
    /// are not joined in parallel (NEC 310.10(G)).
    ///
    /// # Errors
    /// Its length, stock or cores are missing.
    fn power_ohms(&self, run: usize) -> Result<f64, Lack> {
        self.power_ohms_as(run, false)
    }

    /// The same, of aluminium where the stock states no material.
    ///
    /// # Errors
    /// Its length, stock or cores are missing.
    pub fn power_ohms_as(&self, run: usize, aluminium: bool) -> Result<f64, Lack> {
        let wire = self.power_wire(run, aluminium)?;
        Ok(2.0 * self.length(run)?.length().get::<unit::meter>() * wire.ohm_per_metre())
    }

    fn compute_drops(&self) -> Vec<Option<Result<Worst, Lack>>> {
        let power = self.power();
        let mut drops: Vec<Option<Result<Worst, Lack>>> = vec![None; power.feeds.node_count()];
        for index in 0..self.plan.circuits.len() {
            self.start_drops(index, &mut drops);
        }
        let share = |worst: &Worst| {
            let volts = self.plan.circuits[worst.circuit]
                .volts
                .value()
                .map_or(1.0, |volts| volts.base());
            worst.volts / volts
        };
        for at in &power.order {
            for feed in power
                .feeds
                .edges_directed(*at, Direction::Incoming)
                .filter(|feed| !feed.weight().ring)
            {
                let Some(before) = drops[feed.source().index()].clone() else {
                    continue;
                };
                let way = before.map(|before| self.follow_feed(feed.id(), *at, before));
                let both = match (drops[at.index()].take(), way) {
                    (None, way) => way,
                    (Some(Err(known)), Err(lack)) => Err(join(Some(known), lack)),
                    // A way that cannot be reckoned may be the worse one.
                    (Some(Ok(worst)), Err(lack)) | (Some(Err(lack)), Ok(worst)) => Ok(Worst {
                        lack: Some(join(worst.lack.clone(), lack)),
                        ..worst
                    }),
                    (Some(Ok(known)), Ok(way)) => {
                        let (worse, other) = if share(&way) > share(&known) {
                            (way, known)
                        } else {
                            (known, way)
                        };
                        let next = (share(&other) * 100.0).max(worse.other);
                        let lack = match other.lack {
                            Some(lack) => Some(join(worse.lack.clone(), lack)),
                            None => worse.lack.clone(),
                        };
                        let doubt = Doubt::greater(worse.doubt, other.doubt);
                        Ok(Worst {
                            lack,
                            doubt,
                            other: next,
                            ..worse
                        })
                    }
                };
                drops[at.index()] = Some(both);
            }
        }
        drops
    }

    /// The drop at a circuit, and around its ring.
    fn start_drops(&self, index: usize, drops: &mut [Option<Result<Worst, Lack>>]) {
        let circuit = &self.plan.circuits[index];
        let ring = self.power().rings[index].as_deref().unwrap_or_default();
        let nodes = ring_nodes(self, index, ring);
        let volts = circuit.volts.want("volts", &circuit.id);
        let volts = match volts.and_then(|volts| self.phases(index).map(|_| volts)) {
            Ok(volts) => volts.base(),
            Err(lack) => {
                drops[index] = Some(Err(lack.clone()));
                for node in nodes {
                    drops[node.index()] = Some(Err(lack.clone()));
                }
                return;
            }
        };
        let feeder = circuit
            .feeder_drop
            .value()
            .map_or(0.0, |share| share.base() * volts);
        let lack = circuit.feeder_drop.is_bad().then_some(Lack::Reported);
        let start = Worst {
            circuit: index,
            feed: None,
            volts: feeder,
            lack,
            doubt: None,
            other: 0.0,
        };
        drops[index] = Some(Ok(start.clone()));
        if nodes.is_empty() {
            return;
        }
        let doubtful = ring.iter().find_map(|run| self.doubtful_stock(*run));
        let otherwise = doubtful
            .and_then(|_| SolvedRing::of(self, index, ring, true).ok())
            .map(|solved| solved.volts());
        let (lost, lack) = match SolvedRing::of(self, index, ring, false) {
            Ok(solved) => (solved.volts(), solved.lack),
            Err(lack) => (vec![0.0; nodes.len()], Some(lack)),
        };
        for (tap, (node, lost)) in nodes.into_iter().zip(lost).enumerate() {
            let lack = match lack.clone() {
                Some(lack) => Some(join(start.lack.clone(), lack)),
                None => start.lack.clone(),
            };
            drops[node.index()] = Some(Ok(Worst {
                volts: feeder + lost,
                lack,
                doubt: doubtful.zip(otherwise.as_ref()).map(|(stock, lost)| Doubt {
                    percent: (feeder + lost[tap]) / volts * 100.0,
                    stock,
                }),
                ..start.clone()
            }));
        }
    }

    /// What a feed adds to the drop before it.
    fn follow_feed(&self, feed: EdgeIndex, to: NodeIndex, before: Worst) -> Worst {
        let power = self.power();
        let mut way = Worst {
            feed: Some(feed),
            ..before
        };
        let FeedKind::Run(run) = power.feeds[feed].kind else {
            return way;
        };
        let Some(volts) = self.plan.circuits[way.circuit].volts.value() else {
            return way;
        };
        let Ok(phases) = self.phases(way.circuit) else {
            return way;
        };
        let current = self.current(power, feed, to, **volts, phases);
        // Ohms are counted out and back.
        let current = current.get::<unit::ampere>() * phases.of_loop();
        let (before, nominal) = (way.volts, volts.base());
        match self.power_ohms(run) {
            Ok(ohms) => {
                way.volts += ohms * current;
                if way.other > 0.0 {
                    way.other += ohms * current / nominal * 100.0;
                }
                let doubtful = self.doubtful_stock(run);
                if let Some(stock) = doubtful.or(way.doubt.map(|doubt| doubt.stock)) {
                    let otherwise = match doubtful {
                        Some(_) => self.power_ohms_as(run, true).unwrap_or(ohms),
                        None => ohms,
                    };
                    let percent = way.doubt.map_or(before / nominal * 100.0, |it| it.percent);
                    way.doubt = Some(Doubt {
                        percent: percent + otherwise * current / nominal * 100.0,
                        stock: way.doubt.map_or(stock, |doubt| doubt.stock),
                    });
                }
            }
            Err(lack) => way.lack = Some(join(way.lack, lack)),
        }
        if let Err(lack) = self.demands()[to.index()].whole(self) {
            way.lack = Some(join(way.lack, lack));
        }
        way
    }
}
