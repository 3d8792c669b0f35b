//! Figures of circuits and of what they feed.

use super::kinds::is_active_subwoofer;
use super::quantity::{Collector, Quantity};
use super::topology::Node;
use crate::figures::Figure;
use crate::figures::load::{BreakerLoad, ContinuousLoad};
use crate::findings::Lack;
use crate::plan::EndpointKind;

/// More pairs of light and subwoofer on one circuit than this are not reckoned.
const MOST_PAIRS: usize = 1_000;

impl Collector<'_, '_> {
    pub(super) fn circuits(&mut self) {
        let house = self.house;
        for (index, circuit) in house.plan.circuits.iter().enumerate() {
            let node = Node::of_circuit(index);
            let on = || vec![circuit.id.clone()];
            match house
                .demand(node)
                .whole(house)
                .and_then(|()| house.carried(index))
            {
                Err(lack) => self.lacks("breaker-load", on(), lack),
                Ok(carried) => {
                    let loads = carried.iter().map(|carried| carried.load).collect();
                    self.add(on(), false, BreakerLoad::of(loads).ok_or(Lack::Reported));
                    let continuous: Vec<_> = carried
                        .iter()
                        .filter(|carried| carried.continuous)
                        .map(|carried| carried.load)
                        .collect();
                    if !continuous.is_empty() {
                        self.add(
                            on(),
                            false,
                            ContinuousLoad::of(continuous).ok_or(Lack::Reported),
                        );
                    }
                }
            }
        }
        for index in 0..house.plan.circuits.len() {
            self.dips(index);
        }
        for index in 0..house.plan.endpoints.len() {
            self.drop(Node::of_endpoint(index));
        }
    }

    /// How far each light dips on the peak of each subwoofer of its circuit.
    fn dips(&mut self, circuit: usize) {
        let house = self.house;
        let tree = house.tree(circuit);
        let of_kind = |wanted: &dyn Fn(&crate::plan::Endpoint) -> bool| -> Vec<usize> {
            let wanted = |at: &usize| {
                house
                    .endpoint(tree[*at].node)
                    .is_some_and(|endpoint| wanted(endpoint))
            };
            (0..tree.len()).filter(wanted).collect()
        };
        let subwoofers = of_kind(&is_active_subwoofer);
        if subwoofers.is_empty() {
            return;
        }
        let lights = of_kind(&|endpoint| endpoint.kind.value() == Some(&EndpointKind::Light));
        if lights.len().saturating_mul(subwoofers.len()) > MOST_PAIRS {
            let on = vec![house.plan.circuits[circuit].id.clone()];
            let lack = Lack::absent(format!("fewer lights and subwoofers on {}", on[0]));
            self.lacks("lamp-dip", on, lack);
            return;
        }
        for light in lights {
            for subwoofer in &subwoofers {
                let on = vec![
                    house.id(tree[light].node).clone(),
                    house.id(tree[*subwoofer].node).clone(),
                ];
                self.add(on, false, house.lamp_dip(circuit, &tree, *subwoofer, light));
            }
        }
    }

    fn drop(&mut self, node: Node) {
        let house = self.house;
        let on = vec![house.id(node).clone()];
        if !house.is_fed(node) {
            return;
        }
        let lack = match house.worst(node) {
            Err(lack) => Some(lack),
            Ok((worst, _)) => worst.lack.clone().or_else(|| {
                let unit = house.supply_unit_ahead(node, worst.circuit);
                unit.map(|unit| house.passed_on(unit))
            }),
        };
        if let Some(lack) = lack {
            self.lacks("voltage-drop", on, lack);
            return;
        }
        let Some(drop) = house.voltage_drop(node) else {
            return;
        };
        let mut working = drop.figure.working();
        if drop.worst_of > 1 {
            working.push_str(&format!("; the worst of {} feeds", drop.worst_of));
        }
        if house.plan.circuits[drop.circuit].feeder_drop.is_absent() {
            working.push_str("; feeder not counted");
        }
        if drop.copper_taken {
            working.push_str("; copper taken, none stated");
        }
        for (value, unit) in [(drop.figure.volts(), "V"), (drop.figure.value(), "%")] {
            self.quantities.push(Quantity {
                figure: "voltage-drop",
                on: on.clone(),
                value,
                unit,
                working: working.clone(),
                estimated: drop.estimated,
            });
        }
    }
}
