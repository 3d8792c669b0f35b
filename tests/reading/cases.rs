//! Mistakes, one line each: the plan behind its head, and for each mistake its rule and the text
//! that it marks.
//!
//! Long because every mistake of the language has its line here.

use super::{Shelf, read, read_with};
use nailplate::findings::RedlineKind;
use nailplate::yaml::apply;

type Case = (&'static str, &'static [(&'static str, &'static str)]);

const HEAD: &str = "nailplate: 1\nregion: us\n";

const CASES: &[Case] = &[
    // Nothing there.
    ("rooms:", &[("plan.wrong-kind", "rooms")]),
    ("rooms: {a: }", &[("plan.wrong-kind", "a")]),
    (
        "rooms:\n  a:\n  b: {floor: }",
        &[("plan.wrong-kind", "a"), ("plan.wrong-kind", "floor")],
    ),
    ("rooms: {a: {floor: ~}}", &[("plan.wrong-kind", "~")]),
    ("rooms: {a: {floor: null}}", &[("plan.wrong-kind", "null")]),
    ("rooms: {a: {floor}}", &[("plan.wrong-kind", "floor")]),
    (
        "circuits:\n  C1:\n    protection:\n      -\n      - surge",
        &[("plan.wrong-kind", "-")],
    ),
    ("title: ''", &[("plan.wrong-kind", "''")]),
    ("title: \"  \"", &[("plan.wrong-kind", "\"  \"")]),
    ("rooms: {a: {notes: }}", &[]),
    ("rooms: {a: {}}", &[]),
    ("rooms: {}", &[]),
    // The wrong kind of value.
    ("rooms: [a, b]", &[("plan.wrong-kind", "[a, b]")]),
    ("rooms: {a: 3}", &[("plan.wrong-kind", "3")]),
    ("rooms: {a: [1 ft]}", &[("plan.wrong-kind", "[1 ft]")]),
    ("rooms: {a: {size: 3 ft}}", &[("plan.wrong-kind", "3 ft")]),
    (
        "rooms: {a: {size: [3 ft, 2 ft]}}",
        &[("plan.wrong-kind", "[3 ft, 2 ft]")],
    ),
    (
        "rooms: {a: {size: {x: 3 ft}}}",
        &[("plan.wrong-kind", "{x: 3 ft}")],
    ),
    ("rooms: {a: {floor: [1]}}", &[("plan.wrong-kind", "[1]")]),
    (
        "rooms:\n  ? [a]\n  : {floor: 1}",
        &[("plan.wrong-kind", "[a]")],
    ),
    (
        "rooms:\n  a:\n    ? {b: c}\n    : d",
        &[("plan.wrong-kind", "{b: c}")],
    ),
    ("? *nothing\n: 1", &[("plan.wrong-kind", "*nothing")]),
    ("rooms: {a: {<<: 3}}", &[("plan.wrong-kind", "3")]),
    ("rooms: {<<: 3}", &[("plan.wrong-kind", "3")]),
    ("rooms: {<<: , a: {}}", &[("plan.wrong-kind", ":")]),
    // Ids.
    ("rooms: {\"\": {floor: 1}}", &[("plan.unreadable", "\"\"")]),
    (
        "rooms: {\"a\\tb\": {}}",
        &[("plan.unreadable", "\"a\\tb\"")],
    ),
    (
        "rooms: {\"a\\u202eb\": {}}",
        &[("plan.unreadable", "\"a\\u202eb\"")],
    ),
    (
        "rooms: {müßiggang: {}, 書斎: {}, \"a b\": {}, 'it''s': {}}",
        &[],
    ),
    (
        "rooms: {a: {}, b: {}, a: {}}",
        &[("plan.duplicate-id", "a")],
    ),
    (
        "rooms: {a: {}}\nendpoints: {a: {}}",
        &[("plan.duplicate-id", "a")],
    ),
    // Keys.
    ("rooms: {a: {flor: 2}}", &[("plan.unknown-key", "flor")]),
    ("rooms: {a: {Floor: 2}}", &[("plan.unknown-key", "Floor")]),
    (
        "rooms: {a: {\"flor\": 2}}",
        &[("plan.unknown-key", "\"flor\"")],
    ),
    (
        "rooms: {a: {flor: x}}",
        &[("plan.unknown-key", "flor"), ("plan.unreadable", "x")],
    ),
    (
        "rooms: {a: {flor: 2, floor: 3}}",
        &[("plan.unknown-key", "flor")],
    ),
    (
        "rooms: {a: {flor: 2, flooor: 3}}",
        &[("plan.unknown-key", "flor"), ("plan.unknown-key", "flooor")],
    ),
    (
        "rooms: {a: {wallpaper: red}}",
        &[("plan.unknown-key", "wallpaper")],
    ),
    (
        "roms: {a: {}}\nendpoints: {e: {kind: seat, room: a}}",
        &[("plan.unknown-key", "roms")],
    ),
    (
        "rooms: {a: {floor: 2, floor: 3}}",
        &[("plan.duplicate-key", "floor")],
    ),
    (
        "rooms: {a: {floor: x, floor: 3}}",
        &[("plan.unreadable", "x"), ("plan.duplicate-key", "floor")],
    ),
    (
        "rooms: {a: {}}\nrooms: {b: {}}\nendpoints: {e: {room: a}}",
        &[("plan.duplicate-key", "rooms")],
    ),
    (
        "endpoints: {a: {}}\nruns: {R1: {from: a}}",
        &[("plan.missing-key", "R1")],
    ),
    (
        "endpoints: {a: {}, b: {}}\nruns: {R1: {form: a, to: b}}",
        &[("plan.unknown-key", "form")],
    ),
    (
        "endpoints: {a: {}, b: {}}\nruns: {R1: {from: a, to: b, beside: [{apart: 4 in}, {over: 2 ft}]}}",
        &[
            ("plan.missing-key", "{apart: 4 in}"),
            ("plan.missing-key", "{over: 2 ft}"),
        ],
    ),
    (
        "endpoints: {a: {}, b: {}}\nruns: {R1: {from: a, to: b, beside: {run: R2, apart: far, notes: x}}, R2: {from: b, to: a}}",
        &[("plan.unreadable", "far")],
    ),
    // Words.
    (
        "rooms: {a: {kind: garag}}",
        &[("plan.unknown-word", "garag")],
    ),
    (
        "rooms: {a: {kind: Garage}}",
        &[("plan.unknown-word", "Garage")],
    ),
    ("rooms:\n  a:\n    kind: |\n      garage\n", &[]),
    (
        "rooms:\n  a:\n    kind: >-  # a comment\n\n      garag\n",
        &[("plan.unknown-word", ">-  # a comment\n\n      garag")],
    ),
    (
        "rooms: {a: {kind: \"garage\"}, b: {kind: 'garage'}, c: {kind: !!str garage}}",
        &[],
    ),
    (
        "rooms: {a: {cooled: yes}, b: {cooled: true}, c: {cooled: no}, d: {cooled: False}}",
        &[],
    ),
    (
        "rooms: {a: {cooled: on}, b: {cooled: 1}}",
        &[("plan.unknown-word", "on"), ("plan.unknown-word", "1")],
    ),
    (
        "endpoints: {p: {chroma: \"4:4:4\"}, q: {chroma: 4:4:4}}",
        &[],
    ),
    (
        "endpoints: {p: {chroma: 4:4:1}}",
        &[("plan.unknown-word", "4:4:1")],
    ),
    (
        "stock: {v: {for: video, grade: cat6}}",
        &[("plan.unknown-word", "cat6")],
    ),
    (
        "stock: {d: {for: data, grade: high-speed}}",
        &[("plan.unknown-word", "high-speed")],
    ),
    (
        "stock: {d: {for: video, grade: category-2}, e: {rating: [CL3, FT4]}, f: {rating: none}}",
        &[],
    ),
    // Fire classes with commas.
    (
        "stock: {d: {rating: \"Cca-s1b,d1,a1\"}, e:  {rating: ['B2ca-s1,d0,a1', CL3]}}",
        &[],
    ),
    (
        "stock: {d: {rating: Cca-s1b,d1,a1}}",
        &[("plan.unquoted-class", "Cca-s1b")],
    ),
    (
        "stock: {d: {rating: Dca-s2, d1, for: data}}",
        &[("plan.unquoted-class", "Dca-s2")],
    ),
    (
        "stock: {d: {rating: [Cca-s1b,d1,a1]}}",
        &[("plan.unquoted-class", "Cca-s1b")],
    ),
    ("stock:\n  d:\n    rating: Cca-s1b,d1,a1", &[]),
    ("stock: {d: {d1, for: data}}", &[("plan.unknown-key", "d1")]),
    // References.
    (
        "endpoints: {e: {room: nowhere}}",
        &[("plan.no-such-id", "nowhere")],
    ),
    ("endpoints: {e: {room: e}}", &[("plan.no-such-id", "e")]),
    ("endpoints: {e: {room: ''}}", &[("plan.no-such-id", "''")]),
    (
        "rooms: 3\nendpoints: {e: {room: den}}",
        &[("plan.wrong-kind", "3")],
    ),
    (
        "variances: [{rule: x, on: nobody, reason: y, by: JR}]",
        &[("plan.no-such-id", "nobody")],
    ),
    (
        "rooms: {den: {}}\nvariances: {rule: x, on: [den], reason: y, by: JR}",
        &[],
    ),
    // Numbers and quantities.
    (
        "rooms: {a: {floor: 1e300}}",
        &[("plan.out-of-range", "1e300")],
    ),
    ("rooms: {a: {floor: -1, size: [1 ft, 2m, 3.5 ft]}}", &[]),
    (
        "rooms: {a: {size: [-1 ft, 0 m, 1e9 km]}}",
        &[
            ("plan.out-of-range", "-1 ft"),
            ("plan.out-of-range", "0 m"),
            ("plan.wrong-unit", "1e9 km"),
        ],
    ),
    (
        "rooms: {a: {size: [1, 1e300 ft, \"1,200 ft\"]}}",
        &[
            ("plan.no-unit", "1"),
            ("plan.out-of-range", "1e300 ft"),
            ("plan.unreadable", "\"1,200 ft\""),
        ],
    ),
    (
        "rooms: {a: {size: [nan ft, inf ft, 1e999 ft]}}",
        &[
            ("plan.unreadable", "nan ft"),
            ("plan.unreadable", "inf ft"),
            ("plan.unreadable", "1e999 ft"),
        ],
    ),
    ("rooms: {a: {size: [8 ft 6 in, 8'-6\", 3-1/2 yd]}}", &[]),
    (
        "circuits: {C1: {breaker: 0 A}, C2: {breaker: -0 A}, C3: {poles: 0}}",
        &[
            ("plan.out-of-range", "0 A"),
            ("plan.out-of-range", "-0 A"),
            ("plan.out-of-range", "0"),
        ],
    ),
    (
        "circuits: {C1: {poles: 2.5}, C2: {poles: two}, C3: {poles: 99999999999999999999}}",
        &[
            ("plan.unreadable", "2.5"),
            ("plan.unreadable", "two"),
            ("plan.unreadable", "99999999999999999999"),
        ],
    ),
    (
        "endpoints: {p: {throw: 0}, q: {throw: -1.6}, r: {throw: 1.6}}",
        &[("plan.out-of-range", "0"), ("plan.out-of-range", "-1.6")],
    ),
    (
        "pathways: {w: {fire-hours: -1}, x: {fire-hours: 0}}",
        &[("plan.out-of-range", "-1")],
    ),
    // Beyond what anybody could mean.
    (
        "rooms: {a: {floor: 1e-300, size: [301 m, 1e-300 ft, 300 m]}, b: {floor: -21}}",
        &[
            ("plan.out-of-range", "1e-300"),
            ("plan.out-of-range", "301 m"),
            ("plan.out-of-range", "1e-300 ft"),
            ("plan.out-of-range", "-21"),
        ],
    ),
    (
        "circuits: {a: {volts: 1001 V, breaker: 7000 A, poles: 5}}\nendpoints: {b: {impedance: 50001 ohm, load: 51 kW, ways: 101}}",
        &[
            ("plan.out-of-range", "1001 V"),
            ("plan.out-of-range", "7000 A"),
            ("plan.out-of-range", "5"),
            ("plan.out-of-range", "50001 ohm"),
            ("plan.out-of-range", "51 kW"),
            ("plan.out-of-range", "101"),
        ],
    ),
    (
        "stock: {a: {diameter: 21 m, cores: 401 x 12 AWG, shields: 11}}\npathways: {b: {friction: 1e-9, fire-hours: 25}}",
        &[
            ("plan.out-of-range", "21 m"),
            ("plan.out-of-range", "401 x 12 AWG"),
            ("plan.out-of-range", "11"),
            ("plan.out-of-range", "1e-9"),
            ("plan.out-of-range", "25"),
        ],
    ),
    // Parts beyond the whole.
    (
        "endpoints: {a: {}, b: {load: 90 W, peak: 80 W}, c: {load: 90 W, peak: 90 W}}\nruns: {R: {from: a, to: b, length: 9 ft, bundled-over: 10 ft, \
         beside: [{run: S, over: 9.5 ft}, {run: R}, {run: S, over: 9 ft}]}, S: {from: b, to: a, beside: {run: R, over: 99 ft}}}",
        &[
            ("plan.out-of-range", "80 W"),
            ("plan.out-of-range", "10 ft"),
            ("plan.out-of-range", "9.5 ft"),
            ("plan.in-itself", "R"),
        ],
    ),
    (
        "endpoints: {a: {}, b: {}}\nruns: {R: {from: a, to: b, done: {pulled: 9999-11-02}}}",
        &[("plan.out-of-range", "9999-11-02")],
    ),
    // Spellings of the trade.
    (
        "stock: {a: {cores: 2 x 12 AWG + earth}, b: {cores: 2x2.5mm²}, c: {cores: 3 × 1/0 AWG + 6 AWG earth}}",
        &[],
    ),
    (
        "stock: {a: {cores: 12/2}, b: {cores: 2 x 12}, c: {cores: 0 x 12 AWG}, d: {cores: 2 x 99 AWG}}",
        &[
            ("plan.unreadable", "12/2"),
            ("plan.no-unit", "2 x 12"),
            ("plan.out-of-range", "0 x 12 AWG"),
            ("plan.out-of-range", "2 x 99 AWG"),
        ],
    ),
    (
        "stock: {a: {diameter: 0.2 in x 0.4 in}, b: {diameter: 1 in x 1 in x 1 in}, c: {head: 1 in x 2}}",
        &[
            ("plan.unreadable", "1 in x 1 in x 1 in"),
            ("plan.no-unit", "1 in x 2"),
        ],
    ),
    (
        "pathways: {a: {size: 1-1/4}, b: {size: 3/4 in}, c: {size: 25 mm}, d: {size: 40}, e: {bore: 35 mm}}",
        &[("plan.unreadable", "25 mm"), ("plan.out-of-range", "40")],
    ),
    (
        "endpoints: {a: {picture: 3840x2160 @ 60 Hz}, b: {picture: 1920×1080i@59.94hz}, c: {picture: 4K}}",
        &[("plan.unreadable", "4K")],
    ),
    (
        "endpoints: {a: {picture: 3840x2160 @ 0 Hz}, b: {picture: 00x2160 @ 60 Hz}}",
        &[
            ("plan.out-of-range", "3840x2160 @ 0 Hz"),
            ("plan.out-of-range", "00x2160 @ 60 Hz"),
        ],
    ),
    (
        "endpoints: {a: {depth: 8 bit}, b: {depth: 10-bit}, c: {depth: 8}, d: {depth: 9 bit}}",
        &[("plan.no-unit", "8"), ("plan.out-of-range", "9 bit")],
    ),
    (
        "endpoints: {a: {}, b: {}}\nruns: {R: {from: a, to: b, done: {pulled: 2026-02-29, labelled: yes}}}",
        &[("plan.unreadable", "2026-02-29")],
    ),
    // Aliases and merge keys.
    (
        "rooms: {a: {floor: &f x}, b: {floor: *f}}",
        &[("plan.unreadable", "x")],
    ),
    (
        "notes: &f x\nrooms: {b: {floor: *f}}",
        &[("plan.unreadable", "*f")],
    ),
    (
        "notes: &f\nrooms: {b: {floor: *f}}",
        &[("plan.wrong-kind", "*f")],
    ),
    ("rooms: {b: {floor: *f}}", &[("plan.lost-alias", "*f")]),
    (
        "rooms: {a: &a {floor: 1}, b: {<<: *a, floor: 2}, c: {<<: [*a, {cooled: yes}]}}",
        &[],
    ),
    ("rooms: &r {a: {}}\nnotes: {<<: *r}", &[]),
    (
        "notes: [&x {a: {}}, &y {a: {}, b: {}}]\nrooms: {<<: [*x, *y]}\nendpoints: {e: {room: b}}",
        &[],
    ),
    (
        "rooms: {a: &a {<<: *a, floor: 1}}",
        &[("plan.too-many-aliases", "*a")],
    ),
    (
        "rooms: {a: &a {floor: x}, b: {<<: *a}, c: *a}",
        &[("plan.unreadable", "x")],
    ),
    // Between values.
    ("endpoints: {a: {in: a}}", &[("plan.in-itself", "a")]),
    (
        "endpoints: {a: {in: b}, b: {in: c}, c: {in: b}}",
        &[("plan.in-itself", "c")],
    ),
    (
        "pathways: {w: {inside: [v]}, v: {inside: w}}",
        &[("plan.in-itself", "v")],
    ),
    (
        "endpoints: {a: {inlets: 2, split: [50 %, 50 %]}, b: {split: [50 %, 50 %]}}",
        &[("plan.split-not-whole", "[50 %, 50 %]")],
    ),
    (
        "endpoints: {a: {}, b: {}}\nruns: {R: {from: a, to: a}}",
        &[("plan.goes-nowhere", "a")],
    ),
    // Documents.
    ("---\nrooms: {a: {}}", &[("plan.second-document", "---")]),
    ("...\n# nothing more\n", &[]),
    // What stands behind is read as the rest, unless it cannot be that.
    (
        "...\nä: 1",
        &[("plan.unknown-key", "ä"), ("plan.second-document", "ä:")],
    ),
    (
        "---\nrooms: {a: {hue: 1}}",
        &[("plan.second-document", "---"), ("plan.unknown-key", "hue")],
    ),
    (
        "---\nregion: uk\nrooms: {a: {hue: 1}}",
        &[("plan.second-document", "---")],
    ),
    ("---\n[1, 2]", &[("plan.second-document", "---")]),
    ("---\nrooms: {a: [}", &[("plan.second-document", "---")]),
    (
        "---\nrooms: {a: {hue: 1}}\n---\nstock: {b: {tone: 1}}\n---\nrooms: {}\n---\nruns: 1",
        &[
            ("plan.second-document", "---"),
            ("plan.unknown-key", "hue"),
            ("plan.second-document", "---"),
            ("plan.unknown-key", "tone"),
            ("plan.second-document", "---"),
        ],
    ),
];

