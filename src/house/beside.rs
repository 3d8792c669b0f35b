//! What stands beside what, and which conduits end where.

use super::kinds::is_passive;
use super::topology::{House, small};
use crate::plan::{Endpoint, EndpointKind as Kind, Sort};

/// Endpoints by what stands beside them; it does not matter which of the two says so.
#[derive(Debug)]
pub struct Beside(Vec<Vec<u32>>);

impl Beside {
    pub fn of(&self, endpoint: usize) -> impl Iterator<Item = usize> + '_ {
        self.0[endpoint].iter().map(|other| *other as usize)
    }
}

impl House<'_> {
    pub fn beside(&self) -> &Beside {
        self.beside.get_or_init(|| self.build_beside())
    }

    fn build_beside(&self) -> Beside {
        let mut beside = vec![Vec::new(); self.plan.endpoints.len()];
        for (index, endpoint) in self.plan.endpoints.iter().enumerate() {
            for other in endpoint
                .beside
                .value()
                .into_iter()
                .flat_map(|list| list.values())
            {
                beside[index].push(other.thing.index);
                beside[other.at()].push(small(index));
            }
        }
        Beside(beside)
    }

    /// A screen with a load, or with a motor in or beside it.
    pub fn is_powered_screen(&self, endpoint: usize, beside: &Beside) -> bool {
        let screen = &self.plan.endpoints[endpoint];
        let is_motor = |at: usize| self.plan.endpoints[at].kind.value() == Some(&Kind::Motor);
        screen.kind.value() == Some(&Kind::Screen)
            && (screen.load.value().is_some_and(|load| load.base() > 0.0)
                || beside.of(endpoint).any(is_motor)
                || self.members[endpoint]
                    .iter()
                    .any(|member| is_motor(*member as usize)))
    }

    /// Where something that leads to an endpoint may end: at it, at what stands in it, at what it
    /// stands in, or at a box, plate or other passive endpoint beside one of these.
    pub fn landings(&self, endpoint: usize, beside: &Beside) -> Vec<usize> {
        let mut all = self.with_members(endpoint);
        all.extend(self.hosts(endpoint).skip(1));
        let boxes = |at: &usize| -> Vec<usize> {
            beside
                .of(*at)
                .filter(|other| is_passive(&self.plan.endpoints[*other]) == Some(true))
                .collect()
        };
        let more: Vec<usize> = all.iter().flat_map(boxes).collect();
        all.extend(more);
        all.sort_unstable();
        all.dedup();
        all
    }

    /// What an endpoint is, stands in, or is the plate or box beside, where that is of a kind: what a line that ends
    /// at it is for.
    pub fn served_at(&self, endpoint: usize, kind: impl Fn(&Endpoint) -> bool) -> Option<usize> {
        let of_kind = |at: &usize| kind(&self.plan.endpoints[*at]);
        let here = |at: usize| self.hosts(at).find(of_kind);
        let next = || self.beside().of(endpoint).find_map(here);
        let plate = is_passive(&self.plan.endpoints[endpoint]) == Some(true);
        here(endpoint).or_else(|| next().filter(|_| plate))
    }

    /// For each endpoint, the conduits that end at it or are kept in reserve for it.
    pub fn conduit_ends(&self) -> Vec<Vec<u32>> {
        let mut ends = vec![Vec::new(); self.plan.endpoints.len()];
        for (index, way) in self.plan.pathways.iter().enumerate() {
            if !way.is_raceway() {
                continue;
            }
            let from_to = [&way.from, &way.to]
                .into_iter()
                .filter_map(|end| end.value());
            let from_to = from_to
                .filter(|end| end.thing.sort == Sort::Endpoint)
                .map(|end| end.at());
            let reserved = way
                .spare_for
                .value()
                .into_iter()
                .flat_map(|list| list.values())
                .map(|end| end.at());
            for end in from_to.chain(reserved) {
                ends[end].push(small(index));
            }
        }
        ends
    }
}
