//! Findings knowingly let pass: taken out of the findings, kept on the record.

use std::collections::HashMap;

use crate::findings::{Finding, Id, Level};
use crate::plan::{Plan, Variance};

/// A finding that a variance of the plan lets pass.
#[derive(Debug)]
pub struct LetPass {
    pub finding: Finding,
    pub reason: String,
    pub by: String,
    pub until: Option<String>,
    pub approval: Option<String>,
}

/// Takes out the findings that the plan's variances let pass. A variance without reason or author
/// lets nothing pass, nor does one without approval a hazard.
pub fn take(plan: &Plan, findings: &mut Vec<Finding>) -> Vec<LetPass> {
    if plan.variances.is_empty() {
        return Vec::new();
    }
    // By rule and thing, so that as many variances as findings stay linear.
    let mut by_place: HashMap<(&str, &Id), Vec<&Variance>> = HashMap::new();
    for variance in &plan.variances {
        if let (Some(rule), Some(on)) = (variance.rule.value(), variance.on.value()) {
            for thing in on.values() {
                let place = (&**rule, plan.id(thing.thing));
                by_place.entry(place).or_default().push(&variance.value);
            }
        }
    }
    let mut passed = Vec::new();
    findings.retain(|finding| {
        let place = finding.on.first().map(|at_fault| (finding.rule, at_fault));
        let variances = place.and_then(|place| by_place.get(&place));
        let mut variances = variances.into_iter().flatten();
        let found = variances.find_map(|variance| allows(variance, finding));
        match found {
            Some(let_pass) => {
                passed.push(let_pass);
                false
            }
            None => true,
        }
    });
    passed
}

fn allows(variance: &Variance, finding: &Finding) -> Option<LetPass> {
    let approval = variance.approval.value().map(|text| text.to_string());
    if finding.level == Level::Hazard && approval.is_none() {
        return None;
    }
    Some(LetPass {
        finding: finding.clone(),
        reason: variance.reason.value()?.to_string(),
        by: variance.by.value()?.to_string(),
        until: variance.until.value().map(ToString::to_string),
        approval,
    })
}
