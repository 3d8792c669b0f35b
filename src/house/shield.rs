//! Shields and protective earths as a graph: what is joined by the shield of a cable or by the
//! earth of a circuit.
//!
//! Its knots are the breaker panel, the earths of the circuits, the devices (all that stands in one
//! rack is one), and the shields of lines from end to end.

use std::collections::HashMap;

use petgraph::unionfind::UnionFind;

use super::channel::Line;
use super::doubt::Doubt;
use super::topology::{House, Node, small};
use crate::plan::{Build, EndpointKind as Kind, Service};

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Joint {
    /// A protective earth, or a bond.
    Earth,
    /// The shield of a run that is no analogue line.
    Shield { run: u32 },
    /// The shield of an unbalanced line, by its index, at this run.
    Line { line: u32, run: u32 },
}

#[derive(Debug, Clone, Copy)]
pub(super) struct Edge {
    pub(super) ends: [u32; 2],
    pub(super) joint: Joint,
    pub(super) doubt: Option<Doubt>,
}

/// The breaker panel's knot.
pub(super) const PANEL: u32 = 0;

/// The knot of a circuit's earth.
pub(super) fn circuit_knot(circuit: u32) -> u32 {
    circuit + 1
}

/// The graph: edges in the order in which they take part in the forest. Sure ones come first, so
/// that what closes a loop among them is sure; and earths come before shields, so that a loop is
/// told by way of the earths.
pub(super) struct Shields<'h, 'p> {
    pub(super) house: &'h House<'p>,
    pub(super) edges: [Vec<Edge>; 6],
    /// Circuits by whose earths a device is joined to the panel.
    pub(super) circuits: HashMap<u32, Vec<u32>>,
    /// For each endpoint, the one that stands for all that it is in one rack with.
    pub(super) rack: Vec<u32>,
    pub(super) touched: Vec<bool>,
    pub(super) bonds: HashMap<u32, Option<Doubt>>,
    pub(super) behind: HashMap<u32, Doubt>,
    nets: u32,
}

/// How the shield of a line takes part.
pub(super) enum Shielding {
    /// A balanced line's shield carries no signal.
    Balanced,
    Unbalanced(Option<Doubt>),
}

impl<'h, 'p> Shields<'h, 'p> {
    pub(super) fn new(house: &'h House<'p>) -> Self {
        let endpoints = house.plan.endpoints.len();
        let mut rack = UnionFind::<u32>::new(endpoints);
        for (index, endpoint) in house.plan.endpoints.iter().enumerate() {
            if let Some(within) = endpoint.within.value() {
                rack.union(small(index), small(within.at()));
            }
        }
        Self {
            house,
            edges: Default::default(),
            circuits: HashMap::new(),
            rack: rack.into_labeling(),
            touched: vec![false; endpoints],
            bonds: HashMap::new(),
            behind: HashMap::new(),
            nets: 0,
        }
    }

    /// A line that has any unbalanced run is unbalanced as a whole.
    pub(super) fn shielding(house: &House<'_>, line: &Line) -> Shielding {
        let mut doubt = None;
        for step in &line.steps {
            let run = &house.plan.runs[step.run as usize];
            let stock = run.stock.value().map(|stock| &house.plan.stock[stock.at()]);
            match stock.and_then(|stock| stock.balanced.value()) {
                Some(balanced) if balanced.0 => {}
                Some(_) => return Shielding::Unbalanced(None),
                None => doubt = doubt.or(Some(Doubt::Balanced(step.run))),
            }
        }
        match doubt {
            None => Shielding::Balanced,
            doubt => Shielding::Unbalanced(doubt),
        }
    }

    pub(super) fn knots(&self) -> usize {
        self.net_knot(self.nets) as usize
    }

    pub(super) fn device_knot(&self, endpoint: u32) -> u32 {
        small(self.house.plan.circuits.len()) + 1 + self.rack[endpoint as usize]
    }

    fn net_knot(&self, net: u32) -> u32 {
        small(self.house.plan.circuits.len() + self.house.plan.endpoints.len()) + 1 + net
    }

    /// The circuit whose earth a knot is.
    pub(super) fn circuit_at(&self, knot: u32) -> Option<usize> {
        let index = (knot as usize).checked_sub(1)?;
        (index < self.house.plan.circuits.len()).then_some(index)
    }

    /// What stands at a knot: the device, or the rack that holds it.
    pub(super) fn device_at(&self, knot: u32) -> Option<usize> {
        let index = (knot as usize).checked_sub(1 + self.house.plan.circuits.len())?;
        if index >= self.house.plan.endpoints.len() {
            return None;
        }
        self.house.hosts(index).last()
    }

