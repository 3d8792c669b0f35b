//! Plans and what programs that are not ours answer to them, from `stored/`. The scripts beside this file say where each answer
//! comes from, and `.ci/run` has them ask again; `common.py` says what a line of a stored file means.

use std::collections::HashMap;
use std::fs;
use std::path::Path;
use std::process::Command;

use serde_json::Value;

/// One plan, and its answers as key, value, and greatest deviation in parts of one.
struct Case {
    name: String,
    plan: String,
    answers: Vec<(String, String, f64)>,
}

fn answer(line: &str) -> Option<(String, String, f64)> {
    let (key, rest) = line.split_once(" = ")?;
    let (value, rest) = rest.split_once(" within ")?;
    let within = rest.split_once(" # ").map_or(rest, |(within, _)| within);
    Some((key.to_owned(), value.to_owned(), within.parse().ok()?))
}

fn stored(oracle: &str) -> Vec<Case> {
    let path =
        Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("tests/oracles/stored/{oracle}.txt"));
    let text = fs::read_to_string(path).expect("answers on file");
    let text = format!("\n{text}");
    let blocks = text.split("\n== ").skip(1);
    let cases = blocks.map(|block| {
        let (name, rest) = block.split_once('\n').expect("a name");
        let (plan, answers) = rest.split_once("\n-- answers\n").expect("answers");
        let read = |line| answer(line).unwrap_or_else(|| panic!("{oracle}, {name}: {line}"));
        Case {
            name: name.to_owned(),
            plan: format!("{plan}\n"),
            answers: answers
                .lines()
                .filter(|line| !line.is_empty())
                .map(read)
                .collect(),
        }
    });
    cases.collect()
}

/// What a verb prints of each plan in a folder, in the order of their names.
fn printed(verb: &str, folder: &Path) -> Vec<Value> {
    let done = Command::new(env!("CARGO_BIN_EXE_nailplate"))
        .args([verb, "--as", "json"])
        .arg(folder)
        .output()
        .expect("the program runs");
    let mut document: Value = serde_json::from_slice(&done.stdout).expect("it prints JSON");
    let Value::Array(files) = document["files"].take() else {
        panic!("{verb} gives a list of files");
    };
    files
}

fn list<'a>(of: &'a Value, key: &str) -> &'a [Value] {
    of[key].as_array().expect("a list")
}

fn words(of: &Value, key: &str) -> Vec<String> {
    let words = list(of, key).iter();
    words
        .map(|word| word.as_str().expect("a text").to_owned())
        .collect()
}

/// A plan's figures by the key that a stored file asks by.
fn figures(file: &Value) -> HashMap<String, f64> {
    let keyed = list(file, "figures").iter().map(|figure| {
        let mut on = words(figure, "on");
        on.sort();
        let text = |key: &str| figure[key].as_str().expect("a text");
        let key = format!(
            "figure {} {} {}",
            text("figure"),
            on.join(","),
            text("unit")
        );
        (key, figure["value"].as_f64().expect("a number"))
    });
    keyed.collect()
}

/// What the program says to a question about findings.
fn found(key: &str, review: &Value) -> String {
    let mut question = key.split(' ');
    let kind = question.next().expect("a kind of question");
    let rule = question.next().expect("a rule");
    let findings = list(review, "findings")
        .iter()
        .map(|f| (f["rule"].as_str().expect("a rule"), words(f, "on")));
    let yes = |any: bool| if any { "yes" } else { "no" }.to_owned();
    match (kind, question.next()) {
        ("finding", Some(id)) => yes(findings
            .into_iter()
            .any(|(of, on)| of == rule && on.iter().any(|one| one == id))),
        ("findings", None) => findings.filter(|(of, _)| *of == rule).count().to_string(),
        ("some", None) => yes(findings.into_iter().any(|(of, _)| of.starts_with(rule))),
        _ => panic!("{key}: no such question"),
    }
}

fn agrees(oracle: &str) {
    let cases = stored(oracle);
    let folder = tempfile::tempdir().expect("a folder");
    for (number, case) in cases.iter().enumerate() {
        let path = folder.path().join(format!("{number:05}.plan.yaml"));
        fs::write(path, &case.plan).expect("a plan is written");
    }
    let (known, reviews) = (
        printed("figures", folder.path()),
        printed("review", folder.path()),
    );
    assert_eq!(
        (known.len(), reviews.len()),
        (cases.len(), cases.len()),
        "{oracle}"
    );
    let (mut asked, mut wrong) = (0, String::new());
    for (case, (known, review)) in cases.iter().zip(known.iter().zip(&reviews)) {
        let known = figures(known);
        for (key, value, within) in &case.answers {
            asked += 1;
            let (said, agreed) = if key.starts_with("figure ") {
                let expected: f64 = value.parse().expect("a number");
                let figure = known.get(key).copied();
                let near =
                    |figure: f64| (figure - expected).abs() <= within * expected.abs().max(1e-12);
                (format!("{figure:?}"), figure.is_some_and(near))
            } else {
                let said = found(key, review);
                let agreed = said == *value;
                (said, agreed)
            };
            if !agreed {
                wrong += &format!("\n{}: {key} is {said}, {oracle} says {value}", case.name);
            }
        }
    }
    assert!(asked > 0 && wrong.is_empty(), "{asked} asked{wrong}");
}

#[test]
fn a_circuit_simulator_agrees() {
    agrees("circuits");
}

#[test]
fn a_list_of_video_timings_agrees() {
    agrees("timings");
}

#[test]
fn a_graph_library_agrees() {
    agrees("graphs");
}

#[test]
fn a_power_flow_library_agrees() {
    agrees("feeder");
}

#[test]
fn a_schema_validator_agrees() {
    agrees("schemas");
}

#[test]
fn the_recommendation_of_loudspeakers_agrees() {
    agrees("loudspeakers");
}
