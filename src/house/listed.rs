//! Signal cable in hidden spaces: what it is listed as, what is asked of it, what could replace it.

use std::cell::OnceCell;
use std::cmp::Ordering;

use super::jacket::{Asked, FireDemand, Jacket};
use super::kin::{Kin, Outside};
use super::space::{Space, Spaces};
use super::topology::House;
use crate::findings::{Lack, Redline};
use crate::plan::{Entry, Region, Service, Stock};
use crate::tables::listings::{Grade, Listing};

/// The listings of a house's stock and the spaces that its runs lie in, looked up once.
pub struct Listed<'h, 'p> {
    house: &'h House<'p>,
    region: Region,
    spaces: &'h Spaces,
    jackets: Vec<Result<Jacket, Lack>>,
    /// For each stock, the kin and the most that any of its runs asks; see [`Self::wanted`].
    wanted: OnceCell<Vec<Wanted>>,
    /// Which lines of coax come from outside; asked only where there is coax.
    outside: OnceCell<Outside>,
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Wanted {
    Nothing,
    One(Kin, Asked),
    /// Its runs are of kins with different listings.
    Mixed,
}

/// A signal run in at least one hidden space.
pub struct Pull<'p> {
    pub run: usize,
    pub spaces: Vec<Space>,
    /// What is missing to know all of its spaces.
    pub lack: Option<Lack>,
    pub service: Service,
    /// Where it is not known whether coax comes from outside, that it does.
    pub kin: Kin,
    /// What would settle that.
    pub kin_lack: Option<Lack>,
    pub stock: &'p Entry<Stock>,
    at: usize,
}

impl<'p> House<'p> {
    /// `None` where the plan has no region, which has been reported.
    pub fn listed(&self) -> Option<Listed<'_, 'p>> {
        Some(Listed {
            house: self,
            region: self.region().ok()?,
            spaces: self.spaces(),
            jackets: self.plan.stock.iter().map(Jacket::of).collect(),
            wanted: OnceCell::new(),
            outside: OnceCell::new(),
        })
    }
}

