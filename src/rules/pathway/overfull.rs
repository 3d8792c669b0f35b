//! A conduit with more cable in it than it may hold.

use crate::figures::Figure;
use crate::figures::fill::Fill;
use crate::findings::{Finding, Level, Report};
use crate::house::{Filling, House};
use crate::plan::{Entry, Pathway, Region};
use crate::rules::{FillLimits, Limit, Sheet, shown};
use crate::units::{Percent, figure3};

pub use crate::rules::FillLimits as Limits;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    let Ok(region) = house.region() else { return };
    for (index, conduit) in house.conduits() {
        if house.runs_in(index).is_empty() {
            continue;
        }
        let filling = match house.filling(index) {
            Ok(filling) => filling,
            Err(lack) => {
                out.gap(sheet.id, &conduit.id, lack);
                continue;
            }
        };
        // Of conduits in a conduit nobody knows how many count: the easiest limit is sure.
        let cables = if house.inner_conduit(index).is_some() {
            1
        } else {
            filling.counted
        };
        let limit = limits.allowed(conduit, &filling, cables, region);
        if FillLimits::is_over(filling.fill.value(), limit) {
            out.checked();
            let case = Case {
                house,
                sheet,
                limits,
                index,
                conduit,
                filling: &filling,
                limit,
                region,
            };
            out.find(case.finding());
        } else if let Some(lack) = filling.lack {
            // What is known fits; what is not may be too much.
            out.gap(sheet.id, &conduit.id, lack);
        } else if !conduit.is_length_bad() {
            out.checked();
        }
    }
}

struct Case<'a, 'p> {
    house: &'a House<'p>,
    sheet: &'a Sheet,
    limits: &'a Limits,
    index: usize,
    conduit: &'a Entry<Pathway>,
    filling: &'a Filling,
    limit: &'a Limit<Percent>,
    region: Region,
}

impl Case<'_, '_> {
    fn finding(&self) -> Finding {
        let Self {
            house,
            conduit,
            filling,
            limit,
            ..
        } = self;
        let fill = &filling.fill;
        let says = format!(
            "{} is {}{} % full with {}, allowed is {}",
            conduit.id,
            filling.at_least(),
            figure3(fill.value()),
            filling.counted(),
            limit.value,
        );
        let size = conduit
            .bore
            .span()
            .or(conduit.size.span())
            .unwrap_or(conduit.span);
        let mut finding = self.sheet.finding(&conduit.id, says, size, "this wide");
        if filling.has_power {
            // Heat that cannot leave spoils the insulation of what carries mains.
            finding.level = Level::Hazard;
        }
        finding.on.extend(
            house
                .runs_in(self.index)
                .iter()
                .map(|run| house.plan.runs[*run as usize].id.clone()),
        );
        let mut thick: Vec<_> = filling.occupants.iter().collect();
        thick.sort_by(|a, b| b.diameter.base().total_cmp(&a.diameter.base()));
        for cable in thick {
            let stock = house.want_stock(&house.plan.runs[cable.run]);
            if finding.marks.len() < 3
                && let Some(span) = stock.ok().and_then(|stock| stock.diameter.span())
            {
                finding = finding.with_mark(span, "a cable in it");
            }
        }
        let figure = shown(fill);
        let larger = self.larger();
        let mut advice = match (larger, conduit.make.value()) {
            (Some(size), Some(make)) => format!(
                "use {make} of size {size} or larger, or lead some of the cables another way"
            ),
            _ => "lead some of the cables another way, or lay a second conduit".into(),
        };
        let as_nipple = self.limits.nipple.value.number();
        if conduit.laid_length().is_none()
            && fill.value() <= as_nipple
            && self.limits.nipple.holds_in(self.region)
        {
            advice += &format!(
                "; if it is no longer than {}, state its length",
                self.limits.nipple_length.value
            );
        }
        let redline = larger.and_then(|size| {
            let edit = house.edit(conduit, &conduit.size, "size", size);
            house.change(format!("make {} of size {size}", conduit.id), edit)
        });
        finding
            .with_figure(figure, limit.value.number())
            .with_authority(limit.authority.clone())
            .with_put_right(advice)
            .with_redline(redline)
    }

    /// The next size that holds all that is in it, where all of that is known.
    fn larger(&self) -> Option<&'static str> {
        if self.filling.lack.is_some() {
            return None;
        }
        self.house.larger_size(self.index, |bore| {
            Fill::of(bore, self.filling.diameters())
                .is_some_and(|fill| !FillLimits::is_over(fill.value(), self.limit))
        })
    }
}
