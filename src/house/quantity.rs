//! Every figure of a plan, for whoever wants them all.

use super::line::SIGNAL_CELSIUS;
use super::topology::{House, Node, small};
use crate::figures::Figure;
use crate::figures::load::{BreakerLoad, ContinuousLoad};
use crate::findings::{Gap, Id, Lack};
use crate::plan::{EndpointKind, Service};
use crate::units::{figure3, plain};

/// One computed figure.
#[derive(Debug, Clone, PartialEq)]
pub struct Quantity {
    /// Its name in the table of figures.
    pub figure: &'static str,
    /// What it is a figure of; a channel is the runs from its source on.
    pub on: Vec<Id>,
    /// In `unit`.
    pub value: f64,
    pub unit: &'static str,
    pub working: String,
    /// A length in it is estimated.
    pub estimated: bool,
}

/// More pairs of light and subwoofer on one circuit than this are not reckoned.
const MOST_PAIRS: usize = 1_000;

/// Collects figures, and what keeps others from being computed.
struct Collector<'h, 'p> {
    house: &'h House<'p>,
    quantities: Vec<Quantity>,
    gaps: Vec<Gap>,
}

impl House<'_> {
    /// Every figure that the plan allows, and for the rest what is missing. `compression` is the
    /// ratio that a compressed picture is taken to have, if it is known.
    pub fn quantities(&self, compression: Result<f64, Lack>) -> (Vec<Quantity>, Vec<Gap>) {
        let mut all = Collector {
            house: self,
            quantities: Vec::new(),
            gaps: Vec::new(),
        };
        all.runs();
        all.channels();
        all.circuits();
        all.conduits();
        all.pictures(compression);
        (all.quantities, all.gaps)
    }
}

impl Collector<'_, '_> {
    fn add<F: Figure>(&mut self, on: Vec<Id>, estimated: bool, figure: Result<F, Lack>) {
        match figure {
            Ok(figure) => self.quantities.push(Quantity {
                figure: F::NAME,
                on,
                value: figure.value(),
                unit: F::UNIT,
                working: figure.working(),
                estimated,
            }),
            Err(lack) => self.lacks(F::NAME, on, lack),
        }
    }

    fn lacks(&mut self, figure: &'static str, on: Vec<Id>, lack: Lack) {
        if let Lack::Absent(what) = lack {
            self.gaps.push(Gap {
                rule: figure,
                on,
                lacks: what.into_owned(),
                loud: false,
            });
        }
    }

    fn estimated(&self, runs: &[usize]) -> bool {
        runs.iter().any(|run| {
            self.house
                .length(*run)
                .is_ok_and(|length| length.is_estimated())
        })
    }

    fn runs(&mut self) {
        let house = self.house;
        for (index, run) in house.plan.runs.iter().enumerate() {
            let on = || vec![run.id.clone()];
            let estimated = self.estimated(&[index]);
            self.add(on(), estimated, house.length(index).cloned());
            let celsius = match house.service(index) {
                Some(Service::Speaker | Service::Data) => Ok(SIGNAL_CELSIUS),
                Some(Service::Power) => house.power_celsius(),
                _ => continue,
            };
            let service = house.service(index).unwrap_or(Service::Power);
            let resistance =
                celsius.and_then(|celsius| house.loop_resistance(&[index], service, celsius));
            self.add(on(), estimated, resistance);
            if let Some(figure) = house.equivalent_size(index).transpose() {
                if let Ok(figure) = &figure {
                    self.quantities.push(Quantity {
                        figure: "equivalent-size",
                        on: on(),
                        value: figure.awg(),
                        unit: "AWG",
                        working: format!("{} = {} AWG", figure.working(), figure3(figure.awg())),
                        estimated: false,
                    });
                }
                self.add(on(), false, figure);
            }
        }
    }

    fn channels(&mut self) {
        let house = self.house;
        for line in &house.lines().lines {
            let beyond = (line.service == Service::Speaker).then(|| house.beyond(line));
            for channel in line.channels() {
                let on = || {
                    channel
                        .runs
                        .iter()
                        .map(|run| house.plan.runs[*run].id.clone())
                        .collect::<Vec<_>>()
                };
                let estimated = self.estimated(&channel.runs);
                if channel.runs.len() > 1 {
                    let length = house
                        .follow(line)
                        .and_then(|()| house.channel_length(&channel.runs));
                    let joined = length.is_ok();
                    self.add(on(), estimated, length);
                    if joined && matches!(line.service, Service::Speaker | Service::Data) {
                        let resistance =
                            house.loop_resistance(&channel.runs, line.service, SIGNAL_CELSIUS);
                        self.add(on(), estimated, resistance);
                    }
                }
                if let Some(beyond) = &beyond {
                    let found = house.speaker_loop(&channel, beyond);
                    match found {
                        Ok(found) => {
                            self.add(on(), estimated, found.share());
                            self.add(on(), estimated, found.loss());
                        }
                        Err(lack) => self.lacks("loop-share", on(), lack),
                    }
                }
            }
        }
    }

    fn circuits(&mut self) {
        let house = self.house;
        for (index, circuit) in house.plan.circuits.iter().enumerate() {
            let node = Node::Circuit(small(index));
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
            self.drop(Node::Endpoint(small(index)));
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
        let subwoofers = of_kind(&super::kinds::is_active_subwoofer);
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
            Ok((worst, _)) => worst.lack.clone(),
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

    fn conduits(&mut self) {
        let house = self.house;
        for (index, conduit) in house.conduits() {
            let on = || vec![conduit.id.clone()];
            if !house.runs_in(index).is_empty() {
                let fill = house
                    .fill(index)
                    .and_then(|(fill, _, lack)| lack.map_or(Ok(fill), Err));
                self.add(on(), false, fill);
            }
            match house.bend_total(conduit) {
                Ok(degrees) => {
                    let bends = conduit
                        .bends
                        .value()
                        .into_iter()
                        .flat_map(|bends| bends.values());
                    let terms: Vec<_> = bends.map(|bend| plain(bend.base())).collect();
                    self.quantities.push(Quantity {
                        figure: "bend-total",
                        on: on(),
                        value: degrees,
                        unit: "deg",
                        working: format!(
                            "{} = {} deg",
                            if terms.is_empty() {
                                "no bend".into()
                            } else {
                                terms.join(" + ")
                            },
                            plain(degrees)
                        ),
                        estimated: false,
                    });
                }
                Err(lack) => self.lacks("bend-total", on(), lack),
            }
        }
    }

    fn pictures(&mut self, compression: Result<f64, Lack>) {
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
