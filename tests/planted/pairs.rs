//! Faults two by two: neither hides the other.

use std::collections::{BTreeMap, BTreeSet};

use proptest::prelude::RngExt;
use proptest::test_runner::{Config, RngSeed, TestRunner};

use super::fault::{HOUSES, PLANTINGS, Planting};
use super::trial::{Found, is_it, place, plant, review};
use super::{asked, asked_for, at_all_hands, say};

/// How many pairs are tried, over all houses.
const PAIRS: usize = 2000;

/// What became of the pairs that were drawn.
#[derive(Default)]
struct Draws {
    tried: Vec<(&'static Planting, &'static Planting)>,
    touch: usize,
    /// By the reason.
    ended: BTreeMap<&'static str, usize>,
}

impl Draws {
    fn take(&mut self, one: &'static Planting, other: &'static Planting) {
        if let Some(why) = one.why_ends(other).or_else(|| other.why_ends(one)) {
            *self.ended.entry(why).or_default() += 1;
        } else if together(one, other).is_none() {
            self.touch += 1;
        } else {
            self.tried.push((one, other));
        }
    }

    /// As many of each house, at random, but the same ones in every run.
    fn at_random() -> Self {
        let config = Config {
            rng_seed: RngSeed::Fixed(2026),
            ..Config::default()
        };
        let mut runner = TestRunner::new(config);
        let rng = runner.rng();
        let mut draws = Self::default();
        for house in HOUSES {
            let here = all_in(house);
            let enough = draws.tried.len() + PAIRS / HOUSES.len();
            let mut drawn = BTreeSet::new();
            while draws.tried.len() < enough {
                let numbers = [0; 2].map(|_| rng.random_range(0..here.len()));
                let pair = (numbers[0].min(numbers[1]), numbers[0].max(numbers[1]));
                if pair.0 != pair.1 && drawn.insert(pair) {
                    draws.take(here[pair.0], here[pair.1]);
                }
            }
        }
        draws
    }

    /// Every pair with a fault that is asked for.
    fn of_asked_for() -> Self {
        let mut draws = Self::default();
        for here in HOUSES.map(all_in) {
            for (at, one) in here.iter().enumerate() {
                for other in &here[..at] {
                    if asked_for(one) || asked_for(other) {
                        draws.take(other, one);
                    }
                }
            }
        }
        draws
    }
}

fn all_in(house: &str) -> Vec<&'static Planting> {
    PLANTINGS
        .iter()
        .filter(|planting| planting.house == house)
        .collect()
}

/// A house with two faults, and where each has to be found; `None` where they touch the same text.
type Together = (
    BTreeMap<String, super::soil::Grown>,
    [std::ops::Range<usize>; 2],
    [String; 2],
);

fn together(one: &Planting, other: &Planting) -> Option<Together> {
    let files = plant(&[one, other])?;
    let spot = |planting: &Planting, index| {
        let alone = plant(&[planting]).expect("it stands alone");
        let (spot, _) = place(planting, &alone).ok()?;
        let bytes = spot.among(&files, index)?;
        Some((bytes, spot.file))
    };
    let ((first, first_file), (second, second_file)) = (spot(one, 0)?, spot(other, 1)?);
    Some((files, [first, second], [first_file, second_file]))
}

fn hidden(one: &Planting, other: &Planting) -> Option<String> {
    let (files, bytes, names) = together(one, other).expect("it was drawn");
    let found = review(one.house, &files).found;
    let is_found = |planting: &Planting, index: usize| {
        found
            .iter()
            .any(|found| is_it(planting, found, &names[index], &bytes[index]))
    };
    let lost = [(one, 0), (other, 1)]
        .into_iter()
        .filter(|(planting, index)| !is_found(planting, *index));
    let lost: Vec<_> = lost.map(|(planting, _)| planting.name()).collect();
    let all: Vec<_> = found.iter().map(Found::line).collect();
    (!lost.is_empty()).then(|| {
        let beside = if lost[0] == one.name() { other } else { one };
        format!(
            "\n  hidden: {}\n  beside: {}\n    {}",
            lost.join("\n  and:    "),
            beside.name(),
            all.join("\n    ")
        )
    })
}

#[test]
fn no_fault_hides_another() {
    let draws = match asked() {
        Some(_) => Draws::of_asked_for(),
        None => Draws::at_random(),
    };
    let left_out: usize = draws.ended.values().sum();
    say(&format!(
        "pairs: {} tried; {} more drawn that touch the same text, {left_out} left out because one ends the other",
        draws.tried.len(),
        draws.touch
    ));
    for (why, count) in &draws.ended {
        say(&format!("  {count:5}  {why}"));
    }
    let pairs = draws.tried;
    let hidden: Vec<String> = at_all_hands(&pairs, |(one, other)| hidden(one, other))
        .into_iter()
        .flatten()
        .collect();
    assert!(
        hidden.is_empty(),
        "{} of {} pairs:{}",
        hidden.len(),
        pairs.len(),
        hidden.concat()
    );
}
