//! How hard cables are to pull through a conduit, and what they bear.

use super::topology::House;
use crate::figures::pull::{Lay, Pull, Section, even_spread};
use crate::figures::tension::{PullTension, SidewallPressure};
use crate::findings::{Id, Lack};
use crate::plan::{Entry, Pathway, Service, Stock, Stretch};
use crate::tables::conductors::Material;
use crate::tables::pulling::{by_conductors, four_pair, friction};
use crate::units::{KilogramsPerMetre, MassPerLength, Newtons, WireSize, unit};

/// Cores of a four-pair data cable.
const FOUR_PAIR: u32 = 8;

/// One way to pull all cables of a conduit together.
#[derive(Debug)]
pub struct Way {
    pub tension: PullTension,
    /// Against the order of the conduit's route: the cable goes in at its `to`.
    pub reversed: bool,
    /// Only the length and the bends are known: the straights are taken as all of one length.
    pub spread: bool,
    /// The plan does not state the friction.
    pub usual_friction: bool,
}

impl Way {
    /// How the tension came about, and what was taken for want of better.
    pub fn taken(&self) -> String {
        let mut taken = String::new();
        if self.spread {
            taken += "; bends taken as spread evenly along it";
        }
        if self.usual_friction {
            taken += "; friction as for unknown surfaces";
        }
        taken + "; taken as level"
    }
}

/// What a cable bears of a pull.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PullLimit {
    pub force: Newtons,
    pub basis: PullBasis,
}

/// Where a pull limit comes from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PullBasis {
    Stated,
    FourPair,
    Conductors(u32, WireSize),
}

