//! How near outlets are to sinks.

use std::collections::HashMap;

use super::topology::{House, Node};
use crate::figures::route::straight_line;
use crate::findings::Lack;
use crate::plan::EndpointKind;
use crate::units::Distance;

/// Sinks by the room that they stand in.
pub struct Sinks {
    by_room: HashMap<usize, Vec<usize>>,
    /// Those of which the plan does not say in which room they stand.
    pub nowhere: Vec<usize>,
}

/// Sinks in one room that an outlet's distance is taken to; a room with more is no room.
const MOST: usize = 100;

impl House<'_> {
    pub fn sinks(&self) -> Sinks {
        let mut by_room: HashMap<usize, Vec<usize>> = HashMap::new();
        let mut nowhere = Vec::new();
        for sink in self.endpoints_of(EndpointKind::Sink) {
            match self.want_room(sink) {
                Ok(room) => by_room.entry(room).or_default().push(sink),
                Err(_) => nowhere.push(sink),
            }
        }
        Sinks { by_room, nowhere }
    }

    /// The sink in a room that is nearest to an outlet there, and how far it is in a straight line,
    /// in the unit of the outlet's place. None where the room has no sink.
    ///
    /// # Errors
    /// The place of the outlet or of a sink, unless a sink whose place is known is nearer than
    /// `enough`.
    pub fn nearest_sink(
        &self,
        sinks: &Sinks,
        room: usize,
        outlet: usize,
        enough: Distance,
    ) -> Result<Option<(usize, Distance)>, Lack> {
        let Some(sinks) = sinks.by_room.get(&room) else {
            return Ok(None);
        };
        if sinks.len() > MOST {
            let room = &self.plan.rooms[room].id;
            return Err(Lack::absent(format!("fewer than {MOST} sinks in {room}")));
        }
        let from = self.want_point(Node::of_endpoint(outlet))?;
        let (mut nearest, mut lack): (Option<(usize, Distance)>, _) = (None, None);
        for sink in sinks {
            let away = self
                .want_point(Node::of_endpoint(*sink))
                .and_then(|to| straight_line(from, to).ok_or(Lack::Reported));
            match away {
                Ok(away) => {
                    let away = from[0].same_unit(away);
                    if nearest.is_none_or(|(_, known)| away.base() < known.base()) {
                        nearest = Some((*sink, away));
                    }
                }
                Err(missing) => lack = lack.or(Some(missing)),
            }
        }
        match (nearest, lack) {
            (Some((sink, away)), _) if away.base() <= enough.base() => Ok(Some((sink, away))),
            (_, Some(lack)) => Err(lack),
            (nearest, None) => Ok(nearest),
        }
    }
}
