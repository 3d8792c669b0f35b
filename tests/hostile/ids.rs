//! Ids that nobody can type, or that look like something else: each is a name like another or a mistake, and every line of what is
//! said of it can be shown.

use std::path::Path;

use nailplate::plan;
use nailplate::yaml::Sources;

use super::Disk;

/// As they stand in a plan, and whether they may be ids.
const IDS: &[(&str, bool)] = &[
    ("\"\\u202e\\u202dleft\"", false),
    ("\"a\u{202e}tfel\"", false),
    ("\"\\u2066x\\u2069\"", false),
    ("\"\u{61c}x\"", false),
    ("\"a\\u200bb\"", false),
    ("a\u{200b}b", false),
    ("\"a\\u00adb\"", false),
    ("\"\\u3164\"", false),
    ("\"\\U000E0041\"", false),
    ("\"\\0\"", false),
    ("\"a\\0b\"", false),
    ("\"\\a\\b\\e[31m\"", false),
    ("\"a\\nb\"", false),
    ("\"a\\r\\n::error::b\"", false),
    ("\"\\N\\_\\L\\P\"", false),
    ("\"\\x7f\"", false),
    ("\"\\ufeffa\"", false),
    ("\"\"", false),
    ("\"e\\u0301\"", true),
    ("é", true),
    ("e\u{301}\u{301}\u{301}\u{301}\u{301}\u{301}", true),
    ("\u{301}", true),
    ("😀", true),
    ("\"\\ud83d\\ude00\"", true),
    ("\"\\U0001F600\"", true),
    ("👩‍👩‍👧", false),
    ("\"\\uffff\"", true),
    ("\"\\uE000\"", true),
    ("日本語", true),
    ("العربية", true),
    ("\"--as\"", true),
    ("\"=1+1\"", true),
    ("\"<script>alert(1)</script>\"", true),
    ("\"](http://x) **b** `c` | d\"", true),
    ("\"../../etc/passwd\"", true),
    ("\"' OR 1=1; --\"", true),
    ("\"%s%n%x\"", true),
    ("\"${HOME}\"", true),
    ("\"&amp;&#0;\"", true),
    ("yes", true),
    ("~", true),
    ("null", true),
    (".nan", true),
    ("1e3", true),
    ("0x10", true),
    ("\"#\"", true),
    ("\": \"", true),
    ("\" \"", true),
];

/// A plan in which a thing of every sort has such an id, and is named by it.
fn text(id: &str) -> String {
    format!(
        "nailplate: 1\nregion: us\nrooms:\n  {id}: {{size: [9 ft, 9 ft, 9 ft], origin: [0 ft, 0 ft, 0 ft]}}\n\
         stock:\n  {id}: {{for: speaker, cores: 2 x 18 AWG, rating: CL2, diameter: 0.2 in}}\npathways:\n  {id}: {{kind: conduit, make: ENT, size: 1/2}}\n\
         endpoints:\n  rack: {{kind: rack}}\n  {id}: {{kind: speaker, impedance: 4 ohm, room: {id}}}\nrnus: {{}}\n\
         runs:\n  S1: {{from: rack, to: {id}, stock: {id}, length: 90 ft, through: [{id}], beside: [{{run: {id}}}]}}\n"
    )
}

pub fn texts() -> Vec<String> {
    let long = format!("\"{}\"", "x".repeat(100_000));
    let wide = format!("\"{}\"", "\u{301}".repeat(10_000));
    let ids = IDS
        .iter()
        .map(|(id, _)| *id)
        .chain([long.as_str(), wide.as_str()]);
    ids.map(text).collect()
}

#[test]
fn each_is_a_name_or_a_mistake() {
    let mut wrong = String::new();
    for (id, sound) in IDS {
        let mut sources = Sources::default();
        let text = text(id);
        let (file, read) = sources.add(Path::new("ids.plan.yaml"), text.clone());
        if let Err(broken) = read {
            wrong += &format!("\n{id} is no YAML: {}", broken.reason);
            continue;
        }
        let (_, findings) = plan::read(&mut sources, file, &Disk);
        let bad = findings.iter().any(|found| {
            let (spot, _) = sources.spots(found.marks[0].span);
            found.rule == "plan.unreadable" && sources.slice(spot) == *id
        });
        let said: Vec<_> = findings
            .iter()
            .map(|found| (found.rule, &found.says))
            .collect();
        if bad == *sound {
            wrong += &format!(
                "\n{id:?} should be {}: {said:?}",
                if *sound { "a name" } else { "a mistake" }
            );
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
}

/// Escapes of half a character: no YAML, and said to be none.
#[test]
fn halves_of_characters() {
    for id in [
        "\"\\ud800\"",
        "\"\\udc00\"",
        "\"\\ude00\\ud83d\"",
        "\"\\ud83dx\"",
        "\"\\U00110000\"",
        "\"\\Uffffffff\"",
        "\"\\xd8\\x00",
        "\"\\u12\"",
        "\"\\q\"",
    ] {
        let (_, read) = Sources::default().add(Path::new("ids.plan.yaml"), text(id));
        let broken = read.expect_err(id);
        assert!(
            !broken.reason.is_empty() && !broken.reason.contains(char::is_control),
            "{id}: {}",
            broken.reason
        );
    }
}
