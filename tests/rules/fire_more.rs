//! Cords, building wire, barriers and plastic conduit. NEC 400.12, 300.22, 334.12, 300.21, 362.12, all from memory
//! except 400.12 (facts of the rulebook: "Flexible cord not permitted through or concealed in walls, ceilings, floors").

use nailplate::findings::Level::Hazard;

use super::{exactly, reviewed};

const CORD: &str = "fire.cord-in-wall";
const WIRE: &str = "fire.building-wire-in-plenum";
const SEAL: &str = "fire.unsealed-barrier";
const PIPE: &str = "fire.plastic-conduit-in-plenum";

/// A plan with one power run P1 in stock s.
fn power(region: &str, stock: &str, ways: &str, run: &str) -> String {
    let ways = ways.replace("; ", "\n  ");
    let ways = if ways.is_empty() { String::new() } else { format!("pathways:\n  {ways}\n") };
    format!(
        "nailplate: 1\nregion: {}\nstock:\n  s: {{{stock}}}\n{ways}circuits:\n  C1: {{breaker: 15 A}}\nendpoints:\n  b: {{kind: light}}\n\
         runs:\n  P1: {{from: C1, to: b, stock: s, {run}}}\n",
        region.replace(", ", "\n")
    )
}

#[track_caller]
fn is(text: &str, rule: &str, on: Option<&str>) {
    let expected: Vec<_> = on.map(|on| (on, Hazard)).into_iter().collect();
    exactly(text, rule, &expected, &[]);
}

#[track_caller]
fn lacks(text: &str, rule: &str, what: &str) {
    exactly(text, rule, &[], &[what]);
}

const SJT: &str = "for: power, rating: SJT";
const NM: &str = "for: power, rating: NM-B";
const IN: &str = "through: [w]";

#[test]
fn a_cord_is_a_hazard_wherever_it_is_hidden() {
    for (kind, wrong) in [
        ("wall", true), ("ceiling", true), ("floor", true), ("attic", true), ("crawl-space", true), ("plenum", true),
        ("riser", true), ("conduit", true), ("raceway", true), ("surface", false), ("cabinet", false), ("tray", false),
    ] {
        let ways = &format!("w: {{kind: {kind}}}");
        is(&power("us", SJT, ways, IN), CORD, wrong.then_some("P1"));
        is(&power("ca", SJT, ways, IN), CORD, wrong.then_some("P1"));
        is(&power("us", NM, ways, IN), CORD, None);
    }
    // Conduit on the surface hides a cord, too; the open does not.
    is(&power("us", SJT, "w: {kind: conduit, inside: o}; o: {kind: surface}", IN), CORD, Some("P1"));
    is(&power("us", SJT, "w: {kind: wall}", "surface: yes"), CORD, None);
    is(&power("us", SJT, "w: {kind: wall}", "through: [w], spare: yes"), CORD, Some("P1"));
}

#[test]
fn a_cord_is_known_by_its_listing_or_by_being_flexible() {
    let wall = "w: {kind: wall}";
    for (stock, wrong) in [
        ("for: power, rating: SVT", true),
        ("for: power, rating: SPT-2", true),
        ("for: power, rating: UL SJTW 300V", true),
        ("for: power, rating: H05VV-F", true),
        ("for: power, rating: [none, SJO]", true),
        ("for: power, flexible: yes", true),
        ("for: power, flexible: yes, rating: none", true),
        ("for: power, flexible: no, rating: SJT", true),
        ("for: power, flexible: no", false),
        ("for: power, flexible: no, rating: none", false),
        ("for: power, rating: MC", false),
        ("for: power, rating: THHN/THWN-2", false),
    ] {
        is(&power("us", stock, wall, IN), CORD, wrong.then_some("P1"));
    }
    // No signal cable is judged here, whatever it is made of.
    is(&power("us", SJT, wall, "through: [w], carries: speaker"), CORD, None);
    lacks(&power("us", "for: power", wall, IN), CORD, "rating of s");
    lacks(&power("us", "for: power, rating: none", wall, IN), CORD, "flexible of s");
    lacks(&power("us", "for: power, rating: XY", wall, IN), CORD, "a known type of power cable for s (no table has XY)");
    lacks(&power("us", SJT, wall, "length: 3 ft"), CORD, "through of P1");
    lacks(&power("us", "rating: SJT", wall, IN), CORD, "`for` of s");
    is(&power("us", "for: power, rating: []", wall, "through: [nowhere]"), CORD, None);
    for region in ["gb", "eu", "au"] {
        let what = format!("a limit for {region} on hidden cord");
        lacks(&power(region, SJT, wall, IN), CORD, &what);
        is(&power(region, "for: power", wall, IN), CORD, None);
    }
}

