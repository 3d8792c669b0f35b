//! A circuit into a room of a dwelling without arc-fault protection.

use std::collections::BTreeMap;

use serde::Deserialize;

use crate::findings::{Finding, Id, Lack, Report};
use crate::house::{FeedKind, House, InList, Reached};
use crate::plan::{Building, Circuit, EndpointKind, Entry, Protection, Region, RoomKind};
use crate::rules::{Limit, Sheet, over};
use crate::tables::edition::Edition;
use crate::tables::protection::sources;
use crate::units::{Amps, Volts};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    /// What counts as a circuit of 120 V.
    from_volts: Limit<Volts>,
    to_volts: Limit<Volts>,
    /// The largest breaker that the list of rooms is about.
    breaker: Limit<Amps>,
}

const DEVICE: Protection = Protection::ArcFault;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    let (Ok(region), Ok(edition)) = (house.region(), house.edition()) else {
        return;
    };
    let building = house.plan.building.value();
    if building == Some(&Building::Commercial) || house.plan.building.is_bad() {
        return;
    }
    // What a room lacks is one gap of the room, whatever many circuits reach it.
    let mut rooms: BTreeMap<usize, Lack> = BTreeMap::new();
    let mut unheld = false;
    for (index, circuit) in house.plan.circuits.iter().enumerate() {
        if circuit.protection.is_bad() || !house.feeds_any(index) {
            continue;
        }
        let device = house.circuit_has(index, DEVICE);
        if device == Ok(true) {
            out.checked();
            continue;
        }
        if region != Region::Us {
            // The region's, so once, however many circuits there are.
            let lack = Lack::absent(format!("a limit for {region}"));
            if !std::mem::replace(&mut unheld, true) {
                out.loud_gap(sheet.id, &Id::new("plan"), lack);
            }
            continue;
        }
        match is_concerned(limits, circuit) {
            Ok(true) => {}
            Ok(false) => continue,
            Err(lack) => {
                out.loud_gap(sheet.id, &circuit.id, lack);
                continue;
            }
        }
        let tree = house.tree(index);
        let reach = Reach::of(house, edition, &tree);
        let Some((at, room)) = reach.listed else {
            match (reach.lack, reach.rooms.is_empty()) {
                (None, true) => out.checked(),
                (Some(lack), _) => out.loud_gap(sheet.id, &circuit.id, lack),
                (None, false) => {}
            }
            for (room, lack) in reach.rooms {
                rooms.entry(room).or_insert(lack);
            }
            continue;
        };
        let verdict = device.and_then(|_| {
            if building.is_none() {
                return Err(Lack::absent("building of the plan"));
            }
            match reach.behind_outlet {
                Some(outlet) => Err(Lack::absent(format!(
                    "what guards the way from {} to the arc-fault device in {}",
                    circuit.id,
                    house.id(tree[outlet].node)
                ))),
                None => Ok(()),
            }
        });
        match verdict {
            Err(lack) => out.loud_gap(sheet.id, &circuit.id, lack),
            Ok(()) => {
                out.checked();
                out.find(finding(house, sheet, edition, index, &tree, at, room));
            }
        }
    }
    for (room, lack) in rooms {
        out.loud_gap(sheet.id, &house.plan.rooms[room].id, lack);
    }
}

/// Whether a circuit is one of those that the list of rooms is about.
fn is_concerned(limits: &Limits, circuit: &Entry<Circuit>) -> Result<bool, Lack> {
    let volts = circuit.volts.want("volts", &circuit.id)?.base();
    if volts < limits.from_volts.value.base() || over(volts, limits.to_volts.value.base()) {
        return Ok(false);
    }
    let breaker = circuit.breaker.want("breaker", &circuit.id)?.base();
    Ok(!over(breaker, limits.breaker.value.base()))
}

/// Where a circuit's outlets, switches and fixed consumers stand.
#[derive(Default)]
struct Reach {
    /// The first place in the tree that stands in a listed room, and the room; by preference one
    /// that no arc-fault device in an outlet guards.
    listed: Option<(usize, usize)>,
    /// The place of the outlet whose arc-fault device guards all those in listed rooms.
    behind_outlet: Option<usize>,
    lack: Option<Lack>,
    /// Rooms of which it is not known whether they are listed.
    rooms: Vec<(usize, Lack)>,
}

impl Reach {
    fn of(house: &House<'_>, edition: Edition, tree: &[Reached]) -> Self {
        let mut reach = Self::default();
        let guarded = house.guarded(tree, DEVICE);
        for (at, reached) in tree.iter().enumerate() {
            // What hangs on a plug, or stands in a rack, is no outlet of the circuit.
            let (Some(index), FeedKind::Run(_)) = (reached.node.endpoint(), reached.by) else {
                continue;
            };
            let endpoint = &house.plan.endpoints[index];
            let joint = match endpoint.kind.want("kind", &endpoint.id) {
                Ok(kind) => matches!(**kind, EndpointKind::Box | EndpointKind::BreakerPanel),
                Err(lack) => {
                    reach.lack = reach.lack.or(Some(lack));
                    continue;
                }
            };
            if joint {
                continue;
            }
            let room = match house.want_room(index) {
                Ok(room) => room,
                Err(lack) => {
                    reach.lack = reach.lack.or(Some(lack));
                    continue;
                }
            };
            match house.wants_arc_fault(&house.plan.rooms[room], edition) {
                InList::Yes if guarded[at] => {
                    if reach.listed.is_none() {
                        reach.listed = Some((at, room));
                        reach.behind_outlet = device_ahead(house, tree, at);
                    }
                }
                InList::Yes => {
                    reach.listed = Some((at, room));
                    reach.behind_outlet = None;
                    return reach;
                }
                InList::Lacks(lack) => reach.rooms.push((room, lack)),
                InList::No | InList::ByUse => {}
            }
        }
        reach
    }
}

/// The place of the device that guards a place of the tree.
fn device_ahead(house: &House<'_>, tree: &[Reached], at: usize) -> Option<usize> {
    let has = |at: &usize| {
        let endpoint = house.endpoint(tree[*at].node);
        let devices = endpoint.and_then(|endpoint| endpoint.protection.value());
        devices.is_some_and(|list| list.values().any(|device| *device == DEVICE))
    };
    std::iter::successors(Some(at), |at| tree[*at].before).find(has)
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    edition: Edition,
    index: usize,
    tree: &[Reached],
    at: usize,
    room: usize,
) -> Finding {
    let circuit = &house.plan.circuits[index];
    let room = &house.plan.rooms[room];
    let node = tree[at].node;
    let what = match room.kind.value() {
        Some(RoomKind::Kitchen) => "a kitchen",
        Some(RoomKind::Laundry) => "a laundry",
        Some(RoomKind::Basement) => "a finished basement",
        _ => "a room to live in",
    };
    let says = format!(
        "{} feeds {} in {}, {what}, without an arc-fault device",
        circuit.id,
        house.id(node),
        room.id
    );
    let span = circuit.protection.span().unwrap_or(circuit.span);
    let redline = house.fit_device(
        circuit,
        &circuit.protection,
        DEVICE,
        format!("fit {} with an arc-fault breaker", circuit.id),
    );
    sheet
        .finding(&circuit.id, says, span, "no `arc-fault`")
        .with_on(house.id(node))
        .with_on(&room.id)
        .with_mark(house.span(node), "fed by it")
        .with_mark(room.kind.span().unwrap_or(room.span), "the kind of room")
        .with_authority(format!(
            "{}; judged by {}",
            sources()[0],
            house.edition_words(edition)
        ))
        .with_redline(redline)
}
