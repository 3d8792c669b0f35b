//! How far data cabling must lie from power cabling by EN 50174-2, from what a plan tells.

use std::collections::HashMap;

use super::coax::LackOf;
use super::topology::{House, Node};
use crate::figures::apart::Separation;
use crate::findings::Lack;
use crate::plan::{Containment as Stated, Field, Make, PathwayKind as Kind, Service};
use crate::tables::separation::{Class, Containment, circuits_of, class_of};

/// The least separation, as far as the plan tells.
#[derive(Debug)]
pub struct Apart<'p> {
    /// At least this, whatever the plan leaves out.
    pub least: Separation,
    /// At most this; `None` where nothing bounds it.
    pub most: Option<Separation>,
    /// What would settle it, where the two differ.
    pub lack: Option<LackOf<'p>>,
}

/// What lies between two bounds for want of something.
struct Between<'p, T> {
    least: T,
    most: Option<T>,
    lack: Option<LackOf<'p>>,
}

impl<T: Copy> Between<'_, T> {
    fn sure(value: T) -> Self {
        Self {
            least: value,
            most: Some(value),
            lack: None,
        }
    }
}

/// Circuits of a plan by where their power runs lie.
pub struct Circuits<'p> {
    /// For each run, the circuit that feeds it.
    of_run: Vec<Option<u32>>,
    in_way: HashMap<u32, (u32, Option<LackOf<'p>>)>,
    /// The first live power run of which it is not known where it lies.
    lost: Option<LackOf<'p>>,
}