#[test]
fn building_wire_may_only_cross_a_joist_bay_square() {
    let bay = "w: {kind: plenum, air: joist-bay}";
    is(&power("us", NM, "w: {kind: plenum}", IN), WIRE, Some("P1"));
    is(&power("us", NM, "w: {kind: plenum, air: duct}", IN), WIRE, Some("P1"));
    is(&power("us", NM, "w: {kind: wall}", IN), WIRE, None);
    is(&power("us", NM, bay, IN), WIRE, Some("P1"));
    is(&power("us", NM, bay, "through: [w], crosses: along"), WIRE, Some("P1"));
    is(&power("us", NM, bay, "through: [w], crosses: square"), WIRE, None);
    is(&power("us, building: commercial", NM, bay, "through: [w], crosses: square"), WIRE, Some("P1"));
    is(&power("us", NM, "w: {kind: plenum}", "through: [w], crosses: square"), WIRE, Some("P1"));
    // The air reaches what lies on the surface, too.
    is(&power("us", NM, "w: {kind: plenum}", "through: [w], surface: yes"), WIRE, Some("P1"));
    // A bay that is crossed square does not excuse the next space.
    let two = "w: {kind: plenum, air: joist-bay}; v: {kind: plenum}";
    is(&power("us", NM, two, "through: [w, v], crosses: square"), WIRE, Some("P1"));
    for (rating, wrong) in [("NM-B", true), ("UF-B", true), ("SER", true), ("THHN", true), ("none", true), ("MC", false), ("AC", false)] {
        let stock = &format!("for: power, rating: {rating}");
        is(&power("us", stock, "w: {kind: plenum}", IN), WIRE, wrong.then_some("P1"));
    }
    for make in ["EMT", "FMC", "ENT"] {
        let pipe = &format!("w: {{kind: conduit, make: {make}, inside: p}}; p: {{kind: plenum}}");
        is(&power("us", NM, pipe, IN), WIRE, None);
    }
    // A cord is another rule's.
    is(&power("us", SJT, "w: {kind: plenum}", IN), WIRE, None);
    let says = &reviewed(&power("us", NM, "w: {kind: plenum}", IN), WIRE).findings[0].says;
    assert_eq!(says, "P1 is building wire without metal around it (NM-B) and lies in w, a plenum");
}

#[test]
fn what_is_not_known_of_building_wire_is_a_gap() {
    let plenum = "w: {kind: plenum}";
    lacks(&power("us", "for: power", plenum, IN), WIRE, "rating of s");
    lacks(&power("us", "for: power, rating: XY", plenum, IN), WIRE, "a known type of power cable for s (no table has XY)");
    lacks(&power("us", NM, plenum, "length: 9 ft"), WIRE, "through of P1");
    lacks(&power("us", NM, "w: {fire-hours: 0}", IN), WIRE, "kind of w");
    lacks(&power("us", "rating: NM-B", plenum, IN), WIRE, "`for` of s");
    is(&power("us", "for: power, rating: MC", plenum, "length: 9 ft"), WIRE, None);
    is(&power("us", NM, "w: {kind: plenum, air: thick}", IN), WIRE, None);
    for region in ["ca", "gb", "eu", "au"] {
        let what = format!("a limit for {region} on power cable in spaces that move air");
        for stock in [NM, "for: power"] {
            lacks(&power(region, stock, plenum, IN), WIRE, &what);
        }
        is(&power(region, "for: power, rating: MC", plenum, IN), WIRE, None);
    }
}

