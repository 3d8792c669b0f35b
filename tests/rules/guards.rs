//! Power: what guards people and conductors. Zones, arc-fault and ground-fault devices, bundles, boxes, the space before a panel.
//!
//! Long because every branch, region and bound of seven rules has its case here.

use nailplate::findings::Level::Hazard;

use super::{edited, found, gaps, lines, reviewed};

const ZONE: &str = "power.unguarded-zone";

/// A gb house with run P1 of these keys, its circuit's keys, and pathways w (a wall), e (EMT in it), p (plastic in it).
fn wall(circuit: &str, run: &str) -> String {
    format!(
        "nailplate: 1\nregion: gb\nstock:\n  t: {{for: power, cores: 2 x 2.5 mm2 + earth}}\npathways:\n  w: {{kind: wall}}\n  c: {{kind: ceiling}}\n  e: {{kind: conduit, make: EMT, inside: w}}\n  p: {{kind: conduit, make: PVC-40, inside: w}}\n  x: {{kind: conduit, bore: 20 mm, inside: w}}\n  y: {{kind: conduit, make: PVC-40}}\ncircuits:\n  C1: {{breaker: 20 A, volts: 230 V{circuit}}}\nendpoints:\n  o: {{kind: outlet}}\nruns:\n  P1: {{from: C1, to: o, stock: t, length: 9 m{run}}}\n"
    )
}

#[test]
fn zones_of_a_wall() {
    // BS 7671 522.6.202 and 522.6.203, from memory: 50 mm deep, or inside the zones behind a 30 mA RCD.
    let (rcd, none) = (", protection: rcd-30ma", ", protection: []");
    let hazard = [("P1".to_owned(), Hazard)];
    let at = |circuit: &str, run: &str| found(&wall(circuit, run), ZONE);
    let lacks = |circuit: &str, run: &str| gaps(&wall(circuit, run), ZONE);
    assert_eq!(at(none, ", through: w, depth: 49 mm, zone: inside"), hazard);
    assert_eq!(at(none, ", through: w, depth: 50 mm, zone: outside"), []);
    assert_eq!(at(none, ", through: w, depth: 5 cm"), []);
    assert_eq!(at(rcd, ", through: w, depth: 20 mm, zone: inside"), []);
    assert_eq!(at(rcd, ", through: w, zone: inside"), []);
    assert_eq!(at(rcd, ", through: w, depth: 20 mm, zone: outside"), hazard);
    assert_eq!(at(none, ", through: w, depth: 20 mm"), hazard);
    assert_eq!(at(none, ", through: p, depth: 20 mm, zone: inside"), hazard);
    assert_eq!(at(none, ", through: [e, w], depth: 20 mm, zone: inside"), hazard);
    for run in [", through: e", ", through: c", ", through: w, surface: yes", ", through: w, spare: yes, depth: 9 mm", ", through: w, depth: 9 mm, done: {guarded: yes}"] {
        assert_eq!((at(none, run), lacks(none, run)), (vec![], vec![]), "{run}");
    }
    for (circuit, run, lack) in [
        (rcd, ", through: w, zone: outside", "depth of P1"), (none, ", through: w, zone: inside", "depth of P1"),
        ("", ", through: w, depth: 20 mm, zone: inside", "protection of C1"), (rcd, ", through: w, depth: 20 mm", "zone of P1"),
        (none, ", depth: 20 mm", "through of P1"), (none, ", through: x, depth: 20 mm", "make of x"), (none, ", through: y, depth: 20 mm", "inside of y"),
    ] {
        assert_eq!((lacks(circuit, run), at(circuit, run)), (vec![lack.to_owned()], vec![]), "{circuit}{run}");
    }
    // An RCD ahead in the line guards what comes after it, not the run to it.
    let after = |own: &str| wall(none, ", through: c").replace("runs:", "  o2: {kind: outlet}\nruns:\n  P2: {from: o, to: o2, stock: t, through: w, depth: 20 mm, zone: inside}")
        .replace("kind: outlet}\n  o2", &format!("kind: outlet{own}}}\n  o2"));
    assert_eq!(found(&after(""), ZONE), [("P2".to_owned(), Hazard)]);
    assert_eq!(found(&after(", protection: rcd-30ma"), ZONE), []);
    assert_eq!(found(&edited(&after(""), ZONE), ZONE), []);
    // Nothing feeds it; elsewhere the rule does not hold.
    let dead = wall(none, ", through: w, depth: 20 mm, zone: inside").replace("from: C1, to: o", "from: o, to: o2").replace("runs:", "  o2: {kind: outlet}\nruns:");
    assert_eq!(gaps(&dead, ZONE), ["a circuit that feeds P1"]);
    assert_eq!(found(&wall(none, ", through: w, depth: 9 mm").replace("gb", "eu"), ZONE), []);
    // A list over several lines takes one more as well.
    let long = wall("XX", ", through: w, depth: 9 mm, zone: inside").replace("{breaker: 20 A, volts: 230 VXX}", "\n    volts: 230 V\n    protection:\n      - surge\n    breaker: 20 A");
    assert_eq!(found(&long, ZONE), hazard);
    let long = edited(&long, ZONE);
    assert!(long.contains("[surge, rcd-30ma]"), "{long}");
    assert_eq!((found(&long, ZONE), gaps(&long, ZONE)), (vec![], vec![]));
}

const ARC: &str = "power.arc-fault-missing";

/// A house with a circuit of these keys into an outlet in a room of these keys.
fn outlet(top: &str, circuit: &str, room: &str, outlet: &str) -> String {
    format!(
        "nailplate: 1\n{top}\nrooms:\n  r: {{{room}}}\n  media: {{kind: room}}\nstock:\n  w: {{for: power, cores: 2 x 12 AWG + earth}}\ncircuits:\n  C1: {{{circuit}}}\nendpoints:\n  o: {{kind: outlet{outlet}}}\n  end: {{kind: appliance, load: 1 W, at-outlet: o, room: media}}\nruns:\n  P1: {{from: C1, to: o, stock: w, length: 9 m}}\n"
    )
}

const HOME: &str = "region: us\nbuilding: one-family";
const BARE: &str = "breaker: 20 A, volts: 120 V, protection: []";