    /// Takes in the lines that are not analogue: coax, and video cable of copper.
    pub(super) fn add_others(&mut self) {
        let house = self.house;
        for line in house.lines_of(Service::Coax) {
            self.add(line, |run| Joint::Shield { run }, None);
        }
        'lines: for line in house.lines_of(Service::Video) {
            let mut doubt = None;
            for step in &line.steps {
                let run = &house.plan.runs[step.run as usize];
                let stock = run.stock.value().map(|stock| &house.plan.stock[stock.at()]);
                match stock.and_then(|stock| stock.build.value()) {
                    // Glass joins no shields.
                    Some(Build::Optical) => continue 'lines,
                    Some(_) => {}
                    None => doubt = doubt.or(Some(Doubt::Build(step.run))),
                }
            }
            self.add(line, |run| Joint::Shield { run }, doubt);
        }
    }

    /// Takes in the shields of a line: those of its runs are one, but for where an endpoint
    /// isolates.
    pub(super) fn add(&mut self, line: &Line, joint: impl Fn(u32) -> Joint, doubt: Option<Doubt>) {
        let house = self.house;
        let doubt = doubt.or(house
            .follow(line)
            .is_err()
            .then(|| Doubt::Way(line.steps[0].run)));
        let mut goes_on = vec![false; line.steps.len()];
        for before in line.steps.iter().filter_map(|step| step.before) {
            goes_on[before as usize] = true;
        }
        let root = self.new_net();
        let first = &line.steps[0];
        self.end(line, root, line.source, true, joint(first.run), doubt);
        let (mut net_of, mut behind) = (Vec::new(), HashMap::new());
        for (at, step) in line.steps.iter().enumerate() {
            let net = match step.before {
                None => root,
                Some(before) if self.isolates(line.steps[before as usize].end) => {
                    *behind.entry(before).or_insert_with(|| self.new_net())
                }
                Some(before) => net_of[before as usize],
            };
            net_of.push(net);
            self.end(line, net, step.end, !goes_on[at], joint(step.run), doubt);
        }
    }

    fn new_net(&mut self) -> u32 {
        self.nets += 1;
        self.net_knot(self.nets - 1)
    }

    /// Joins a line's shield to what it ends at; `last` where the line does not go on from there.
    fn end(
        &mut self,
        line: &Line,
        net: u32,
        end: Node,
        last: bool,
        joint: Joint,
        doubt: Option<Doubt>,
    ) {
        let Node::Endpoint(index) = end else { return };
        if self.isolates(end) {
            return;
        }
        let endpoint = &self.house.plan.endpoints[index as usize];
        let comes_in = matches!(endpoint.kind.value(), Some(Kind::Entry | Kind::Antenna));
        if line.service == Service::Coax && (comes_in || !endpoint.bonded.is_absent()) {
            let bond = match endpoint.bonded.value() {
                Some(bonded) if bonded.0 => Some(None),
                Some(_) => None,
                None => Some(Some(Doubt::Bonded(index))),
            };
            if let Some(doubt) = bond {
                self.bonds.insert(self.device_knot(index), doubt);
            }
        } else if self.house.joins(end, line.service) {
            match joint {
                // What is plugged in there has a shield and perhaps an earth.
                Joint::Line { run, .. } if last && !matches!(doubt, Some(Doubt::Way(_))) => {
                    let knot = self.device_knot(index);
                    self.behind
                        .insert(knot, Doubt::Behind { run, plate: index });
                }
                _ => return,
            }
        } else {
            self.touched[self.rack[index as usize] as usize] = true;
        }
        let ends = [net, self.device_knot(index)];
        let rank = match (joint, doubt) {
            (Joint::Line { .. }, None) => 2,
            (Joint::Line { .. }, Some(_)) => 5,
            (_, None) => 1,
            (_, Some(_)) => 4,
        };
        self.edges[rank].push(Edge { ends, joint, doubt });
    }

    /// Whether an endpoint, or what it stands in, parts the earths of its two sides: only where it
    /// says so.
    fn isolates(&self, node: Node) -> bool {
        let Some(index) = node.endpoint() else {
            return false;
        };
        let mut hosts = self.house.hosts(index);
        hosts.any(|at| {
            let isolates = self.house.plan.endpoints[at].isolates.value();
            isolates.is_some_and(|isolates| isolates.0)
        })
    }
}
