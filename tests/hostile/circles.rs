//! Plans in which things lead back to themselves: each reference of each shipped house turned on the thing that makes it, and
//! circles of every kind made by hand. All is judged, and none is passed over in silence.

use std::collections::BTreeSet;
use std::path::Path;

use nailplate::plan::{self, Key};
use nailplate::review::{Selection, quantities, review_text};
use nailplate::schema::Defs;
use nailplate::yaml::{Edit, Kind, NodeId, Source, apply};
use serde_json::Value;

use super::Disk;
use super::keys::{RECORDS, house};

/// Reviews a plan and reckons its figures: what was said, without places.
fn judged(text: &str) -> Vec<String> {
    let scope = Selection::All.on_day(plan::Date::parse("2026-11-25").expect("a day"));
    let path = Path::new("examples/house.plan.yaml");
    let review = review_text(path, text.to_owned(), &Disk, scope).expect("it is YAML");
    let house = nailplate::house::House::build(&review.plan, &review.sources);
    let (figures, lacks) = quantities(&house, &review.rulebook);
    let found = review.findings.iter();
    let found = found.map(|found| format!("{} {:?} {}", found.rule, found.on, found.says));
    let gaps = review.gaps.iter().map(|gap| format!("{gap:?}"));
    let figures = figures.iter().map(|figure| format!("{figure:?}"));
    let lacks = lacks.iter().map(|gap| format!("{gap:?}"));
    let mut said: Vec<_> = found.chain(gaps).chain(figures).chain(lacks).collect();
    said.sort();
    said
}

/// Whether a key names a thing, or several.
fn names_things(key: &Key) -> bool {
    fn is_id(schema: &Value) -> bool {
        let reference = schema["$ref"].as_str().unwrap_or("");
        let parts = schema["anyOf"].as_array().into_iter().flatten();
        reference.contains("/id-of-") || parts.chain(schema.get("items")).any(is_id)
    }
    is_id(&(key.schema)(&mut Defs::default()))
}

/// The values of a plan that name things, each with the id of the thing that it is of.
fn references(source: &Source) -> Vec<(String, NodeId, String)> {
    fn inside(
        source: &Source,
        at: &str,
        own: &str,
        node: NodeId,
        found: &mut Vec<(String, NodeId, String)>,
    ) {
        let tree = &source.tree;
        if tree.kind(node) == Kind::Seq {
            tree.children(node)
                .for_each(|item| inside(source, at, own, item, found));
        }
        let known = RECORDS
            .iter()
            .find(|(record, _)| *record == at)
            .map_or(&[][..], |(_, keys)| keys);
        for (key, value) in tree.entries(node) {
            let name = source.text_of(key);
            if known
                .iter()
                .any(|key| key.name == name && names_things(key))
            {
                found.push((format!("{at}.{name}"), value, own.to_owned()));
            }
            inside(source, &format!("{at}.{name}"), own, value, found);
        }
    }
    let tree = &source.tree;
    let mut found = Vec::new();
    for (key, section) in tree.entries(tree.root().expect("a plan")) {
        for (id, thing) in tree.entries(section) {
            inside(
                source,
                source.text_of(key),
                source.text_of(id),
                thing,
                &mut found,
            );
        }
    }
    found
}

fn replaced(source: &Source, node: NodeId, value: &str) -> Edit {
    Edit {
        at: source.spot_of(source.tree.bytes(node)),
        text: value.to_owned(),
    }
}

#[test]
fn each_reference_of_each_house_turned_on_its_own_thing() {
    let (mut keys, mut silent) = (BTreeSet::new(), String::new());
    for name in super::HOUSES {
        let (sources, file) = house(name);
        let source = sources.file(file);
        let before = judged(&source.text);
        let references = references(source);
        // The first and the last of each key.
        for (at, (key, node, own)) in references.iter().enumerate() {
            let is_one = |(other, ..): &&(String, NodeId, String)| other == key;
            if references[..at].iter().any(|one| is_one(&one))
                && references[at + 1..].iter().any(|one| is_one(&one))
            {
                continue;
            }
            let text = apply(&source.text, &[replaced(source, *node, own)]).expect("one edit");
            if judged(&text) == before {
                silent += &format!("\n{name}: `{key}` of {own} names itself");
            }
            keys.insert(key.clone());
        }
        // All of one key at once, each naming the thing of the next one: one circle of everything.
        for key in references
            .iter()
            .map(|(key, ..)| key)
            .collect::<BTreeSet<_>>()
        {
            let all: Vec<_> = references
                .iter()
                .filter(|(other, ..)| other == key)
                .collect();
            let next = all.iter().cycle().skip(1);
            let edits: Vec<_> = all
                .iter()
                .zip(next)
                .map(|((_, node, _), (.., next))| replaced(source, *node, next))
                .collect();
            judged(&apply(&source.text, &edits).expect("edits in order"));
        }
    }
    assert!(silent.is_empty(), "nothing is said:{silent}");
    assert!(keys.len() >= 12, "{keys:?}");
}

