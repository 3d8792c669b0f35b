//! The source tree itself: floors, length of files, words, authorities.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use nailplate::plan::MISTAKES;
use nailplate::rules::all_sheets;
use nailplate::settings;
use regex::Regex;

/// The longest file that needs no reason.
const LONGEST: usize = 400;

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Files of the tree below a folder, by their paths from the root, without what is built.
fn files(folder: &str) -> BTreeMap<String, String> {
    let mut open = vec![root().join(folder)];
    let mut found = BTreeMap::new();
    while let Some(folder) = open.pop() {
        for entry in fs::read_dir(&folder)
            .expect("the tree can be read")
            .flatten()
        {
            let path: PathBuf = entry.path();
            let name = entry.file_name().to_string_lossy().into_owned();
            if path.is_dir() && !matches!(name.as_str(), "target" | ".git") {
                open.push(path);
            } else if path.is_file()
                && name != "Cargo.lock"
                && let Ok(text) = fs::read_to_string(&path)
            {
                let from_root = path.strip_prefix(root()).expect("it is below the root");
                found.insert(from_root.to_string_lossy().replace('\\', "/"), text);
            }
        }
    }
    assert!(!found.is_empty(), "{folder} holds files");
    found
}

fn sources() -> BTreeMap<String, String> {
    let mut sources = files("src");
    sources.retain(|path, _| path.ends_with(".rs"));
    sources
}

/// The floors from the ground up, from the table in DEVELOPERS.md.
fn floors() -> Vec<String> {
    let page = fs::read_to_string(root().join("DEVELOPERS.md")).expect("the developers' page");
    let table = page
        .split_once("| floor |")
        .expect("it has the table of floors")
        .1;
    let rows = table
        .lines()
        .skip(2)
        .take_while(|line| line.starts_with('|'));
    rows.map(|row| {
        row.split('`')
            .nth(1)
            .expect("a floor's name")
            .trim_end_matches('/')
            .to_owned()
    })
    .collect()
}

/// Which part of the crate a source file belongs to.
fn part(path: &str) -> &str {
    let below = path.strip_prefix("src/").expect("it is a source");
    below
        .split('/')
        .next()
        .expect("it has a name")
        .trim_end_matches(".rs")
}

/// The parts of the crate that a text names: `crate::x`, and each of `crate::{x, y}`.
fn named(text: &str) -> Vec<String> {
    let code: String = text
        .lines()
        .filter(|line| !line.trim_start().starts_with("//"))
        .collect::<Vec<_>>()
        .join("\n");
    let single = Regex::new(r"\bcrate::([a-z_]+)").expect("fixed");
    let several = Regex::new(r"\bcrate::\{").expect("fixed");
    let mut named: Vec<_> = single
        .captures_iter(&code)
        .map(|found| found[1].to_owned())
        .collect();
    for start in several.find_iter(&code) {
        let (mut deep, mut item) = (0, String::new());
        for c in code[start.end()..].chars() {
            match c {
                '{' => deep += 1,
                '}' if deep == 0 => break,
                '}' => deep -= 1,
                ',' if deep == 0 => named.push(std::mem::take(&mut item)),
                _ if deep == 0 && !c.is_whitespace() => item.push(c),
                _ => {}
            }
        }
        named.push(item);
    }
    let parts = named
        .iter()
        .map(|name| name.split("::").next().unwrap_or("").to_owned());
    parts.filter(|name| !name.is_empty()).collect()
}

#[test]
fn a_file_imports_only_from_floors_below_its_own() {
    let floors = floors();
    let floor = |part: &str| floors.iter().position(|floor| floor == part);
    let mut wrong = String::new();
    for (path, text) in sources() {
        let own = part(&path);
        if matches!(own, "lib" | "main") {
            continue;
        }
        let Some(at) = floor(own) else {
            wrong += &format!("\n{path}: `{own}` is no floor in DEVELOPERS.md");
            continue;
        };
        for name in named(&text) {
            match floor(&name) {
                Some(other) if other <= at => {}
                Some(_) => {
                    wrong += &format!("\n{path}: `{own}` imports from `{name}`, which is above it")
                }
                None => wrong += &format!("\n{path}: `crate::{name}` is no floor in DEVELOPERS.md"),
            }
        }
    }
    for floor in &floors {
        assert!(
            root().join("src").join(floor).is_dir(),
            "DEVELOPERS.md names `{floor}`, which is not there"
        );
    }
    assert!(wrong.is_empty(), "{wrong}");
}

