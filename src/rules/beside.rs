//! What the rules on runs beside power share: distances as stated, limits in the author's units, the
//! edit that leads a run away.

use super::Limit;
use crate::findings::{Redline, RedlineKind, Shown};
use crate::house::House;
use crate::plan::{Beside, Entry, Run};
use crate::units::{Distance, plain};

/// What is as far, or as short, as the limit is good; a rounding must not say otherwise.
const ROUNDING: f64 = 1.0 - 1e-9;

/// Whether a distance is under a limit, in metres, by more than rounding.
pub fn under(distance: Distance, limit: f64) -> bool {
    distance.base() < limit * ROUNDING
}

/// A limit in the units that the author writes: the metric one beside a metric distance.
pub fn in_units_of<'l>(
    written: Distance,
    trade: &'l Limit<Distance>,
    metric: &'l Limit<Distance>,
) -> &'l Limit<Distance> {
    if written.unit().spelling.ends_with('m') {
        metric
    } else {
        trade
    }
}

/// How far apart two runs lie, as the plan states it.
pub fn stated_distance(distance: Distance) -> Shown {
    let millimetres = distance.base() * 1000.0;
    Shown {
        name: "apart",
        value: millimetres,
        unit: "mm",
        working: match distance.unit().spelling {
            "mm" => format!("{distance} as stated"),
            _ => format!("{distance} as stated = {} mm", plain(millimetres)),
        },
    }
}

/// The redline that leads a run so far away from what it lies beside: all entries, or none where
/// one cannot be edited.
pub fn lead_away<'b>(
    house: &House<'_>,
    run: &Entry<Run>,
    title: String,
    entries: impl Iterator<Item = (&'b Beside, Distance)>,
) -> Option<Redline> {
    let edits: Option<Vec<_>> = entries
        .map(|(beside, apart)| house.edit(run, &beside.apart, "apart", &apart.to_string()))
        .collect();
    Some(Redline {
        kind: RedlineKind::Change,
        title,
        edits: edits?,
    })
}
