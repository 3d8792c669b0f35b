//! Where the data run of an outlet leads.

use super::topology::{House, Node};
use crate::findings::Lack;
use crate::plan::{EndpointKind as Kind, Service};

/// Runs of a box up to which they are told apart.
const MOST_BRANCHES: usize = 64;

/// What one data run of an outlet leads to, behind the boxes that it passes.
#[derive(Debug)]
pub enum LeadsTo {
    /// A panel, a patch panel, a switch, a router or the rack.
    Home,
    /// Another outlet or plate, or a device.
    Other { end: usize },
    /// A box with more outlets behind it than runs to a panel: this run to a panel is another's.
    Shared { at: usize, run: usize },
    /// It cannot be followed.
    Lost(Lack),
}

impl House<'_> {
    /// Whether outlets may be wired from an endpoint: a panel, or what holds or stands in one.
    pub fn is_home(&self, endpoint: usize) -> bool {
        self.hosts(endpoint).any(|at| {
            matches!(
                self.plan.endpoints[at].kind.value(),
                Some(
                    Kind::Distribution
                        | Kind::PatchPanel
                        | Kind::Switch
                        | Kind::Router
                        | Kind::Rack
                )
            )
        })
    }

    /// Connected data runs that end at an endpoint.
    pub fn data_runs_at(&self, endpoint: usize) -> impl Iterator<Item = usize> + '_ {
        self.runs_at(Node::of_endpoint(endpoint))
            .filter(|run| self.service(*run) == Some(Service::Data) && !self.is_spare(*run))
    }

    /// Follows a data run away from an outlet. A box that joins two data runs is passed.
    pub fn leads_to(&self, outlet: usize, run: usize) -> LeadsTo {
        let (mut at, mut run) = (Node::of_endpoint(outlet), run);
        // A way back to where it started has passed every run at most once.
        for _ in 0..=self.plan.runs.len() {
            let Some(next) = self.other_end(run, at) else {
                return LeadsTo::Lost(Lack::Reported);
            };
            let Some(end) = next.endpoint() else {
                return LeadsTo::Lost(Lack::Reported);
            };
            if self.is_home(end) {
                return LeadsTo::Home;
            }
            let entry = &self.plan.endpoints[end];
            match entry.kind.want("kind", &entry.id) {
                Err(lack) => return LeadsTo::Lost(lack),
                Ok(kind) if **kind != Kind::Box => return LeadsTo::Other { end },
                Ok(_) => {}
            }
            let mut others = self.data_runs_at(end).filter(|other| *other != run);
            match (others.next(), others.next()) {
                (None, _) => return LeadsTo::Other { end },
                (Some(other), None) => (at, run) = (next, other),
                (Some(_), Some(_)) => return self.branch(end, run),
            }
        }
        LeadsTo::Other { end: outlet }
    }

    /// Where a run leads from a box that joins more than two data runs. It does not say which goes on as which;
    /// but of more branches than runs to a panel, those that the plan lists last have none.
    fn branch(&self, at: usize, run: usize) -> LeadsTo {
        let entry = &self.plan.endpoints[at];
        let lost = || {
            LeadsTo::Lost(Lack::absent(format!(
                "which run goes on as which at {}",
                entry.id
            )))
        };
        if self.data_runs_at(at).nth(MOST_BRANCHES).is_some() {
            return lost();
        }
        let (mut home, mut others) = (Vec::new(), Vec::new());
        for other in self.data_runs_at(at) {
            let end = self
                .other_end(other, Node::of_endpoint(at))
                .and_then(Node::endpoint);
            let Some(end) = end else {
                return LeadsTo::Lost(Lack::Reported);
            };
            match self.plan.endpoints[end].kind.value() {
                _ if self.is_home(end) => home.push(other),
                None | Some(Kind::Box) => return lost(),
                Some(_) => others.push(other),
            }
        }
        others.sort_unstable();
        let rank = others.iter().position(|other| *other == run);
        match (home.first(), rank) {
            (Some(first), Some(rank)) if others.len() > home.len() => match home.get(rank) {
                Some(_) => LeadsTo::Home,
                None => LeadsTo::Shared { at, run: *first },
            },
            _ => lost(),
        }
    }
}