#[test]
fn rooms_that_want_arc_fault_devices() {
    let hazard = [("C1".to_owned(), Hazard)];
    let kind = |kind: &str, circuit: &str| outlet(HOME, circuit, &format!("kind: {kind}"), ", room: r");
    // NEC 210.12(A): the list of rooms since 2014, read.
    for (room, listed) in [
        ("room", true), ("laundry", true), ("kitchen", true), ("basement, finished: yes", true), ("basement, finished: no", false),
        ("garage", false), ("bathroom", false), ("outdoors", false),
    ] {
        for code in ["", "\ncode: NEC 2017", "\ncode: NEC 2020", "\ncode: NEC 2023"] {
            let text = outlet(&format!("{HOME}{code}"), BARE, &format!("kind: {room}"), ", room: r");
            assert_eq!((found(&text, ARC), gaps(&text, ARC)), (if listed { hazard.to_vec() } else { vec![] }, vec![]), "{room}");
        }
    }
    for circuit in [
        "breaker: 20 A, volts: 120 V, protection: arc-fault", "breaker: 30 A, volts: 120 V, protection: []", "breaker: 20 A, volts: 240 V, poles: 2, protection: []",
        "breaker: 15 A, volts: 277 V, protection: []",
    ] {
        let text = kind("room", circuit);
        assert_eq!((found(&text, ARC), gaps(&text, ARC)), (vec![], vec![]), "{circuit}");
    }
    for circuit in ["breaker: 20 A, volts: 125 V, protection: ground-fault", "breaker: 15 A, volts: 115 V, protection: []"] {
        assert_eq!(found(&kind("room", circuit), ARC), hazard);
        assert_eq!(found(&edited(&kind("room", circuit), ARC), ARC), []);
    }
    for (circuit, room, keys, lack) in [
        ("breaker: 20 A, volts: 120 V", "kind: room", ", room: r", "protection of C1"), ("volts: 120 V, protection: []", "kind: room", ", room: r", "breaker of C1"),
        ("breaker: 20 A, protection: []", "kind: room", ", room: r", "volts of C1"), (BARE, "floor: 0", ", room: r", "kind of r"), (BARE, "kind: room", "", "room of o"),
        (BARE, "kind: basement", ", room: r", "finished of r"), (BARE, "kind: utility", ", room: r", "a kind of r that tells what it is used for"),
    ] {
        let text = outlet(HOME, circuit, room, keys);
        assert_eq!((gaps(&text, ARC), found(&text, ARC)), (vec![lack.to_owned()], vec![]), "{circuit} {room}");
    }
    let at = |top: &str| outlet(top, BARE, "kind: room", ", room: r");
    assert_eq!(gaps(&at("region: us"), ARC), ["building of the plan"]);
    assert_eq!(gaps(&at("region: ca\nbuilding: one-family"), ARC), ["a limit for ca"]);
    for none in ["region: us\nbuilding: commercial", "region: gb", "region: eu", "region: au"] {
        assert_eq!((found(&at(none), ARC), gaps(&at(none), ARC)), (vec![], vec![]), "{none}");
    }
    assert_eq!(found(&at("region: us\nbuilding: multi-family"), ARC), hazard);
    // Two circuits into a room without a kind: the room lacks it once.
    let two = outlet(HOME, BARE, "floor: 0", ", room: r").replace("endpoints:", &format!("  C2: {{{BARE}}}\nendpoints:\n  l: {{kind: light, room: r}}")) + "  P2: {from: C2, to: l, stock: w}\n";
    assert_eq!(gaps(&two, ARC), ["kind of r"]);
    // A joint box is no outlet; a device in the outlet leaves the way to it bare (210.12(A)(2) on, conditions that no plan states).
    assert_eq!(found(&kind("room", BARE).replace("kind: outlet", "kind: box"), ARC), []);
    let own = outlet(HOME, BARE, "kind: room", ", room: r, protection: arc-fault");
    assert_eq!((gaps(&own, ARC), found(&own, ARC)), (vec!["what guards the way from C1 to the arc-fault device in o".to_owned()], vec![]));
}

const GROUND: &str = "power.ground-fault-missing";

#[test]
fn places_that_want_ground_fault_devices() {
    // NEC 210.8(A), from memory. The editions differ in basements and kitchens.
    let hazard = vec![("o".to_owned(), Hazard)];
    let serves = "whether o serves the kitchen counter";
    for (room, [e2017, e2020, e2023]) in [
        ("garage", ["yes"; 3]), ("laundry", ["yes"; 3]), ("outdoors", ["yes"; 3]), ("bathroom", ["yes"; 3]), ("room", [""; 3]), ("utility", [""; 3]),
        ("basement", ["finished of r", "yes", "yes"]), ("basement, finished: yes", ["", "yes", "yes"]), ("basement, finished: no", ["yes"; 3]),
        ("kitchen", [serves, serves, "yes"]),
    ] {
        for (code, expected) in [("\ncode: NEC 2017", e2017), ("\ncode: NEC 2020", e2020), ("\ncode: NEC 2023", e2023), ("", e2023)] {
            let text = outlet(&format!("{HOME}{code}"), BARE, &format!("kind: {room}"), ", room: r");
            let (expected, lacks) = match expected { "yes" => (hazard.clone(), vec![]), "" => (vec![], vec![]), lack => (vec![], vec![lack.to_owned()]) };
            assert_eq!((found(&text, GROUND), gaps(&text, GROUND)), (expected.clone(), lacks), "{room}{code}");
            if !expected.is_empty() {
                assert_eq!(found(&edited(&text, GROUND), GROUND), [], "{room}{code}");
            }
        }
    }
    let at = |top: &str, circuit: &str, keys: &str| outlet(top, circuit, "kind: garage", &format!(", room: r{keys}"));
    for (circuit, keys) in [("breaker: 20 A, volts: 120 V, protection: ground-fault", ""), ("breaker: 20 A, volts: 277 V, protection: []", ""), (BARE, ", protection: ground-fault"), ("breaker: 20 A, volts: 120 V", ", protection: ground-fault")] {
        let text = at(HOME, circuit, keys);
        assert_eq!((found(&text, GROUND), gaps(&text, GROUND)), (vec![], vec![]), "{circuit}{keys}");
    }
    // No receptacle is made with a device in it for more than 125 V or 20 A (from memory): the edit goes to the breaker.
    for (circuit, in_outlet) in [("breaker: 20 A, volts: 120 V, protection: []", true), ("breaker: 20 A, volts: 240 V, protection: []", false), ("breaker: 30 A, volts: 120 V, protection: []", false)] {
        let better = edited(&at(HOME, circuit, ""), GROUND);
        assert_eq!((better.contains("protection: []"), found(&better, GROUND)), (in_outlet, vec![]), "{better}");
    }
    let old = format!("{HOME}\ncode: NEC 2017");
    assert_eq!(found(&at(&old, "breaker: 30 A, volts: 120 V, protection: []", ""), GROUND), []);
    assert_eq!(found(&at(HOME, "breaker: 30 A, volts: 240 V, protection: []", ""), GROUND), hazard);
    assert_eq!(found(&at(&old, "breaker: 20 A, volts: 240 V, protection: []", ""), GROUND), []);
    for (top, circuit, lack) in [
        (HOME, "breaker: 20 A, volts: 120 V", "protection of C1"), (HOME, "breaker: 20 A, protection: []", "volts of C1"), (&*old, "volts: 120 V, protection: []", "breaker of C1"),
        ("region: us", BARE, "building of the plan"), ("region: us\nbuilding: commercial", BARE, "the places of NEC 210.8(B) for a commercial building"), ("region: ca", BARE, "a limit for ca"),
    ] {
        let text = at(top, circuit, "");
        assert_eq!((gaps(&text, GROUND), found(&text, GROUND)), (vec![lack.to_owned()], vec![]), "{top} {circuit}");
    }
    assert_eq!(gaps(&outlet(HOME, BARE, "floor: 0", ", room: r"), GROUND), ["kind of r"]);
    assert_eq!(gaps(&outlet(HOME, BARE, "kind: room", ""), GROUND), ["room of o"]);
    // A device ahead in the line guards the outlets behind it.
    let line = |own: &str| at(HOME, BARE, own) + "  P2: {from: o, to: o2, stock: w}\n";
    let line = |own: &str| line(own).replace("runs:", "  o2: {kind: outlet, room: r}\nruns:");
    assert_eq!(found(&line(""), GROUND).len(), 2);
    assert_eq!(found(&line(", protection: ground-fault"), GROUND), []);
    assert_eq!(found(&edited(&line(""), GROUND), GROUND), []);
}