impl<'p> House<'p> {
    /// Which circuit feeds each power run.
    pub fn circuits_by_run(&self) -> Circuits<'p> {
        let mut of_run = vec![None; self.plan.runs.len()];
        for circuit in 0..self.plan.circuits.len() {
            for run in self.runs_below(circuit) {
                of_run[run] = u32::try_from(circuit).ok();
            }
        }
        Circuits {
            of_run,
            in_way: HashMap::new(),
            lost: self
                .runs_of(Service::Power)
                .filter(|run| !self.is_spare(*run))
                .find_map(|run| self.lost(run)),
        }
    }

    /// The least separation between a run of data or coax and a power run that it lies beside.
    ///
    /// Source: EN 50174-2, the 2009 edition on, tables 4 and 5. What stands between the two is the
    /// metal that either lies in and the other does not, at its weakest place; circuits are those
    /// in the pathways that both pass.
    ///
    /// # Errors
    /// The cable is neither data nor coax, or the table does not answer.
    pub fn apart(
        &self,
        signal: usize,
        power: usize,
        circuits: &mut Circuits<'p>,
    ) -> Result<Apart<'p>, Lack> {
        let class = self.separation_class(signal)?;
        let metal = self.metal_between(signal, power);
        let count = self.circuits_beside(signal, power, circuits);
        let of = |class, metal, count| Separation::of(class, metal, count).ok_or(Lack::Reported);
        // Class D is the hardest to disturb; the better the metal, the less is asked.
        let least = of(class.least, metal.least, count.least)?;
        let most = match (class.most, metal.most, count.most) {
            (Some(class), Some(metal), Some(count)) => Some(of(class, metal, count)?),
            _ => None,
        };
        Ok(Apart {
            least,
            most,
            lack: class.lack.or(metal.lack).or(count.lack),
        })
    }

    fn separation_class(&self, signal: usize) -> Result<Between<'p, Class>, Lack> {
        match self.want_service(signal)? {
            Service::Coax => return Ok(Between::sure(Class::A)),
            Service::Data => {}
            _ => return Err(Lack::Reported),
        }
        let stock = self.want_stock(&self.plan.runs[signal])?;
        let all = |lack| Between {
            least: Class::D,
            most: Some(Class::A),
            lack: Some((&stock.id, lack)),
        };
        let grade = match stock.grade.want("grade", &stock.id) {
            Ok(grade) => grade.word(),
            Err(lack) => return Ok(all(lack)),
        };
        let (bare, screened) = (class_of(grade, false), class_of(grade, true));
        Ok(match stock.shields.want("shields", &stock.id) {
            Ok(shields) => {
                let class = if shields.0 > 0 { screened } else { bare };
                let none = || {
                    Lack::absent(format!(
                        "a separation class of {grade} as {} is screened",
                        stock.id
                    ))
                };
                class.map_or_else(|| all(none()), Between::sure)
            }
            // Some grades are sold in one make only.
            Err(lack) => match (screened, bare) {
                (Some(screened), Some(bare)) if screened != bare => Between {
                    least: screened,
                    most: Some(bare),
                    lack: Some((&stock.id, lack)),
                },
                (Some(class), _) | (None, Some(class)) => Between::sure(class),
                (None, None) => all(lack),
            },
        })
    }

    /// The metal between two runs. The plan does not tell where along its way a run lies beside
    /// another, so the weakest place counts.
    fn metal_between(&self, signal: usize, power: usize) -> Between<'p, Containment> {
        let mut signal_metal = self.metal_around(signal, power);
        let power_metal = self.metal_around(power, signal);
        signal_metal.least = signal_metal.least.max(power_metal.least);
        signal_metal.most = match (signal_metal.most, power_metal.most) {
            (Some(a), Some(b)) => Some(a.max(b)),
            (a, b) => a.or(b),
        };
        signal_metal.lack = signal_metal.lack.or(power_metal.lack);
        signal_metal
    }

    fn metal_around(&self, run: usize, other: usize) -> Between<'p, Containment> {
        let shared = self.passes(other);
        let named = self.plan.runs[run].through.value();
        let named = named.into_iter().flat_map(|ways| ways.values());
        let chains: Vec<Vec<u32>> = named.map(|way| self.chain(way.thing.index)).collect();
        let near = |chain: &&Vec<u32>| chain.iter().any(|way| shared.contains(way));
        // Where they share no pathway it is not known where they lie beside each other.
        let any = chains.iter().any(|chain| near(&chain));
        let mut weakest: Option<Between<'p, Containment>> = None;
        for chain in chains.iter().filter(|chain| !any || near(chain)) {
            let here = self.metal_of(chain, shared);
            weakest = Some(match weakest {
                None => here,
                Some(before) => Between {
                    least: before.least.min(here.least),
                    most: before.most.zip(here.most).map(|(a, b)| a.min(b)),
                    lack: before.lack.or(here.lack),
                },
            });
        }
        weakest.unwrap_or(Between::sure(Containment::None))
    }

    /// A pathway and those around it.
    fn chain(&self, way: u32) -> Vec<u32> {
        let mut chain = vec![way];
        let mut next = 0;
        while let Some(at) = chain.get(next) {
            let inside = self.plan.pathways[*at as usize].inside.value();
            let around: Vec<u32> = inside
                .into_iter()
                .flat_map(|ways| ways.values())
                .map(|outer| outer.thing.index)
                .filter(|outer| !chain.contains(outer))
                .collect();
            chain.extend(around);
            next += 1;
            if next > crate::plan::DEEPEST {
                break;
            }
        }
        chain
    }

    /// The best metal in a chain of pathways. One that both runs lie in does not part them, unless
    /// it has a barrier.
    fn metal_of(&self, chain: &[u32], shared: &[u32]) -> Between<'p, Containment> {
        let mut best = Between::sure(Containment::None);
        for way in chain {
            let pathway = &self.plan.pathways[*way as usize];
            let parted = pathway.barrier.value().is_some_and(|barrier| barrier.0);
            if shared.contains(way) && !parted {
                continue;
            }
            let here = self.own_metal(*way);
            best = Between {
                least: best.least.max(here.least),
                most: best.most.zip(here.most).map(|(a, b)| a.max(b)),
                lack: best.lack.or(here.lack),
            };
        }
        best
    }

    fn own_metal(&self, way: u32) -> Between<'p, Containment> {
        let pathway = &self.plan.pathways[way as usize];
        let open = |lack| Between {
            least: Containment::SolidMetal,
            most: Some(Containment::None),
            lack: Some((&pathway.id, lack)),
        };
        match &pathway.containment {
            Field::Stated(stated) => {
                return Between::sure(match stated.value {
                    Stated::None => Containment::None,
                    Stated::OpenMetal => Containment::OpenMetal,
                    Stated::PerforatedMetal => Containment::PerforatedMetal,
                    Stated::SolidMetal => Containment::SolidMetal,
                });
            }
            Field::Bad => return open(Lack::Reported),
            Field::Absent => {}
        }
        let lack = |key: &str| open(Lack::absent(format!("{key} of {}", pathway.id)));
        match (pathway.kind.value(), pathway.make.value()) {
            (Some(Kind::Conduit | Kind::Raceway), Some(Make::Emt | Make::Rmc | Make::Imc)) => {
                Between::sure(Containment::SolidMetal)
            }
            // How closed its strip is no table tells.
            (Some(Kind::Conduit | Kind::Raceway), Some(Make::Fmc)) => lack("containment"),
            (Some(Kind::Conduit | Kind::Raceway), Some(_)) => Between::sure(Containment::None),
            (Some(Kind::Conduit), None) if pathway.make.is_bad() => open(Lack::Reported),
            (Some(Kind::Conduit), None) => lack("make"),
            (Some(Kind::Raceway | Kind::Tray | Kind::Cabinet), _) => lack("containment"),
            _ => Between::sure(Containment::None),
        }
    }

    /// How many circuits of at most 20 A lie where two runs do, the power run's own at least.
    fn circuits_beside(
        &self,
        signal: usize,
        power: usize,
        circuits: &mut Circuits<'p>,
    ) -> Between<'p, u32> {
        let (mut count, mut lack) = self.circuits_among([power].into_iter(), circuits);
        let shared = self.passes(power);
        for way in self
            .passes(signal)
            .iter()
            .filter(|way| shared.contains(way))
        {
            let known = match circuits.in_way.get(way) {
                Some(known) => known.clone(),
                None => {
                    let runs = self.runs_in(*way as usize).iter().map(|run| *run as usize);
                    let live = runs.filter(|run| {
                        self.service(*run) == Some(Service::Power) && !self.is_spare(*run)
                    });
                    let found = self.circuits_among(live, circuits);
                    circuits.in_way.insert(*way, found.clone());
                    found
                }
            };
            count = count.max(known.0);
            lack = lack.or(known.1);
        }
        let ends = || [signal, power].into_iter();
        let lost = ends()
            .find_map(|run| self.lost(run))
            .or_else(|| circuits.lost.clone())
            .or_else(|| ends().find_map(|run| self.adrift(run)));
        lack = lack.or(lost);
        Between {
            least: count,
            most: lack.is_none().then_some(count),
            lack,
        }
    }

    /// What is missing where it is not known which pathways a run passes.
    fn lost(&self, run: usize) -> Option<LackOf<'p>> {
        let lack = self.want_through(run).err()?;
        Some((&self.plan.runs[run].id, lack))
    }

    /// The same of what a conduit that it passes lies in.
    fn adrift(&self, run: usize) -> Option<LackOf<'p>> {
        let ways = self.passes(run).iter().map(|way| *way as usize);
        ways.filter(|way| self.is_raceway(*way)).find_map(|way| {
            let way = &self.plan.pathways[way];
            let lack = way.inside.want("inside", &way.id).err()?;
            Some((&way.id, lack))
        })
    }

    /// So many circuits feed these runs, at least; and what is missing to count them.
    fn circuits_among(
        &self,
        runs: impl Iterator<Item = usize>,
        circuits: &Circuits<'p>,
    ) -> (u32, Option<LackOf<'p>>) {
        let mut seen = std::collections::HashSet::new();
        let (mut count, mut lack): (u32, Option<LackOf<'p>>) = (0, None);
        for run in runs {
            match circuits.of_run[run] {
                Some(circuit) if !seen.insert(circuit) => {}
                Some(circuit) => {
                    let (more, missing) = self.circuits_in(circuit);
                    count = count.saturating_add(more);
                    lack = lack.or(missing);
                }
                None => {
                    let id = &self.plan.runs[run].id;
                    let fed = Lack::absent(format!("a circuit that feeds {id}"));
                    lack = lack.or(Some((id, fed)));
                }
            }
        }
        (count.max(1), lack)
    }

    /// How many circuits of at most 20 A one counts as.
    fn circuits_in(&self, circuit: u32) -> (u32, Option<LackOf<'p>>) {
        let entry = &self.plan.circuits[circuit as usize];
        let id = self.id(Node::Circuit(circuit));
        let phases = match (entry.poles.value(), entry.volts.value()) {
            (Some(poles), _) => Ok(if poles.0 >= 3 { 3 } else { 1 }),
            _ if entry.poles.is_bad() => Err(Lack::Reported),
            // A pole to earth in these regions has 230 V, and three phases 400 V.
            (None, Some(volts)) if volts.base() < 300.0 => Ok(1),
            (None, _) => entry.poles.want("poles", id).map(|_| 1),
        };
        let breaker = entry.breaker.want("breaker", id);
        let count = |phases: u8| {
            let amperes = breaker.as_ref().map_or(1.0, |breaker| breaker.base());
            circuits_of(amperes, phases).unwrap_or(1)
        };
        let least = count(phases.as_ref().copied().unwrap_or(1));
        let lack = phases.err().or(breaker.err());
        (least, lack.map(|lack| (id, lack)))
    }
}

impl House<'_> {
    /// Whether a run lies in closed metal all the way, so that nothing outside disturbs it.
    pub fn is_in_solid_metal(&self, run: usize) -> bool {
        let named = self.plan.runs[run].through.value();
        named.is_some_and(|ways| {
            let solid = |way: &u32| self.own_metal(*way).most == Some(Containment::SolidMetal);
            !ways.0.is_empty()
                && ways
                    .values()
                    .all(|way| self.chain(way.thing.index).iter().any(solid))
        })
    }
}
