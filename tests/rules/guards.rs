//! Power: what guards people and conductors. Zones, arc-fault and ground-fault devices, bundles, boxes, the space before a panel.

use nailplate::findings::Level::Hazard;

use super::{edited, found, gaps};

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
