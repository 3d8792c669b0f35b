//! Pictures, seats and loudspeakers in a room; what holds them.

use nailplate::findings::Level::Advice;

use super::{edited, exactly};

#[track_caller]
fn check(text: &str, rule: &str, expected: &[&str], lacks: &[&str]) {
    let expected: Vec<_> = expected.iter().map(|id| (*id, Advice)).collect();
    exactly(text, rule, &expected, lacks);
}

const BACKING: &str = "room.no-backing";

/// A thing in a room whose floor is at 1 m.
fn thing(thing: &str) -> String {
    format!(
        "nailplate: 1\nregion: au\nrooms:\n  r: {{origin: [0 m, 0 m, 1 m], size: [9 m, 9 m, 3 m]}}\nendpoints:\n  \
         rack: {{kind: rack}}\n  e: {{{thing}}}\n"
    )
}

/// Weight and height: common practice, no source.
#[test]
fn something_solid_behind_what_hangs() {
    for kind in ["display", "projector", "screen"] {
        check(&thing(&format!("kind: {kind}, backing: no")), BACKING, &["e"], &[]);
        check(&thing(&format!("kind: {kind}, backing: yes")), BACKING, &[], &[]);
        check(&thing(&format!("kind: {kind}")), BACKING, &[], &["backing of e"]);
        check(&thing(&format!("kind: {kind}, backing: perhaps")), BACKING, &[], &[]);
        check(&thing(&format!("kind: {kind}, backing: no, in: rack")), BACKING, &[], &[]);
    }
    for (weight, expected, lacks) in [
        ("weight: 5 kg", &[][..], &[][..]),
        ("weight: 5.01 kg", &["e"], &[]),
        ("weight: 11 lb", &[], &[]),
        ("weight: 11.1 lb", &["e"], &[]),
        ("active: yes", &[], &["weight of e"]),
    ] {
        check(&thing(&format!("kind: speaker, backing: no, {weight}")), BACKING, expected, lacks);
    }
    check(&thing("kind: speaker, weight: 30 kg"), BACKING, &[], &["backing of e"]);
    check(&thing("kind: speaker, backing: yes"), BACKING, &[], &[]);
    for kind in ["subwoofer", "rack", "seat", "light"] {
        check(&thing(&format!("kind: {kind}, backing: no, weight: 90 kg")), BACKING, &[], &[]);
    }
    check(&thing("backing: no"), BACKING, &[], &["kind of e"]);
}

#[test]
fn what_stands_on_the_floor_needs_no_backing() {
    // The floor is at 1 m, and 12 in are 0.3048 m.
    for (at, expected) in [("1.3 m", &[][..]), ("1.31 m", &["e"]), ("1.8 m, size: [1 m, 1 m, 1 m]", &[]), ("1.81 m, size: [1 m, 1 m, 1 m]", &["e"])] {
        let (z, size) = at.split_once(", ").unwrap_or((at, ""));
        let size = if size.is_empty() { String::new() } else { format!(", {size}") };
        check(&thing(&format!("kind: display, backing: no, room: r, at: [1 m, 1 m, {z}]{size}")), BACKING, expected, &[]);
    }
    check(&thing("kind: display, backing: no, at: [1 m, 1 m, 0.3 m]"), BACKING, &[], &[]);
    check(&thing("kind: display, backing: no, at: [1 m, 1 m, 1.3 m]"), BACKING, &["e"], &[]);
}

#[test]
fn blocking_is_set() {
    let after = edited(&thing("kind: screen, backing: no"), BACKING);
    assert!(after.contains("backing: yes"), "{after}");
    check(&after, BACKING, &[], &[]);
}
