//! Loudspeakers by the part of the room that they belong to, and the lines pulled to them.

use std::collections::HashMap;

use super::beside::Beside;
use super::kinds::is_passive;
use super::topology::{House, Node, small};
use crate::findings::Lack;
use crate::plan::{Endpoint, EndpointKind as Kind, Place, Service};

/// So many runs at a plate may be of each speaker that it belongs to; of more it is not known.
const MOST_LINES: usize = 64;

/// A part of a media room.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RoomPart {
    Front,
    /// Between front and surround.
    Wide,
    /// At the sides and at the rear.
    Surround,
    OverheadFront,
    OverheadMiddle,
    OverheadRear,
}

impl RoomPart {
    pub fn of(place: Place) -> Self {
        match place {
            Place::Left | Place::Right | Place::Centre => Self::Front,
            Place::WideLeft | Place::WideRight => Self::Wide,
            Place::SurroundLeft | Place::SurroundRight | Place::RearLeft | Place::RearRight => {
                Self::Surround
            }
            Place::OverheadFrontLeft | Place::OverheadFrontRight => Self::OverheadFront,
            Place::OverheadMiddleLeft | Place::OverheadMiddleRight => Self::OverheadMiddle,
            Place::OverheadRearLeft | Place::OverheadRearRight => Self::OverheadRear,
        }
    }

    pub fn is_overhead(self) -> bool {
        matches!(
            self,
            Self::OverheadFront | Self::OverheadMiddle | Self::OverheadRear
        )
    }
}

/// A loudspeaker, or a box or plate where one may come, and the lines pulled to it.
#[derive(Debug)]
pub struct Pulled {
    pub endpoint: usize,
    /// `None` where the plan does not say.
    pub part: Option<RoomPart>,
    /// It is a speaker, as against a box that waits for one.
    pub is_speaker: bool,
    /// It has an amplifier of its own, so that its lines are of line level.
    pub active: bool,
    /// Runs that are connected and end here.
    pub live: Vec<u32>,
    pub spares: usize,
    /// What is missing to know whether one more run that ends here is a line.
    pub lack: Option<Lack>,
}

impl Pulled {
    /// Lines that end here: the connected one, and those in reserve. A line that goes on to the
    /// next speaker is none of its own.
    pub fn lines(&self) -> usize {
        usize::from(!self.live.is_empty()) + self.spares
    }
}

/// The loudspeakers of one room that has at least one with a `place`.
#[derive(Debug)]
pub struct MediaRoom {
    /// Index of the room; `None` where the plan does not say.
    pub room: Option<usize>,
    /// In the plan's order; those without a place, of this room or of none, included.
    pub pulled: Vec<Pulled>,
}

impl MediaRoom {
    pub fn at(&self, part: impl Fn(RoomPart) -> bool) -> impl Iterator<Item = &Pulled> {
        let known = move |pulled: &&Pulled| pulled.part.is_some_and(&part);
        self.pulled.iter().filter(known)
    }

    pub fn unplaced(&self) -> impl Iterator<Item = &Pulled> {
        self.pulled.iter().filter(|pulled| pulled.part.is_none())
    }
}

fn is_speaker(endpoint: &Endpoint) -> bool {
    match endpoint.kind.value() {
        Some(kind) => *kind == Kind::Speaker,
        // Only speakers, and what waits for one, have a place.
        None => endpoint.kind.is_absent() && !endpoint.place.is_absent(),
    }
}