#[test]
fn within_reach_of_a_sink() {
    let hazard = vec![("o".to_owned(), Hazard)];
    let sink = |room: &str, outlet_at: &str, sink: &str| {
        outlet(HOME, BARE, room, &format!(", room: r{outlet_at}")).replace("runs:", &format!("  s: {{kind: sink{sink}}}\nruns:"))
    };
    let here = ", at: [0 ft, 0 ft, 0 ft]";
    for (room, at, keys, expected, lacks) in [
        ("kind: room", here, ", room: r, at: [6 ft, 0 ft, 0 ft]", true, vec![]), ("kind: room", here, ", room: r, at: [6.01 ft, 0 ft, 0 ft]", false, vec![]),
        ("kind: room", here, ", room: r, at: [1.8288 m, 0 m, 0 m]", true, vec![]), ("kind: room", here, ", room: r, at: [4 ft, 4 ft, 2 ft]", true, vec![]),
        ("kind: room", here, ", room: media, at: [1 ft, 0 ft, 0 ft]", false, vec![]), ("kind: room", here, ", room: r", false, vec!["at of s"]),
        ("kind: room", "", ", room: r, at: [1 ft, 0 ft, 0 ft]", false, vec!["at of o"]), ("kind: room", here, ", at: [1 ft, 0 ft, 0 ft]", false, vec!["room of s"]),
        ("floor: 0", here, ", room: r, at: [1 ft, 0 ft, 0 ft]", true, vec![]), ("floor: 0", here, ", room: r, at: [9 ft, 0 ft, 0 ft]", false, vec!["kind of r"]),
        ("kind: garage", "", ", room: r", true, vec![]),
    ] {
        let text = sink(room, at, keys);
        assert_eq!((found(&text, GROUND), gaps(&text, GROUND)), (if expected { hazard.clone() } else { vec![] }, lacks.iter().map(|l| (*l).to_owned()).collect()), "{room}{at}{keys}");
    }
}

#[test]
fn sockets_that_want_an_rcd() {
    // BS 7671, HD 60364-4-41, both 411.3.3; AS/NZS 3000 2.6.3: from memory.
    let hazard = vec![("o".to_owned(), Hazard)];
    for region in ["gb", "eu", "au"] {
        let of = |circuit: &str, keys: &str| outlet(&format!("region: {region}"), circuit, "floor: 0", keys).replace("12 AWG", "2.5 mm2");
        assert_eq!(found(&of("breaker: 32 A, volts: 230 V, protection: []", ""), GROUND), hazard);
        assert_eq!(found(&edited(&of("breaker: 16 A, volts: 230 V, protection: surge", ""), GROUND), GROUND), []);
        assert_eq!(found(&of("breaker: 32 A, protection: rcd-30ma", ""), GROUND), []);
        assert_eq!(found(&of("breaker: 32 A, protection: []", ", protection: rcd-30ma"), GROUND), []);
        assert_eq!(gaps(&of("breaker: 40 A, protection: []", ""), GROUND), ["the rated current of the sockets on C1"]);
        assert_eq!(gaps(&of("protection: []", ""), GROUND), ["breaker of C1"]);
        assert_eq!(gaps(&of("breaker: 16 A", ""), GROUND), ["protection of C1"]);
    }
}

