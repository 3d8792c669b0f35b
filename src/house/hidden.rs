//! Runs of which it is not known what they carry, and that may be what a rule looks for.

use std::collections::{HashMap, HashSet};

use super::channel::Line;
use super::kinds::is_passive_speaker;
use super::topology::{House, Node, small};
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

    /// Lines that start or end at a plate where a run of no known service ends too, or one that could not be read.
    pub(super) fn find_loose_ends(&self, lines: &mut [Line]) {
        let mut unknown: HashMap<Node, u32> = HashMap::new();
        for run in self.runs_of_no_known_service() {
            if let (false, Some((from, to))) = (self.is_spare(run), self.ends(run)) {
                unknown.entry(from).or_insert(small(run));
                unknown.entry(to).or_insert(small(run));
            }
        }
        let ends_of = |run: usize| {
            let run = &self.plan.runs[run];
            [&run.from, &run.to].map(|end| end.value().map(|end| self.node(end.thing)))
        };
        for run in 0..self.plan.runs.len() {
            if let (false, [Some(end), None] | [None, Some(end)]) =
                (self.is_spare(run), ends_of(run))
            {
                unknown.entry(end).or_insert(small(run));
            }
        }
        if unknown.is_empty() {
            return;
        }
        for line in lines {
            let mut goes_on = vec![false; line.steps.len()];
            for before in line.steps.iter().filter_map(|step| step.before) {
                goes_on[before as usize] = true;
            }
            let ends = line.steps.iter().zip(goes_on);
            let ends = ends
                .filter(|(_, goes_on)| !goes_on)
                .map(|(step, _)| step.end);
            let loose = [line.source]
                .into_iter()
                .chain(ends)
                .find(|node| unknown.contains_key(node) && self.joins(*node, line.service));
            line.goes_on = loose.map(|node| unknown[&node]);
        }
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