impl House<'_> {
    /// Whether an endpoint is a speaker at the front of a room.
    pub fn is_front(&self, endpoint: usize) -> bool {
        let endpoint = &self.plan.endpoints[endpoint];
        let place = endpoint.place.value();
        is_speaker(endpoint) && place.is_some_and(|place| RoomPart::of(*place) == RoomPart::Front)
    }

    /// Rooms with loudspeakers that have a place. One without a room belongs to the only media
    /// room of the plan, if there is one.
    pub fn media_rooms(&self) -> &[MediaRoom] {
        self.media_rooms.get_or_init(|| self.build_media_rooms())
    }

    fn build_media_rooms(&self) -> Vec<MediaRoom> {
        let endpoints = &self.plan.endpoints;
        if endpoints.iter().all(|endpoint| endpoint.place.is_absent()) {
            return Vec::new();
        }
        let mut rooms: Vec<MediaRoom> = Vec::new();
        let mut by_id: HashMap<Option<usize>, usize> = HashMap::new();
        let room_of = |at: usize| self.room_at(at);
        let placed = |at: &usize| !endpoints[*at].place.is_absent();
        for at in (0..endpoints.len()).filter(placed) {
            let room = room_of(at);
            by_id.entry(room).or_insert_with(|| {
                rooms.push(MediaRoom {
                    room,
                    pulled: Vec::new(),
                });
                rooms.len() - 1
            });
        }
        let known: Vec<usize> = by_id
            .iter()
            .filter(|(id, _)| id.is_some())
            .map(|(_, at)| *at)
            .collect();
        if let [only] = known[..] {
            by_id.insert(None, only);
        }
        let beside = self.beside();
        // Boxes that belong to a speaker do not wait for another.
        let mut taken = vec![false; endpoints.len()];
        // A speaker on a constant-voltage line plays in the house, not before the screen.
        let is_tapped = |at: usize| {
            let endpoint = &endpoints[at];
            let stated = !endpoint.tap.is_absent() || !endpoint.line_volts.is_absent();
            stated && !placed(&at)
        };
        let is_concerned = |at: &usize| is_speaker(&endpoints[*at]) && !is_tapped(*at);
        for at in (0..endpoints.len()).filter(is_concerned) {
            let Some(room) = by_id.get(&room_of(at)) else {
                continue;
            };
            let landings = self.line_landings(at, beside);
            for landing in &landings {
                taken[*landing] = true;
            }
            rooms[*room].pulled.push(self.pulled(at, &landings));
        }
        let waits = |at: usize| {
            let endpoint = &endpoints[at];
            let waiting = is_passive(endpoint) == Some(true) && endpoint.within.is_absent();
            waiting
                && !matches!(
                    endpoint.kind.value(),
                    Some(Kind::PatchPanel | Kind::Distribution)
                )
        };
        let mut boxes: Vec<usize> = (0..endpoints.len())
            .filter(|at| placed(at) && !is_speaker(&endpoints[*at]))
            .collect();
        for run in self
            .runs_of(Service::Speaker)
            .filter(|run| self.is_spare(*run))
        {
            let Some((from, to)) = self.ends(run) else {
                continue;
            };
            let ends = [to, from].map(Node::endpoint);
            let end = ends.into_iter().flatten().find(|at| waits(*at));
            boxes.extend(end);
        }
        boxes.sort_unstable();
        boxes.dedup();
        for at in boxes.into_iter().filter(|at| !taken[*at]) {
            if let Some(room) = by_id.get(&room_of(at)) {
                rooms[*room].pulled.push(self.pulled(at, &[at]));
            }
        }
        rooms.retain(|room| !room.pulled.is_empty());
        for room in &mut rooms {
            room.pulled.sort_unstable_by_key(|pulled| pulled.endpoint);
        }
        rooms
    }

    /// Where lines to a speaker or display may end: at it, at what belongs to it, and at the plate
    /// that a cord in the open leads to.
    pub fn line_landings(&self, endpoint: usize, beside: &Beside) -> Vec<usize> {
        let mut all = self.landings(endpoint, beside);
        let node = Node::of_endpoint(endpoint);
        let cords = self
            .runs_at(node)
            .filter(|run| self.plan.runs[*run].lies_open() && !self.is_spare(*run));
        for cord in cords {
            let plate = self.other_end(cord, node).and_then(Node::endpoint);
            all.extend(plate.filter(|at| {
                let plate = &self.plan.endpoints[*at];
                is_passive(plate) == Some(true) && plate.within.is_absent()
            }));
        }
        all.sort_unstable();
        all.dedup();
        all
    }

    fn pulled(&self, endpoint: usize, landings: &[usize]) -> Pulled {
        let entry = &self.plan.endpoints[endpoint];
        let active = entry.active.value().is_some_and(|active| active.0);
        let mut pulled = Pulled {
            endpoint,
            part: entry.place.value().map(|place| RoomPart::of(*place)),
            is_speaker: is_speaker(entry),
            active,
            live: Vec::new(),
            spares: 0,
            lack: entry.place.is_bad().then_some(Lack::Reported),
        };
        for at in landings {
            let node = Node::of_endpoint(*at);
            for (nth, run) in self.runs_at(node).enumerate() {
                if *at != endpoint && nth == MOST_LINES {
                    let lack = || {
                        let plate = &self.plan.endpoints[*at].id;
                        Lack::absent(format!("which runs at {plate} are of {}", entry.id))
                    };
                    pulled.lack.get_or_insert_with(lack);
                    break;
                }
                let other = self.other_end(run, node).and_then(Node::endpoint);
                if other.is_some_and(|other| other != *at && landings.contains(&other)) {
                    continue;
                }
                match self.want_service(run) {
                    Ok(Service::Speaker) => {}
                    Ok(Service::Line) if active => {}
                    Ok(_) => continue,
                    Err(lack) => {
                        pulled.lack.get_or_insert(lack);
                        continue;
                    }
                }
                if self.is_spare(run) {
                    pulled.spares += 1;
                } else {
                    pulled.live.push(small(run));
                }
            }
        }
        pulled.live.sort_unstable();
        pulled
    }

    /// The run of a line that lies hidden, where a cord in the open goes on from it to a speaker.
    pub fn behind_cord(&self, run: usize) -> usize {
        let is_cord = |run: usize| self.plan.runs[run].lies_open();
        let line = self.lines().of_run[run].map(|line| &self.lines().lines[line as usize]);
        let Some(line) = line.filter(|_| is_cord(run)) else {
            return run;
        };
        let step = line.steps.iter().find(|step| step.run as usize == run);
        let back = std::iter::successors(step, |step| {
            step.before.map(|before| &line.steps[before as usize])
        });
        let mut runs = back.map(|step| step.run as usize);
        runs.find(|run| !is_cord(*run)).unwrap_or(run)
    }

    /// Whether a line in reserve ends at a speaker of a media room.
    pub fn has_spare_speaker_run(&self, speaker: usize) -> bool {
        let in_reserve = self.in_reserve.get_or_init(|| {
            let mut in_reserve = vec![false; self.plan.endpoints.len()];
            for pulled in self.media_rooms().iter().flat_map(|room| &room.pulled) {
                in_reserve[pulled.endpoint] |= pulled.spares > 0;
            }
            in_reserve
        });
        in_reserve[speaker]
    }
}
