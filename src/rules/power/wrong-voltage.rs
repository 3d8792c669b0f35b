//! A device made for another voltage than that of the circuit that feeds it.

use std::collections::HashSet;

use serde::Deserialize;

use crate::findings::{Finding, Lack, Level, Report, Shown};
use crate::house::{House, Node, is_consumer};
use crate::plan::{Circuit, Endpoint, EndpointKind as Kind, Entry, Region};
use crate::rules::{Limit, Sheet, over};
use crate::units::{Percent, Volts};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    /// How far a device's voltage may be under its circuit's, as a part of the circuit's.
    tolerance: Limit<Percent>,
    /// How far it may be over its circuit's: what is fed less than it is made for runs weak.
    tolerance_below: Limit<Percent>,
    /// What a device is made for that does not say.
    usual_american: Limit<Volts>,
    usual_metric: Limit<Volts>,
}

impl Limits {
    fn usual(&self, region: Region) -> Option<f64> {
        let usual = [&self.usual_american, &self.usual_metric];
        let usual = usual.into_iter().find(|limit| limit.holds_in(region));
        usual.map(|limit| limit.value.base())
    }

    /// How far a device's voltage is from a circuit's, in percent of the circuit's.
    fn apart(device: MadeFor, circuit: f64) -> f64 {
        (device.nearest(circuit) - circuit).abs() / circuit * 100.0
    }

    /// What holds for a device on a circuit.
    fn held(&self, device: MadeFor, circuit: f64) -> &Limit<Percent> {
        if circuit < device.least {
            &self.tolerance_below
        } else {
            &self.tolerance
        }
    }

    fn fits(&self, device: MadeFor, circuit: f64) -> bool {
        let held = self.held(device, circuit).value.number();
        !over(Self::apart(device, circuit), held)
    }
}

/// What a device is made for, in volts.
#[derive(Debug, Clone, Copy)]
struct MadeFor {
    least: f64,
    greatest: f64,
}

impl MadeFor {
    fn of(endpoint: &Endpoint) -> Option<Self> {
        let (least, greatest) = endpoint.made_for()?;
        Some(Self {
            least: least.base(),
            greatest: greatest.base(),
        })
    }

    fn nearest(self, circuit: f64) -> f64 {
        circuit.min(self.greatest).max(self.least)
    }
}

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    let Ok(region) = house.region() else { return };
    let Some(usual) = limits.usual(region) else {
        return;
    };
    // What a circuit lacks is one gap, however much it feeds.
    let mut voltless = vec![false; house.plan.circuits.len()];
    let mut converters = HashSet::new();
    for (index, endpoint) in house.plan.endpoints.iter().enumerate() {
        let stated = MadeFor::of(endpoint);
        let device = stated.unwrap_or(MadeFor {
            least: usual,
            greatest: usual,
        });
        if endpoint.volts.is_bad() || stated.is_none() && !takes_mains(house, index) {
            continue;
        }
        if stated.is_none() && endpoint.volts.value().is_some() {
            // An empty list.
            let lack = Lack::absent(format!("volts of {}", endpoint.id));
            out.loud_gap(sheet.id, &endpoint.id, lack);
            continue;
        }
        let node = Node::of_endpoint(index);
        if let Err(lack) = house.no_loop(node) {
            out.loud_gap(sheet.id, &endpoint.id, lack);
            continue;
        }
        let circuits = house.circuits_of(node);
        let mut wrong: Option<(usize, f64)> = None;
        let (mut fits, mut unknown) = (false, false);
        for circuit in circuits {
            match house.plan.circuits[*circuit as usize].volts.value() {
                None => {
                    voltless[*circuit as usize] = true;
                    unknown = true;
                }
                Some(volts) if limits.fits(device, volts.base()) => fits = true,
                // The highest is the gravest: it may burn the device.
                Some(volts) if wrong.is_none_or(|(_, worst)| worst < volts.base()) => {
                    wrong = Some((*circuit as usize, volts.base()));
                }
                Some(_) => {}
            }
        }
        let choice = in_rack(house, index);
        match wrong {
            _ if circuits.is_empty() => {}
            _ if fits && choice => out.checked(),
            // One of the circuits may yet be the right one.
            _ if unknown && (choice || wrong.is_none()) => {}
            None => out.checked(),
            Some(_) if stated.is_none() => {
                out.loud_gap(
                    sheet.id,
                    &endpoint.id,
                    Lack::absent(format!("volts of {}", endpoint.id)),
                );
            }
            Some((circuit, _)) => match house.converter_ahead(index) {
                // One gap, however many lamps hang on the unit.
                Some(converter) if !converters.insert(converter) => {}
                Some(converter) => {
                    let id = &house.plan.endpoints[converter].id;
                    out.loud_gap(sheet.id, id, house.passed_on(converter));
                }
                None if may_be_one_leg(house, limits, (region, index), device, circuit) => {
                    let id = &house.plan.circuits[circuit].id;
                    let lack = Lack::absent(format!(
                        "a circuit of its own for each leg of {id}, if that is multiwire"
                    ));
                    out.loud_gap(sheet.id, &endpoint.id, lack);
                }
                None => {
                    out.checked();
                    out.find(finding(house, sheet, limits, index, circuit));
                }
            },
        }
    }
    for (circuit, voltless) in house.plan.circuits.iter().zip(voltless) {
        if voltless && let Err(lack) = circuit.volts.want("volts", &circuit.id) {
            out.loud_gap(sheet.id, &circuit.id, lack);
        }
    }
}

