//! What guards a node against surges and power cuts on the way from its circuit.

use petgraph::Direction;

use super::guard::has;
use super::topology::{House, Node, small};
use crate::plan::{EndpointKind as Kind, Protection, Protects};

/// What a node is guarded against, by every way that power comes to it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Shelter {
    pub surge: bool,
    pub battery: bool,
    /// The last on the way that may guard and does not say.
    pub silent: Option<u32>,
}

impl Shelter {
    pub fn is_whole(self) -> bool {
        self.surge && self.battery
    }

    fn and(self, more: Self) -> Self {
        Self {
            surge: self.surge || more.surge,
            battery: self.battery || more.battery,
            silent: more.silent.or(self.silent),
        }
    }

    /// The weaker of two ways.
    fn either(self, other: Self) -> Self {
        Self {
            surge: self.surge && other.surge,
            battery: self.battery && other.battery,
            silent: self.silent.or(other.silent),
        }
    }
}

impl House<'_> {
    /// What an endpoint itself guards against. A rack and a power conditioner may do so without
    /// saying it; anything else that does not say does not.
    pub fn guards(&self, endpoint: usize) -> Shelter {
        let entry = &self.plan.endpoints[endpoint];
        let may = matches!(
            entry.kind.value(),
            Some(Kind::Rack | Kind::PowerConditioner)
        );
        let silent = entry.protects.is_bad() || entry.protects.is_absent() && may;
        let has = |what: Protects| {
            let listed = entry.protects.value();
            listed.is_some_and(|list| list.values().any(|known| *known == what))
        };
        Shelter {
            surge: has(Protects::Surge),
            battery: has(Protects::Battery),
            silent: silent.then_some(small(endpoint)),
        }
    }

    /// What guards each node of the house's graph, itself included; nothing in or behind a loop.
    pub fn shelters(&self) -> Vec<Shelter> {
        let power = self.power();
        let mut shelters = vec![Shelter::default(); power.feeds.node_count()];
        for at in &power.order {
            let own = match power.feeds[*at] {
                Node::Circuit(circuit) => {
                    let devices = &self.plan.circuits[circuit as usize].protection;
                    let surge = has(devices, Protection::Surge);
                    Shelter {
                        surge,
                        ..Shelter::default()
                    }
                }
                Node::Endpoint(endpoint) => self.guards(endpoint as usize),
            };
            let sources = power.feeds.neighbors_directed(*at, Direction::Incoming);
            let before = sources
                .map(|source| shelters[source.index()])
                .reduce(Shelter::either);
            shelters[at.index()] = before.unwrap_or_default().and(own);
        }
        shelters
    }
}
