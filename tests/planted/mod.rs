//! Faults planted in the clean houses, each alone and two by two: every one is found, on its thing and at its place, and
//! nothing else is said to be wrong.
//!
//! `faults/<area>.yaml` says what is planted, `words.yaml` what each house calls its own. Both are read when the tests run.
//! `NAILPLATE_PLANTED=data.over-length cargo test planted -- --nocapture` tries those faults alone whose name (rule, house and
//! way) has the text in it, each beside every other, and shows everything that is found, and what is not judged because of it.

mod complete;
mod fault;
mod pairs;
mod program;
mod soil;
mod trial;

use std::collections::BTreeMap;
use std::num::NonZero;
use std::thread;

use fault::{FAULTS, PLANTINGS, Planting, area};
use nailplate::rules::sheet;
use trial::{Outcome, try_alone};

/// The text that the name of a fault must have in it to be tried.
fn asked() -> Option<String> {
    std::env::var("NAILPLATE_PLANTED").ok()
}

fn asked_for(planting: &Planting) -> bool {
    asked().is_none_or(|asked| planting.name().contains(&asked))
}

#[expect(
    clippy::print_stdout,
    reason = "the table is what a test run is asked for with --nocapture"
)]
fn say(line: &str) {
    println!("{line}");
}

/// Does the same with each thing, on all processors.
fn at_all_hands<T: Sync, R: Send>(things: &[T], work: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let hands = thread::available_parallelism().map_or(1, NonZero::get);
    let share = things.len().div_ceil(hands).max(1);
    let work = &work;
    thread::scope(|scope| {
        let hands: Vec<_> = things
            .chunks(share)
            .map(|share| scope.spawn(move || share.iter().map(work).collect::<Vec<R>>()))
            .collect();
        hands
            .into_iter()
            .flat_map(|hand| hand.join().expect("a fault is tried to the end"))
            .collect()
    })
}

/// Sums of one rule or one house.
#[derive(Default)]
struct Sum {
    planted: usize,
    found: usize,
    false_alarms: usize,
    advice: usize,
}

impl Sum {
    fn add(&mut self, outcome: &Outcome) {
        self.planted += 1;
        self.found += usize::from(outcome.is_found);
        self.false_alarms += outcome.false_alarms;
        self.advice += outcome.advice;
    }

    fn say(&self, name: &str) {
        let Self {
            planted,
            found,
            false_alarms,
            advice,
        } = self;
        say(&format!(
            "{name:32} {planted:7} {found:7} {false_alarms:12} {advice:7}"
        ));
    }
}

#[test]
fn every_fault_is_found_and_nothing_else() {
    let plantings: Vec<&Planting> = PLANTINGS
        .iter()
        .filter(|planting| asked_for(planting))
        .collect();
    let outcomes = at_all_hands(&plantings, |planting| try_alone(planting));
    let (mut rules, mut houses, mut all) = (BTreeMap::new(), BTreeMap::new(), Sum::default());
    let mut amiss = String::new();
    for (planting, outcome) in plantings.iter().zip(&outcomes) {
        rules
            .entry(planting.rule.as_str())
            .or_insert_with(Sum::default)
            .add(outcome);
        houses
            .entry(planting.house)
            .or_insert_with(Sum::default)
            .add(outcome);
        all.add(outcome);
        if asked().is_some() {
            say(&format!("  {}\n{}", planting.name(), outcome.all));
        }
        if !outcome.amiss.is_empty() {
            amiss += &format!("\n  {}\n{}", planting.name(), outcome.amiss);
        }
    }
    say(&format!(
        "{:32} {:>7} {:>7} {:>12} {:>7}",
        "rule", "planted", "found", "false alarms", "advice"
    ));
    for (name, sum) in rules.iter().chain(&houses) {
        sum.say(name);
    }
    all.say("all");
    assert!(amiss.is_empty(), "{amiss}");
    assert_eq!(
        (all.found, all.false_alarms),
        (all.planted, 0),
        "every fault, and no false alarm"
    );
    assert!(
        asked().is_some() || all.planted > 0,
        "something was planted"
    );
}

/// Reading mistakes stand in `reading.yaml`, all else in the file of its area.
#[test]
fn faults_stand_in_the_file_of_their_area() {
    for (file, fault) in FAULTS.iter() {
        let sheet = sheet(&fault.rule).unwrap_or_else(|| panic!("no rule {}", fault.rule));
        assert_eq!(area(sheet.id), file, "{}", sheet.path);
    }
}
