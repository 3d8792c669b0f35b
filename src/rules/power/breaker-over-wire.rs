//! A breaker larger than the smallest conductor below it may carry.

use std::collections::{BTreeSet, HashMap, HashSet};

use serde::Deserialize;

use crate::findings::{Finding, Id, Lack, Redline, Report, Shown};
use crate::house::{Allowed, Basis, CircuitNeeds, House, RingTerms, Wiring, made_breaker, unsure};
use crate::plan::{EndpointKind, Entry, Region, Service, Stock};
use crate::rules::{Limit, Sheet, over};
use crate::units::{Amps, Percent, WireSize, plain, unit};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    /// The greatest breaker of a ring final circuit.
    ring_breaker: Limit<Amps>,
    /// The least conductor of a ring.
    ring_conductor: Limit<WireSize>,
    /// What a conductor of a ring must carry as it is installed.
    ring_carries: Limit<Amps>,
    /// What a continuous load needs of a smaller breaker that the rule offers.
    continuous_factor: Limit<Percent>,
}

/// Undersized runs up to which a finding lists them and an edit changes them all.
const MOST_RUNS: usize = 16;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    let Ok(region) = house.region() else { return };
    let ring_terms = limits.ring_breaker.holds_in(region).then(|| RingTerms {
        breaker: limits.ring_breaker.value.base(),
        least_conductor: limits.ring_conductor.value,
        carries: limits.ring_carries.value.base(),
    });
    // What a stock lacks is one gap, however many runs are pulled in it.
    let mut doubtful = HashSet::new();
    // What a run lacks is one gap, however many circuits feed it.
    let mut told = HashSet::new();
    let mut lacks = |run: usize, lack: Lack, out: &mut Report| {
        if told.insert((run, lack.clone())) {
            out.loud_gap(sheet.id, &house.plan.runs[run].id, lack);
        }
    };
    let mut unheld = false;
    for (index, circuit) in house.plan.circuits.iter().enumerate() {
        let runs = house.runs_below(index);
        if runs.is_empty() {
            continue;
        }
        let breaker = match circuit.breaker.want("breaker", &circuit.id) {
            Ok(breaker) => breaker.base(),
            Err(lack) => {
                out.loud_gap(sheet.id, &circuit.id, lack);
                continue;
            }
        };
        if matches!(region, Region::Eu | Region::Au) {
            // The region's, so once, however many circuits there are.
            let lack = Lack::absent(format!("a table of conductor currents for {region}"));
            if !std::mem::replace(&mut unheld, true) {
                out.loud_gap(sheet.id, &Id::new("plan"), lack);
            }
            continue;
        }
        let wiring = Wiring::of(house, ring_terms, region, index);
        let mut under: Vec<(usize, Allowed)> = Vec::new();
        let mut judged = false;
        let mut known = HashMap::new();
        let converted = house.behind_supply_units();
        let mut units: BTreeSet<usize> = BTreeSet::new();
        for run in &runs {
            if let Some(unit) = converted.get(run) {
                // Behind a supply unit it is the unit that bounds the current.
                units.insert(*unit);
                continue;
            }
            let entry = &house.plan.runs[*run];
            let key = (
                entry.stock.value().map(|stock| stock.at()),
                entry.method.value().copied(),
                wiring.place(*run),
            );
            let allowed = known
                .entry(key)
                .or_insert_with(|| wiring.allowed(*run))
                .clone();
            match allowed {
                Err(_) if entry.stock.value().is_none() => {
                    let lack = house.want_stock(entry).err();
                    lacks(*run, lack.unwrap_or(Lack::Reported), out);
                }
                Err(lack) => lacks(*run, lack, out),
                Ok(allowed) if !over(breaker, allowed.least) => judged = true,
                Ok(allowed) if over(breaker, allowed.most) => under.push((*run, allowed)),
                Ok(allowed) => {
                    let lack = unsure(house, entry, allowed, breaker);
                    match (allowed.copper, entry.stock.value()) {
                        (Some(copper), Some(stock)) if !over(breaker, copper) => {
                            if doubtful.insert(stock.at()) {
                                out.loud_gap(sheet.id, &house.plan.stock[stock.at()].id, lack);
                            }
                        }
                        _ => lacks(*run, lack, out),
                    }
                }
            }
        }
        for unit in units {
            let id = &house.plan.endpoints[unit].id;
            out.loud_gap(
                sheet.id,
                id,
                Lack::absent(format!("the current that {id} lets through")),
            );
        }
        let least = under
            .iter()
            .min_by(|a, b| a.1.most.total_cmp(&b.1.most))
            .copied();
        match (least, least.and_then(|_| motor(house, index))) {
            (None, _) if judged => out.checked(),
            (None, _) => {}
            (Some(_), Some(motor)) => {
                let lack = Lack::absent(format!(
                    "the overload protection of {} (NEC 240.4(G), 430.52)",
                    motor
                ));
                out.loud_gap(sheet.id, &circuit.id, lack);
            }
            (Some(least), None) => {
                out.checked();
                out.find(finding(house, sheet, limits, &wiring, least, &under));
            }
        }
    }
}

