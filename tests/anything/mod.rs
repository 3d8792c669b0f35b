//! Texts that may be anything: what fuzzers found (`tests/fuzz/found`), and some that they start from.

pub mod drive;

use std::path::Path;
use std::{fs, panic};

use nailplate::rules::all_sheets;

/// What is done with a text.
type Drive = fn(&[u8]);

/// The drives, by the names that their fuzzers have.
const DRIVES: [(&str, Drive); 4] = [
    ("reading", drive::reading::drive),
    ("review", drive::review::drive),
    ("redline", drive::redline::drive),
    ("settings", drive::settings::drive),
];

#[test]
fn what_fuzzers_found_is_found_no_more() {
    for (name, drive) in DRIVES {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("tests/fuzz/found")
            .join(name);
        // A fuzzer that has found nothing has no folder.
        for entry in fs::read_dir(folder).into_iter().flatten() {
            let path = entry.expect("the folder can be read").path();
            let bytes = fs::read(&path).expect("it can be read");
            let ended = panic::catch_unwind(|| drive(&bytes));
            assert!(ended.is_ok(), "{}", path.display());
        }
    }
}

/// A house with its catalogue, as the fuzzers have it.
fn house(name: &str) -> String {
    let read = |name: &str| {
        let path = Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("examples")
            .join(name);
        fs::read_to_string(path).expect("the example is there")
    };
    format!("{}#> stock.yaml\n{}", read(name), read("stock.yaml"))
}

#[test]
fn drives_hold_for_the_shipped_houses() {
    for name in ["kestrel-row", "heron-mill", "tern-quay"] {
        let text = house(&format!("{name}-submitted.plan.yaml"));
        let parts = drive::parts::Parts::of(&text);
        let review = drive::reviewed(parts.first, &parts).expect("it is YAML");
        assert!(review.sources.files().count() == 2, "the catalogue is read");
        for (_, drive) in &DRIVES[..3] {
            drive(text.as_bytes());
        }
    }
}

#[test]
fn drives_hold_for_examples_of_sheets_and_for_sheets_of_a_firm() {
    for (index, sheet) in all_sheets().enumerate() {
        let (name, drive) = DRIVES[index % DRIVES.len()];
        let whole = sheet.whole().expect("whole");
        let text = if name == "settings" {
            let path = sheet.path.trim_start_matches("rules/");
            let own = "nailplate: 1\nrulebook: firm\n";
            format!("{own}#> firm/{path}\n{}", sheet.text())
        } else {
            whole.wrong
        };
        drive(text.as_bytes());
    }
}
