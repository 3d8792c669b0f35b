//! Pairs every sheet under `rules/` with its function under `src/rules/` and writes the table of
//! rules and the names of their tests. Uses nothing but the standard library.

use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::{env, fs};

/// Folders under `rules/` whose files are no rules: tables of numbers, and the sheets of the
/// mistakes that reading a plan (judged in `src/plan/`) or settings (in `src/settings/`) reports.
const TABLES: &str = "tables";
const READING: &str = "reading";
const SETTINGS: &str = "settings";

fn main() {
    let root = PathBuf::from(env::var_os("CARGO_MANIFEST_DIR").expect("cargo sets it"));
    let out = PathBuf::from(env::var_os("OUT_DIR").expect("cargo sets it"));
    println!("cargo::rerun-if-changed=rules");
    println!("cargo::rerun-if-changed=src/rules");

    let sheets = files(&root.join("rules"), "yaml");
    let functions = files(&root.join("src/rules"), "rs");
    let judged: BTreeSet<_> = sheets
        .iter()
        .filter(|(area, _)| ![TABLES, READING, SETTINGS].contains(&&**area))
        .cloned()
        .collect();
    let mut lone = String::new();
    for (area, name) in judged.difference(&functions) {
        let _ = writeln!(
            lone,
            "rules/{area}/{name}.yaml has no src/rules/{area}/{name}.rs"
        );
    }
    for (area, name) in functions.difference(&judged) {
        let _ = writeln!(
            lone,
            "src/rules/{area}/{name}.rs has no rules/{area}/{name}.yaml"
        );
    }
    assert!(lone.is_empty(), "a rule is two files:\n{lone}");

    let read = |(area, _): &&(String, String)| [READING, SETTINGS].contains(&&**area);
    let reading: Vec<_> = sheets.iter().filter(read).collect();
    fs::write(out.join("rulebook.rs"), rulebook(&root, &judged, &reading))
        .expect("OUT_DIR is writable");
    fs::write(out.join("rule_tests.rs"), tests(&judged, &reading)).expect("OUT_DIR is writable");
}

/// Area and name of every file with an extension, one folder down.
fn files(folder: &Path, extension: &str) -> BTreeSet<(String, String)> {
    let mut found = BTreeSet::new();
    let Ok(areas) = fs::read_dir(folder) else {
        return found;
    };
    for area in areas.flatten().filter(|entry| entry.path().is_dir()) {
        let area_name = area.file_name().to_string_lossy().into_owned();
        for file in fs::read_dir(area.path()).into_iter().flatten().flatten() {
            let path = file.path();
            let stem = path
                .file_stem()
                .map(|stem| stem.to_string_lossy().into_owned());
            if let Some(stem) = stem
                && path.extension().is_some_and(|found| found == extension)
            {
                found.insert((area_name.clone(), stem));
            }
        }
    }
    found
}

fn module(name: &str) -> String {
    name.replace('-', "_")
}

fn rulebook(
    root: &Path,
    rules: &BTreeSet<(String, String)>,
    reading: &[&(String, String)],
) -> String {
    let mut text = String::new();
    let areas: BTreeSet<_> = rules.iter().map(|(area, _)| area).collect();
    for area in areas {
        let _ = writeln!(text, "/// Rules of this area.\npub mod {} {{", module(area));
        for (_, name) in rules.iter().filter(|(of, _)| of == area) {
            let path = root.join(format!("src/rules/{area}/{name}.rs"));
            let _ = writeln!(
                text,
                "    #[path = {:?}]\n    pub mod {};",
                path.display().to_string(),
                module(name)
            );
        }
        text.push_str("}\n");
    }
    // In the order of their ids, which is not quite that of their paths.
    let mut ids: Vec<_> = rules
        .iter()
        .map(|(area, name)| (format!("{area}.{name}"), area, name))
        .collect();
    ids.sort();
    text.push_str("/// Every rule, in the order of its id.\npub static RULES: &[Rule] = &[\n");
    for (id, area, name) in ids {
        let path = format!("rules/{area}/{name}.yaml");
        let code = format!("{}::{}", module(area), module(name));
        let read = |path: String| fs::read_to_string(root.join(path)).unwrap_or_default();
        // One too many does no harm: a change of the rule is then told with those that may hide a hazard.
        let hazards = read(path.clone()).contains("level: hazard")
            || read(format!("src/rules/{area}/{name}.rs")).contains("Level::Hazard");
        let _ = writeln!(
            text,
            "    Rule {{ id: {id:?}, path: {path:?}, sheet: include_str!({:?}), hazards: {hazards}, judge: {code}::judge, decode: |sheet| sheet.decode::<{code}::Limits>().map(drop) }},",
            root.join(&path).display().to_string()
        );
    }
    text.push_str("];\n/// Sheets of the mistakes that reading reports.\npub static READING: &[ReadingSheet] = &[\n");
    for (area, name) in reading {
        let path = format!("rules/{area}/{name}.yaml");
        let _ = writeln!(
            text,
            "    ReadingSheet {{ id: {:?}, path: {path:?}, sheet: include_str!({:?}) }},",
            mistake(area, name),
            root.join(&path).display().to_string()
        );
    }
    text.push_str("];\n");
    text
}

/// What a mistake is called: those of a plan are of the area `plan`.
fn mistake(area: &str, name: &str) -> String {
    let area = if area == READING { "plan" } else { area };
    format!("{area}.{name}")
}

fn tests(rules: &BTreeSet<(String, String)>, reading: &[&(String, String)]) -> String {
    let mut text = String::new();
    for (area, name) in rules {
        let _ = writeln!(
            text,
            "#[test]\nfn {}_{}() {{\n    trial({:?});\n}}",
            module(area),
            module(name),
            format!("{area}.{name}")
        );
    }
    for (area, name) in reading {
        let _ = writeln!(
            text,
            "#[test]\nfn {area}_{}() {{\n    trial({:?});\n}}",
            module(name),
            mistake(area, name)
        );
    }
    text
}
