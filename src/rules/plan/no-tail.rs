//! A stated length that leaves nothing to connect the cable with.

use std::collections::HashSet;

use serde::Deserialize;

use crate::findings::{Finding, Id, Lack, Level, Report, Shown};
use crate::house::{House, Missing, Node, Tail};
use crate::plan::{Entry, Long, Region, Run, Service, Stated};
use crate::rules::{Limit, Sheet};
use crate::units::{Distance, Percent};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    rack: Limit<Distance>,
    rack_metric: Limit<Distance>,
    projector: Limit<Distance>,
    projector_metric: Limit<Distance>,
    plate: Limit<Distance>,
    plate_metric: Limit<Distance>,
    /// A length that would do for a way slantwise through the house, and falls short by more than
    /// this of the way along its axes.
    short_of_axes: Limit<Percent>,
    /// How far under the straight line a length is that rule's which finds it impossible.
    pub short_of_line: Limit<Percent>,
}

/// What ends need in the plan's region, so that its sentences have round numbers of its own units.
struct Needs<'s> {
    rack: &'s Limit<Distance>,
    projector: &'s Limit<Distance>,
    plate: &'s Limit<Distance>,
}

impl Limits {
    /// Where the region is not known, what ends need in any: the metric numbers are the lesser.
    fn needs(&self, region: Option<Region>) -> Needs<'_> {
        if region.is_some_and(|region| self.rack.holds_in(region)) {
            Needs {
                rack: &self.rack,
                projector: &self.projector,
                plate: &self.plate,
            }
        } else {
            Needs {
                rack: &self.rack_metric,
                projector: &self.projector_metric,
                plate: &self.plate_metric,
            }
        }
    }
}

/// A rounding between feet and metres.
const ROUNDING: f64 = 1e-9;

/// What a run needs at both ends: the least, and the most that it may turn out to be.
#[derive(Clone, Copy)]
struct Tails {
    from: Distance,
    to: Distance,
    most: f64,
    /// What keeps the two from being one.
    unknown: Option<Unknown>,
}

#[derive(Clone, Copy)]
enum Unknown {
    Kind(usize),
    Service,
}

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    let needs = limits.needs(house.region().ok());
    let mut gaps = Gaps::default();
    for (index, run) in house.plan.runs.iter().enumerate() {
        let Some(length) = run.length.stated() else {
            continue;
        };
        if house.is_within_one(index) {
            continue;
        }
        let Some(way) = house.run_way(index) else {
            continue;
        };
        let (conduits, lack) = house.conduits_length(run);
        let stated = length.base() * (1.0 + ROUNDING);
        let least_line = way.straight * (1.0 - limits.short_of_line.value.base());
        if stated < least_line || stated < conduits {
            // It is plan.length-impossible's.
            out.checked();
            continue;
        }
        let Some(tails) = tails(house, &needs, index) else {
            continue;
        };
        let ends = tails.from.base() + tails.to.base();
        let path = way.axes.max(conduits);
        let (least, slack) = (way.least.max(conduits), limits.short_of_axes.value.base());
        let is_sure = stated < least + ends;
        if is_sure || stated < (path + ends) * (1.0 - slack) {
            out.checked();
            let case = Case {
                house,
                run,
                index,
                length,
                path: if is_sure { least } else { path },
                way: match (conduits > way.axes, is_sure) {
                    (true, _) => "of conduit",
                    (_, false) => "along the axes",
                    _ if conduits > way.least => "of conduit",
                    _ => "at the very least",
                },
                is_sure,
                tails,
            };
            out.find(case.finding(sheet, limits, &needs));
        } else if let Some(missing) = way.missing {
            gaps.add(missing);
        } else if let Some(lack) = lack {
            let mut conduits = house.outermost_conduits(run).into_iter();
            let unknown = conduits.find(|conduit| conduit.laid_length().is_none());
            gaps.conduit(unknown.map_or(&run.id, |conduit| &conduit.id), lack);
        } else if stated < path + tails.most
            && let Some(unknown) = tails.unknown
        {
            match unknown {
                Unknown::Kind(endpoint) => gaps.kinds.push(endpoint),
                Unknown::Service => {
                    let lack = house.want_service(index).err();
                    out.gap(sheet.id, &run.id, lack.unwrap_or(Lack::Reported));
                }
            }
        } else {
            out.checked();
        }
    }
    gaps.tell(house, sheet, out);
}

