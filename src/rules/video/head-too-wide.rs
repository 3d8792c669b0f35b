//! A connector that does not pass its conduit.

use std::collections::HashSet;

use crate::findings::{Finding, Lack, Redline, Report};
use crate::house::{HeadPassage, House};
use crate::plan::{Head, Service, Stated};
use crate::rules::{Sheet, shown};

pub use crate::rules::NoLimits as Limits;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    unknown_ways(house, sheet, out);
    let mut lacking = HashSet::new();
    for (index, conduit) in house.conduits() {
        let mut unknown = None;
        for run in house.runs_in(index) {
            let run = *run as usize;
            let entry = &house.plan.runs[run];
            let service = house.service(run);
            let stock = match (house.want_stock(entry), service) {
                (Ok(stock), _) => stock,
                // It may be a video cable.
                (Err(lack), None | Some(Service::Video)) => {
                    if lacking.insert(entry.id.as_str()) {
                        out.gap(sheet.id, &entry.id, lack);
                    }
                    continue;
                }
                (Err(_), _) => continue,
            };
            let Some(head) = stock.head.stated() else {
                // Other cable is pulled without its connectors.
                let is_video = service == Some(Service::Video)
                    && matches!(stock.service.value(), None | Some(Service::Video));
                if is_video
                    && lacking.insert(stock.id.as_str())
                    && let Err(lack) = stock.head.want("head", &stock.id)
                {
                    out.gap(sheet.id, &stock.id, lack);
                }
                continue;
            };
            match house.head_passage(head, conduit) {
                // The conduit lacks it, whatever passes.
                Err(lack) => unknown = unknown.or(Some(lack)),
                Ok(passage) => {
                    out.checked();
                    if !passage.passes() {
                        out.find(finding(house, sheet, run, index, head, &passage));
                    }
                }
            }
        }
        if let Some(lack) = unknown {
            out.gap(sheet.id, &conduit.id, lack);
        }
    }
}

/// Runs with a head that may pass a conduit, and pathways that may be one.
fn unknown_ways(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let has_head = |run: usize| {
        let stock = house.want_stock(&house.plan.runs[run]).ok();
        stock.is_some_and(|stock| !stock.head.is_absent())
    };
    let any_conduit = house.conduits().next().is_some();
    for run in house.runs_of(Service::Video) {
        let entry = &house.plan.runs[run];
        let open = house.is_in_the_open(run) == Ok(true);
        if any_conduit
            && !open
            && has_head(run)
            && let Err(lack) = house.want_through(run)
        {
            out.gap(sheet.id, &entry.id, lack);
        }
    }
    for (index, way) in house.plan.pathways.iter().enumerate() {
        let like_conduit = way.kind.is_absent()
            && !(way.make.is_absent() && way.size.is_absent() && way.bore.is_absent());
        if like_conduit
            && house
                .runs_in(index)
                .iter()
                .any(|run| has_head(*run as usize))
            && let Err(lack) = way.kind.want("kind", &way.id)
        {
            out.gap(sheet.id, &way.id, lack);
        }
    }
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    run: usize,
    index: usize,
    head: &Stated<Head>,
    passage: &HeadPassage,
) -> Finding {
    let run = &house.plan.runs[run];
    let conduit = &house.plan.pathways[index];
    let needs = passage.needs.distance();
    let where_ = if passage.bend.is_some() {
        "in the bends of"
    } else {
        "in"
    };
    let says = format!(
        "{} has a head that needs {} of bore {where_} {}, which has {}",
        run.id,
        needs.rounded_words(),
        conduit.id,
        passage.bore.beside(needs),
    );
    let at = run.stock.span().unwrap_or(run.span);
    let bore = conduit.bore.span().or(conduit.size.span());
    let mut finding = sheet
        .finding(&run.id, says, at, "this cable")
        .with_on(&conduit.id)
        .with_mark(head.span, "this head")
        .with_mark(bore.unwrap_or(conduit.span), "this bore");
    let limit = passage.bore.base() * 1000.0;
    finding = finding.with_figure(shown(&passage.needs), limit);
    let by_table = passage.bend.is_some() && conduit.radius.is_absent();
    if by_table {
        finding = finding.with_authority(
            "geometry; the bend's radius is the least of NEC chapter 9 table 2 (from memory), since none is stated",
        );
    }
    match larger(house, index, head) {
        Some((words, redline)) => finding.with_put_right(words).with_redline(redline),
        None => finding.with_put_right(
            "use a wider conduit or wider bends, or a cable whose head is smaller or is put on after the pull",
        ),
    }
}

/// The next size of the same make that the head passes.
fn larger(house: &House<'_>, index: usize, head: &Head) -> Option<(String, Option<Redline>)> {
    let conduit = &house.plan.pathways[index];
    let make = conduit.make.value()?;
    let passes = |bore| {
        let passage: Result<HeadPassage, Lack> = house.head_passage_in(head, conduit, bore);
        passage.is_ok_and(|passage| passage.passes())
    };
    let size = house.larger_size(index, passes)?;
    let edit = house.edit(conduit, &conduit.size, "size", size);
    let words = format!(
        "use {make} of size {size}, or a cable whose head is smaller or is put on after the pull"
    );
    let redline = house.change(format!("make {} of size {size}", conduit.id), edit);
    Some((words, redline))
}
