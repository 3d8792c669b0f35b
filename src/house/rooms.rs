//! Rooms as the code lists them for protective devices.

use super::topology::House;
use crate::findings::Lack;
use crate::plan::{Entry, Room, RoomKind};
use crate::tables::edition::Edition;
use crate::tables::protection::{self, Listed};

/// Whether a room is one that the code lists.
#[derive(Debug, Clone, PartialEq)]
pub enum InList {
    Yes,
    No,
    /// What is missing of the room to know.
    Lacks(Lack),
    /// It turns on what the endpoint serves in the room, not on the room.
    ByUse,
}

impl<'p> House<'p> {
    /// The room of an endpoint: its own, or that of what it stands in.
    ///
    /// # Errors
    /// The plan does not say where the endpoint stands.
    pub fn want_room(&self, endpoint: usize) -> Result<usize, Lack> {
        for at in self.hosts(endpoint) {
            let stated = &self.plan.endpoints[at];
            if let Some(room) = stated.room.value() {
                return Ok(room.at());
            }
            if stated.room.is_bad() || stated.within.is_bad() {
                return Err(Lack::Reported);
            }
        }
        let id = &self.plan.endpoints[endpoint].id;
        Err(Lack::absent(format!("room of {id}")))
    }

    /// Whether a room is among those where circuits want arc-fault protection (NEC 210.12(A)): a
    /// finished basement counts as a room to live in.
    pub fn wants_arc_fault(&self, room: &Entry<Room>, edition: Edition) -> InList {
        let listed = |kind: RoomKind| protection::arc_fault(edition, kind.word());
        by_kind(room, listed, true).unwrap_or_else(|| {
            InList::Lacks(Lack::absent(format!(
                "a kind of {} that tells what it is used for",
                room.id
            )))
        })
    }

    /// Whether a room is among those where receptacles want ground-fault protection (NEC 210.8(A)).
    pub fn wants_ground_fault(&self, room: &Entry<Room>, edition: Edition) -> InList {
        let listed = |kind: RoomKind| protection::ground_fault(edition, kind.word());
        by_kind(room, listed, false).unwrap_or(InList::ByUse)
    }
}

/// Whether a list holds a room, as far as its kind tells; a basement is in it where it is finished, or where it is not.
fn by_kind(
    room: &Entry<Room>,
    listed: impl Fn(RoomKind) -> Option<Listed>,
    finished_basement: bool,
) -> Option<InList> {
    let kind = match room.kind.want("kind", &room.id) {
        Ok(kind) => **kind,
        Err(lack) => return Some(InList::Lacks(lack)),
    };
    match listed(kind)? {
        Listed::Yes => Some(InList::Yes),
        Listed::No => Some(InList::No),
        Listed::Depends if kind == RoomKind::Basement => Some(finished(room, finished_basement)),
        Listed::Depends => None,
    }
}

/// A basement that is listed where it is finished, or where it is not.
fn finished(room: &Entry<Room>, listed_where: bool) -> InList {
    match room.finished.want("finished", &room.id) {
        Ok(finished) if finished.0 == listed_where => InList::Yes,
        Ok(_) => InList::No,
        Err(lack) => InList::Lacks(lack),
    }
}