/// What each end of a run needs. `None` where an end could not be read.
fn tails(house: &House<'_>, needs: &Needs<'_>, index: usize) -> Option<Tails> {
    let (from, to) = house.ends(index)?;
    let (rack, plate) = (needs.rack.value, needs.plate.value);
    let (mut most, mut unknown) = (0.0, None);
    let service = house.service(index);
    let mut tail = |node: Node| {
        let (likely, limit) = match house.tail(node) {
            // Building wire ends in a box, without a loop to pull equipment out by.
            _ if service == Some(Service::Power) => (plate, plate),
            Tail::Rack => (rack, rack),
            Tail::Projector => (needs.projector.value, needs.projector.value),
            Tail::Plate => (plate, plate),
            Tail::Unknown(endpoint) => {
                unknown = Some(Unknown::Kind(endpoint));
                (plate, rack)
            }
        };
        most += limit.base();
        if service.is_none() && likely.base() > plate.base() {
            unknown = Some(Unknown::Service);
            return plate;
        }
        likely
    };
    let (from, to) = (tail(from), tail(to));
    Some(Tails {
        from,
        to,
        most,
        unknown,
    })
}

/// What is missing, each once: very many runs end at one node.
#[derive(Default)]
struct Gaps {
    known: HashSet<Missing>,
    missing: Vec<Missing>,
    panels: Vec<usize>,
    kinds: Vec<usize>,
    conduits: Vec<(Id, Lack)>,
    known_conduits: HashSet<Id>,
}

impl Gaps {
    fn add(&mut self, missing: Missing) {
        if self.known.insert(missing) {
            match missing {
                Missing::Panel(circuit) => self.panels.push(circuit),
                other => self.missing.push(other),
            }
        }
    }

    fn conduit(&mut self, id: &Id, lack: Lack) {
        if self.known_conduits.insert(id.clone()) {
            self.conduits.push((id.clone(), lack));
        }
    }

    fn tell(mut self, house: &House<'_>, sheet: &Sheet, out: &mut Report) {
        for missing in self.missing {
            if let Some((on, lacks)) = house.missing_words(missing) {
                out.gap(sheet.id, on, Lack::absent(lacks));
            }
        }
        // One panel gives all circuits their place.
        if let [first, others @ ..] = &self.panels[..]
            && let Some((on, mut lacks)) = house.missing_words(Missing::Panel(*first))
        {
            if !others.is_empty() {
                lacks += &format!(" and {} more", others.len());
            }
            out.gap(sheet.id, on, Lack::absent(lacks));
        }
        for (id, lack) in self.conduits {
            out.gap(sheet.id, &id, lack);
        }
        self.kinds.sort_unstable();
        self.kinds.dedup();
        for endpoint in self.kinds {
            let endpoint = &house.plan.endpoints[endpoint];
            if let Err(lack) = endpoint.kind.want("kind", &endpoint.id) {
                out.gap(sheet.id, &endpoint.id, lack);
            }
        }
    }
}

struct Case<'a, 'p> {
    house: &'a House<'p>,
    run: &'a Entry<Run>,
    index: usize,
    length: &'a Stated<Long>,
    path: f64,
    way: &'static str,
    /// No way through the house leaves enough.
    is_sure: bool,
    tails: Tails,
}

impl Case<'_, '_> {
    /// Metres in the unit of the stated length.
    fn shown(&self, metres: f64) -> String {
        self.length.show_metres(metres)
    }

    fn finding(&self, sheet: &Sheet, limits: &Limits, needs: &Needs<'_>) -> Finding {
        let (run, tails) = (self.run, self.tails);
        let (from, to) = (tails.from.base(), tails.to.base());
        let least = self.path + from + to;
        let by = if self.is_sure {
            ""
        } else {
            " along walls and joists"
        };
        let says = format!(
            "{} is said to be {} long, its way takes {}{by} and its ends {} more",
            run.id,
            ***self.length,
            self.shown(self.path),
            self.shown(from + to),
        );
        let id = |node: Option<Node>| node.map_or("", |node| self.house.id(node).as_str());
        let (start, end) = match self.house.ends(self.index) {
            Some((start, end)) => (Some(start), Some(end)),
            None => (None, None),
        };
        let working = format!(
            "{} {} + {} at {} + {} at {} = {}",
            self.shown(self.path),
            self.way,
            self.shown(from),
            id(start),
            self.shown(to),
            id(end),
            self.shown(least),
        );
        let figure = Shown {
            name: "route-length",
            value: self.length.base(),
            unit: "m",
            working,
        };
        let mut finding = sheet.finding(&run.id, says, self.length.span, "too short to connect");
        if !self.is_sure {
            finding.level = limits.short_of_axes.level.unwrap_or(Level::Advice);
        }
        for (node, tail) in [(start, from), (end, to)] {
            if let Some(node) = node {
                let label = format!("{} to connect it here", self.shown(tail));
                finding = finding
                    .with_on(self.house.id(node))
                    .with_mark(self.house.span(node), label);
            }
        }
        finding
            .with_figure(figure, least)
            .with_authority(needs.rack.authority.clone())
            .with_put_right(format!(
                "cut {} at {} or more, or measure its way again",
                run.id,
                self.shown(least)
            ))
    }
}
