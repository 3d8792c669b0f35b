//! Plans of any size, for benchmarks: groups of ten runs around a rack of their own. Invented.

use std::fmt::Write as _;

/// Runs in one group.
const GROUP: usize = 10;

/// A plan of about `runs` runs. With `faulty`, one run in ten is a speaker line too thin.
pub fn plan(runs: usize, faulty: bool) -> String {
    let groups = runs.div_ceil(GROUP);
    let mut text = String::from(
        "nailplate: 1\ntitle: Plover Court, generated\nregion: us\nbuilding: multi-family\nstage: rough-in\n\
         stock:\n\
         \x20 spk-12: {for: speaker, cores: 2 x 12 AWG, rating: CL3, diameter: 0.33 in}\n\
         \x20 spk-18: {for: speaker, cores: 2 x 18 AWG, rating: CL3, diameter: 0.20 in}\n\
         \x20 nm-12: {for: power, cores: 2 x 12 AWG + earth, rating: NM-B, material: copper}\n\
         \x20 xlr: {for: line, balanced: yes, rating: CM, diameter: 0.2 in}\n\
         \x20 hdmi: {for: video, grade: premium-high-speed, build: optical, reach: 100 ft, rating: CL3, diameter: 0.2 in}\n\
         \x20 cat6a: {for: data, grade: cat6a, cores: 8 x 23 AWG, rating: CMR, diameter: 0.29 in}\n",
    );
    section(&mut text, "rooms", groups, |out, n| {
        let _ = writeln!(
            out,
            "  room-{n}: {{size: [22 ft, 15 ft, 9 ft], origin: [0 ft, 0 ft, 0 ft], floor: 0}}"
        );
    });
    section(&mut text, "pathways", groups, |out, n| {
        let _ = writeln!(out, "  wall-{n}: {{kind: wall, fire-hours: 0}}");
        let _ = writeln!(
            out,
            "  pipe-{n}: {{kind: conduit, make: ENT, size: 1-1/4, length: 30 ft, bends: [90 deg, 45 deg], from: rack-{n}, to: pj-{n}, pull-string: yes, inside: wall-{n}}}"
        );
    });
    section(&mut text, "circuits", groups, |out, n| {
        let _ = writeln!(
            out,
            "  C{n}: {{breaker: 20 A, volts: 120 V, serves: rack-{n}, protection: [arc-fault]}}"
        );
        let _ = writeln!(
            out,
            "  D{n}: {{breaker: 20 A, volts: 120 V, serves: sub-{n}, protection: [arc-fault]}}"
        );
    });
    section(&mut text, "endpoints", groups, |out, n| {
        let _ = writeln!(
            out,
            "  rack-{n}: {{kind: rack, room: room-{n}, at: [20 ft, 1 ft, 3 ft], load: 700 W, earthed: yes, protects: [surge, battery]}}"
        );
        let _ = writeln!(
            out,
            "  patch-{n}: {{kind: patch-panel, in: rack-{n}, ports: 24}}"
        );
        let _ = writeln!(
            out,
            "  pj-{n}: {{kind: projector, room: room-{n}, at: [16 ft, 7 ft, 8 ft], load: 430 W, picture: 3840x2160 @ 60 Hz, depth: 8 bit, chroma: \"4:4:4\"}}"
        );
        let _ = writeln!(
            out,
            "  sub-{n}: {{kind: subwoofer, room: room-{n}, at: [1 ft, 5 ft, 1 ft], load: 600 W, peak: 1500 W, earthed: yes}}"
        );
        for (place, y) in [("left", 3), ("right", 12), ("centre", 7)] {
            let _ = writeln!(
                out,
                "  {place}-{n}: {{kind: speaker, room: room-{n}, at: [1 ft, {y} ft, 3 ft], impedance: 8 ohm, place: {place}}}"
            );
        }
    });
    section(&mut text, "runs", groups, |out, n| {
        let _ = writeln!(
            out,
            "  P{n}: {{from: C{n}, to: rack-{n}, stock: nm-12, length: 48 ft, through: [wall-{n}]}}"
        );
        let _ = writeln!(
            out,
            "  Q{n}: {{from: rack-{n}, to: pj-{n}, stock: nm-12, length: 30 ft, through: [wall-{n}]}}"
        );
        let _ = writeln!(
            out,
            "  R{n}: {{from: D{n}, to: sub-{n}, stock: nm-12, length: 55 ft, through: [wall-{n}]}}"
        );
        for (place, stock) in [
            ("left", "spk-12"),
            ("right", "spk-12"),
            ("centre", if faulty { "spk-18" } else { "spk-12" }),
        ] {
            let _ = writeln!(
                out,
                "  S-{place}-{n}: {{from: patch-{n}, to: {place}-{n}, stock: {stock}, length: 52 ft, through: [wall-{n}], beside: [{{run: R{n}, apart: 14 in, over: 20 ft}}]}}"
            );
        }
        let _ = writeln!(
            out,
            "  L{n}: {{from: patch-{n}, to: sub-{n}, stock: xlr, length: 40 ft, through: [wall-{n}]}}"
        );
        let _ = writeln!(
            out,
            "  V{n}: {{from: rack-{n}, to: pj-{n}, stock: hdmi, length: 36 ft, through: [pipe-{n}]}}"
        );
        let _ = writeln!(
            out,
            "  W{n}: {{from: rack-{n}, to: pj-{n}, stock: hdmi, length: 36 ft, through: [pipe-{n}], spare: yes}}"
        );
        let _ = writeln!(
            out,
            "  E{n}: {{from: patch-{n}, to: pj-{n}, stock: cat6a, length: 52 ft, rate: 1 Gbit/s, through: [wall-{n}]}}"
        );
    });
    text
}

fn section(text: &mut String, name: &str, groups: usize, mut one: impl FnMut(&mut String, usize)) {
    let _ = writeln!(text, "{name}:");
    for n in 0..groups {
        one(text, n);
    }
}
