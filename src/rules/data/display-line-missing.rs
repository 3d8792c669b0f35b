//! A projector or display that no data run reaches.

use crate::findings::{Finding, Lack, Report};
use crate::house::House;
use crate::plan::{EndpointKind as Kind, Service};
use crate::rules::Sheet;

pub use crate::rules::NoLimits as Limits;

/// What commands a display: the network, or a control cable.
const WANTED: [Service; 2] = [Service::Data, Service::Control];

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let seeker = house.seeker();
    for kind in [Kind::Projector, Kind::Display] {
        for index in house.endpoints_of(kind) {
            let display = &house.plan.endpoints[index];
            let found = seeker.reach(index, &WANTED);
            match (found.run, found.lack) {
                (None, Some(lack)) => out.gap(sheet.id, &display.id, lack),
                (Some(_), _) => out.checked(),
                (None, None) => {
                    out.checked();
                    out.find(finding(house, sheet, index, found.spare));
                }
            }
        }
    }
    for index in house.kindless() {
        let endpoint = &house.plan.endpoints[index];
        if seeker.reach(index, &WANTED).run.is_some() {
            out.checked();
        } else {
            let lack = Lack::absent(format!("kind of {}", endpoint.id));
            out.gap(sheet.id, &endpoint.id, lack);
        }
    }
}

fn finding(house: &House<'_>, sheet: &Sheet, index: usize, spare: Option<usize>) -> Finding {
    let display = &house.plan.endpoints[index];
    let kind = display.kind.value().map_or("display", |kind| kind.word());
    let spare = spare.map(|spare| &house.plan.runs[spare]);
    let but = spare.map_or_else(String::new, |spare| {
        format!(" but the spare {}, which is connected to nothing", spare.id)
    });
    let says = format!(
        "the {kind} {} has no data run{but}, 1 is advised",
        display.id
    );
    let finding = sheet.finding(&display.id, says, display.span, "no data run ends here");
    match spare {
        Some(spare) => finding
            .with_on(&spare.id)
            .with_mark(spare.spare.span().unwrap_or(spare.span), "a spare only")
            .with_put_right(format!(
                "connect {} and take its `spare` out, or pull another",
                spare.id
            )),
        None => finding,
    }
}
