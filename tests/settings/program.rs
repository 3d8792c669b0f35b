//! Settings as the program finds them.

use std::fs;
use std::path::Path;

use assert_cmd::Command;
use serde_json::Value;
use tempfile::TempDir;

use super::PLAN;

pub fn folder(files: &[(&str, &str)]) -> TempDir {
    let folder = TempDir::new().expect("a temporary folder");
    for (name, text) in files {
        let path = folder.path().join(name);
        fs::create_dir_all(path.parent().expect("a folder")).expect("made");
        fs::write(path, text).expect("written");
    }
    folder
}

pub struct Ran {
    pub status: Option<i32>,
    pub out: String,
    pub err: String,
}

pub fn run(folder: &Path, arguments: &[&str], input: &str) -> Ran {
    let output = Command::cargo_bin("nailplate")
        .expect("built")
        .current_dir(folder)
        .args(arguments)
        .env("COLUMNS", "120")
        .write_stdin(input)
        .output()
        .expect("ran");
    let text = |bytes| String::from_utf8(bytes).expect("UTF-8");
    Ran {
        status: output.status.code(),
        out: text(output.stdout),
        err: text(output.stderr),
    }
}

pub fn lines(folder: &Path, arguments: &[&str]) -> Vec<String> {
    let arguments = [&["review", "--as", "lines"], arguments].concat();
    let ran = run(folder, &arguments, "");
    ran.out
        .lines()
        .filter(|line| line.contains("(speaker.undersized)"))
        .map(str::to_owned)
        .collect()
}

const SET: &str = "nailplate: 1\nrules: {speaker.undersized: {level: advice}}\n";
const RAISED: &str = "nailplate: 1\nrules: {speaker.undersized: {level: hazard}}\n";

#[test]
fn the_nearest_settings_count() {
    let folder = folder(&[
        ("nailplate.yaml", SET),
        ("a/b/one.plan.yaml", PLAN),
        ("a/c/nailplate.yaml", RAISED),
        ("a/c/d/two.plan.yaml", PLAN),
        // The root of a repository: what lies above is not of it.
        ("e/.git", ""),
        ("e/f/three.plan.yaml", PLAN),
        ("four.plan.yaml", PLAN),
        ("yml/nailplate.yml", RAISED),
        ("yml/five.plan.yaml", PLAN),
    ]);
    let level = |at: &Path, plan: &str| {
        let found = lines(at, &[plan]);
        assert_eq!(found.len(), 1, "{plan}");
        let words: Vec<_> = found[0].split(": ").collect();
        words[1].to_owned()
    };
    let here = folder.path();
    for (plan, expected) in [
        ("a/b/one.plan.yaml", "advice"),
        ("a/c/d/two.plan.yaml", "hazard"),
        ("e/f/three.plan.yaml", "fault"),
        ("four.plan.yaml", "advice"),
        ("./four.plan.yaml", "advice"),
        ("a/../four.plan.yaml", "advice"),
        ("yml/five.plan.yaml", "hazard"),
    ] {
        assert_eq!(level(here, plan), expected, "{plan}");
    }
    assert_eq!(level(&here.join("a/c"), "../b/one.plan.yaml"), "advice");
    // Standard input goes by the current folder.
    let piped = run(&here.join("a/c/d"), &["review", "--as", "lines", "-"], PLAN);
    assert!(piped.out.contains(": hazard: S1: "), "{}", piped.out);
}

#[test]
fn a_sheet_that_judges_less_than_the_built_in_one_is_told() {
    let sheet = include_str!("../../rules/data/rack-lines-few.yaml").replacen(
        "level: advice\n",
        "level: advice\nfrom-stage: close-in\nregions: [us]\n",
        1,
    );
    let folder = folder(&[
        ("nailplate.yaml", "nailplate: 1\nrulebook: own\n"),
        ("own/data/rack-lines-few.yaml", &sheet),
        ("a.plan.yaml", PLAN),
    ]);
    let text = run(folder.path(), &["review", "a.plan.yaml"], "").out;
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    for expected in [
        "regions: data.rack-lines-few is judged in us, built in is judged in every region (own/data/rack-lines-few.yaml:5)",
        "from stage: data.rack-lines-few is judged from the stage close-in on, built in is judged at every stage (own/data/rack-lines-few.yaml:4)",
    ] {
        assert!(text.contains(expected), "{expected}\n{text}");
    }
}

