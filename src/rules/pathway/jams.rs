//! Three cables of one size that may wedge side by side in a bend of their conduit.

use crate::figures::Figure;
use crate::figures::jam::JamRatio;
use crate::findings::{Finding, Report};
use crate::house::House;
use crate::plan::{Entry, Stock};
use crate::rules::{Sheet, shown};
use crate::tables::pulling::jam_range;
use crate::units::{figure3, plain};

pub use crate::rules::NoLimits as Limits;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    for (index, conduit) in house.conduits() {
        let runs = house.loose_in(index);
        let ratio = match house.three_alike(&runs) {
            Ok(None) => continue,
            Ok(Some(stock)) => house
                .jam_ratio(index, stock)
                .map(|ratio| ratio.map(|ratio| (stock, ratio))),
            Err(lack) => Err(lack),
        };
        match ratio {
            Err(lack) => out.gap(sheet.id, &conduit.id, lack),
            Ok(ratio) => {
                out.checked();
                if let Some((stock, ratio)) = ratio.filter(|(_, ratio)| ratio.may_jam()) {
                    out.find(finding(house, sheet, index, &runs, stock, &ratio));
                }
            }
        }
    }
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    index: usize,
    runs: &[u32],
    stock: &Entry<Stock>,
    ratio: &JamRatio,
) -> Finding {
    let conduit = &house.plan.pathways[index];
    let (least, greatest) = jam_range();
    let (value, bend) = (ratio.value(), ratio.in_a_bend());
    // The form that is inside, or the plain one where both are.
    let (found, oval) = if (least..=greatest).contains(&value) {
        (value, "")
    } else {
        (bend, ", the oval of a bend counted,")
    };
    let says = format!(
        "{} is {} times as wide{oval} as each of the three {} cables in it; from {} to {} they wedge",
        conduit.id,
        figure3(found),
        stock.id,
        plain(least),
        plain(greatest),
    );
    let at = (conduit.bore.span().or(conduit.size.span())).unwrap_or(conduit.span);
    let mut finding = sheet.finding(&conduit.id, says, at, "this wide");
    finding = finding.with_each_on(runs.iter().map(|run| &house.plan.runs[*run as usize].id));
    if let Some(span) = stock.diameter.span() {
        finding = finding.with_mark(span, "three of this size");
    }
    let limit = if value < least { least } else { greatest };
    let finding = finding.with_figure(shown(ratio), limit);
    let diameter = stock.diameter.value().map(|size| size.wide);
    let larger = house.larger_size(index, |bore| {
        let ratio = diameter.and_then(|diameter| JamRatio::of(bore, diameter));
        ratio.is_some_and(|ratio| !ratio.may_jam())
    });
    match (larger, conduit.make.value()) {
        (Some(size), Some(make)) => {
            let edit = house.edit(conduit, &conduit.size, "size", size);
            finding
                .with_put_right(format!(
                    "use {make} of size {size}, or pull a fourth cable along if there is room for it"
                ))
                .with_redline(house.change(format!("make {} of size {size}", conduit.id), edit))
        }
        _ => finding.with_put_right(
            "use a wider conduit, or pull a fourth cable along if there is room for it",
        ),
    }
}