const HEAD: &str = "nailplate: 1\nregion: us\nstock:\n  nm: {for: power, cores: 2 x 12 AWG + earth, rating: NM-B, diameter: 0.41 in}\n  \
spk: {for: speaker, cores: 4 x 12 AWG, rating: CL3, diameter: 0.4 in}\n  line: {for: line, balanced: no, rating: CM, shields: 1}\n  \
cat: {for: data, grade: cat6, cores: 8 x 23 AWG, rating: CMR}\n  rg: {for: coax, series: RG-6, rating: CMR}\n  \
tv: {for: video, grade: high-speed, rating: CL3}\ncircuits:\n  C1: {breaker: 20 A, volts: 120 V, poles: 1, serves: [a, b, c]}\n  \
C2: {breaker: 20 A, volts: 120 V, poles: 1, ring: yes, serves: a}\n";

/// Circles made by hand, and whether something of that name is found.
const CIRCLES: &[(&str, &str)] = &[
    (
        "plan.in-itself",
        "endpoints: {a: {in: a, kind: rack, load: 90 W}, b: {}, c: {}}",
    ),
    (
        "plan.in-itself",
        "endpoints: {a: {in: b}, b: {in: c}, c: {in: a, kind: rack, load: 90 W}}",
    ),
    (
        "plan.in-itself",
        "endpoints: {a: {}, b: {}, c: {}}\npathways: {w: {kind: wall, inside: w}}",
    ),
    (
        "plan.in-itself",
        "endpoints: {a: {}, b: {}, c: {}}\npathways: {v: {kind: wall, inside: [w, x]}, w: {kind: conduit, inside: [v]}, x: {kind: plenum, inside: [v, w]}}",
    ),
    (
        "plan.goes-nowhere",
        "endpoints: {a: {kind: rack}, b: {}, c: {}}\nruns: {P: {from: a, to: a, stock: nm, length: 9 ft}}",
    ),
    (
        "plan.goes-nowhere",
        "endpoints: {a: {kind: rack}, b: {}, c: {}}\nruns: {P: {from: C1, to: C1, stock: nm, length: 9 ft}}",
    ),
    (
        "",
        "endpoints: {a: {kind: rack, load: 90 W}, b: {kind: light, load: 9 W}, c: {}}\nruns: {P: {from: C1, to: C2, stock: nm, length: 9 ft}, Q: {from: C2, to: C1, stock: nm, length: 9 ft}}",
    ),
    (
        "",
        "endpoints: {a: {kind: outlet, load: 90 W}, b: {kind: outlet, load: 9 W}, c: {kind: outlet}}\nruns: {P: {from: C1, to: a, stock: nm, length: 9 ft}, \
      Q: {from: a, to: b, stock: nm, length: 9 ft}, R: {from: b, to: c, stock: nm, length: 9 ft}, S: {from: c, to: a, stock: nm, length: 9 ft}, T: {from: b, to: a, stock: nm, length: 9 ft}}",
    ),
    (
        "",
        "endpoints: {a: {kind: outlet, load: 90 W}, b: {kind: outlet, load: 9 W}, c: {kind: outlet}}\nruns: {P: {from: C2, to: a, stock: nm, length: 9 ft}, \
      Q: {from: a, to: b, stock: nm, length: 9 ft}, R: {from: b, to: c, stock: nm, length: 9 ft}, S: {from: c, to: C2, stock: nm, length: 9 ft}, T: {from: C2, to: b, stock: nm, length: 9 ft}}",
    ),
    (
        "",
        "endpoints: {a: {kind: outlet, at-outlet: a, load: 9 W}, b: {kind: outlet, at-outlet: [c], load: 9 W}, c: {kind: outlet, at-outlet: [b], load: 9 W}}\nruns: {P: {from: C1, to: a, stock: nm, length: 9 ft}}",
    ),
    (
        "",
        "endpoints: {a: {kind: speaker, impedance: 8 ohm, beside: a}, b: {kind: amplifier, beside: [c]}, c: {kind: speaker, tap: 5 W, beside: [b, c]}}\n\
      runs: {S: {from: b, to: a, stock: spk, length: 9 ft}, T: {from: a, to: c, stock: spk, length: 9 ft}, U: {from: c, to: b, stock: spk, length: 9 ft}, V: {from: c, to: a, stock: spk, length: 9 ft}}",
    ),
    (
        "",
        "endpoints: {a: {kind: splitter, ways: 2, loss: 4 dB}, b: {kind: splitter, ways: 2, loss: 4 dB}, c: {kind: antenna, level: 9 dBmV, frequency: 900 MHz}}\n\
      runs: {X: {from: c, to: a, stock: rg, length: 9 ft}, Y: {from: a, to: b, stock: rg, length: 9 ft}, Z: {from: b, to: a, stock: rg, length: 9 ft}, W: {from: b, to: c, stock: rg, length: 9 ft}}",
    ),
    (
        "",
        "endpoints: {a: {kind: patch-panel}, b: {kind: patch-panel}, c: {kind: patch-panel}}\nruns: {D: {from: a, to: b, stock: cat, length: 9 ft, rate: 1 Gbit/s}, \
      E: {from: b, to: c, stock: cat, length: 9 ft}, F: {from: c, to: a, stock: cat, length: 9 ft}, G: {from: a, to: c, stock: tv, length: 9 ft}, H: {from: c, to: a, stock: tv, length: 9 ft}}",
    ),
    (
        "",
        "endpoints: {a: {kind: source, earthed: yes}, b: {kind: amplifier, earthed: yes}, c: {kind: subwoofer, earthed: yes, active: yes}}\nruns: {L: {from: a, to: b, stock: line, length: 9 ft}, \
      M: {from: b, to: c, stock: line, length: 9 ft}, N: {from: c, to: a, stock: line, length: 9 ft}, O: {from: a, to: c, stock: line, length: 9 ft, beside: [{run: O}, {run: L, over: 2 ft}]}, P: {from: C1, to: a, stock: nm, beside: [{run: P}]}}",
    ),
    (
        "",
        "endpoints: {a: {kind: breaker-panel, load: 9 W}, b: {}, c: {}}\nruns: {P: {from: C3, to: a, stock: nm, length: 9 ft}}\nnotes: {C3: x}",
    ),
    (
        "plan.no-such-id",
        "endpoints: {a: {in: C1, room: a, beside: nm}, b: {}, c: {}}\nruns: {P: {from: nm, to: P, stock: P, through: [P, C1]}}",
    ),
];

