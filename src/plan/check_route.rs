//! A conduit whose route is unlike the length or the bends that are stated beside it.

use super::field::{Entry, Field, Stated};
use super::pathway::Bend;
use super::quantity::Bounded;
use super::shape::List;
use super::{Pathway, Stretch};
use crate::findings::{Finding, Level};
use crate::units::{figure3, plain};

/// A measure is good to a hundredth (common practice, no source).
const MEASURE: f64 = 0.01;
/// Radius in metres up to which a stated length may count the arcs of the bends and not their corners: 12 in, the
/// widest of NEC chapter 9 table 2 up to trade size 2, from memory.
const ARC: f64 = 0.3048;
/// A rounding of angles, in degree.
const ROUNDING: f64 = 0.5;

/// Reports routes that do not fit what is stated beside them, and takes those as not read. Bends that only the route
/// tells are in no doubt where it is the lengths that differ: they count as stated.
pub(super) fn routes(pathways: &mut [Entry<Pathway>], findings: &mut Vec<Finding>) {
    for way in pathways {
        if let Some(finding) = unlike(way) {
            findings.push(finding);
            if way.bends.is_absent() {
                way.body.bends = routed_bends(way);
            }
            way.body.route = Field::Bad;
        }
    }
}

fn routed_bends(way: &Entry<Pathway>) -> Field<List<Bend>> {
    let Some(route) = way.route.stated() else {
        return Field::Absent;
    };
    let bends = route.iter().filter_map(|stretch| match stretch.value {
        Stretch::Bend(angle) => Some(Stated {
            value: Bounded(angle),
            span: stretch.span,
        }),
        Stretch::Straight(_) => None,
    });
    Field::Stated(Stated {
        value: List(bends.collect()),
        span: route.span,
    })
}

fn unlike(way: &Entry<Pathway>) -> Option<Finding> {
    let route = way.route.stated()?;
    let bent = || {
        way.stretches().filter_map(|stretch| match stretch {
            Stretch::Bend(angle) => Some(angle.base()),
            Stretch::Straight(_) => None,
        })
    };
    let routed: f64 = bent().sum();
    let stated = way.bends.stated().map(|bends| {
        (
            bends.span,
            bends.values().map(|bend| bend.base()).sum::<f64>(),
        )
    });
    if let Some((span, stated)) = stated
        && (stated - routed).abs() > ROUNDING
    {
        let says = format!(
            "the route of {} bends by {} deg, its `bends` by {}",
            way.id,
            plain(routed),
            plain(stated)
        );
        return Some(finding(way, says, route.span).with_mark(span, "the bends as stated"));
    }
    let (length, straights) = (way.length.stated()?, way.straights()?);
    let radius = way.radius.value().map_or(ARC, |radius| radius.base());
    let arcs = routed.to_radians() * radius;
    let (least, most) = (
        straights.base() * (1.0 - MEASURE),
        (straights.base() + arcs) * (1.0 + MEASURE),
    );
    if (least..=most).contains(&length.base()) {
        return None;
    }
    let shown = length.same_unit(straights.quantity());
    let says = format!(
        "the straights of {} make {} {}, its `length` is {}",
        way.id,
        figure3(shown.number()),
        shown.unit().spelling,
        ***length
    );
    Some(finding(way, says, route.span).with_mark(length.span, "the length as stated"))
}

fn finding(way: &Entry<Pathway>, says: String, at: crate::yaml::Span) -> Finding {
    Finding::new(
        "plan.route-unlike",
        Level::Fault,
        way.id.clone(),
        says,
        at,
        "this route",
    )
    .with_put_right("measure again, and keep the route alone: it tells length and bends")
}
