//! A rack or cabinet in the working space before a breaker panel.

use crate::findings::{Finding, Lack, Report, Shown};
use crate::house::{Front, House, Seen};
use crate::plan::{EndpointKind, Region};
use crate::rules::Sheet;
use crate::tables::protection::working_space;
use crate::units::Distance;

pub use crate::rules::NoLimits as Limits;

/// Pairs of panel and body that are measured in one plan; no house has more.
const MOST_PAIRS: usize = 1_000_000;
/// A rounding, in metres.
const ROUNDING: f64 = 1e-6;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let (Ok(region), Some(space)) = (house.region(), working_space()) else {
        return;
    };
    if house
        .endpoints_of(EndpointKind::BreakerPanel)
        .next()
        .is_none()
    {
        return;
    }
    let bodies = house.bodies();
    let mut asked = vec![false; house.plan.endpoints.len()];
    let mut pairs = 0_usize;
    for panel in house.endpoints_of(EndpointKind::BreakerPanel) {
        let id = &house.plan.endpoints[panel].id;
        let room = house.want_room(panel).ok();
        pairs = bodies.count(room).saturating_add(pairs);
        if pairs > MOST_PAIRS {
            let lack = Lack::absent(format!("fewer things around {id}"));
            out.loud_gap(sheet.id, id, lack);
            continue;
        }
        let hosts: Vec<usize> = house.hosts(panel).collect();
        let mut near = bodies.near(room);
        near.retain(|body| !hosts.contains(body));
        if near.is_empty() {
            continue;
        }
        let front = if region != Region::Us {
            Err(Lack::absent(format!("a limit for {region}")))
        } else {
            house.front(panel)
        };
        let front = match front {
            Ok(front) => front,
            Err(lack) => {
                out.loud_gap(sheet.id, id, lack);
                continue;
            }
        };
        let mut view = View {
            space,
            front,
            sure: Vec::new(),
            may_be: Vec::new(),
        };
        let mut whole = true;
        for body in near {
            match house.seen(&view.front, body) {
                Ok([least, most]) => {
                    view.sure
                        .extend(view.is_before(&least).then_some((body, least)));
                    view.may_be
                        .extend(view.is_before(&most).then_some((body, most)));
                }
                // The panel's own size is asked for first.
                Err(_) if view.front.unsized_panel.is_some() => {}
                Err(lack) => {
                    whole = false;
                    // In another room it would be in nobody's way.
                    let lack = house.want_room(body).map_or_else(|room| room, |_| lack);
                    if !std::mem::replace(&mut asked[body], true) {
                        out.loud_gap(sheet.id, &house.plan.endpoints[body].id, lack);
                    }
                }
            }
        }
        let may_be = view.in_the_way(&view.may_be).map(|(body, ..)| body);
        if let Some(way) = view.in_the_way(&view.sure) {
            out.checked();
            out.find(finding(house, sheet, panel, &view, way));
        } else if let Some(body) = may_be {
            let body = &house.plan.endpoints[body];
            if let Err(lack) = body.faces.want("faces", &body.id) {
                out.loud_gap(sheet.id, &body.id, lack);
            }
        } else if let Some(lack) = view.front.unsized_panel {
            out.loud_gap(sheet.id, id, lack);
        } else if whole {
            out.checked();
        }
    }
}

/// What stands before a panel.
struct View {
    /// Width, depth, height that must be free.
    space: [Distance; 3],
    front: Front,
    /// Bodies that surely stand within the depth and the height of the space.
    sure: Vec<(usize, Seen)>,
    /// The same as far as the plan says.
    may_be: Vec<(usize, Seen)>,
}

/// A body in the way, another one that narrows the space from the other side, and what is free.
type Way = (usize, Option<usize>, Free);

/// How much is free, in metres.
#[derive(Debug, Clone, Copy)]
enum Free {
    Depth(f64),
    Width(f64),
}

