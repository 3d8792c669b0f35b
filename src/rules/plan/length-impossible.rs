//! A stated length that is shorter than the run can be.

use std::borrow::Cow;
use std::collections::BTreeSet;

use serde::Deserialize;

use crate::findings::{Finding, Id, Lack, Report, Shown};
use crate::house::{House, Node};
use crate::plan::{Entry, Long, Run, Stated};
use crate::rules::{Limit, Sheet};
use crate::units::{Distance, Percent, unit};
use crate::yaml::Span;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    /// How much a stated length may fall short of the straight line.
    pub short_of_line: Limit<Percent>,
    /// What an estimate of a length that is not stated adds: a share, and a fixed length.
    pub slack_share: Limit<Percent>,
    pub slack_fixed: Limit<Distance>,
}

/// A rounding between feet and metres.
const ROUNDING: f64 = 1e-9;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    let short = limits.short_of_line.value.base();
    // What an end or a conduit lacks is one gap, however many runs ask for it.
    let mut lacks = BTreeSet::new();
    for (index, run) in house.plan.runs.iter().enumerate() {
        let Some(length) = run.length.stated() else {
            continue;
        };
        let stated = length.base() * (1.0 + ROUNDING);
        let line = house
            .straight_line(index)
            .map(|line| line.get::<unit::meter>());
        let (conduits, unknown) = house.conduits_length(run);
        let least = line.as_ref().map_or(0.0, |line| line * (1.0 - short));
        let case = Case {
            house,
            sheet,
            run,
            index,
            length,
        };
        if stated < least && least >= conduits {
            out.checked();
            out.find(case.short_of_line(line.unwrap_or(0.0), least, limits));
        } else if stated < conduits {
            out.checked();
            out.find(case.short_of_conduits(conduits));
        } else if line.is_err() || unknown.is_some() {
            if let Some((from, to)) = house.ends(index) {
                lacks.extend(
                    [from, to]
                        .into_iter()
                        .filter_map(|end| placeless(house, end)),
                );
            }
            for conduit in house.outermost_conduits(run) {
                if let Err(Lack::Absent(what)) = house.want_conduit_length(conduit) {
                    lacks.insert((&conduit.id, what));
                }
            }
        } else {
            out.checked();
        }
    }
    for (id, what) in lacks {
        out.gap(sheet.id, id, Lack::Absent(what));
    }
}

/// The thing that keeps an end from having a place, and what it lacks.
fn placeless<'p>(house: &House<'p>, end: Node) -> Option<(&'p Id, Cow<'static, str>)> {
    let Err(Lack::Absent(what)) = house.want_point(end) else {
        return None;
    };
    let stands = house.standing_endpoint(end).ok();
    let id = stands.map_or_else(|| house.id(end), |at| &house.plan.endpoints[at].id);
    Some((id, what))
}

struct Case<'a, 'p> {
    house: &'a House<'p>,
    sheet: &'a Sheet,
    run: &'a Entry<Run>,
    index: usize,
    length: &'a Stated<Long>,
}

impl Case<'_, '_> {
    /// Metres in the unit of the stated length.
    fn shown(&self, metres: f64) -> String {
        self.length.show_metres(metres)
    }

    fn short_of_line(&self, line: f64, least: f64, limits: &Limits) -> Finding {
        let says = format!(
            "{} is said to be {} long, the straight line between its ends is {}",
            self.run.id,
            ***self.length,
            self.shown(line),
        );
        let working = format!(
            "{} as stated; straight line {}, less {} = {}",
            ***self.length,
            self.shown(line),
            limits.short_of_line.value,
            self.shown(least),
        );
        let mut finding = self
            .finding(says, working, least)
            .with_authority(limits.short_of_line.authority.clone());
        let (from, to) = match self.house.ends(self.index) {
            Some((from, to)) => (Some(from), Some(to)),
            None => (None, None),
        };
        for (end, label) in [(from, "from here"), (to, "to here")] {
            if let Some(end) = end {
                finding = finding.with_on(self.house.id(end));
                if let Some(span) = self.place(end) {
                    finding = finding.with_mark(span, label);
                }
            }
        }
        finding
    }

    fn short_of_conduits(&self, metres: f64) -> Finding {
        let says = format!(
            "{} is said to be {} long, the conduits that it passes are {}",
            self.run.id,
            ***self.length,
            self.shown(metres),
        );
        let conduits: Vec<_> = self
            .house
            .outermost_conduits(self.run)
            .into_iter()
            .filter(|way| way.laid_length().is_some())
            .collect();
        let terms: Vec<String> = conduits
            .iter()
            .filter_map(|way| way.laid_length())
            .map(|length| length.to_string())
            .collect();
        let working = format!(
            "{} as stated; conduits {} = {}",
            ***self.length,
            terms.join(" + "),
            self.shown(metres)
        );
        let mut finding = self.finding(says, working, metres);
        for conduit in &conduits {
            finding = finding.with_on(&conduit.id);
        }
        for conduit in conduits.iter().take(2) {
            finding = finding.with_mark(
                (conduit.length.span().or(conduit.route.span())).unwrap_or(conduit.span),
                "a conduit on its way",
            );
        }
        finding
    }

    fn finding(&self, says: String, working: String, least: f64) -> Finding {
        let figure = Shown {
            name: "route-length",
            value: self.length.base(),
            unit: "m",
            working,
        };
        self.sheet
            .finding(&self.run.id, says, self.length.span, "too short")
            .with_figure(figure, least)
            .with_put_right(format!(
                "measure the route again: it is at least {}",
                self.shown(least)
            ))
    }

    /// Where the plan states the point of an end.
    fn place(&self, end: Node) -> Option<Span> {
        let endpoint = self.house.standing_endpoint(end).ok()?;
        self.house
            .hosts(endpoint)
            .find_map(|at| self.house.plan.endpoints[at].at.span())
    }
}