#[test]
fn what_departs_is_told_at_the_end_in_every_form() {
    let folder = folder(&[
        (
            "nailplate.yaml",
            "nailplate: 1\nrules:\n  fire.underrated: {not-adopted: judged by hand}\n  speaker.undersized:\n    limits: {share-of-load: {value: 6 %, authority: our manual}}\n",
        ),
        ("jobs/a.plan.yaml", PLAN),
    ]);
    let jobs = folder.path().join("jobs");
    let text = run(&jobs, &["review", "a.plan.yaml"], "").out;
    for expected in [
        "THE RULEBOOK is not the built-in one in this:\n  not adopted: fire.underrated (hazard): judged by hand (../nailplate.yaml:3)\n",
        "  limit: share-of-load of speaker.undersized is 6 %, built in is 5 %; authority: our manual (../nailplate.yaml:5)\n",
        "; 1 rule not adopted, or",
        "authority  our manual\n",
    ] {
        assert!(text.contains(expected), "{expected}\n{text}");
    }
    let short = run(&jobs, &["review", "--as", "lines", "a.plan.yaml"], "").out;
    assert!(
        short.ends_with("a.plan.yaml: rulebook: not adopted: fire.underrated (hazard): judged by hand (../nailplate.yaml:3)\n"),
        "{short}"
    );
    let letter = run(&jobs, &["review", "--as", "html", "a.plan.yaml"], "").out;
    assert!(
        letter
            .contains("fire.underrated (hazard): judged by hand (../nailplate.yaml, line 3)</li>")
    );
    let log = run(&jobs, &["review", "--as", "sarif", "a.plan.yaml"], "").out;
    let log: Value = serde_json::from_str(&log).expect("JSON");
    let told = &log["runs"][0]["artifacts"][0]["properties"]["departures"];
    assert_eq!(told.as_array().map(Vec::len), Some(2), "{told}");
    for form in ["json", "json-lines"] {
        let ran = run(&jobs, &["review", "--as", form, "a.plan.yaml"], "");
        let document: Value = serde_json::from_str(&ran.out).expect("JSON");
        let file = document.get("files").map_or(&document, |files| &files[0]);
        let rulebook = &file["rulebook"];
        assert_eq!(rulebook["settings"], "../nailplate.yaml");
        let first = &rulebook["departures"][0];
        assert_eq!(first["what"], "not adopted");
        assert_eq!(first["may_hide_hazard"], true);
        assert_eq!(
            (&first["path"], &first["line"]),
            (&"../nailplate.yaml".into(), &3.into())
        );
        let second = &rulebook["departures"][1];
        assert_eq!(second["authority"], "our manual");
        assert_eq!(
            (&second["from"], &second["to"]),
            (&"5 %".into(), &"6 %".into())
        );
        if form == "json" {
            let schema = run(&jobs, &["schema", "review"], "").out;
            let schema: Value = serde_json::from_str(&schema).expect("JSON");
            let validator = jsonschema::draft202012::new(&schema).expect("a schema");
            validator.validate(&document).expect("it is in its schema");
        }
    }
}

/// However many plans go by it, and whatever the holding level; the plans are judged all the same.
#[test]
fn a_mistake_is_told_once_and_holds_everything_up() {
    let folder = folder(&[
        ("nailplate.yaml", "nailplate: 1\nhold: grave\n"),
        ("a/one.plan.yaml", "nailplate: 1\nregion: us\n"),
        ("b/two.plan.yaml", "nailplate: 1\nregion: us\n"),
        ("b/three.plan.yaml", "nailplate: 1\nregion: us\n"),
    ]);
    for hands in ["1", "3"] {
        let arguments = ["review", "--hold", "hazard", "--hands", hands, "."];
        let ran = run(folder.path(), &arguments, "");
        assert_eq!(ran.status, Some(1), "{}", ran.err);
        assert_eq!(
            ran.out.matches("plan.unknown-word").count(),
            1,
            "{}",
            ran.out
        );
        assert!(
            ran.out
                .starts_with("nailplate.yaml:2:7  FAULT  plan.unknown-word\n")
        );
        assert_eq!(ran.out.matches("no check lacked a figure").count(), 3);
    }
    let json = run(folder.path(), &["review", "--as", "json", "."], "").out;
    let document: Value = serde_json::from_str(&json).expect("JSON");
    assert_eq!(document["files"][0]["path"], "nailplate.yaml");
    assert_eq!(
        document["files"][0]["findings"][0]["rule"],
        "plan.unknown-word"
    );
    assert_eq!(document["files"].as_array().map(Vec::len), Some(4));
    let letters = run(folder.path(), &["review", "--as", "html", "."], "").out;
    let kind = "Mistakes in a firm's settings";
    assert_eq!(letters.matches(kind).count(), 1, "{letters}");
    for (verb, status) in [("figures", 1), ("redline", 1)] {
        let ran = run(folder.path(), &[verb, "."], "");
        assert_eq!(ran.status, Some(status), "{verb}");
        assert_eq!(
            ran.err.matches("1 mistake in the settings").count(),
            1,
            "{}",
            ran.err
        );
    }
}

