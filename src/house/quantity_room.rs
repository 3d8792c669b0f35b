//! Figures of pictures and of rooms.

use super::quantity::Collector;
use crate::figures::heat::Airflow;
use crate::figures::picture::{ImageWidth, ThrowDistance};
use crate::findings::Lack;
use crate::plan::EndpointKind;

impl Collector<'_, '_> {
    pub(super) fn pictures(&mut self, compression: Result<f64, Lack>) {
        let house = self.house;
        for endpoint in &house.plan.endpoints {
            let shows = matches!(
                endpoint.kind.value(),
                Some(EndpointKind::Projector | EndpointKind::Display)
            );
            if !shows && endpoint.picture.is_absent() {
                continue;
            }
            let ratio = compression.clone();
            let rate = ratio
                .and_then(|ratio| house.video_rate(endpoint, ratio))
                .map(|(rate, _)| rate);
            self.add(vec![endpoint.id.clone()], false, rate);
        }
    }
}

impl Collector<'_, '_> {
    /// Projectors: how far from its screen each has to stand for each ratio that it states, and how
    /// wide a picture it throws from where it stands.
    pub(super) fn throws(&mut self) {
        let house = self.house;
        for index in house.endpoints_of(EndpointKind::Projector) {
            let projector = &house.plan.endpoints[index];
            let on = || vec![projector.id.clone()];
            let (ratios, screen) = match house.throw(index) {
                Ok(throw) => throw,
                Err(lack) => {
                    self.lacks("throw-distance", on(), lack);
                    continue;
                }
            };
            let entry = &house.plan.endpoints[screen];
            for ratio in ratios {
                let width = entry.width.want("width", &entry.id);
                let needed = width
                    .and_then(|width| ThrowDistance::of(ratio, ***width).ok_or(Lack::Reported));
                self.add(on(), false, needed);
                let distance = house.apart_in_plan(index, screen);
                let image = distance.and_then(|distance| {
                    ImageWidth::of_throw(distance, ratio).ok_or(Lack::Reported)
                });
                self.add(on(), false, image);
            }
        }
    }

    /// The angle that the picture of its room fills from each seat.
    pub(super) fn seats(&mut self) {
        let house = self.house;
        for (room, theatre) in house.theatres().iter().enumerate() {
            for seat in &theatre.seats {
                let id = &house.plan.endpoints[*seat as usize].id;
                match house.picture_in(room) {
                    Ok(None) => {}
                    Ok(Some(picture)) => {
                        let on = vec![id.clone(), house.plan.endpoints[picture].id.clone()];
                        self.add(on, false, house.view_angle(*seat as usize, picture));
                    }
                    Err(lack) => self.lacks("view-angle", vec![id.clone()], lack),
                }
            }
        }
    }

    /// Where each loudspeaker that has a place stands, seen from the first seat of its room.
    pub(super) fn loudspeakers(&mut self) {
        let house = self.house;
        for (room, theatre) in house.theatres().iter().enumerate() {
            if theatre.speakers.is_empty() {
                continue;
            }
            let listening = house.listening(room);
            for speaker in &theatre.speakers {
                let index = *speaker as usize;
                let on = || vec![house.plan.endpoints[index].id.clone()];
                let found = listening
                    .clone()
                    .and_then(|(seat, front)| house.direction(seat, front, index));
                match found {
                    Ok((azimuth, elevation)) => {
                        self.add(on(), false, Ok(azimuth));
                        self.add(on(), false, Ok(elevation));
                    }
                    Err(lack) => self.lacks("azimuth", on(), lack),
                }
            }
        }
    }

    /// Heat of the rooms that racks stand in, and the air that would carry it out.
    pub(super) fn rack_rooms(&mut self, rise: Result<f64, Lack>) {
        let house = self.house;
        for room in house.rack_rooms() {
            let on = || vec![house.plan.rooms[room.room].id.clone()];
            let heat = match room.lack.clone() {
                None => room.heat(),
                Some(lack) => Err(lack),
            };
            match heat {
                Err(lack) => self.lacks("heat", on(), lack),
                Ok(heat) => {
                    let air = rise
                        .clone()
                        .and_then(|rise| Airflow::of(&heat, rise).ok_or(Lack::Reported));
                    self.add(on(), false, Ok(heat));
                    self.add(on(), false, air);
                }
            }
        }
    }
}
