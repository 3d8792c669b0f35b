//! The same faults as the built program tells them: lines and columns, reckoned here by hand, and the exit status.

use std::fs;

use assert_cmd::Command;
use serde_json::Value;
use tempfile::TempDir;

use super::fault::{PLANTINGS, Planting};
use super::trial::{place, plan_of, plant};

/// Line and column from 1, the column in characters.
type Position = (u64, u64);

fn position(text: &str, byte: usize) -> Position {
    let before = &text[..byte];
    let line = before.split('\n').count();
    let column = before
        .rsplit('\n')
        .next()
        .map_or(0, |last| last.chars().count())
        + 1;
    (line as u64, column as u64)
}

/// A fault written into a folder, and what the program has to say of it.
struct Written<'p> {
    planting: &'p Planting,
    path: String,
    from: Position,
    to: Position,
}

fn write<'p>(folder: &TempDir, number: usize, planting: &'p Planting) -> Written<'p> {
    let files = plant(&[planting]).expect("its edits stand alone");
    let (spot, bytes) = place(planting, &files).expect("it has a place");
    let own = folder.path().join(format!("{number:04}"));
    fs::create_dir(&own).expect("a new folder");
    for (name, grown) in &files {
        fs::write(own.join(name), &grown.text).expect("a file can be written");
    }
    let text = &files[&spot.file].text;
    let path = format!("{number:04}/{}", spot.file);
    Written {
        planting,
        path,
        from: position(text, bytes.start),
        to: position(text, bytes.end),
    }
}

fn is_told(written: &Written<'_>, finding: &Value) -> bool {
    let of = |place: &Value| {
        (
            place["line"].as_u64().expect("a line"),
            place["column"].as_u64().expect("a column"),
        )
    };
    let place = &finding["places"][0];
    let on = finding["on"].as_array().expect("things concerned");
    let planting = written.planting;
    finding["rule"] == planting.rule.as_str()
        && planting
            .on
            .iter()
            .zip(on)
            .all(|(own, told)| told == own.as_str())
        && place["path"]
            .as_str()
            .is_some_and(|path| path.ends_with(&written.path))
        && written.from <= of(&place["from"])
        && of(&place["to"]) <= written.to
}

#[test]
fn the_program_tells_line_and_column() {
    let folder = TempDir::new().expect("a temporary folder");
    let written: Vec<_> = PLANTINGS
        .iter()
        .enumerate()
        .map(|(number, planting)| write(&folder, number, planting))
        .collect();
    let mut program = Command::cargo_bin("nailplate").expect("built");
    program.current_dir(folder.path()).args([
        "review",
        "--as",
        "json",
        "--hold",
        "advice",
        "--dated",
        "2026-11-25",
        ".",
    ]);
    let ran = program.output().expect("it runs");
    assert_eq!(
        ran.status.code(),
        Some(1),
        "{}",
        String::from_utf8_lossy(&ran.stderr)
    );
    let told: Value = serde_json::from_slice(&ran.stdout).expect("it writes JSON");
    let files = told["files"].as_array().expect("plans");
    assert_eq!(files.len(), written.len(), "a plan each");
    for (written, file) in written.iter().zip(files) {
        let plan = plan_of(written.planting.house);
        assert!(
            file["path"]
                .as_str()
                .is_some_and(|path| path.ends_with(&plan)),
            "{}",
            file["path"]
        );
        let findings = file["findings"].as_array().expect("findings");
        assert!(
            findings.iter().any(|finding| is_told(written, finding)),
            "{} is not told between {:?} and {:?}",
            written.planting.name(),
            written.from,
            written.to
        );
    }
}
