//! Mistakes that only show between values: circles, shares that do not add up, points outside
//! their rooms. Nothing here is a matter of judgement.

use super::field::{Entry, Field, Stated};
use super::read::Plan;
use super::refs::{Ref, Sort, Thing};
use super::{Grade, Room, Service, check_part, check_route};
use crate::findings::{Finding, Level};
use crate::units::{plain, unit};
use crate::yaml::Span;

/// How many things may stand in each other, the innermost counted: rack, shelf, panel make three.
/// `house/` follows such chains no further.
pub const DEEPEST: usize = 32;

/// How far a point may lie outside its room's box before it is a mistake: a rounding, in metres.
const ROUNDING: f64 = 0.001;

/// Checks on the typed plan.
pub(super) fn plan(plan: &mut Plan, findings: &mut Vec<Finding>) {
    grades(plan, findings);
    check_route::routes(&mut plan.pathways, findings);
    check_part::selves(&mut plan.runs, findings);
    check_part::lengths(&mut plan.runs, findings);
    check_part::peaks(&mut plan.endpoints, findings);
    points(plan, findings);
    ties(plan, findings);
    ends(plan, findings);
    let plan = &*plan;
    splits(plan, findings);
    let within = |index: usize| -> Vec<Holder> {
        let within = plan.endpoints[index].within.stated();
        within.map(Holder::of).into_iter().collect()
    };
    circles(
        plan,
        Sort::Endpoint,
        plan.endpoints.len(),
        "in",
        within,
        findings,
    );
    let inside = |index: usize| -> Vec<Holder> {
        let inside = plan.pathways[index].inside.value();
        inside
            .map(|list| list.iter().map(Holder::of).collect())
            .unwrap_or_default()
    };
    circles(
        plan,
        Sort::Pathway,
        plan.pathways.len(),
        "inside",
        inside,
        findings,
    );
}

/// What a thing is said to be part of, and where that is said.
#[derive(Clone, Copy)]
struct Holder {
    at: usize,
    said: Span,
}

impl Holder {
    fn of<T>(stated: &Stated<Ref<T>>) -> Self {
        Self {
            at: stated.value.at(),
            said: stated.span,
        }
    }
}

/// Video and data cables have grades of their own. A grade of the other kind is none.
fn grades(plan: &mut Plan, findings: &mut Vec<Finding>) {
    for stock in &mut plan.stock {
        let (Some(service), Some(grade)) = (stock.service.stated(), stock.body.grade.stated())
        else {
            continue;
        };
        let fits = match service.value {
            Service::Video => grade.is_video(),
            Service::Data => !grade.is_video(),
            _ => true,
        };
        if fits {
            continue;
        }
        let says = format!(
            "`grade` of {} is `{}`, which is not a grade of {} cable",
            stock.id, grade.value, service.value
        );
        let known = Grade::WORDS.iter().filter(|word| {
            Grade::parse(word)
                .is_some_and(|grade| grade.is_video() == (service.value == Service::Video))
        });
        let known: Vec<_> = known.copied().collect();
        let mut finding = Finding::new(
            "plan.unknown-word",
            Level::Fault,
            stock.id.clone(),
            says,
            grade.span,
            "not a known word",
        )
        .with_mark(service.span, "what the cable is for");
        finding.put_right = Some(format!("write one of: {}", known.join(", ")));
        findings.push(finding);
        stock.body.grade = Field::Bad;
    }
}

