//! What breaker a power run allows: by the tables of conductors, and its place in its circuit.

use std::collections::HashSet;

use super::topology::{House, Node};
use super::wiring::is_cord;
use crate::figures::conductor::Material;
use crate::findings::Lack;
use crate::plan::{Entry, Region, Run, Service, Stock};
use crate::tables::ampacity::{
    Column, Method, ampacity, next_standard_breaker, small_conductor_ceiling,
};
use crate::tables::wiring::is_of;
use crate::units::WireSize;

/// What holds around a ring final circuit.
#[derive(Debug, Clone, Copy)]
pub struct RingTerms {
    /// Ampere of the greatest breaker.
    pub breaker: f64,
    pub least_conductor: WireSize,
    /// Ampere that a conductor must carry as it is installed.
    pub carries: f64,
}

/// What a run allows.
#[derive(Debug, Clone, Copy)]
pub struct Allowed {
    /// A breaker up to this many ampere passes.
    pub least: f64,
    /// A breaker of more is wrong, whatever the plan leaves out.
    pub most: f64,
    /// `least` of copper, where the stock may be of aluminium and does not say.
    pub copper: Option<f64>,
    pub basis: Basis,
}

/// What an allowed breaker comes from.
#[derive(Debug, Clone, Copy)]
pub enum Basis {
    Small {
        memory: bool,
    },
    Column {
        degrees: u8,
        amperes: f64,
        memory: bool,
        assumed: bool,
    },
    /// Smaller than the smallest size of the table.
    BelowTable,
    Method {
        method: Method,
        amperes: f64,
        assumed: bool,
    },
    Ring,
    /// Off a ring, by a way that a fuse may protect.
    Spur,
}

/// What must be known to judge a breaker between what surely passes and what surely does not.
pub fn unsure(house: &House<'_>, run: &Entry<Run>, allowed: Allowed, breaker: f64) -> Lack {
    let stock = run.stock.value().map(|stock| &house.plan.stock[stock.at()]);
    let by_copper = |copper: f64| breaker <= copper * (1.0 + 1e-9);
    if let (true, Some(stock)) = (allowed.copper.is_some_and(by_copper), stock) {
        return Lack::absent(format!("material of {}", stock.id));
    }
    match (allowed.basis, stock) {
        (Basis::Method { .. } | Basis::Ring, _) => Lack::absent(format!("method of {}", run.id)),
        (Basis::Spur, _) => Lack::absent(format!("the fuse ahead of {}, a spur of a ring", run.id)),
        (Basis::Column { .. }, Some(stock)) => Lack::absent(format!("rating of {}", stock.id)),
        (_, Some(stock)) => Lack::absent(format!("a table that holds the size of {}", stock.id)),
        (_, None) => Lack::Reported,
    }
}

/// Where a run stands in its circuit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Place {
    Tree,
    Ring,
    /// Off a ring, to one endpoint that feeds nothing on.
    ShortSpur,
    LongSpur,
}

/// One circuit's wiring.
pub struct Wiring<'a, 'p> {
    pub(super) house: &'a House<'p>,
    pub(super) ring_terms: Option<RingTerms>,
    pub region: Region,
    pub circuit: usize,
    ring: HashSet<usize>,
    ring_nodes: HashSet<Node>,
    /// It says that it is a ring, and the run that would close it may be one that could not be read.
    may_close: bool,
}

impl<'a, 'p> Wiring<'a, 'p> {
    /// `ring_terms` where rings are known at all.
    pub fn of(
        house: &'a House<'p>,
        ring_terms: Option<RingTerms>,
        region: Region,
        circuit: usize,
    ) -> Self {
        let holds = ring_terms.is_some();
        let ring = house.power().rings[circuit].iter().flatten().copied();
        let ring: HashSet<usize> = ring.filter(|_| holds).collect();
        let ends = ring
            .iter()
            .filter_map(|run| house.ends(*run))
            .flat_map(|(from, to)| [from, to]);
        let ring_nodes = ends.filter(|node| node.endpoint().is_some()).collect();
        let says = house.plan.circuits[circuit].ring.value();
        let is_open = holds && says.is_some_and(|says| says.0) && ring.is_empty();
        let may_close = is_open && {
            let unread = |run: usize| house.ends(run).is_none() && !house.is_spare(run);
            let tree = house.tree(circuit);
            let below = tree.iter().map(|reached| reached.node);
            std::iter::once(Node::of_circuit(circuit))
                .chain(below)
                .any(|node| house.runs_at(node).any(unread))
        };
        Self {
            house,
            ring_terms,
            region,
            circuit,
            ring,
            ring_nodes,
            may_close,
        }
    }

    pub fn place(&self, run: usize) -> Place {
        if self.ring.is_empty() {
            return Place::Tree;
        }
        if self.ring.contains(&run) {
            return Place::Ring;
        }
        let Some((from, to)) = self.house.ends(run) else {
            return Place::LongSpur;
        };
        let end = match (
            self.ring_nodes.contains(&from),
            self.ring_nodes.contains(&to),
        ) {
            (true, false) => to,
            (false, true) => from,
            _ => return Place::LongSpur,
        };
        let power = |run: &usize| {
            self.house.service(*run) == Some(Service::Power) && !self.house.is_spare(*run)
        };
        let runs = self.house.runs_at(end).filter(power).take(2).count();
        if runs == 1 {
            Place::ShortSpur
        } else {
            Place::LongSpur
        }
    }

