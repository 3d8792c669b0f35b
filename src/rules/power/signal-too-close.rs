//! A low-voltage run that lies too close beside power conductors: by code beside those without a
//! jacket, by EN 50174-2 beside any.

use std::collections::HashSet;

use serde::Deserialize;

use crate::figures::Figure;
use crate::figures::apart::Separation;
use crate::findings::{Finding, Lack, Level, Report};
use crate::house::{Circuits, House, LackOf, Nearby, Neighbour, is_jacketed};
use crate::plan::{Apart, Beside, Field, Region, Service, Stated};
use crate::rules::{Limit, Sheet, in_units_of, lead_away, stated_distance, under};
use crate::units::{Distance, figure3};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    distance: Limit<Distance>,
    distance_metric: Limit<Distance>,
    /// The standard whose tables say how far.
    by_table: Limit<String>,
}

const LOW_VOLTAGE: [Service; 6] = [
    Service::Speaker,
    Service::Line,
    Service::Video,
    Service::Data,
    Service::Coax,
    Service::Control,
];

/// What EN 50174-2 is for, of the services that the table has a class of cable for.
const CABLING: [Service; 2] = [Service::Data, Service::Coax];

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let (Some(limits), Ok(region)) = (sheet.limits::<Limits>(), house.region()) else {
        return;
    };
    let live = |run: &usize| !house.is_spare(*run);
    let power = || house.runs_of(Service::Power).filter(live);
    let jackets: Vec<_> = house.plan.stock.iter().map(is_jacketed).collect();
    let mut case = Case {
        house,
        sheet,
        limits,
        region,
        jackets,
        circuits: None,
    };
    let services = if case.by_table() {
        &CABLING[..]
    } else {
        &LOW_VOLTAGE
    };
    let mut unknown = house.runs_of_no_known_service();
    if unknown.next().is_none() && !power().any(|run| case.matters(run)) {
        // Nothing can be too close to power that is kept from everything.
        for _ in services.iter().flat_map(|service| house.runs_of(*service)) {
            out.checked();
        }
        return;
    }
    let nearby = house.nearby(|run| case.matters(run));
    // What only disturbs is no hazard.
    let quiet = case.by_table();
    let gap = |out: &mut Report, on, lack| match quiet {
        true => out.gap(sheet.id, on, lack),
        false => out.loud_gap(sheet.id, on, lack),
    };
    let (mut told, mut blind) = (HashSet::new(), false);
    for run in services.iter().flat_map(|service| house.runs_of(*service)) {
        let entry = &house.plan.runs[run];
        match case.verdict(&nearby, run) {
            Ok(close) => {
                out.checked();
                blind |= entry.beside.is_absent();
                if let Some(nearest) = close.first() {
                    out.find(case.finding(run, &close, nearest));
                }
            }
            Err((on, lack)) => {
                let new = match &lack {
                    Lack::Absent(what) => told.insert((on.clone(), what.clone())),
                    Lack::Reported => false,
                };
                if new {
                    gap(out, on, lack);
                }
            }
        }
    }
    // Of what has no known service it is not known whether it may lie beside power.
    if power().any(|run| case.matters(run)) {
        for run in house.runs_of_no_known_service() {
            if let Err(lack) = house.want_service(run) {
                gap(out, &house.plan.runs[run].id, lack);
            }
        }
    }
    if blind {
        for run in power().filter(|run| case.matters(*run)) {
            if let Err(lack) = house.want_through(run) {
                gap(out, &house.plan.runs[run].id, lack);
            }
        }
    }
}

/// An entry of `beside` that is too close.
struct Close<'p> {
    power: usize,
    beside: &'p Beside,
    apart: &'p Stated<Apart>,
    /// The least distance, in the author's units.
    least: Distance,
    /// By the table, where it is that.
    table: Option<Separation>,
}

struct Case<'a, 'p> {
    house: &'a House<'p>,
    sheet: &'a Sheet,
    limits: &'a Limits,
    region: Region,
    /// Whether each stock has a jacket.
    jackets: Vec<Result<bool, Lack>>,
    circuits: Option<Circuits<'p>>,
}

