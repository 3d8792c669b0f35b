//! A breaker larger than a conductor may carry that lies together with others.
//!
//! Long because what a plan leaves out is asked for where it decides alone, and once.

use std::cell::{OnceCell, RefCell};
use std::collections::HashSet;

use serde::Deserialize;

use crate::figures::Figure;
use crate::figures::bundle::BundledAmpacity;
use crate::findings::{Finding, Id, Lack, Redline, Report};
use crate::house::{Bundled, Carrying, Crowds, House, Node, Together};
use crate::plan::{EndpointKind, Region, Service};
use crate::rules::{Limit, Sheet, over, shown};
use crate::tables::ampacity::Column;
use crate::units::{Distance, figure3};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    /// Cables may lie together for so long.
    over: Limit<Distance>,
    /// So many conductors may lie together.
    free: Limit<u32>,
}

/// Numbers of conductors up to which each factor of the table holds.
const STEPS: [u32; 6] = [40, 30, 20, 9, 6, 3];

/// The largest receptacle that is made two to a yoke, in ampere.
const DUPLEX_AMPERES: f64 = 20.0;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    let Ok(region) = house.region() else { return };
    if house.runs_of(Service::Power).next().is_none() {
        return;
    }
    let crowds = house.crowds();
    if region != Region::Us {
        return unheld(house, sheet, region, &crowds, out);
    }
    let least = limits.over.value.base();
    let together: Vec<Together> = (0..house.plan.pathways.len())
        .map(|way| match crowds.of(way).runs {
            0 | 1 => Together::Unsaid,
            _ => house.together(way, least),
        })
        .collect();
    let asked = RefCell::new(vec![false; together.len()]);
    let mut known: HashSet<(Id, String)> = HashSet::new();
    for circuit in 0..house.plan.circuits.len() {
        let case = Case {
            house,
            limits,
            crowds: &crowds,
            together: &together,
            asked: &asked,
            circuit,
            outlets: OnceCell::new(),
        };
        let mut found: Vec<(usize, Found)> = Vec::new();
        for run in house.runs_below(circuit) {
            match case.verdict(run) {
                Ok(None) => {}
                Ok(Some(None)) => out.checked(),
                Ok(Some(Some(new))) => {
                    out.checked();
                    found.push((run, new));
                }
                Err(Wants { on, lack, loud }) => {
                    let new = match &lack {
                        Lack::Absent(what) => known.insert((on.clone(), what.to_string())),
                        Lack::Reported => false,
                    };
                    match (new, loud) {
                        (true, true) => out.loud_gap(sheet.id, on, lack),
                        (true, false) => out.gap(sheet.id, on, lack),
                        (false, _) => {}
                    }
                }
            }
        }
        // The runs of one circuit that lie together in a pathway are one finding.
        let alike = |(_, found): &(usize, Found)| match found.place {
            Where::Bundle => (usize::MAX, 0.0),
            Where::Pathway(way) => (way, found.figure.value()),
        };
        found.sort_by(|a, b| {
            let (a, b) = (alike(a), alike(b));
            a.0.cmp(&b.0).then(a.1.total_cmp(&b.1))
        });
        for group in found.chunk_by(|a, b| alike(a) == alike(b) && alike(a).0 != usize::MAX) {
            out.find(case.finding(sheet, group));
        }
    }
}

/// Regions whose table is not held: one gap for each bundle and each pathway that is shared.
fn unheld(house: &House<'_>, sheet: &Sheet, region: Region, crowds: &Crowds, out: &mut Report) {
    let lack = || Lack::absent(format!("a limit for {region} (cables that lie together)"));
    for run in house.runs_of(Service::Power) {
        let run = &house.plan.runs[run];
        if run.bundle.value().is_some_and(|bundle| bundle.0 > 1) {
            out.gap(sheet.id, &run.id, lack());
        }
    }
    for (index, way) in house.plan.pathways.iter().enumerate() {
        if crowds.of(index).runs > 1 {
            out.gap(sheet.id, &way.id, lack());
        }
    }
}