#[test]
fn lights_of_a_dwelling_that_want_an_rcd() {
    // BS 7671 and HD 60364-4-41, both 411.3.4; AS/NZS 3000 2.6.3: from memory.
    let hazard = vec![("C1".to_owned(), Hazard)];
    for region in ["gb", "eu", "au"] {
        let of = |building: &str, circuit: &str, ends: &str, runs: &str| {
            format!("nailplate: 1\nregion: {region}\n{building}\nstock:\n  t: {{for: power, cores: 2 x 1.5 mm2 + earth}}\ncircuits:\n  C1: {{breaker: 6 A, volts: 230 V{circuit}}}\nendpoints:\n{}runs:\n{}", lines(ends), lines(runs))
        };
        let (none, rcd) = (", protection: []", ", protection: rcd-30ma");
        let (two, wired) = ("a: {kind: light}; b: {kind: light}", "P1: {from: C1, to: a, stock: t}; P2: {from: a, to: b, stock: t}");
        for building in ["building: one-family", "building: two-family", "building: multi-family"] {
            let text = of(building, none, two, wired);
            assert_eq!((found(&text, GROUND), gaps(&text, GROUND)), (hazard.clone(), vec![]), "{text}");
            let text = edited(&text, GROUND);
            assert_eq!((found(&text, GROUND), gaps(&text, GROUND)), (vec![], vec![]), "{text}");
        }
        let home = "building: one-family";
        let plug = "o: {kind: outlet, protection: rcd-30ma}; a: {kind: light, at-outlet: o}";
        for (building, circuit, ends, runs, lacks) in [
            (home, rcd, two, wired, vec![]), ("building: commercial", none, two, wired, vec![]), ("", rcd, two, wired, vec![]),
            ("", none, two, wired, vec!["building of the plan"]), (home, "", two, wired, vec!["protection of C1"]),
            // Lamps of extra-low voltage have another protection (414 of each, from memory).
            (home, none, "u: {kind: appliance}; a: {kind: light, volts: 12 V}", "P1: {from: C1, to: u, stock: t}; P2: {from: u, to: a, stock: t}", vec![]),
            (home, none, "a: {kind: light, volts: 50 V}", "P1: {from: C1, to: a, stock: t}", vec![]),
            // Guarded by what is ahead; on a plug; no light at all; nothing feeds it.
            (home, none, "o: {kind: outlet, protection: rcd-30ma}; a: {kind: light}", "P1: {from: C1, to: o, stock: t}; P2: {from: o, to: a, stock: t}", vec![]),
            (home, none, plug, "P1: {from: C1, to: o, stock: t}", vec![]), (home, none, "a: {kind: appliance}", "P1: {from: C1, to: a, stock: t}", vec![]), (home, none, two, "P2: {from: a, to: b, stock: t}", vec![]),
            // A socket on the same circuit: what the circuit lacks is one gap.
            (home, "", "o: {kind: outlet}; a: {kind: light}", "P1: {from: C1, to: o, stock: t}; P2: {from: o, to: a, stock: t}", vec!["protection of C1"]),
        ] {
            let text = of(building, circuit, ends, runs);
            assert_eq!((found(&text, GROUND), gaps(&text, GROUND)), (vec![], lacks.into_iter().map(str::to_owned).collect()), "{text}");
        }
        let says = &reviewed(&of(home, none, two, wired), GROUND).findings[0].says;
        assert_eq!(says, "C1 feeds the light a and 1 more in a dwelling without a 30 mA RCD");
    }
    // In us and ca lights want none.
    for region in ["us", "ca"] {
        let text = format!("nailplate: 1\nregion: {region}\nbuilding: one-family\ncircuits:\n  C1: {{breaker: 15 A, protection: []}}\nendpoints:\n  a: {{kind: light}}\nruns:\n  P1: {{from: C1, to: a, carries: power}}\n");
        assert_eq!((found(&text, GROUND), gaps(&text, GROUND)), (vec![], vec![]));
    }
}

const FULL: &str = "power.box-overfull";

/// A box o of these keys with a cable in and a cable on.
fn boxed(top: &str, kind: &str, keys: &str) -> String {
    format!(
        "nailplate: 1\n{top}\nstock:\n  w12: {{for: power, cores: 2 x 12 AWG + earth}}\n  w14: {{for: power, cores: 3 x 14 AWG + earth}}\n  bare: {{for: power}}\n  mm: {{for: power, cores: 2 x 2.5 mm2}}\n  d: {{for: data, cores: 8 x 23 AWG}}\n\
         circuits:\n  C1: {{breaker: 20 A}}\nendpoints:\n  o: {{kind: {kind}{keys}}}\n  z: {{kind: appliance}}\nruns:\n  P1: {{from: C1, to: o, stock: w12}}\n  P2: {{from: o, to: z, stock: w12}}\n  D1: {{from: o, to: z, stock: d}}\n"
    )
}

#[test]
fn volume_of_boxes() {
    // NEC 314.16(B), from memory: two 12/2 cables, one receptacle, clamps: 4 + 1 + 2 + 1 shares of 2.25 in3 are 18 in3.
    let us = "region: us";
    let hazard = vec![("o".to_owned(), Hazard)];
    for (kind, keys, expected, lacks) in [
        ("outlet", ", volume: 18 in3, clamps: yes", false, ""), ("outlet", ", volume: 17.9 in3, clamps: yes", true, ""), ("outlet", ", volume: 295 cm3, clamps: yes", false, ""),
        ("outlet", ", volume: 294 cm3, clamps: yes", true, ""), ("wall-switch", ", volume: 15.75 in3, clamps: no", false, ""), ("outlet", ", volume: 15.7 in3, clamps: no", true, ""),
        // 4 + 1 shares are 11.25 in3, one more for clamps 13.5.
        ("box", ", volume: 11.25 in3, clamps: no", false, ""), ("box", ", volume: 11.2 in3", true, ""), ("box", ", volume: 13.4 in3", false, "clamps of o"), ("box", ", volume: 13.5 in3", false, ""),
        ("box", ", volume: 13.5 in3, clamps: no, yokes: 1", true, ""), ("outlet", ", volume: 18 in3, clamps: no, yokes: 2", true, ""), ("outlet", ", clamps: yes", false, "volume of o"), ("box", "", false, "volume of o"),
        ("wall-plate", "", false, ""), ("wall-plate", ", volume: 9 in3", true, ""), ("inlet", ", volume: 11.25 in3, clamps: no", false, ""),
    ] {
        let text = boxed(us, kind, keys);
        let lacks: Vec<String> = Some(lacks.to_owned()).filter(|lack| !lack.is_empty()).into_iter().collect();
        assert_eq!((found(&text, FULL), gaps(&text, FULL)), (if expected { hazard.clone() } else { vec![] }, lacks), "{kind}{keys}");
    }
    // Cables of two sizes: 3 × 2 + 2 × 2.25 in3, the earths by the larger of theirs, 2.25.
    let two = boxed(us, "box", ", volume: 12.75 in3, clamps: no").replace("P2: {from: o, to: z, stock: w12", "P2: {from: o, to: z, stock: w14");
    assert_eq!((found(&two, FULL), found(&two.replace("12.75", "12.7"), FULL)), (vec![], hazard.clone()));
    // A spare is in the box all the same; cores that are not known count when all else fits; metric cores have no share.
    assert_eq!(found(&boxed(us, "box", ", volume: 11 in3, clamps: no").replace("stock: w12}\n  D1", "stock: w12, spare: yes}\n  D1"), FULL), hazard);
    let bare = |volume: &str| boxed(us, "box", &format!(", volume: {volume}, clamps: no")).replace("stock: w12}\n  D1", "stock: bare}\n  D1");
    assert_eq!((gaps(&bare("9 in3"), FULL), found(&bare("9 in3"), FULL)), (vec!["cores of bare".to_owned()], vec![]));
    assert_eq!(found(&bare("6 in3"), FULL), hazard);
    assert_eq!(gaps(&boxed(us, "box", ", volume: 9 in3").replace("stock: w12}", "stock: mm}"), FULL), ["the volume of the conductors in o"]);
    // Seven cables of 12/2 have three earthing conductors over four: from 2020 on a quarter share each.
    let many = |code: &str| boxed(&format!("{us}{code}"), "box", ", volume: 33.75 in3, clamps: no") + &(3..8).map(|n| format!("  P{n}: {{from: o, to: z, stock: w12}}\n")).collect::<String>();
    assert_eq!(found(&many("\ncode: NEC 2017"), FULL), []);
    assert_eq!(found(&many("\ncode: NEC 2020"), FULL), hazard);
    // An outlet in a box is in the box's volume.
    let inner = boxed(us, "box", ", volume: 15.7 in3, clamps: no").replace("  z:", "  i: {kind: outlet, in: o}\n  z:").replace("from: o, to: z, stock: w12", "from: i, to: z, stock: w12");
    assert_eq!((found(&inner, FULL), gaps(&inner, FULL)), (hazard.clone(), vec![]));
    assert_eq!(found(&inner.replace("15.7 in3", "15.75 in3"), FULL), []);
    // The edit sets the smallest common box; data runs alone make no power box.
    for (kind, keys) in [("outlet", ", volume: 9 in3"), ("box", ", volume: 9 in3, clamps: yes")] {
        let better = edited(&boxed(us, kind, keys), FULL);
        assert_eq!((found(&better, FULL), gaps(&better, FULL)), (vec![], vec![]), "{better}");
    }
    for region in ["ca", "gb", "eu", "au"] {
        assert_eq!(gaps(&boxed(&format!("region: {region}"), "box", ", volume: 9 in3"), FULL), [format!("a limit for {region} (the volume of boxes)")]);
    }
    assert_eq!(gaps("nailplate: 1\nregion: us\nendpoints: {b: {kind: box}, c: {kind: rack}}\nruns: {D1: {from: b, to: c, carries: data}}\n", FULL), [""; 0]);
}

