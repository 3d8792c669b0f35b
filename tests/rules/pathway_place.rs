//! Where cable lies and joints sit: wet places (NEC 310.10, 300.5, 300.9, 334.12, from memory), joints in reach (NEC 314.29).

use nailplate::findings::Level::{Fault, Hazard};

use super::{edited, exactly, reviewed};

const WET: &str = "pathway.not-for-wet";
const JOINT: &str = "pathway.buried-joint";
const REGIONS: [&str; 5] = ["us", "ca", "gb", "eu", "au"];

fn wet(region: &str, kind: &str, s: &str, through: &str) -> String {
    format!(
        "nailplate: 1\nregion: {region}\nstock:\n  s: {{{s}}}\n  t: {{for: data, wet: yes}}\npathways:\n  w: {{{kind}}}\n  \
         p: {{kind: conduit, inside: w}}\nendpoints:\n  a: {{kind: rack}}\n  b: {{kind: keypad}}\nruns:\n  \
         R1: {{from: a, to: b, stock: s, through: {through}}}\n  R2: {{from: a, to: b, stock: s, through: {through}}}\n"
    )
}

#[test]
fn indoor_cable_in_wet_places() {
    let both = &[("R1", Fault), ("R2", Fault)][..];
    for region in REGIONS {
        for kind in ["outdoors", "underground", "slab"] {
            let kind = format!("kind: {kind}");
            exactly(&wet(region, &kind, "for: data, wet: no", "w"), WET, both, &[]);
            exactly(&wet(region, &kind, "for: data, wet: yes", "w"), WET, &[], &[]);
            // The inside of a conduit there is as wet; a run is told once.
            exactly(&wet(region, &kind, "for: data, wet: no", "[p, w]"), WET, both, &[]);
            exactly(&wet(region, &kind, "for: data", "p"), WET, &[], &["wet of s"]);
        }
        for kind in ["wall", "attic", "crawl-space", "floor"] {
            exactly(&wet(region, &format!("kind: {kind}"), "for: data, wet: no", "w"), WET, &[], &[]);
        }
    }
    let text = wet("us", "kind: slab", "for: data, wet: no", "w");
    assert_eq!(reviewed(&text, WET).findings[0].says, "R1 passes w, which is in a slab, as s, which is not made for wet places");
    let after = edited(&text, WET);
    assert_eq!(after.matches("stock: t").count(), 2, "{after}");
    exactly(&after, WET, &[], &[]);
}

#[test]
fn listings_that_tell_wet_from_dry() {
    for (rating, expected, lacks) in [
        ("UF-B", &[][..], &[][..]),
        ("USE-2", &[], &[]),
        ("THHN/THWN-2", &[], &[]),
        // NEC 320.12, from memory.
        ("AC", &[("R1", Fault), ("R2", Fault)], &[]),
        ("XHHW-2", &[], &[]),
        ("NMWU", &[], &[]),
        ("[CMX, direct burial]", &[], &[]),
        ("CMR Wet Location", &[], &[]),
        ("NM-B", &[("R1", Fault), ("R2", Fault)], &[]),
        ("THHN", &[], &["wet of s"]),
        ("CMX", &[], &["wet of s"]),
        ("none", &[], &["wet of s"]),
    ] {
        exactly(&wet("us", "kind: underground", &format!("for: power, rating: {rating}"), "w"), WET, expected, lacks);
    }
    // What is stated of the stock goes before its listing.
    exactly(&wet("us", "kind: underground", "for: power, rating: UF-B, wet: no", "w"), WET, &[("R1", Fault), ("R2", Fault)], &[]);
    exactly(&wet("us", "kind: underground", "for: power, rating: NM-B, wet: yes", "w"), WET, &[], &[]);
    exactly(&wet("us", "notes: garden", "for: data, wet: no", "w"), WET, &[], &["kind of w"]);
    exactly(&wet("us", "notes: garden", "for: data, wet: no", "[]"), WET, &[], &[]);
    exactly(&wet("us", "kind: slab", "for: data, wet: perhaps", "w"), WET, &[], &[]);
    let text = wet("us", "kind: slab", "for: data", "w").replace("R1: {from: a, to: b, stock: s,", "R1: {from: a, to: b,");
    exactly(&text, WET, &[], &["stock of R1", "wet of s"]);
}

/// A plan with an endpoint `j` and runs of the given stocks from `a` to `j`.
fn joint(region: &str, j: &str, runs: &[&str]) -> String {
    let mut text = format!(
        "nailplate: 1\nregion: {region}\nstock:\n  s: {{for: speaker}}\n  d: {{for: data}}\n  p: {{for: power}}\n  odd: {{rating: CM}}\n\
         endpoints:\n  a: {{kind: rack}}\n  j: {{{j}}}\nruns:\n  N: {{from: a, to: a, stock: s}}\n"
    );
    for (n, stock) in runs.iter().enumerate() {
        text += &format!("  R{n}: {{from: a, to: j, stock: {stock}}}\n");
    }
    text
}