impl<'p> Case<'_, 'p> {
    fn by_table(&self) -> bool {
        self.limits.by_table.holds_in(self.region)
    }

    /// Whether a power run can be too close to anything.
    fn matters(&self, run: usize) -> bool {
        if self.by_table() {
            !self.house.is_in_solid_metal(run)
        } else {
            self.is_bare(run) != Ok(false)
        }
    }

    /// Whether power conductors lie without a jacket or raceway around them.
    fn is_bare(&self, run: usize) -> Result<bool, LackOf<'p>> {
        if self.house.is_enclosed(run) {
            return Ok(false);
        }
        let entry = &self.house.plan.runs[run];
        let stock = entry.stock.want("stock", &entry.id);
        let stock = stock.map_err(|lack| (&entry.id, lack))?.at();
        match &self.jackets[stock] {
            Ok(jacketed) => Ok(!jacketed),
            Err(lack) => Err((&self.house.plan.stock[stock].id, lack.clone())),
        }
    }

    /// What a run is too close to, the nearest first.
    fn verdict(&mut self, nearby: &Nearby<'p>, run: usize) -> Result<Vec<Close<'p>>, LackOf<'p>> {
        let house = self.house;
        let entry = &house.plan.runs[run];
        let kept = if self.by_table() {
            house.is_in_solid_metal(run)
        } else {
            house.is_enclosed(run)
        };
        if kept {
            return Ok(Vec::new());
        }
        let entries = nearby.of(run);
        let (mut close, mut lack) = (Vec::new(), None);
        let told = |entry: &Neighbour<'_>| entry.beside.value.apart.value().is_some();
        for entry in entries {
            match self.too_close(run, entry) {
                Ok(found) => close.extend(found),
                Err(missing) => {
                    // Another entry of the same pair may tell.
                    let elsewhere =
                        |other: &Neighbour<'_>| other.power == entry.power && told(other);
                    if told(entry) || !entries.iter().any(elsewhere) {
                        lack = lack.or(Some(missing));
                    }
                }
            }
        }
        if !close.is_empty() {
            close.sort_by(|a: &Close<'_>, b| a.apart.base().total_cmp(&b.apart.base()));
            return Ok(close);
        }
        if let Some(lack) = lack {
            return Err(lack);
        }
        let own = |lack| (&entry.id, lack);
        if let Some(power) = nearby.unstated(house, run).map_err(own)? {
            self.held()?;
            house.want_service(power).map_err(own)?;
            if !self.by_table() {
                self.is_bare(power)?;
            }
            let power = &house.plan.runs[power].id;
            return Err(own(Lack::absent(format!(
                "beside of {} ({power} passes the same way)",
                entry.id
            ))));
        }
        // Nothing is known of a way that is not stated.
        if entry.beside.is_absent() && nearby.any() {
            house.want_through(run).map_err(own)?;
        }
        Ok(close)
    }

    /// Whether a limit is held for the region at all.
    fn held(&self) -> Result<(), LackOf<'p>> {
        if self.by_table() || self.limits.distance.holds_in(self.region) {
            return Ok(());
        }
        // One gap: on the first run, whichever that is.
        let first = &self.house.plan.runs[0].id;
        Err((
            first,
            Lack::absent(format!(
                "a limit for {} on low voltage beside power",
                self.region
            )),
        ))
    }

    fn too_close(
        &mut self,
        run: usize,
        entry: &Neighbour<'p>,
    ) -> Result<Option<Close<'p>>, LackOf<'p>> {
        let house = self.house;
        let signal = &house.plan.runs[run].id;
        let power = entry.power as usize;
        let own = |lack| (signal, lack);
        let beside = &entry.beside.value;
        let missing = || {
            let power = &house.plan.runs[power].id;
            own(Lack::absent(format!("apart of {signal} beside {power}")))
        };
        let bare = match self.by_table() {
            true => Ok(true),
            false => self.is_bare(power),
        };
        if bare == Ok(false) {
            return Ok(None);
        }
        self.held()?;
        let apart = match &beside.apart {
            Field::Stated(apart) => Some(apart),
            Field::Bad => return Err(own(Lack::Reported)),
            Field::Absent => None,
        };
        if self.by_table() {
            if house.service(power).is_none() {
                house.want_service(power).map_err(own)?;
            }
            let circuits = self.circuits.get_or_insert_with(|| house.circuits_by_run());
            let needed = house.apart(run, power, circuits).map_err(own)?;
            let Some(apart) = apart else {
                let nothing = needed.most.is_some_and(|most| most.value() == 0.0);
                return if nothing { Ok(None) } else { Err(missing()) };
            };
            let metres = |separation: &Separation| separation.value() / 1000.0;
            if under(*apart.value, metres(&needed.least)) {
                return Ok(Some(Close {
                    power,
                    beside,
                    apart,
                    least: round_up(*apart.value, metres(&needed.least)),
                    table: Some(needed.least),
                }));
            }
            let enough = needed.most.as_ref();
            return match enough.is_some_and(|most| !under(*apart.value, metres(most))) {
                true => Ok(None),
                false => Err(needed.lack.unwrap_or(own(Lack::Reported))),
            };
        }
        let Some(apart) = apart else {
            bare?;
            return Err(missing());
        };
        let limit = self.limit(*apart.value);
        if !under(*apart.value, limit.value.base()) {
            return Ok(None);
        }
        house.want_service(power).map_err(own)?;
        bare?;
        Ok(Some(Close {
            power,
            beside,
            apart,
            least: limit.value,
            table: None,
        }))
    }

    fn limit(&self, written: Distance) -> &Limit<Distance> {
        in_units_of(written, &self.limits.distance, &self.limits.distance_metric)
    }

    fn finding(&self, run: usize, all: &[Close<'_>], nearest: &Close<'_>) -> Finding {
        let house = self.house;
        let entry = &house.plan.runs[run];
        let power = &house.plan.runs[nearest.power];
        let (distance, least) = (*nearest.apart.value, nearest.least);
        let says = match &nearest.table {
            Some(_) => format!(
                "{} lies {distance} beside {}, where {} asks for {least}",
                entry.id, power.id, self.limits.by_table.value
            ),
            None => format!(
                "{} lies {distance} beside {}, which has no jacket, where {least} is the least",
                entry.id, power.id
            ),
        };
        let mut finding = self
            .sheet
            .finding(&entry.id, says, nearest.apart.span, "this close");
        finding = finding.with_each_on(all.iter().map(|close| &house.plan.runs[close.power].id));
        let from = match all.len() - 1 {
            0 => power.id.to_string(),
            more => format!("{} and {more} more", power.id),
        };
        let title = format!("lead {} {least} from {from}", entry.id);
        let entries = all.iter().map(|close| (close.beside, close.least));
        let redline = lead_away(house, entry, title, entries);
        let mut figure = stated_distance(distance);
        let stock = |run: &crate::plan::Run| {
            let stock = run.stock.value()?;
            Some(&house.plan.stock[stock.at()])
        };
        let finding = match &nearest.table {
            Some(table) => {
                figure.working = format!("{}; least {}", figure.working, table.working());
                let by_table = &self.limits.by_table;
                finding.level = by_table.level.unwrap_or(Level::Fault);
                let memory = if table.is_from_memory() {
                    "; the class a row from memory"
                } else {
                    ""
                };
                if let Some(grade) = stock(entry).and_then(|stock| stock.grade.span()) {
                    finding = finding.with_mark(grade, "its category");
                }
                finding
                    .with_figure(figure, table.value())
                    .with_authority(format!("{}{memory}", by_table.authority))
                    .with_put_right(format!(
                        "lead {} {} mm or more from {from}, or in closed metal",
                        entry.id,
                        figure3(table.value())
                    ))
            }
            None => {
                if let Some(stock) = stock(power)
                    && let Some(span) = stock.jacketed.span().or(stock.rating.span())
                {
                    finding = finding.with_mark(span, "no jacket");
                }
                finding
                    .with_figure(figure, least.base() * 1000.0)
                    .with_authority(self.limit(distance).authority.clone())
                    .with_put_right(format!(
                        "lead {} {least} or more from {from}, or run the power as NM-B or MC cable or in raceway",
                        entry.id
                    ))
            }
        };
        finding.with_redline(redline)
    }
}

/// So many metres in the author's units, rounded up to what one can measure.
fn round_up(written: Distance, metres: f64) -> Distance {
    let spelling = written.unit().spelling;
    let step = match spelling {
        "mm" => 1.0,
        "cm" => 0.1,
        "in" => 0.25,
        "ft" => 0.05,
        _ => 0.001,
    };
    let number = metres / written.unit().size;
    // A rounding of the division must not add a step.
    let steps = (number / step * (1.0 - 1e-9)).ceil();
    Distance::new((steps * step * 1e6).round() / 1e6, spelling).unwrap_or(written)
}
