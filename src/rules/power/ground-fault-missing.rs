//! An outlet, or a dwelling's lighting circuit, that wants a ground-fault device, or a 30 mA RCD, and has none.
//!
//! Long because sockets by two families of codes, and lights, are one rule's.

use std::collections::{BTreeMap, BTreeSet};

use serde::Deserialize;

use crate::findings::{Finding, Id, Lack, Redline, Report};
use crate::house::{House, InList, Reached, Sinks};
use crate::plan::{Building, Circuit, EndpointKind, Entry, Protection, Region, RoomKind};
use crate::rules::{Limit, Sheet, over};
use crate::tables::edition::Edition;
use crate::tables::protection::{ground_fault_volts, sink_distance, sources};
use crate::units::{Amps, Distance, Volts};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    /// The largest receptacle that the edition of 2017 is about.
    breaker_2017: Limit<Amps>,
    /// The largest socket outlet that wants a 30 mA RCD.
    socket_gb: Limit<Amps>,
    socket_eu: Limit<Amps>,
    socket_au: Limit<Amps>,
    /// The RCD of circuits that feed lights in a dwelling.
    lights_gb: Limit<Amps>,
    lights_eu: Limit<Amps>,
    lights_au: Limit<Amps>,
    /// Lamps of so many volts or less are none of those.
    extra_low: Limit<Volts>,
}

impl Limits {
    fn socket(&self, region: Region) -> Option<&Limit<Amps>> {
        [&self.socket_gb, &self.socket_eu, &self.socket_au]
            .into_iter()
            .find(|limit| limit.holds_in(region))
    }

    fn lights(&self, region: Region) -> Option<&Limit<Amps>> {
        [&self.lights_gb, &self.lights_eu, &self.lights_au]
            .into_iter()
            .find(|limit| limit.holds_in(region))
    }
}

/// The largest receptacle that is made with a ground-fault device in it, from memory: the span of nominal voltages
/// that are written for 120 V, and 20 A.
const OUTLET_VOLTS: f64 = 127.0;
const OUTLET_AMPERES: f64 = 20.0;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    let (Ok(region), Ok(edition), Some(reach)) = (house.region(), house.edition(), sink_distance())
    else {
        return;
    };
    let mut unstated = BTreeSet::new();
    if house.endpoints_of(EndpointKind::Outlet).next().is_some() {
        outlets(
            house,
            sheet,
            limits,
            (region, edition, reach),
            &mut unstated,
            out,
        );
    }
    if let Some(limit) = limits.lights(region) {
        let extra_low = limits.extra_low.value.base();
        lights(house, sheet, limit, extra_low, &unstated, out);
    }
}