#[test]
fn joints_out_of_reach() {
    for region in REGIONS {
        for (kind, by_nature) in [
            ("box", false), ("splitter", false), ("wall-plate", true), ("outlet", true), ("inlet", true), ("data-outlet", true),
            ("patch-panel", true), ("entry", true), ("distribution", true),
        ] {
            let kind = format!("kind: {kind}");
            let hidden = format!("{kind}, access: no");
            exactly(&joint(region, &hidden, &["s", "s"]), JOINT, &[("j", Fault)], &[]);
            exactly(&joint(region, &hidden, &["p", "p"]), JOINT, &[("j", Hazard)], &[]);
            exactly(&joint(region, &hidden, &["s", "s", "p", "p"]), JOINT, &[("j", Hazard)], &[]);
            exactly(&joint(region, &format!("{kind}, access: yes"), &["p", "p"]), JOINT, &[], &[]);
            let lacks = if by_nature { &[][..] } else { &["access of j"] };
            exactly(&joint(region, &kind, &["s", "s"]), JOINT, &[], lacks);
        }
    }
}

#[test]
fn what_counts_as_a_joint() {
    let hidden = "kind: box, access: no";
    exactly(&joint("us", hidden, &["s"]), JOINT, &[], &[]);
    exactly(&joint("us", hidden, &["s", "d", "p"]), JOINT, &[], &[]);
    exactly(&joint("us", hidden, &["s", "s, spare: yes"]), JOINT, &[], &[]);
    exactly(&joint("us", hidden, &["s", "d", "d"]), JOINT, &[("j", Fault)], &[]);
    exactly(&joint("us", hidden, &["s", "odd"]), JOINT, &[], &["`for` of odd"]);
    exactly(&joint("us", hidden, &["odd", "odd"]), JOINT, &[], &["`for` of odd"]);
    exactly(&joint("us", hidden, &["odd"]), JOINT, &[], &[]);
    exactly(&joint("us", hidden, &["s", "s", "odd"]), JOINT, &[("j", Fault)], &[]);
    exactly(&joint("us", "kind: box", &["s"]), JOINT, &[], &[]);
    exactly(&joint("us", "kind: box, in: a", &["s", "s"]), JOINT, &[], &[]);
    exactly(&joint("us", "kind: box, in: a, access: no", &["s", "s"]), JOINT, &[("j", Fault)], &[]);
    exactly(&joint("us", "kind: box, access: perhaps", &["s", "s"]), JOINT, &[], &[]);
    // An active device ends a channel, it does not join it.
    exactly(&joint("us", "kind: amplifier, access: no", &["s", "s"]), JOINT, &[], &[]);
    exactly(&joint("us", "kind: distribution, load: 9 W, access: no", &["d", "d"]), JOINT, &[], &[]);
    assert!(reviewed(&joint("us", "kind: box", &["p", "p"]), JOINT).gaps[0].loud);
    let text = joint("us", hidden, &["s", "s", "s", "s"]);
    assert_eq!(reviewed(&text, JOINT).findings[0].says, "j joins R0, R1 and 2 more and cannot be reached once the wall is closed");
    exactly(&edited(&text, JOINT), JOINT, &[], &[]);
}

#[test]
fn a_pull_box_out_of_reach() {
    let text = |j: &str, second: &str, run: &str| {
        joint("us", j, &[]).replace(
            "endpoints:",
            &format!("pathways:\n  c: {{kind: conduit, from: a, to: j}}\n  e: {{kind: conduit, {second}}}\nendpoints:\n  b: {{kind: keypad}}"),
        ) + &format!("  T: {{from: a, to: b, stock: {run}, through: [c, e]}}\n")
    };
    let hidden = "kind: box, access: no";
    exactly(&text(hidden, "from: j, to: b", "s"), JOINT, &[("j", Fault)], &[]);
    exactly(&text(hidden, "from: j, to: b", "p"), JOINT, &[("j", Hazard)], &[]);
    exactly(&text(hidden, "to: b", "s"), JOINT, &[], &[]);
    exactly(&text("kind: box, access: yes", "from: j, to: b", "s"), JOINT, &[], &[]);
    exactly(&text("kind: box", "from: j, to: b", "s"), JOINT, &[], &["access of j"]);
    let says = &reviewed(&text(hidden, "from: j, to: b", "s"), JOINT).findings[0].says;
    assert_eq!(says, "j stands between c and e and cannot be reached once the wall is closed");
}
