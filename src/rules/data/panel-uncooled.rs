//! A data panel or router in a room that warms up.

use std::collections::HashSet;

use crate::findings::{Finding, Lack, Report};
use crate::house::House;
use crate::plan::{EndpointKind as Kind, Entry, Room};
use crate::rules::Sheet;

pub use crate::rules::NoLimits as Limits;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    // What a room lacks, it lacks once, whatever stands in it.
    let mut lacking = HashSet::new();
    for kind in [Kind::Distribution, Kind::Router] {
        for index in house.endpoints_of(kind) {
            let panel = &house.plan.endpoints[index];
            let room = match house.want_room(index) {
                Ok(room) => room,
                Err(lack) => {
                    out.gap(sheet.id, &panel.id, lack);
                    continue;
                }
            };
            let entry = &house.plan.rooms[room];
            match has_air(entry) {
                Ok(true) => out.checked(),
                Ok(false) => {
                    out.checked();
                    out.find(finding(house, sheet, index, entry));
                }
                Err(lack) if lacking.insert(room) => out.gap(sheet.id, &entry.id, lack),
                Err(_) => {}
            }
        }
    }
    for index in house.kindless() {
        let endpoint = &house.plan.endpoints[index];
        let room = house.want_room(index);
        if room.is_ok_and(|room| has_air(&house.plan.rooms[room]) == Ok(true)) {
            out.checked();
        } else {
            let lack = Lack::absent(format!("kind of {}", endpoint.id));
            out.gap(sheet.id, &endpoint.id, lack);
        }
    }
}

/// Whether air is brought into a room, or taken out of it.
fn has_air(room: &Entry<Room>) -> Result<bool, Lack> {
    let exhaust = room.exhaust.value().is_some_and(|air| air.base() > 0.0);
    if exhaust || room.cooled.value().is_some_and(|cooled| cooled.0) {
        return Ok(true);
    }
    if room.exhaust.is_bad() {
        return Err(Lack::Reported);
    }
    room.cooled.want("cooled", &room.id)?;
    Ok(false)
}

fn finding(house: &House<'_>, sheet: &Sheet, index: usize, room: &Entry<Room>) -> Finding {
    let panel = &house.plan.endpoints[index];
    let says = format!(
        "{} stands in {}, which has no air supply of its own and no exhaust",
        panel.id, room.id
    );
    sheet
        .finding(&panel.id, says, panel.span, "warms up here")
        .with_on(&room.id)
        .with_mark(room.cooled.span().unwrap_or(room.span), "not cooled")
        .with_put_right(format!(
            "bring air into {} and out of it again, or set {} in a room that has both",
            room.id, panel.id
        ))
}
