//! How long a run's way is, and what its ends take to be connected.

use super::length::room_height;
use super::topology::{House, Node};
use crate::figures::route::{Level, along_axes, least_way, straight_line};
use crate::findings::{Id, Lack};
use crate::plan::{EndpointKind as Kind, Entry, Pathway, PathwayKind, Run};
use crate::units::{Distance, unit};

/// What is missing to know a run's way. No text, since very many runs may lack the same.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Missing {
    /// The point of an endpoint.
    Point(usize),
    /// The panel of a circuit.
    Panel(usize),
    /// The room of an endpoint, for its ceiling or floor.
    Room(usize),
    /// Where the ceiling or floor of a room is.
    Height(usize),
    /// Something that reading has reported.
    Reported,
}

/// A run's way, as far as it is known: the true one is never shorter.
#[derive(Debug, Clone, Copy)]
pub struct RunWay {
    /// Along the axes, in metre; 0 where a point is missing.
    pub axes: f64,
    /// As the crow flies, in metre; 0 where a point is missing.
    pub straight: f64,
    /// By way of ceiling or floor where it goes so, and slantwise across; 0 where a point is missing.
    pub least: f64,
    pub missing: Option<Missing>,
}

/// What a cable needs at an end to be connected.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tail {
    Rack,
    Projector,
    /// A plate, and anything else.
    Plate,
    /// The endpoint says no kind.
    Unknown(usize),
}

impl<'p> House<'p> {
    /// Conduits that a run names, without one that lies inside another of them: its length is part
    /// of the other's.
    pub fn outermost_conduits(&self, run: &Run) -> Vec<&'p Entry<Pathway>> {
        let is_conduit =
            |way: &usize| self.plan.pathways[*way].kind.value() == Some(&PathwayKind::Conduit);
        let through = run.through.value().into_iter();
        let named = through.flat_map(|list| list.values()).map(|way| way.at());
        let mut named: Vec<usize> = named.filter(is_conduit).collect();
        named.sort_unstable();
        named.dedup();
        let is_outermost = |way: &&Entry<Pathway>| {
            let inside = way.inside.value().into_iter();
            let mut inside = inside.flat_map(|list| list.values());
            inside.all(|outer| named.binary_search(&outer.at()).is_err())
        };
        named
            .iter()
            .map(|way| &self.plan.pathways[*way])
            .filter(is_outermost)
            .collect()
    }

    /// Length of a run's conduits in metre, as far as it is known, and what is missing of the first
    /// that is not.
    pub fn conduits_length(&self, run: &Run) -> (f64, Option<Lack>) {
        let (mut metres, mut lack) = (0.0, None);
        for conduit in self.outermost_conduits(run) {
            match self.want_conduit_length(conduit) {
                Ok(length) => metres += length.base(),
                Err(missing) => lack = lack.or(Some(missing)),
            }
        }
        if run.through.is_bad() {
            lack = lack.or(Some(Lack::Reported));
        }
        (metres, lack)
    }

    /// The way between a run's ends. `None` where an end could not be read.
    pub fn run_way(&self, run: usize) -> Option<RunWay> {
        let (from, to) = self.ends(run)?;
        let points = self
            .place_of(from)
            .and_then(|from| Ok((from, self.place_of(to)?)));
        let mut way = RunWay {
            axes: 0.0,
            straight: 0.0,
            least: 0.0,
            missing: None,
        };
        match points {
            Err(missing) => way.missing = Some(missing),
            Ok(((start, from), (end, to))) => {
                let level = match self.rises(&self.plan.runs[run]) {
                    None => Ok(Level::Direct),
                    Some(up) => self.height(from, up).and_then(|start| {
                        let end = self.height(to, up)?;
                        Ok(match up {
                            true => Level::Ceiling(start, end),
                            false => Level::Floor(start, end),
                        })
                    }),
                };
                way.missing = level.err();
                // By way of a ceiling no run is shorter than without.
                let level = level.unwrap_or(Level::Direct);
                let axes = along_axes(start, end, level);
                let metres = |length: crate::units::Length| length.get::<unit::meter>();
                way.axes = axes.map_or(0.0, metres);
                way.straight = straight_line(start, end).map_or(0.0, metres);
                way.least = least_way(start, end, level).map_or(0.0, metres);
            }
        }
        if self.plan.runs[run].through.is_bad() {
            way.missing = way.missing.or(Some(Missing::Reported));
        }
        Some(way)
    }

    /// The point of a node and the endpoint that gives it.
    fn place_of(&self, node: Node) -> Result<([Distance; 3], usize), Missing> {
        let endpoint = self.standing_endpoint(node).map_err(|lack| match node {
            Node::Circuit(index) if lack != Lack::Reported => Missing::Panel(index as usize),
            _ => Missing::Reported,
        })?;
        if let Some(point) = self.standing(endpoint).point {
            return Ok((point, endpoint));
        }
        let is_bad = |at: usize| {
            let stated = &self.plan.endpoints[at];
            stated.at.is_bad() || stated.within.is_bad()
        };
        match self.hosts(endpoint).any(is_bad) {
            true => Err(Missing::Reported),
            false => Err(Missing::Point(endpoint)),
        }
    }

    fn height(&self, endpoint: usize, ceiling: bool) -> Result<Distance, Missing> {
        let room = self.want_room(endpoint).map_err(|lack| match lack {
            Lack::Absent(_) => Missing::Room(endpoint),
            Lack::Reported => Missing::Reported,
        })?;
        let stated = &self.plan.rooms[room];
        let missing = match stated.origin.is_bad() || stated.size.is_bad() {
            true => Missing::Reported,
            false => Missing::Height(room),
        };
        room_height(stated, ceiling).ok_or(missing)
    }

    /// Whether both ends of a run stand in one rack or other holder: a cord.
    pub fn is_within_one(&self, run: usize) -> bool {
        let outermost = |node: Node| self.hosts(node.endpoint()?).last();
        self.ends(run)
            .is_some_and(|(from, to)| outermost(from).is_some() && outermost(from) == outermost(to))
    }

    /// What a signal cable needs at an end. A circuit's end counts as a plate.
    pub fn tail(&self, node: Node) -> Tail {
        let Some(endpoint) = node.endpoint() else {
            return Tail::Plate;
        };
        let mut tail = Tail::Plate;
        for at in self.hosts(endpoint) {
            match self.plan.endpoints[at].kind.value() {
                Some(Kind::Rack) => return Tail::Rack,
                Some(Kind::Projector) => tail = Tail::Projector,
                Some(_) => {}
                None if tail == Tail::Plate => tail = Tail::Unknown(at),
                None => {}
            }
        }
        tail
    }

    /// On what something is missing, and what. `None` for what was reported.
    pub fn missing_words(&self, missing: Missing) -> Option<(&'p Id, String)> {
        let endpoint = |index: usize| &self.plan.endpoints[index].id;
        Some(match missing {
            Missing::Point(index) => (endpoint(index), format!("at of {}", endpoint(index))),
            Missing::Room(index) => (endpoint(index), format!("room of {}", endpoint(index))),
            Missing::Height(room) => {
                let id = &self.plan.rooms[room].id;
                (id, format!("origin and size of {id}"))
            }
            Missing::Panel(circuit) => {
                let id = &self.plan.circuits[circuit].id;
                (id, format!("panel of {id}"))
            }
            Missing::Reported => return None,
        })
    }
}
