//! Another stock of the plan that could take a run's place.

use super::topology::House;
use crate::figures::Figure;
use crate::figures::fill::Fill;
use crate::plan::{Entry, Field, Run, Service, Stock};
use crate::tables::conduit::greatest_fill;
use crate::tables::cpr::{Euroclass, meets};
use crate::tables::listings::stands_for;
use crate::units::Distance;

/// So many stocks of one service are looked through for a redline: no yard keeps more, and each of
/// a hundred thousand findings looks anew.
const MOST_STOCKS: usize = 1000;

impl<'p> House<'p> {
    /// The stocks of the plan for a service that would do a run's job no worse than its present
    /// one in every respect that is stated, and pass `better` besides; in the plan's order.
    ///
    /// No worse means: at least as many cores of at least the size, a listing that may stand for
    /// the present one, the same balance, a grade no lower, and room in the conduits passed.
    pub fn substitutes<'a>(
        &'a self,
        index: usize,
        service: Service,
        better: impl Fn(&Entry<Stock>) -> bool + 'a,
    ) -> impl Iterator<Item = &'p Entry<Stock>> + 'a {
        self.rebuilt(index, service, move |stock| {
            let present = self.plan.runs[index]
                .stock
                .value()
                .map(|at| &self.plan.stock[at.at()]);
            same_build(present, stock) && better(stock)
        })
    }

    /// The same, but a video cable may be built otherwise: optical instead of passive.
    pub fn rebuilt<'a>(
        &'a self,
        index: usize,
        service: Service,
        better: impl Fn(&Entry<Stock>) -> bool + 'a,
    ) -> impl Iterator<Item = &'p Entry<Stock>> + 'a {
        self.stocks_for(index, service, enough_cores, better)
    }

    /// Stocks of the plan that would do as well in every respect but their cores, of which `better`
    /// judges: for thinner cores, several of them tied.
    pub fn recored<'a>(
        &'a self,
        index: usize,
        service: Service,
        better: impl Fn(&Entry<Stock>) -> bool + 'a,
    ) -> impl Iterator<Item = &'p Entry<Stock>> + 'a {
        self.stocks_for(index, service, |_, _| true, better)
    }

    /// The stock of the thinnest cores; one that does not state its cores comes last.
    pub fn thinnest(
        &self,
        stocks: impl Iterator<Item = &'p Entry<Stock>>,
    ) -> Option<&'p Entry<Stock>> {
        let thickness = |stock: &Entry<Stock>| {
            let cores = stock.cores.value();
            cores.map_or(f64::MAX, |cores| cores.size.diameter().value)
        };
        stocks.min_by(|a, b| thickness(a).total_cmp(&thickness(b)))
    }

    fn stocks_for<'a>(
        &'a self,
        index: usize,
        service: Service,
        cores: impl Fn(&Stock, &Stock) -> bool + 'a,
        better: impl Fn(&Entry<Stock>) -> bool + 'a,
    ) -> impl Iterator<Item = &'p Entry<Stock>> + 'a {
        let run = &self.plan.runs[index];
        let present = run.stock.value().map(|stock| stock.at());
        self.stocks_of(service)
            .iter()
            .take(MOST_STOCKS)
            .map(|at| (*at as usize, &self.plan.stock[*at as usize]))
            .filter(move |(at, stock)| {
                Some(*at) != present
                    && present.is_none_or(|present| {
                        let present = &self.plan.stock[present];
                        cores(present, stock) && no_worse(present, stock)
                    })
                    && self.fits(run, index, stock)
            })
            .map(|(_, stock)| stock)
            .filter(move |stock| better(stock))
    }

    /// Stocks made for a service, in the plan's order.
    fn stocks_of(&self, service: Service) -> &[u32] {
        let lists = self.stocks.get_or_init(|| {
            let mut lists = vec![Vec::new(); Service::WORDS.len()];
            for (stock, at) in self.plan.stock.iter().zip(0..) {
                if let Some(service) = stock.service.value() {
                    lists[*service as usize].push(at);
                }
            }
            lists
        });
        &lists[service as usize]
    }

    /// Whether the conduits that a run passes have room for another stock in its place, and still
    /// for one more cable of the thickest, of all and of the signal cables, where they have that now.
    fn fits(&self, run: &Entry<Run>, index: usize, stock: &Stock) -> bool {
        let larger = |stock: &Stock| stock.diameter.value().map(|size| size.larger());
        let present = run
            .stock
            .value()
            .and_then(|at| larger(&self.plan.stock[at.at()]));
        let conduits = self.passes(index).iter().map(|way| *way as usize);
        conduits
            .filter(|way| {
                self.plan.pathways[*way].kind.value() == Some(&crate::plan::PathwayKind::Conduit)
            })
            .all(|way| {
                let Some(new) = larger(stock) else {
                    return false;
                };
                if present.is_some_and(|old| new.base() <= old.base()) {
                    return true;
                }
                let Ok(bore) = self.bore(&self.plan.pathways[way]) else {
                    return false;
                };
                let (occupants, _) = self.occupants(way);
                let others: Vec<_> = occupants.iter().filter(|o| o.run != index).collect();
                let is_signal = |run| self.service(run) != Some(Service::Power);
                let fit = |own: Option<Distance>| {
                    let own = own.map(|diameter| (index, diameter));
                    let cables: Vec<_> = others
                        .iter()
                        .flat_map(|o| std::iter::repeat_n((o.run, o.diameter), o.times))
                        .chain(own)
                        .collect();
                    let thickest = |of: &dyn Fn(usize) -> bool| {
                        let of = cables.iter().filter(|(run, _)| of(*run));
                        of.map(|(_, diameter)| *diameter)
                            .max_by(|a, b| a.base().total_cmp(&b.base()))
                    };
                    // Whichever region's limit counts: that of the table, or 40 % whatever the number.
                    let limit = |cables| {
                        greatest_fill(cables)
                            .zip(greatest_fill(usize::MAX))
                            .map_or(0.0, |(a, b)| a.min(b))
                    };
                    let fill =
                        Fill::of(bore, cables.iter().map(|(_, diameter)| *diameter).collect())?;
                    let room = |one: Option<Distance>| {
                        one.is_none_or(|one| fill.room_for_one_more(one, limit(fill.cables() + 1)))
                    };
                    let room = [room(thickest(&|_| true)), room(thickest(&is_signal))];
                    Some((fill.value() <= limit(fill.cables()), room))
                };
                let had_room = fit(present).map_or([false; 2], |(_, room)| room);
                fit(Some(new)).is_some_and(|(fits, room)| {
                    fits && room.iter().zip(had_room).all(|(room, had)| *room || !had)
                })
            })
    }
}