impl View {
    /// Whether a body is within the depth and the height of the space, however far aside.
    fn is_before(&self, seen: &Seen) -> bool {
        let [_, depth, height] = self.space.map(Distance::base);
        let within = |range: [f64; 2], to: f64| range[0] < to - ROUNDING && range[1] > ROUNDING;
        within(seen.away, depth) && within(seen.up, height)
    }

    fn in_the_way(&self, bodies: &[(usize, Seen)]) -> Option<Way> {
        let half = self.front.width / 2.0;
        let before =
            |seen: &Seen| seen.aside[0] < half - ROUNDING && seen.aside[1] > ROUNDING - half;
        // Square before the panel: the nearest of them.
        let square = bodies.iter().filter(|body| before(&body.1));
        let nearest = square.min_by(|a, b| a.1.away[0].total_cmp(&b.1.away[0]));
        if let Some((body, seen)) = nearest {
            return Some((*body, None, Free::Depth(seen.away[0].max(0.0))));
        }
        // On both sides: the space may shift between them.
        let side = |left: bool| {
            let sided = bodies.iter().filter_map(move |(body, seen)| {
                let away = if left { -seen.aside[1] } else { seen.aside[0] };
                (away > 0.0).then_some((*body, away))
            });
            sided.min_by(|a, b| a.1.total_cmp(&b.1))
        };
        let ((left, from), (right, to)) = (side(true)?, side(false)?);
        let free = from + to;
        let wanted = self.space[0].base().max(self.front.width);
        (free < wanted - ROUNDING).then_some((left, Some(right), Free::Width(free)))
    }
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    panel: usize,
    view: &View,
    (body, other, free): Way,
) -> Finding {
    let ends = &house.plan.endpoints;
    // In the unit of the body's place.
    let point = house.standing(body).point;
    let own = point.map_or(view.space[0], |point| point[0]);
    let (panel, body) = (&ends[panel], &ends[body]);
    let show = |metres: f64| own.show_metres(metres);
    let is_sized = view.front.unsized_panel.is_none();
    let from = if is_sized { "the front of " } else { "" };
    let (says, name, value, limit, label) = match free {
        Free::Depth(metres) => (
            format!(
                "{} stands {} before {from}{}, {} must be free",
                body.id,
                show(metres),
                panel.id,
                view.space[1]
            ),
            "free-depth",
            metres,
            view.space[1].base(),
            "in front of the panel",
        ),
        Free::Width(metres) => (
            format!(
                "{} and {} leave {} before {}, {} must be free",
                body.id,
                other.map_or(&panel.id, |other| &ends[other].id),
                show(metres),
                panel.id,
                show(view.space[0].base().max(view.front.width))
            ),
            "free-width",
            metres,
            view.space[0].base().max(view.front.width),
            "on one side of the space",
        ),
    };
    let shown = Shown {
        name,
        value: value * 1000.0,
        unit: "mm",
        working: match free {
            Free::Depth(_) if is_sized => format!(
                "from the front of {} to the near side of {}",
                panel.id, body.id
            ),
            Free::Depth(_) => format!(
                "from the place of {0}, which states no size, to the near side of {1}; from the front of {0} it is less",
                panel.id, body.id
            ),
            Free::Width(_) => format!(
                "between the sides of what stands left and right of {}",
                panel.id
            ),
        },
    };
    let mut finding = sheet.finding(&body.id, says, body.span, label);
    if let Some(other) = other {
        finding = finding
            .with_on(&ends[other].id)
            .with_mark(ends[other].span, "and on the other");
    }
    let missing = show(limit - value);
    let advice = match free {
        Free::Depth(_) => format!(
            "move {} {missing} or more away from {}, or out of its way to the side",
            body.id, panel.id
        ),
        Free::Width(_) => format!("move one of them {missing} or more aside"),
    };
    finding
        .with_on(&panel.id)
        .with_mark(
            panel.faces.span().unwrap_or(panel.span),
            "the panel looks this way",
        )
        .with_figure(shown, limit * 1000.0)
        .with_authority("NEC 110.26(A), from memory")
        .with_put_right(advice)
}
