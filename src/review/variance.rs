//! Findings knowingly let pass: taken out of the findings, kept on the record.

use std::collections::HashMap;

use crate::findings::{Finding, Level};
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
    let mut by_rule: HashMap<&str, Vec<&Variance>> = HashMap::new();
    for variance in &plan.variances {
        if let Some(rule) = variance.rule.value() {
            by_rule.entry(rule).or_default().push(&variance.value);
        }
    }
    let mut passed = Vec::new();
    findings.retain(|finding| {
        let variances = by_rule.get(finding.rule).map_or(&[][..], Vec::as_slice);
        let found = variances
            .iter()
            .find_map(|variance| allows(plan, variance, finding));
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

fn allows(plan: &Plan, variance: &Variance, finding: &Finding) -> Option<LetPass> {
    let on = variance.on.value()?;
    let at_fault = finding.on.first()?;
    if !on.values().any(|thing| plan.id(thing.thing) == at_fault) {
        return None;
    }
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
