//! An unbalanced line that closes a loop through the earths of two circuits.

use crate::findings::{Finding, Redline, Report, Shown};
use crate::house::{EarthLoop, House};
use crate::plan::{Circuit, Endpoint, Entry, Service, Stock};
use crate::rules::Sheet;

pub use crate::rules::NoLimits as Limits;

/// Runs up to which an edit changes them all.
const MOST_RUNS: usize = 16;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let loops = house.earth_loops();
    for _ in 0..loops.judged {
        out.checked();
    }
    // A run that may be a line may close a loop.
    for (id, lack) in loops.lacks.into_iter().chain(house.uncertain_runs()) {
        out.gap(sheet.id, id, lack);
    }
    for found in &loops.found {
        out.find(finding(house, sheet, found));
    }
}

fn finding(house: &House<'_>, sheet: &Sheet, found: &EarthLoop<'_>) -> Finding {
    let first = &house.plan.runs[found.runs[0]];
    let [far, near] = found.devices.map(|device| &house.plan.endpoints[device]);
    let earths = found
        .circuits
        .map(|circuit| circuit.map(|circuit| &house.plan.circuits[circuit]));
    let earths_of = match earths {
        [Some(far_on), Some(near_on)] => format!(
            "the earths of {} on {} and {} on {}",
            near.id, near_on.id, far.id, far_on.id
        ),
        [far_on, near_on] => {
            let one = |device: &Entry<Endpoint>, on: Option<&Entry<Circuit>>| match on {
                Some(on) => format!("the earth of {} on {}", device.id, on.id),
                None => format!("the bond of {}", device.id),
            };
            format!("{} and {}", one(near, near_on), one(far, far_on))
        }
    };
    let says = format!(
        "{} is unbalanced and closes a loop through {earths_of}",
        first.id
    );
    let mut finding = sheet.finding(
        &first.id,
        says,
        first.span,
        "its shield joins the two earths",
    );
    finding = finding.with_each_on(found.runs.iter().map(|run| &house.plan.runs[*run].id));
    finding = finding.with_on(&near.id).with_on(&far.id);
    for (device, circuit) in [(near, earths[1]), (far, earths[0])] {
        let label = format!("earths {}", device.id);
        finding = match circuit {
            Some(circuit) => finding.with_on(&circuit.id).with_mark(circuit.span, label),
            None => finding.with_mark(device.bonded.span().unwrap_or(device.span), label),
        };
    }
    finding.figure = Some(Shown {
        name: "earth-loop",
        value: found.count as f64,
        unit: "members",
        working: found.members.clone(),
    });
    let line = format!(
        "pull {} as a balanced line, or set an isolating transformer in it (`isolates: yes`)",
        first.id
    );
    let bonded = [(near, earths[1]), (far, earths[0])];
    let bonded = bonded.into_iter().find(|(_, circuit)| circuit.is_none());
    let put_right = match bonded {
        Some((device, _)) => format!(
            "{line}, or set an isolator made for it into the cable that comes in at {}",
            device.id
        ),
        None => format!("feed {} and {} from one circuit, {line}", near.id, far.id),
    };
    finding
        .with_put_right(put_right)
        .with_redline(redline(house, found))
}

/// Every run of the line in a balanced stock of the plan.
fn redline(house: &House<'_>, found: &EarthLoop<'_>) -> Option<Redline> {
    if found.line.steps.len() > MOST_RUNS {
        return None;
    }
    let is_balanced = |stock: &Stock| stock.balanced.value().is_some_and(|balanced| balanced.0);
    let mut pulls = Vec::new();
    for step in &found.line.steps {
        let run = step.run as usize;
        if !is_balanced(house.want_stock(&house.plan.runs[run]).ok()?) {
            let stock = house
                .substitutes(run, Service::Line, |stock| is_balanced(stock))
                .next()?;
            pulls.push((run, stock));
        }
    }
    house.pull_as(&pulls)
}
