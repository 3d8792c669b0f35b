//! Which low-voltage runs lie beside which power runs: as stated, and by sharing a pathway.

use super::topology::{House, small};
use crate::findings::Lack;
use crate::plan::{Beside, Field, Service, Stated};

/// One entry of `beside`, whichever of the two runs states it.
#[derive(Debug, Clone, Copy)]
pub struct Neighbour<'p> {
    pub signal: u32,
    /// The other run: power, or of no known service.
    pub power: u32,
    pub beside: &'p Stated<Beside>,
}

/// All of a plan.
#[derive(Debug)]
pub struct Nearby<'p> {
    /// By signal run, then by power run.
    entries: Vec<Neighbour<'p>>,
    /// For each pathway, the live power runs in it that count, and those of no known service.
    power_in: Vec<Vec<u32>>,
}

impl<'p> House<'p> {
    /// Low-voltage runs and the power runs near them. A power run for which `counts` is false is
    /// left out of those that only share a pathway. A spare carries no power; a spare signal run
    /// will carry a signal one day.
    pub fn nearby(&self, counts: impl Fn(usize) -> bool) -> Nearby<'p> {
        let mut power_in = vec![Vec::new(); self.plan.pathways.len()];
        for run in self.runs_that_may_be(Service::Power) {
            if self.may_be_live(run) && counts(run) {
                for way in self.passes(run) {
                    power_in[*way as usize].push(small(run));
                }
            }
        }
        Nearby {
            entries: self.stated_neighbours(),
            power_in,
        }
    }

    /// Every entry of `beside` that has a low-voltage run on one side and on the other one that is,
    /// or may be, live power.
    fn stated_neighbours(&self) -> Vec<Neighbour<'p>> {
        let mut entries = Vec::new();
        for (index, run) in self.plan.runs.iter().enumerate() {
            let list = run.beside.value().map_or(&[][..], |list| &list.0);
            for beside in list {
                let Some(other) = beside.run.value() else {
                    continue;
                };
                let other = other.at();
                for (signal, power) in [(index, other), (other, index)] {
                    if self.is_low_voltage(signal) && self.may_be_live(power) {
                        entries.push(Neighbour {
                            signal: small(signal),
                            power: small(power),
                            beside,
                        });
                    }
                }
            }
        }
        entries.sort_by_key(|entry| (entry.signal, entry.power));
        entries
    }

    fn may_be_live(&self, run: usize) -> bool {
        matches!(self.service(run), None | Some(Service::Power)) && !self.is_spare(run)
    }
}

impl<'p> Nearby<'p> {
    /// What a low-voltage run is stated to lie beside, by the power run.
    pub fn of(&self, signal: usize) -> &[Neighbour<'p>] {
        let signal = small(signal);
        let start = self.entries.partition_point(|entry| entry.signal < signal);
        let rest = &self.entries[start..];
        &rest[..rest.partition_point(|entry| entry.signal == signal)]
    }

    /// A power run that shares a pathway with a low-voltage run and of which neither says how far
    /// it is away. A stated `beside` of the low-voltage run names all that it lies beside.
    ///
    /// # Errors
    /// `beside` could not be read.
    pub fn unstated(&self, house: &House<'_>, signal: usize) -> Result<Option<usize>, Lack> {
        match house.plan.runs[signal].beside {
            Field::Stated(_) => return Ok(None),
            Field::Bad => return Err(Lack::Reported),
            Field::Absent => {}
        }
        let stated = self.of(signal);
        let is_stated = |power: u32| {
            stated
                .binary_search_by_key(&power, |entry| entry.power)
                .is_ok()
        };
        let ways = house.passes(signal).iter();
        let mut powers = ways.flat_map(|way| &self.power_in[*way as usize]);
        Ok(powers
            .find(|power| !is_stated(**power))
            .map(|power| *power as usize))
    }

    /// Whether any power run counts.
    pub fn any(&self) -> bool {
        !self.entries.is_empty() || self.power_in.iter().any(|runs| !runs.is_empty())
    }
}

impl House<'_> {
    /// What is missing where it is not known which pathways a run passes, and it is hidden.
    ///
    /// # Errors
    /// The run's `through`.
    pub fn want_through(&self, run: usize) -> Result<(), Lack> {
        let run = &self.plan.runs[run];
        match run.through.want("through", &run.id) {
            Ok(through) if !through.0.is_empty() => Ok(()),
            Err(Lack::Reported) => Err(Lack::Reported),
            _ if run.lies_open() => Ok(()),
            _ => Err(Lack::absent(format!("through of {}", run.id))),
        }
    }
}