/// The circles as plans; the runs that a house could not have, each from everything to everything, are among them.
pub fn texts() -> Vec<String> {
    let mut texts: Vec<_> = CIRCLES
        .iter()
        .map(|(_, body)| format!("{HEAD}{body}\n"))
        .collect();
    let many = 24;
    let mut text = format!(
        "{HEAD}  C3: {{breaker: 20 A, volts: 120 V, panel: a}}\nendpoints:\n  a: {{kind: rack}}\n  b: {{}}\n  c: {{}}\n"
    );
    for n in 0..many {
        text += &format!(
            "  e{n}: {{kind: outlet, load: 9 W, in: e{}, at-outlet: e{}, beside: e{n}}}\n",
            (n + 1) % many,
            (n + 2) % many
        );
    }
    text += "pathways:\n";
    for n in 0..many {
        text += &format!(
            "  w{n}: {{kind: conduit, size: 1, inside: [w{}, w{}], from: e{n}, to: e{n}}}\n",
            (n + 1) % many,
            (n + 2) % many
        );
    }
    text += "runs:\n";
    for n in 0..many * many {
        let (from, to) = (n / many, n % many);
        let stock = ["nm", "spk", "line", "cat", "rg", "tv"][n % 6];
        text += &format!(
            "  r{n}: {{from: e{from}, to: e{to}, stock: {stock}, length: 9 ft, through: [w{from}, w{to}, w{from}], beside: {{run: r{}}}}}\n",
            (n * 7) % (many * many)
        );
    }
    texts.push(text);
    texts
}

#[test]
fn circles_made_by_hand() {
    for ((rule, body), text) in CIRCLES.iter().zip(texts()) {
        let said = judged(&text);
        assert!(
            said.iter().any(|said| said.starts_with(rule)),
            "{rule} is not found: {body}\n{}",
            said.join("\n")
        );
    }
    judged(texts().last().expect("all to all"));
}
