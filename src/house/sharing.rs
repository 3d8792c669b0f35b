//! Power and low voltage in one raceway, or in one box.

use super::topology::{House, Node};
use crate::findings::Lack;
use crate::plan::{EndpointKind as Kind, Service};

/// What shares a raceway or a box. Fibre is neither power nor low voltage.
#[derive(Debug, Default)]
pub struct Sharing {
    /// The first power run.
    pub power: Option<usize>,
    /// Runs of low voltage.
    pub signal: Vec<usize>,
    /// A run of which it is not known what it carries.
    pub unknown: Option<Lack>,
    unknowns: usize,
}

impl Sharing {
    fn of<I: Iterator<Item = usize>>(house: &House<'_>, runs: impl Fn() -> I) -> Self {
        let mut sharing = Self::default();
        for run in runs() {
            match house.want_service(run) {
                // Behind a supply unit it may be of Class 2, which a plan tells by `carries: control`; with others of
                // its kind alone it shares with nothing else.
                Ok(Service::Power) if house.behind_supply_units().contains_key(&run) => {
                    let id = &house.plan.runs[run].id;
                    let lack = Lack::absent(format!("carries of {id}, behind a supply unit"));
                    sharing.unknown = sharing.unknown.or(Some(lack));
                }
                Ok(Service::Power) => sharing.power = sharing.power.or(Some(run)),
                Ok(_) => {}
                Err(lack) => {
                    sharing.unknowns += 1;
                    sharing.unknown = sharing.unknown.or(Some(lack));
                }
            }
        }
        // Who shares with no power is of no interest.
        if sharing.power.is_some() || sharing.unknown.is_some() {
            sharing.signal = runs().filter(|run| house.is_low_voltage(*run)).collect();
        }
        sharing
    }

    /// Whether both are there, or may be.
    ///
    /// # Errors
    /// What an unknown run carries decides.
    pub fn is_mixed(&self) -> Result<bool, Lack> {
        match (&self.unknown, self.power, self.signal.is_empty()) {
            (_, Some(_), false) => Ok(true),
            (Some(lack), Some(_), true) | (Some(lack), None, false) => Err(lack.clone()),
            // Of several unknown runs both may be.
            (Some(lack), None, true) if self.unknowns > 1 => Err(lack.clone()),
            (_, None, _) | (None, ..) => Ok(false),
        }
    }
}

impl House<'_> {
    /// Whether a run carries a signal over copper.
    pub fn is_low_voltage(&self, run: usize) -> bool {
        !matches!(
            self.service(run),
            None | Some(Service::Power | Service::Fibre)
        )
    }

    /// What lies in a conduit or raceway without another one around it in there.
    pub fn sharing_raceway(&self, way: usize) -> Sharing {
        let direct = |run: &usize| self.names(*run, way);
        let runs = || self.runs_in(way).iter().map(|run| *run as usize);
        Sharing::of(self, || runs().filter(direct))
    }

    /// What ends in a box, a wall-mounted outlet, plate, inlet or switch, with all that stands in
    /// it. `None` for one that stands in another.
    pub fn sharing_box(&self, endpoint: usize) -> Option<Sharing> {
        if self
            .hosts(endpoint)
            .skip(1)
            .any(|host| self.is_in_wall(host))
        {
            return None;
        }
        let at = |at: usize| self.runs_at(Node::of_endpoint(at));
        if self.members[endpoint].is_empty() {
            return Some(Sharing::of(self, || at(endpoint)));
        }
        let inside = self.with_members(endpoint);
        Some(Sharing::of(self, || {
            inside.iter().flat_map(|inner| at(*inner))
        }))
    }

    /// Endpoints that are boxes in a wall, or come with one.
    pub fn wall_boxes(&self) -> impl Iterator<Item = usize> + '_ {
        let kinds = WALL_BOXES.iter();
        kinds.flat_map(|kind| self.endpoints_of(*kind))
    }

    fn is_in_wall(&self, endpoint: usize) -> bool {
        let kind = self.plan.endpoints[endpoint].kind.value();
        kind.is_some_and(|kind| WALL_BOXES.contains(kind))
    }
}

const WALL_BOXES: [Kind; 6] = [
    Kind::Box,
    Kind::Outlet,
    Kind::WallPlate,
    Kind::DataOutlet,
    Kind::Inlet,
    Kind::WallSwitch,
];
