//! Seats, pictures and loudspeakers of a room.

use super::place::Point;
use super::topology::{House, Node, small};
use crate::figures::direction::{Azimuth, Elevation};
use crate::figures::picture::ViewAngle;
use crate::figures::route::straight_line;
use crate::findings::Lack;
use crate::plan::{EndpointKind as Kind, Place};
use crate::tables::loudspeakers::Bed;
use crate::units::Distance;

/// What stands in one room; indices of endpoints in the plan's order.
#[derive(Debug, Default)]
pub struct Theatre {
    pub seats: Vec<u32>,
    pub screens: Vec<u32>,
    pub displays: Vec<u32>,
    /// Loudspeakers that say their place.
    pub speakers: Vec<u32>,
}

impl House<'_> {
    /// What stands in each room of the plan.
    pub fn theatres(&self) -> &[Theatre] {
        self.theatres.get_or_init(|| {
            let mut all = Vec::new();
            all.resize_with(self.plan.rooms.len(), Theatre::default);
            for kind in [Kind::Seat, Kind::Screen, Kind::Display, Kind::Speaker] {
                for index in self.endpoints_of(kind) {
                    let Some(room) = self.room_at(index) else {
                        continue;
                    };
                    let theatre = &mut all[room];
                    let list = match kind {
                        Kind::Seat => &mut theatre.seats,
                        Kind::Screen => &mut theatre.screens,
                        Kind::Display => &mut theatre.displays,
                        _ if self.plan.endpoints[index].place.value().is_none() => continue,
                        _ => &mut theatre.speakers,
                    };
                    list.push(small(index));
                }
            }
            all
        })
    }

    /// The picture that a room is arranged for: its only screen, else its only display; `None`
    /// where it has neither.
    ///
    /// # Errors
    /// It has several.
    pub fn picture_in(&self, room: usize) -> Result<Option<usize>, Lack> {
        let theatre = &self.theatres()[room];
        for (list, word) in [
            (&theatre.screens, "screens"),
            (&theatre.displays, "displays"),
        ] {
            match list[..] {
                [] => {}
                [one] => return Ok(Some(one as usize)),
                _ => {
                    let id = &self.plan.rooms[room].id;
                    let count = list.len();
                    return Err(Lack::absent(format!(
                        "which of the {count} {word} in {id} is its picture"
                    )));
                }
            }
        }
        Ok(None)
    }

    /// Distance of two endpoints in plan, their heights left out, in the unit of the first.
    ///
    /// # Errors
    /// One of them has no point.
    pub fn apart_in_plan(&self, from: usize, to: usize) -> Result<Distance, Lack> {
        let (from, to) = (self.point_of(from)?, self.point_of(to)?);
        let level = [to[0], to[1], from[2]];
        let line = straight_line(from, level).ok_or(Lack::Reported)?;
        Ok(from[0].same_unit(line))
    }

    fn point_of(&self, endpoint: usize) -> Result<Point, Lack> {
        self.want_point(Node::of_endpoint(endpoint))
    }

    /// The angle that a picture fills from a seat, by their distance in plan.
    ///
    /// # Errors
    /// A width or a point is missing, or the seat stands at the picture itself.
    pub fn view_angle(&self, seat: usize, picture: usize) -> Result<ViewAngle, Lack> {
        let entry = &self.plan.endpoints[picture];
        let width = entry.width.want("width", &entry.id)?;
        let distance = self.apart_in_plan(seat, picture)?;
        ViewAngle::of(***width, distance).ok_or_else(|| {
            let seat = &self.plan.endpoints[seat].id;
            Lack::absent(format!("a distance between {seat} and {}", entry.id))
        })
    }

    /// The first seat of a room, by preference one whose place could be read, and what it looks at: the
    /// room's picture, else its centre loudspeaker.
    ///
    /// # Errors
    /// The room has no seat, nothing to look at, or several pictures.
    pub fn listening(&self, room: usize) -> Result<(usize, usize), Lack> {
        let theatre = &self.theatres()[room];
        let id = &self.plan.rooms[room].id;
        let is_read = |seat: &&u32| !self.plan.endpoints[**seat as usize].at.is_bad();
        let mut seats = theatre.seats.iter();
        let seat = *seats
            .clone()
            .find(is_read)
            .or_else(|| seats.next())
            .ok_or_else(|| Lack::absent(format!("a seat in {id}")))?;
        let is_centre = |index: &&u32| {
            let speaker = &self.plan.endpoints[**index as usize];
            speaker.place.value() == Some(&Place::Centre)
        };
        let centre = || theatre.speakers.iter().find(is_centre);
        let front = match self.picture_in(room)? {
            Some(picture) => picture,
            None => *centre().ok_or_else(|| {
                Lack::absent(format!("a screen, display or centre loudspeaker in {id}"))
            })? as usize,
        };
        Ok((seat as usize, front))
    }

    /// Where a loudspeaker stands, seen from a seat that looks at `front`.
    ///
    /// # Errors
    /// A point is missing, or two of them are one.
    pub fn direction(
        &self,
        seat: usize,
        front: usize,
        speaker: usize,
    ) -> Result<(Azimuth, Elevation), Lack> {
        let (from, to) = (self.point_of(seat)?, self.point_of(speaker)?);
        let azimuth = Azimuth::of(from, self.point_of(front)?, to);
        let (Some(azimuth), Some(elevation)) = (azimuth, Elevation::of(from, to)) else {
            let id = |index: usize| &self.plan.endpoints[index].id;
            return Err(Lack::absent(format!(
                "a direction from {} to {} and {}",
                id(seat),
                id(front),
                id(speaker)
            )));
        };
        Ok((azimuth, elevation))
    }
}

/// Which layout the loudspeakers of a room follow: with a rear pair or without.
pub fn bed(house: &House<'_>, theatre: &Theatre) -> Bed {
    let is_rear = |index: &u32| {
        let place = house.plan.endpoints[*index as usize].place.value();
        matches!(place, Some(Place::RearLeft | Place::RearRight))
    };
    if theatre.speakers.iter().any(is_rear) {
        Bed::Seven
    } else {
        Bed::Five
    }
}

impl House<'_> {
    /// The throw ratios of a projector, the least and the greatest where it has a zoom, and the
    /// screen that it throws on: the only one of its room.
    ///
    /// # Errors
    /// The ratio or the room is missing, or the room has no screen or several.
    pub fn throw(&self, projector: usize) -> Result<(Vec<f64>, usize), Lack> {
        let entry = &self.plan.endpoints[projector];
        let stated = entry.throw.want("throw", &entry.id)?;
        let room = self.want_room(projector)?;
        let id = &self.plan.rooms[room].id;
        let screen = match self.theatres()[room].screens[..] {
            [] => return Err(Lack::absent(format!("a screen in {id}"))),
            [screen] => screen as usize,
            ref several => {
                let count = several.len();
                return Err(Lack::absent(format!(
                    "which of the {count} screens in {id} {} throws on",
                    entry.id
                )));
            }
        };
        let ratios = || stated.value.values().map(|ratio| ratio.0);
        let least = ratios().fold(f64::INFINITY, f64::min);
        let greatest = ratios().fold(0.0, f64::max);
        match least.partial_cmp(&greatest) {
            Some(std::cmp::Ordering::Less) => Ok((vec![least, greatest], screen)),
            Some(std::cmp::Ordering::Equal) => Ok((vec![least], screen)),
            // An empty list.
            _ => Err(Lack::absent(format!("throw of {}", entry.id))),
        }
    }
}