/// A point outside its room counts as not read: what would be worked out from it is as wrong.
fn points(plan: &mut Plan, findings: &mut Vec<Finding>) {
    for endpoint in &mut plan.endpoints {
        let (Some(at), Some(room)) = (endpoint.at.stated(), endpoint.room.value()) else {
            continue;
        };
        let room = &plan.rooms[room.at()];
        let Some(axis) = outside(room, &at.value.0.map(|c| c.base())) else {
            continue;
        };
        let (name, from, to) = axis;
        let index = ["x", "y", "z"]
            .iter()
            .position(|axis| *axis == name)
            .unwrap_or(0);
        let value = at.value.0[index];
        let show = |metres: f64| {
            value
                .same_unit(crate::units::Length::new::<unit::meter>(metres))
                .to_string()
        };
        let says = format!(
            "{} stands at {name} = {}, outside {}, which goes from {} to {}",
            endpoint.id,
            *value,
            room.id,
            show(from),
            show(to)
        );
        let mut finding = Finding::new(
            "plan.outside-room",
            Level::Fault,
            endpoint.id.clone(),
            says,
            at.span,
            "this point",
        )
        .with_on(&room.id)
        .with_mark(room.span, "this room");
        finding.put_right = Some(
            "mend the point, the room it is said to be in, or the room's size or origin".into(),
        );
        findings.push(finding);
        endpoint.body.at = Field::Bad;
    }
}

/// The first axis on which a point lies outside the room's box, with the box's ends on it.
fn outside(room: &Entry<Room>, point: &[f64; 3]) -> Option<(&'static str, f64, f64)> {
    let (origin, size) = (room.origin.value()?, room.size.value()?);
    ["x", "y", "z"]
        .into_iter()
        .enumerate()
        .find_map(|(axis, name)| {
            let from = origin.0[axis].base();
            let to = from + size.0[axis].base();
            let out = point[axis] < from - ROUNDING || point[axis] > to + ROUNDING;
            out.then_some((name, from, to))
        })
}

fn ties(plan: &mut Plan, findings: &mut Vec<Finding>) {
    for run in &mut plan.runs {
        let (Some(tie), Some(stock)) = (run.tie.stated(), run.stock.stated()) else {
            continue;
        };
        let stock_entry = &plan.stock[stock.at()];
        let Some(cores) = stock_entry.cores.stated() else {
            continue;
        };
        let needs = u64::from(tie.0) * 2;
        if u64::from(cores.count) >= needs {
            continue;
        }
        let says = format!(
            "{} ties {} cores for each leg of its pair, which takes {needs}, but {} has {}",
            run.id, tie.0, stock_entry.id, cores.count
        );
        let mut finding = Finding::new(
            "plan.tied-too-many",
            Level::Fault,
            run.id.clone(),
            says,
            tie.span,
            "cores tied per leg",
        )
        .with_on(&stock_entry.id)
        .with_mark(cores.span, "cores that the stock has");
        finding.put_right = Some("tie fewer, or choose a stock with more cores".into());
        findings.push(finding);
        run.body.tie = Field::Bad;
    }
}

fn splits(plan: &Plan, findings: &mut Vec<Finding>) {
    for endpoint in &plan.endpoints {
        let Some(split) = endpoint.split.stated() else {
            continue;
        };
        let total: f64 = split.values().map(|share| share.number()).sum();
        let inlets = endpoint.inlets.value().map_or(1, |count| count.0) as usize;
        let parts = split.0.len();
        let says = if (total - 100.0).abs() > 0.1 {
            format!(
                "the shares of {} total {} %, not 100 %",
                endpoint.id,
                plain(total)
            )
        } else if parts != inlets && !endpoint.inlets.is_bad() {
            {
                let inlets = if inlets == 1 {
                    "1 inlet".to_owned()
                } else {
                    format!("{inlets} inlets")
                };
                format!(
                    "the load of {} is split into {parts} shares, but it has {inlets}",
                    endpoint.id
                )
            }
        } else {
            continue;
        };
        let mut finding = Finding::new(
            "plan.split-not-whole",
            Level::Fault,
            endpoint.id.clone(),
            says,
            split.span,
            "these shares",
        );
        if let Some(span) = endpoint.inlets.span() {
            finding = finding.with_mark(span, "inlets");
        }
        finding.put_right =
            Some("give one share for each inlet, in the order of the runs, 100 % in all".into());
        findings.push(finding);
    }
}