const BUNDLE: &str = "power.bundle-derated";

/// A circuit of one breaker with a run P1 of these keys to two outlets, and pathways: an attic, conduits c (9 ft), r (9 ft, by its route) and n (24 in), walls f
/// (filled), u (unfilled), w (nothing said).
fn bundle(region: &str, breaker: &str, stock: &str, run: &str) -> String {
    format!(
        "nailplate: 1\nregion: {region}\nstock:\n  w14: {{for: power, cores: 2 x 14 AWG + earth, rating: NM-B}}\n  w12: {{for: power, cores: 2 x 12 AWG + earth, rating: NM-B, material: copper}}\n  w10: {{for: power, cores: 2 x 10 AWG + earth, rating: NM-B, material: copper}}\n  \
         w3: {{for: power, cores: 3 x 14 AWG + earth, rating: NM-B}}\n  no: {{for: power, cores: 2 x 14 AWG + earth}}\n  uf: {{for: power, cores: 2 x 14 AWG + earth, rating: UF-B}}\n  mm: {{for: power, cores: 2 x 2.5 mm2}}\n  bare: {{for: power}}\n\
         pathways:\n  a: {{kind: attic}}\n  c: {{kind: conduit, length: 9 ft}}\n  n: {{kind: conduit, length: 24 in}}\n  l: {{kind: conduit}}\n  r: {{kind: conduit, route: [5 ft, 90 deg, 4 ft]}}\n  f: {{kind: wall, framing: {{filled: yes}}}}\n  u: {{kind: wall, framing: {{filled: no}}}}\n  m: {{kind: wall, framing: {{hole: 1 in}}}}\n  w: {{kind: wall}}\n\
         circuits:\n  C1: {{breaker: {breaker}}}\n  C2: {{breaker: 15 A}}\nendpoints:\n  o: {{kind: outlet}}\n  p: {{kind: outlet}}\n  z: {{kind: light}}\nruns:\n  Z0: {{from: o, to: p, stock: w14, surface: yes}}\n  P1: {{from: C1, to: o, stock: {stock}{run}}}\n"
    )
}

/// As many more runs of a circuit of their own with these keys.
fn crowd(text: &str, count: usize, keys: &str) -> String {
    let more: String = (0..count).map(|n| format!("  Q{n}: {{from: C2, to: z, stock: w14{keys}}}\n")).collect();
    text.replace("z: {kind: light}", &format!("z: {{kind: light, inlets: {}}}", count.max(1))) + &more
}

