//! A data channel that loses more than its category allows.

use std::collections::HashSet;

pub use crate::rules::NoLimits as Limits;

use crate::figures::Figure;
use crate::figures::insertion::InsertionLoss;
use crate::findings::{Finding, Lack, Redline, Report, Shown};
use crate::house::{DataChannel, House};
use crate::plan::{Entry, Service, Stock};
use crate::rules::{Sheet, over};
use crate::tables::categories::Category;
use crate::units::figure3;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let mut told = HashSet::new();
    for channel in house.data_channels() {
        let on = &house.plan.runs[channel.runs[0]].id;
        let category = match house.category(&channel) {
            Ok(category) => category,
            Err((of, lack)) => {
                if told.insert(of) {
                    out.gap(sheet.id, of, lack);
                }
                continue;
            }
        };
        match verdict(house, &channel, category) {
            Err(lack) => out.gap(sheet.id, on, lack),
            Ok(found) => {
                out.checked();
                if let Some(loss) = found {
                    out.find(finding(house, sheet, &channel, &loss));
                }
            }
        }
    }
}

/// The loss, where it is too much however the plan's open questions are answered; what is missing, where it would
/// be too much with the worst answer.
fn verdict(
    house: &House<'_>,
    channel: &DataChannel<'_>,
    category: Category,
) -> Result<Option<InsertionLoss>, Lack> {
    let bounds = house.loss_bounds(channel, category)?;
    let too_much = |loss: &InsertionLoss| over(loss.value(), loss.limit());
    // Most channels are well within their limit even at the worst.
    let last = bounds.worse.iter().flatten().last();
    let worst = house.insertion_loss(last.map_or(bounds.best, |(worst, _)| *worst))?;
    if !too_much(&worst) {
        return Ok(None);
    }
    let best = house.insertion_loss(bounds.best)?;
    if too_much(&best) {
        return Ok(Some(best));
    }
    for (worse, open) in bounds.worse.into_iter().flatten() {
        if too_much(&house.insertion_loss(worse)?) {
            return Err(open.lack());
        }
    }
    Ok(None)
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    channel: &DataChannel<'_>,
    loss: &InsertionLoss,
) -> Finding {
    let runs = || channel.runs.iter().map(|run| &house.plan.runs[*run]);
    let category = house.category(channel).map_or("", |category| category.name);
    let says = format!(
        "{} loses {} dB at {} MHz, a {category} channel may lose {} dB",
        house.named(channel.runs),
        figure3(loss.value()),
        figure3(loss.megahertz()),
        figure3(loss.limit())
    );
    let longest = house.longest(channel.runs).unwrap_or(channel.runs[0]);
    let (at, label) = house.length_mark(longest, true);
    let first = &house.plan.runs[channel.runs[0]].id;
    let finding = sheet.finding(first, says, at, label);
    let mut finding = house.with_runs(finding, channel.runs);
    let warm =
        |run: &&Entry<crate::plan::Run>| run.ambient.value().is_some_and(|at| at.base() > 20.0);
    if let Some(span) = runs().find(warm).and_then(|run| run.ambient.span()) {
        finding = finding.with_mark(span, "how warm it is");
    }
    if let Some(span) = runs().find_map(|run| run.cords.span()) {
        finding = finding.with_mark(span, "cords at both ends");
    }
    let mut working = loss.working();
    if runs().any(|run| run.ambient.is_absent()) {
        working += "; 20 °C taken where no ambient is stated";
    }
    if runs().all(|run| run.cords.is_absent()) {
        working += "; the standard's cords taken, none stated";
    }
    let figure = Shown {
        name: InsertionLoss::NAME,
        value: loss.value(),
        unit: InsertionLoss::UNIT,
        working,
    };
    finding
        .with_figure(figure, loss.limit())
        .with_redline(redline(house, channel))
}

/// A single run in a stock of the plan that loses little enough: shielded where it is warm, or of a higher category.
fn redline(house: &House<'_>, channel: &DataChannel<'_>) -> Option<Redline> {
    let &[run] = channel.runs else { return None };
    let present = house.category(channel).ok()?;
    let bounds = house.loss_bounds(channel, present).ok()?;
    let last = bounds.worse.into_iter().flatten().last();
    let worst = last.map_or(bounds.best, |(worst, _)| worst);
    let does = |stock: &Entry<Stock>| {
        let Ok(category) = house.category_of(stock) else {
            return false;
        };
        let mut with = worst;
        with.category = category;
        with.screened = stock.shields.value().is_some_and(|shields| shields.0 > 0);
        let loss = house.insertion_loss(with);
        house.is_taken_as_copper(stock) && loss.is_ok_and(|loss| !over(loss.value(), loss.limit()))
    };
    let stock = house.substitutes(run, Service::Data, does).next()?;
    house.pull_as(&[(run, stock)])
}
