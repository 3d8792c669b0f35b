//! Power: which circuit feeds what, by way of which runs, plugs and racks.

use petgraph::graph::{DiGraph, NodeIndex};
use petgraph::visit::EdgeRef;

use super::topology::{House, Node};
use crate::findings::Lack;

/// How power gets from one node to the next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FeedKind {
    /// By a power run of the plan.
    Run(usize),
    /// By a plug in an outlet.
    Plug,
    /// By standing in a rack: a cord of length 0, not counted.
    Cord,
}

/// One feed of a node.
#[derive(Debug, Clone, Copy)]
pub struct Feed {
    pub kind: FeedKind,
    /// Part of a ring final circuit, whose currents flow from both ends.
    pub ring: bool,
}

/// The power of a house.
#[derive(Debug, Default)]
pub struct Power {
    /// Directed from the circuits outwards; nodes have the indices of the house's graph.
    pub feeds: DiGraph<Node, Feed>,
    /// Nodes in an order in which every feed goes forwards.
    pub order: Vec<NodeIndex>,
    /// For each node, its place in `order`; the highest number where it has none.
    pub rank: Vec<u32>,
    /// Nodes that lie in, or behind, a loop of power runs.
    pub looped: Vec<bool>,
    /// For each circuit, its ring: runs in order from the circuit back to it.
    pub rings: Vec<Option<Vec<usize>>>,
    /// For each feed, what share of its node's demand comes by it.
    pub shares: Vec<f64>,
}

/// A node in a circuit's tree, and how it is reached.
#[derive(Debug, Clone, Copy)]
pub struct Reached {
    pub node: Node,
    /// Index in the list of the node before it; none for the first.
    pub before: Option<usize>,
    pub by: FeedKind,
}

impl<'p> House<'p> {
    pub fn power(&self) -> &Power {
        self.power
            .get_or_init(|| super::feeding::Builder::new(self).build())
    }

    /// Where a node gets its power: itself, or what it stands in where nothing else feeds it.
    pub fn fed_at(&self, node: Node) -> Node {
        let power = self.power();
        let mut at = node;
        for _ in 0..super::place::STEPS {
            let Some(within) = self
                .endpoint(at)
                .and_then(|endpoint| endpoint.within.value())
            else {
                break;
            };
            let host = self.node(within.thing);
            let mut feeds = power
                .feeds
                .edges_directed(self.graph_index(at), petgraph::Direction::Incoming);
            // A circle of `in` ends here too: cords only go from what was reached before.
            if !feeds.any(|feed| {
                feed.weight().kind == FeedKind::Cord && power.feeds[feed.source()] == host
            }) {
                break;
            }
            at = host;
        }
        at
    }

    /// Whether any circuit reaches a node.
    pub fn is_fed(&self, node: Node) -> bool {
        let at = self.graph_index(node);
        self.power()
            .feeds
            .edges_directed(at, petgraph::Direction::Incoming)
            .next()
            .is_some()
    }

    /// Why what is below a node cannot be computed, if a loop of power runs is why.
    ///
    /// # Errors
    /// The loop.
    pub fn no_loop(&self, node: Node) -> Result<(), Lack> {
        if self.power().looped[self.graph_index(node).index()] {
            return Err(Lack::absent(format!(
                "a way to {} without a loop of power runs",
                self.id(node)
            )));
        }
        Ok(())
    }
}
