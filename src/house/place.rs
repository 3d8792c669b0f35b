//! Where things stand: their own room and point, or those of what they stand in.

use super::topology::{House, Node};
use crate::findings::Lack;
use crate::plan::{Entry, Room};
use crate::units::Distance;

/// A point of the house, as written.
pub type Point = [Distance; 3];

/// How many steps of `in` are followed. Circles and longer chains have been reported by reading.
pub(super) const STEPS: usize = crate::plan::DEEPEST;

/// Where a thing stands.
#[derive(Debug, Clone, Copy)]
pub struct Standing<'p> {
    pub point: Option<Point>,
    pub room: Option<&'p Entry<Room>>,
}

impl<'p> House<'p> {
    /// An endpoint, then what it stands in, then what that stands in, and so on.
    pub fn hosts(&self, endpoint: usize) -> impl Iterator<Item = usize> + '_ {
        std::iter::successors(Some(endpoint), |at| {
            self.plan.endpoints[*at]
                .within
                .value()
                .map(|within| within.at())
        })
        .take(STEPS)
    }

    /// The room and point of an endpoint, its own or its host's.
    pub fn standing(&self, endpoint: usize) -> Standing<'p> {
        let mut standing = Standing {
            point: None,
            room: None,
        };
        for at in self.hosts(endpoint) {
            let endpoint = &self.plan.endpoints[at];
            if standing.point.is_none() {
                standing.point = endpoint.at.value().map(|at| at.0.map(|c| *c));
            }
            if standing.room.is_none() {
                standing.room = endpoint
                    .room
                    .value()
                    .map(|room| &self.plan.rooms[room.at()]);
            }
        }
        standing
    }

    /// The same for a node; a circuit stands where its breaker panel does: the one that it names,
    /// or the only one that the plan has.
    ///
    /// # Errors
    /// What the plan lacks: the point, or the panel.
    pub fn want_point(&self, node: Node) -> Result<Point, Lack> {
        let endpoint = self.standing_endpoint(node)?;
        if let Some(point) = self.standing(endpoint).point {
            return Ok(point);
        }
        let bad = self
            .hosts(endpoint)
            .any(|at| self.plan.endpoints[at].at.is_bad());
        if bad {
            Err(Lack::Reported)
        } else {
            Err(Lack::absent(format!(
                "at of {}",
                self.plan.endpoints[endpoint].id
            )))
        }
    }

    /// The endpoint that gives a node its place.
    ///
    /// # Errors
    /// A circuit without a breaker panel.
    pub fn standing_endpoint(&self, node: Node) -> Result<usize, Lack> {
        match node {
            Node::Endpoint(index) => Ok(index as usize),
            Node::Circuit(index) => {
                let circuit = &self.plan.circuits[index as usize];
                if let Some(panel) = circuit.panel.value() {
                    return Ok(panel.at());
                }
                if circuit.panel.is_bad() {
                    return Err(Lack::Reported);
                }
                self.only_panel()
                    .ok_or_else(|| Lack::absent(format!("panel of {}", circuit.id)))
            }
        }
    }

    /// The plan's breaker panel, if it has exactly one.
    fn only_panel(&self) -> Option<usize> {
        *self.panel.get_or_init(|| {
            let is_panel = |at: &usize| {
                self.plan.endpoints[*at].kind.value()
                    == Some(&crate::plan::EndpointKind::BreakerPanel)
            };
            let mut panels = (0..self.plan.endpoints.len()).filter(is_panel);
            let first = panels.next()?;
            panels.next().is_none().then_some(first)
        })
    }
}