#[test]
fn mistakes_are_reported_at_their_places() {
    let mut wrong = String::new();
    for (text, expected) in CASES {
        let read = read(&format!("{HEAD}{text}\n"));
        let points = read.points();
        let found: Vec<_> = points
            .iter()
            .map(|(rule, slice)| (*rule, slice.as_str()))
            .collect();
        if found != *expected {
            wrong += &format!(
                "\n{text}\n  found {found:?}\n  wants {expected:?}{}\n",
                read.says()
            );
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
}

/// A redline, applied, clears its mistake and brings no other.
#[test]
fn redlines_keep_their_promise() {
    let mut kept = 0;
    for (text, _) in CASES {
        let before = read(&format!("{HEAD}{text}\n"));
        for finding in &before.findings {
            for redline in &finding.redlines {
                let source = &before.sources.file(redline.edits[0].at.file).text;
                let after = read(&apply(source, &redline.edits).expect("it fits"));
                let count = |read: &super::Read| read.findings.len();
                assert!(
                    count(&after) < count(&before),
                    "{} did not help:{}",
                    redline.title,
                    after.says()
                );
                assert!(after.findings.iter().all(|left| {
                    before
                        .findings
                        .iter()
                        .any(|f| f.rule == left.rule && f.on == left.on)
                }));
                kept += 1;
            }
        }
    }
    assert!(kept > 10, "there are redlines among the cases");
}

/// What may be written unasked is sure; a guess among equals is not offered at all.
#[test]
fn only_sure_slips_are_the_same() {
    let kinds = |text: &str| -> Vec<RedlineKind> {
        let read = read(&format!("{HEAD}{text}\n"));
        read.findings
            .iter()
            .flat_map(|f| f.redlines.iter().map(|r| r.kind))
            .collect()
    };
    assert_eq!(kinds("rooms: {a: {kind: garag}}"), [RedlineKind::Same]);
    assert_eq!(kinds("rooms: {a: {kind: GARAGE}}"), [RedlineKind::Same]);
    assert_eq!(kinds("rooms: {a: {kind: garg}}"), [] as [RedlineKind; 0]);
    assert_eq!(
        kinds("pathways: {p: {make: EXT}}"),
        [],
        "EMT and ENT are as near"
    );
    assert_eq!(
        kinds("pathways: {p: {make: PVC-50}}"),
        [],
        "PVC-40 and PVC-80 are as near"
    );
    assert_eq!(
        kinds("pathways: {p: {make: LFXC}}"),
        [RedlineKind::Change],
        "a code is not guessed unasked"
    );
    assert_eq!(kinds("endpoints: {e: {poe: type 9}}"), []);
    assert_eq!(
        kinds("rooms: {den: {}}\nendpoints: {e: {room: dem}}"),
        [RedlineKind::Change]
    );
    assert_eq!(
        kinds("rooms: {a: {size: [3 ft, 3 ft, 9]}}"),
        [RedlineKind::Change]
    );
    assert_eq!(
        kinds("rooms: {a: {size: [3 ft, 3 ft, -9]}}"),
        [],
        "a unit does not put it right"
    );
}

/// The head of the plan itself.
#[test]
fn heads() {
    let cases: &[Case] = &[
        ("region: us\n", &[("plan.missing-key", "region")]),
        ("nailplate: 1\n", &[("plan.missing-key", "nailplate")]),
        (
            "title: x\n",
            &[("plan.missing-key", "title"), ("plan.missing-key", "title")],
        ),
        (
            "{}\n",
            &[("plan.missing-key", "{}"), ("plan.missing-key", "{}")],
        ),
        ("nailplate: 2\nregion: us\n", &[("plan.wrong-version", "2")]),
        (
            "nailplate: 1.0\nregion: us\n",
            &[("plan.wrong-version", "1.0")],
        ),
        (
            "nailplate: one\nregion: us\n",
            &[("plan.unreadable", "one")],
        ),
        (
            "nailplate:\nregion: us\n",
            &[("plan.wrong-kind", "nailplate")],
        ),
        ("nailplate: 1\nregion: uk\n", &[("plan.unknown-word", "uk")]),
        ("hello\n", &[("plan.wrong-kind", "hello")]),
        ("- a\n- b\n", &[("plan.wrong-kind", "- a\n- b")]),
    ];
    for (text, expected) in cases {
        let read = read(text);
        let points = read.points();
        let found: Vec<_> = points
            .iter()
            .map(|(rule, slice)| (*rule, slice.as_str()))
            .collect();
        assert_eq!(found, *expected, "{text}{}", read.says());
    }
}

#[test]
fn texts_that_are_no_yaml_say_why() {
    let cases = [
        ("", 0, "nothing in this file"),
        ("# a comment\n", 0, "nothing in this file"),
        ("\u{feff}", 0, "nothing in this file"),
        ("---\n", 0, "nothing in this file"),
        ("---\n---\nnailplate: 1\n", 4, "before this second document"),
        ("a:\n\tb: 1\n", 3, "a tab"),
        ("a: b: c\n", 4, "`:`"),
        ("a: [1, 2\n", 3, "never closed"),
        ("a: \"x\n", 3, "never closed"),
        ("a: @x\n", 3, "`@`"),
        ("a: 1\nb\n", 5, "without its `:`"),
        ("a:\n   b: 1\n  c: 2\n", 13, "indentation"),
    ];
    for (text, byte, reason) in cases {
        let Err(broken) = read_with(text, &Shelf(&[])) else {
            panic!("{text:?} is YAML")
        };
        assert!(
            broken.reason.contains(reason),
            "{text:?}: {}",
            broken.reason
        );
        assert_eq!(broken.byte, byte, "{text:?}: {}", broken.reason);
    }
}

/// The sentence names the key, and the keys around it.
#[test]
fn sentences_say_what_the_thing_is() {
    let says = |text: &str| {
        read(&format!("{HEAD}{text}\n"))
            .findings
            .iter()
            .map(|f| f.says.clone())
            .collect::<Vec<_>>()
    };
    assert_eq!(
        says("rooms: {a: {size: [3 ft, 2 ft]}}"),
        ["`size` of a has 2 of the three lengths"]
    );
    assert_eq!(
        says(
            "endpoints: {a: {}, b: {}}\nruns: {R: {from: a, to: b, beside: [{run: S, apart: far}]}, S: {from: b, to: a}}"
        ),
        ["`apart` in `beside` of R is `far`, which cannot be read"]
    );
    assert_eq!(
        says("building: hut"),
        ["`building` of the plan is `hut`, which is not a kind of building"]
    );
    assert_eq!(
        says("stock: {a: {cores: 2 x 12}}"),
        ["`cores` of a is 2 x 12, in which 12 has no unit"]
    );
    assert_eq!(
        says("\"\\e[31m\": 1"),
        ["the plan has the key `·[31m`, which a plan does not take"]
    );
}

/// A near word is asked after; the whole list of words stands only where none is near.
#[test]
fn advice_is_short() {
    let advice = |text: &str| {
        read(&format!("{HEAD}{text}\n")).findings[0]
            .put_right
            .clone()
            .unwrap_or_default()
    };
    assert_eq!(
        advice("endpoints: {e: {kind: speakr}}"),
        "did you mean `speaker`? It was read as that"
    );
    assert_eq!(
        advice("endpoints: {e: {kind: spekar}}"),
        "did you mean `speaker`?"
    );
    assert_eq!(
        advice("stock: {e: {grade: cat5}}"),
        "did you mean `cat5e`, `cat6` or `cat7`?"
    );
    assert!(advice("endpoints: {e: {kind: loudhailer}}").ends_with("motor, fan, appliance, sink"));
    assert!(advice("endpoints: {e: {kind: }}").len() < 80);
    let comma = advice("notes: {a: 1}\nendpoints: {e: {notes: 1,200 W}}");
    assert!(comma.contains("comma"), "{comma}");
}

#[test]
fn a_place_behind_an_alias_has_two_ends() {
    let read = read(&format!("{HEAD}notes: &f x\nrooms: {{b: {{floor: *f}}}}\n"));
    let (alias, anchored) = read.sources.spots(read.findings[0].marks[0].span);
    assert_eq!(read.sources.slice(alias), "*f");
    assert_eq!(anchored.map(|spot| read.sources.slice(spot)), Some("x"));
    assert!(
        read.findings[0].redlines.is_empty(),
        "an edit there would change other places"
    );
}

#[test]
fn catalogues() {
    let use_stock =
        "catalogue: [a.yaml]\nendpoints: {x: {}, y: {}}\nruns: {R: {from: x, to: y, stock: c}}\n";
    let with = |catalogue: &'static str, text: &str| {
        let shelf = [("a.yaml", catalogue)];
        let read = read_with(&format!("{HEAD}{text}"), &Shelf(&shelf)).expect("YAML");
        (read.points(), read.plan.stock.len())
    };
    let none: Vec<(&str, String)> = Vec::new();
    assert_eq!(
        with("stock: {b: {}, c: {for: data}}", use_stock),
        (none.clone(), 2)
    );
    // What the catalogue lacks is missing; what could not be read is reported once.
    assert_eq!(
        with("stock: {b: {}}", use_stock).0,
        [("plan.no-such-id", "c".into())]
    );
    assert_eq!(
        with("stock: [", use_stock),
        (vec![("plan.catalogue-unread", "a.yaml".into())], 0)
    );
    assert_eq!(
        with("", use_stock).0,
        [("plan.catalogue-unread", "a.yaml".into())]
    );
    // A catalogue names nothing but stock, whatever else is in it.
    let (points, _) = with(
        "runs: {R9: {}}\nendpoints: {z: {}}\nstock: {c: {}}",
        "catalogue: a.yaml\nendpoints: {x: {in: z}}\n",
    );
    let rules: Vec<_> = points.iter().map(|(rule, _)| *rule).collect();
    assert_eq!(
        rules,
        ["plan.no-such-id", "plan.unknown-key", "plan.unknown-key"]
    );
    // An alias of a list of catalogues is followed; the plan is no catalogue of its own.
    assert_eq!(
        with("stock: {c: {}}", "notes: &n [a.yaml]\ncatalogue: *n\n"),
        (none, 1)
    );
    assert_eq!(
        with("", "catalogue: house.plan.yaml\n").0,
        [("plan.catalogue-unread", "house.plan.yaml".into())]
    );
    // The same id in both is given twice.
    let both = format!("{use_stock}stock: {{c: {{}}}}\n");
    assert_eq!(
        with("stock: {c: {}}", &both).0,
        [("plan.duplicate-id", "c".into())]
    );
}

/// A name with a slip in it is read as what it surely means, so that nothing is said to lack what is there.
#[test]
fn a_name_with_a_slip_in_it_is_no_second_mistake() {
    let end = |to: &str| {
        let read = read(&format!(
            "{HEAD}endpoints: {{centre: {{}}, left: {{}}, S4: {{}}}}\nruns: {{R: {{from: left, to: {to}}}}}\nvariances: [{{rule: plan.loose-end, on: lefft}}]\n"
        ));
        let said: Vec<_> = read
            .findings
            .iter()
            .filter_map(|f| f.put_right.clone())
            .collect();
        let run = &read.plan.runs[0];
        let to = run.to.value().map(|to| read.plan.id(to.thing).to_string());
        assert!(
            read.plan.variances[0]
                .value
                .on
                .value()
                .is_none_or(|on| on.0.is_empty()),
            "what is let pass is not guessed"
        );
        (
            to,
            said.iter().any(|said| said.contains("It was read as that")),
        )
    };
    assert_eq!(end("center"), (Some("centre".into()), true));
    assert_eq!(end("Centre"), (Some("centre".into()), true));
    assert_eq!(end("cemtr"), (None, false), "two slips");
    assert_eq!(end("S5"), (None, false), "a digit is no slip");
}

/// A word with a slip in it is read likewise, so that its thing is judged all the same.
#[test]
fn a_word_with_a_slip_in_it_is_read_as_what_it_surely_means() {
    let kind = |word: &str| {
        let read = read(&format!("{HEAD}endpoints: {{e: {{kind: {word}}}}}\n"));
        assert_eq!(read.findings.len(), 1, "{word}");
        read.plan.endpoints[0].kind.value().map(|kind| kind.word())
    };
    assert_eq!(kind("speker"), Some("speaker"));
    assert_eq!(kind("Speaker"), Some("speaker"));
    assert_eq!(kind("spekar"), None, "two slips");
    assert_eq!(kind("raak"), None, "may be another short word");
    assert_eq!(kind("rcak"), Some("rack"));
    assert_eq!(kind("sesat"), Some("seat"));
    let grade = |word: &str| {
        let read = read(&format!(
            "{HEAD}stock: {{c: {{for: data, grade: {word}}}}}\n"
        ));
        let grade = read.plan.stock[0].grade.value();
        grade.map(|grade| grade.word())
    };
    assert_eq!(grade("cat 6a"), Some("cat6a"));
    assert_eq!(grade("cat9"), None, "a digit is no slip");
    let spare = |word: &str| {
        let text = format!("{HEAD}runs: {{R: {{spare: {word}}}}}\n");
        let read = read(&text);
        read.plan.runs[0].spare.value().map(|spare| spare.0)
    };
    assert_eq!(spare("YES"), Some(true));
    assert_eq!(spare("NO"), Some(false));
    assert_eq!(spare("on"), None, "neither is meant for sure");
}

/// What cannot be counts as not read, so that nothing more is worked out from it.
#[test]
fn a_point_outside_its_room_and_too_many_ties_count_as_not_read() {
    let read = read(&format!(
        "{HEAD}rooms: {{den: {{origin: [0 m, 0 m, 0 m], size: [3 m, 3 m, 3 m]}}}}\nstock: {{two: {{cores: 2 x 14 AWG}}}}\nendpoints: {{a: {{room: den, at: [1 m, 1 m, 1 m]}}, b: {{room: den, at: [9 m, 1 m, 1 m]}}}}\nruns: {{R: {{from: a, to: b, stock: two, tie: 2}}}}\n"
    ));
    let rules: Vec<_> = read.findings.iter().map(|finding| finding.rule).collect();
    assert_eq!(rules, ["plan.outside-room", "plan.tied-too-many"]);
    assert!(read.plan.endpoints[0].at.value().is_some());
    assert!(read.plan.endpoints[1].at.is_bad() && read.plan.runs[0].tie.is_bad());
}
