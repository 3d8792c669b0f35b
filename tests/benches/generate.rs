//! Plans of any size, for benchmarks: groups of fifteen runs around a rack of their own, each in
//! two rooms of its own. Complete: the whole rulebook finds nothing in it and misses nothing.
//! Invented.

use std::fmt::Write as _;

/// Runs in one group.
const GROUP: usize = 15;

/// Groups side by side; the next ones lie behind them.
const ACROSS: usize = 100;

/// Walls between groups are as thick as this leaves, in feet.
const PITCH: [usize; 2] = [30, 16];

/// A plan of about `runs` runs. With `faulty`, one run in ten is a speaker line too thin.
pub fn plan(runs: usize, faulty: bool) -> String {
    let groups = runs.div_ceil(GROUP);
    let mut text = String::from(
        "nailplate: 1\ntitle: Plover Court, generated\nregion: us\nbuilding: multi-family\nstage: rough-in\n\
         code: NEC 2023\n\
         stock:\n\
         \x20 spk-12: {for: speaker, cores: 4 x 12 AWG, rating: CL3, diameter: 0.40 in}\n\
         \x20 spk-18: {for: speaker, cores: 4 x 18 AWG, rating: CL3, diameter: 0.26 in}\n\
         \x20 nm-12: {for: power, cores: 2 x 12 AWG + earth, rating: NM-B, material: copper, jacketed: yes}\n\
         \x20 xlr: {for: line, balanced: yes, rating: CM, diameter: 0.2 in}\n\
         \x20 hdmi: {for: video, grade: premium-high-speed, build: optical, reach: 100 ft, rating: CL3, diameter: 0.2 in, head: 0.8 in x 0.4 in x 1.9 in, weight: 21 lb/kft, pull-limit: 45 lbf, bend-radius: 1 in}\n\
         \x20 cat6a: {for: data, grade: cat6a, cores: 8 x 23 AWG, rating: CMR, diameter: 0.29 in}\n",
    );
    section(&mut text, "rooms", groups, |out, n| {
        let [x, y] = corner(n);
        let _ = writeln!(
            out,
            "  room-{n}: {{kind: room, size: [22 ft, 15 ft, 9 ft], origin: [{x} ft, {y} ft, 0 ft], floor: 0}}"
        );
        let _ = writeln!(
            out,
            "  closet-{n}: {{kind: utility, size: [6 ft, 15 ft, 9 ft], origin: [{} ft, {y} ft, 0 ft], floor: 0, cooled: yes}}",
            x + 22
        );
    });
    section(&mut text, "pathways", groups, |out, n| {
        let _ = writeln!(
            out,
            "  wall-{n}: {{kind: wall, fire-hours: 0, framing: [{{member: stud, depth: 5.5 in, bearing: yes, doubled: no, hole: 1 in, edge: 2.25 in, filled: no}}]}}"
        );
        let _ = writeln!(
            out,
            "  ceiling-{n}: {{kind: ceiling, fire-hours: 0, framing: [{{member: joist, depth: 11.25 in, span: 14 ft, hole: 1.5 in, edge: 4.5 in, filled: no}}]}}"
        );
        let _ = writeln!(
            out,
            "  pipe-{n}: {{kind: conduit, make: ENT, size: 1-1/4, length: 24 ft, bends: [90 deg, 45 deg], from: rack-{n}, to: pj-{n}, pull-string: yes, inside: ceiling-{n}}}"
        );
    });
    section(&mut text, "circuits", groups, |out, n| {
        for (name, serves) in [
            ("A", format!("rack-{n}")),
            ("B", format!("rack-{n}")),
            ("C", format!("[sub-{n}, bass-{n}]")),
        ] {
            let _ = writeln!(
                out,
                "  {name}{n}: {{breaker: 20 A, volts: 120 V, poles: 1, serves: {serves}, protection: [arc-fault], panel: panel-{n}}}"
            );
        }
    });
    section(&mut text, "endpoints", groups, endpoints);
    section(&mut text, "runs", groups, |out, n| runs_of(out, n, faulty));
    text
}

/// Where a group stands, in feet.
fn corner(n: usize) -> [usize; 2] {
    [n % ACROSS * PITCH[0], n / ACROSS * PITCH[1]]
}

