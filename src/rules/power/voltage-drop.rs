//! Too much voltage lost on the way to something that draws power.
//!
//! Long because the findings of one way, and of ways too many to be written out, are this rule's.

use std::collections::{BTreeSet, HashMap};

use serde::Deserialize;

use crate::figures::Figure;
use crate::figures::conductor::one_way;
use crate::findings::{Finding, Lack, Level, Redline, Report, Shown};
use crate::house::{House, Node, NodeDrop};
use crate::plan::{EndpointKind, Entry, Region, Service, Stock};
use crate::rules::{Limit, Sheet, over};
use crate::units::{Percent, WireSize, figure3, unit};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    /// From the breaker on.
    branch: Limit<Percent>,
    /// From the service on.
    whole: Limit<Percent>,
    /// From the service on, to lights.
    lights: Limit<Percent>,
    /// From the service on, to all else.
    other: Limit<Percent>,
    lights_advised: Limit<Percent>,
    other_advised: Limit<Percent>,
    whole_au: Limit<Percent>,
}

/// Sizes of building wire, the thinnest first.
const AWG: [WireSize; 6] = [
    WireSize::Awg(14),
    WireSize::Awg(12),
    WireSize::Awg(10),
    WireSize::Awg(8),
    WireSize::Awg(6),
    WireSize::Awg(4),
];
const METRIC: [WireSize; 6] = [
    WireSize::Metric(1.5),
    WireSize::Metric(2.5),
    WireSize::Metric(4.0),
    WireSize::Metric(6.0),
    WireSize::Metric(10.0),
    WireSize::Metric(16.0),
];

/// Runs on the ways written out, for each run of the plan.
const MOST_STEPS: usize = 16;

/// A limit as it holds for one node.
#[derive(Clone, Copy)]
struct Held<'l> {
    limit: &'l Limit<Percent>,
    /// It holds from the breaker on, without the feeder.
    from_breaker: bool,
}

impl Limits {
    /// The limits that hold for a node, the gravest first.
    fn held(&self, region: Region, light: bool) -> Vec<Held<'_>> {
        let kind = if light {
            [&self.lights, &self.lights_advised]
        } else {
            [&self.other, &self.other_advised]
        };
        let whole = [&self.whole, &self.whole_au].into_iter().chain(kind);
        let whole = whole.map(|limit| Held {
            limit,
            from_breaker: false,
        });
        let all = whole.chain([Held {
            limit: &self.branch,
            from_breaker: true,
        }]);
        all.filter(|held| held.limit.holds_in(region)).collect()
    }
}

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    let Ok(region) = house.region() else { return };
    // A way of thousands of nodes, each over the limit, is written out for the first of them only.
    let mut steps = house.plan.runs.len() * MOST_STEPS;
    // What a stock lacks is one gap, however many devices hang on it.
    let mut doubtful = BTreeSet::new();
    // What hangs on a supply unit is one gap.
    let mut units = BTreeSet::new();
    for (node, light) in consumers(house) {
        let id = house.id(node);
        let (worst, percent) = match house.worst(node) {
            Ok(found) => found,
            Err(lack) => {
                out.gap(sheet.id, id, lack);
                continue;
            }
        };
        if let Some(unit) = house.supply_unit_ahead(node, worst.circuit) {
            if units.insert(unit) {
                let id = &house.plan.endpoints[unit].id;
                out.gap(sheet.id, id, house.passed_on(unit));
            }
            continue;
        }
        let feeder = house.plan.circuits[worst.circuit]
            .feeder_drop
            .value()
            .map_or(0.0, |share| share.number());
        let held = limits.held(region, light);
        let value = |held: &Held<'_>| {
            if held.from_breaker {
                percent - feeder
            } else {
                percent
            }
        };
        let broken = held
            .iter()
            .find(|held| over(value(held), held.limit.value.number()));
        match (broken, &worst.lack) {
            (Some(broken), _) => {
                if steps == 0 && percent.is_finite() {
                    out.checked();
                    out.find(in_short(house, sheet, node, value(broken), *broken));
                } else if let Some(drop) = house.voltage_drop(node) {
                    steps = steps.saturating_sub(drop.runs.len());
                    out.checked();
                    let at_least = worst.lack.is_some();
                    out.find(finding(house, sheet, node, &drop, *broken, &held, at_least));
                } else {
                    out.gap(
                        sheet.id,
                        id,
                        Lack::absent(format!("a drop that a house could have at {id}")),
                    );
                }
            }
            (None, Some(lack)) => out.gap(sheet.id, id, lack.clone()),
            (None, None) => match worst.doubt.filter(|doubt| {
                let value =
                    |held: &Held<'_>| doubt.percent - if held.from_breaker { feeder } else { 0.0 };
                let mut held = held.iter();
                held.any(|held| over(value(held), held.limit.value.number()))
            }) {
                Some(doubt) => {
                    doubtful.insert(doubt.stock);
                }
                None => out.checked(),
            },
        }
    }
    for stock in doubtful {
        let stock = &house.plan.stock[stock];
        if let Err(lack) = stock.material.want("material", &stock.id) {
            out.gap(sheet.id, &stock.id, lack);
        }
    }
}