fn motor<'p>(house: &House<'p>, circuit: usize) -> Option<&'p Id> {
    let tree = house.tree(circuit);
    let mut ends = tree
        .iter()
        .filter_map(|reached| house.endpoint(reached.node));
    ends.find(|end| end.kind.value() == Some(&EndpointKind::Motor))
        .map(|end| &end.id)
}

/// How the allowed breaker came about, and on what authority.
fn grounds(region: Region, limits: &Limits, what: &str, allowed: Allowed) -> (String, String) {
    let most = plain(allowed.most);
    let from_memory = |memory: bool| if memory { ", from memory" } else { "" };
    match allowed.basis {
        Basis::Small { .. } if region == Region::Ca => (
            format!("{what}: {most} A"),
            "CEC 14-104(2), from memory".into(),
        ),
        Basis::Small { memory } => (
            format!("{what}: {most} A"),
            format!("NEC 240.4(D){}", from_memory(memory)),
        ),
        Basis::BelowTable => (
            format!("{what}: thinner than the table's smallest, at the very most {most} A"),
            match region {
                Region::Gb => "BS 7671 433.1.1 and table 4D5, from memory".into(),
                _ => "NEC 240.4(D)(1), (2), from memory".into(),
            },
        ),
        Basis::Column {
            degrees,
            amperes,
            memory,
            assumed,
        } => {
            let why = if assumed {
                ", the most it can be with no listing stated"
            } else {
                ""
            };
            (
                format!(
                    "{what}: {} A in the {degrees} °C column{why}; next standard breaker {most} A",
                    plain(amperes)
                ),
                format!(
                    "NEC 240.4(B), 310.16, {}{}",
                    if degrees == 60 { "334.80" } else { "110.14(C)" },
                    from_memory(memory)
                ),
            )
        }
        Basis::Method {
            method,
            amperes,
            assumed,
        } => {
            let why = if assumed {
                ", the most generous method; none is stated"
            } else {
                ""
            };
            (
                format!(
                    "{what}: {} A by method {}{why}",
                    plain(amperes),
                    method.name()
                ),
                "BS 7671 433.1.1 and table 4D5, from memory".into(),
            )
        }
        Basis::Ring | Basis::Spur => (
            format!("{what} as a ring: {most} A"),
            limits.ring_breaker.authority.clone(),
        ),
    }
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    limits: &Limits,
    wiring: &Wiring<'_, '_>,
    least: (usize, Allowed),
    under: &[(usize, Allowed)],
) -> Finding {
    let circuit = &house.plan.circuits[wiring.circuit];
    let (run, allowed) = (&house.plan.runs[least.0], least.1);
    let stock = run.stock.value().map(|stock| &house.plan.stock[stock.at()]);
    let size = stock.and_then(|stock| stock.cores.stated());
    let material = stock
        .and_then(|stock| stock.material.value())
        .map_or("copper", |material| material.word());
    let what = size.map_or_else(
        || "the conductor".to_owned(),
        |cores| format!("{} {material}", cores.size),
    );
    let breaker = circuit.breaker.stated();
    let written = breaker.map_or_else(String::new, |breaker| breaker.value.to_string());
    let amperes = breaker.map_or(0.0, |breaker| breaker.base());
    let says = format!(
        "{} has a {written} breaker over {what} in {}, allowed is {} A",
        circuit.id,
        run.id,
        plain(allowed.most),
    );
    let at = breaker.map_or(circuit.span, |breaker| breaker.span);
    let mut finding = sheet
        .finding(&circuit.id, says, at, "this breaker")
        .with_on(&run.id);
    for (other, _) in under.iter().take(MOST_RUNS) {
        finding = finding.with_on(&house.plan.runs[*other].id);
    }
    finding = finding.with_mark(run.stock.span().unwrap_or(run.span), "feeds this run");
    if let Some(size) = size {
        finding = finding.with_mark(size.span, "this size of conductor");
    }
    let (mut working, authority) = grounds(wiring.region, limits, &what, allowed);
    if stock.is_some_and(|stock| house.may_be_aluminium(stock)) {
        working += "; copper taken, none stated, and aluminium allows no more";
    }
    let figure = Shown {
        name: "breaker",
        value: amperes,
        unit: "A",
        working,
    };
    let thicker = thicker(house, wiring, amperes, under);
    // A smaller breaker does not make a branch circuit of a conductor that is too thin for one.
    let too_thin = matches!(allowed.basis, Basis::BelowTable);
    let mut put_right = match (&thicker, stock) {
        (Some(thicker), _) => thicker.title.clone(),
        (None, Some(stock)) => thicker_size(wiring, least.0, stock, amperes)
            .unwrap_or_else(|| "pull a thicker conductor".into()),
        (None, None) => "pull a thicker conductor".into(),
    };
    let factor = &limits.continuous_factor;
    let factor = if factor.holds_in(wiring.region) {
        factor.value.base()
    } else {
        1.0
    };
    let load = house.circuit_needs(wiring.circuit, factor);
    let fits = made_breaker(wiring.region, allowed.most).map(|size| (size, load.fits(size)));
    match fits {
        _ if too_thin => put_right += ": no breaker of a branch circuit suits this conductor",
        Some((size, Some(true))) => {
            put_right += &format!(", or fit a breaker of {} A or less", plain(size));
        }
        Some((size, None)) => {
            let size = plain(size);
            put_right += &format!(", or fit a breaker of {size} A or less if the load allows it");
        }
        // The load is known to be more than a breaker for this conductor carries.
        Some((_, Some(false))) | None => {}
    }
    let redline = match thicker {
        None if too_thin => None,
        thicker => thicker.or_else(|| smaller(house, &load, wiring, amperes)),
    };
    finding
        .with_figure(figure, allowed.most)
        .with_authority(authority)
        .with_put_right(put_right)
        .with_redline(redline)
}

