//! A device that gets too little power or too low a voltage over its data cable.

use crate::figures::Figure;
use crate::figures::conductor::one_way;
use crate::figures::line::LoopResistance;
use crate::figures::poe::{PoePower, PoeVoltage};
use crate::findings::{Finding, Lack, Redline, Report, Shown};
use crate::house::{DATA_CELSIUS, HOTTEST_CELSIUS, House, PoeWay};
use crate::plan::{Entry, Service, Stock};
use crate::rules::{Sheet, over};
use crate::units::{Watts, figure3};

pub use crate::rules::NoLimits as Limits;

/// The standard prints its powers to a tenth of a watt.
const PRINTED_WATTS: f64 = 0.05;

/// What starves the device.
enum Starved {
    Power(PoePower),
    Voltage(PoeVoltage),
}

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    for device in house.poe_devices() {
        let endpoint = &house.plan.endpoints[device];
        let known = endpoint.load.want("load", &endpoint.id);
        let known = known.and_then(|load| Ok((load.value.0, house.poe_ways(device)?)));
        let (load, ways) = match known {
            Ok(known) => known,
            Err(lack) => {
                out.gap(sheet.id, &endpoint.id, lack);
                continue;
            }
        };
        for way in &ways {
            match whichever(house, sheet, way, load) {
                Err(lack) => out.gap(sheet.id, &endpoint.id, lack),
                Ok(found) => {
                    out.checked();
                    out.findings.extend(found);
                }
            }
        }
    }
}

/// Judges by the weakest source that may feed the device: where that does, any does. What not even the strongest can
/// feed is starved; what lies between hangs on which it is.
fn whichever(
    house: &House<'_>,
    sheet: &Sheet,
    way: &PoeWay<'_, '_>,
    load: Watts,
) -> Result<Option<Finding>, Lack> {
    let found = judged(house, sheet, way, load)?;
    let (Some(strongest), true) = (&way.strongest, found.is_some()) else {
        return Ok(found);
    };
    match judged(house, sheet, &way.at_best(), load)? {
        None => Err(strongest.doubt()),
        found => Ok(found),
    }
}

fn judged(
    house: &House<'_>,
    sheet: &Sheet,
    way: &PoeWay<'_, '_>,
    load: Watts,
) -> Result<Option<Finding>, Lack> {
    if over(load.base(), way.takes.device_power.base()) {
        return Ok(Some(greedy(sheet, way, load)));
    }
    let pairs = way.pairs_of_cable(house)?;
    if pairs < way.pairs() {
        return Ok(Some(few_pairs(house, sheet, way, pairs)));
    }
    let (line, cool) = way.line(house, DATA_CELSIUS)?;
    if let Some(starved) = starved(way, load, &line)? {
        return Ok(Some(finding(house, sheet, way, load, &starved)));
    }
    // Warm copper resists more: where no temperature is stated, the warmest must not decide.
    if let Some(run) = cool
        && starved(way, load, &way.line(house, HOTTEST_CELSIUS)?.0)?.is_some()
    {
        return Err(Lack::absent(format!("ambient of {}", run.id)));
    }
    Ok(None)
}

/// Power is judged before voltage: a line that cannot carry the load at all has no voltage.
fn starved(
    way: &PoeWay<'_, '_>,
    load: Watts,
    line: &LoopResistance,
) -> Result<Option<Starved>, Lack> {
    let power = PoePower::of(way.volts(), way.power(), line.clone()).ok_or(Lack::Reported)?;
    if load.base() - power.value() > PRINTED_WATTS {
        return Ok(Some(Starved::Power(power)));
    }
    let Some(volts) = PoeVoltage::of(way.volts(), load, line.clone()) else {
        return Ok(Some(Starved::Power(power)));
    };
    let least = way.takes.device_volts.base();
    Ok(over(least, volts.value()).then_some(Starved::Voltage(volts)))
}

/// Says that the whole way is concerned: its runs and the source.
fn with_way(house: &House<'_>, way: &PoeWay<'_, '_>, finding: Finding) -> Finding {
    house
        .with_runs(finding, way.channel.runs)
        .with_on(&way.source.id)
}

/// More than its type may draw.
fn greedy(sheet: &Sheet, way: &PoeWay<'_, '_>, load: Watts) -> Finding {
    let device = way.device;
    let most = way.takes.device_power;
    let says = format!(
        "{} draws {load}, a type {} device may draw {most}",
        device.id, way.takes.number
    );
    let at = device.load.span().unwrap_or(device.span);
    sheet
        .finding(&device.id, says, at, "its load")
        .with_mark(
            device.poe.span().unwrap_or(device.span),
            format!("up to {most}"),
        )
        .with_put_right(
            "state the type that the device is made for, or feed it from a supply of its own",
        )
}