/// The circuits that do not state their protection go into `unstated`.
fn outlets(
    house: &House<'_>,
    sheet: &Sheet,
    limits: &Limits,
    (region, edition, reach): (Region, Edition, Distance),
    unstated: &mut BTreeSet<usize>,
    out: &mut Report,
) {
    let device = if region.is_north_american() {
        Protection::GroundFault
    } else {
        Protection::Rcd30
    };
    let mut us = American {
        house,
        limits,
        edition,
        reach,
        sinks: house.sinks(),
        rooms: BTreeMap::new(),
        near_sinks: false,
    };
    let mut told = BTreeSet::new();
    let mut unheld = false;
    for (index, circuit) in house.plan.circuits.iter().enumerate() {
        let tree = house.tree(index);
        let outlets = bare_outlets(house, &tree, device);
        let own = house.circuit_has(index, device);
        for _ in 0..outlets.guarded {
            out.checked();
        }
        if outlets.bare.is_empty() || circuit.protection.is_bad() {
            continue;
        }
        if own == Ok(true) {
            outlets.bare.iter().for_each(|_| out.checked());
            continue;
        }
        if region == Region::Ca {
            // The region's, so once, however many circuits there are.
            if !std::mem::replace(&mut unheld, true) {
                let lack = Lack::absent(format!("a limit for {region}"));
                out.loud_gap(sheet.id, &Id::new("plan"), lack);
            }
            continue;
        }
        let concerned = match region {
            Region::Us => us.concerned(circuit),
            _ => is_small(limits, region, circuit).map(|()| true),
        };
        match concerned {
            Ok(true) => {}
            Ok(false) => continue,
            Err(lack) => {
                out.loud_gap(sheet.id, &circuit.id, lack);
                continue;
            }
        }
        // What the circuit lacks is one gap, however many outlets want it.
        let mut lack = None;
        for outlet in outlets.bare {
            let wanted = match region {
                Region::Us => us.wants(outlet),
                _ => Ok(Some(Why::Socket)),
            };
            let id = &house.plan.endpoints[outlet].id;
            match wanted {
                Ok(None) => out.checked(),
                // One gap, however many circuits feed the outlet.
                Err(lack) if told.insert(outlet) => out.loud_gap(sheet.id, id, lack),
                Err(_) => {}
                Ok(Some(why)) => match (&own, house.plan.building.is_absent()) {
                    (Err(missing), _) => lack = lack.or_else(|| Some(missing.clone())),
                    (Ok(_), true) if region == Region::Us => {
                        lack = lack.or_else(|| Some(Lack::absent("building of the plan")));
                    }
                    (Ok(_), _) => {
                        out.checked();
                        let authority = match limits.socket(region) {
                            Some(limit) => limit.authority.clone(),
                            None => format!(
                                "{}; judged by {}",
                                sources()[1],
                                house.edition_words(edition)
                            ),
                        };
                        let finding = finding(house, sheet, index, outlet, &why, device);
                        out.find(finding.with_authority(authority));
                    }
                },
            }
        }
        if let Some(lack) = lack {
            unstated.insert(index);
            out.loud_gap(sheet.id, &circuit.id, lack);
        }
    }
    us.lacks(sheet, out);
}

/// Circuits that feed lights in a dwelling. Those in `unstated` have their gap already.
fn lights(
    house: &House<'_>,
    sheet: &Sheet,
    limit: &Limit<Amps>,
    extra_low: f64,
    unstated: &BTreeSet<usize>,
    out: &mut Report,
) {
    let building = &house.plan.building;
    if building.is_bad()
        || building.value() == Some(&Building::Commercial)
        || house.endpoints_of(EndpointKind::Light).next().is_none()
    {
        return;
    }
    let mut asked_building = false;
    for (index, circuit) in house.plan.circuits.iter().enumerate() {
        let Some(bare) = house.bare_lights(index, Protection::Rcd30, extra_low) else {
            continue;
        };
        if circuit.protection.is_bad() {
            continue;
        }
        match house.circuit_has(index, Protection::Rcd30) {
            Ok(false) if !bare.is_empty() => {}
            Err(_) if !bare.is_empty() && unstated.contains(&index) => continue,
            Err(lack) if !bare.is_empty() => {
                out.loud_gap(sheet.id, &circuit.id, lack);
                continue;
            }
            _ => {
                out.checked();
                continue;
            }
        }
        if building.is_absent() {
            // The plan's, so once.
            if !asked_building {
                out.loud_gap(sheet.id, &circuit.id, Lack::absent("building of the plan"));
            }
            asked_building = true;
            continue;
        }
        out.checked();
        out.find(dark(house, sheet, circuit, &bare, limit));
    }
}

