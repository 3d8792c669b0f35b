//! Lines that end at the plate or box beside what they are for, with no cord drawn between the two.

use nailplate::findings::Level::Fault;

use super::{exactly, found, reviewed};

fn plan(stock: &str, near: &str, end: &str, run: &str) -> String {
    format!(
        "nailplate: 1\nregion: us\nstock: {{s: {{{stock}}}}}\nendpoints:\n  rack: {{kind: rack, poe-supply: type 1}}\n  near: {{{near}}}\n  x: {{{end}}}\n\
         runs: {{S1: {{from: rack, to: near, stock: s, {run}}}}}\n"
    )
}

const PLATES: [&str; 3] = ["kind: wall-plate, beside: x", "kind: box, beside: x", "kind: data-outlet, beside: [x]"];

#[test]
fn a_picture_at_the_plate_of_its_display() {
    let hdmi = "for: video, grade: high-speed, build: passive, rating: CL3";
    let shows = "picture: 3840x2160 @ 60 Hz, depth: 8 bit";
    for near in PLATES {
        for kind in ["projector", "display"] {
            let at = |chroma: &str, metres: u32| plan(hdmi, near, &format!("kind: {kind}, {shows}, chroma: '{chroma}'"), &format!("length: {metres} m"));
            exactly(&at("4:4:4", 4), "video.undergraded", &[("S1", Fault)], &[]);
            exactly(&at("4:2:0", 4), "video.undergraded", &[], &[]);
            // 8.91 Gbit/s go 10 m, the 18 Gbit/s of 4:4:4 no more than 25 ft.
            exactly(&at("4:2:0", 9), "video.over-reach", &[], &[]);
            exactly(&at("4:4:4", 9), "video.over-reach", &[("S1", Fault)], &[]);
            exactly(&at("4:4:4", 4), "plan.loose-end", &[], &[]);
        }
    }
    // A switch is no plate, and what stands beside nothing is none of it.
    let switch = plan(hdmi, "kind: switch, beside: x", &format!("kind: display, {shows}"), "length: 4 m");
    exactly(&switch, "video.undergraded", &[], &[]);
    exactly(&switch, "plan.loose-end", &[("x", Fault)], &[]);
    let bare = plan(hdmi, "kind: wall-plate", "kind: display", "length: 4 m");
    exactly(&bare, "plan.loose-end", &[("x", Fault)], &[]);
    let unreached = bare.replace("kind: display", "kind: display}\n  other: {kind: wall-plate, beside: x");
    assert!(found(&unreached, "plan.loose-end").contains(&("x".to_owned(), Fault)));
}

#[test]
fn a_line_at_the_plate_of_its_subwoofer() {
    let at = |near: &str, feet: u32| plan("for: line, balanced: no, rating: CM", near, "kind: subwoofer", &format!("length: {feet} ft"));
    for near in PLATES {
        assert_eq!(found(&at(near, 19), "line.unbalanced-sub"), []);
        let review = reviewed(&at(near, 30), "line.unbalanced-sub");
        assert_eq!(review.findings[0].says, "S1 is an unbalanced line of 30 ft to the subwoofer x, advised is 20 ft");
        assert_eq!(review.findings[0].on.iter().map(ToString::to_string).collect::<Vec<_>>(), ["S1", "near", "x"]);
    }
    assert_eq!(found(&at("kind: wall-plate", 30), "line.unbalanced-sub"), []);
}

#[test]
fn a_speaker_and_a_camera_at_their_plates() {
    for near in PLATES {
        let speaker = plan("for: speaker, cores: 2 x 14 AWG", near, "kind: speaker, impedance: 8 ohm", "length: 30 ft");
        exactly(&speaker, "speaker.no-line", &[], &[]);
        exactly(&speaker.replace("beside:", "notes:"), "speaker.no-line", &[("x", Fault)], &[]);
        let camera = |load: &str| plan("for: data, grade: cat6, cores: 8 x 23 AWG", near, &format!("kind: camera, poe: type 1, load: {load}"), "length: 30 ft");
        exactly(&camera("12 W"), "data.poe-starved", &[], &[]);
        exactly(&camera("13 W"), "data.poe-starved", &[("x", Fault)], &[]);
        // A cord that is drawn is no second way.
        let cord = camera("13 W").replace("}}\n", "}, S2: {from: near, to: x, stock: s, length: 3 ft}}\n");
        exactly(&cord, "data.poe-starved", &[("x", Fault)], &[]);
    }
}