impl<'p> Listed<'_, 'p> {
    pub fn region(&self) -> Region {
        self.region
    }

    /// Signal runs in hidden spaces, and what is missing where that is not known. Power runs,
    /// power stock and runs in the open are passed over: nothing is asked of them here.
    pub fn pulls(&self) -> impl Iterator<Item = (usize, Result<Pull<'p>, Lack>)> + '_ {
        (0..self.house.plan.runs.len()).filter_map(|run| Some((run, self.pull(run).transpose()?)))
    }

    fn pull(&self, index: usize) -> Result<Option<Pull<'p>>, Lack> {
        let house = self.house;
        let run = &house.plan.runs[index];
        let is_power = |service: Option<Service>| service == Some(Service::Power);
        let made_for = run
            .stock
            .value()
            .and_then(|stock| house.plan.stock[stock.at()].service.value().copied());
        if is_power(house.service(index)) || is_power(made_for) {
            return Ok(None);
        }
        let (spaces, lack) = self.spaces.of_run(house, index);
        if spaces.is_empty() {
            return lack.map_or(Ok(None), Err);
        }
        let service = house.want_service(index)?;
        let at = run.stock.want("stock", &run.id)?.at();
        let (kin, kin_lack) = self.kin(index, service);
        Ok(Some(Pull {
            run: index,
            spaces,
            lack,
            service,
            kin,
            kin_lack,
            stock: &house.plan.stock[at],
            at,
        }))
    }

    fn kin(&self, run: usize, service: Service) -> (Kin, Option<Lack>) {
        if service != Service::Coax {
            return (Kin::of(service, false), None);
        }
        let lines = self.outside.get_or_init(|| self.house.outside_lines());
        match self.house.is_outside_run(run, lines) {
            Ok(outside) => (Kin::of(service, outside), None),
            Err(lack) => (Kin::OutsideCoax, Some(lack)),
        }
    }

    /// What is printed on a run's cable.
    ///
    /// # Errors
    /// The stock's rating is not stated.
    pub fn jacket(&self, pull: &Pull<'_>) -> Result<&Jacket, Lack> {
        self.jackets[pull.at].as_ref().map_err(Clone::clone)
    }

    /// What is printed on the cable of any run, where that is stated.
    pub fn jacket_of(&self, run: usize) -> Option<&Jacket> {
        let stock = self.house.plan.runs[run].stock.value()?;
        self.jackets[stock.at()].as_ref().ok()
    }

    pub fn demand(&self, pull: &Pull<'_>, space: Space) -> FireDemand {
        self.house.fire_demand(pull.run, space)
    }

    /// The most that a run's spaces may ask of it, leaving out the ease that X types have.
    pub fn most(&self, pull: &Pull<'_>) -> Asked {
        let asked = pull
            .spaces
            .iter()
            .map(|space| self.demand(pull, *space).most);
        asked.fold(Asked::Grade(Grade::General), Asked::max)
    }

    /// What the code demands of a run, and the listing nearest to the present one that may stand for
    /// it: CL2P and CL3P; `None` where no cable may lie.
    pub fn wants(&self, pull: &Pull<'_>) -> Option<(Listing, Listing)> {
        let Asked::Grade(grade) = self.most(pull) else {
            return None;
        };
        let jacket = self.jacket(pull).unwrap_or(&Jacket::Unrated);
        Some((
            jacket.demanded(grade, pull.kin),
            jacket.nearest(grade, pull.kin),
        ))
    }

    /// The least listing beside the present one that would do for a run: `CL3P`; `None` where no
    /// cable may lie.
    pub fn better(&self, pull: &Pull<'_>) -> Option<&'static str> {
        Some(self.wants(pull)?.1.name())
    }

    /// The edit that gives a run a cable with a listing for its place: the stock of the plan that
    /// serves and is nearest, else another listing for the stock in hand.
    pub fn redline(&self, pull: &Pull<'_>) -> Option<Redline> {
        let house = self.house;
        let run = &house.plan.runs[pull.run];
        let most = self.most(pull);
        let does = |stock: &Entry<Stock>| {
            let jacket = Jacket::of(stock);
            jacket.is_ok_and(|jacket| jacket.satisfies(most, pull.kin, self.region))
        };
        // The nearest: least listing, then least copper.
        let key = |stock: &Entry<Stock>| {
            let grade = Jacket::of(stock).ok().and_then(|jacket| jacket.grade());
            let cores = stock.cores.value();
            (
                grade,
                cores.map(|cores| cores.size.area() * f64::from(cores.count)),
            )
        };
        let nearest = house
            .substitutes(pull.run, pull.service, does)
            .min_by(|a, b| key(a).partial_cmp(&key(b)).unwrap_or(Ordering::Equal));
        match nearest {
            Some(stock) => {
                let edit = house.edit(run, &run.stock, "stock", stock.id.as_str());
                house.change(format!("pull {} as {}", run.id, stock.id), edit)
            }
            None => self.relisting(pull),
        }
    }

    /// Buying the stock with another listing, enough for every run that is pulled in it. Not for a
    /// stock of a catalogue, which other plans share and which says what there is.
    fn relisting(&self, pull: &Pull<'_>) -> Option<Redline> {
        let house = self.house;
        let file = |span| house.sources.spots(span).0.file;
        if file(pull.stock.span) != file(house.plan.runs[pull.run].span) {
            return None;
        }
        let jacket = self.jacket(pull).ok()?;
        let Wanted::One(kin, Asked::Grade(grade)) = self.wanted()[pull.at] else {
            return None;
        };
        if !jacket.is_simple() {
            return None;
        }
        let name = jacket.nearest(grade, kin).name();
        let edit = house.edit(pull.stock, &pull.stock.rating, "rating", name);
        house.change(
            format!("buy {} with the listing {name} instead", pull.stock.id),
            edit,
        )
    }

    fn wanted(&self) -> &[Wanted] {
        self.wanted.get_or_init(|| {
            let mut wanted = vec![Wanted::Nothing; self.jackets.len()];
            for pull in self.pulls().filter_map(|(_, pull)| pull.ok()) {
                let (most, kin) = (self.most(&pull), pull.kin);
                let wanted = &mut wanted[pull.at];
                *wanted = match *wanted {
                    Wanted::Nothing => Wanted::One(kin, most),
                    Wanted::One(other, asked) if is_alike(other, kin) => {
                        Wanted::One(other.max(kin), asked.max(most))
                    }
                    _ => Wanted::Mixed,
                };
            }
            wanted
        })
    }
}

/// Whether one family of listings serves both: what coax from outside asks is enough inside.
fn is_alike(a: Kin, b: Kin) -> bool {
    a.demanded(Grade::General) == b.demanded(Grade::General)
}
