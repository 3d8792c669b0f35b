//! How a review of many plans grows: time by one hand and by two, and the most memory held.
//!
//! `cargo bench --bench many -- 2000` reviews a tenth of 2,000 plans of 60 runs and then all of
//! them; without a number it is 10,000. The program itself is run, a process a row.

#![allow(clippy::print_stdout, reason = "a benchmark prints")]

mod generate;

use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::thread;
use std::time::{Duration, Instant};

const RUNS: usize = 60;

/// Folders of this many plans.
const TOGETHER: usize = 500;

fn main() {
    let stated = std::env::args().find_map(|argument| argument.parse().ok());
    let most: usize = stated.unwrap_or(10_000).max(10);
    println!(
        "{:>8} {:>6} {:>10} {:>12} {:>10} {:>7}",
        "plans", "hands", "time", "plans/s", "peak KB", "ratio"
    );
    for plans in [most / 10, most] {
        let folder = tempfile::tempdir().expect("a temporary folder");
        fill(folder.path(), plans);
        let one = row(folder.path(), plans, 1, None);
        row(folder.path(), plans, 2, Some(one));
    }
}

/// Every tenth plan has lines too thin, so that there is something to write.
fn fill(folder: &Path, plans: usize) {
    let texts = [generate::plan(RUNS, false), generate::plan(RUNS, true)];
    for n in 0..plans {
        let folder = folder.join(format!("{:04}", n / TOGETHER));
        if n % TOGETHER == 0 {
            std::fs::create_dir(&folder).expect("made");
        }
        let text = &texts[usize::from(n % 10 == 0)];
        std::fs::write(folder.join(format!("{n:06}.plan.yaml")), text).expect("written");
    }
}

/// Prints one row and gives its time.
fn row(folder: &Path, plans: usize, hands: usize, one: Option<Duration>) -> Duration {
    let start = Instant::now();
    let mut review = Command::new(env!("CARGO_BIN_EXE_nailplate"))
        .args(["review", "--as", "json-lines", "--hands"])
        .arg(hands.to_string())
        .arg(folder)
        .stdout(Stdio::null())
        .spawn()
        .expect("started");
    let mut peak = None;
    let status = loop {
        if let Some(status) = review.try_wait().expect("watched") {
            break status;
        }
        peak = peak_of(&review).or(peak);
        thread::sleep(Duration::from_millis(5));
    };
    let took = start.elapsed();
    assert_eq!(status.code(), Some(1), "the faulty plans were found");
    println!(
        "{plans:>8} {hands:>6} {took:>10.2?} {:>12.0} {:>10} {:>7}",
        plans as f64 / took.as_secs_f64(),
        peak.map_or_else(|| "unknown".to_owned(), |peak| peak.to_string()),
        one.map_or_else(String::new, |one| format!(
            "{:.2}",
            took.as_secs_f64() / one.as_secs_f64()
        ))
    );
    took
}

/// The most memory that a process has held so far, in KB, where the system tells (`VmHWM` in
/// `/proc/PID/status`, see proc(5)).
fn peak_of(child: &Child) -> Option<u64> {
    let status = std::fs::read_to_string(format!("/proc/{}/status", child.id())).ok()?;
    let line = status
        .lines()
        .find_map(|line| line.strip_prefix("VmHWM:"))?;
    line.trim().trim_end_matches(" kB").parse().ok()
}