    /// # Errors
    /// What is missing of the run or its stock, or the table that the program does not hold.
    pub fn allowed(&self, run: usize) -> Result<Allowed, Lack> {
        if self.may_close {
            return Err(Lack::Reported);
        }
        let entry = &self.house.plan.runs[run];
        self.allows(entry, self.house.want_stock(entry)?, self.place(run))
    }

    /// What a stock in the place of a run allows.
    ///
    /// # Errors
    /// As [`Self::allowed`].
    pub fn allows(
        &self,
        run: &Entry<Run>,
        stock: &Entry<Stock>,
        place: Place,
    ) -> Result<Allowed, Lack> {
        let size = stock.cores.want("cores", &stock.id)?.size;
        self.allows_size(size, run, stock, place)
    }

    /// What a stock like this but with conductors of another size allows.
    ///
    /// # Errors
    /// As [`Self::allowed`].
    pub fn allows_size(
        &self,
        size: WireSize,
        run: &Entry<Run>,
        stock: &Entry<Stock>,
        place: Place,
    ) -> Result<Allowed, Lack> {
        let material = self.house.material(stock)?;
        let copper = self.allows_metal(size, material, run, stock, place)?;
        if !self.house.may_be_aluminium(stock) {
            return Ok(copper);
        }
        let aluminium = self.allows_metal(size, Material::Aluminium, run, stock, place);
        let least = aluminium.map_or(0.0, |aluminium| aluminium.least);
        if least >= copper.least {
            return Ok(copper);
        }
        Ok(Allowed {
            least,
            copper: Some(copper.least),
            ..copper
        })
    }

    fn allows_metal(
        &self,
        size: WireSize,
        material: Material,
        run: &Entry<Run>,
        stock: &Entry<Stock>,
        place: Place,
    ) -> Result<Allowed, Lack> {
        if stock.flexible.is_bad() || stock.rating.is_bad() || run.method.is_bad() {
            return Err(Lack::Reported);
        }
        if is_cord(stock) == Ok(true) {
            return Err(Lack::absent(format!(
                "a table of flexible cord for {}",
                stock.id
            )));
        }
        let no_table = |what: &str| {
            Err(Lack::absent(format!(
                "a table of {what} for {}",
                self.region
            )))
        };
        match (size, self.region) {
            (WireSize::Awg(_), Region::Us | Region::Ca) => self.american(size, material, stock),
            (WireSize::Metric(_), Region::Us | Region::Ca) => no_table("mm2 conductors"),
            (WireSize::Metric(area), Region::Gb) if material == Material::Copper => {
                self.british(size, area, run, stock, place)
            }
            (WireSize::Metric(_), Region::Gb) => no_table("conductors other than copper"),
            (WireSize::Awg(_), _) => no_table("AWG conductors"),
            (WireSize::Metric(_), _) => no_table("conductor currents"),
        }
    }

    /// NEC 240.4(D) for small conductors; above them table 310.16 and the next standard breaker up
    /// (240.4(B)). The column is 60 °C for NM and UF cable (334.80, 340.80), else 75 °C, for which
    /// breakers and terminals are marked today (110.14(C)); with no listing stated it may be either.
    fn american(
        &self,
        size: WireSize,
        material: Material,
        stock: &Entry<Stock>,
    ) -> Result<Allowed, Lack> {
        if let Some(small) = small_conductor_ceiling(size, material) {
            let memory = small.memory || self.region == Region::Ca;
            return Ok(Allowed {
                least: small.amperes,
                most: small.amperes,
                copper: None,
                basis: Basis::Small { memory },
            });
        }
        let smallest = WireSize::Awg(if material == Material::Copper { 14 } else { 12 });
        if size.area() < smallest.area() {
            // NEC 240.4(D)(1) and (2), from memory: 7 A for 18 AWG, 10 A for 16 AWG, each under
            // conditions that a plan does not state, so that less is a gap and never a pass.
            // What is thinner, or of another metal, is allowed no more than that.
            let most = match (material, size.area() < WireSize::Awg(16).area()) {
                (Material::Copper, false) => 10.0,
                (Material::Copper, true) => 7.0,
                _ => small_conductor_ceiling(smallest, material)
                    .ok_or(Lack::Reported)?
                    .amperes
                    .min(10.0),
            };
            return Ok(Allowed {
                least: 0.0,
                most,
                copper: None,
                basis: Basis::BelowTable,
            });
        }
        let none = || Lack::absent(format!("a table that holds {size} for {}", stock.id));
        if self.region == Region::Ca {
            return Err(Lack::absent(format!(
                "a table of conductors above 10 AWG for ca ({})",
                stock.id
            )));
        }
        let column = |column, degrees, assumed| {
            let printed = ampacity(size, material, column).ok_or_else(none)?;
            let breaker = next_standard_breaker(printed.amperes).ok_or_else(none)?;
            let basis = Basis::Column {
                degrees,
                amperes: printed.amperes,
                memory: printed.memory,
                assumed,
            };
            Ok((breaker, basis))
        };
        let rated = stock.rating.value().map(|list| {
            list.values()
                .any(|rating| is_of(rating, "NM") || is_of(rating, "UF"))
        });
        let (least, most, basis) = match rated {
            Some(true) => {
                let (breaker, basis) = column(Column::C60, 60, false)?;
                (breaker, breaker, basis)
            }
            Some(false) => {
                let (breaker, basis) = column(Column::C75, 75, false)?;
                (breaker, breaker, basis)
            }
            None => {
                let (most, basis) = column(Column::C75, 75, true)?;
                (column(Column::C60, 60, true)?.0, most, basis)
            }
        };
        Ok(Allowed {
            least,
            most,
            copper: None,
            basis,
        })
    }
}
