//! A variance that does not say why, or who answers for it.

use crate::findings::{Finding, Id, Report};
use crate::house::{House, Outcome};
use crate::plan::{Stated, Variance};
use crate::rules::Sheet;

pub use crate::rules::NoLimits as Limits;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(outcomes) = house.outcomes() else {
        return;
    };
    for (variance, of) in house.plan.variances.iter().zip(&outcomes.of) {
        let lets_hazard = of.contains(&Outcome::Matched { hazard: true });
        let mut lacks = Vec::new();
        if variance.reason.is_absent() {
            lacks.push("gives no reason");
        }
        if variance.by.is_absent() {
            lacks.push("names nobody who answers for it");
        }
        if lets_hazard && variance.approval.is_absent() {
            lacks.push("has no approval, which a hazard wants");
        }
        out.checked();
        if !lacks.is_empty() {
            out.find(finding(house, sheet, variance, &lacks));
        }
    }
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    variance: &Stated<Variance>,
    lacks: &[&str],
) -> Finding {
    let things = variance.on.value().into_iter().flat_map(|on| on.values());
    let things: Vec<&Id> = things.map(|thing| house.plan.id(thing.thing)).collect();
    let rule = variance.rule.value().map_or("no rule", |rule| &**rule);
    let on = match things.first() {
        Some(thing) => format!(" on {thing}"),
        None => String::new(),
    };
    let says = format!("the variance of {rule}{on} {}", lacks.join(" and "));
    let plan = Id::new("plan");
    let first = things.first().copied().unwrap_or(&plan);
    let at = variance.rule.span().unwrap_or(variance.span);
    let finding = sheet.finding(first, says, at, "lets nothing pass");
    let mut finding = finding.with_about(rule);
    for thing in things {
        finding = finding.with_on(thing);
    }
    finding
}
