//! Power conductors that lie together: in a bundle, a conduit, a filled opening.

use super::topology::House;
use crate::findings::Lack;
use crate::plan::{PathwayKind, Run, Service};

/// How many conductors carry current: of three cores and more, one may be a neutral that carries
/// only what the others leave.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Carrying {
    pub least: u32,
    pub most: u32,
}

impl Carrying {
    pub fn of(cores: u32) -> Self {
        Self {
            least: if cores > 2 { cores - 1 } else { cores },
            most: cores,
        }
    }

    #[must_use]
    pub fn times(self, runs: u32) -> Self {
        Self {
            least: self.least.saturating_mul(runs),
            most: self.most.saturating_mul(runs),
        }
    }

    #[must_use]
    pub fn and(self, other: Self) -> Self {
        Self {
            least: self.least.saturating_add(other.least),
            most: self.most.saturating_add(other.most),
        }
    }
}

/// The connected power runs that name a pathway, and in raceway the spare ones.
#[derive(Debug, Clone, Default)]
pub struct Crowd {
    pub runs: u32,
    pub carrying: Carrying,
    /// A run whose cores are not known and not counted, and what is missing of it.
    pub lack: Option<(usize, Lack)>,
}

/// The power runs of every pathway, and those of which it is not known where they lie.
pub struct Crowds {
    of: Vec<Crowd>,
    /// Runs that say neither `through` nor `surface`.
    pub astray: Crowd,
    /// The first of them.
    pub first_astray: Option<usize>,
    /// All but those in the open.
    pub all: Crowd,
}

impl Crowds {
    pub fn of(&self, pathway: usize) -> &Crowd {
        &self.of[pathway]
    }
}

/// How the plan tells that the cables of a pathway lie together.
#[derive(Debug, Clone, PartialEq)]
pub enum Together {
    /// In a raceway, or an opening that is filled around them.
    Surely,
    /// That is missing of the pathway to know.
    Lacks(Lack),
    /// Nothing says so.
    Unsaid,
    /// The pathway is a raceway that is too short for it.
    Never,
}

impl House<'_> {
    pub fn crowds(&self) -> Crowds {
        let mut crowds = Crowds {
            of: vec![Crowd::default(); self.plan.pathways.len()],
            astray: Crowd::default(),
            first_astray: None,
            all: Crowd::default(),
        };
        for index in self.runs_of(Service::Power) {
            let run = &self.plan.runs[index];
            let carrying = self.carrying(index).map_err(|lack| (index, lack));
            let ways = run.through.value().map_or(&[][..], |through| &through.0);
            if self.is_spare(index) {
                // In raceway spare conductors count: they are there to be used (note to NEC table 310.15(C)(1),
                // from memory).
                for way in ways.iter().filter(|way| self.is_raceway(way.at())) {
                    crowds.of[way.at()].add(&carrying);
                }
                continue;
            }
            if !ways.is_empty() || self.is_astray(run) {
                crowds.all.add(&carrying);
            }
            for way in ways {
                crowds.of[way.at()].add(&carrying);
            }
            if self.is_astray(run) {
                crowds.astray.add(&carrying);
                crowds.first_astray = crowds.first_astray.or(Some(index));
            }
        }
        crowds
    }

    /// Whether it is not known where a run lies.
    pub fn is_astray(&self, run: &Run) -> bool {
        !run.lies_open()
            && run
                .through
                .value()
                .is_none_or(|through| through.0.is_empty())
    }

    /// Conductors of a run that carry current.
    ///
    /// # Errors
    /// Its stock, or the stock's cores, are not stated.
    pub fn carrying(&self, run: usize) -> Result<Carrying, Lack> {
        let stock = self.want_stock(&self.plan.runs[run])?;
        let cores = stock.cores.want("cores", &stock.id)?;
        let carrying = Carrying::of(cores.count);
        Ok(if cores.count == 3 && self.is_of_one_phase(run) {
            Carrying {
                most: carrying.least,
                ..carrying
            }
        } else {
            carrying
        })
    }

    /// Whether a run is fed by circuits of 120 V, or of 120/240 V, alone: there a third core is a neutral that carries
    /// only what two lines leave (NEC 310.15(E)(1), from memory), or one of two travellers.
    fn is_of_one_phase(&self, run: usize) -> bool {
        let Some((_, to)) = self.ends(run) else {
            return false;
        };
        let one = |circuit: &u32| {
            let entry = &self.plan.circuits[*circuit as usize];
            let volts = entry.volts.value().map(|volts| volts.base());
            let few = entry.poles.value().is_none_or(|poles| poles.0 < 3);
            // 208 V is of three phases. Nominal voltages: ANSI C84.1, from memory.
            few && volts.is_some_and(|volts| volts <= 127.0 || (220.0..=250.0).contains(&volts))
        };
        let circuits = self.circuits_of(to);
        !circuits.is_empty() && circuits.iter().all(one)
    }

    /// Whether the cables of a pathway lie together for longer than `least` metres, or in an
    /// opening that is filled around them (NEC 334.80).
    pub fn together(&self, pathway: usize, least: f64) -> Together {
        let way = &self.plan.pathways[pathway];
        let mut lack = None;
        let mut short = false;
        if way.is_raceway() {
            match self.want_conduit_length(way) {
                Ok(length) if length.base() > least * (1.0 + 1e-9) => return Together::Surely,
                Ok(_) => short = true,
                Err(missing) => lack = Some(missing),
            }
        }
        if let (Some(PathwayKind::Wall | PathwayKind::Floor | PathwayKind::Ceiling), true) =
            (way.kind.value(), way.framing.is_absent())
        {
            lack = way.framing.want("framing", &way.id).err();
        }
        for opening in way
            .framing
            .value()
            .into_iter()
            .flat_map(|list| list.values())
        {
            match opening.filled.want("filled in framing", &way.id) {
                Ok(filled) if filled.0 => return Together::Surely,
                Ok(_) => {}
                Err(missing) => lack = lack.or(Some(missing)),
            }
        }
        match lack {
            Some(lack) => Together::Lacks(lack),
            None if short => Together::Never,
            None => Together::Unsaid,
        }
    }
}

impl Crowd {
    fn add(&mut self, carrying: &Result<Carrying, (usize, Lack)>) {
        self.runs = self.runs.saturating_add(1);
        match carrying {
            Ok(carrying) => self.carrying = self.carrying.and(*carrying),
            Err(lack) => self.lack = self.lack.take().or_else(|| Some(lack.clone())),
        }
    }
}
