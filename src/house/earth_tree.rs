//! The forest of shields and earths, and which edges close a loop in it.
//!
//! Whether a loop passes the earths of two circuits is told by where the two ends of the edge that
//! closes it hang under the panel, so that all loops together cost linear time.

use std::collections::VecDeque;

use petgraph::graph::{NodeIndex, UnGraph};
use petgraph::unionfind::UnionFind;
use petgraph::visit::EdgeRef;

use super::doubt::Doubt;
use super::shield::{Edge, Joint, PANEL, Shields};
use super::topology::small;

/// Steps of a way that are searched for what is not known.
const SEARCHED: usize = 64;
/// No knot.
const NONE: u32 = u32::MAX;

/// What takes part in a loop that may be one.
#[derive(Debug, PartialEq, Eq, Hash)]
pub(super) enum Part {
    Doubt(Doubt),
    Line(u32),
}

/// The forest under the panel.
pub(super) struct Tree<'s, 'h, 'p> {
    pub(super) shields: &'s Shields<'h, 'p>,
    /// For each knot, the edge towards the panel.
    pub(super) up: Vec<Option<Edge>>,
    /// What it hangs on the panel by: the earth of a circuit, or a knot that is joined to the panel
    /// itself; none for what is joined to no earth at all.
    pub(super) branch: Vec<u32>,
    /// The device by whose earth it is joined.
    pub(super) device: Vec<u32>,
    /// Whether the way to that device passes an unbalanced line.
    pub(super) by_line: Vec<bool>,
}

impl<'s, 'h, 'p> Tree<'s, 'h, 'p> {
    /// The forest, and the edges that are none of it, each with its rank.
    pub(super) fn grow(shields: &'s Shields<'h, 'p>) -> (Self, Vec<(usize, Edge)>) {
        let knots = shields.knots();
        let mut joined = UnionFind::<u32>::new(knots);
        let mut forest: UnGraph<(), Edge> = UnGraph::with_capacity(knots, knots);
        for _ in 0..knots {
            forest.add_node(());
        }
        let mut closers = Vec::new();
        for (rank, edges) in shields.edges.iter().enumerate() {
            for edge in edges {
                let [a, b] = edge.ends;
                if joined.union(a, b) {
                    let at = |knot: u32| NodeIndex::new(knot as usize);
                    forest.add_edge(at(a), at(b), *edge);
                } else {
                    closers.push((rank, *edge));
                }
            }
        }
        let mut tree = Self {
            shields,
            up: vec![None; knots],
            branch: vec![NONE; knots],
            device: vec![NONE; knots],
            by_line: vec![false; knots],
        };
        tree.hang(&forest);
        (tree, closers)
    }

    /// Walks the forest from the panel outwards.
    fn hang(&mut self, forest: &UnGraph<(), Edge>) {
        let mut queue = VecDeque::from([PANEL]);
        while let Some(at) = queue.pop_front() {
            for edge in forest.edges(NodeIndex::new(at as usize)) {
                let other = match edge.source().index() == at as usize {
                    true => small(edge.target().index()),
                    false => small(edge.source().index()),
                };
                let edge = edge.weight();
                let came = self.up[at as usize].is_some_and(|up| up.ends == edge.ends);
                if came || other == PANEL {
                    continue;
                }
                let (to, from) = (other as usize, at as usize);
                self.up[to] = Some(*edge);
                let is_circuit = self.shields.circuit_at(other).is_some();
                let earthed = at == PANEL || self.shields.circuit_at(at).is_some();
                self.branch[to] = if at == PANEL {
                    other
                } else {
                    self.branch[from]
                };
                self.device[to] = match (is_circuit, earthed) {
                    (true, _) => NONE,
                    (false, true) => other,
                    (false, false) => self.device[from],
                };
                let is_line = matches!(edge.joint, Joint::Line { .. });
                self.by_line[to] = !earthed && (self.by_line[from] || is_line);
                queue.push_back(other);
            }
        }
    }

    fn circuits(&self, knot: u32) -> &[u32] {
        self.shields.circuits.get(&knot).map_or(&[], Vec::as_slice)
    }

    /// Whether two devices share no circuit.
    fn apart(&self, a: u32, b: u32) -> bool {
        a != b
            && self
                .circuits(a)
                .iter()
                .all(|circuit| !self.circuits(b).contains(circuit))
    }

    /// Whether an edge between two knots closes a loop by way of two earths.
    pub(super) fn is_loop(&self, [a, b]: [u32; 2]) -> bool {
        let (x, y) = (a as usize, b as usize);
        let hangs = self.device[x] != NONE && self.device[y] != NONE;
        hangs && self.branch[x] != self.branch[y] && self.apart(self.device[x], self.device[y])
    }

    /// What is not known about the loop that an edge may close, and the lines in it.
    pub(super) fn doubts(&self, edge: &Edge) -> Vec<Part> {
        let [a, b] = edge.ends;
        let at = a as usize;
        let is_loop = match edge.joint {
            // From the device by this earth to the panel, and back by the earth that it has already.
            Joint::Earth => {
                let hangs = self.device[at] != NONE && self.branch[at] != b;
                hangs && self.by_line[at] && self.apart(self.device[at], a)
            }
            Joint::Line { .. } => self.is_loop(edge.ends),
            Joint::Shield { .. } => {
                (self.by_line[at] || self.by_line[b as usize]) && self.is_loop(edge.ends)
            }
        };
        if !is_loop {
            return Vec::new();
        }
        let ends: &[u32] = if edge.joint == Joint::Earth {
            &[a]
        } else {
            &[a, b]
        };
        let mut edges = vec![*edge];
        for end in ends {
            let mut at = *end;
            for _ in 0..SEARCHED {
                let Some(up) = self.up[at as usize].filter(|_| at != PANEL) else {
                    break;
                };
                edges.push(up);
                at = other(&up, at);
            }
        }
        let line = |edge: &Edge| match edge.joint {
            Joint::Line { line, .. } => Some(Part::Line(line)),
            _ => None,
        };
        let doubts = edges.iter().filter_map(|edge| edge.doubt.map(Part::Doubt));
        doubts.chain(edges.iter().filter_map(line)).collect()
    }
}

/// The knot at the other end of an edge.
pub(super) fn other(edge: &Edge, knot: u32) -> u32 {
    match edge.ends[0] == knot {
        true => edge.ends[1],
        false => edge.ends[0],
    }
}
