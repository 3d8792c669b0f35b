//! Runs of which it is not known what they carry, and that may be what a rule looks for.

use std::collections::HashSet;

use super::kinds::is_passive_speaker;
use super::topology::{House, Node};
use crate::findings::{Id, Lack};
use crate::plan::{Endpoint, EndpointKind as Kind, Service};

impl<'p> House<'p> {
    /// What keeps from knowing that a run is of a service, where one of its ends tells that it may
    /// be: a passive speaker of a speaker run, a subwoofer of a line, a display of a video run. Each
    /// thing once, the stock that does not say what it is for or the run that has no stock; runs
    /// for which `counts` is false are left out.
    pub fn hidden_runs(
        &self,
        service: Service,
        counts: impl Fn(usize) -> bool,
    ) -> Vec<(&'p Id, Lack)> {
        let mut known: HashSet<&Id> = HashSet::new();
        let mut found = Vec::new();
        for run in self.runs_of_no_known_service() {
            let entry = &self.plan.runs[run];
            let on = match entry.stock.value() {
                Some(stock) => &self.plan.stock[stock.at()].id,
                None => &entry.id,
            };
            if self.may_carry(run, service) && counts(run) && known.insert(on) {
                found.extend(self.want_service(run).err().map(|lack| (on, lack)));
            }
        }
        found
    }

    fn may_carry(&self, run: usize, service: Service) -> bool {
        let at = |node: Node| match service {
            Service::Video => self.display_at(node).is_some(),
            Service::Speaker => self.stands_in(node, is_passive_speaker),
            Service::Line => self.stands_in(node, |end| end.kind.value() == Some(&Kind::Subwoofer)),
            _ => false,
        };
        self.ends(run).is_some_and(|(from, to)| at(from) || at(to))
    }

    /// Whether an end of a run is of a kind, or stands in one.
    pub fn ends_at(&self, run: usize, kind: impl Fn(&Endpoint) -> bool) -> bool {
        let ends = self.ends(run);
        ends.is_some_and(|(from, to)| self.stands_in(from, &kind) || self.stands_in(to, &kind))
    }

    fn stands_in(&self, node: Node, kind: impl Fn(&Endpoint) -> bool) -> bool {
        let hosts = node.endpoint().map(|at| self.hosts(at));
        hosts
            .into_iter()
            .flatten()
            .any(|host| kind(&self.plan.endpoints[host]))
    }
}
