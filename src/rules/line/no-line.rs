//! A subwoofer or loudspeaker with its own amplifier that no signal reaches.

use crate::findings::{Finding, Lack, Report};
use crate::house::{House, Reach, Seeker, is_active_subwoofer};
use crate::plan::{EndpointKind as Kind, Service};
use crate::rules::Sheet;

pub use crate::rules::NoLimits as Limits;

/// What may bring the signal: analogue, or digital by data, fibre or coaxial cable.
const SIGNAL: [Service; 4] = [Service::Line, Service::Data, Service::Fibre, Service::Coax];

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let seeker = house.seeker();
    for kind in [Kind::Subwoofer, Kind::Speaker] {
        for index in house.endpoints_of(kind) {
            let endpoint = &house.plan.endpoints[index];
            let active = is_active_subwoofer(endpoint)
                || kind == Kind::Speaker && endpoint.active.value().is_some_and(|active| active.0);
            if !active || endpoint.active.is_bad() {
                continue;
            }
            let found = seeker.reach(index, &SIGNAL);
            match found {
                Reach { run: Some(_), .. } => out.checked(),
                Reach {
                    lack: Some(lack), ..
                } => out.gap(sheet.id, &endpoint.id, lack),
                _ => {
                    out.checked();
                    out.find(finding(house, &seeker, sheet, index, found.spare));
                }
            }
        }
    }
    // It may be one of these.
    for index in house.kindless() {
        let endpoint = &house.plan.endpoints[index];
        if endpoint.active.value().is_some_and(|active| !active.0) {
            continue;
        }
        if seeker.reach(index, &SIGNAL).run.is_some() {
            out.checked();
        } else {
            let lack = Lack::absent(format!("kind of {}", endpoint.id));
            out.gap(sheet.id, &endpoint.id, lack);
        }
    }
}

fn finding(
    house: &House<'_>,
    seeker: &Seeker<'_, '_>,
    sheet: &Sheet,
    index: usize,
    spare: Option<usize>,
) -> Finding {
    let endpoint = &house.plan.endpoints[index];
    let id = &endpoint.id;
    let run = |run: usize| &house.plan.runs[run];
    if let Some(spare) = spare.map(run) {
        let says = format!(
            "{id} has no line run but the spare {}, which is connected to nothing",
            spare.id
        );
        return sheet
            .finding(id, says, endpoint.span, "no line run ends here")
            .with_on(&spare.id)
            .with_mark(spare.spare.span().unwrap_or(spare.span), "a spare only")
            .with_put_right(format!(
                "pull a line to {id}, or connect {} and take its `spare` out",
                spare.id
            ));
    }
    let speaker = seeker.reach(index, &[Service::Speaker]).run.map(run);
    let Some(speaker) = speaker else {
        let says = format!("{id} has an amplifier of its own and no line run, 1 is needed");
        return sheet.finding(id, says, endpoint.span, "no line run ends here");
    };
    let says = format!(
        "{id} has an amplifier of its own and no line run, only the speaker run {}",
        speaker.id
    );
    sheet
        .finding(id, says, endpoint.span, "no line run ends here")
        .with_on(&speaker.id)
        .with_mark(speaker.span, "a speaker run")
        .with_put_right(format!(
            "pull a line to {id}; if it has no amplifier of its own, say `active: no`"
        ))
}