#[test]
fn bundles_of_cables() {
    // AM01 to AM04 ("Code Q&A Sept 2004: bundled NM cables", NEC table 310.15(C)(1)): 9 conductors leave 14 AWG 17.5 A, 12 AWG 21 A and
    // 10 AWG 28 A of their 90 °C columns; 10 leave 14 AWG 12.5 A, which fails a 15 A breaker.
    let hazard = vec![("P1".to_owned(), Hazard)];
    let of = |breaker: &str, stock: &str, keys: &str| bundle("us", breaker, stock, &format!(", through: a, {keys}"));
    let long = ", bundled-over: 25 in";
    for (breaker, stock, count, expected) in [
        ("15 A", "w14", 4, false), ("15 A", "w14", 5, true), ("20 A", "w12", 4, false), ("20 A", "w12", 5, true), ("30 A", "w10", 4, false), ("25 A", "w10", 4, false), ("25 A", "w10", 5, true),
        ("15 A", "w14", 1, false), ("20 A", "w14", 5, true), ("15 A", "w12", 10, false),
        // 20 A of the 90 °C column are left, more than the 15 A of the 60 °C column: that breaker is too large without the bundle.
        ("20 A", "w14", 2, false),
    ] {
        // 28 A of 10 AWG round up to 30 A only where no more than one receptacle hangs on it (240.4(B)).
        let expected = expected || breaker == "30 A";
        let text = of(breaker, stock, &format!("bundle: {count}{long}"));
        assert_eq!((found(&text, BUNDLE), gaps(&text, BUNDLE)), (if expected { hazard.clone() } else { vec![] }, vec![]), "{breaker} {stock} {count}");
        let lights = text.replace("kind: outlet", "kind: light");
        assert_eq!(found(&lights, BUNDLE).is_empty(), !expected || matches!((breaker, stock, count), ("30 A", ..) | ("15 A", "w14", 5)), "{breaker} {stock} {count}");
    }
    // Of copper 15 A are left and of aluminium 12.5 A (25 A at 90 °C, from memory): 15 A is open, 10 A passes by both, 20 A by neither.
    for (breaker, got) in [("10 A", (vec![], vec![])), ("15 A", (vec![], vec!["material of w12".to_owned()])), ("20 A", (hazard.clone(), vec![]))] {
        let text = of(breaker, "w12", &format!("bundle: 5{long}")).replace(", material: copper", "");
        assert_eq!((found(&text, BUNDLE), gaps(&text, BUNDLE)), got, "{breaker}");
    }
    let one = of("15 A", "w14", &format!("bundle: 5{long}")).replace("p: {kind: outlet}", "p: {kind: light}");
    assert_eq!(gaps(&one, BUNDLE), ["ports of o"]);
    for (ports, wrong) in [(1, false), (2, true)] {
        let text = one.replace("o: {kind: outlet", &format!("o: {{kind: outlet, ports: {ports}"));
        assert_eq!((found(&text, BUNDLE).len(), gaps(&text, BUNDLE)), (usize::from(wrong), vec![]), "{ports}");
    }
    // Above 20 A there is but one place to plug in: 28 A of 10 AWG round up to 30 A.
    let large = of("30 A", "w10", &format!("bundle: 4{long}")).replace("p: {kind: outlet}", "p: {kind: light}");
    assert_eq!((found(&large, BUNDLE), gaps(&large, BUNDLE)), (vec![], vec![]));
    for (stock, keys, lack) in [
        ("w14", "bundle: 5, bundled-over: 24 in", ""), ("w14", "bundle: 5, bundled-over: 609.6 mm", ""), ("w14", "bundle: 5", "bundled-over of P1"), ("w14", "bundle: 4", ""),
        ("w3", "bundle: 4, bundled-over: 9 ft", "which cores beside P1 carry current"), ("no", "bundle: 2, bundled-over: 9 ft", "rating of no"),
        ("mm", "bundle: 2, bundled-over: 9 ft", "a table of what 2.5 mm2 may carry in a bundle for mm"), ("bare", "bundle: 2, bundled-over: 9 ft", "cores of bare"), ("w14", "spare: yes, bundle: 5, bundled-over: 9 ft", ""),
    ] {
        let text = of("15 A", stock, keys);
        let lacks: Vec<String> = Some(lack.to_owned()).filter(|lack| !lack.is_empty()).into_iter().collect();
        assert_eq!((gaps(&text, BUNDLE), found(&text, BUNDLE)), (lacks, vec![]), "{stock} {keys}");
    }
    assert_eq!(found(&of("15 A", "w3", "bundle: 5, bundled-over: 9 ft"), BUNDLE), hazard);
    // NEC 310.15(E)(1) and (2), from memory: of 120/240 V the neutral does not count, of two phases of 208 V it does.
    for (volts, lacks) in [("120 V", 0), ("240 V", 0), ("208 V", 1), ("240 V, poles: 3", 1)] {
        let text = of(&format!("15 A, volts: {volts}"), "w3", "bundle: 4, bundled-over: 9 ft");
        assert_eq!((found(&text, BUNDLE), gaps(&text, BUNDLE).len()), (vec![], lacks), "{volts}");
    }
    assert_eq!(gaps(&of("15 A", "w14", "bundle: 5, bundled-over: 9 ft").replace("breaker: 15 A}\n  C2", "volts: 120 V}\n  C2"), BUNDLE), ["breaker of C1"]);
    let better = edited(&of("20 A", "w12", "bundle: 7, bundled-over: 9 ft"), BUNDLE);
    assert!(better.contains("bundle: 4") && found(&better, BUNDLE).is_empty(), "{better}");
}

/// NEC 310.16, 310.15(C)(1) and 340.80, 310.4(1), 110.14(C), equation 310.15(B), the last four from memory.
#[test]
fn what_is_bundled_and_how_warm_it_lies() {
    let hazard = vec![("P1".to_owned(), Hazard)];
    // Two outlets hang on the circuit, so that no next standard breaker saves it.
    let of = |rating: &str, breaker: &str, count: u32, more: &str| bundle("us", breaker, "t", &format!(", through: a, bundle: {count}, bundled-over: 9 ft{more}"))
        .replace("stock:\n", &format!("stock:\n  t: {{for: power, cores: 2 x 12 AWG + earth, rating: {rating}, material: copper}}\n"));
    for (rating, breaker, count, more, wrong) in [
        // 8 conductors leave 21 A of 30 A, 10 leave 15 A; of 75 °C 17.5 A; of 60 °C 14 A.
        ("THHN", "20 A", 4, "", false), ("THHN", "20 A", 5, "", true), ("THHN/THWN-2", "20 A", 4, "", false), ("THW", "20 A", 4, "", true), ("THW", "20 A", 3, "", false), ("TW", "20 A", 2, "", true), ("TW", "15 A", 2, "", false),
        ("UF-B", "20 A", 2, "", true), ("UF-B", "15 A", 3, "", false), ("UF-B", "15 A", 4, "", true), ("TYPE NM-B", "20 A", 4, "", false), ("TYPE NM-B", "20 A", 5, "", true),
        // 4 to 6 leave 24 A, at 60 °C 17 A, at 45 °C 20.8 A; what is colder than 30 °C gains nothing; at 90 °C nothing is left.
        ("NM-B", "20 A", 3, ", ambient: 60 degC", true), ("NM-B", "20 A", 3, ", ambient: 140 degF", true), ("NM-B", "20 A", 3, ", ambient: 45 degC", false), ("NM-B", "20 A", 5, ", ambient: 0 degC", true), ("NM-B", "15 A", 2, ", ambient: 90 degC", true), ("NM-B", "20 A", 1, ", ambient: 60 degC", false),
        ("MC", "20 A", 4, "", false),
    ] {
        let text = of(rating, breaker, count, more);
        assert_eq!((found(&text, BUNDLE), gaps(&text, BUNDLE)), (if wrong { hazard.clone() } else { vec![] }, vec![]), "{rating} {breaker} {count}{more}");
    }
    // In a wet place THHN/THWN is for 75 °C, with `-2` for 90 °C.
    for (rating, wrong) in [("THHN/THWN", true), ("THHN/THWN-2", false)] {
        let text = of(rating, "20 A", 4, "").replace("a: {kind: attic}", "a: {kind: underground}");
        assert_eq!(found(&text, BUNDLE), if wrong { hazard.clone() } else { vec![] }, "{rating}");
    }
    // An exception for MC and AC cable hangs on what a plan does not tell; of other cable no table is held.
    for (rating, lack) in [("MC", "a table of bundled MC cable"), ("AC", "a table of bundled AC cable"), ("SER", "a table of bundled SER cable")] {
        assert_eq!(gaps(&of(rating, "20 A", 5, ""), BUNDLE), [lack]);
    }
    let review = reviewed(&of("THHN", "20 A", 5, ", ambient: 50 degC"), BUNDLE);
    let figure = review.findings[0].figure.as_ref().expect("a figure");
    assert_eq!(figure.working, "30 A (12 AWG, 90 °C column) × 50 % for 10 conductors × 81.6 % at 50 °C = 12.25 A");
    let authority = review.findings[0].authority.clone().unwrap_or_default();
    assert!(authority.contains("310.15(B)") && authority.contains("110.14(C)"), "{authority}");
}

