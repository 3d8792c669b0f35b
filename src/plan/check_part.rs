//! What a part of a thing cannot be, as the whole is: a run lies beside another run, not itself, and beside it or in a bundle for no
//! more than its own length; at its peak a subwoofer draws no less than its load.

use super::field::{Entry, Field};
use super::{Endpoint, NonNegative, Run, Stated};
use crate::findings::{Finding, Id, Level};
use crate::units::{Distance, LengthDim};
use crate::yaml::Span;

/// A measure is good to a hundredth (common practice, no source).
const MEASURE: f64 = 0.01;

/// Reports peaks below the load, and takes them as not read.
pub(super) fn peaks(endpoints: &mut [Entry<Endpoint>], findings: &mut Vec<Finding>) {
    for endpoint in endpoints {
        let (Some(peak), Some(load)) = (endpoint.peak.stated(), endpoint.load.stated()) else {
            continue;
        };
        if peak.base() >= load.base() {
            continue;
        }
        let says = format!(
            "{} draws {} at its peak, and {} all the time",
            endpoint.id, ***peak, ***load
        );
        let mut finding = Finding::new(
            "plan.out-of-range",
            Level::Fault,
            endpoint.id.clone(),
            says,
            peak.span,
            "less than its load",
        )
        .with_mark(load.span, "its load");
        finding.put_right = Some("state as `peak` what it draws at most".into());
        findings.push(finding);
        endpoint.body.peak = Field::Bad;
    }
}

/// Reports runs beside themselves, and takes that as not read.
pub(super) fn selves(runs: &mut [Entry<Run>], findings: &mut Vec<Finding>) {
    for (at, run) in runs.iter_mut().enumerate() {
        let Field::Stated(list) = &mut run.body.beside else {
            continue;
        };
        for beside in &mut list.value.0 {
            let other = &mut beside.value.run;
            let Some(named) = other.stated().filter(|named| named.at() == at) else {
                continue;
            };
            let says = format!("{} lies beside itself", run.id);
            let at = named.span;
            let id = run.id.clone();
            let mut finding =
                Finding::new("plan.in-itself", Level::Fault, id, says, at, "this run");
            finding.put_right = Some("name the run that it lies beside".into());
            findings.push(finding);
            *other = Field::Bad;
        }
    }
}

/// Reports lengths beyond the run's own, and takes them as not read.
pub(super) fn lengths(runs: &mut [Entry<Run>], findings: &mut Vec<Finding>) {
    for run in runs {
        let (id, body) = (&run.id, &mut run.body);
        let Field::Stated(length) = &body.length else {
            continue;
        };
        let length = (***length, length.span);
        let mut hold = |part: &mut Field<NonNegative<LengthDim>>, what: &str| {
            if let Field::Stated(stated) = part
                && let Some(finding) = longer(id, stated, what, length)
            {
                findings.push(finding);
                *part = Field::Bad;
            }
        };
        if let Field::Stated(list) = &mut body.beside {
            for beside in &mut list.value.0 {
                hold(&mut beside.value.over, "beside another");
            }
        }
        if let Some(part) = body.bundled_over() {
            hold(part, "in its bundle");
        }
    }
}

fn longer(
    id: &Id,
    part: &Stated<NonNegative<LengthDim>>,
    what: &str,
    (length, at): (Distance, Span),
) -> Option<Finding> {
    if part.base() <= length.base() * (1.0 + MEASURE) {
        return None;
    }
    let says = format!(
        "{id} lies {what} for {}, and is only {length} long",
        ***part
    );
    let mut finding = Finding::new(
        "plan.out-of-range",
        Level::Fault,
        id.clone(),
        says,
        part.span,
        "longer than the run",
    )
    .with_mark(at, "the length of the run");
    finding.put_right = Some("state how much of this run lies there".into());
    Some(finding)
}
