//! What lands on a rack and on its panels.

use super::topology::{House, Node};
use crate::findings::Lack;
use crate::plan::{EndpointKind, Service};

/// Signal runs that take a port of a panel, a switch or a distribution.
#[derive(Debug, Default)]
pub struct Landed {
    /// Of these, spare ones included.
    pub runs: usize,
    pub spares: usize,
    /// Runs that may be power runs: what they carry is not known.
    pub unsure: usize,
    /// What is missing to know what the first of them carries.
    pub lack: Option<Lack>,
}

impl House<'_> {
    /// Endpoints whose kind the plan does not say.
    pub fn kindless(&self) -> impl Iterator<Item = usize> + '_ {
        let endpoints = self.plan.endpoints.iter().enumerate();
        endpoints
            .filter(|(_, endpoint)| endpoint.kind.is_absent())
            .map(|(index, _)| index)
    }

    /// Counts the runs that take a port of an endpoint. Power runs take none, nor do the cords
    /// from a patch panel to what stands in the same rack: they plug into the front of ports that
    /// the house's runs take at the back.
    pub fn landed(&self, endpoint: usize) -> Landed {
        let entry = &self.plan.endpoints[endpoint];
        let is_panel = entry.kind.value() == Some(&EndpointKind::PatchPanel);
        let holder = entry.within.value().filter(|_| is_panel);
        let node = Node::of_endpoint(endpoint);
        let mut landed = Landed::default();
        let mut unknown: Option<usize> = None;
        for run in self.runs_at(node) {
            let is_cord = holder.is_some_and(|holder| {
                let other = self.other_end(run, node).and_then(Node::endpoint);
                other.is_some_and(|other| self.hosts(other).any(|at| at == holder.at()))
            });
            match self.service(run) {
                Some(Service::Power) => {}
                _ if is_cord => {}
                Some(_) => {
                    landed.runs += 1;
                    landed.spares += usize::from(self.is_spare(run));
                }
                None => {
                    landed.unsure += 1;
                    unknown = unknown.min(Some(run)).or(Some(run));
                }
            }
        }
        landed.lack = unknown.and_then(|run| self.want_service(run).err());
        landed
    }

    /// Runs that end on an endpoint itself and belong on a patch panel: data, speaker, line and
    /// coax, spare ones included, in the plan's order; and the lack of the first run of which it
    /// is not known what it carries.
    pub fn unpatched(&self, endpoint: usize) -> (Vec<usize>, Option<Lack>) {
        let (mut runs, mut unknown) = (Vec::new(), None);
        for run in self.runs_at(Node::of_endpoint(endpoint)) {
            match self.service(run) {
                Some(Service::Data | Service::Speaker | Service::Line | Service::Coax) => {
                    runs.push(run);
                }
                Some(_) => {}
                None => unknown = unknown.min(Some(run)).or(Some(run)),
            }
        }
        runs.sort_unstable();
        (runs, unknown.and_then(|run| self.want_service(run).err()))
    }

    /// The only patch panel that stands in an endpoint, if it has ports for so many runs more.
    pub fn panel_for(&self, endpoint: usize, more: usize) -> Option<usize> {
        let is_panel =
            |at: &usize| self.plan.endpoints[*at].kind.value() == Some(&EndpointKind::PatchPanel);
        let members = self.with_members(endpoint);
        let mut panels = members.into_iter().skip(1).filter(is_panel);
        let panel = panels.next().filter(|_| panels.next().is_none())?;
        let ports = self.plan.endpoints[panel].ports.value()?.0 as usize;
        let landed = self.landed(panel);
        (landed.runs + landed.unsure + more <= ports).then_some(panel)
    }
}
