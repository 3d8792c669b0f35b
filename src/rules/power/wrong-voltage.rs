//! A device made for another voltage than that of the circuit that feeds it.

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

    /// How far volts are from a circuit's, in percent of the circuit's.
    fn apart(volts: f64, circuit: f64) -> f64 {
        (volts - circuit).abs() / circuit * 100.0
    }

    /// What holds for a device of these volts on a circuit.
    fn held(&self, volts: f64, circuit: f64) -> &Limit<Percent> {
        if circuit < volts {
            &self.tolerance_below
        } else {
            &self.tolerance
        }
    }

    fn fits(&self, volts: f64, circuit: f64) -> bool {
        let held = self.held(volts, circuit).value.number();
        !over(Self::apart(volts, circuit), held)
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
    for (index, endpoint) in house.plan.endpoints.iter().enumerate() {
        let stated = endpoint.volts.value().map(|volts| volts.base());
        if endpoint.volts.is_bad() || stated.is_none() && !takes_mains(house, index) {
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
                Some(volts) if limits.fits(stated.unwrap_or(usual), volts.base()) => fits = true,
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
                Some(converter) => {
                    let id = &house.plan.endpoints[converter].id;
                    let lack = Lack::absent(format!("the voltage that {id} passes on"));
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
    let needs = text(endpoint.volts.value().map(|volts| &**volts));
    let gives = text(circuit.volts.value().map(|volts| &**volts));
    let base = |volts: Option<f64>| volts.unwrap_or(0.0);
    let device = base(endpoint.volts.value().map(|volts| volts.base()));
    let fed = base(circuit.volts.value().map(|volts| volts.base()));
    let apart = Limits::apart(device, fed);
    let (held, is_weak) = (limits.held(device, fed), fed < device);
    let figure = Shown {
        name: "voltage-difference",
        value: apart,
        unit: "%",
        working: format!("({needs} − {gives}) ÷ {gives}, whichever way"),
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