/// Nothing is judged by settings of which nothing is known, and that is told once.
#[test]
fn settings_that_cannot_be_used_are_status_2() {
    let folder = folder(&[
        ("bad/nailplate.yaml", "nailplate: 1\nrules: [\n"),
        ("bad/one.plan.yaml", PLAN),
        ("bad/more/two.plan.yaml", PLAN),
        ("both/nailplate.yaml", SET),
        ("both/nailplate.yml", SET),
        ("both/three.plan.yaml", PLAN),
        ("folder/nailplate.yaml/x", ""),
        ("folder/four.plan.yaml", PLAN),
        ("good/five.plan.yaml", PLAN),
    ]);
    for verb in ["review", "figures", "redline"] {
        let ran = run(folder.path(), &[verb, "."], "");
        assert_eq!(ran.status, Some(2), "{verb}");
        assert_eq!(
            ran.err.matches("bad/nailplate.yaml:").count(),
            1,
            "{}",
            ran.err
        );
        assert!(
            ran.err
                .contains("both/nailplate.yaml: nailplate.yml lies beside it"),
            "{}",
            ran.err
        );
        assert!(
            ran.err.contains("folder/nailplate.yaml: this is a folder"),
            "{}",
            ran.err
        );
        assert!(!ran.out.contains("one.plan.yaml") && !ran.out.contains("four.plan.yaml"));
    }
    let letters = run(folder.path(), &["review", "--as", "html", "."], "").out;
    assert_eq!(
        letters.matches("No letter: bad/nailplate.yaml:").count(),
        2,
        "{letters}"
    );
    assert!(
        run(folder.path(), &["review", "."], "")
            .out
            .contains("good/five.plan.yaml")
    );
}

#[test]
fn the_holding_level_of_the_command_line_goes_first() {
    let folder = folder(&[
        (
            "strict/nailplate.yaml",
            "nailplate: 1\nhold: advice\nrules: {speaker.undersized: {level: advice}}\n",
        ),
        ("strict/a.plan.yaml", PLAN),
        ("loose/nailplate.yaml", "nailplate: 1\nhold: hazard\n"),
        ("loose/b.plan.yaml", PLAN),
    ]);
    for (arguments, status) in [
        (&["review", "strict"][..], 1),
        (&["review", "--hold", "hazard", "strict"], 0),
        (&["review", "loose"], 0),
        (&["review", "--hold", "fault", "loose"], 1),
        (&["review", "loose", "strict"], 1),
    ] {
        assert_eq!(
            run(folder.path(), arguments, "").status,
            Some(status),
            "{arguments:?}"
        );
    }
}

#[test]
fn the_words_of_a_firms_sheet_are_shown_for_its_plans_alone() {
    let own = super::sheets::restated(
        super::UNDERSIZED,
        "put-right: >\n",
        "put-right: >\n  Ask Wren.\n",
    );
    let folder = folder(&[
        ("a/nailplate.yaml", "nailplate: 1\nrulebook: firm\n"),
        (
            "a/firm/speaker/undersized.yaml",
            &own.replace("why: >\n", "why: >\n  We say so.\n"),
        ),
        ("a/one.plan.yaml", PLAN),
        ("b/two.plan.yaml", PLAN),
        ("c/three.plan.yaml", PLAN),
    ]);
    for hands in ["1", "2"] {
        let out = run(
            folder.path(),
            &["review", "--hands", hands, "b", "a", "c"],
            "",
        )
        .out;
        assert_eq!(out.matches("why        We say so.").count(), 1, "{out}");
        let (before, behind) = out.split_once("We say so.").expect("once");
        assert!(before.contains("b/two.plan.yaml") && behind.contains("c/three.plan.yaml"));
    }
}

/// Slips in settings are redlined like those in plans.
#[test]
fn redline_mends_settings() {
    let folder = folder(&[
        ("nailplate.yaml", "nailplate: 1\nhodl: advice # so far\n"),
        ("a.plan.yaml", "nailplate: 1\nregion: us\n"),
    ]);
    let shown = run(folder.path(), &["redline", "a.plan.yaml"], "");
    assert!(
        shown
            .out
            .contains("-hodl: advice # so far\n+hold: advice # so far\n"),
        "{}",
        shown.out
    );
    let inked = run(folder.path(), &["redline", "--ink", "a.plan.yaml"], "");
    assert!(
        inked.out.contains("nailplate.yaml: written"),
        "{} {}",
        inked.out,
        inked.err
    );
    let text = fs::read_to_string(folder.path().join("nailplate.yaml")).expect("read");
    assert_eq!(text, "nailplate: 1\nhold: advice # so far\n");
    assert_eq!(
        run(folder.path(), &["redline", "a.plan.yaml"], "").status,
        Some(0)
    );
}

/// What a rule that is not adopted cannot find again has not been put right.
#[test]
fn a_punch_list_keeps_what_is_no_longer_judged() {
    let folder = folder(&[("a.plan.yaml", PLAN)]);
    assert_eq!(run(folder.path(), &["punchlist", "."], "").status, Some(0));
    let list =
        || fs::read_to_string(folder.path().join("nailplate.punchlist.yaml")).expect("a list");
    let before = list();
    assert!(before.contains(super::UNDERSIZED), "{before}");
    let text = "nailplate: 1\nrules: {speaker.undersized: {not-adopted: measured on site}}\n";
    fs::write(folder.path().join("nailplate.yaml"), text).expect("written");
    let closed = run(folder.path(), &["punchlist", "--close-out", "."], "");
    assert_eq!(list(), before, "{}", closed.out);
    let out = run(folder.path(), &["review", "a.plan.yaml"], "").out;
    assert!(out.contains("a rulebook that adopts its rule"), "{out}");
}
