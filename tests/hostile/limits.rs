//! Every limit of every rule, set by a firm to values that are absurd: each is a mistake at its line and not in effect, or in effect
//! and told at the end of a review, and every house is judged by it.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use nailplate::plan::Library;
use nailplate::review::{Scope, review_text};
use nailplate::rules::{RULES, What, sheet};
use nailplate::settings::{Cabinet, read};

use super::quantities::absurd;
use super::{Disk, HOUSES};

impl Cabinet for Disk {
    fn below(&self, _: &Path) -> Result<Vec<PathBuf>, String> {
        Err("there is no such folder".into())
    }
}

/// Rule and name of a limit, and its values.
fn values() -> BTreeMap<(&'static str, String), Vec<String>> {
    let mut values = BTreeMap::new();
    for rule in RULES {
        let whole = sheet(rule.id)
            .expect("a sheet")
            .whole()
            .expect("a whole one");
        for (name, limit) in whole.limits {
            values.insert((rule.id, name), absurd(&limit.value));
        }
    }
    values
}

#[test]
fn each_is_a_mistake_or_is_told() {
    let houses = HOUSES.map(|name| {
        Disk.load(Path::new(&format!("examples/{name}.plan.yaml")))
            .expect("a house")
    });
    let values = values();
    let rounds = values.values().map(Vec::len).max().unwrap_or(0);
    let (mut mistaken, mut told) = (0, 0);
    // One value in three of each: they are the same kinds for all.
    for round in (0..rounds).step_by(3) {
        let mut text = String::from("nailplate: 1\nrules:\n");
        let mut rule = "";
        // By the line that each stands on.
        let mut set = BTreeMap::new();
        for ((id, name), texts) in &values {
            // What is no YAML in itself is tried in plans.
            let Some(value) = texts
                .get(round)
                .filter(|text| !text.starts_with('*') && !text.starts_with("'\\"))
            else {
                continue;
            };
            if rule != *id {
                text += &format!("  {id}:\n    limits:\n");
                rule = id;
            }
            let bare = value.starts_with(['\'', '[', '{', '~']);
            let value = if bare {
                value.clone()
            } else {
                format!("'{value}'")
            };
            set.insert(text.lines().count() + 1, (*id, name.clone()));
            text += &format!("      {name}: {{value: {value}, authority: x}}\n");
        }
        let read = read(Path::new("nailplate.yaml"), text.clone(), &Disk)
            .unwrap_or_else(|(_, broken)| panic!("no YAML: {}\n{text}", broken.reason));
        for (line, (id, name)) in &set {
            let is_mistake = read.findings.iter().any(|found| {
                let spot = read.sources.spots(found.marks[0].span).0;
                read.sources.file(spot.file).position(spot.start).line == *line
            });
            let is_told = read.settings.rulebook.departures.iter().any(|departure| {
                departure.rule == *id
                    && matches!(&departure.what, What::Limit { name: other, .. } if other == name)
            });
            assert!(
                is_mistake != is_told,
                "{id} {name}, {}: mistake {is_mistake}, told {is_told}",
                text.lines().nth(line - 1).unwrap_or("")
            );
            mistaken += usize::from(is_mistake);
            told += usize::from(is_told);
        }
        // One house a round: whatever is in effect, it is judged.
        let house = houses[round / 3 % houses.len()].clone();
        let scope = Scope {
            rulebook: &read.settings.rulebook,
            ..Scope::default()
        };
        let review = review_text(Path::new("examples/house.plan.yaml"), house, &Disk, scope)
            .expect("it is YAML");
        for finding in &review.findings {
            let working = finding.figure.as_ref().map_or("", |figure| &figure.working);
            assert!(
                !format!("{} {working}", finding.says).contains("NaN"),
                "{}",
                finding.says
            );
        }
    }
    assert!(
        mistaken > 700 && told > 30,
        "{mistaken} mistakes, {told} in effect"
    );
}
