//! By which earths a device is joined to the panel.

use std::collections::HashMap;

use super::doubt::Doubt;
use super::kinds::is_consumer;
use super::shield::{Edge, Joint, PANEL, Shields, circuit_knot};
use super::topology::{Node, small};

impl Shields<'_, '_> {
    /// Joins the devices that shields touch to the panel: by their circuits, by bonds, and where
    /// it is not known whether they are earthed, in doubt.
    pub(super) fn add_earths(&mut self) {
        let house = self.house;
        let mut unsure: Vec<(u32, Doubt)> = Vec::new();
        for (index, endpoint) in house.plan.endpoints.iter().enumerate() {
            if !self.touched[self.rack[index] as usize] {
                continue;
            }
            let at = small(index);
            match endpoint.earthed.value() {
                Some(earthed) if !earthed.0 => {}
                Some(_) => {
                    let fed = house.circuits_of(Node::of_endpoint(index));
                    if fed.is_empty() {
                        unsure.push((at, Doubt::Circuit(at)));
                    }
                    self.earth(at, fed, None);
                }
                // What lives off its data line has no earth of the mains.
                None if !endpoint.poe.is_absent() && !house.is_fed(Node::Endpoint(at)) => {}
                None if endpoint.earthed.is_bad() || is_consumer(endpoint) => {
                    unsure.push((at, Doubt::Earthed(at)));
                }
                None => {}
            }
        }
        for (index, doubt) in unsure {
            let knot = self.device_knot(index);
            if !self.circuits.contains_key(&knot) {
                let fed = house.circuits_of(Node::Endpoint(index));
                match fed.is_empty() {
                    true => self.bond(knot, Some(doubt)),
                    false => self.earth(index, fed, Some(doubt)),
                }
            }
        }
        for (knot, doubt) in in_order(std::mem::take(&mut self.bonds)) {
            self.bond(knot, doubt);
        }
        for (knot, doubt) in in_order(std::mem::take(&mut self.behind)) {
            self.bond(knot, Some(doubt));
        }
    }

    /// A device by the earth of the first of its circuits; what more circuits it has are kept.
    fn earth(&mut self, endpoint: u32, fed: &[u32], doubt: Option<Doubt>) {
        let knot = self.device_knot(endpoint);
        let Some(first) = fed.first().copied() else {
            return;
        };
        let known = self.circuits.entry(knot).or_default();
        let new = known.is_empty();
        for circuit in fed {
            if !known.contains(circuit) {
                known.push(*circuit);
            }
        }
        if new {
            let circuit = circuit_knot(first);
            let edge = |ends, doubt| Edge {
                ends,
                joint: Joint::Earth,
                doubt,
            };
            self.edges[0].push(edge([circuit, PANEL], None));
            let rank = if doubt.is_some() { 3 } else { 0 };
            self.edges[rank].push(edge([knot, circuit], doubt));
        }
    }

    /// A knot that is joined to the panel by no circuit, or by one that is not known.
    fn bond(&mut self, knot: u32, doubt: Option<Doubt>) {
        let rank = if doubt.is_some() { 3 } else { 0 };
        self.edges[rank].push(Edge {
            ends: [knot, PANEL],
            joint: Joint::Earth,
            doubt,
        });
    }
}

/// In the order of the knots, so that a review of the same plan says the same.
fn in_order<T>(map: HashMap<u32, T>) -> Vec<(u32, T)> {
    let mut list: Vec<_> = map.into_iter().collect();
    list.sort_unstable_by_key(|(knot, _)| *knot);
    list
}
