//! A motor or powered screen that neither power nor control reaches.

use crate::findings::{Finding, Lack, Report};
use crate::house::{House, Reach, Seeker};
use crate::plan::{EndpointKind as Kind, Service};
use crate::rules::Sheet;

pub use crate::rules::NoLimits as Limits;

/// What may move or command a motor; a data run may do both.
const WANTED: [Service; 3] = [Service::Power, Service::Control, Service::Data];

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let seeker = house.seeker();
    for motor in house.endpoints_of(Kind::Motor) {
        let screens = partners(house, &seeker, motor, Kind::Screen);
        verdict(house, &seeker, sheet, out, motor, &screens);
    }
    for screen in house.endpoints_of(Kind::Screen) {
        // Its motor, where it has one, has been judged.
        if house.is_powered_screen(screen, seeker.beside())
            && partners(house, &seeker, screen, Kind::Motor).is_empty()
        {
            verdict(house, &seeker, sheet, out, screen, &[]);
        }
    }
    for index in house.kindless() {
        let endpoint = &house.plan.endpoints[index];
        if plugged(house, index).is_some() || seeker.reach(index, &WANTED).run.is_some() {
            out.checked();
        } else {
            let lack = Lack::absent(format!("kind of {}", endpoint.id));
            out.gap(sheet.id, &endpoint.id, lack);
        }
    }
}

/// Endpoints of a kind that an endpoint stands in, that stand in it, or beside it.
fn partners(house: &House<'_>, seeker: &Seeker<'_, '_>, endpoint: usize, kind: Kind) -> Vec<usize> {
    let all = house.with_members(endpoint).into_iter().skip(1);
    let all = all.chain(house.hosts(endpoint).skip(1));
    all.chain(seeker.beside().of(endpoint))
        .filter(|at| house.plan.endpoints[*at].kind.value() == Some(&kind))
        .collect()
}

/// The outlet that an endpoint is plugged into.
fn plugged(house: &House<'_>, endpoint: usize) -> Option<Result<(), Lack>> {
    let outlet = &house.plan.endpoints[endpoint].at_outlet;
    match outlet.is_bad() {
        true => Some(Err(Lack::Reported)),
        false => outlet.value().map(|_| Ok(())),
    }
}

fn verdict(
    house: &House<'_>,
    seeker: &Seeker<'_, '_>,
    sheet: &Sheet,
    out: &mut Report,
    index: usize,
    partners: &[usize],
) {
    let all = || std::iter::once(index).chain(partners.iter().copied());
    if let Some(plugged) = all().find_map(|at| plugged(house, at)) {
        match plugged {
            Ok(()) => out.checked(),
            Err(lack) => out.gap(sheet.id, &house.plan.endpoints[index].id, lack),
        }
        return;
    }
    let mut found = Reach::default();
    for at in all() {
        let reach = seeker.reach(at, &WANTED);
        if reach.run.is_some() {
            out.checked();
            return;
        }
        found.spare = found.spare.or(reach.spare);
        found.lack = found.lack.or(reach.lack);
    }
    if let Some(lack) = found.lack {
        out.gap(sheet.id, &house.plan.endpoints[index].id, lack);
        return;
    }
    out.checked();
    out.find(finding(house, sheet, index, partners.first(), found.spare));
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    index: usize,
    screen: Option<&usize>,
    spare: Option<usize>,
) -> Finding {
    let endpoint = &house.plan.endpoints[index];
    let spare = spare.map(|spare| &house.plan.runs[spare]);
    let but = spare.map_or_else(String::new, |spare| {
        format!(
            ", only the spare {}, which is connected to nothing",
            spare.id
        )
    });
    let says = format!("{} has no power run and no control run{but}", endpoint.id);
    let mut finding = sheet.finding(
        &endpoint.id,
        says,
        endpoint.span,
        "no power or control run ends here",
    );
    if let Some(spare) = spare {
        finding = finding
            .with_on(&spare.id)
            .with_mark(spare.spare.span().unwrap_or(spare.span), "a spare only");
    }
    match screen.map(|screen| &house.plan.endpoints[*screen]) {
        Some(screen) => finding
            .with_on(&screen.id)
            .with_mark(screen.span, "the screen that it moves"),
        None => finding,
    }
}