impl House<'_> {
    /// Both ways to pull the cables `runs` through a conduit: in the order of its route, and from its
    /// other end.
    ///
    /// # Errors
    /// The weight of a cable, the conduit's length or bends, or, for three cables, its bore or a
    /// diameter is missing.
    pub fn ways(&self, index: usize, runs: &[u32]) -> Result<[Way; 2], Lack> {
        let conduit = &self.plan.pathways[index];
        let weight = self.weight(runs)?;
        let stated = match conduit.friction.value() {
            Some(friction) => Some(friction.0),
            None if conduit.friction.is_bad() => return Err(Lack::Reported),
            None => None,
        };
        let (sections, spread) = self.sections(conduit)?;
        let pull = Pull {
            sections,
            weight,
            friction: stated.unwrap_or_else(friction),
            lay: self.lay(index, runs)?,
            start: Newtons::new(0.0, "N").ok_or(Lack::Reported)?,
        };
        let way = |pull: Pull, reversed| {
            let fits = pull.lay.weight_correction().is_some();
            let none = || {
                Lack::absent(if fits {
                    format!("a tension of {} that can be reckoned", conduit.id)
                } else {
                    format!("room for the three cables of {}", conduit.id)
                })
            };
            let tension = PullTension::of(pull).ok_or_else(none)?;
            Ok(Way {
                tension,
                reversed,
                spread,
                usual_friction: stated.is_none(),
            })
        };
        Ok([way(pull.clone(), false)?, way(pull.reversed(), true)?])
    }

    /// Pressure on the worst bend of a way, with the widest or the tightest bends that its conduit
    /// may have.
    ///
    /// # Errors
    /// The radius of the bends is not known.
    pub fn pressure(
        &self,
        conduit: &Entry<Pathway>,
        way: &Way,
        tightest: bool,
    ) -> Result<SidewallPressure, Lack> {
        let mut pull = way.tension.pull().clone();
        let mut lack = None;
        for section in &mut pull.sections {
            if let Section::Bend { radius, .. } = section {
                match self.inside_radius(conduit) {
                    Ok(inside) if tightest => *radius = Some(inside.least.1),
                    Ok(inside) => *radius = Some(inside.most.1),
                    Err(missing) => lack = Some(missing),
                }
            }
        }
        match lack {
            Some(lack) => Err(lack),
            // A bend of no radius at all.
            None => SidewallPressure::of(pull)
                .ok_or_else(|| Lack::absent(format!("radius of {}", conduit.id))),
        }
    }

    /// All cables together, in the unit of the first.
    fn weight(&self, runs: &[u32]) -> Result<KilogramsPerMetre, Lack> {
        let mut total: Option<KilogramsPerMetre> = None;
        for run in runs {
            let stock = self.want_stock(&self.plan.runs[*run as usize])?;
            let weight = ***stock.weight.want("weight", &stock.id)?;
            total = Some(match total {
                Some(total) => total.same_unit(MassPerLength::new::<unit::kilogram_per_meter>(
                    total.base() + weight.base(),
                )),
                None => weight,
            });
        }
        total.ok_or(Lack::Reported)
    }

    /// The sections of a conduit, and whether they are only taken to be so. The radius of the bends counts
    /// for the pressure alone, and is left out.
    fn sections(&self, conduit: &Entry<Pathway>) -> Result<(Vec<Section>, bool), Lack> {
        if conduit.route.is_bad() {
            return Err(Lack::Reported);
        }
        if conduit
            .route
            .value()
            .is_some_and(|route| !route.0.is_empty())
        {
            let section = |stretch| match stretch {
                Stretch::Straight(length) => Section::Straight { length, rise: 0.0 },
                Stretch::Bend(angle) => Section::Bend {
                    angle,
                    radius: None,
                },
            };
            return Ok((conduit.stretches().map(section).collect(), false));
        }
        let length = self.want_conduit_length(conduit)?;
        let bends: Vec<_> = self.want_bends(conduit)?.collect();
        let sections = even_spread(length, &bends, None).ok_or(Lack::Reported)?;
        Ok((sections, !bends.is_empty()))
    }

    /// How the cables lie. Only three of one diameter lie so that it counts.
    fn lay(&self, index: usize, runs: &[u32]) -> Result<Lay, Lack> {
        if runs.len() != 3 {
            return Ok(if runs.len() == 1 {
                Lay::One
            } else {
                Lay::Uncorrected(runs.len())
            });
        }
        let diameters: Result<Vec<_>, Lack> = runs
            .iter()
            .map(|run| {
                let stock = self.want_stock(&self.plan.runs[*run as usize])?;
                Ok(stock.diameter.want("diameter", &stock.id)?.larger())
            })
            .collect();
        let bore = self.bore(&self.plan.pathways[index])?;
        Lay::of(bore, &diameters?).ok_or(Lack::Reported)
    }

    /// What a cable bears: what its maker states; 110 N for four-pair data cable (TIA-568); for
    /// copper conductors of power and speaker cable 0.008 lbf per circular mil.
    ///
    /// # Errors
    /// None of these is known.
    pub fn pull_limit(&self, stock: &Entry<Stock>) -> Result<PullLimit, Lack> {
        if let Some(limit) = stock.pull_limit.value() {
            return Ok(PullLimit {
                force: **limit,
                basis: PullBasis::Stated,
            });
        }
        if stock.pull_limit.is_bad() || stock.cores.is_bad() || stock.material.is_bad() {
            return Err(Lack::Reported);
        }
        let lack = || Lack::absent(format!("pull-limit of {}", stock.id));
        let cores = stock.cores.value();
        let published = match stock.service.want("`for`", &stock.id)?.value {
            // A category is of four pairs, unless the cores say otherwise.
            Service::Data
                if cores.map_or(stock.grade.value().is_some(), |cores| {
                    cores.count == FOUR_PAIR
                }) =>
            {
                four_pair().map(|force| PullLimit {
                    force,
                    basis: PullBasis::FourPair,
                })
            }
            Service::Power | Service::Speaker => {
                let material = match stock.material.value() {
                    None | Some(crate::plan::Material::Copper) => Material::Copper,
                    Some(_) => return Err(lack()),
                };
                cores.and_then(|cores| {
                    let force = by_conductors(cores.count, cores.size, material)?;
                    let basis = PullBasis::Conductors(cores.count, cores.size);
                    Some(PullLimit { force, basis })
                })
            }
            _ => None,
        };
        published.ok_or_else(lack)
    }

    /// The ends that a way feeds the cable in at and pulls it at, where the plan names them.
    pub fn feed_and_pull(&self, conduit: &Pathway, reversed: bool) -> [Option<&Id>; 2] {
        let [from, to] = [&conduit.from, &conduit.to]
            .map(|end| end.value().map(|end| self.id(self.node(end.thing))));
        if reversed { [to, from] } else { [from, to] }
    }
}