#[test]
fn cables_that_share_a_pathway() {
    let of = |way: &str, keys: &str, count: usize| crowd(&bundle("us", "15 A", "w14", &format!(", through: {way}{keys}")), count, &format!(", through: {way}{keys}"));
    let led = |text: &str| found(text, BUNDLE).iter().any(|found| found.0 == "P1");
    // Five cables of two are ten conductors; four are eight, which 14 AWG at 15 A stands (AM01).
    for (way, keys, most, lack) in [
        ("c", "", true, ""), ("n", "", false, ""), ("n", ", bundle: 1", false, ""), ("l", "", false, "length of l"), ("r", "", true, ""), ("f", ", bundle: 1", true, ""), ("u", ", bundle: 1", false, ""),
        ("u", "", false, "bundle of the power runs in u"), ("m", ", bundle: 1", false, "filled in framing of m"), ("w", ", bundle: 1", false, "framing of w"), ("a", "", false, "bundle of the power runs in a"), ("a", ", bundle: 1", false, ""),
    ] {
        assert_eq!((led(&of(way, keys, 4)), gaps(&of(way, keys, 4), BUNDLE).join("; ")), (most, lack.to_owned()), "{way}{keys}");
        assert_eq!((led(&of(way, keys, 3)), gaps(&of(way, keys, 3), BUNDLE)), (false, vec![]), "{way}{keys}");
    }
    // Spares count in raceway (note to the table, from memory); cables of which it is not known where they lie may lie here too.
    for (way, wrong) in [("c", true), ("f", false), ("a", false)] {
        let text = crowd(&bundle("us", "15 A", "w14", &format!(", through: {way}")), 6, &format!(", through: {way}, spare: yes"));
        assert_eq!((led(&text), gaps(&text, BUNDLE)), (wrong, vec![]), "{way}");
    }
    let astray = crowd(&of("c", "", 3), 0, "") + "  R1: {from: C2, to: z, stock: w14}\n";
    assert_eq!((gaps(&astray, BUNDLE), found(&astray, BUNDLE)), (vec!["through of R1".to_owned()], vec![]));
    let lost = crowd(&bundle("us", "15 A", "w14", ""), 4, "");
    // The others feed a light, where the next standard breaker may stay.
    assert_eq!((gaps(&lost, BUNDLE), found(&lost, BUNDLE)), (vec!["through of P1".to_owned()], vec![]));
    assert_eq!(gaps(&crowd(&bundle("us", "15 A", "w14", ""), 3, ""), BUNDLE), [""; 0]);
    assert_eq!(gaps(&crowd(&bundle("us", "15 A", "w14", ", through: c"), 2, ", through: c").replace("stock: w14, through: c}\n  Q1", "stock: bare, through: c}\n  Q1"), BUNDLE), ["cores of bare"]);
    for region in ["ca", "gb", "eu", "au"] {
        let text = crowd(&bundle(region, "15 A", "w14", ", through: a, bundle: 2"), 3, ", through: a");
        assert_eq!((gaps(&text, BUNDLE).len(), found(&text, BUNDLE)), (2, vec![]));
    }
}

const SPACE: &str = "power.panel-blocked";

/// A panel at the south wall of room r that looks north: its front at y = 4 in, its middle at x = 100 in. Then other endpoints.
fn before(region: &str, panel: &str, others: &str) -> String {
    format!(
        "nailplate: 1\nregion: {region}\nrooms:\n  r: {{floor: 0}}\n  q: {{origin: [0 ft, 0 ft, 10 ft]}}\nendpoints:\n  mains: {{kind: breaker-panel{panel}}}\n{others}"
    )
}