/// Draws power of a voltage of its own. A rack is made for what stands in it.
fn takes_mains(house: &House<'_>, index: usize) -> bool {
    let endpoint = &house.plan.endpoints[index];
    is_consumer(endpoint)
        && endpoint.poe.is_absent()
        && (endpoint.kind.value() != Some(&Kind::Rack) || house.with_members(index).len() == 1)
}

/// Whether a device may hang between one leg of a circuit and its neutral: the circuit starts with a
/// core more than it has poles, and a leg has the device's voltage (half, or 1/√3 of three phases).
fn may_be_one_leg(
    house: &House<'_>,
    limits: &Limits,
    (region, index): (Region, usize),
    device: MadeFor,
    circuit: usize,
) -> bool {
    let entry = &house.plan.circuits[circuit];
    let Some(volts) = entry.volts.value() else {
        return false;
    };
    let leg = |parts: f64| limits.fits(device, volts.base() / parts);
    let lines = entry.poles.value().map_or(2, |poles| poles.0.clamp(2, 3));
    let american = region.is_north_american();
    if !(american && leg(2.0) || (american || lines == 3) && leg(3_f64.sqrt())) {
        return false;
    }
    let run = house.first_run_to(index).map(|run| &house.plan.runs[run]);
    let stock = run.and_then(|run| house.want_stock(run).ok());
    let cores = stock.and_then(|stock| stock.cores.value());
    cores.is_some_and(|cores| cores.count > lines)
}

fn in_rack(house: &House<'_>, index: usize) -> bool {
    house
        .hosts(index)
        .any(|host| house.plan.endpoints[host].kind.value() == Some(&Kind::Rack))
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    limits: &Limits,
    index: usize,
    circuit: usize,
) -> Finding {
    let endpoint: &Entry<Endpoint> = &house.plan.endpoints[index];
    let circuit: &Entry<Circuit> = &house.plan.circuits[circuit];
    let (id, feeds) = (&endpoint.id, &circuit.id);
    let text = |volts: Option<&Volts>| volts.map_or_else(String::new, ToString::to_string);
    let gives = text(circuit.volts.value().map(|volts| &**volts));
    let fed = circuit.volts.value().map_or(0.0, |volts| volts.base());
    let made_for = endpoint.made_for();
    let needs = match made_for {
        Some((least, greatest)) if least != greatest => format!("{least} to {greatest}"),
        one => text(one.as_ref().map(|(volts, _)| volts)),
    };
    let device = MadeFor::of(endpoint).unwrap_or(MadeFor {
        least: fed,
        greatest: fed,
    });
    let apart = Limits::apart(device, fed);
    let (held, is_weak) = (limits.held(device, fed), fed < device.least);
    let near = made_for.map(|(least, greatest)| if is_weak { least } else { greatest });
    let near = text(near.as_ref());
    let figure = Shown {
        name: "voltage-difference",
        value: apart,
        unit: "%",
        working: format!("({near} − {gives}) ÷ {gives}, whichever way"),
    };
    let weak = if is_weak {
        ", too little: it runs weak or not at all"
    } else {
        ""
    };
    let says = format!("{id} is made for {needs} and fed {gives} by {feeds}{weak}");
    let at = endpoint.volts.span().unwrap_or(endpoint.span);
    let mut finding = sheet
        .finding(id, says, at, "made for this")
        .with_on(feeds)
        .with_mark(circuit.volts.span().unwrap_or(circuit.span), "gives this");
    if is_weak {
        finding.level = held.level.unwrap_or(Level::Fault);
    }
    let node = Node::of_endpoint(index);
    let mine = house.circuits_of(node);
    let other = house.plan.circuits.iter().enumerate().find(|(at, other)| {
        !mine.iter().any(|own| *own as usize == *at)
            && other
                .volts
                .value()
                .is_some_and(|volts| limits.fits(device, volts.base()))
    });
    let better = match other {
        Some((_, other)) => {
            finding = finding.with_on(&other.id);
            format!("feed {id} from {}", other.id)
        }
        None => format!("feed {id} from a circuit of {needs}"),
    };
    finding
        .with_figure(figure, held.value.number())
        .with_authority(held.authority.clone())
        .with_put_right(format!("{better}, or use a model made for {gives}"))
}
