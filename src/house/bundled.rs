//! What breaker a power run allows that lies together with others.

use super::topology::House;
use super::wiring::is_cord;
use crate::figures::Figure;
use crate::figures::bundle::BundledAmpacity;
use crate::figures::conductor::Material;
use crate::findings::Lack;
use crate::plan::{Entry, Stock};
use crate::tables::ampacity::{Column, adjustment, ampacity, next_standard_breaker};

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
    /// How a breaker of so many ampere stands to a run among so many current-carrying conductors.
    /// Only NM cable is held, but what passes by the 60 °C column passes for any building wire.
    ///
    /// # Errors
    /// What is missing of the run's stock, or the table that the program does not hold.
    pub fn bundled_breaker(
        &self,
        run: usize,
        breaker: f64,
        conductors: u32,
    ) -> Result<Bundled, Lack> {
        let stock = self.want_stock(&self.plan.runs[run])?;
        let copper = self.bundled_metal(stock, self.material(stock)?, breaker, conductors)?;
        if !self.may_be_aluminium(stock) || matches!(copper, Bundled::TooMuch(_)) {
            return Ok(copper);
        }
        let aluminium = self.bundled_metal(stock, Material::Aluminium, breaker, conductors);
        match (&copper, aluminium) {
            (Bundled::Holds, Ok(Bundled::Holds))
            | (Bundled::NextStandard(_), Ok(Bundled::NextStandard(_))) => Ok(copper),
            _ => Err(Lack::absent(format!("material of {}", stock.id))),
        }
    }

    fn bundled_metal(
        &self,
        stock: &Entry<Stock>,
        material: Material,
        breaker: f64,
        conductors: u32,
    ) -> Result<Bundled, Lack> {
        let size = stock.cores.want("cores", &stock.id)?.size;
        let none = || {
            let id = &stock.id;
            Lack::absent(format!(
                "a table of what {size} may carry in a bundle for {id}"
            ))
        };
        let figure = BundledAmpacity::of(size, material, conductors).ok_or_else(none)?;
        let factor = adjustment(conductors).ok_or_else(none)?;
        let low = ampacity(size, material, Column::C60).ok_or_else(none)?;
        let within = |amperes: f64| breaker <= amperes * (1.0 + 1e-9);
        if within(low.amperes * factor) {
            return Ok(Bundled::Holds);
        }
        if is_cord(stock) == Ok(true) {
            return Err(none());
        }
        let rating = stock.rating.want("rating", &stock.id)?;
        if !rating.values().any(|rating| rating.starts_with("NM")) {
            let listing: Vec<&str> = rating.values().map(|rating| &**rating).collect();
            let listing = listing.join(", ");
            return Err(Lack::absent(format!("a table of bundled {listing} cable")));
        }
        if within(figure.value()) {
            return Ok(Bundled::Holds);
        }
        let next = next_standard_breaker(figure.value());
        Ok(if next.is_some_and(within) {
            Bundled::NextStandard(figure)
        } else {
            Bundled::TooMuch(figure)
        })
    }
}
