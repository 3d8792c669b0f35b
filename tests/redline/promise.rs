//! Every edit on offer keeps its promise, whatever is wrong with the house: made alone it clears its finding, brings none,
//! and the plan still reads.
//!
//! The houses are the shipped ones with a few of their words and numbers taken out, changed, or swapped. Invented.

use std::collections::BTreeMap;
use std::path::Path;

use nailplate::findings::{Level, RedlineKind};
use nailplate::plan::Date;
use nailplate::review::{Marked, Review, Selection, ink_of, review_text, settle};
use nailplate::rules::is_judged;
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

use crate::hostile::{Disk, HOUSES};

fn day() -> Option<Date> {
    Date::parse("2026-11-25")
}

const PATH: &str = "examples/house.plan.yaml";

fn reviewed(text: &str) -> Option<Review> {
    let scope = Selection::All.on_day(day()?);
    review_text(Path::new(PATH), text.to_owned(), &Disk, scope).ok()
}

/// One change to a house: which line, where in it, and what is done there.
type Slip = (prop::sample::Index, prop::sample::Index, u8);

/// A house with slips in it.
fn spoiled(house: &str, slips: &[Slip]) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("examples/{house}.plan.yaml"));
    let text = std::fs::read_to_string(path).expect("the example is there");
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    for (line, word, kind) in slips {
        let others = lines.clone();
        let line = line.get(&others);
        let at = others
            .iter()
            .position(|other| other == line)
            .expect("it is one of them");
        lines[at] = slipped(line, word, *kind, &others);
    }
    lines.join("\n") + "\n"
}

/// A line in which one `key: value` is taken out, misspelt, or given a value that the key has
/// elsewhere, or one number is larger, smaller or without its unit.
fn slipped(line: &str, word: &prop::sample::Index, kind: u8, others: &[String]) -> String {
    let pairs: Vec<&str> = line
        .split([',', '{', '}'])
        .map(str::trim)
        .filter(|part| part.contains(": ") && !part.contains('#'))
        .collect();
    if pairs.is_empty() {
        return line.to_owned();
    }
    let pair = *word.get(&pairs);
    let (key, value) = pair.split_once(": ").expect("it holds one");
    let put = |new: &str| line.replacen(pair, new, 1);
    match kind % 7 {
        0 => put("")
            .replace(", ,", ",")
            .replace("{,", "{")
            .replace("{ ,", "{")
            .replace(", }", "}"),
        1 => put(&format!(
            "{}{}: {value}",
            &key[..key.len() / 2],
            &key[key.len() / 2 + 1..]
        )),
        2 => {
            let like: Vec<&str> = others
                .iter()
                .flat_map(|other| other.split([',', '{', '}']))
                .map(str::trim)
                .filter(|part| part.split_once(": ").is_some_and(|(other, _)| other == key))
                .collect();
            put(like[word.index(like.len())])
        }
        3 => put(&format!(
            "{key}: {}",
            value.split(' ').next().unwrap_or(value)
        )),
        kind => {
            let by = [0.1, 3.0, 20.0][usize::from(kind - 4)];
            let end = value
                .find(|c: char| !c.is_ascii_digit() && c != '.')
                .unwrap_or(value.len());
            match value[..end].parse::<f64>() {
                Ok(number) => put(&format!("{key}: {}{}", number * by, &value[end..])),
                Err(_) => line.to_owned(),
            }
        }
    }
}

/// How often each rule finds something on each thing at each level or a graver one, so that a finding which has become less
/// grave is no new one.
fn counted(review: &Review) -> BTreeMap<(&'static str, String, Level), usize> {
    let mut counts = BTreeMap::new();
    for finding in &review.findings {
        let thing = finding
            .on
            .first()
            .map_or(String::new(), ToString::to_string);
        for level in Level::ALL
            .into_iter()
            .filter(|level| *level <= finding.level)
        {
            *counts
                .entry((finding.rule, thing.clone(), level))
                .or_default() += 1;
        }
    }
    counts
}

/// The plan as it is with edits made in it; `None` where one was left, or a catalogue would change.
fn text_with(review: &Review, marked: &[Marked]) -> Option<String> {
    match marked {
        [one] if one.file == review.file && one.left.is_empty() => Some(one.text.clone()),
        _ => None,
    }
}

fn try_all(house: &str, slips: &[Slip]) -> Result<usize, TestCaseError> {
    let text = spoiled(house, slips);
    let Some(before) = reviewed(&text) else {
        return Ok(0);
    };
    let known = counted(&before);
    let mut tried = 0;
    for (index, finding) in before.findings.iter().enumerate() {
        for wanted in &finding.redlines {
            let marked = ink_of(&before, &[index], |_, redline| redline == wanted);
            let Some(with) = text_with(&before, &marked) else {
                continue;
            };
            let told = format!("{}: {} ({})", wanted.title, finding.says, finding.rule);
            let Some(after) = reviewed(&with) else {
                return Err(TestCaseError::fail(format!(
                    "no YAML any more: {told}\n{with}"
                )));
            };
            tried += 1;
            let after = counted(&after);
            let key = (finding.rule, finding.on[0].to_string(), Level::Advice);
            let left = after.get(&key).copied().unwrap_or(0);
            prop_assert!(left < known[&key], "not cleared: {told}");
            if !is_judged(finding.rule) {
                // What a slip of spelling hid may come to light.
                continue;
            }
            for (new, count) in &after {
                prop_assert!(
                    *count <= known.get(new).copied().unwrap_or(0),
                    "brings {new:?}: {told}"
                );
            }
        }
    }
    Ok(tried)
}

proptest! {
    // The same houses every time: what rules offer in a spoiled house is not to keep other work from landing. More of them, and
    // others, are tried by hand now and then.
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, rng_seed: RngSeed::Fixed(2026), ..ProptestConfig::default() })]

    #[test]
    fn each_edit_keeps_its_promise(house in prop::sample::select(&HOUSES[..]), slips in prop::collection::vec(any::<Slip>(), 1..6)) {
        try_all(house, &slips)?;
    }

    /// Redlines made until still: the plan reads, nothing is found that a rule had not found before, and a second time nothing
    /// is left to make.
    #[test]
    fn settling_makes_a_plan_better_and_comes_to_rest(house in prop::sample::select(&HOUSES[..]), slips in prop::collection::vec(any::<Slip>(), 1..6)) {
        let text = spoiled(house, &slips);
        if let Some(before) = reviewed(&text) {
            let both = [RedlineKind::Same, RedlineKind::Change];
            let settled = settle(Path::new(PATH), text.clone(), &Disk, &both, day()).expect("it reads");
            let plan = settled.files.iter().find(|file| file.path == Path::new(PATH));
            let after = plan.map_or(text, |file| file.after.clone());
            let reviewed = reviewed(&after).expect("it still reads");
            let misread = |review: &Review| review.findings.iter().any(|finding| !is_judged(finding.rule));
            if !misread(&before) {
                let known = counted(&before);
                for (new, count) in counted(&reviewed) {
                    prop_assert!(count <= known.get(&new).copied().unwrap_or(0), "{new:?} was not there");
                }
            }
            let again = settle(Path::new(PATH), after, &Disk, &both, day()).expect("it reads");
            prop_assert_eq!(again.made, vec![], "nothing is left to make");
        }
    }
}
