//! How long a whole review takes beside the YAML parser's bare event pass over the same bytes.
//!
//! `cargo bench --bench review` prints one table. Ratios are of medians measured in one run, turn by turn, since
//! the machines are noisy.

#![allow(clippy::print_stdout, reason = "a benchmark prints")]

mod generate;

use std::hint::black_box;
use std::path::Path;
use std::time::{Duration, Instant};

use nailplate::forms::{Words, json};
use nailplate::review::{Review, Selection, review_text};
use nailplate::yaml::Tree;
use serde_yaml::granit_parser::Parser;

struct Nothing;

impl nailplate::plan::Library for Nothing {
    fn load(&self, _: &Path) -> Result<String, String> {
        Err("no such file".into())
    }
}

fn timed<T>(work: impl FnOnce() -> T) -> Duration {
    let start = Instant::now();
    black_box(work());
    start.elapsed()
}

fn median(mut times: Vec<Duration>) -> Duration {
    times.sort_unstable();
    times[times.len() / 2]
}

fn review(text: &str) -> Review {
    let read = review_text(
        Path::new("bench.plan.yaml"),
        text.to_owned(),
        &Nothing,
        Selection::All,
    );
    read.unwrap_or_else(|(_, broken)| panic!("{}", broken.reason))
}

/// A review from its text to its last byte of JSON.
fn review_to_json(text: &str) -> u64 {
    let reviewed = review(text);
    let mut out = Counter(0);
    let mut document = json::Json::start(&mut out, Words::default()).expect("counting cannot fail");
    document
        .file(&reviewed)
        .and_then(|()| document.finish())
        .expect("counting cannot fail");
    out.0
}

/// Counts bytes and drops them.
struct Counter(u64);

impl std::io::Write for Counter {
    fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
        self.0 += bytes.len() as u64;
        Ok(bytes.len())
    }
    fn flush(&mut self) -> std::io::Result<()> {
        Ok(())
    }
}

fn main() {
    println!(
        "{:>8} {:>7} {:>9} {:>10} {:>10} {:>10} {:>7} {:>9}",
        "runs", "faulty", "KB", "events", "tree", "review", "ratio", "findings"
    );
    for (runs, rounds) in [(100, 51), (10_000, 9), (100_000, 5)] {
        for faulty in [false, true] {
            let text = generate::plan(runs, faulty);
            let found = review(&text).findings.len();
            let (mut events, mut trees, mut reviews) = (Vec::new(), Vec::new(), Vec::new());
            for _ in 0..rounds {
                events.push(timed(|| {
                    Parser::new_from_str(&text)
                        .filter(|event| event.is_ok())
                        .count()
                }));
                trees.push(timed(|| Tree::build(&text).is_ok()));
                reviews.push(timed(|| review_to_json(&text)));
            }
            let (events, trees, reviews) = (median(events), median(trees), median(reviews));
            println!(
                "{runs:>8} {faulty:>7} {:>9} {:>10.2?} {:>10.2?} {:>10.2?} {:>7.2} {found:>9}",
                text.len() / 1000,
                events,
                trees,
                reviews,
                reviews.as_secs_f64() / events.as_secs_f64()
            );
        }
    }
}
