//! What power conductors may be made of where the plan does not say.

use super::topology::House;
use crate::figures::conductor::{self, OneWay, one_way};
use crate::findings::Lack;
use crate::plan::{Entry, Service, Stock};
use crate::units::WireSize;

/// The thinnest conductors of aluminium or copper-clad aluminium in fixed wiring: 12 AWG (NEC
/// 310.3(A), from memory) and 16 mm2 (IEC 60364-5-52 and BS 7671 tables of least sizes, from memory).
const LEAST_AWG: WireSize = WireSize::Awg(12);
const LEAST_METRIC: WireSize = WireSize::Metric(16.0);

impl House<'_> {
    /// Whether a power conductor may be of aluminium: its stock states no material, and aluminium is
    /// made as thin.
    pub fn may_be_aluminium(&self, stock: &Stock) -> bool {
        stock.material.is_absent()
            && stock.cores.value().is_some_and(|cores| {
                let least = match cores.size {
                    WireSize::Awg(_) => LEAST_AWG,
                    WireSize::Metric(_) => LEAST_METRIC,
                };
                cores.size.area() >= least.area()
            })
    }

    /// A power conductor of a run: of what its stock states, and where that is nothing and it may be
    /// aluminium, of aluminium if so asked and of copper else.
    ///
    /// # Errors
    /// The run's stock or the stock's cores are not stated.
    pub fn power_wire(&self, run: usize, aluminium: bool) -> Result<OneWay, Lack> {
        let celsius = self.power_celsius()?;
        let stock: &Entry<Stock> = self.want_stock(&self.plan.runs[run])?;
        if !(aluminium && self.may_be_aluminium(stock)) {
            return self.wire(run, Service::Power, celsius);
        }
        let cores = stock.cores.want("cores", &stock.id)?;
        let stranding = self.stranding(stock, Service::Power)?;
        let metal = conductor::Material::Aluminium;
        one_way(cores.size, metal, stranding, celsius).ok_or(Lack::Reported)
    }

    /// The stock of a run, where it may be of aluminium.
    pub fn doubtful_stock(&self, run: usize) -> Option<usize> {
        let at = self.plan.runs[run].stock.value()?.at();
        self.may_be_aluminium(&self.plan.stock[at]).then_some(at)
    }
}