fn dark(
    house: &House<'_>,
    sheet: &Sheet,
    circuit: &Entry<Circuit>,
    bare: &[usize],
    limit: &Limit<Amps>,
) -> Finding {
    let (on, light) = (&circuit.id, &house.plan.endpoints[bare[0]]);
    let more = match bare.len() - 1 {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    let says = format!(
        "{on} feeds the light {}{more} in a dwelling without a {} RCD",
        light.id, limit.value
    );
    let at = circuit.protection.span().unwrap_or(circuit.span);
    let title = format!("put {on} behind a {} RCD", limit.value);
    sheet
        .finding(on, says, at, format!("no `{}`", Protection::Rcd30.word()))
        .with_on(&light.id)
        .with_mark(light.span, "fed by it")
        .with_authority(limit.authority.clone())
        .with_redline(house.fit_device(circuit, &circuit.protection, Protection::Rcd30, title))
}

/// A circuit's outlets: how many a device in themselves or ahead of them guards, and the others.
struct Outlets {
    guarded: usize,
    bare: Vec<usize>,
}

fn bare_outlets(house: &House<'_>, tree: &[Reached], device: Protection) -> Outlets {
    let guarded = house.guarded(tree, device);
    let mut outlets = Outlets {
        guarded: 0,
        bare: Vec::new(),
    };
    for (reached, guarded) in tree.iter().zip(guarded) {
        let Some(index) = reached.node.endpoint() else {
            continue;
        };
        let endpoint = &house.plan.endpoints[index];
        if endpoint.kind.value() != Some(&EndpointKind::Outlet) || endpoint.protection.is_bad() {
            continue;
        }
        if guarded {
            outlets.guarded += 1;
        } else {
            outlets.bare.push(index);
        }
    }
    outlets
}

/// Whether a circuit's sockets are of a size that wants an RCD. A small breaker has small sockets.
fn is_small(limits: &Limits, region: Region, circuit: &Entry<Circuit>) -> Result<(), Lack> {
    let limit = limits
        .socket(region)
        .ok_or_else(|| Lack::absent(format!("a limit for {region}")))?;
    let breaker = circuit.breaker.want("breaker", &circuit.id)?;
    if over(breaker.base(), limit.value.base()) {
        let id = &circuit.id;
        return Err(Lack::absent(format!(
            "the rated current of the sockets on {id}"
        )));
    }
    Ok(())
}

/// Why an outlet wants a device.
enum Why {
    /// The room's kind is listed.
    Room(usize),
    /// This sink is so near.
    Sink(usize, Distance, Distance),
    /// It is a socket outlet.
    Socket,
}

/// NEC 210.8(A).
struct American<'a, 'p> {
    house: &'a House<'p>,
    limits: &'a Limits,
    edition: Edition,
    reach: Distance,
    sinks: Sinks,
    /// What rooms lack.
    rooms: BTreeMap<usize, Lack>,
    /// An outlet was judged that no room is known to list, so that a sink might decide.
    near_sinks: bool,
}

impl American<'_, '_> {
    fn concerned(&self, circuit: &Entry<Circuit>) -> Result<bool, Lack> {
        match self.house.plan.building.or(Building::OneFamily)? {
            Building::Commercial => {
                return Err(Lack::absent(
                    "the places of NEC 210.8(B) for a commercial building",
                ));
            }
            Building::OneFamily | Building::TwoFamily | Building::MultiFamily => {}
        }
        let most = ground_fault_volts(self.edition).ok_or(Lack::Reported)?;
        let volts = circuit.volts.want("volts", &circuit.id)?;
        if over(volts.base(), most.base()) {
            return Ok(false);
        }
        if self.edition > Edition::E2017 {
            return Ok(true);
        }
        let breaker = circuit.breaker.want("breaker", &circuit.id)?;
        Ok(!over(breaker.base(), self.limits.breaker_2017.value.base()))
    }

    /// Why an outlet wants a device, if it does.
    fn wants(&mut self, outlet: usize) -> Result<Option<Why>, Lack> {
        let house = self.house;
        let room = house.want_room(outlet)?;
        let in_list = house.wants_ground_fault(&house.plan.rooms[room], self.edition);
        if in_list == InList::Yes {
            return Ok(Some(Why::Room(room)));
        }
        self.near_sinks = true;
        let nearest = house.nearest_sink(&self.sinks, room, outlet, self.reach);
        if let Ok(Some((sink, away))) = nearest
            && !over(away.base(), self.reach.base())
        {
            return Ok(Some(Why::Sink(sink, away, self.reach)));
        }
        match in_list {
            InList::Lacks(lack) => {
                // A gap of the room, once.
                self.rooms.entry(room).or_insert(lack);
                Err(Lack::Reported)
            }
            InList::ByUse => {
                let id = &house.plan.endpoints[outlet].id;
                Err(Lack::absent(format!(
                    "whether {id} serves the kitchen counter"
                )))
            }
            InList::Yes | InList::No => nearest.map(|_| None),
        }
    }

    fn lacks(self, sheet: &Sheet, out: &mut Report) {
        for (room, lack) in self.rooms {
            out.loud_gap(sheet.id, &self.house.plan.rooms[room].id, lack);
        }
        for sink in self.sinks.nowhere {
            if let (true, Err(lack)) = (self.near_sinks, self.house.want_room(sink)) {
                out.loud_gap(sheet.id, &self.house.plan.endpoints[sink].id, lack);
            }
        }
    }
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    circuit: usize,
    outlet: usize,
    why: &Why,
    device: Protection,
) -> Finding {
    let circuit = &house.plan.circuits[circuit];
    let outlet = &house.plan.endpoints[outlet];
    let (id, on) = (&outlet.id, &circuit.id);
    let says = match why {
        Why::Room(room) => {
            let room = &house.plan.rooms[*room];
            let kind = match room.kind.value() {
                Some(RoomKind::Outdoors) => "outdoors".to_owned(),
                Some(kind) => format!("in a {kind}"),
                None => "there".to_owned(),
            };
            format!(
                "{id} is a receptacle {kind} ({}) without a ground-fault device in it or on {on}",
                room.id
            )
        }
        Why::Sink(sink, away, reach) => {
            let sink = &house.plan.endpoints[*sink].id;
            let away = away.to_hundredths();
            format!(
                "{id} is {away} from the sink {sink} and has no ground-fault device, asked for within {reach}"
            )
        }
        Why::Socket => format!("{id} is a socket outlet on {on} without a 30 mA RCD"),
    };
    let mut finding = sheet.finding(id, says, outlet.span, "no device here or ahead");
    finding = finding.with_on(on);
    let at = circuit.protection.span().unwrap_or(circuit.span);
    finding = finding.with_mark(at, format!("no `{}`", device.word()));
    match why {
        Why::Room(room) => {
            let room = &house.plan.rooms[*room];
            let at = room.kind.span().unwrap_or(room.span);
            finding = finding.with_on(&room.id).with_mark(at, "the kind of room");
        }
        Why::Sink(sink, ..) => {
            let sink = &house.plan.endpoints[*sink];
            finding = finding.with_on(&sink.id).with_mark(sink.span, "this near");
        }
        Why::Socket => {}
    }
    // In us a device in the outlet is the usual way, but none is made for more than 125 V or 20 A (from memory);
    // elsewhere one at the origin of the circuit is.
    let in_outlet = circuit
        .volts
        .value()
        .is_none_or(|volts| !over(volts.base(), OUTLET_VOLTS))
        && circuit
            .breaker
            .value()
            .is_none_or(|breaker| !over(breaker.base(), OUTLET_AMPERES));
    let redline: Option<Redline> = if device == Protection::GroundFault && !in_outlet {
        let title = format!("fit {on} with a ground-fault breaker");
        house.fit_device(circuit, &circuit.protection, device, title)
    } else if device == Protection::GroundFault {
        let title = format!("give {id} a ground-fault device");
        house.fit_device(outlet, &outlet.protection, device, title)
    } else {
        let title = format!("put {on} behind a 30 mA RCD");
        house.fit_device(circuit, &circuit.protection, device, title)
    };
    finding.with_redline(redline)
}
