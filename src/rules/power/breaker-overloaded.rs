//! A circuit whose loads are more than its breaker may carry.

use serde::Deserialize;

use crate::figures::Figure;
use crate::figures::load::{BreakerLoad, ContinuousLoad, Load};
use crate::findings::{Finding, Lack, Level, Report, Shown};
use crate::house::{CarriedLoad, House, Node, Reached};
use crate::plan::{Circuit, EndpointKind, Entry, Region};
use crate::rules::{Limit, Sheet, over};
use crate::units::{Amps, Percent, figure3, plain};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    /// What a continuous load counts.
    continuous_factor: Limit<Percent>,
    /// The part of the breaker that continuous load may take.
    continuous_share: Limit<Percent>,
    /// The part of a breaker of so many ampere that one device on a plug may take where it is not alone.
    plug_share: Limit<Percent>,
    plug_breaker: Limit<Amps>,
    /// The part of the breaker that all load may take.
    load_share: Limit<Percent>,
}

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    let Ok(region) = house.region() else { return };
    for (index, circuit) in house.plan.circuits.iter().enumerate() {
        if !house.feeds_any(index) {
            continue;
        }
        let breaker = match circuit.breaker.want("breaker", &circuit.id) {
            Ok(breaker) => breaker.base(),
            Err(lack) => {
                out.loud_gap(sheet.id, &circuit.id, lack);
                continue;
            }
        };
        let carried = match house.carried(index) {
            Ok(carried) => carried,
            Err(lack) => {
                out.loud_gap(sheet.id, &circuit.id, lack);
                continue;
            }
        };
        let Some(amperes) = Amperes::of(&carried) else {
            out.loud_gap(
                sheet.id,
                &circuit.id,
                Lack::absent(format!("a load that a house could hold on {}", circuit.id)),
            );
            continue;
        };
        let over = excess(limits, region, breaker, &amperes)
            .or_else(|| plugged(house, limits, region, index, breaker, &carried));
        if let Some(over) = over {
            out.checked();
            out.find(finding(house, sheet, circuit, index, &carried, &over));
            continue;
        }
        match house.demand(Node::of_circuit(index)).whole(house) {
            Ok(()) => out.checked(),
            Err(lack) => out.loud_gap(sheet.id, &circuit.id, lack),
        }
    }
}

/// Current of the loads that run for hours, and of the rest.
struct Amperes {
    continuous: ContinuousLoad,
    other: BreakerLoad,
    all: BreakerLoad,
}

impl Amperes {
    fn of(carried: &[CarriedLoad]) -> Option<Self> {
        let loads = |continuous: bool| -> Vec<Load> {
            carried
                .iter()
                .filter(|load| load.continuous == continuous)
                .map(|load| load.load)
                .collect()
        };
        Some(Self {
            continuous: ContinuousLoad::of(loads(true))?,
            other: BreakerLoad::of(loads(false))?,
            all: BreakerLoad::of(carried.iter().map(|load| load.load).collect())?,
        })
    }
}

/// A sum over its limit.
struct Excess<'l> {
    level: Option<Level>,
    /// The one device that is too much.
    device: Option<usize>,
    shown: Shown,
    limit: f64,
    what: String,
    authority: &'l str,
}

fn excess<'l>(
    limits: &'l Limits,
    region: Region,
    breaker: f64,
    amperes: &Amperes,
) -> Option<Excess<'l>> {
    let (continuous, other, all) = (
        amperes.continuous.value(),
        amperes.other.value(),
        amperes.all.value(),
    );
    let factor = &limits.continuous_factor;
    if factor.holds_in(region) {
        let value = factor.value.base() * continuous + other;
        return over(value, breaker).then(|| Excess {
            level: factor.level,
            device: None,
            shown: Shown {
                name: BreakerLoad::NAME,
                value,
                unit: BreakerLoad::UNIT,
                working: counted(factor.value.base(), amperes, value),
            },
            limit: breaker,
            what: if continuous > 0.0 {
                format!("with continuous load counted at {}", factor.value)
            } else {
                String::new()
            },
            authority: &factor.authority,
        });
    }
    let share = &limits.continuous_share;
    let limit = share.value.base() * breaker;
    if share.holds_in(region) && over(continuous, limit) {
        return Some(Excess {
            level: share.level,
            device: None,
            shown: Shown {
                name: ContinuousLoad::NAME,
                value: continuous,
                unit: ContinuousLoad::UNIT,
                working: format!(
                    "{}; {} of {} A = {} A",
                    amperes.continuous.working(),
                    share.value,
                    plain(breaker),
                    figure3(limit)
                ),
            },
            limit,
            what: "of continuous load".into(),
            authority: &share.authority,
        });
    }
    let limit = limits.load_share.value.base() * breaker;
    over(all, limit).then(|| Excess {
        level: limits.load_share.level,
        device: None,
        shown: Shown {
            name: BreakerLoad::NAME,
            value: all,
            unit: BreakerLoad::UNIT,
            working: amperes.all.working(),
        },
        limit,
        what: String::new(),
        authority: &limits.load_share.authority,
    })
}

