//! What hangs on a wall or under a ceiling, and what stands on a floor.

use super::topology::House;
use crate::plan::{Endpoint, EndpointKind as Kind};
use crate::units::Distance;

/// How an endpoint is held up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mounting {
    /// By what it stands in.
    Held,
    Floor,
    /// By wall or ceiling, as far as the plan says.
    Hung,
}

impl House<'_> {
    /// How an endpoint is held up. It stands on the floor where its point is at most `low` above
    /// the floor of its room, or where its height, half of it below its point, comes down so far.
    /// A room without origin has its floor at the height 0.
    pub fn mounting(&self, endpoint: usize, low: Distance) -> Mounting {
        let entry = &self.plan.endpoints[endpoint];
        if !entry.within.is_absent() {
            return Mounting::Held;
        }
        let Some(at) = entry.at.value() else {
            return Mounting::Hung;
        };
        let room = entry.room.value().map(|room| &self.plan.rooms[room.at()]);
        let floor = room
            .and_then(|room| room.origin.value())
            .map_or(0.0, |origin| origin.0[2].base());
        let half = entry
            .size
            .value()
            .map_or(0.0, |size| size.0[2].base() / 2.0);
        let above = at.0[2].base() - floor - half;
        if above <= low.base() + 1e-9 {
            Mounting::Floor
        } else {
            Mounting::Hung
        }
    }
}

/// Whether an endpoint of this kind is held by wall or ceiling whatever it weighs. `None` where
/// its weight decides (a loudspeaker).
pub fn hangs(endpoint: &Endpoint) -> Option<bool> {
    match endpoint.kind.value() {
        Some(Kind::Display | Kind::Projector | Kind::Screen) => Some(true),
        Some(Kind::Speaker) => None,
        _ => Some(false),
    }
}
