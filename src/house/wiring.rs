//! What a power cable is: a cord, building wire, armoured.

use super::topology::House;
use crate::findings::Lack;
use crate::plan::{Entry, Stock};
use crate::tables::wiring::Wiring;

/// What is printed on a power cable.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Made {
    /// Known to have no listing.
    Unlisted,
    Of(Wiring),
}

/// What a power cable is by its rating.
///
/// # Errors
/// No rating is stated, or no table has it.
pub fn made(stock: &Entry<Stock>) -> Result<Made, Lack> {
    let rating = stock.rating.want("rating", &stock.id)?;
    let mut unlisted = false;
    for text in rating.values() {
        if let Some(wiring) = Wiring::parse(text) {
            return Ok(Made::Of(wiring));
        }
        unlisted |= &**text == "none";
    }
    if unlisted {
        return Ok(Made::Unlisted);
    }
    let texts: Vec<&str> = rating.values().map(|text| &**text).collect();
    Err(Lack::absent(match texts.is_empty() {
        true => format!("rating of {}", stock.id),
        false => format!(
            "a known type of power cable for {} (no table has {})",
            stock.id,
            texts.join(" ")
        ),
    }))
}

/// Whether a power cable is a flexible cord: it says so, or its rating does.
///
/// # Errors
/// Neither tells.
pub fn is_cord(stock: &Entry<Stock>) -> Result<bool, Lack> {
    let flexible = stock.flexible.value().map(|flexible| flexible.0);
    match (flexible, made(stock)) {
        (Some(true), _) | (_, Ok(Made::Of(Wiring::Cord))) => Ok(true),
        (_, Ok(Made::Of(_))) | (Some(false), _) => Ok(false),
        (None, _) if stock.flexible.is_bad() => Err(Lack::Reported),
        (None, Ok(Made::Unlisted)) => Err(Lack::absent(format!("flexible of {}", stock.id))),
        (None, Err(lack)) => Err(lack),
    }
}

/// Whether a power cable has a jacket over its conductors: it says so, or its type does.
///
/// # Errors
/// Neither tells.
pub fn is_jacketed(stock: &Entry<Stock>) -> Result<bool, Lack> {
    match (&stock.jacketed, made(stock)) {
        (crate::plan::Field::Stated(jacketed), _) => Ok(jacketed.0),
        (crate::plan::Field::Bad, _) => Err(Lack::Reported),
        (_, Ok(Made::Of(wiring))) => Ok(wiring != Wiring::Conductor),
        _ => Err(Lack::absent(format!("jacketed of {}", stock.id))),
    }
}

impl House<'_> {
    /// Whether every pathway that a run names is a conduit or raceway: it is enclosed all the way.
    pub fn is_enclosed(&self, run: usize) -> bool {
        let ways = self.plan.runs[run].through.value();
        ways.is_some_and(|ways| {
            !ways.0.is_empty() && ways.values().all(|way| self.is_raceway(way.at()))
        })
    }

    /// Whether a pathway is a conduit or a raceway.
    pub fn is_raceway(&self, way: usize) -> bool {
        self.plan.pathways[way].is_raceway()
    }
}