/// A device on a plug that takes too much of a circuit that feeds others, or other outlets, too. A rack is many devices.
fn plugged<'l>(
    house: &House<'_>,
    limits: &'l Limits,
    region: Region,
    circuit: usize,
    breaker: f64,
    carried: &[CarriedLoad],
) -> Option<Excess<'l>> {
    let share = &limits.plug_share;
    if !share.holds_in(region) || over(breaker, limits.plug_breaker.value.base()) {
        return None;
    }
    let limit = share.value.base() * breaker;
    let amperes = |load: &CarriedLoad| BreakerLoad::of(vec![load.load]);
    let single = |load: &&CarriedLoad| {
        let endpoint = &house.plan.endpoints[load.endpoint];
        endpoint.at_outlet.value().is_some()
            && endpoint.kind.value() != Some(&EndpointKind::Rack)
            && house.with_members(load.endpoint).len() == 1
            && amperes(load).is_some_and(|figure| over(figure.value(), limit))
    };
    let load = carried.iter().find(single)?;
    let outlet = |reached: &Reached| {
        let end = house.endpoint(reached.node);
        end.and_then(|end| end.kind.value()) == Some(&EndpointKind::Outlet)
    };
    let outlets = house.tree(circuit).iter().filter(|at| outlet(at)).count();
    if carried.len() < 2 && outlets < 2 {
        return None;
    }
    let figure = amperes(load)?;
    Some(Excess {
        level: share.level,
        device: Some(load.endpoint),
        shown: Shown {
            name: BreakerLoad::NAME,
            value: figure.value(),
            unit: BreakerLoad::UNIT,
            working: format!(
                "{}; {} of {} A = {} A",
                figure.working(),
                share.value,
                plain(breaker),
                figure3(limit)
            ),
        },
        limit,
        what: format!(
            "of {} alone, which is on a plug",
            house.plan.endpoints[load.endpoint].id
        ),
        authority: &share.authority,
    })
}

/// The sum of what counts, without a part that is nothing.
fn counted(factor: f64, amperes: &Amperes, sum: f64) -> String {
    let (continuous, other) = (&amperes.continuous, &amperes.other);
    let hours = || {
        let times = plain(factor);
        let value = figure3(continuous.value());
        format!("{times} × {value} A continuous ({})", continuous.working())
    };
    let rest = || format!("{} A other ({})", figure3(other.value()), other.working());
    match (continuous.value() > 0.0, other.value() > 0.0) {
        (true, true) => format!("{} + {} = {} A", hours(), rest(), figure3(sum)),
        (true, false) => format!("{} = {} A", hours(), figure3(sum)),
        (false, _) => other.working(),
    }
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    circuit: &Entry<Circuit>,
    index: usize,
    carried: &[CarriedLoad],
    over: &Excess<'_>,
) -> Finding {
    let whole = house.demand(Node::of_circuit(index)).whole(house);
    let at_least = if whole.is_err() && over.device.is_none() {
        "at least "
    } else {
        ""
    };
    let what = if over.what.is_empty() {
        String::new()
    } else {
        format!(" {}", over.what)
    };
    let says = format!(
        "{} carries {at_least}{} A{what}, allowed is {} A",
        circuit.id,
        figure3(over.shown.value),
        figure3(over.limit),
    );
    let at = circuit.breaker.span().unwrap_or(circuit.span);
    let mut finding = sheet.finding(&circuit.id, says, at, "this breaker");
    let mut greatest: Vec<&CarriedLoad> = carried.iter().collect();
    let watts = |load: &CarriedLoad| load.load.power.base() * load.load.share;
    greatest.sort_by(|a, b| watts(b).total_cmp(&watts(a)));
    for load in greatest.iter().take(8) {
        finding = finding.with_on(&house.plan.endpoints[load.endpoint].id);
    }
    for (place, load) in greatest.iter().take(2).enumerate() {
        let endpoint = &house.plan.endpoints[load.endpoint];
        let label = match (place, load.load.share < 1.0) {
            (0, false) => "the greatest load",
            (0, true) => "the greatest load, in part",
            (_, false) => "the next greatest",
            (_, true) => "the next greatest, in part",
        };
        finding = finding.with_mark(endpoint.load.span().unwrap_or(endpoint.span), label);
    }
    let move_off = match greatest.first() {
        Some(load) if carried.len() > 1 => {
            format!(
                "; {} is the greatest load to move",
                house.plan.endpoints[load.endpoint].id
            )
        }
        _ => String::new(),
    };
    let put_right = match over.device {
        Some(device) => format!(
            "plug {} in at an outlet with a circuit of its own",
            house.plan.endpoints[device].id
        ),
        None => format!(
            "take {} A or more off {} to another circuit{move_off}",
            figure3(over.shown.value - over.limit),
            circuit.id,
        ),
    };
    finding.level = over.level.unwrap_or(finding.level);
    finding
        .with_figure(over.shown.clone(), over.limit)
        .with_authority(over.authority.to_owned())
        .with_put_right(put_right)
}
