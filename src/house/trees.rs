//! What each circuit feeds, walked once.

use std::borrow::Cow;
use std::collections::HashSet;

use petgraph::graph::NodeIndex;
use petgraph::visit::EdgeRef;

use super::power::{FeedKind, Reached};
use super::topology::{House, small};

/// The trees of the first circuits, one behind the other.
#[derive(Debug, Default)]
pub(super) struct Trees {
    /// Where each tree starts, and where the last one ends.
    starts: Vec<u32>,
    list: Vec<Reached>,
}

/// So many places for each node of the house are kept. Where many circuits feed the same, the
/// others are walked whenever they are asked for.
const KEPT: usize = 4;

impl House<'_> {
    /// Everything that a circuit feeds, in the order of distance. A node that has several feeds
    /// from the circuit appears once.
    pub fn tree(&self, circuit: usize) -> Cow<'_, [Reached]> {
        let trees = self.trees.get_or_init(|| self.build_trees());
        if let Some([start, end]) = trees.starts.get(circuit..circuit + 2) {
            return Cow::Borrowed(&trees.list[*start as usize..*end as usize]);
        }
        let mut list = Vec::new();
        let mut seen: HashSet<NodeIndex, foldhash::fast::RandomState> = HashSet::default();
        self.walk(circuit, &mut list, |at| seen.insert(at));
        Cow::Owned(list)
    }

    fn build_trees(&self) -> Trees {
        let nodes = self.power().feeds.node_count();
        // The last circuit whose walk met a node.
        let mut met = vec![u32::MAX; nodes];
        let mut trees = Trees::default();
        for circuit in 0..self.plan.circuits.len() {
            if trees.list.len() > KEPT * nodes {
                break;
            }
            trees.starts.push(small(trees.list.len()));
            let mark = small(circuit);
            self.walk(circuit, &mut trees.list, |at| {
                std::mem::replace(&mut met[at.index()], mark) != mark
            });
        }
        trees.starts.push(small(trees.list.len()));
        trees
    }

    fn walk(
        &self,
        circuit: usize,
        list: &mut Vec<Reached>,
        mut is_new: impl FnMut(NodeIndex) -> bool,
    ) {
        let power = self.power();
        let base = list.len();
        let (mut at, mut before) = (NodeIndex::new(circuit), None);
        is_new(at);
        let mut feeds = Vec::new();
        // The list is its own queue.
        for next in base.. {
            feeds.extend(power.feeds.edges(at));
            feeds.sort_by_key(|feed| feed.id());
            for feed in feeds.drain(..) {
                if is_new(feed.target()) {
                    list.push(Reached {
                        node: power.feeds[feed.target()],
                        before,
                        by: feed.weight().kind,
                    });
                }
            }
            let Some(reached) = list.get(next) else {
                return;
            };
            at = self.graph_index(reached.node);
            before = Some(next - base);
        }
    }

    /// Power runs in a circuit's tree, each once.
    pub fn runs_below(&self, circuit: usize) -> Vec<usize> {
        let power = self.power();
        let mut runs = Vec::new();
        let mut below = |at: NodeIndex| {
            let first = runs.len();
            runs.extend(power.feeds.edges(at).filter_map(|feed| {
                let FeedKind::Run(run) = feed.weight().kind else {
                    return None;
                };
                Some((feed.id(), run))
            }));
            runs[first..].sort_unstable();
        };
        below(NodeIndex::new(circuit));
        for reached in self.tree(circuit).iter() {
            below(self.graph_index(reached.node));
        }
        let mut runs: Vec<usize> = runs.into_iter().map(|(_, run)| run).collect();
        // The last run of a ring returns to the circuit and is no feed of anything.
        if let Some(ring) = power.rings.get(circuit).and_then(Option::as_ref) {
            runs.extend(ring.last());
        }
        runs
    }
}
