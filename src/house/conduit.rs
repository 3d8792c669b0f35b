//! Which runs lie in which pathway, and figures of conduits.

use super::topology::{House, small};
use super::wiring::is_jacketed;
use crate::figures::fill::Fill;
use crate::findings::Lack;
use crate::plan::{DEEPEST, Entry, Pathway, PathwayKind, Service, Stock};
use crate::tables::conduit;
use crate::units::{Degrees, Distance, split_number, unit};

/// A cable in a conduit.
#[derive(Debug, Clone, Copy)]
pub struct Occupant {
    pub run: usize,
    pub diameter: Distance,
    /// As how many cables it counts: single conductors each for itself.
    pub counts: usize,
    /// How often its diameter lies in the conduit: that of one conductor as often as there are.
    pub times: usize,
}

/// What is in a conduit, as far as it is known.
#[derive(Debug)]
pub struct Filling {
    /// Of the cables whose diameter is known: the true fill is never less.
    pub fill: Fill,
    /// The cables whose diameter is known.
    pub occupants: Vec<Occupant>,
    /// All cables.
    pub cables: usize,
    /// As how many the code's table counts them: single conductors each for itself.
    pub counted: usize,
    pub has_power: bool,
    /// Something in it is power, or signal of Class 2 or 3: all but coax and fibre.
    pub has_class: bool,
    /// Diameter of the thickest cable that is no power cable.
    pub thickest_signal: Option<Distance>,
    /// What is missing to know all of this.
    pub lack: Option<Lack>,
}

impl Filling {
    /// "at least " where some cables' diameters are missing, else nothing.
    pub fn at_least(&self) -> &'static str {
        if self.occupants.len() < self.cables {
            "at least "
        } else {
            ""
        }
    }

    /// The cables that the fill counts: "3 cables", "2 of its 3 cables".
    pub fn counted(&self) -> String {
        let (known, all) = (self.occupants.len(), self.cables);
        match all {
            _ if known == all && self.counted > all => format!("{} conductors", self.counted),
            _ if known < all => format!("{known} of its {all} cables"),
            1 => "1 cable".to_owned(),
            _ => format!("{all} cables"),
        }
    }

    /// The diameters of what is known.
    pub fn diameters(&self) -> Vec<Distance> {
        diameters(&self.occupants)
    }
}

fn diameters(occupants: &[Occupant]) -> Vec<Distance> {
    let each = |cable: &Occupant| std::iter::repeat_n(cable.diameter, cable.times);
    occupants.iter().flat_map(each).collect()
}

/// How many single conductors a stock is, and how many of them its diameter holds. A circle in which not even their
/// metal and a little insulation had room is that of one of them.
fn singles(stock: &Entry<Stock>, diameter: Distance) -> (usize, usize) {
    /// Insulated building wire over its metal: 1.6 times for 14 AWG THHN, 1.3 for 6 AWG and more (NEC chapter 9
    /// table 5, from memory).
    const INSULATED: f64 = 1.25;
    let Some(cores) = stock.cores.value() else {
        return (1, 1);
    };
    if is_jacketed(stock) != Ok(false) {
        return (1, 1);
    }
    let count = (cores.count + u32::from(cores.earth)) as usize;
    let metal = cores.size.area().get::<unit::square_meter>() * 4.0 / std::f64::consts::PI;
    #[expect(clippy::cast_precision_loss, reason = "a count of cores")]
    let together = count as f64 * metal * INSULATED * INSULATED;
    let one = together > diameter.base() * diameter.base();
    (count, if one { count } else { 1 })
}

