//! What `tests/beside/run` measures besides whole programs: it makes the plans, and runs the YAML parser's bare event pass and
//! the reading alone as programs of their own, so that they are measured as the others are.
//!
//! `beside plan 1000` writes a complete plan of about 1,000 KB, `beside events FILE` and `beside read FILE` go through one.

#![allow(clippy::print_stdout, reason = "a benchmark prints")]

mod generate;

use std::path::Path;

use nailplate::plan;
use nailplate::yaml::Sources;
use serde_yaml::granit_parser::Parser;

struct Nothing;

impl plan::Library for Nothing {
    fn load(&self, _: &Path) -> Result<String, String> {
        Err("no such file".into())
    }
}

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
    match arguments[..] {
        ["plan", kilobytes] => print!("{}", sized(kilobytes.parse().expect("kilobytes"))),
        ["events", file] => {
            let text = text(file);
            let events = Parser::new_from_str(&text);
            println!("{} events", events.filter(|event| event.is_ok()).count());
        }
        ["read", file] => {
            let mut sources = Sources::default();
            let (id, tree) = sources.add(Path::new(file), text(file));
            tree.expect("YAML");
            let (plan, mistakes) = plan::read(&mut sources, id, &Nothing);
            println!("{} runs, {} mistakes", plan.runs.len(), mistakes.len());
        }
        // What cargo asks of every benchmark.
        _ => println!("see tests/beside/run"),
    }
}

fn text(file: &str) -> String {
    std::fs::read_to_string(file).expect("a file")
}

/// A complete plan of about so many KB.
fn sized(kilobytes: usize) -> String {
    const SAMPLE: usize = 1500;
    let runs = kilobytes * 1000 * SAMPLE / generate::plan(SAMPLE, false).len();
    generate::plan(runs.max(1), false)
}
