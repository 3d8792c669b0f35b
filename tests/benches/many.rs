//! How a review of many plans grows: time by one hand and by two, and the most memory held. And
//! how long a hook takes among as many plans, of which one is revised.
//!
//! `cargo bench --bench many -- 2000` reviews a tenth of 2,000 plans of 60 runs and then all of
//! them; without a number it is 10,000. The program itself is run, a process a row, or many of
//! which the median counts.

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
        if plans == most {
            hooks(folder.path());
        }
    }
}

/// A hook's times in a repository of those plans, of which one is revised, or the catalogue of one.
fn hooks(folder: &Path) {
    std::fs::write(folder.join("stock.yaml"), "stock:\n  mic: {for: line}\n").expect("written");
    for arguments in [
        &["init", "-q"][..],
        &["add", "."],
        &["commit", "-qm", "all"],
    ] {
        git(folder, arguments);
    }
    let plan = "0000/000001.plan.yaml";
    let text = std::fs::read_to_string(folder.join(plan)).expect("read");
    let text = text.replacen("\nstock:", "\ncatalogue: ../stock.yaml\nstock:", 1);
    std::fs::write(folder.join(plan), text).expect("written");
    git(folder, &["add", "."]);
    println!("\n{:>36} {:>12} {:>12}", "a hook", "time", "of which CPU");
    for (what, arguments) in [
        ("the program's start and end", &["--version"][..]),
        ("one plan, named", &["review", plan]),
        ("one plan, revised", &["review", "--revised", plan]),
        (
            "one plan, staged (git included)",
            &["review", "--next-commit"],
        ),
        (
            "a catalogue, revised",
            &["review", "--revised", "stock.yaml"],
        ),
    ] {
        hook(folder, what, arguments);
    }
}

/// Prints the median of the times of one command line.
fn hook(folder: &Path, what: &str, arguments: &[&str]) {
    const TIMES: u32 = 41;
    let (before, mut times) = (children_cpu(), Vec::new());
    for _ in 0..TIMES {
        let start = Instant::now();
        let done = Command::new(env!("CARGO_BIN_EXE_nailplate"))
            .args(arguments)
            .current_dir(folder)
            .output()
            .expect("started");
        times.push(start.elapsed());
        let said = String::from_utf8_lossy(&done.stderr);
        assert!(done.status.success(), "{arguments:?}: {said}");
    }
    times.sort_unstable();
    let cpu = before
        .zip(children_cpu())
        .map(|(before, after)| (after - before) / TIMES);
    println!(
        "{what:>36} {:>12.2?} {:>12}",
        times[times.len() / 2],
        cpu.map_or_else(|| "unknown".to_owned(), |cpu| format!("{cpu:.2?}"))
    );
}

fn git(folder: &Path, arguments: &[&str]) {
    let who = [
        "-c",
        "user.name=Wren",
        "-c",
        "user.email=wren@plover.invalid",
    ];
    let mut git = Command::new("git");
    git.args(who).args(arguments).current_dir(folder);
    assert!(git.status().expect("git is installed").success());
}

/// How long the processors have worked for the children that have ended, where the system tells
/// (`cutime` and `cstime` in `/proc/self/stat`, in hundredths of a second, see proc(5)).
fn children_cpu() -> Option<Duration> {
    let stat = std::fs::read_to_string("/proc/self/stat").ok()?;
    // The name, in parentheses, may hold blanks; what follows is field 3.
    let mut fields = stat.rsplit_once(')')?.1.split_whitespace().skip(13);
    let mut next = || fields.next()?.parse::<u64>().ok();
    Some(Duration::from_millis(10 * (next()? + next()?)))
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
