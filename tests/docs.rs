//! The README's blocks of output are what the program prints. `NAILPLATE_WRITE_DOCS=1 cargo test` rewrites them.

use std::path::Path;
use std::process::Command;

/// Blocks are introduced by `<!-- output: ARGUMENTS -->`, where the arguments may end in
/// `, first finding of RULE`.
const OUTPUT: &str = "<!-- output: ";

fn run(arguments: &str) -> String {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let done = Command::new(env!("CARGO_BIN_EXE_nailplate"))
        .args(arguments.split(' '))
        .current_dir(root)
        .env("COLUMNS", "100")
        .env("NO_COLOR", "1")
        .output()
        .expect("the program runs");
    String::from_utf8(done.stdout).expect("output is text")
}

/// One finding of a review as text: from its first line to the empty line behind it.
fn first_finding(text: &str, rule: &str) -> String {
    text.split("\n\n")
        .find(|block| {
            block
                .lines()
                .next()
                .is_some_and(|line| line.trim_end().ends_with(rule))
        })
        .unwrap_or_else(|| panic!("no finding of {rule}"))
        .trim_matches('\n')
        .to_owned()
}

fn with_output(page: &str) -> String {
    let mut out = String::new();
    let mut lines = page.lines();
    while let Some(line) = lines.next() {
        out.push_str(line);
        out.push('\n');
        let Some(what) = line
            .strip_prefix(OUTPUT)
            .and_then(|rest| rest.strip_suffix(" -->"))
        else {
            continue;
        };
        let (arguments, rule) = match what.split_once(", first finding of ") {
            Some((arguments, rule)) => (arguments, Some(rule)),
            None => (what, None),
        };
        let printed = run(arguments);
        let printed = rule.map_or(printed.clone(), |rule| first_finding(&printed, rule));
        out.push_str(lines.next().expect("a fence behind the mark"));
        out.push('\n');
        for line in printed.lines() {
            out.push_str(line.trim_end());
            out.push('\n');
        }
        let end = lines
            .by_ref()
            .find(|line| *line == "```")
            .expect("the fence ends");
        out.push_str(end);
        out.push('\n');
    }
    out
}

#[test]
fn readme_shows_what_the_program_prints() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("README.md");
    let page = std::fs::read_to_string(&path).expect("the README is there");
    let fresh = with_output(&page);
    if std::env::var_os("NAILPLATE_WRITE_DOCS").is_some() {
        std::fs::write(&path, &fresh).expect("the README can be written");
    }
    assert!(
        page == fresh || std::env::var_os("NAILPLATE_WRITE_DOCS").is_some(),
        "the README is stale: run with NAILPLATE_WRITE_DOCS=1"
    );
}

#[test]
fn readme_begins_with_the_job_and_names_both_commands() {
    let page = std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("README.md"))
        .expect("the README");
    let paragraph = page.split("\n\n").nth(1).expect("a first paragraph");
    assert!(
        paragraph.contains("plan") && paragraph.contains("wall"),
        "the job comes first"
    );
    assert!(
        page.contains("\ncargo run --release -- review examples/"),
        "one command does the main job"
    );
    assert!(
        page.contains("\ncargo test"),
        "one command passes the tests"
    );
}
