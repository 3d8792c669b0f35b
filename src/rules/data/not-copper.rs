//! Data cable of copper-clad aluminium or another material that no category knows.

use std::collections::BTreeMap;

use crate::findings::{Finding, Redline, Report};
use crate::house::House;
use crate::plan::{Entry, Field, Material, Service, Stock};
use crate::rules::Sheet;

pub use crate::rules::NoLimits as Limits;

/// Runs up to which an edit changes them all.
const MOST_RUNS: usize = 16;

/// Each reel once, whatever hangs on its runs, spare ones included. A stock that states no material is of copper.
pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let mut pulled: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for run in house.runs_of(Service::Data) {
        if let Some(stock) = house.plan.runs[run].stock.value() {
            pulled.entry(stock.at()).or_default().push(run);
        }
    }
    for (stock, runs) in pulled {
        let stock = &house.plan.stock[stock];
        match &stock.material {
            Field::Bad => continue,
            Field::Stated(material) if !house.is_taken_as_copper(stock) => {
                out.find(finding(house, sheet, stock, material.value, &runs));
            }
            _ => {}
        }
        out.checked();
    }
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    stock: &Entry<Stock>,
    material: Material,
    runs: &[usize],
) -> Finding {
    let kind = match stock.grade.value() {
        Some(grade) => format!("{grade} cable"),
        None => "data cable".to_owned(),
    };
    let verb = if runs.len() == 1 { "is" } else { "are" };
    let says = format!(
        "{} {verb} pulled as {}, {kind} of {material}",
        house.named(runs),
        stock.id
    );
    let at = stock.material.span().unwrap_or(stock.span);
    let first = &house.plan.runs[runs[0]];
    let finding = sheet
        .finding(&stock.id, says, at, "not copper")
        .with_mark(first.stock.span().unwrap_or(first.span), "pulled as this");
    house
        .with_runs(finding, runs)
        .with_put_right("pull cable of solid copper")
        .with_redline(redline(house, runs))
}

/// Every run in the first stock of the plan that does its job and is of copper.
fn redline(house: &House<'_>, runs: &[usize]) -> Option<Redline> {
    if runs.len() > MOST_RUNS {
        return None;
    }
    let copper = |stock: &Entry<Stock>| house.is_taken_as_copper(stock);
    let pull = |run: &usize| {
        let mut stocks = house.substitutes(*run, Service::Data, copper);
        stocks.next().map(|stock| (*run, stock))
    };
    let pulls: Option<Vec<_>> = runs.iter().map(pull).collect();
    house.pull_as(&pulls?)
}
