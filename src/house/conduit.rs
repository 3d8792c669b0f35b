//! Which runs lie in which pathway, and figures of conduits.

use super::topology::{House, small};
use crate::figures::fill::Fill;
use crate::findings::Lack;
use crate::plan::{Entry, Pathway, PathwayKind};
use crate::tables::conduit;
use crate::units::Distance;

/// A cable in a conduit.
#[derive(Debug, Clone, Copy)]
pub struct Occupant {
    pub run: usize,
    pub diameter: Distance,
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
            inside.into_iter().flat_map(|list| list.values()).map(|outer| outer.thing.index)
        };
        self.plan
            .runs
            .iter()
            .map(|run| {
                let mut all: Vec<u32> = Vec::new();
                let mut seen = std::collections::HashSet::new();
                for way in run.through.value().into_iter().flat_map(|list| list.values()) {
                    let mut next = vec![way.thing.index];
                    while let Some(way) = next.pop() {
                        if seen.insert(way) {
                            all.push(way);
                            next.extend(around(way));
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
            None => Err(Lack::absent(format!("bore of {} (no table has {} {})", conduit.id, make.value, size.value))),
        }
    }

    /// Cables in a conduit with the diameter that counts for fill, and the runs whose diameter is
    /// missing.
    pub fn occupants(&self, conduit: usize) -> (Vec<Occupant>, Option<Lack>) {
        let mut occupants = Vec::new();
        let mut lack = None;
        for run in self.runs_in(conduit) {
            let run = *run as usize;
            let diameter = self
                .want_stock(&self.plan.runs[run])
                .and_then(|stock| Ok(stock.diameter.want("diameter", &stock.id)?.value.larger()));
            match diameter {
                Ok(diameter) => occupants.push(Occupant { run, diameter }),
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
        let fill = Fill::of(bore, occupants.iter().map(|occupant| occupant.diameter).collect());
        Ok((fill.ok_or(Lack::Reported)?, occupants, lack))
    }

    /// Degrees of bend between the pull points of a conduit.
    ///
    /// # Errors
    /// The plan does not state the bends.
    pub fn bend_total(&self, conduit: &Entry<Pathway>) -> Result<f64, Lack> {
        let bends = conduit.bends.want("bends", &conduit.id)?;
        Ok(bends.values().map(|bend| bend.base()).sum())
    }
}
