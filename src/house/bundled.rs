//! What breaker a power run allows that lies together with others.

use super::topology::House;
use super::wiring::{Made, is_cord, made};
use crate::figures::Figure;
use crate::figures::bundle::BundledAmpacity;
use crate::figures::conductor::Material;
use crate::findings::Lack;
use crate::plan::{Entry, Stock};
use crate::tables::ampacity::{Column, next_standard_breaker};
use crate::tables::wiring::{Wiring, insulation, is_of};

/// How a breaker stands to a bundled conductor.
#[derive(Debug, Clone, Copy)]
pub enum Bundled {
    /// It is no larger than what the conductor may carry.
    Holds,
    /// It is the next standard size above that (NEC 240.4(B)).
    NextStandard(BundledAmpacity),
    TooMuch(BundledAmpacity),
}

impl House<'_> {
    /// How a breaker of so many ampere stands to a run among so many current-carrying conductors. NM and UF cable and
    /// single conductors are held; any other building wire only where it passes by what is surely allowed of it.
    ///
    /// # Errors
    /// What is missing of the run's stock, or the table that the program does not hold.
    pub fn bundled_breaker(
        &self,
        run: usize,
        breaker: f64,
        conductors: u32,
    ) -> Result<Bundled, Lack> {
        let entry = &self.plan.runs[run];
        let stock = self.want_stock(entry)?;
        if entry.ambient.is_bad() {
            return Err(Lack::Reported);
        }
        let wet = || {
            let ways = self.passes(run).iter();
            let mut kinds = ways.map(|way| self.plan.pathways[*way as usize].kind.value());
            kinds.any(|kind| kind.is_some_and(|kind| Self::is_wet(*kind)))
        };
        let bundle = Bundle {
            stock,
            breaker,
            conductors,
            ambient: entry.ambient.value().map(|ambient| ambient.base()),
            wet: &wet,
        };
        let copper = bundle.of(self.material(stock)?)?;
        if !self.may_be_aluminium(stock) || matches!(copper, Bundled::TooMuch(_)) {
            return Ok(copper);
        }
        let aluminium = bundle.of(Material::Aluminium);
        match (&copper, aluminium) {
            (Bundled::Holds, Ok(Bundled::Holds))
            | (Bundled::NextStandard(_), Ok(Bundled::NextStandard(_))) => Ok(copper),
            _ => Err(Lack::absent(format!("material of {}", stock.id))),
        }
    }
}

/// A run in its bundle, whatever its metal.
struct Bundle<'a> {
    stock: &'a Entry<Stock>,
    breaker: f64,
    conductors: u32,
    /// In °C, where it is stated.
    ambient: Option<f64>,
    wet: &'a dyn Fn() -> bool,
}

impl Bundle<'_> {
    fn of(&self, material: Material) -> Result<Bundled, Lack> {
        let stock = self.stock;
        let size = stock.cores.want("cores", &stock.id)?.size;
        let none = || {
            let id = &stock.id;
            Lack::absent(format!(
                "a table of what {size} may carry in a bundle for {id}"
            ))
        };
        let by = |columns: [Column; 2]| {
            let (conductors, ambient) = (self.conductors, self.ambient);
            BundledAmpacity::of(size, material, conductors, columns, ambient).ok_or_else(none)
        };
        let within = |amperes: f64| self.breaker <= amperes * (1.0 + 1e-9);
        // What passes by the lowest column passes for any building wire.
        if within(by([Column::C60, Column::C60])?.value()) {
            return Ok(Bundled::Holds);
        }
        if is_cord(stock) == Ok(true) {
            return Err(none());
        }
        let rating = stock.rating.want("rating", &stock.id)?;
        let is = |family: &str| rating.values().any(|printed| is_of(printed, family));
        let listing = || {
            let listing: Vec<&str> = rating.values().map(|rating| &**rating).collect();
            let listing = listing.join(", ");
            Lack::absent(format!("a table of bundled {listing} cable"))
        };
        let (columns, whole) = match made(stock) {
            Ok(Made::Of(Wiring::Sheathed)) if is("UF") => ([Column::C60, Column::C60], true),
            Ok(Made::Of(Wiring::Conductor)) => {
                let wet = (self.wet)();
                let best = rating.values().map(|printed| insulation(printed, wet));
                let best = best.max_by(|a, b| a.degrees().total_cmp(&b.degrees()));
                ([best.unwrap_or(Column::C60), Column::C75], true)
            }
            // The conductors in armour are for 90 °C; what does not pass by that may by an exception of
            // 310.15(C)(1) for AC and MC cable, which a plan does not tell.
            Ok(Made::Of(Wiring::Armoured)) => ([Column::C90, Column::C75], false),
            _ if is("NM") => ([Column::C90, Column::C60], true),
            _ => return Err(listing()),
        };
        let figure = by(columns)?;
        // Where the lower column is the limit anyway, a breaker that is too large is so without the bundle.
        if within(figure.value()) || figure.is_cut_off() {
            return Ok(Bundled::Holds);
        }
        if !whole {
            return Err(listing());
        }
        let next = next_standard_breaker(figure.value()).filter(|_| figure.value() > 0.0);
        Ok(if next.is_some_and(within) {
            Bundled::NextStandard(figure)
        } else {
            Bundled::TooMuch(figure)
        })
    }
}
