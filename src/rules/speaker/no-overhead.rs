//! A room for surround sound with too few lines to its ceiling.

use serde::Deserialize;

use crate::findings::{Finding, Report};
use crate::house::{House, MediaRoom, Pulled, RoomPart};
use crate::rules::{Limit, Sheet};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    front: Limit<usize>,
    rear: Limit<usize>,
}

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    for room in house.media_rooms() {
        let surround = room.at(|part| part != RoomPart::Front).next();
        let unplaced = || room.unplaced().filter(|pulled| pulled.lines() > 0);
        if surround.is_none() && unplaced().next().is_none() {
            continue;
        }
        let count = Count::of(room);
        let missing = count.missing(limits);
        if missing == 0 {
            out.checked();
            continue;
        }
        let overhead = || room.at(RoomPart::is_overhead);
        let unsure = overhead().filter(|pulled| pulled.lack.is_some()).count();
        let may_be: usize = unplaced().map(Pulled::lines).sum();
        if let Some(speaker) = surround
            && missing > may_be + unsure
        {
            out.checked();
            out.find(finding(house, sheet, room, speaker, &count, limits));
            continue;
        }
        for pulled in overhead() {
            if let Some(lack) = &pulled.lack {
                let id = &house.plan.endpoints[pulled.endpoint].id;
                out.gap(sheet.id, id, lack.clone());
            }
        }
        for pulled in unplaced() {
            let endpoint = &house.plan.endpoints[pulled.endpoint];
            if let Err(lack) = endpoint.place.want("place", &endpoint.id) {
                out.gap(sheet.id, &endpoint.id, lack);
            }
        }
    }
}

/// Lines to each part of the ceiling.
struct Count {
    front: usize,
    middle: usize,
    rear: usize,
}

impl Count {
    fn of(room: &MediaRoom) -> Self {
        let lines = |part| -> usize { room.at(|own| own == part).map(Pulled::lines).sum() };
        Self {
            front: lines(RoomPart::OverheadFront),
            middle: lines(RoomPart::OverheadMiddle),
            rear: lines(RoomPart::OverheadRear),
        }
    }

    /// Lines in the middle stand in for those that lack at the front or at the rear.
    fn missing(&self, limits: &Limits) -> usize {
        let front = limits.front.value.saturating_sub(self.front);
        let rear = limits.rear.value.saturating_sub(self.rear);
        (front + rear).saturating_sub(self.middle)
    }
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    room: &MediaRoom,
    speaker: &Pulled,
    count: &Count,
    limits: &Limits,
) -> Finding {
    let speaker = &house.plan.endpoints[speaker.endpoint];
    let room_entry = room.room.map(|room| &house.plan.rooms[room]);
    let middle = match count.middle {
        0 => String::new(),
        some => format!(", {some} in the middle"),
    };
    let says = format!(
        "{} {} overhead lines at the front{middle} and {} at the rear, advised are {} and {}",
        room_entry.map_or("the plan has".to_owned(), |room| format!("{} has", room.id)),
        count.front,
        count.rear,
        limits.front.value,
        limits.rear.value
    );
    let label = "too few lines to the ceiling";
    let (id, span) = room_entry.map_or((&speaker.id, speaker.span), |room| (&room.id, room.span));
    let mut finding = sheet.finding(id, says, span, label);
    for pulled in room.at(RoomPart::is_overhead) {
        let endpoint = &house.plan.endpoints[pulled.endpoint];
        finding = finding
            .with_on(&endpoint.id)
            .with_lesser_mark(endpoint.span, "one overhead place");
    }
    finding = finding
        .with_on(&speaker.id)
        .with_lesser_mark(speaker.span, "surround sound is planned");
    let words = match count.missing(limits) {
        1 => "pull 1 speaker line more to the ceiling, as a spare to a box if no speaker is planned there".to_owned(),
        more => format!(
            "pull {more} speaker lines more to the ceiling, as spares to boxes where no speaker is planned yet"
        ),
    };
    finding
        .with_put_right(words)
        .with_authority(limits.front.authority.clone())
}
