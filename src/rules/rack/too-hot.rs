//! A rack in a room that cannot get rid of its heat.

use serde::Deserialize;

use crate::figures::Figure;
use crate::figures::heat::{Airflow, Heat};
use crate::findings::{Finding, Report, Shown};
use crate::house::{House, RackRoom};
use crate::plan::{Entry, Room};
use crate::rules::{Limit, Sheet, over};
use crate::units::{AirFlow, CubicMetresPerHour, Kelvins, Watts, figure3, plain, unit};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    /// Heat that the walls of a closed room take.
    walls_take: Limit<Watts>,
    /// How much warmer the air may leave the room than it comes in.
    pub rise: Limit<Kelvins>,
}

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    for room in house.rack_rooms() {
        judge_room(house, sheet, limits, &room, out);
    }
    for rack in house.endpoints_of(crate::plan::EndpointKind::Rack) {
        if let Err(lack) = house.want_room(rack) {
            out.gap(sheet.id, &house.plan.endpoints[rack].id, lack);
        }
    }
    // It may be a rack, in a room that needs air then.
    for index in house.kindless() {
        let endpoint = &house.plan.endpoints[index];
        let cooled = house
            .want_room(index)
            .is_ok_and(|room| house.plan.rooms[room].cooled.value().is_some_and(|c| c.0));
        let may_be_rack = !endpoint.load.is_absent() || house.with_members(index).len() > 1;
        if may_be_rack
            && !cooled
            && let Err(lack) = endpoint.kind.want("kind", &endpoint.id)
        {
            out.gap(sheet.id, &endpoint.id, lack);
        }
    }
}

fn judge_room(
    house: &House<'_>,
    sheet: &Sheet,
    limits: &Limits,
    warm: &RackRoom,
    out: &mut Report,
) {
    let room = &house.plan.rooms[warm.room];
    match room.cooled.want("cooled", &room.id) {
        Ok(cooled) if cooled.value.0 => return out.checked(),
        Ok(_) => {}
        Err(lack) => return out.gap(sheet.id, &room.id, lack),
    }
    if room.exhaust.is_bad() {
        return;
    }
    let heat = match warm.heat() {
        Ok(heat) => heat,
        Err(lack) => return out.gap(sheet.id, &room.id, lack),
    };
    if over(heat.value(), limits.walls_take.value.base())
        && let Some(air) = Airflow::of(&heat, limits.rise.value.base())
        && over(
            air.value(),
            room.exhaust.value().map_or(0.0, |exhaust| exhaust.base()),
        )
    {
        out.checked();
        out.find(finding(house, sheet, limits, warm, &heat, &air));
    } else if let Some(lack) = warm.lack.clone() {
        out.gap(sheet.id, &room.id, lack);
    } else {
        out.checked();
    }
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    limits: &Limits,
    warm: &RackRoom,
    heat: &Heat,
    air: &Airflow,
) -> Finding {
    let room = &house.plan.rooms[warm.room];
    let least = if warm.lack.is_some() { "at least " } else { "" };
    let fan = match room.exhaust.value() {
        Some(exhaust) if exhaust.base() > 0.0 => format!("a fan for {}", **exhaust),
        _ => "no fan".to_owned(),
    };
    let needs = format!(
        "{} m3/h ({} CFM)",
        figure3(air.value()),
        figure3(air.cubic_feet_per_minute())
    );
    let says = format!(
        "{} has {least}{} W ({} BTU/h) of heat, no cooling and {fan}, and needs {needs} of air",
        room.id,
        figure3(heat.value()),
        figure3(heat.btu_per_hour()),
    );
    let at = room.cooled.span().unwrap_or(room.span);
    let mut finding = sheet.finding(&room.id, says, at, "no cooling");
    finding = finding.with_each_on(
        warm.racks
            .iter()
            .map(|rack| &house.plan.endpoints[*rack].id),
    );
    if let Some(exhaust) = room.exhaust.span() {
        finding = finding.with_mark(exhaust, "too little air");
    }
    for (index, _) in warm.loads.iter().take(2) {
        let endpoint = &house.plan.endpoints[*index];
        if finding.marks.len() < 3
            && let Some(load) = endpoint.load.span()
        {
            finding = finding.with_mark(load, "warms the room");
        }
    }
    let figure = Shown {
        name: Heat::NAME,
        value: heat.value(),
        unit: Heat::UNIT,
        working: format!("{}; {}", heat.working(), air.working()),
    };
    let words = format!(
        "give {} air of its own (`cooled: yes`), or a fan that moves {needs} out of it with a way in for as much",
        room.id
    );
    finding
        .with_figure(figure, limits.walls_take.value.base())
        .with_authority(format!(
            "{}; {}",
            limits.walls_take.authority, limits.rise.authority
        ))
        .with_put_right(words)
        .with_redline(fan_for(house, room, warm, air))
}

/// The fan that the room needs, in the trade's unit, rounded up to tens.
fn fan_for(
    house: &House<'_>,
    room: &Entry<Room>,
    warm: &RackRoom,
    air: &Airflow,
) -> Option<crate::findings::Redline> {
    if warm.lack.is_some() {
        return None;
    }
    let us = house.region().ok()?.is_north_american();
    let unit_of_region = CubicMetresPerHour::new(0.0, if us { "CFM" } else { "m3/h" })?;
    let flow = AirFlow::new::<unit::cubic_meter_per_hour>(air.value());
    let tens = (unit_of_region.same_unit(flow).number() / 10.0).ceil() * 10.0;
    let size = format!("{} {}", plain(tens), unit_of_region.unit().spelling);
    let edit = house.edit(room, &room.exhaust, "exhaust", &size);
    house.change(format!("give {} a fan for {size}", room.id), edit)
}