/// Fewer pairs than the type uses.
fn few_pairs(house: &House<'_>, sheet: &Sheet, way: &PoeWay<'_, '_>, pairs: u8) -> Finding {
    let device = way.device;
    let says = format!(
        "{} has {pairs} pairs to {}, power of type {} uses {}",
        house.named(way.channel.runs),
        device.id,
        way.takes.number,
        way.pairs()
    );
    let run = way.channel.runs.iter().min_by_key(|run| {
        let stock = house.want_stock(&house.plan.runs[**run]).ok();
        stock.and_then(|stock| Some(stock.cores.value()?.count))
    });
    let run = &house.plan.runs[*run.unwrap_or(&way.channel.runs[0])];
    let cores = house
        .want_stock(run)
        .ok()
        .and_then(|stock| stock.cores.span());
    let mut finding = sheet.finding(
        &device.id,
        says,
        device.poe.span().unwrap_or(device.span),
        format!("uses {} pairs", way.pairs()),
    );
    if let Some(cores) = cores {
        finding = finding.with_mark(cores, "the cores of the cable");
    }
    with_way(house, way, finding).with_put_right("pull a cable of four pairs (`cores: 8 x …`)")
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    way: &PoeWay<'_, '_>,
    load: Watts,
    starved: &Starved,
) -> Finding {
    let device = way.device;
    let by = house.named(way.channel.runs);
    let (says, mut shown, limit) = match starved {
        Starved::Power(power) => (
            format!(
                "{} gets {} W at most over {by}, it draws {load}",
                device.id,
                figure3(power.value())
            ),
            crate::rules::shown(power),
            load.base(),
        ),
        Starved::Voltage(volts) => (
            format!(
                "{} gets {} V over {by}, a type {} device needs {} at least",
                device.id,
                figure3(volts.value()),
                way.takes.number,
                way.takes.device_volts
            ),
            crate::rules::shown(volts),
            way.takes.device_volts.base(),
        ),
    };
    taken(house, way, &mut shown);
    let (at, label) = match device.load.span() {
        Some(span) => (span, "draws this"),
        None => (device.span, "the device"),
    };
    let mut finding = sheet.finding(&device.id, says, at, label);
    let supply = format!("type {}, {} at least", way.supplies.number, way.volts());
    let runs = way.channel.runs;
    let (length, label) = house.length_mark(house.longest(runs).unwrap_or(runs[0]), true);
    finding = finding.with_mark(length, label);
    let material = not_copper(house, way);
    finding = match material {
        Some(stock) => finding.with_mark(
            stock.material.span().unwrap_or(stock.span),
            "resists more than copper",
        ),
        None => finding.with_mark(
            way.source.poe_supply.span().unwrap_or(way.source.span),
            supply,
        ),
    };
    let put_right = if way.supplies.number < way.takes.number {
        format!("feed it from a source of type {}", way.takes.number)
    } else if material.is_some() {
        "pull a cable of solid copper".to_owned()
    } else {
        "pull a cable of thicker cores, or stand a source nearer to the device".to_owned()
    };
    with_way(house, way, finding)
        .with_figure(shown, limit)
        .with_put_right(put_right)
        .with_redline(redline(house, way, load))
}

/// What the plan left to be taken, added to the working.
fn taken(house: &House<'_>, way: &PoeWay<'_, '_>, shown: &mut Shown) {
    let runs = || way.channel.runs.iter().map(|run| &house.plan.runs[*run]);
    if runs().any(|run| run.ambient.is_absent()) {
        shown.working += "; 20 °C taken where no ambient is stated";
    }
    if let Ok(cords) = house.cords(&way.channel)
        && !cords.stated
    {
        shown.working += &format!("; {} of 24 AWG cords taken, none stated", cords.length);
    }
}

/// The first stock on the way that is not of copper.
fn not_copper<'p>(house: &House<'p>, way: &PoeWay<'_, 'p>) -> Option<&'p Entry<Stock>> {
    let runs = way.channel.runs.iter();
    let stocks = runs.filter_map(|run| house.want_stock(&house.plan.runs[*run]).ok());
    let mut others = stocks.filter(|stock| !house.is_taken_as_copper(stock));
    others.next()
}

/// A single run in a stock of the plan that starves nothing, the thinnest of those.
fn redline(house: &House<'_>, way: &PoeWay<'_, '_>, load: Watts) -> Option<Redline> {
    let &[run] = way.channel.runs else {
        return None;
    };
    let does = |stock: &Entry<Stock>| {
        let Some(cores) = stock.cores.value() else {
            return false;
        };
        let wire = |_: usize, celsius: f64| {
            let stranding = house.stranding(stock, Service::Data)?;
            one_way(cores.size, house.material(stock)?, stranding, celsius).ok_or(Lack::Reported)
        };
        let line = way.line_as(house, HOTTEST_CELSIUS, wire);
        let found = line.and_then(|(line, _)| starved(way, load, &line));
        house.is_taken_as_copper(stock) && matches!(found, Ok(None))
    };
    let stock = house.thinnest(house.substitutes(run, Service::Data, does))?;
    house.pull_as(&[(run, stock)])
}
