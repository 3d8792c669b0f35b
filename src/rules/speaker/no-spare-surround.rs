//! A room with no more surround lines than surround speakers.

use std::cmp::Ordering;

use serde::Deserialize;

use crate::findings::{Finding, Report};
use crate::house::{House, MediaRoom, Pulled, RoomPart};
use crate::rules::{Limit, Sheet};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    /// Lines for each surround speaker.
    lines: Limit<usize>,
}

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    for room in house.media_rooms() {
        let count = Count::of(room, limits.lines.value);
        if count.speakers == 0 && count.worst <= count.short.max(0) {
            continue;
        }
        if count.best > 0 {
            out.checked();
            out.find(finding(house, sheet, room, &count, &limits.lines));
        } else if count.worst <= 0 {
            out.checked();
        } else {
            gaps(house, sheet, room, &count, out);
        }
    }
}

/// Surround speakers that have a line, and the lines in all.
struct Count {
    speakers: usize,
    lines: usize,
    /// How many lines are missing, as far as the plan tells: none if not above zero.
    short: i64,
    /// The same, if what is not known is all for the better, and all for the worse.
    best: i64,
    worst: i64,
    per_speaker: usize,
}

fn is_surround(part: RoomPart) -> bool {
    part == RoomPart::Surround
}

/// Lines that a place asks for beyond those that it has.
fn wants(pulled: &Pulled, per_speaker: usize) -> i64 {
    let asked = if pulled.is_speaker { per_speaker } else { 0 };
    signed(asked) - signed(pulled.lines())
}

fn signed(count: usize) -> i64 {
    i64::try_from(count).unwrap_or(i64::MAX / 4)
}

/// Passive, and with a line: one without any is speaker.no-line's.
fn counts(pulled: &&Pulled) -> bool {
    !pulled.active && pulled.lines() > 0
}

impl Count {
    fn of(room: &MediaRoom, per_speaker: usize) -> Self {
        let known = || room.at(is_surround).filter(counts);
        let short: i64 = known().map(|pulled| wants(pulled, per_speaker)).sum();
        let (mut best, mut worst) = (short, short);
        for pulled in room.at(is_surround).filter(|pulled| pulled.lack.is_some()) {
            // A run of which it is not known what it carries may be one line more, or the first
            // line of a speaker that then wants another.
            if counts(&pulled) {
                best -= 1;
            } else if !pulled.active {
                worst += wants(pulled, per_speaker) - 1;
            }
        }
        for pulled in room.unplaced().filter(counts) {
            let wants = wants(pulled, per_speaker);
            best += wants.min(0);
            worst += wants.max(0);
        }
        Self {
            speakers: known().filter(|pulled| pulled.is_speaker).count(),
            lines: known().map(Pulled::lines).sum(),
            short,
            best,
            worst,
            per_speaker,
        }
    }
}

/// What would settle it: the place of a speaker or box, or what a run carries.
fn gaps(house: &House<'_>, sheet: &Sheet, room: &MediaRoom, count: &Count, out: &mut Report) {
    for pulled in &room.pulled {
        let endpoint = &house.plan.endpoints[pulled.endpoint];
        if pulled.part.is_some_and(is_surround) {
            let matters = count.short > 0 || !counts(&pulled);
            if let (true, Some(lack)) = (matters, &pulled.lack) {
                out.gap(sheet.id, &endpoint.id, lack.clone());
            }
        } else if pulled.part.is_none() && counts(&pulled) {
            let matters = match wants(pulled, count.per_speaker).cmp(&0) {
                Ordering::Less => count.short > 0,
                Ordering::Equal => false,
                Ordering::Greater => count.short <= 0,
            };
            if let (true, Err(lack)) = (matters, endpoint.place.want("place", &endpoint.id)) {
                out.gap(sheet.id, &endpoint.id, lack);
            }
        }
    }
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    room: &MediaRoom,
    count: &Count,
    limit: &Limit<usize>,
) -> Finding {
    let is_bare = |pulled: &&Pulled| pulled.is_speaker && pulled.spares == 0;
    let of = |filter: fn(&&Pulled) -> bool| room.at(is_surround).filter(counts).filter(filter);
    let mut bare: Vec<usize> = of(is_bare).map(|pulled| pulled.endpoint).collect();
    if bare.is_empty() {
        bare.extend(of(|_| true).map(|pulled| pulled.endpoint));
    }
    let plural = |count: usize| if count == 1 { "" } else { "s" };
    let place = match room.room {
        Some(room) => format!("{} has", house.plan.rooms[room].id),
        None => "the plan has".to_owned(),
    };
    let says = format!(
        "{place} {} surround line{} for {} surround speaker{}, advised are {}",
        count.lines,
        plural(count.lines),
        count.speakers,
        plural(count.speakers),
        count.speakers * count.per_speaker
    );
    let first = &house.plan.endpoints[bare[0]];
    let mut finding = sheet.finding(&first.id, says, first.span, "no line in reserve");
    let others = || bare[1..].iter().map(|at| &house.plan.endpoints[*at]);
    finding = finding.with_each_on(others().map(|speaker| &speaker.id));
    for speaker in others().take(2) {
        finding = finding.with_lesser_mark(speaker.span, "nor here");
    }
    if let Some(room) = room.room {
        finding = finding.with_on(&house.plan.rooms[room].id);
    }
    let more = count.short;
    let words = if more == 1 {
        "pull 1 speaker line more as a spare, to a surround speaker or to a box where one may come"
            .to_owned()
    } else {
        format!(
            "pull {more} speaker lines more as spares, to the surround speakers or to boxes where more may come"
        )
    };
    finding
        .with_put_right(words)
        .with_authority(limit.authority.clone())
}
