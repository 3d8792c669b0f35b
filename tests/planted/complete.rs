//! Every rule is planted, in every house, in two ways; or it is said why not.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

use nailplate::rules::all_sheets;
use nailplate::settings;
use regex::Regex;

use super::fault::{FAULTS, Fault, HOUSES, PLANTINGS};

/// Rules that no plan can break as the rulebook is built in, and why.
const BEHIND: &[(&str, &str)] = &[(
    "speaker.level-lost",
    "0.5 dB are 5.9 % of the load, and from 5 % on speaker.undersized goes before it: it speaks where a firm has other limits",
)];

/// What is amiss with the faults of one rule.
fn wants(faults: &[&Fault]) -> Vec<String> {
    if faults.is_empty() {
        return vec!["is never planted".to_owned()];
    }
    let mut wants = Vec::new();
    let ways: BTreeSet<_> = faults.iter().map(|fault| &fault.way).collect();
    if ways.len() < faults.len() {
        wants.push("has two faults of one name".to_owned());
    }
    let one_way = faults
        .iter()
        .any(|fault| fault.one_way.as_ref().is_some_and(|why| !why.is_empty()));
    if one_way != (faults.len() == 1) {
        wants.push("is planted in two ways, or `one-way` says why not".to_owned());
    }
    for house in HOUSES {
        let is_there = faults.iter().any(|fault| fault.is_in(house));
        let reason =
            |fault: &&Fault| fault.houses.why.is_some() || fault.houses.not.contains_key(house);
        if !is_there && !faults.iter().any(reason) {
            wants.push(format!("is planted in {house}, or `houses` says why not"));
        }
    }
    wants
}

/// The mistakes of settings are no faults of a plan: `tests/settings/` has them.
#[test]
fn every_rule_is_planted() {
    let mut faults: BTreeMap<&str, Vec<&Fault>> = BTreeMap::new();
    for (_, fault) in FAULTS.iter() {
        faults.entry(&fault.rule).or_default().push(fault);
    }
    let sheets = all_sheets().filter(|sheet| !settings::MISTAKES.contains(&sheet.id));
    let is_behind = |id: &str| BEHIND.iter().any(|(rule, _)| *rule == id);
    let sheets = sheets.filter(|sheet| !is_behind(sheet.id));
    let none = Vec::new();
    let wants = sheets.flat_map(|sheet| {
        let wants = wants(faults.get(sheet.id).unwrap_or(&none));
        wants
            .into_iter()
            .map(move |want| format!("\n  {} {want}", sheet.id))
    });
    let wants: String = wants.collect();
    assert!(wants.is_empty(), "{wants}");
}

/// Else two faults in one house would be a third.
#[test]
fn no_two_faults_add_the_same_id() {
    static ID: LazyLock<Regex> =
        LazyLock::new(|| Regex::new(r"(?m)^\s*(zz-[\w.-]+):").expect("fixed"));
    let mut of_fault: BTreeMap<(&str, String), &str> = BTreeMap::new();
    let mut twice = String::new();
    for planting in PLANTINGS.iter() {
        let texts = planting
            .edits
            .iter()
            .flat_map(|edit| [&edit.add, &edit.to])
            .flatten();
        let ids = texts.flat_map(|text| ID.captures_iter(text).map(|id| id[1].to_owned()));
        for id in ids {
            let before = of_fault.insert((planting.house, id.clone()), &planting.way);
            if before.is_some_and(|before| before != planting.way) {
                twice += &format!("\n  {id}, by {}", planting.name());
            }
        }
    }
    assert!(twice.is_empty(), "{twice}");
}