/// A run from a thing to itself; only a ring may return to its circuit, and not in one run. Its other
/// end counts as not read: what it does not reach is not told once more.
fn ends(plan: &mut Plan, findings: &mut Vec<Finding>) {
    for at in 0..plan.runs.len() {
        let run = &plan.runs[at];
        let (Field::Stated(from), Field::Stated(to)) = (&run.from, &run.to) else {
            continue;
        };
        if from.thing != to.thing {
            continue;
        }
        let says = format!(
            "{} goes from {} to the same place",
            run.id,
            plan.id(from.thing)
        );
        let mut finding = Finding::new(
            "plan.goes-nowhere",
            Level::Fault,
            run.id.clone(),
            says,
            to.span,
            "the run ends where it starts",
        )
        .with_mark(from.span, "it starts here");
        finding.put_right = Some("name the endpoint at its other end".into());
        findings.push(finding);
        plan.runs[at].body.to = Field::Bad;
    }
}

/// Things that are, by way of others, part of themselves. Each circle is reported once.
fn circles(
    plan: &Plan,
    sort: Sort,
    count: usize,
    key: &str,
    holders: impl Fn(usize) -> Vec<Holder>,
    findings: &mut Vec<Finding>,
) {
    #[derive(Clone, Copy, PartialEq)]
    enum Seen {
        Not,
        OnPath,
        Done,
    }
    let mut seen = vec![Seen::Not; count];
    let mut depth = vec![0_usize; count];
    // Of what is on the path, where it says what holds it.
    let mut said: Vec<Option<Span>> = vec![None; count];
    for start in 0..count {
        if seen[start] != Seen::Not {
            continue;
        }
        // A stack of its own instead of recursion: chains may be as long as the plan.
        let mut path = vec![(start, holders(start))];
        seen[start] = Seen::OnPath;
        // What hangs on a circle has no depth, and the circle is reported.
        let mut circular = false;
        while let Some((at, rest)) = path.last_mut() {
            let at = *at;
            let Some(Holder {
                at: next,
                said: here,
            }) = rest.pop()
            else {
                seen[at] = Seen::Done;
                path.pop();
                let below = holders(at).into_iter().map(|holder| depth[holder.at]);
                depth[at] = if circular {
                    1
                } else {
                    1 + below.max().unwrap_or(0)
                };
                // Reported where the bound is passed, not again for all that lies further in.
                if depth[at] == DEEPEST + 1 {
                    let thing = Thing::new(sort, at);
                    findings.push(too_deep(plan, thing, key, said[at]));
                }
                continue;
            };
            said[at] = Some(here);
            match seen[next] {
                Seen::Done => {}
                Seen::Not => {
                    seen[next] = Seen::OnPath;
                    path.push((next, holders(next)));
                }
                Seen::OnPath => {
                    circular = true;
                    let thing = Thing::new(sort, next);
                    let says = if at == next {
                        format!("{} is said to be `{key}` itself", plan.id(thing))
                    } else {
                        format!(
                            "{} is said to be `{key}` itself, by way of {}",
                            plan.id(thing),
                            plan.id(Thing::new(sort, at))
                        )
                    };
                    let mut finding = Finding::new(
                        "plan.in-itself",
                        Level::Fault,
                        plan.id(thing).clone(),
                        says,
                        said[next].unwrap_or(plan.place(thing)),
                        "part of itself",
                    );
                    if at != next {
                        finding = finding.with_mark(here, "and this closes the circle");
                    }
                    finding.put_right = Some(format!("take out one `{key}` of the circle"));
                    findings.push(finding);
                }
            }
        }
    }
}

fn too_deep(plan: &Plan, thing: Thing, key: &str, said: Option<Span>) -> Finding {
    let says = format!(
        "{} is `{key}` more than {} others in a row, allowed is {}",
        plan.id(thing),
        DEEPEST - 1,
        DEEPEST - 1
    );
    Finding::new(
        "plan.nested-too-deep",
        Level::Fault,
        plan.id(thing).clone(),
        says,
        said.unwrap_or(plan.place(thing)),
        "one too many",
    )
    .with_put_right(format!(
        "take out one `{key}` of the chain; what lies further in is not followed to its end"
    ))
}