fn endpoints(out: &mut String, n: usize) {
    let [left, front] = corner(n);
    let at =
        |x: usize, y: usize, z: &str| format!("at: [{} ft, {} ft, {z} ft]", left + x, front + y);
    let _ = writeln!(
        out,
        "  panel-{n}: {{kind: breaker-panel, room: closet-{n}, {}, size: [15 in, 4 in, 30 in], faces: -y}}",
        at(26, 14, "5")
    );
    let _ = writeln!(
        out,
        "  rack-{n}: {{kind: rack, room: closet-{n}, {}, load: 700 W, inlets: 2, split: [60 %, 40 %], earthed: yes, protects: [surge, battery], size: [24 in, 30 in, 72 in], faces: y}}",
        at(24, 2, "3")
    );
    let _ = writeln!(
        out,
        "  patch-{n}: {{kind: patch-panel, in: rack-{n}, ports: 24}}"
    );
    let _ = writeln!(
        out,
        "  home-{n}: {{kind: distribution, room: closet-{n}, {}, ports: 12, size: [14 in, 4 in, 20 in], faces: -x}}",
        at(27, 4, "5")
    );
    let _ = writeln!(
        out,
        "  pj-{n}: {{kind: projector, room: room-{n}, {}, load: 430 W, throw: 1.6, picture: 3840x2160 @ 60 Hz, depth: 8 bit, chroma: \"4:4:4\", earthed: yes, backing: yes}}",
        at(16, 7, "8")
    );
    let _ = writeln!(
        out,
        "  screen-{n}: {{kind: screen, room: room-{n}, {}, width: 120 in, backing: yes}}",
        at(0, 7, "4.5")
    );
    let _ = writeln!(
        out,
        "  seat-{n}: {{kind: seat, room: room-{n}, {}}}",
        at(13, 7, "3.5")
    );
    for (name, x, y) in [("sub", 1, 5), ("bass", 21, 10)] {
        let _ = writeln!(
            out,
            "  {name}-{n}: {{kind: subwoofer, room: room-{n}, {}, load: 400 W, peak: 1500 W, earthed: yes}}",
            at(x, y, "1")
        );
    }
    for (place, y) in [("left", 2), ("right", 12), ("centre", 7)] {
        let _ = writeln!(
            out,
            "  {place}-{n}: {{kind: speaker, room: room-{n}, {}, impedance: 8 ohm, weight: 18 lb, backing: yes, place: {place}}}",
            at(1, y, "3")
        );
    }
}

fn runs_of(out: &mut String, n: usize, faulty: bool) {
    for (name, from, to, length, way) in [
        ("P", "A", "rack", 28, "wall"),
        ("O", "B", "rack", 28, "wall"),
        ("Q", "rack-", "pj", 40, "ceiling"),
        ("R", "C", "sub", 62, "wall"),
        ("T", "sub-", "bass", 44, "ceiling"),
    ] {
        let _ = writeln!(
            out,
            "  {name}{n}: {{from: {from}{n}, to: {to}-{n}, stock: nm-12, length: {length} ft, through: [{way}-{n}]}}"
        );
    }
    for place in ["left", "right", "centre"] {
        // Three thin lines in two groups are one run in ten.
        let thin = faulty && (place == "centre" || place == "left" && n.is_multiple_of(2));
        let stock = if thin { "spk-18" } else { "spk-12" };
        let _ = writeln!(
            out,
            "  S-{place}-{n}: {{from: patch-{n}, to: {place}-{n}, stock: {stock}, length: 52 ft, through: [wall-{n}], beside: [{{run: R{n}, apart: 14 in, over: 20 ft}}]}}"
        );
    }
    for (name, to, length) in [("L", "sub", 44), ("M", "bass", 26)] {
        let _ = writeln!(
            out,
            "  {name}{n}: {{from: patch-{n}, to: {to}-{n}, stock: xlr, length: {length} ft, through: [wall-{n}], beside: []}}"
        );
    }
    for (name, spare) in [("V", ""), ("W", ", spare: yes")] {
        let _ = writeln!(
            out,
            "  {name}{n}: {{from: rack-{n}, to: pj-{n}, stock: hdmi, length: 40 ft, through: [pipe-{n}]{spare}}}"
        );
    }
    for (name, to, length, rate) in [
        ("E", "pj", 52, 1),
        ("F", "patch", 22, 10),
        ("G", "patch", 22, 10),
    ] {
        let _ = writeln!(
            out,
            "  {name}{n}: {{from: home-{n}, to: {to}-{n}, stock: cat6a, length: {length} ft, rate: {rate} Gbit/s, through: [wall-{n}]}}"
        );
    }
}

fn section(text: &mut String, name: &str, groups: usize, mut one: impl FnMut(&mut String, usize)) {
    let _ = writeln!(text, "{name}:");
    for n in 0..groups {
        one(text, n);
    }
}
