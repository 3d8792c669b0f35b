//! What the two rules of the viewing angle share: which seat looks at which picture.

use crate::figures::picture::{ViewAngle, distance_for_angle};
use crate::findings::{Finding, Lack, Report};
use crate::house::House;
use crate::plan::EndpointKind as Kind;
use crate::rules::{Sheet, shown};
use crate::units::{Degrees, figure3};

/// A seat before the picture of its room.
pub struct View {
    pub seat: usize,
    pub picture: usize,
    pub angle: ViewAngle,
}

/// Every seat before a picture; what is missing becomes a gap of the sheet.
pub fn views(house: &House<'_>, sheet: &Sheet, out: &mut Report) -> Vec<View> {
    let mut views = Vec::new();
    let id = |index: usize| &house.plan.endpoints[index].id;
    for (room, theatre) in house.theatres().iter().enumerate() {
        let picture = match house.picture_in(room) {
            Ok(Some(picture)) => picture,
            Ok(None) => continue,
            Err(lack) => {
                out.gap(sheet.id, &house.plan.rooms[room].id, lack);
                continue;
            }
        };
        if theatre.seats.is_empty() {
            let room = &house.plan.rooms[room].id;
            out.gap(
                sheet.id,
                id(picture),
                Lack::absent(format!("a seat in {room}")),
            );
            continue;
        }
        let entry = &house.plan.endpoints[picture];
        if let Err(lack) = entry.width.want("width", &entry.id) {
            out.gap(sheet.id, &entry.id, lack);
            continue;
        }
        for seat in theatre.seats.iter().map(|seat| *seat as usize) {
            match house.view_angle(seat, picture) {
                Ok(angle) => views.push(View {
                    seat,
                    picture,
                    angle,
                }),
                Err(lack) => out.gap(sheet.id, id(seat), lack),
            }
        }
    }
    roomless(house, sheet, out);
    views
}

/// Seats and pictures that may belong together, but stand in no room that the plan names.
fn roomless(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let has = |kind: Kind| house.endpoints_of(kind).next().is_some();
    let has_picture = has(Kind::Screen) || has(Kind::Display);
    let kinds = [
        (Kind::Seat, has_picture),
        (Kind::Screen, has(Kind::Seat)),
        (Kind::Display, has(Kind::Seat)),
    ];
    for (kind, concerned) in kinds {
        for index in house.endpoints_of(kind).filter(|_| concerned) {
            if let Err(lack) = house.want_room(index) {
                out.gap(sheet.id, &house.plan.endpoints[index].id, lack);
            }
        }
    }
    for index in house.kindless() {
        let endpoint = &house.plan.endpoints[index];
        let in_theatre = house.want_room(index).is_ok_and(|room| {
            let theatre = &house.theatres()[room];
            !(theatre.screens.is_empty() && theatre.displays.is_empty())
        });
        if (in_theatre || !endpoint.width.is_absent())
            && endpoint.load.is_absent()
            && let Err(lack) = endpoint.kind.want("kind", &endpoint.id)
        {
            out.gap(sheet.id, &endpoint.id, lack);
        }
    }
}

/// The finding of a view that is over or under a limit, without its words of advice.
pub fn finding(house: &House<'_>, sheet: &Sheet, view: &View, limit: Degrees) -> Finding {
    let seat = &house.plan.endpoints[view.seat];
    let picture = &house.plan.endpoints[view.picture];
    let figure = shown(&view.angle);
    let too_wide = figure.value > limit.base();
    let (most, label) = match too_wide {
        true => ("at most", "too near"),
        false => ("at least", "too far"),
    };
    let says = format!(
        "{} fills {} deg of the view from {}, good is {most} {limit}",
        picture.id,
        figure3(figure.value),
        seat.id
    );
    let at = seat.at.span().unwrap_or(seat.span);
    let mut finding = sheet
        .finding(&seat.id, says, at, label)
        .with_on(&picture.id);
    if let Some(width) = picture.width.stated() {
        finding = finding.with_mark(width.span, "width of the picture");
        let away = distance_for_angle(***width, limit.base());
        let point = seat.at.value().map(|at| at.0[0]);
        if let (Some(away), Some(point)) = (away, point) {
            let away = point.same_unit(away);
            let side = if too_wide { "or more" } else { "or less" };
            finding = finding.with_put_right(format!(
                "move {} to {} {} {side} from {}, or choose another width of picture",
                seat.id,
                figure3(away.number()),
                away.unit().spelling,
                picture.id
            ));
        }
    }
    finding.with_figure(figure, limit.base())
}