#[test]
fn imports_are_found_in_every_spelling() {
    let text = "use crate::units::Length;\nuse crate::{\n    yaml::{self, Span},\n    plan,\n};\nlet x = crate::house::go();\n// crate::cli\n";
    assert_eq!(named(text), ["units", "house", "yaml", "plan"]);
}

#[test]
fn rules_do_not_call_each_other_nor_read_files() {
    let other = Regex::new(r"crate::rules::([a-z_]+)::").expect("fixed");
    for (path, text) in sources() {
        if path.starts_with("src/rules/") && path.matches('/').count() > 2 {
            for word in ["std::fs", "std::io", "std::process", "std::env"] {
                assert!(!text.contains(word), "{path} uses {word}");
            }
            for found in other.captures_iter(&text) {
                assert!(
                    matches!(&found[1], "limit" | "sheet"),
                    "{path} calls the rule {}",
                    &found[0]
                );
            }
        }
    }
}

#[test]
fn files_are_short_or_say_why_not() {
    let code = sources().into_iter().chain(files("tests"));
    let mut long = String::new();
    for (path, text) in code.filter(|(path, _)| path.ends_with(".rs")) {
        let lines = text.lines().count();
        if lines > LONGEST && !text.contains("//! Long because ") {
            long += &format!("\n{path} has {lines} lines: split it, or say `//! Long because …`");
        }
    }
    assert!(long.is_empty(), "{long}");
}

#[test]
fn every_file_opens_with_what_it_is() {
    for (path, text) in sources()
        .into_iter()
        .filter(|(path, _)| path != "src/main.rs")
    {
        assert!(
            text.starts_with("//! "),
            "{path} opens with a line of `//!`"
        );
    }
}

/// Words that belong to known programs, or to nothing that the project may cite. Put together from
/// pieces, so that this file does not hold them itself.
#[test]
fn no_word_that_is_not_ours() {
    let words = [
        ["no", "qa"],
        ["no", "lint"],
        ["es", "lint"],
        ["--f", r"ix\b"],
        ["unsafe", "-fixes"],
        [r"\bwai", "ver"],
        ["trans", "cript"],
        ["seed ", "document"],
    ];
    let pattern = words.map(|pieces| pieces.concat()).join("|");
    let words = Regex::new(&format!("(?i){pattern}")).expect("fixed");
    for (path, text) in files(".") {
        for (number, line) in text.lines().enumerate() {
            assert!(!words.is_match(line), "{path}:{}: {line}", number + 1);
        }
        assert!(!words.is_match(&path), "{path}");
    }
}

#[test]
fn only_the_command_line_prints() {
    let prints = Regex::new(r"\b(e?print(ln)?|dbg)!").expect("fixed");
    for (path, text) in sources() {
        if part(&path) != "cli" {
            assert!(!prints.is_match(&text), "{path} prints");
        }
    }
}

#[test]
fn nothing_is_left_for_later() {
    let later = Regex::new(
        &[
            "\\b(to",
            "do|unimple",
            "mented)!|\\b(TO",
            "DO|FIX",
            "ME)\\b",
        ]
        .concat(),
    )
    .expect("fixed");
    for (path, text) in sources().into_iter().chain(files("rules")) {
        assert!(!later.is_match(&text), "{path} is not done");
    }
}

#[test]
fn every_number_has_its_authority() {
    for sheet in all_sheets() {
        assert!(
            !sheet.authority().is_empty(),
            "{} has no authority",
            sheet.path
        );
        assert!(
            !sheet.title().is_empty() && !sheet.why().is_empty() && !sheet.put_right().is_empty(),
            "{}",
            sheet.path
        );
    }
    let source = Regex::new(r"(?m)^ *([a-z-]+-)?source: *\S").expect("fixed");
    for (path, text) in files("rules/tables") {
        assert!(source.is_match(&text), "{path} names no source");
    }
}

/// Every mistake that the reader can report is in the list that the sheets are held against.
#[test]
fn every_mistake_is_listed() {
    let list = Regex::new(r"(?s)pub const MISTAKES: .*?\];").expect("fixed");
    for (floor, mistakes) in [("plan", MISTAKES), ("settings", settings::MISTAKES)] {
        let id = Regex::new(&format!(r#""({floor}\.[a-z-]+)""#)).expect("fixed");
        let mut reported = std::collections::BTreeSet::new();
        for (path, text) in sources() {
            if path.starts_with(&format!("src/{floor}/")) {
                let text = list.replace(&text, "");
                reported.extend(id.captures_iter(&text).map(|found| found[1].to_owned()));
            }
        }
        assert_eq!(
            reported,
            mistakes.iter().map(|id| (*id).to_owned()).collect()
        );
    }
}