/// Nodes to judge: endpoints that draw, or should say what they draw, and that a circuit reaches;
/// whether each is a light. What is fed by standing in something is judged there.
fn consumers(house: &House<'_>) -> Vec<(Node, bool)> {
    let mut nodes: Vec<(Node, bool)> = Vec::new();
    let mut places: HashMap<Node, usize> = HashMap::new();
    for (index, endpoint) in house.plan.endpoints.iter().enumerate() {
        let own = house.own_demand(index);
        let drawn_at = Node::of_endpoint(index);
        if (own.watts() <= 0.0 && own.missing.is_none() && !own.bad) || !house.is_fed(drawn_at) {
            continue;
        }
        let node = house.fed_at(drawn_at);
        // A lamp on a plug is no part of the lighting of the house.
        let light =
            endpoint.kind.value() == Some(&EndpointKind::Light) && endpoint.at_outlet.is_absent();
        match places.get(&node) {
            Some(place) => nodes[*place].1 |= light,
            None => {
                places.insert(node, nodes.len());
                nodes.push((node, light));
            }
        }
    }
    nodes
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    node: Node,
    drop: &NodeDrop,
    broken: Held<'_>,
    held: &[Held<'_>],
    at_least: bool,
) -> Finding {
    let figure = if broken.from_breaker {
        &drop.branch
    } else {
        &drop.figure
    };
    let limit = broken.limit.value;
    let circuit = &house.plan.circuits[drop.circuit];
    let id = house.id(node);
    let says = format!(
        "{id} loses {}{} V, {} % of {}, on the way from {}, {} is {limit}",
        if at_least { "at least " } else { "" },
        figure3(figure.volts()),
        figure3(figure.value()),
        circuit
            .volts
            .value()
            .map_or_else(String::new, |volts| volts.to_string()),
        circuit.id,
        if broken.limit.level == Some(Level::Advice) {
            "advised"
        } else {
            "allowed"
        },
    );
    let worst = drop.lost.iter().copied().max_by(|a, b| a.1.total_cmp(&b.1));
    let (at, label) = match worst.map(|(run, volts)| (&house.plan.runs[run], volts)) {
        Some((run, volts)) => (
            run.length.span().unwrap_or(run.span),
            format!("loses {} V of it", figure3(volts)),
        ),
        None => (
            circuit.feeder_drop.span().unwrap_or(circuit.span),
            "the feeder's drop".to_owned(),
        ),
    };
    let mut finding = sheet.finding(id, says, at, label);
    finding.level = broken.limit.level.unwrap_or(sheet.level);
    for run in drop.runs.iter().take(8) {
        finding = finding.with_on(&house.plan.runs[*run].id);
    }
    finding = finding.with_on(&circuit.id);
    let stock = worst.and_then(|(run, _)| house.want_stock(&house.plan.runs[run]).ok());
    if let Some(cores) = stock.and_then(|stock| stock.cores.stated()) {
        finding = finding.with_mark(cores.span, "this size of conductor");
    }
    if let Some(load) = house.endpoint(node).and_then(|end| end.load.stated()) {
        finding = finding.with_mark(load.span, "the load");
    }
    let shown = Shown {
        name: "voltage-drop",
        value: figure.value(),
        unit: "%",
        working: working(house, drop, figure.working(), broken),
    };
    let least = held.iter().map(|held| {
        held.limit.value.number()
            + if held.from_breaker {
                feeder(house, drop)
            } else {
                0.0
            }
    });
    let target = least.fold(f64::INFINITY, f64::min);
    let (words, redline) = cure(house, node, drop, worst, target);
    finding
        .with_figure(shown, limit.number())
        .with_authority(broken.limit.authority.clone())
        .with_put_right(words)
        .with_redline(redline)
}

/// A finding with its figure, but without the way that leads to it.
fn in_short(
    house: &House<'_>,
    sheet: &Sheet,
    node: Node,
    percent: f64,
    broken: Held<'_>,
) -> Finding {
    let (id, limit) = (house.id(node), broken.limit.value);
    let says = format!(
        "{id} loses {} % on the way, the limit is {limit}",
        figure3(percent)
    );
    let mut finding = sheet.finding(id, says, house.span(node), "too far along its way");
    finding.level = broken.limit.level.unwrap_or(sheet.level);
    let shown = Shown {
        name: "voltage-drop",
        value: percent,
        unit: "%",
        working: "2 × length × resistance × current, summed over a way too long to write out"
            .into(),
    };
    finding
        .with_figure(shown, limit.number())
        .with_authority(broken.limit.authority.clone())
}

fn feeder(house: &House<'_>, drop: &NodeDrop) -> f64 {
    house.plan.circuits[drop.circuit]
        .feeder_drop
        .value()
        .map_or(0.0, |share| share.number())
}

/// The working, and what is left out of it.
fn working(house: &House<'_>, drop: &NodeDrop, sum: String, broken: Held<'_>) -> String {
    let mut text = sum;
    if drop.worst_of > 1 {
        text += &format!("; the worse of {} feeds", drop.worst_of);
    }
    if drop.estimated {
        text += "; with an estimated length";
    }
    if drop.copper_taken {
        text += "; copper taken, none stated";
    }
    let circuit = &house.plan.circuits[drop.circuit];
    if !broken.from_breaker && circuit.feeder_drop.is_absent() {
        text += &format!(
            "; drop ahead of {}'s breaker not stated and not counted",
            circuit.id
        );
    }
    text
}

/// What would bring the drop to `target` percent: a thicker conductor in the run that loses most.
fn cure(
    house: &House<'_>,
    node: Node,
    drop: &NodeDrop,
    worst: Option<(usize, f64)>,
    target: f64,
) -> (String, Option<Redline>) {
    let shorten = || {
        "shorten the way, share the load between more circuits, or pull thicker conductors all along it".to_owned()
    };
    let (Some((index, volts)), Some(nominal)) =
        (worst, house.plan.circuits[drop.circuit].volts.value())
    else {
        return (shorten(), None);
    };
    let run = &house.plan.runs[index];
    let Ok(present) = house
        .power_celsius()
        .and_then(|celsius| house.wire(index, Service::Power, celsius))
    else {
        return (shorten(), None);
    };
    // How much of its present resistance the run may keep.
    let (percent, other) = house
        .worst(node)
        .map_or((0.0, 0.0), |(worst, percent)| (percent, worst.other));
    let keeps = volts - (percent - target) / 100.0 * nominal.base();
    let does = |stock: &Stock, size: WireSize| {
        let wire = house
            .stranding(stock, Service::Power)
            .ok()
            .zip(house.material(stock).ok());
        let wire = wire.and_then(|(stranding, material)| {
            one_way(size, material, stranding, present.celsius())
        });
        wire.is_some_and(|wire| {
            !over(
                volts * wire.ohm_per_metre() / present.ohm_per_metre(),
                keeps,
            )
        })
    };
    let Ok(stock) = house.want_stock(run) else {
        return (shorten(), None);
    };
    let area = |stock: &Entry<Stock>| {
        stock.cores.value().map_or(f64::INFINITY, |cores| {
            cores.size.area().get::<unit::square_millimeter>()
        })
    };
    let thicker = house
        .substitutes(index, Service::Power, |stock| {
            stock
                .cores
                .value()
                .is_some_and(|cores| does(stock, cores.size))
        })
        .min_by(|a, b| area(a).total_cmp(&area(b)));
    if let Some(thicker) = thicker {
        let pull = format!("pull {} as {}", run.id, thicker.id);
        if over(other, target) {
            let left = figure3(other);
            let both = format!(
                "{pull}, and mend the other way to it, too, by which {left} % would be left"
            );
            return (both, None);
        }
        let edit = house.edit(run, &run.stock, "stock", thicker.id.as_str());
        return (format!("{pull}, or shorten it"), house.change(pull, edit));
    }
    let metric = matches!(
        stock.cores.value().map(|cores| cores.size),
        Some(WireSize::Metric(_))
    );
    let sizes = if metric { &METRIC } else { &AWG };
    match sizes.iter().find(|size| does(stock, **size)) {
        Some(size) => (
            format!("pull {} with {size} or thicker, or shorten it", run.id),
            None,
        ),
        None => (shorten(), None),
    }
}