impl House<'_> {
    /// Every pathway that a run passes: those that it names, in order, each followed by those that
    /// lie around it.
    pub fn passes(&self, run: usize) -> &[u32] {
        &self.passed.get_or_init(|| self.compute_passed())[run]
    }

    fn compute_passed(&self) -> Vec<Vec<u32>> {
        let around = |way: u32| {
            let inside = self.plan.pathways[way as usize].inside.value();
            inside
                .into_iter()
                .flat_map(|list| list.values())
                .map(|outer| outer.thing.index)
        };
        self.plan
            .runs
            .iter()
            .map(|run| {
                let mut all: Vec<u32> = Vec::new();
                let mut seen = std::collections::HashSet::new();
                for way in run
                    .through
                    .value()
                    .into_iter()
                    .flat_map(|list| list.values())
                {
                    // Reading has reported chains that are longer than this.
                    let mut next = vec![(way.thing.index, 1)];
                    while let Some((way, depth)) = next.pop() {
                        if seen.insert(way) {
                            all.push(way);
                            if depth < DEEPEST {
                                next.extend(around(way).map(|outer| (outer, depth + 1)));
                            }
                        }
                    }
                }
                all
            })
            .collect()
    }

    /// Runs that lie in a pathway, spare ones included.
    pub fn runs_in(&self, pathway: usize) -> &[u32] {
        let all = self.in_pathway.get_or_init(|| {
            let mut all = vec![Vec::new(); self.plan.pathways.len()];
            for run in 0..self.plan.runs.len() {
                for way in self.passes(run) {
                    all[*way as usize].push(small(run));
                }
            }
            all
        });
        &all[pathway]
    }

    /// Pathways that are conduits.
    pub fn conduits(&self) -> impl Iterator<Item = (usize, &Entry<Pathway>)> {
        self.plan
            .pathways
            .iter()
            .enumerate()
            .filter(|(_, way)| way.kind.value() == Some(&PathwayKind::Conduit))
    }

    /// Inside diameter of a conduit: as stated, or from its make and trade size.
    ///
    /// # Errors
    /// Make, size or bore are missing, or no table has the size.
    pub fn bore(&self, conduit: &Entry<Pathway>) -> Result<Distance, Lack> {
        if let Some(bore) = conduit.bore.value() {
            return Ok(**bore);
        }
        if conduit.bore.is_bad() {
            return Err(Lack::Reported);
        }
        let make = conduit.make.want("make", &conduit.id)?;
        let size = conduit.size.want("size", &conduit.id)?;
        match conduit::bore(make.word(), size.0) {
            Some(bore) => Ok(bore.diameter),
            None => Err(Lack::absent(format!(
                "bore of {} (no table has {} {})",
                conduit.id, make.value, size.value
            ))),
        }
    }

    /// Cables in a conduit with the diameter that counts for fill, and the runs whose diameter is
    /// missing.
    pub fn occupants(&self, conduit: usize) -> (Vec<Occupant>, Option<Lack>) {
        let mut occupants = Vec::new();
        let mut lack = None;
        for run in self.runs_in(conduit) {
            let run = *run as usize;
            let known = self.want_stock(&self.plan.runs[run]).and_then(|stock| {
                let diameter = stock.diameter.want("diameter", &stock.id)?.value.larger();
                Ok((diameter, singles(stock, diameter)))
            });
            match known {
                Ok((diameter, (counts, times))) => occupants.push(Occupant {
                    run,
                    diameter,
                    counts,
                    times,
                }),
                Err(missing) => lack = Some(lack.unwrap_or(missing)),
            }
        }
        (occupants, lack)
    }

    /// How full a conduit is of the cables whose diameter is known, and what is missing.
    ///
    /// # Errors
    /// The conduit's bore is not known, or it is empty.
    pub fn fill(&self, index: usize) -> Result<(Fill, Vec<Occupant>, Option<Lack>), Lack> {
        let bore = self.bore(&self.plan.pathways[index])?;
        let (occupants, lack) = self.occupants(index);
        let fill = Fill::of(bore, diameters(&occupants));
        Ok((fill.ok_or(Lack::Reported)?, occupants, lack))
    }

    /// What is in a conduit. Conduit inside a conduit takes more room than the cables in it, by its
    /// wall, which a plan does not state.
    ///
    /// # Errors
    /// The conduit's bore is not known.
    pub fn filling(&self, index: usize) -> Result<Filling, Lack> {
        let (fill, occupants, mut lack) = self.fill(index)?;
        let (mut has_power, mut has_class) = (false, false);
        for run in self.runs_in(index) {
            match self.want_service(*run as usize) {
                Ok(service) => {
                    has_power |= service == Service::Power;
                    has_class |= !matches!(service, Service::Coax | Service::Fibre);
                }
                Err(missing) => lack = lack.or(Some(missing)),
            }
        }
        if let Some(inner) = self.inner_conduit(index) {
            let inner = &self.plan.pathways[inner].id;
            lack = lack.or_else(|| Some(Lack::absent(format!("outside diameter of {inner}"))));
        }
        let signal = occupants
            .iter()
            .filter(|cable| self.service(cable.run) != Some(Service::Power));
        let thickest_signal = signal
            .map(|cable| cable.diameter)
            .max_by(|a, b| a.base().total_cmp(&b.base()));
        let cables = self.runs_in(index).len();
        let counts: usize = occupants.iter().map(|cable| cable.counts).sum();
        let counted = cables - occupants.len() + counts;
        Ok(Filling {
            fill,
            occupants,
            cables,
            counted,
            has_power,
            has_class,
            thickest_signal,
            lack,
        })
    }

    /// A conduit or raceway that lies inside a pathway.
    pub fn inner_conduit(&self, pathway: usize) -> Option<usize> {
        self.inner_conduits
            .get_or_init(|| self.build_inner_conduits())[pathway]
    }

    fn build_inner_conduits(&self) -> Vec<Option<usize>> {
        let mut inner = vec![None; self.plan.pathways.len()];
        for (index, way) in self.plan.pathways.iter().enumerate() {
            if !way.is_raceway() {
                continue;
            }
            for outer in way
                .inside
                .value()
                .into_iter()
                .flat_map(|list| list.values())
            {
                inner[outer.at()] = Some(index);
            }
        }
        inner
    }

    /// The next larger trade size of a conduit's make whose bore will do, and round whose bends all
    /// that is in it can still be pulled, as the trade writes it.
    pub fn larger_size(
        &self,
        index: usize,
        does: impl Fn(Distance) -> bool,
    ) -> Option<&'static str> {
        let conduit = &self.plan.pathways[index];
        // A stated bore is of no table's make.
        let (make, size) = (conduit.make.value()?, conduit.size.value()?);
        if !conduit.bore.is_absent() {
            return None;
        }
        let number = |written: &&str| split_number(written).map_or(0.0, |(number, _)| number);
        conduit::trade_sizes(make.word())
            .filter(|written| number(written) > size.0)
            .filter(|written| {
                conduit::bore(make.word(), number(written)).is_some_and(|bore| {
                    does(bore.diameter) && self.bends_round(index, bore.diameter)
                })
            })
            .min_by(|a, b| number(a).total_cmp(&number(b)))
    }

    /// Degrees of bend between the pull points of a conduit.
    ///
    /// # Errors
    /// The plan does not state the bends.
    pub fn bend_total(&self, conduit: &Entry<Pathway>) -> Result<f64, Lack> {
        Ok(self.want_bends(conduit)?.map(Degrees::base).sum())
    }

    /// The bends of a conduit in their order, from `bends` or from `route`.
    ///
    /// # Errors
    /// The plan does not state them.
    pub fn want_bends<'c>(
        &self,
        conduit: &'c Entry<Pathway>,
    ) -> Result<impl Iterator<Item = Degrees> + 'c, Lack> {
        let lack = || {
            let bad = conduit.bends.is_bad() || conduit.route.is_bad();
            let absent = || Lack::absent(format!("bends of {}", conduit.id));
            if bad { Lack::Reported } else { absent() }
        };
        conduit.all_bends().ok_or_else(lack)
    }

    /// The length of a conduit, from `length` or from `route`.
    ///
    /// # Errors
    /// The plan does not state it.
    pub fn want_conduit_length(&self, conduit: &Entry<Pathway>) -> Result<Distance, Lack> {
        let lack = || {
            let absent = || Lack::absent(format!("length of {}", conduit.id));
            if conduit.is_length_bad() {
                Lack::Reported
            } else {
                absent()
            }
        };
        conduit.laid_length().ok_or_else(lack)
    }
}
