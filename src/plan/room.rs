//! `rooms:`

use super::record::record;
use super::shape::{Notes, Number, Triple, YesNo};
use super::{Coordinate, NonNegative, RoomKind, Side};
use crate::units::AirFlowDim;

record! {
    /// A room, placed in the house by its origin.
    Room, "a room" {
        /// Width, depth and height of the room's box.
        "size" size: Triple<Side>,
        /// Corner of the room's box nearest to the house's origin.
        "origin" origin: Triple<Coordinate>,
        /// Which storey; 0 is the lowest that the plan names so.
        "floor" floor: Number,
        /// What the room is used for.
        "kind" kind: RoomKind,
        /// Walls and ceiling are finished (a basement).
        "finished" finished: YesNo,
        /// Air that a fan takes out of the room.
        "exhaust" exhaust: NonNegative<AirFlowDim>,
        /// Has an air supply of its own.
        "cooled" cooled: YesNo,
        /// For people.
        "notes" notes: Notes,
    }
}
