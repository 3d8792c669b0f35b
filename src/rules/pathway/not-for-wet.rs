//! Indoor cable in the open, in the ground or in concrete.

use crate::findings::{Finding, Lack, Report};
use crate::house::House;
use crate::plan::{Entry, Pathway, Stock};
use crate::rules::Sheet;

pub use crate::rules::NoLimits as Limits;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    // Of each stock, once: whether it stands the wet, and that it is not known has been told.
    let mut stands: Vec<Option<Option<bool>>> = vec![None; house.plan.stock.len()];
    let mut seen: Vec<bool> = Vec::new();
    for (index, way) in house.plan.pathways.iter().enumerate() {
        match way.kind.want("kind", &way.id) {
            Ok(kind) if House::is_wet(**kind) => {}
            Ok(_) => continue,
            Err(_) if house.runs_in(index).is_empty() => continue,
            Err(lack) => {
                out.gap(sheet.id, &way.id, lack);
                continue;
            }
        }
        seen.resize(house.plan.runs.len(), false);
        for run in house.runs_in(index) {
            let at = *run as usize;
            // A run is told once, of the first wet place on its way.
            if std::mem::replace(&mut seen[at], true) {
                continue;
            }
            let run = &house.plan.runs[at];
            let Some(stock) = run.stock.value().map(|stock| stock.at()) else {
                let lack = house.want_stock(run).err();
                out.gap(sheet.id, &run.id, lack.unwrap_or(Lack::Reported));
                continue;
            };
            let entry = &house.plan.stock[stock];
            let known = *stands[stock].get_or_insert_with(|| match house.stands_wet(entry) {
                Ok(stands) => Some(stands),
                Err(lack) => {
                    out.gap(sheet.id, &entry.id, lack);
                    None
                }
            });
            if let Some(stands) = known {
                out.checked();
                if !stands {
                    out.find(finding(house, sheet, at, entry, way));
                }
            }
        }
    }
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    index: usize,
    stock: &Entry<Stock>,
    way: &Entry<Pathway>,
) -> Finding {
    let run = &house.plan.runs[index];
    let place = match way.kind.value() {
        Some(crate::plan::PathwayKind::Slab) => "in a slab",
        Some(kind) => kind.word(),
        None => "wet",
    };
    let says = format!(
        "{} passes {}, which is {place}, as {}, which is not made for wet places",
        run.id, way.id, stock.id
    );
    let mut finding = sheet
        .finding(
            &run.id,
            says,
            run.stock.span().unwrap_or(run.span),
            "this cable",
        )
        .with_on(&way.id)
        .with_on(&stock.id)
        .with_mark(way.kind.span().unwrap_or(way.span), "a wet place");
    if let Some(span) = stock.wet.span().or(stock.rating.span()) {
        finding = finding.with_mark(span, "not for wet places");
    }
    let service = house.service(index);
    let better = service.and_then(|service| {
        let wet = |stock: &Entry<Stock>| house.stands_wet(stock) == Ok(true);
        house.substitutes(index, service, wet).next()
    });
    match better {
        Some(better) => finding
            .with_put_right(format!(
                "pull {} as {}, which is made for it",
                run.id, better.id
            ))
            .with_redline(house.pull_as(&[(index, better)])),
        None => finding,
    }
}