fn same_build(old: Option<&Entry<Stock>>, new: &Stock) -> bool {
    old.is_none_or(|old| old.build.value().is_none() || old.build.value() == new.build.value())
}

/// Whether what is printed on one cable is as good as what is printed on another.
fn may_replace(new: &str, old: &str) -> bool {
    let class = || {
        let (new, old) = (Euroclass::parse(new)?, Euroclass::parse(old)?);
        meets(new, old)
    };
    new == old || stands_for(new, old) == Some(true) || class() == Some(true)
}

/// Whether `new` has at least as many cores of at least the size.
fn enough_cores(old: &Stock, new: &Stock) -> bool {
    match (old.cores.value(), new.cores.value()) {
        (Some(old), Some(new)) => {
            new.count >= old.count
                && new.size.area() >= old.size.area()
                && (new.earth || !old.earth)
        }
        (None, _) => true,
        (Some(_), None) => false,
    }
}

/// Whether `new` is in no stated respect but its cores worse than `old`.
fn no_worse(old: &Stock, new: &Stock) -> bool {
    let listed = match (&old.rating, &new.rating) {
        (Field::Stated(old), Field::Stated(new)) => old
            .values()
            .all(|old| &**old == "none" || new.values().any(|new| may_replace(new, old))),
        (Field::Stated(_), _) => false,
        // What is not known to be listed is not swapped for what is known not to be.
        (_, Field::Stated(new)) => new.values().all(|new| &**new != "none"),
        _ => true,
    };
    let balanced = |stock: &Stock| stock.balanced.value().is_some_and(|balanced| balanced.0);
    let grade = match (old.grade.value(), new.grade.value()) {
        (Some(old), Some(new)) => *new as u8 >= *old as u8,
        (None, _) => true,
        (Some(_), None) => false,
    };
    let same_wet =
        !old.wet.value().is_some_and(|wet| wet.0) || new.wet.value().is_some_and(|wet| wet.0);
    listed && (balanced(new) || !balanced(old)) && grade && same_wet
}
