//! Each key with a row of values, sound and unsound: reader and schema agree on every one.

use std::path::Path;

use nailplate::plan::{
    Beside, Circuit, Document, Done, Endpoint, Framing, Key, Pathway, Record, Room, Run, Stock,
    Variance,
};
use nailplate::schema::Defs;

use super::{PLAN, SEEN, loaded, mistakes};

/// A record's keys; what stands in it besides the key that is tried; the plan around it.
type Place = (
    &'static str,
    &'static [Key],
    &'static [(&'static str, &'static str)],
    &'static str,
);

pub const PLACES: &[Place] = &[
    ("a room", Room::KEYS, &[], "rooms: {r: {HERE}}"),
    ("a stock", Stock::KEYS, &[], "stock: {r: {HERE}}"),
    ("a pathway", Pathway::KEYS, &[], "pathways: {r: {HERE}}"),
    (
        "framing",
        Framing::KEYS,
        &[],
        "pathways: {r: {framing: [{HERE}]}}",
    ),
    ("a circuit", Circuit::KEYS, &[], "circuits: {r: {HERE}}"),
    ("an endpoint", Endpoint::KEYS, &[], "endpoints: {r: {HERE}}"),
    (
        "a run",
        Run::KEYS,
        &[("from", "a"), ("to", "b")],
        "endpoints: {a: {}, b: {}}\nruns: {r: {HERE}}",
    ),
    (
        "beside",
        Beside::KEYS,
        &[("run", "r")],
        "endpoints: {a: {}, b: {}}\nruns: {r: {from: a, to: b}, s: {from: b, to: a, beside: {HERE}}}",
    ),
    (
        "done",
        Done::KEYS,
        &[],
        "endpoints: {a: {}, b: {}}\nruns: {r: {from: a, to: b, done: {HERE}}}",
    ),
    ("a variance", Variance::KEYS, &[], "variances: [{HERE}]"),
];

/// Plans that have one key of one record with one value.
pub fn plans(key_of: impl Fn(&Key) -> String, value: &str) -> Vec<(String, &'static Key, String)> {
    let mut out = Vec::new();
    for (what, keys, beside, plan) in PLACES {
        for key in *keys {
            let others = beside.iter().filter(|(other, _)| *other != key.name);
            let mut entries: Vec<_> = others.map(|(k, v)| format!("{k}: {v}")).collect();
            entries.push(format!("{}: {value}", key_of(key)));
            let body = plan.replace("HERE", &entries.join(", "));
            let text = format!("nailplate: 1\nregion: us\n{body}\n");
            out.push((format!("`{}` of {what}", key.name), key, text));
        }
    }
    for key in Document::KEYS {
        let others = ["nailplate: 1", "region: us"];
        let own = format!("{}:", key.name);
        let others: Vec<_> = others
            .iter()
            .filter(|other| !other.starts_with(&own))
            .collect();
        let others: String = others.iter().map(|other| format!("{other}\n")).collect();
        let text = format!("{others}{}: {value}\n", key_of(key));
        out.push((format!("`{}` of a plan", key.name), key, text));
    }
    out
}

/// Values as a plan has them: of every kind, of every dimension, and some that are none of them.
const VALUES: &[&str] = &[
    // None of any key's.
    "zzzzzz",
    "5 zz",
    "~",
    "\"\"",
    "\" \"",
    "[[]]",
    "[{}]",
    "{}",
    "{zz: 1}",
    "[~]",
    "- 5 ft",
    "5 ft ft",
    "5,5 ft",
    "1e ft",
    // Scalars that a loader may take for something else.
    "1",
    "\"1\"",
    "2",
    "+2",
    "0",
    "-5",
    "1.5",
    "\"1.5\"",
    ".5",
    "5.",
    "1/2",
    "1-1/4",
    "20000",
    "\"2 \"",
    "yes",
    "no",
    "true",
    "False",
    "YES",
    "on",
    "\"yes\"",
    "100",
    "\"100\"",
    "2026-11-02",
    "\"2026-11-02\"",
    "2026-11-2",
    // Quantities: right for some keys, of the wrong unit for others.
    "5 ft",
    "5ft",
    "-5 ft",
    "0 ft",
    "-0 ft",
    "0 ft 6 in",
    "8 ft 6 in",
    "8'-6\\\"",
    "6 in 8 ft",
    "1-1/4 in",
    "3/4 in",
    "1 1/4 in",
    "+5 m",
    "5 millimetres",
    "2e3 mm",
    "5 A",
    "5 mA",
    "5 V",
    "0 V",
    "5 W",
    "5 kW",
    "5 VA",
    "8 ohm",
    "8 Ω",
    "90 deg",
    "90 °",
    "0 deg",
    "5 %",
    "-5 %",
    "10 Gbit/s",
    "10 Gb/s",
    "2 h",
    "2 GHz",
    "50 pF/m",
    "5 dB",
    "0 dBmV",
    "-5 dBm",
    "-5 °C",
    "20 °C 5 °F",
    "60 F",
    "5 N",
    "5 lbf",
    "5 kg",
    "5 lb",
    "5 lb/1000 ft",
    "5 kg/km",
    "18 in3",
    "18 cu in",
    "18 cu. in.",
    "2 l 5 cm3",
    "5 m3/h",
    "5 CFM",
    // Spellings of the trade.
    "12 AWG",
    "2 x 12 AWG + earth",
    "2 x 2.5 mm2",
    "2x2.5 mm² + 1.5 mm² earth",
    "3 x 4/0 awg",
    "0 x 12 AWG",
    "2 x 12",
    "2 x 12 zz",
    "0.3 in",
    "0.3 in x 0.2 in",
    "0.8 in x 0.45 in x 1.9 in",
    "1 in x 1 in x 1 in x 1 in",
    "1 in x 2",
    "1-1/4 in",
    "13 in",
    "25 mm",
    "3840x2160 @ 60 Hz",
    "1920 x 1080i @ 59.94 Hz",
    "3840x2160",
    "10 bit",
    "10-bit",
    "10",
    "9 bit",
    "10 zz",
    "\"4:4:4\"",
    // Lists.
    "[]",
    "[5 ft, 5 ft, 5 ft]",
    "[5 ft, 5 ft]",
    "[5 ft, 5, 5 ft]",
    "[5 ft, zz, 5 ft]",
    "[a, b]",
    "[50 %, 50 %]",
    "[90 deg, 12 ft]",
    // Words, and names of things.
    "us",
    "a",
    "r",
    "power",
    "speaker",
    "rack",
    "wall",
    "conduit",
    "copper",
    "category-2",
    "cat6",
    "high-speed",
    "pass",
    "type 3",
    "continuous",
    "rough-in",
    "one-family",
    "NEC 2023",
    "left",
    "north",
    "[rcd]",
    "A",
    "C",
];

