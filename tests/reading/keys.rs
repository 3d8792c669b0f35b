//! Every key and every word of the language is read, and every key says what it is for.

use std::collections::BTreeSet;

use nailplate::plan::{
    Air, Beside, Build, Building, Catalogue, Chroma, Circuit, Code, Conductor, ConduitListing,
    Containment, Crosses, Document, Done, Duty, Endpoint, EndpointKind, Facing, Framing, Grade,
    Key, Make, Material, Member, Method, Pathway, PathwayKind, Place, Poe, Protection, Protects,
    Record, Region, Room, RoomKind, Run, Service, Stage, Stock, Tested, Variance, Zone,
};

use super::{Shelf, read, read_with};

/// The keys of a record and a plan that has one key of it, `KEY: VALUE`.
const RECORDS: &[(&str, &[Key], &str)] = &[
    ("a plan", Document::KEYS, "KEY: VALUE\n"),
    ("a room", Room::KEYS, "rooms: {r: {KEY: VALUE}}\n"),
    ("a stock", Stock::KEYS, "stock: {r: {KEY: VALUE}}\n"),
    ("a pathway", Pathway::KEYS, "pathways: {r: {KEY: VALUE}}\n"),
    (
        "an entry of `framing`",
        Framing::KEYS,
        "pathways: {r: {framing: {KEY: VALUE}}}\n",
    ),
    ("a circuit", Circuit::KEYS, "circuits: {r: {KEY: VALUE}}\n"),
    (
        "an endpoint",
        Endpoint::KEYS,
        "endpoints: {r: {KEY: VALUE}}\n",
    ),
    ("a run", Run::KEYS, "runs: {r: {KEY: VALUE}}\n"),
    (
        "an entry of `beside`",
        Beside::KEYS,
        "runs: {r: {beside: {KEY: VALUE}}}\n",
    ),
    ("`done`", Done::KEYS, "runs: {r: {done: {KEY: VALUE}}}\n"),
    ("a variance", Variance::KEYS, "variances: [{KEY: VALUE}]\n"),
];

#[test]
fn every_key_is_read_and_documented() {
    for (what, keys, plan) in RECORDS {
        assert!(
            keys.iter().any(|key| key.name == "notes"),
            "notes may stand on anything: {what}"
        );
        let names: BTreeSet<_> = keys.iter().map(|key| key.name).collect();
        assert_eq!(names.len(), keys.len(), "{what} has a key twice");
        for key in *keys {
            assert!(
                key.what.trim().len() > 5,
                "`{}` of {what} says what it is for",
                key.name
            );
            assert!(
                !key.wants.trim().is_empty(),
                "`{}` of {what} says what it takes",
                key.name
            );
            let kebab = key.name.chars().all(|c| c.is_ascii_lowercase() || c == '-');
            assert!(kebab, "`{}` of {what} is a kebab-case word", key.name);
            let read = read(&plan.replace("KEY", key.name).replace("VALUE", "[[]]"));
            let unknown: Vec<_> = read
                .findings
                .iter()
                .filter(|f| f.rule == "plan.unknown-key")
                .collect();
            assert!(unknown.is_empty(), "`{}` of {what} is not read", key.name);
            // No key takes a list of lists, so that a key which is passed over would show here.
            let told = read.findings.iter().any(|f| {
                f.says.contains(&format!("`{}`", key.name)) && f.rule != "plan.missing-key"
            });
            assert!(
                told || key.name == "notes",
                "`{}` of {what} takes anything",
                key.name
            );
        }
    }
    for key in Catalogue::KEYS {
        let shelf = [("c.yaml", &*format!("{}: \"[[]]\"\n", key.name))];
        let read = read_with(
            "nailplate: 1\nregion: us\ncatalogue: c.yaml\n",
            &Shelf(&shelf),
        )
        .expect("YAML");
        assert!(
            read.findings.iter().all(|f| f.rule != "plan.unknown-key"),
            "{}",
            key.name
        );
    }
}

macro_rules! words {
    ($($name:ident: $plan:literal;)*) => {
        [$((stringify!($name), $name::WORDS, $plan, (|word| $name::parse(word).map($name::word)) as fn(&str) -> Option<&'static str>)),*]
    };
}

#[test]
fn every_word_is_read() {
    let sets = words! {
        Region: "region: WORD";
        Building: "building: WORD";
        Stage: "stage: WORD";
        RoomKind: "rooms: {a: {kind: WORD}}";
        Service: "stock: {a: {for: WORD}}";
        Material: "stock: {a: {material: WORD}}";
        Conductor: "stock: {a: {conductor: WORD}}";
        Build: "stock: {a: {build: WORD}}";
        Grade: "stock: {a: {grade: WORD}}";
        PathwayKind: "pathways: {a: {kind: WORD}}";
        Air: "pathways: {a: {air: WORD}}";
        Make: "pathways: {a: {make: WORD}}";
        ConduitListing: "pathways: {a: {listing: [WORD]}}";
        Containment: "pathways: {a: {containment: WORD}}";
        Member: "pathways: {a: {framing: [{member: WORD}]}}";
        Zone: "endpoints: {a: {}, b: {}}\nruns: {R: {from: a, to: b, zone: WORD}}";
        Code: "code: WORD";
        Facing: "endpoints: {a: {faces: WORD}}";
        Crosses: "endpoints: {a: {}, b: {}}\nruns: {R: {from: a, to: b, crosses: WORD}}";
        Method: "endpoints: {a: {}, b: {}}\nruns: {R: {from: a, to: b, method: WORD}}";
        Tested: "endpoints: {a: {}, b: {}}\nruns: {R: {from: a, to: b, done: {tested: WORD}}}";
        Protection: "circuits: {a: {protection: WORD}}";
        EndpointKind: "endpoints: {a: {kind: WORD}}";
        Place: "endpoints: {a: {place: WORD}}";
        Duty: "endpoints: {a: {duty: WORD}}";
        Protects: "endpoints: {a: {protects: [WORD]}}";
        Poe: "endpoints: {a: {poe: WORD}}";
        Chroma: "endpoints: {a: {chroma: WORD}}";
    };
    for (name, words, plan, parse) in sets {
        assert!(!words.is_empty());
        for word in words {
            assert_eq!(parse(word), Some(*word), "{name}: a word means itself");
            let region = if name == "Region" { "" } else { "region: us\n" };
            for spelled in [
                (*word).to_owned(),
                format!("\"{word}\""),
                format!("'{word}'"),
            ] {
                let read = read(&format!(
                    "nailplate: 1\n{region}{}\n",
                    plan.replace("WORD", &spelled)
                ));
                assert!(read.findings.is_empty(), "{name}: {spelled}{}", read.says());
            }
            let read = read(&format!(
                "nailplate: 1\n{region}{}\n",
                plan.replace("WORD", "zzzzzz")
            ));
            assert_eq!(
                read.findings.len(),
                1,
                "{name} takes any word{}",
                read.says()
            );
            let advice = read.findings[0].put_right.clone().unwrap_or_default();
            assert!(
                advice.contains(word),
                "{name}: `{word}` is told to whoever asks"
            );
        }
    }
}

/// The shipped houses are in the language as it is read.
#[test]
fn the_shipped_houses_have_no_mistakes() {
    for text in [
        super::SAMPLE,
        include_str!("../../examples/plover-lane.plan.yaml"),
    ] {
        let read = read(text);
        assert!(read.findings.is_empty(), "{}", read.says());
    }
}