#[test]
fn the_space_before_a_panel() {
    // NEC 110.26(A), from memory: 30 in wide or the panel's width, 36 in deep, 78 in high.
    let panel = ", room: r, at: [100 in, 2 in, 60 in], size: [15 in, 4 in, 30 in], faces: y";
    let rack = |keys: &str| before("us", panel, &format!("  k: {{kind: rack, room: r{keys}}}\n"));
    let blocked = vec![("k".to_owned(), Hazard)];
    for (keys, expected) in [
        // Near side at 40 in, exactly 36 in from the front; an inch nearer; in metric.
        (", at: [100 in, 52 in, 36 in], size: [20 in, 24 in, 72 in], faces: y", false), (", at: [100 in, 51 in, 36 in], size: [20 in, 24 in, 72 in], faces: -y", true),
        (", at: [100 in, 52 in, 36 in], size: [24 in, 20 in, 72 in], faces: x", false), (", at: [100 in, 51 in, 36 in], size: [24 in, 20 in, 72 in], faces: -x", true),
        (", at: [2.54 m, 1.3 m, 90 cm], size: [50 cm, 60 cm, 180 cm], faces: y", true), (", at: [2.54 m, 1.32 m, 90 cm], size: [50 cm, 60 cm, 180 cm], faces: y", false),
        // Aside: with the panel 15 in wide the space may shift, if nothing stands on the other side.
        (", at: [118 in, 20 in, 36 in], size: [20 in, 24 in, 72 in], faces: y", false), (", at: [117 in, 20 in, 36 in], size: [20 in, 24 in, 72 in], faces: y", true),
        // Behind the panel's front; above 78 in; between the two.
        (", at: [100 in, -20 in, 36 in], size: [20 in, 24 in, 72 in], faces: y", false), (", at: [100 in, 20 in, 88 in], size: [20 in, 20 in, 20 in], faces: y", false),
        (", at: [100 in, 20 in, 87 in], size: [20 in, 20 in, 20 in], faces: y", true),
    ] {
        assert_eq!((found(&rack(keys), SPACE), gaps(&rack(keys), SPACE)), (if expected { blocked.clone() } else { vec![] }, vec![]), "{keys}");
        // Whatever else states a size, but for what is part of something; in another room it is in nobody's way.
        let plate = rack(keys).replace("kind: rack", "kind: display");
        assert_eq!(found(&plate, SPACE), found(&rack(keys), SPACE));
        assert_eq!(found(&rack(keys).replace("k: {kind: rack, room: r", "k: {kind: rack, room: q"), SPACE), []);
        assert_eq!(found(&rack(keys).replace("k: {kind: rack, room: r", "k: {kind: rack, in: s").replace("  k:", "  s: {kind: seat}\n  k:"), SPACE), []);
    }
    // Panels that look the other ways.
    for (faces, at, near, far) in [("-y", "[100 in, 2 in, 60 in]", "[100 in, -47 in, 36 in]", "[100 in, -48 in, 36 in]"), ("x", "[2 in, 100 in, 60 in]", "[51 in, 100 in, 36 in]", "[52 in, 100 in, 36 in]"), ("-x", "[2 in, 100 in, 60 in]", "[-47 in, 100 in, 36 in]", "[-48 in, 100 in, 36 in]")] {
        let of = |rack: &str| before("us", &format!(", room: r, at: {at}, size: [15 in, 4 in, 30 in], faces: {faces}"), &format!("  k: {{kind: rack, room: r, at: {rack}, size: [24 in, 24 in, 72 in]}}\n"));
        assert_eq!((found(&of(near), SPACE), found(&of(far), SPACE)), (blocked.clone(), vec![]), "{faces}");
    }
    // Left and right of the panel: 29 in between them are too few, 30 in are enough; a panel 40 in wide wants its width.
    let both = |left: &str, right: &str| before("us", panel, &["k", "m"].iter().zip([left, right]).map(|(id, x)| format!("  {id}: {{kind: appliance, room: r, at: [{x}, 20 in, 36 in], size: [24 in, 24 in, 72 in]}}\n")).collect::<String>());
    assert_eq!(found(&both("73 in", "126 in"), SPACE), blocked);
    assert_eq!(found(&both("73 in", "127 in"), SPACE), []);
    assert_eq!(found(&both("68 in", "132 in").replace("15 in, 4 in", "40 in, 4 in"), SPACE), []);
    assert_eq!(found(&both("69 in", "132 in").replace("15 in, 4 in", "40 in, 4 in"), SPACE), blocked);
    // Which way it faces matters only where its sides differ enough.
    let turned = |at: &str| rack(&format!(", at: {at}, size: [20 in, 30 in, 72 in]"));
    assert_eq!((gaps(&turned("[100 in, 53 in, 36 in]"), SPACE), found(&turned("[100 in, 53 in, 36 in]"), SPACE)), (vec!["faces of k".to_owned()], vec![]));
    assert_eq!((gaps(&turned("[100 in, 55 in, 36 in]"), SPACE), found(&turned("[100 in, 49 in, 36 in]"), SPACE)), (vec![], blocked.clone()));
    let here = ", at: [100 in, 20 in, 36 in], size: [20 in, 24 in, 72 in], faces: y";
    for (panel, others, lack) in [
        (panel, "  k: {kind: rack, room: r, size: [20 in, 24 in, 72 in]}\n", "at of k"), (panel, "  k: {kind: rack, room: r, at: [100 in, 20 in, 36 in]}\n", "size of k"), (panel, "  k: {kind: rack}\n", "room of k"),
        (", room: r, size: [15 in, 4 in, 30 in], faces: y", "  k: {kind: rack, room: r}\n", "at of mains"), (", room: r, at: [100 in, 2 in, 60 in], faces: y", "  k: {kind: rack, room: r}\n", "size of mains"),
        (", room: r, at: [100 in, 2 in, 60 in], size: [15 in, 4 in, 30 in]", "  k: {kind: rack, room: r}\n", "faces of mains"), (panel, "  k: {kind: rack, room: q}\n", ""), ("", "  k: {kind: light}\n", ""),
    ] {
        let lacks: Vec<String> = Some(lack.to_owned()).filter(|lack| !lack.is_empty()).into_iter().collect();
        assert_eq!((gaps(&before("us", panel, others), SPACE), found(&before("us", panel, others), SPACE)), (lacks, vec![]), "{panel} {others}");
    }
    // What stands square before the place of a panel blocks it, however large that is.
    let no_size = |rack: &str| before("us", ", room: r, at: [100 in, 2 in, 60 in], faces: y", &format!("  k: {{kind: rack, room: r, at: {rack}, size: [24 in, 24 in, 72 in]}}\n"));
    assert_eq!(found(&no_size("[100 in, 20 in, 36 in]"), SPACE), blocked);
    for aside in ["[113 in, 20 in, 36 in]", "[100 in, 51 in, 36 in]"] {
        assert_eq!((gaps(&no_size(aside), SPACE), found(&no_size(aside), SPACE)), (vec!["size of mains".to_owned()], vec![]), "{aside}");
    }
    // Geometry decides where a room is not told.
    assert_eq!(found(&rack(here).replace("kind: rack, room: r", "kind: rack"), SPACE), blocked);
    assert_eq!(found(&rack(here).replace("kind: breaker-panel, room: r", "kind: breaker-panel"), SPACE), blocked);
    for region in ["ca", "gb", "eu", "au"] {
        assert_eq!(gaps(&before(region, panel, &format!("  k: {{kind: rack, room: r{here}}}\n")), SPACE), [format!("a limit for {region}")]);
    }
    // An upper floor: the rack's feet are 10 ft up, where the floor of q is.
    let up = rack(here).replace("room: r", "room: q").replace("36 in], size: [20", "156 in], size: [20").replace("2 in, 60 in]", "2 in, 180 in]");
    assert_eq!(found(&up, SPACE), blocked);
}

#[test]
fn runs_that_lie_together_are_one_finding() {
    let text = crowd(&bundle("us", "15 A", "w14", ", through: c"), 3, ", through: c").replace("stock: w14, surface: yes", "stock: w14, through: c");
    let review = super::reviewed(&text, BUNDLE);
    let says: Vec<_> = review.findings.iter().map(|found| found.says.as_str()).collect();
    assert_eq!(says, ["P1 and Z0 are on a breaker of 15 A, allowed are 12.5 A with 10 current-carrying conductors together in c"]);
}
