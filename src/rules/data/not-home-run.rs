//! A data outlet that hangs on another instead of the panel.

use crate::findings::{Finding, Lack, Report};
use crate::house::{House, LeadsTo, Node};
use crate::plan::{Endpoint, EndpointKind as Kind, Entry, Service};
use crate::rules::Sheet;

pub use crate::rules::NoLimits as Limits;

/// How an outlet is wired.
enum Wired {
    Home,
    /// By this run to something that is no panel.
    On {
        run: usize,
        end: usize,
    },
    /// By this box to a run that other outlets have already.
    Shared {
        at: usize,
        run: usize,
    },
    /// By a spare only.
    Spare(usize),
    Unsure(Lack),
    /// By no data at all.
    Nothing,
}

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    for kind in [Kind::DataOutlet, Kind::WallPlate] {
        for index in house.endpoints_of(kind) {
            let outlet = &house.plan.endpoints[index];
            match wired(house, index) {
                // A plate with a spare only is no data outlet, and one that no run reaches is a
                // loose end.
                Wired::Nothing => {}
                Wired::Spare(_) if kind == Kind::WallPlate => {}
                Wired::Unsure(lack) => out.gap(sheet.id, &outlet.id, lack),
                Wired::Home => out.checked(),
                Wired::On { run, end } => {
                    out.checked();
                    out.find(finding(house, sheet, index, run, end));
                }
                Wired::Shared { at, run } => {
                    out.checked();
                    out.find(shared(house, sheet, index, at, run));
                }
                Wired::Spare(run) => {
                    out.checked();
                    out.find(spare_only(house, sheet, index, run));
                }
            }
        }
    }
    for index in house.kindless() {
        let endpoint = &house.plan.endpoints[index];
        if house.data_runs_at(index).next().is_none() {
            continue;
        }
        if matches!(wired(house, index), Wired::Home) {
            out.checked();
        } else {
            let lack = Lack::absent(format!("kind of {}", endpoint.id));
            out.gap(sheet.id, &endpoint.id, lack);
        }
    }
}

fn wired(house: &House<'_>, index: usize) -> Wired {
    // What stands in a panel is joined to it, and what stands in a box by the box's runs.
    if house.is_home(index) {
        return Wired::Home;
    }
    let (mut on, mut shared, mut lack, mut spare) = (None, None, None, None);
    for at in house.hosts(index) {
        let node = Node::of_endpoint(at);
        for run in house.runs_at(node) {
            match (house.service(run), house.is_spare(run)) {
                (Some(Service::Data), true) => spare = spare.or(Some(run)),
                (Some(Service::Data), false) => match house.leads_to(at, run) {
                    LeadsTo::Home => return Wired::Home,
                    // The run that comes from somewhere, before one that goes on from here.
                    LeadsTo::Other { end } => on = on.min(Some((run, end))).or(Some((run, end))),
                    LeadsTo::Shared { at, run } => shared = shared.or(Some((at, run))),
                    LeadsTo::Lost(missing) => lack = lack.or(Some(missing)),
                },
                (None, false) => lack = lack.or_else(|| house.want_service(run).err()),
                _ => {}
            }
        }
    }
    let is_outlet = house.plan.endpoints[index].kind.value() == Some(&Kind::DataOutlet);
    match (on, shared, lack, spare) {
        (_, _, Some(lack), _) if on.is_some() || is_outlet => Wired::Unsure(lack),
        (Some((run, end)), ..) => Wired::On { run, end },
        (None, Some((at, run)), ..) => Wired::Shared { at, run },
        (None, None, _, Some(spare)) => Wired::Spare(spare),
        (None, None, ..) => Wired::Nothing,
    }
}

fn finding(house: &House<'_>, sheet: &Sheet, index: usize, run: usize, end: usize) -> Finding {
    let outlet = &house.plan.endpoints[index];
    let run = &house.plan.runs[run];
    let end = &house.plan.endpoints[end];
    let says = format!(
        "{} is wired to {} by {} and to no panel",
        outlet.id, end.id, run.id
    );
    let panel = panel(house);
    not_home(sheet, outlet, says)
        .with_on(&run.id)
        .with_on(&end.id)
        .with_mark(run.span, "its run")
        .with_mark(end.span, "hangs on this")
        .with_put_right(format!(
            "pull a run from {panel} to {} and leave {} to what it serves",
            outlet.id, end.id
        ))
}

fn not_home(sheet: &Sheet, outlet: &Entry<Endpoint>, says: String) -> Finding {
    let label = "no run of its own to a panel";
    sheet.finding(&outlet.id, says, outlet.span, label)
}

/// What outlets are wired from, by its name.
fn panel<'h>(house: &'h House<'_>) -> &'h str {
    [
        Kind::Distribution,
        Kind::PatchPanel,
        Kind::Router,
        Kind::Switch,
    ]
    .into_iter()
    .find_map(|kind| house.endpoints_of(kind).next())
    .map_or("the data panel", |at| house.plan.endpoints[at].id.as_str())
}

fn shared(house: &House<'_>, sheet: &Sheet, index: usize, at: usize, run: usize) -> Finding {
    let outlet = &house.plan.endpoints[index];
    let (joint, run) = (&house.plan.endpoints[at], &house.plan.runs[run]);
    let says = format!(
        "{} has no run of its own beyond {}, where more cables branch off than go to a panel",
        outlet.id, joint.id
    );
    not_home(sheet, outlet, says)
        .with_on(&joint.id)
        .with_on(&run.id)
        .with_mark(joint.span, "joined here")
        .with_mark(run.span, "to the panel, for another outlet")
        .with_put_right(format!(
            "pull a run from {} to {} in one piece",
            panel(house),
            outlet.id
        ))
}

fn spare_only(house: &House<'_>, sheet: &Sheet, index: usize, run: usize) -> Finding {
    let outlet = &house.plan.endpoints[index];
    let run = &house.plan.runs[run];
    let says = format!(
        "{} has no data run but the spare {}, which is connected to nothing",
        outlet.id, run.id
    );
    sheet
        .finding(&outlet.id, says, outlet.span, "no data run ends here")
        .with_on(&run.id)
        .with_mark(run.spare.span().unwrap_or(run.span), "a spare only")
        .with_put_right(format!("connect {} and take its `spare` out", run.id))
}