/// The thinnest conductor of the same metal that the breaker suits, in words.
fn thicker_size(
    wiring: &Wiring<'_, '_>,
    run: usize,
    stock: &Entry<Stock>,
    breaker: f64,
) -> Option<String> {
    let material = stock.material.value().map_or("copper", |it| it.word());
    let (size, basis) = wiring.next_size(run, stock, breaker)?;
    let by = match basis {
        Basis::Method {
            method,
            assumed: true,
            ..
        } => format!(" (by method {}, the most generous)", method.name()),
        _ => String::new(),
    };
    Some(format!("pull {size} {material} or thicker{by}"))
}

/// Every undersized run in the thinnest stock of the plan that the breaker suits.
fn thicker(
    house: &House<'_>,
    wiring: &Wiring<'_, '_>,
    breaker: f64,
    under: &[(usize, Allowed)],
) -> Option<Redline> {
    if under.len() > MOST_RUNS {
        return None;
    }
    let mut pulls = Vec::new();
    for (index, _) in under {
        let run = &house.plan.runs[*index];
        let place = wiring.place(*index);
        let suits = |stock: &Entry<Stock>| {
            wiring
                .allows(run, stock, place)
                .is_ok_and(|allowed| !over(breaker, allowed.least))
        };
        let area = |stock: &Entry<Stock>| {
            let cores = stock.cores.value();
            cores.map_or(f64::INFINITY, |cores| {
                cores.size.area().get::<unit::square_millimeter>()
            })
        };
        let stock = house
            .substitutes(*index, Service::Power, suits)
            .min_by(|a, b| area(a).total_cmp(&area(b)))?;
        pulls.push((*index, stock));
    }
    house.pull_as(&pulls)
}

/// The largest standard breaker that every conductor allows, if the load is known and leaves room.
/// Never for a rack, whose circuits want to be large.
fn smaller(
    house: &House<'_>,
    load: &CircuitNeeds,
    wiring: &Wiring<'_, '_>,
    breaker: f64,
) -> Option<Redline> {
    let circuit = &house.plan.circuits[wiring.circuit];
    let tree = house.tree(wiring.circuit);
    let mut ends = tree
        .iter()
        .filter_map(|reached| house.endpoint(reached.node));
    if ends.any(|end| end.kind.value() == Some(&EndpointKind::Rack)) {
        return None;
    }
    let mut least = f64::INFINITY;
    let converted = house.behind_supply_units();
    let mut runs = house.runs_below(wiring.circuit);
    runs.retain(|run| !converted.contains_key(run));
    for run in runs {
        least = least.min(wiring.allowed(run).ok()?.least);
    }
    let size = made_breaker(wiring.region, least)?;
    if load.fits(size) != Some(true) || size >= breaker {
        return None;
    }
    let size = plain(size);
    let edit = house.edit(circuit, &circuit.breaker, "breaker", &format!("{size} A"));
    house.change(format!("fit a {size} A breaker for {}", circuit.id), edit)
}
