//! Which runs of some services reach an endpoint.

use std::collections::HashSet;

use super::beside::Beside;
use super::topology::{House, Node};
use crate::findings::{Id, Lack};
use crate::plan::Service;

/// Looks for runs at endpoints.
pub struct Seeker<'h, 'p> {
    house: &'h House<'p>,
}

/// What there is of the services that were looked for.
#[derive(Debug, Default)]
pub struct Reach {
    /// A run that is connected.
    pub run: Option<usize>,
    /// A spare, which is connected to nothing.
    pub spare: Option<usize>,
    /// What is missing to know what another run carries.
    pub lack: Option<Lack>,
}

impl House<'_> {
    pub fn seeker(&self) -> Seeker<'_, '_> {
        Seeker { house: self }
    }

    /// What is missing of connected runs between two endpoints of which it is not known what they
    /// carry: each once, with the stock or the run that lacks it.
    pub fn uncertain_runs(&self) -> Vec<(&Id, Lack)> {
        let (mut lacks, mut told) = (Vec::new(), HashSet::new());
        for (index, run) in self.plan.runs.iter().enumerate() {
            if self.service(index).is_some() || self.is_spare(index) {
                continue;
            }
            let ends = self.ends(index);
            let signal =
                ends.is_some_and(|(from, to)| from.endpoint().is_some() && to.endpoint().is_some());
            let stock = run.stock.value().map(|stock| stock.at());
            if !signal || stock.is_some_and(|stock| told.contains(&stock)) {
                continue;
            }
            if let Err(lack @ Lack::Absent(_)) = self.want_service(index) {
                told.extend(stock);
                let id = stock.map_or(&run.id, |stock| &self.plan.stock[stock].id);
                lacks.push((id, lack));
            }
        }
        lacks
    }

    /// A connected run of some services that ends at an endpoint itself.
    pub fn own_run(&self, endpoint: usize, services: &[Service]) -> Option<usize> {
        self.runs_at(Node::of_endpoint(endpoint)).find(|run| {
            let service = self.service(*run);
            service.is_some_and(|service| services.contains(&service)) && !self.is_spare(*run)
        })
    }
}

impl Seeker<'_, '_> {
    pub fn beside(&self) -> &Beside {
        self.house.beside()
    }

    /// Runs of some services that end where those for an endpoint end: at it, at what stands in
    /// it, at what it stands in, or at a plate or box beside it.
    pub fn reach(&self, endpoint: usize, services: &[Service]) -> Reach {
        if let Some(run) = self.house.own_run(endpoint, services) {
            return Reach {
                run: Some(run),
                ..Reach::default()
            };
        }
        let landings = self.house.landings(endpoint, self.beside());
        self.reach_at(&landings, services)
    }

    /// The same for places that are known.
    fn reach_at(&self, places: &[usize], services: &[Service]) -> Reach {
        let house = self.house;
        let mut found = Reach::default();
        for place in places {
            for run in house.runs_at(Node::of_endpoint(*place)) {
                match (house.service(run), house.is_spare(run)) {
                    (Some(service), false) if services.contains(&service) => {
                        found.run = Some(run);
                        return found;
                    }
                    (Some(service), true) if services.contains(&service) => {
                        found.spare = found.spare.or(Some(run));
                    }
                    (None, false) => {
                        found.lack = found.lack.or_else(|| house.want_service(run).err());
                    }
                    _ => {}
                }
            }
        }
        found
    }
}
