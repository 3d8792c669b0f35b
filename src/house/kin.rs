//! What the code takes a signal cable to be by what it carries, which decides the listings that it
//! may have.

use std::sync::LazyLock;

use super::topology::{House, Node};
use crate::findings::Lack;
use crate::plan::{EndpointKind as Kind, Service};
use crate::tables::listings::{Family, Grade, Listing};

/// A kind of signal cable, as the code parts them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kin {
    /// Class 2: all signal but coax and fibre.
    Class2,
    Fibre,
    /// Coax whose line stays in the house: listed as Class 2 it is enough, and as CATV it is.
    InsideCoax,
    /// Coax whose line reaches an entry or an antenna: CATV.
    OutsideCoax,
}

impl Kin {
    /// The kin of a service; `outside` where a line of coax comes from outside.
    pub fn of(service: Service, outside: bool) -> Self {
        match service {
            Service::Coax if outside => Self::OutsideCoax,
            Service::Coax => Self::InsideCoax,
            Service::Fibre => Self::Fibre,
            _ => Self::Class2,
        }
    }

    /// The listing that the code demands: Class 2 for signal, cable television for coax, and fibre,
    /// whose conductive types (OFC) the others (OFN) may stand for. There is no X type of fibre.
    ///
    /// Source: NEC 725.154 / 722.135, 800.154, 770.154, from memory.
    pub fn demanded(self, grade: Grade) -> Listing {
        static DEMANDED: LazyLock<[[Listing; 4]; 3]> = LazyLock::new(|| {
            let named =
                |name: &&str| Listing::named(name).expect("a name of rules/tables/listings.yaml");
            let names = [
                ["CL2X", "CL2", "CL2R", "CL2P"],
                ["CATVX", "CATV", "CATVR", "CATVP"],
                ["OFC", "OFC", "OFCR", "OFCP"],
            ];
            names.map(|family| family.each_ref().map(named))
        });
        let family = match self {
            Self::Class2 => 0,
            Self::InsideCoax | Self::OutsideCoax => 1,
            Self::Fibre => 2,
        };
        DEMANDED[family][grade as usize]
    }

    /// The family whose listings are asked for.
    pub fn family(self) -> Family {
        match self {
            Self::Class2 => Family::Class23,
            Self::InsideCoax | Self::OutsideCoax => Family::Coaxial,
            Self::Fibre => Family::Fibre,
        }
    }

    /// Whether a listing may lie where a grade is asked for.
    pub fn takes(self, listing: Listing, grade: Grade) -> bool {
        listing.stands_for(self.demanded(grade))
            || self == Self::InsideCoax && Self::Class2.takes(listing, grade)
    }
}

/// Which lines of coax come from outside the house, by the index of the line.
pub(super) type Outside = Vec<Option<Result<bool, Lack>>>;

impl House<'_> {
    /// For each line of coax, whether it reaches an entry or an antenna.
    pub(super) fn outside_lines(&self) -> Outside {
        let lines = &self.lines().lines;
        let outside = lines.iter().map(|line| {
            (line.service == Service::Coax).then(|| {
                let ends = line
                    .steps
                    .iter()
                    .filter_map(|step| self.ends(step.run as usize));
                self.is_outside(ends.flat_map(|(from, to)| [from, to]))
            })
        });
        outside.collect()
    }

    /// Whether a run of coax comes from outside: by its line, a spare by its own ends.
    pub(super) fn is_outside_run(&self, run: usize, lines: &Outside) -> Result<bool, Lack> {
        let of_line = self.lines().of_run[run].and_then(|line| lines[line as usize].clone());
        of_line.unwrap_or_else(|| {
            let (from, to) = self.ends(run).ok_or(Lack::Reported)?;
            self.is_outside([from, to].into_iter())
        })
    }

    fn is_outside(&self, nodes: impl Iterator<Item = Node>) -> Result<bool, Lack> {
        let mut known = Ok(false);
        for endpoint in nodes.filter_map(|node| self.endpoint(node)) {
            match endpoint.kind.want("kind", &endpoint.id) {
                Ok(kind) if matches!(kind.value, Kind::Entry | Kind::Antenna) => return Ok(true),
                Ok(_) => {}
                Err(lack) => known = known.and(Err(lack)),
            }
        }
        known
    }
}
