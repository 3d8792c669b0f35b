//! Every computed quantity of a house, for the table of figures.

use super::topology::House;
use crate::figures::Figure;
use crate::figures::route::RouteLength;
use crate::findings::{Gap, Id, Lack};

/// One computed quantity.
#[derive(Debug, Clone, PartialEq)]
pub struct Quantity {
    /// Its name in the table of figures.
    pub figure: &'static str,
    /// What it is the quantity of.
    pub on: Vec<Id>,
    /// In `unit`.
    pub value: f64,
    pub unit: &'static str,
    /// How it came about.
    pub working: String,
    /// Rests on a length that the plan does not state.
    pub estimated: bool,
}

impl House<'_> {
    /// The quantities that can be had, and what the others lack: the length of every run.
    pub fn quantities(&self) -> (Vec<Quantity>, Vec<Gap>) {
        let (mut quantities, mut gaps) = (Vec::new(), Vec::new());
        for (index, run) in self.plan.runs.iter().enumerate() {
            match self.length(index) {
                Ok(length) => quantities.push(Quantity {
                    figure: RouteLength::NAME,
                    on: vec![run.id.clone()],
                    value: length.value(),
                    unit: RouteLength::UNIT,
                    working: length.working(),
                    estimated: length.is_estimated(),
                }),
                Err(Lack::Absent(what)) => gaps.push(Gap {
                    rule: RouteLength::NAME,
                    on: vec![run.id.clone()],
                    lacks: what.into_owned(),
                    loud: false,
                }),
                Err(Lack::Reported) => {}
            }
        }
        (quantities, gaps)
    }
}