/// What is missing, and of which thing.
struct Wants<'p> {
    on: &'p Id,
    lack: Lack,
    loud: bool,
}

impl<'p> Wants<'p> {
    fn loud(on: &'p Id, lack: Lack) -> Self {
        let loud = true;
        Self { on, lack, loud }
    }

    fn quiet(on: &'p Id, lack: Lack) -> Self {
        let loud = false;
        Self { on, lack, loud }
    }
}

/// Where conductors lie together.
#[derive(Debug, Clone, Copy)]
enum Where {
    Bundle,
    Pathway(usize),
}

/// Too much on a conductor.
struct Found {
    place: Where,
    figure: BundledAmpacity,
}

/// How a breaker stands to a number of conductors.
enum Holds {
    Yes,
    No(BundledAmpacity),
}

struct Case<'a, 'p> {
    house: &'a House<'p>,
    limits: &'a Limits,
    crowds: &'a Crowds,
    together: &'a [Together],
    /// Pathways of which it has been asked how their cables lie.
    asked: &'a RefCell<Vec<bool>>,
    circuit: usize,
    outlets: OnceCell<Vec<Node>>,
}

impl<'p> Case<'_, 'p> {
    /// None for a run that lies alone.
    fn verdict(&self, index: usize) -> Result<Option<Option<Found>>, Wants<'p>> {
        let house = self.house;
        let run = &house.plan.runs[index];
        if run.bundle.is_bad() || run.through.is_bad() {
            return Ok(None);
        }
        let bundle = run.bundle.value().map(|bundle| bundle.0);
        let ways = run.through.value().map_or(&[][..], |through| &through.0);
        let shared = ways.iter().any(|way| self.crowds.of(way.at()).runs > 1);
        let astray = house.is_astray(run) && self.crowds.all.runs > 1;
        let bundled = bundle.is_some_and(|bundle| bundle > 1);
        let unsaid = bundle.is_none() && astray;
        if !(shared || bundled || unsaid) {
            return Ok(None);
        }
        let mut wants = None;
        if let Some(bundle) = bundle.filter(|bundle| *bundle > 1) {
            let own = house
                .carrying(index)
                .map_err(|lack| of_stock(house, index, lack))?;
            match run.bundled_over.want("bundled-over", &run.id) {
                Ok(length) if !over(length.base(), self.limits.over.value.base()) => {}
                Ok(_) => {
                    if let Some(figure) = self.surely(index, own.times(bundle))? {
                        let place = Where::Bundle;
                        return Ok(Some(Some(Found { place, figure })));
                    }
                }
                Err(lack) => {
                    if !self.maybe(index, own.times(bundle)) {
                        wants = Some(Wants::loud(&run.id, lack));
                    }
                }
            }
        }
        for way in ways.iter().map(|way| way.at()) {
            let crowd = self.crowds.of(way);
            if crowd.runs < 2 || self.together[way] == Together::Never {
                continue;
            }
            let id = &house.plan.pathways[way].id;
            let together = &self.together[way];
            if *together == Together::Surely {
                if let Some(figure) = self.surely(index, crowd.carrying)? {
                    let place = Where::Pathway(way);
                    return Ok(Some(Some(Found { place, figure })));
                }
                if let Some((run, lack)) = &crowd.lack {
                    wants = wants.or_else(|| Some(of_stock(house, *run, lack.clone())));
                } else if let Some(other) = self.crowds.first_astray
                    && !self.maybe(index, crowd.carrying.and(self.crowds.astray.carrying))
                {
                    let on = &house.plan.runs[other].id;
                    let lack = Lack::absent(format!("through of {on}"));
                    wants = wants.or(Some(Wants::quiet(on, lack)));
                }
                continue;
            }
            let fits = crowd.lack.is_none() && self.maybe(index, crowd.carrying);
            let said = bundle.is_some() && *together == Together::Unsaid;
            if fits || said {
                continue;
            }
            if wants.is_some() {
                continue;
            }
            // Asked once of a pathway, however many runs share it.
            let asked = std::mem::replace(&mut self.asked.borrow_mut()[way], true);
            wants = Some(match (together, &crowd.lack) {
                _ if asked => Wants::quiet(id, Lack::Reported),
                (_, Some((run, lack))) => of_stock(house, *run, lack.clone()),
                (Together::Lacks(lack), None) => Wants::quiet(id, lack.clone()),
                _ => {
                    let lack = Lack::absent(format!("bundle of the power runs in {id}"));
                    Wants::quiet(id, lack)
                }
            });
        }
        if bundle.is_none() && astray && !self.maybe(index, self.crowds.all.carrying) {
            let lack = Lack::absent(format!("through of {}", run.id));
            wants = wants.or(Some(Wants::quiet(&run.id, lack)));
        }
        match wants {
            Some(wants) => Err(wants),
            None => Ok(Some(None)),
        }
    }

    /// What a run may carry among conductors that lie together for certain, if the breaker is
    /// larger; an error where that turns on what is not known.
    fn surely(
        &self,
        index: usize,
        carrying: Carrying,
    ) -> Result<Option<BundledAmpacity>, Wants<'p>> {
        if let Holds::No(figure) = self.holds(index, carrying.least)? {
            return Ok(Some(figure));
        }
        if let Holds::No(_) = self.holds(index, carrying.most)? {
            let run = &self.house.plan.runs[index];
            let lack = Lack::absent(format!("which cores beside {} carry current", run.id));
            return Err(Wants::loud(&run.id, lack));
        }
        Ok(None)
    }

    /// Whether the breaker would do even so; no, where that is not known.
    fn maybe(&self, index: usize, carrying: Carrying) -> bool {
        matches!(self.holds(index, carrying.most), Ok(Holds::Yes))
    }

    fn holds(&self, index: usize, conductors: u32) -> Result<Holds, Wants<'p>> {
        if conductors <= self.limits.free.value {
            return Ok(Holds::Yes);
        }
        let house = self.house;
        let circuit = &house.plan.circuits[self.circuit];
        let breaker = circuit.breaker.want("breaker", &circuit.id);
        let breaker = breaker.map_err(|lack| Wants::loud(&circuit.id, lack))?;
        let breaker = breaker.base();
        let found = house.bundled_breaker(index, breaker, conductors);
        let figure = match found.map_err(|lack| of_stock(house, index, lack))? {
            Bundled::Holds => return Ok(Holds::Yes),
            Bundled::TooMuch(figure) => return Ok(Holds::No(figure)),
            Bundled::NextStandard(figure) => figure,
        };
        // NEC 240.4(B): not where the circuit feeds more than one receptacle.
        match self.two_outlets()[..] {
            [] => Ok(Holds::Yes),
            // A larger one than this is never made with two places to plug in (NEC table 210.21(B)(3) and common
            // practice, from memory).
            [_] if over(breaker, DUPLEX_AMPERES) => Ok(Holds::Yes),
            [one] => {
                let Some(outlet) = house.endpoint(one) else {
                    return Ok(Holds::Yes);
                };
                match outlet.ports.want("ports", house.id(one)) {
                    Ok(ports) if ports.0 > 1 => Ok(Holds::No(figure)),
                    Ok(_) => Ok(Holds::Yes),
                    Err(lack) => Err(Wants::loud(house.id(one), lack)),
                }
            }
            _ => Ok(Holds::No(figure)),
        }
    }

    /// The first two outlets of the circuit.
    fn two_outlets(&self) -> &[Node] {
        self.outlets.get_or_init(|| {
            let is_outlet = |node: &Node| {
                let endpoint = self.house.endpoint(*node);
                endpoint.and_then(|end| end.kind.value()) == Some(&EndpointKind::Outlet)
            };
            let tree = self.house.tree(self.circuit);
            let nodes = tree.iter().map(|reached| reached.node);
            nodes.filter(is_outlet).take(2).collect()
        })
    }

    /// Of runs that are all in the same case.
    fn finding(&self, sheet: &Sheet, group: &[(usize, Found)]) -> Finding {
        let house = self.house;
        let (index, found) = &group[0];
        let index = *index;
        let run = &house.plan.runs[index];
        let others = match group.len() - 1 {
            0 => "is".to_owned(),
            1 => format!("and {} are", house.plan.runs[group[1].0].id),
            more => format!("and {more} others are"),
        };
        let circuit = &house.plan.circuits[self.circuit];
        let breaker = circuit
            .breaker
            .value()
            .map_or(0.0, |breaker| breaker.base());
        let conductors = found.figure.conductors();
        let (place, at, label) = match found.place {
            Where::Bundle => ("in one bundle".to_owned(), run.bundle.span(), "bundled"),
            Where::Pathway(way) => {
                let way = &house.plan.pathways[way];
                let place = format!("together in {}", way.id);
                (place, Some(way.span), "lie together here")
            }
        };
        let says = format!(
            "{} {others} on a breaker of {} A, allowed are {} A with {conductors} current-carrying conductors {place}",
            run.id,
            figure3(breaker),
            figure3(found.figure.value()),
        );
        let mut finding = sheet
            .finding(&run.id, says, at.unwrap_or(run.span), label)
            .with_mark(run.span, "one of them")
            .with_on(&circuit.id);
        for (other, _) in group.iter().skip(1).take(8) {
            finding = finding.with_on(&house.plan.runs[*other].id);
        }
        if let Where::Pathway(way) = found.place {
            finding = finding.with_on(&house.plan.pathways[way].id);
        }
        let cores = house
            .carrying(index)
            .map_or(1, |carrying| carrying.most.max(1));
        let fewer = STEPS
            .into_iter()
            .filter(|step| *step < conductors)
            .find(|step| matches!(self.holds(index, *step), Ok(Holds::Yes)));
        let advice = fewer.map_or_else(
            || "fit a smaller breaker, or pull thicker conductors".to_owned(),
            |fewer| {
                let cables = fewer / cores;
                format!("let no more than {fewer} current-carrying conductors lie together ({cables} cables like {})", run.id)
            },
        );
        finding
            .with_mark(
                circuit.breaker.span().unwrap_or(circuit.span),
                "this breaker",
            )
            .with_figure(shown(&found.figure), breaker)
            .with_authority(authority(&found.figure))
            .with_put_right(advice)
            .with_redline(self.redline(index, found, fewer.map(|fewer| fewer / cores)))
    }

    /// Smaller bundles. How cables lie in a pathway is not said by one run alone.
    fn redline(&self, index: usize, found: &Found, runs: Option<u32>) -> Option<Redline> {
        let run = &self.house.plan.runs[index];
        let runs = runs.filter(|runs| *runs > 0 && matches!(found.place, Where::Bundle))?;
        let edit = self
            .house
            .edit(run, &run.bundle, "bundle", &runs.to_string());
        let title = match runs {
            1 => format!("lead {} apart from the others", run.id),
            _ => format!("bundle {} with no more than {} others", run.id, runs - 1),
        };
        self.house.change(title, edit)
    }
}

fn authority(figure: &BundledAmpacity) -> String {
    let most = match figure.most() {
        Column::C60 => "334.80 and 340.80",
        Column::C75 | Column::C90 => "110.14(C)",
    };
    let warm = if figure.is_warm() { "310.15(B), " } else { "" };
    format!("NEC table 310.15(C)(1); NEC {warm}{most}, 240.4(B), from memory")
}

/// What is missing of a run's stock, on the stock where there is one.
fn of_stock<'p>(house: &House<'p>, index: usize, lack: Lack) -> Wants<'p> {
    let run = &house.plan.runs[index];
    let on = match run.stock.value() {
        Some(stock) => &house.plan.stock[stock.at()].id,
        None => &run.id,
    };
    Wants::loud(on, lack)
}
