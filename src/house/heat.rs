//! Heat of the rooms that racks stand in.

use super::topology::House;
use crate::figures::heat::Heat;
use crate::findings::Lack;
use crate::plan::EndpointKind;
use crate::units::{Power, Watts, unit};

/// A room with racks in it, and what warms it.
#[derive(Debug)]
pub struct RackRoom {
    /// Index of the room in the plan.
    pub room: usize,
    pub racks: Vec<usize>,
    /// What draws power in the room, and how much; the greatest first.
    pub loads: Vec<(usize, Watts)>,
    /// Why the sum of them is not the whole, if it is not.
    pub lack: Option<Lack>,
}

impl RackRoom {
    /// Heat of the loads that are known: the true heat is never less. All that is drawn is taken to
    /// stay in the room: what leaves it by speaker lines is small, and not known.
    ///
    /// # Errors
    /// The loads overflow.
    pub fn heat(&self) -> Result<Heat, Lack> {
        let drawn = self.loads.iter().map(|(_, load)| *load).collect();
        Heat::of(drawn, Vec::new()).ok_or(Lack::Reported)
    }
}

impl House<'_> {
    /// The room that an endpoint stands in, where the plan says so.
    pub(super) fn room_at(&self, endpoint: usize) -> Option<usize> {
        let room = |at: usize| self.plan.endpoints[at].room.value();
        self.hosts(endpoint).find_map(room).map(|room| room.at())
    }

    /// The rooms in which racks stand, in the plan's order, with all that warms them.
    pub fn rack_rooms(&self) -> Vec<RackRoom> {
        let mut of_room: Vec<Option<RackRoom>> = Vec::new();
        of_room.resize_with(self.plan.rooms.len(), || None);
        let mut any = false;
        for rack in self.endpoints_of(EndpointKind::Rack) {
            if let Some(room) = self.room_at(rack) {
                any = true;
                let entry = of_room[room].get_or_insert_with(|| RackRoom {
                    room,
                    racks: Vec::new(),
                    loads: Vec::new(),
                    lack: None,
                });
                entry.racks.push(rack);
            }
        }
        if !any {
            return Vec::new();
        }
        for index in 0..self.plan.endpoints.len() {
            let Some(room) = self.room_at(index).and_then(|room| of_room[room].as_mut()) else {
                continue;
            };
            let own = self.own_demand(index);
            if own.watts() > 0.0
                && let Some(stated) = self.plan.endpoints[index].load.value()
            {
                let load = stated.same_unit(Power::new::<unit::watt>(own.watts()));
                room.loads.push((index, load));
            }
            if room.lack.is_none() {
                room.lack = own.whole(self).err();
            }
        }
        let mut rooms: Vec<_> = of_room.into_iter().flatten().collect();
        for room in &mut rooms {
            room.loads
                .sort_by(|(_, a), (_, b)| b.base().total_cmp(&a.base()));
        }
        rooms
    }
}
