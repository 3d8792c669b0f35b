//! What stands in front of breaker panels.

use std::collections::HashMap;

use super::topology::{House, Node};
use crate::findings::Lack;
use crate::plan::{EndpointKind as Kind, Facing};

/// Anything that may stand before a panel, by the room that it is said to stand in.
pub struct Bodies(HashMap<Option<usize>, Vec<usize>>);

/// A body as seen by who stands before a panel and looks at it, in metres: the nearest and the
/// farthest from the panel's front, the sides from the panel's middle, the bottom and the top from
/// the floor.
#[derive(Debug, Clone, Copy)]
pub struct Seen {
    pub away: [f64; 2],
    pub aside: [f64; 2],
    pub up: [f64; 2],
}

/// A panel's front.
#[derive(Debug, Clone)]
pub struct Front {
    /// The axis that it faces along, and the other one.
    axes: [usize; 2],
    sign: f64,
    /// The front's place on the first axis, its middle on the second, the floor's height.
    at: [f64; 3],
    /// Width of the panel; 0 where the plan does not state its size.
    pub width: f64,
    /// What is lacking to know the panel's size: until then its place stands for its front, and
    /// what stands before that stands before the panel.
    pub unsized_panel: Option<Lack>,
}

impl Bodies {
    /// Bodies that may stand in the room of a panel: in the same, or where either is not known.
    fn lists(&self, room: Option<usize>) -> impl Iterator<Item = &Vec<usize>> {
        let all = room
            .is_none()
            .then(|| self.0.values())
            .into_iter()
            .flatten();
        let own = room.and_then(|_| self.0.get(&room));
        let nowhere = room.and_then(|_| self.0.get(&None));
        all.chain(own).chain(nowhere)
    }

    /// How many they are.
    pub fn count(&self, room: Option<usize>) -> usize {
        self.lists(room).map(Vec::len).sum()
    }

    /// The bodies themselves, in the order of the plan.
    pub fn near(&self, room: Option<usize>) -> Vec<usize> {
        let mut near: Vec<usize> = self.lists(room).flatten().copied().collect();
        near.sort_unstable();
        near
    }
}

impl House<'_> {
    /// Racks and cabinets, appliances, sinks, and whatever else states a `size`; not what is part
    /// of something.
    pub fn bodies(&self) -> Bodies {
        let mut bodies: HashMap<Option<usize>, Vec<usize>> = HashMap::new();
        for (index, endpoint) in self.plan.endpoints.iter().enumerate() {
            let stands = matches!(
                endpoint.kind.value(),
                Some(Kind::Rack | Kind::Distribution | Kind::Appliance | Kind::Sink)
            );
            if endpoint.within.is_absent() && (stands || !endpoint.size.is_absent()) {
                let room = self.want_room(index).ok();
                bodies.entry(room).or_default().push(index);
            }
        }
        Bodies(bodies)
    }

    /// Where a panel's front is and which way it looks. A room without origin has its floor at the
    /// height 0.
    ///
    /// # Errors
    /// The panel's place, a size that could not be read, or the way that it faces.
    pub fn front(&self, panel: usize) -> Result<Front, Lack> {
        let entry = &self.plan.endpoints[panel];
        let point = self.want_point(Node::of_endpoint(panel))?;
        let size = match entry.size.want("size", &entry.id) {
            Err(Lack::Reported) => return Err(Lack::Reported),
            size => size,
        };
        let faces = entry.faces.want("faces", &entry.id);
        let faces = **faces.map_err(|lack| size.as_ref().err().cloned().unwrap_or(lack))?;
        let (along, across) = if is_along_x(faces) { (0, 1) } else { (1, 0) };
        let sign = match faces {
            Facing::X | Facing::Y => 1.0,
            Facing::MinusX | Facing::MinusY => -1.0,
        };
        let origin = self
            .standing(panel)
            .room
            .and_then(|room| room.origin.value());
        let floor = origin.map_or(0.0, |origin| origin.0[2].base());
        let side = |axis: usize| size.as_ref().map_or(0.0, |size| size.0[axis].base());
        let depth = side(1);
        let front = Front {
            axes: [along, across],
            sign,
            at: [
                point[along].base() + sign * depth / 2.0,
                point[across].base(),
                floor,
            ],
            width: side(0),
            unsized_panel: size.as_ref().err().cloned(),
        };
        let sound = front.at.iter().all(|metres| metres.is_finite());
        sound.then_some(front).ok_or(Lack::Reported)
    }

    /// A body from a panel's front: the least that it may take up and the most, which differ where
    /// the plan does not say which way it faces.
    ///
    /// # Errors
    /// The body's place or size.
    pub fn seen(&self, front: &Front, body: usize) -> Result<[Seen; 2], Lack> {
        let entry = &self.plan.endpoints[body];
        let point = self.want_point(Node::of_endpoint(body))?;
        let size = entry.size.want("size", &entry.id)?;
        let [width, depth, height] = size.0.map(|side| side.base());
        // Its sides along the panel's axis and across it.
        let sides = match entry.faces.value() {
            Some(faces) if is_along_x(*faces) == (front.axes[0] == 0) => [[depth, width]; 2],
            Some(_) => [[width, depth]; 2],
            None => [[width.min(depth); 2], [width.max(depth); 2]],
        };
        let away = (point[front.axes[0]].base() - front.at[0]) * front.sign;
        let aside = point[front.axes[1]].base() - front.at[1];
        let up = point[2].base() - front.at[2];
        let around = |middle: f64, side: f64| [middle - side / 2.0, middle + side / 2.0];
        Ok(sides.map(|[along, across]| Seen {
            away: around(away, along),
            aside: around(aside, across),
            up: around(up, height),
        }))
    }
}

fn is_along_x(faces: Facing) -> bool {
    matches!(faces, Facing::X | Facing::MinusX)
}