/// Mistakes of a kind that a schema can see, and cannot see here.
fn is_finer(says: &str) -> bool {
    // Grades are held against the service once all is read; a loader makes one number of `5` and `5.`.
    says.contains("is not a grade of") || says.contains("is `5.`, which cannot be read")
}

#[test]
fn schema_and_reader_agree_on_each_value_of_each_key() {
    let path = Path::new("values.plan.yaml");
    let mut lone = String::new();
    let mut judged = std::collections::BTreeMap::<&str, (usize, usize)>::new();
    for value in VALUES {
        let value = value.replace("\\\"", "\"");
        for (what, key, text) in plans(|key| key.name.to_owned(), &value) {
            let Some(loaded) = loaded(&text) else {
                continue;
            };
            let Some(mistakes) = mistakes(path, &text) else {
                continue;
            };
            let error = PLAN.iter_errors(&loaded).next();
            let seen: Vec<_> = mistakes
                .iter()
                .filter(|(rule, says)| SEEN.contains(rule) && !is_finer(says))
                .collect();
            let count = judged.entry(key.name).or_default();
            match error {
                Some(error) => {
                    count.0 += 1;
                    if mistakes.is_empty() {
                        lone += &format!("\n{what}: {value}: only the schema: {error}");
                    }
                }
                None => {
                    count.1 += 1;
                    if !seen.is_empty() {
                        lone += &format!("\n{what}: {value}: only the reader: {seen:?}");
                    }
                }
            }
        }
    }
    assert!(lone.is_empty(), "{lone}");
    for (_, key, _) in plans(|key| key.name.to_owned(), "") {
        let Some((no, yes)) = judged.get(key.name) else {
            panic!("`{}` was not tried", key.name);
        };
        assert!(
            *no > 5 || key.name == "notes",
            "`{}`: {no} rejected",
            key.name
        );
        assert!(
            *yes > 0 || !words(key).is_empty(),
            "`{}`: nothing accepted",
            key.name
        );
    }
}

/// The words that the schema allows for a key.
fn words(key: &Key) -> Vec<String> {
    let mut defs = Defs::default();
    let schema = (key.schema)(&mut defs);
    let one = schema.pointer("/anyOf/0").unwrap_or(&schema);
    let words = defs.get(one).and_then(|def| def["enum"].as_array());
    let words = words.into_iter().flatten();
    words
        .filter_map(|word| Some(word.as_str()?.to_owned()))
        .collect()
}

#[test]
fn every_word_of_the_schema_is_read() {
    let mut tried = 0;
    let keys = plans(|key| key.name.to_owned(), "");
    for (at, (what, key, _)) in keys.iter().enumerate() {
        for word in words(key) {
            for value in [word.clone(), format!("\"{word}\"")] {
                let (_, _, text) = &plans(|key| key.name.to_owned(), &value)[at];
                let found = mistakes(Path::new("words.plan.yaml"), text).expect("YAML");
                assert!(
                    PLAN.is_valid(&loaded(text).expect("YAML")),
                    "{what}: {value}"
                );
                assert!(found.is_empty(), "{what}: {value}: {found:?}");
                tried += 1;
            }
        }
    }
    assert!(tried > 300, "{tried} words");
}

#[test]
fn no_unknown_key_passes_either() {
    for (what, _, text) in plans(|key| format!("{}-zz", key.name), "yes") {
        let value = loaded(&text).expect("YAML");
        assert!(!PLAN.is_valid(&value), "{what}: in the schema\n{text}");
        let found = mistakes(Path::new("keys.plan.yaml"), &text).expect("YAML");
        assert!(
            found.iter().any(|(rule, _)| *rule == "plan.unknown-key"),
            "{what}: read\n{text}"
        );
    }
}

#[test]
fn ids_are_names_that_can_be_shown() {
    let long = "x".repeat(65);
    let longest = "x".repeat(64);
    for (id, sound) in [
        ("left", true),
        ("1", true),
        ("yes", true),
        (longest.as_str(), true),
        (long.as_str(), false),
        ("\"\"", false),
        ("\"a\\tb\"", false),
        ("\"a\\u200bb\"", false),
    ] {
        let text = format!("nailplate: 1\nregion: us\nrooms: {{{id}: {{}}}}\n");
        let value = loaded(&text).expect("YAML");
        let found = mistakes(Path::new("ids.plan.yaml"), &text).expect("YAML");
        assert_eq!(PLAN.is_valid(&value), sound, "schema: {id}");
        assert_eq!(found.is_empty(), sound, "reader: {id}: {found:?}");
    }
}
