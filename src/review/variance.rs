//! Findings knowingly let pass: taken out of the findings, kept on the record.

use std::collections::{HashMap, HashSet};

use super::lacks::Lacks;
use crate::findings::{Finding, Gap, Id, Level, Report};
use crate::house::{Outcome, Outcomes};
use crate::plan::{Date, Plan, Variance};
use crate::rules::Rulebook;
use crate::yaml::Span;

/// Rules that judge variances, and so what the other rules have found.
pub const JUDGED_LAST: [&str; 2] = ["plan.variance-stale", "plan.variance-unreasoned"];

/// A finding that a variance of the plan lets pass.
#[derive(Debug)]
pub struct LetPass {
    pub finding: Finding,
    pub reason: String,
    /// Where the plan gives the reason.
    pub at: Span,
    pub by: String,
    pub until: Option<String>,
    pub approval: Option<String>,
}

/// A variance of the plan and one of the things that it names, by their places.
type At = (usize, usize);

/// Takes out the findings that the plan's variances let pass, and tells what came of each
/// variance. One without reason or author lets nothing pass, nor one that is past its day, nor one
/// without approval a hazard.
pub fn take(
    plan: &Plan,
    report: &mut Report,
    rulebook: &Rulebook,
    all_read: bool,
    today: Option<Date>,
) -> (Vec<LetPass>, Outcomes) {
    let mut outcomes = Outcomes {
        of: Vec::new(),
        today,
    };
    if plan.variances.is_empty() {
        return (Vec::new(), outcomes);
    }
    // By rule and thing, so that as many variances as findings stay linear.
    let mut by_place: HashMap<(&str, &Id), Vec<At>> = HashMap::new();
    for (index, variance) in plan.variances.iter().enumerate() {
        let on = variance.on.value().map_or(&[][..], |on| &on.0);
        outcomes.of.push(vec![Outcome::Nothing; on.len()]);
        if let Some(rule) = variance.rule.value() {
            for (thing, stated) in on.iter().enumerate() {
                let place = (&**rule, plan.id(stated.value.thing));
                by_place.entry(place).or_default().push((index, thing));
            }
        }
    }
    let mut passed = Vec::new();
    report.findings.retain(|finding| {
        let place = finding.on.first().map(|at_fault| (finding.rule, at_fault));
        let Some(variances) = place.and_then(|place| by_place.get(&place)) else {
            return true;
        };
        for (index, thing) in variances {
            let outcome = &mut outcomes.of[*index][*thing];
            let before = matches!(outcome, Outcome::Matched { hazard: true });
            *outcome = Outcome::Matched {
                hazard: before || finding.level == Level::Hazard,
            };
        }
        let mut variances = variances.iter().map(|(index, _)| &plan.variances[*index]);
        match variances.find_map(|variance| allows(variance, finding, today)) {
            Some(let_pass) => {
                passed.push(let_pass);
                false
            }
            None => true,
        }
    });
    doubt(plan, &mut outcomes, &report.gaps, rulebook, all_read);
    (passed, outcomes)
}

/// A variance that matches nothing is not stale where its rule may only have lacked a figure: on
/// the thing itself, on something that several things share, or on what the thing holds. Nor where the
/// plan has values that could not be read, or the rule is not adopted.
fn doubt(plan: &Plan, outcomes: &mut Outcomes, gaps: &[Gap], rulebook: &Rulebook, all_read: bool) {
    let mut open: Vec<At> = Vec::new();
    for (index, of) in outcomes.of.iter().enumerate() {
        let nothing = |(_, outcome): &(usize, &Outcome)| **outcome == Outcome::Nothing;
        open.extend(
            of.iter()
                .enumerate()
                .filter(nothing)
                .map(|(at, _)| (index, at)),
        );
    }
    if open.is_empty() {
        return;
    }
    let rules: HashSet<&str> = open
        .iter()
        .filter_map(|(index, _)| plan.variances[*index].rule.value().map(|rule| &**rule))
        .collect();
    let lacks = Lacks::of(plan, gaps, |rule| rules.contains(rule));
    for (index, at) in open {
        let variance = &plan.variances[index];
        let (Some(rule), Some(on)) = (variance.rule.value(), variance.on.value()) else {
            continue;
        };
        let lack = lacks.of_thing(rule, plan.id(on.0[at].value.thing).as_str());
        if !rulebook.adopts(rule) {
            let left_out = format!("a finding of {}, which is not adopted", &**rule);
            outcomes.of[index][at] = Outcome::Unjudged(left_out);
        } else if let Some(lack) = lack {
            outcomes.of[index][at] = Outcome::Unjudged(lack.to_owned());
        } else if !all_read {
            outcomes.of[index][at] =
                Outcome::Unjudged("a plan that could be read in full".to_owned());
        }
    }
}

fn allows(variance: &Variance, finding: &Finding, today: Option<Date>) -> Option<LetPass> {
    let approval = variance.approval.value().map(|text| text.to_string());
    if finding.level == Level::Hazard && approval.is_none() {
        return None;
    }
    let until = variance.until.value();
    let past = until
        .zip(today.as_ref())
        .is_some_and(|(until, today)| until < today);
    if past || variance.until.is_bad() {
        return None;
    }
    let reason = variance.reason.stated()?;
    Some(LetPass {
        finding: finding.clone(),
        reason: reason.value.to_string(),
        at: reason.span,
        by: variance.by.value()?.to_string(),
        until: until.map(ToString::to_string),
        approval,
    })
}
