//! Which runs of some services reach an endpoint.

use std::cell::OnceCell;

use super::beside::Beside;
use super::topology::{House, Node, small};
use crate::findings::Lack;
use crate::plan::Service;

/// Looks for runs at endpoints. What stands beside what is collected only once it is asked for.
pub struct Seeker<'h, 'p> {
    house: &'h House<'p>,
    beside: OnceCell<Beside>,
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
        Seeker {
            house: self,
            beside: OnceCell::new(),
        }
    }

    /// Connected runs of some services that end at an endpoint itself.
    pub fn own_run(&self, endpoint: usize, services: &[Service]) -> Option<usize> {
        self.runs_at(Node::Endpoint(small(endpoint))).find(|run| {
            let service = self.service(*run);
            service.is_some_and(|service| services.contains(&service)) && !self.is_spare(*run)
        })
    }
}

impl Seeker<'_, '_> {
    pub fn beside(&self) -> &Beside {
        self.beside.get_or_init(|| self.house.beside())
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
    pub fn reach_at(&self, places: &[usize], services: &[Service]) -> Reach {
        let house = self.house;
        let mut found = Reach::default();
        for place in places {
            for run in house.runs_at(Node::Endpoint(small(*place))) {
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
