//! A media room with fewer than two places wired for a subwoofer.

use serde::Deserialize;

use crate::findings::{Finding, Lack, Report};
use crate::house::{House, Node, Seeker, is_active_subwoofer, is_passive};
use crate::plan::{EndpointKind as Kind, Place, Service, Sort};
use crate::rules::{Limit, Sheet};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    places: Limit<u32>,
}

/// What a room, or the plan where no room is named, has of subwoofers.
#[derive(Debug, Clone, Default)]
struct Media {
    /// Places that a signal reaches.
    wired: u32,
    /// The first of them.
    place: Option<usize>,
    subwoofer: Option<usize>,
    surround: Option<usize>,
    /// What is missing to know whether another place is wired.
    lack: Option<Lack>,
}

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    let subwoofers = || house.endpoints_of(Kind::Subwoofer);
    let surround = || {
        let speakers = house.endpoints_of(Kind::Speaker);
        speakers.filter(|at| {
            let place = house.plan.endpoints[*at].place.value();
            place.is_some_and(|place| !is_front(*place))
        })
    };
    // What a line or a speaker run ends at may be a subwoofer.
    let signal = [Service::Line, Service::Speaker];
    for index in house.kindless() {
        if house.own_run(index, &signal).is_none() {
            continue;
        }
        let endpoint = &house.plan.endpoints[index];
        let lack = Lack::absent(format!("kind of {}", endpoint.id));
        out.gap(sheet.id, &endpoint.id, lack);
    }
    if subwoofers().chain(surround()).next().is_none() {
        return;
    }
    let seeker = house.seeker();
    // The last of these stands for no room.
    let mut rooms = vec![Media::default(); house.plan.rooms.len() + 1];
    let nowhere = house.plan.rooms.len();
    let room_of = |at: usize| house.want_room(at).unwrap_or(nowhere);
    for index in subwoofers() {
        let media = &mut rooms[room_of(index)];
        media.subwoofer = media.subwoofer.or(Some(index));
        match wired(house, &seeker, index) {
            Ok(true) => media.add(index),
            Ok(false) => {}
            Err(lack) => media.lack = media.lack.take().or(Some(lack)),
        }
    }
    for index in plates(house, &seeker) {
        rooms[room_of(index)].add(index);
    }
    for index in surround() {
        let media = &mut rooms[room_of(index)];
        media.surround = media.surround.or(Some(index));
    }
    let least = limits.places.value;
    let homeless = rooms[nowhere].clone();
    let named = rooms[..nowhere].iter().any(|media| media.on().is_some());
    for (room, media) in rooms.iter().enumerate() {
        let Some(on) = media.on() else { continue };
        let unplaced = |at: usize| house.want_room(at).err();
        let lack = if room == nowhere && (named || media.wired >= least) {
            // Two places that may be in two rooms, or in the one that has been judged.
            unplaced(on)
        } else if media.wired >= least {
            None
        } else if room != nowhere && media.wired.saturating_add(homeless.wired) >= least {
            homeless.place.and_then(unplaced)
        } else {
            media.lack.clone()
        };
        match lack {
            Some(lack) => out.gap(sheet.id, &house.plan.endpoints[on].id, lack),
            None => {
                out.checked();
                if media.wired < least {
                    out.find(finding(house, sheet, limits, room, media, on));
                }
            }
        }
    }
}

impl Media {
    fn add(&mut self, place: usize) {
        self.wired = self.wired.saturating_add(1);
        self.place = self.place.or(Some(place));
    }

    /// What makes it a room for films: a subwoofer, or else a surround speaker.
    fn on(&self) -> Option<usize> {
        self.subwoofer.or(self.surround)
    }
}

fn is_front(place: Place) -> bool {
    matches!(place, Place::Left | Place::Right | Place::Centre)
}

/// Whether a signal reaches a subwoofer: a line, or a speaker run where it has no amplifier.
fn wired(house: &House<'_>, seeker: &Seeker<'_, '_>, index: usize) -> Result<bool, Lack> {
    let subwoofer = &house.plan.endpoints[index];
    if subwoofer.active.is_bad() {
        return Err(Lack::Reported);
    }
    let services: &[Service] = match is_active_subwoofer(subwoofer) {
        true => &[Service::Line, Service::Data, Service::Fibre, Service::Coax],
        false => &[Service::Speaker],
    };
    let reach = seeker.reach(index, services);
    match (reach.run, reach.lack) {
        (None, Some(lack)) => Err(lack),
        (run, _) => Ok(run.is_some()),
    }
}

/// Plates and boxes that a line is pulled to and that nothing stands beside or goes on from: places
/// made ready for a subwoofer, whether the line is connected yet or not.
fn plates<'a>(
    house: &'a House<'_>,
    seeker: &'a Seeker<'_, '_>,
) -> impl Iterator<Item = usize> + 'a {
    let ends = house.runs_of(Service::Line).filter_map(|run| {
        let end = house.plan.runs[run].to.value()?;
        (end.thing.sort == Sort::Endpoint).then(|| end.at())
    });
    ends.filter(|at| {
        let endpoint = &house.plan.endpoints[*at];
        let is_plate = is_passive(endpoint) == Some(true) && endpoint.within.is_absent();
        let node = Node::of_endpoint(*at);
        let is_line = |run: &usize| house.service(*run) == Some(Service::Line);
        is_plate
            && seeker.beside().of(*at).next().is_none()
            && house.runs_at(node).filter(is_line).take(2).count() == 1
    })
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    limits: &Limits,
    room: usize,
    media: &Media,
    on: usize,
) -> Finding {
    let advised = limits.places.value;
    let room = house.plan.rooms.get(room);
    let found = match media.wired {
        0 => "no place".to_owned(),
        1 => "1 place".to_owned(),
        more => format!("{more} places"),
    };
    let name = room.map_or("the room", |room| room.id.as_str());
    let says = format!("{name} has {found} wired for a subwoofer, advised are {advised}");
    let endpoint = &house.plan.endpoints[on];
    let is_subwoofer = media.subwoofer == Some(on);
    let label = match media.place {
        _ if !is_subwoofer => "a surround speaker, so films are heard here",
        Some(place) if place == on => "the only place that is wired",
        _ => "a place that is not wired",
    };
    let finding = sheet.finding(&endpoint.id, says, endpoint.span, label);
    let finding = match room {
        Some(room) => finding.with_on(&room.id),
        None => finding,
    };
    finding.with_authority(limits.places.authority.clone())
}