#[test]
fn a_rated_barrier_is_sealed() {
    for region in ["us", "ca", "gb", "eu", "au"] {
        for (way, wrong) in [
            ("kind: wall, fire-hours: 1", true),
            ("kind: wall, fire-hours: 0.5, sealed: no", true),
            ("kind: wall, fire-hours: 1, sealed: yes", false),
            ("kind: wall, fire-hours: 0", false),
            ("kind: attic, fire-hours: 1", true),
            ("kind: attic", false),
            ("kind: conduit", false),
        ] {
            is(&power(region, NM, &format!("w: {{{way}}}"), IN), SEAL, wrong.then_some("w"));
        }
    }
    for kind in ["wall", "ceiling", "floor", "riser", "slab"] {
        lacks(&power("us", NM, &format!("w: {{kind: {kind}}}"), IN), SEAL, "fire-hours of w");
    }
    // Nothing passes: nothing to seal. An empty conduit is an opening all the same.
    is(&power("us", NM, "w: {kind: wall, fire-hours: 1}", "surface: yes"), SEAL, None);
    let pipe = "w: {kind: wall, fire-hours: 1}; c: {kind: conduit, inside: w}";
    is(&power("us", NM, pipe, "surface: yes"), SEAL, Some("w"));
    is(&power("us", NM, pipe, "through: [c]"), SEAL, Some("w"));
    is(&power("us", NM, "w: {kind: wall, fire-hours: 1, sealed: perhaps}", IN), SEAL, None);
    is(&power("us", NM, "w: {kind: wall, fire-hours: long}", IN), SEAL, None);
    let text = power("us", NM, pipe, "through: [c]");
    let says = &reviewed(&text, SEAL).findings[0].says;
    assert_eq!(says, "w resists fire for 1 hour and lets P1, c through, and is not marked sealed");
}

#[test]
fn plastic_conduit_keeps_out_of_plenums() {
    let pipe = |more: &str, air: &str| format!("w: {{kind: conduit, inside: p{more}}}; p: {{kind: plenum{air}}}");
    let judged = |region: &str, ways: &str, wrong| is(&power(region, NM, ways, IN), PIPE, if wrong { Some("w") } else { None });
    for (make, wrong) in [("ENT", true), ("PVC-40", true), ("PVC-80", true), ("LFNC", true), ("EMT", false), ("FMC", false), ("RMC", false), ("IMC", false)] {
        judged("us", &pipe(&format!(", make: {make}"), ""), wrong);
    }
    judged("us", &pipe(", make: ENT, listing: plenum", ""), false);
    judged("us", &pipe(", make: ENT, listing: [riser, plenum]", ""), false);
    judged("us", &pipe(", make: ENT, listing: riser", ""), true);
    judged("us", &pipe(", make: ENT, listing: plenum", ", air: duct"), true);
    judged("us", &pipe(", make: ENT", ", air: joist-bay"), true);
    judged("us", "w: {kind: conduit, make: ENT, inside: v}; v: {kind: wall}; p: {kind: plenum}", false);
    let square = |head: &str, air: &str| power(head, NM, &pipe(", make: ENT", air), "through: [w], crosses: square");
    is(&square("us", ", air: joist-bay"), PIPE, None);
    is(&square("us", ""), PIPE, Some("w"));
    is(&square("us, building: commercial", ", air: joist-bay"), PIPE, Some("w"));
    // Plastic in metal is in metal; a tray hands on what it lies in.
    judged("us", "w: {kind: conduit, make: ENT, inside: m}; m: {kind: conduit, make: EMT, inside: p}; p: {kind: plenum}", false);
    judged("us", "w: {kind: conduit, make: ENT, inside: t}; t: {kind: tray, inside: p}; p: {kind: plenum}", true);
    let empty = |ways: &str| power("us", NM, ways, "surface: yes");
    is(&empty(&pipe(", make: ENT", "")), PIPE, Some("w"));
    lacks(&empty(&pipe(", make: ENT", ", air: joist-bay")), PIPE, "a run in w that says how it crosses");
    lacks(&empty(&pipe("", "")), PIPE, "make of w");
    lacks(&empty("w: {kind: conduit, make: ENT}; p: {kind: plenum}"), PIPE, "inside of w");
    is(&empty("w: {kind: conduit, make: EMT}; p: {kind: plenum}"), PIPE, None);
    is(&empty("w: {kind: conduit, make: ENT, listing: plenum}; p: {kind: plenum}"), PIPE, None);
    lacks(&empty("w: {kind: conduit, make: ENT, listing: plenum}; p: {kind: plenum, air: duct}"), PIPE, "inside of w");
    lacks(&empty("w: {make: ENT, inside: p}; p: {kind: plenum}"), PIPE, "kind of w");
    is(&empty("w: {kind: conduit, make: ENT}; p: {kind: wall}"), PIPE, None);
    lacks(&empty("w: {kind: conduit, make: ENT, inside: p}; p: {fire-hours: 0}; q: {kind: plenum}"), PIPE, "kind of p");
    for region in ["ca", "gb", "eu", "au"] {
        let what = format!("a limit for {region} on conduit in spaces that move air");
        lacks(&power(region, NM, &pipe(", make: ENT", ""), IN), PIPE, &what);
        judged(region, &pipe(", make: EMT", ""), false);
    }
}
