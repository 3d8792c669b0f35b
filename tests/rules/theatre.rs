//! Throw, view and directions: geometry, ITU-R BS.2051, published articles on viewing distance.

use nailplate::findings::Level::{Advice, Fault};

use super::{found, gaps, reviewed};

const THROW: &str = "room.throw-misses";
const WIDE: &str = "room.view-too-wide";
const NARROW: &str = "room.view-too-narrow";
const ANGLE: &str = "room.speaker-angle";

/// A room with things in it; `@` stands for what puts a thing at a point of the room.
fn room(things: &[&str]) -> String {
    let things = things.iter().fold(String::new(), |all, thing| {
        all + "  " + &thing.replace('@', "room: media, at: ") + "\n"
    });
    format!("nailplate: 1\nregion: ca\nrooms:\n  media: {{kind: room}}\n  other: {{kind: room}}\nendpoints:\n{things}")
}

#[track_caller]
fn check(things: &[&str], rule: &str, expected: &[&str], lacks: &[&str]) {
    let text = room(things);
    let level = if rule == THROW { Fault } else { Advice };
    let expected: Vec<_> = expected.iter().map(|id| ((*id).to_owned(), level)).collect();
    assert_eq!(found(&text, rule), expected, "{text}");
    assert_eq!(gaps(&text, rule), lacks, "{text}");
}

/// A projector over the axis of a screen 100 in wide.
#[track_caller]
fn throw(throw: &str, inches: f64, expected: bool) {
    let projector = format!("p: {{kind: projector, throw: {throw}, @[{inches} in, 0 in, 90 in]}}");
    let screen = "s: {kind: screen, width: 100 in, @[0 in, 0 in, 50 in]}";
    check(&[&projector, screen], THROW, if expected { &["p"] } else { &[] }, &[]);
}

#[test]
fn a_projector_stands_at_throw_times_width() {
    // RM08, the definition of the ratio: 1.5 × 100 in = 150 in; 3 % either way is common practice, no source.
    for (inches, expected) in [(150.0, false), (154.4, false), (154.6, true), (145.6, false), (145.4, true), (900.0, true)] {
        throw("1.5", inches, expected);
        throw("[1.5]", inches, expected);
    }
    // RM09: ratios of 1.32 to 1.65 before a 110 in picture of 16:9, 95.87 in wide: 126.6 to 158.2 in.
    for (inches, expected) in [(126.6, false), (158.2, false), (140.0, false), (126.6 * 0.969, true), (158.2 * 1.031, true)] {
        let projector = format!("p: {{kind: projector, throw: [1.65, 1.32], @[{inches} in, 0 in, 90 in]}}");
        check(
            &[&projector, "s: {kind: screen, width: 95.87 in, @[0 in, 0 in, 50 in]}"],
            THROW,
            if expected { &["p"] } else { &[] },
            &[],
        );
    }
    // Metric, and off the axis: 3-4-5.
    let screen = "s: {kind: screen, width: 2.5 m, @[0 m, 0 m, 1 m]}";
    check(&["p: {kind: projector, throw: 2, @[3 m, 4 m, 3 m]}", screen], THROW, &[], &[]);
    check(&["p: {kind: projector, throw: 2, @[3 m, 5 m, 3 m]}", screen], THROW, &["p"], &[]);
}

#[test]
fn what_a_throw_lacks() {
    let (p, s) = ("p: {kind: projector, throw: 1.5, @[3 m, 0 m, 2 m]}", "s: {kind: screen, width: 2 m, @[0 m, 0 m, 1 m]}");
    check(&[p, s], THROW, &[], &[]);
    check(&["p: {kind: projector, @[3 m, 0 m, 2 m]}", s], THROW, &[], &["throw of p"]);
    check(&["p: {kind: projector, throw: far, @[3 m, 0 m, 2 m]}", s], THROW, &[], &[]);
    check(&["p: {kind: projector, throw: [], @[3 m, 0 m, 2 m]}", s], THROW, &[], &["throw of p"]);
    check(&["p: {kind: projector, throw: 1.5, room: media}", s], THROW, &[], &["at of p"]);
    check(&["p: {kind: projector, throw: 1.5, at: [3 m, 0 m, 2 m]}", s], THROW, &[], &["room of p"]);
    check(&["p: {throw: 1.5, @[3 m, 0 m, 2 m]}", s], THROW, &[], &["kind of p"]);
    check(&[p, "s: {kind: screen, @[0 m, 0 m, 1 m]}"], THROW, &[], &["width of s"]);
    check(&[p, "s: {kind: screen, width: 2 m, room: media}"], THROW, &[], &["at of s"]);
    check(&[p, "s: {kind: screen, width: 2 m, at: [0 m, 0 m, 1 m], room: other}"], THROW, &[], &["a screen in media"]);
    let two = "t: {kind: screen, width: 2 m, @[6 m, 0 m, 1 m]}";
    check(&[p, s, two], THROW, &[], &["which of the 2 screens in media p throws on"]);
}

/// A seat before the middle of a picture 100 in wide.
#[track_caller]
fn seat(inches: f64, rule: &str, expected: bool) {
    for kind in ["screen", "display"] {
        let seat = format!("a: {{kind: seat, @[{inches} in, 0 in, 40 in]}}");
        let picture = format!("s: {{kind: {kind}, width: 100 in, @[0 in, 0 in, 50 in]}}");
        check(&[&seat, &picture], rule, if expected { &["a"] } else { &[] }, &[]);
    }
}

#[test]
fn a_picture_fills_an_angle() {
    // RM04: 100 in fill 26 deg from 216.6 in (2.1657 widths); the 26 deg are a cinema certifier's.
    for (inches, expected) in [(216.5, false), (216.6, true), (153.9, false), (9.0, false)] {
        seat(inches, NARROW, expected);
    }
    // 60 deg from 86.6 in, geometry; 1.6 heights of a picture 16:9 are 90 in (ITU-R BT.2022, from memory).
    for (inches, expected) in [(86.7, false), (86.5, true), (90.0, false), (400.0, false)] {
        seat(inches, WIDE, expected);
    }
}

#[test]
fn which_seat_looks_at_which_picture() {
    let s = "s: {kind: screen, width: 100 in, @[0 in, 0 in, 50 in]}";
    let (near, far) = ("a: {kind: seat, @[80 in, 0 in, 40 in]}", "b: {kind: seat, @[230 in, 0 in, 40 in]}");
    check(&[s, near, far], WIDE, &["a"], &[]);
    check(&[s, near, far], NARROW, &["b"], &[]);
    // A display beside the screen is not the room's picture; two screens are too many.
    let tv = "t: {kind: display, width: 30 in, @[0 in, 0 in, 50 in]}";
    check(&[s, tv, near], NARROW, &[], &[]);
    let two = "t: {kind: screen, width: 30 in, @[0 in, 0 in, 50 in]}";
    for rule in [WIDE, NARROW] {
        check(&[s, two, near], rule, &[], &["which of the 2 screens in media is its picture"]);
        check(&[s], rule, &[], &["a seat in media"]);
        check(&["s: {kind: screen, @[0 in, 0 in, 50 in]}", near, far], rule, &[], &["width of s"]);
        check(&["s: {kind: screen, width: 9 in, room: media}", near], rule, &[], &["at of s"]);
        check(&[s, "a: {kind: seat, room: media}"], rule, &[], &["at of a"]);
        check(&[s, "a: {kind: seat, @[0 in, 0 in, 9 in]}"], rule, &[], &["a distance between a and s"]);
        check(&[s, "a: {kind: seat, at: [9 in, 0 in, 9 in]}"], rule, &[], &["a seat in media", "room of a"]);
        check(&["s: {kind: screen, width: 9 in, at: [0 in, 0 in, 9 in]}", near], rule, &[], &["room of s"]);
        check(&[s, "a: {kind: seat, @[100 in, 0 in, 9 in]}", "b: {@[9 in, 0 in, 9 in]}"], rule, &[], &["kind of b"]);
        check(&[near], rule, &[], &[]);
        check(&["a: {kind: seat, room: other}"], rule, &[], &[]);
    }
}

/// A loudspeaker 3 m from the seat, so many degrees to the left and above the ear.
fn speaker(place: &str, aside: f64, above: f64) -> String {
    let (a, e) = (aside.to_radians(), above.to_radians());
    // The seat looks along −x, so that left is −y.
    let (x, y, z) = (5.0 - 3.0 * a.cos(), 4.0 - 3.0 * a.sin(), 1.2 + 3.0 * e.tan());
    format!("{place}: {{kind: speaker, place: {place}, @[{x:.6} m, {y:.6} m, {z:.6} m]}}")
}

const SEAT: &str = "seat: {kind: seat, @[5 m, 4 m, 1.2 m]}";
const SCREEN: &str = "s: {kind: screen, @[1 m, 4 m, 1.5 m]}";

#[test]
fn loudspeakers_stand_where_the_recommendation_wants_them() {
    // BS.2051, layouts 0+5+0, 4+5+0, 4+7+0 and 9+10+3; 10 deg more either way are common practice, no source.
    for (place, least, greatest, low, high, rear) in [
        ("left", 30.0, 30.0, 0.0, 0.0, false),
        ("left", 30.0, 45.0, 0.0, 0.0, true),
        ("centre", 0.0, 0.0, 0.0, 0.0, false),
        ("surround-left", 100.0, 120.0, 0.0, 15.0, false),
        ("surround-left", 85.0, 110.0, 0.0, 0.0, true),
        ("rear-left", 120.0, 150.0, 0.0, 0.0, true),
        ("wide-left", 45.0, 60.0, 0.0, 5.0, false),
        ("overhead-front-left", 30.0, 45.0, 30.0, 55.0, false),
        ("overhead-middle-left", 90.0, 90.0, 30.0, 45.0, false),
        ("overhead-rear-left", 100.0, 135.0, 30.0, 55.0, false),
        ("overhead-rear-left", 100.0, 150.0, 30.0, 55.0, true),
    ] {
        let rear = if rear { speaker("rear-right", -135.0, 0.0) } else { "x: {kind: box}".to_owned() };
        let place_on_right = place.replace("left", "right");
        for (place, side) in [(place, 1.0), (place_on_right.as_str(), -1.0)] {
            for (aside, above, expected) in [
                (least, low, false),
                (greatest, high, false),
                (least - 9.9, low - 9.9, false),
                (greatest + 9.9, high + 9.9, false),
                (least - 10.1, low, true),
                (greatest + 10.1, low, true),
                (least, low - 10.1, true),
                (least, high + 10.1, true),
            ] {
                if place == "rear-right" {
                    continue;
                }
                let own = speaker(place, side * aside, above);
                let expected = if expected { vec![place] } else { vec![] };
                check(&[SEAT, SCREEN, &own, &rear], ANGLE, &expected, &[]);
            }
        }
    }
    // On the wrong side.
    check(&[SEAT, SCREEN, &speaker("left", -30.0, 0.0)], ANGLE, &["left"], &[]);
    // Only what stands on the wrong side may be a plan drawn the other way round.
    for (aside, above, mirrored) in [(-30.0, 0.0, true), (60.0, 0.0, false), (30.0, -30.0, false)] {
        let review = reviewed(&room(&[SEAT, SCREEN, &speaker("left", aside, above)]), ANGLE);
        let words = review.findings[0].put_right.as_deref().unwrap_or_default();
        assert_eq!(words.contains("y axis"), mirrored, "{words}");
    }
}

#[test]
fn what_tells_the_front() {
    let left = speaker("left", 30.0, 0.0);
    let centre = speaker("centre", 0.0, 0.0);
    check(&[SEAT, "t: {kind: display, @[1 m, 4 m, 1 m]}", &left], ANGLE, &[], &[]);
    check(&[SEAT, &centre, &left], ANGLE, &[], &[]);
    check(&[SEAT, &left], ANGLE, &[], &["a screen, display or centre loudspeaker in media"]);
    // The first seat listens; the second stands behind it.
    check(&[SEAT, "b: {kind: seat, @[9 m, 9 m, 1 m]}", SCREEN, &left], ANGLE, &[], &[]);
    check(&["b: {kind: seat, @[9 m, 9 m, 1 m]}", SEAT, SCREEN, &left], ANGLE, &["left"], &[]);
    check(&[SCREEN, &left, &centre], ANGLE, &[], &["a seat in media", "a seat in media"]);
    let two = "t: {kind: screen, @[9 m, 4 m, 1 m]}";
    check(&[SEAT, SCREEN, two, &left], ANGLE, &[], &["which of the 2 screens in media is its picture"]);
    check(&[SEAT, SCREEN, "l: {kind: speaker, place: left, room: media}"], ANGLE, &[], &["at of l"]);
    check(&[SEAT, SCREEN, "l: {kind: speaker, place: left, at: [1 m, 1 m, 1 m]}"], ANGLE, &[], &["room of l"]);
    check(&[SEAT, SCREEN, "l: {kind: speaker, @[1 m, 1 m, 1 m]}"], ANGLE, &[], &["place of l"]);
    check(&[SEAT, SCREEN, "l: {place: left, @[1 m, 1 m, 1 m]}"], ANGLE, &[], &["kind of l"]);
    check(&[SEAT, SCREEN, "l: {kind: speaker, place: left, @[5 m, 4 m, 1 m]}"], ANGLE, &[], &["a direction from seat to s and l"]);
    // No place is wanted where nobody sits before a picture.
    check(&["l: {kind: speaker, @[1 m, 1 m, 1 m]}", SEAT], ANGLE, &[], &[]);
    check(&["l: {kind: speaker, at: [1 m, 1 m, 1 m]}", SEAT, SCREEN], ANGLE, &[], &[]);
}

/// Geometry: 45 deg from the seat that is known; ITU-R BS.2051 wants 30 deg. The first seat has no unit in its place.
#[test]
fn a_seat_whose_place_is_a_slip_hides_no_other() {
    let things = [
        "bad: {kind: seat, @[3, 0 m, 1 m]}",
        "good: {kind: seat, @[3 m, 0 m, 1 m]}",
        "s: {kind: screen, width: 2 m, @[0 m, 0 m, 1 m]}",
        "l: {kind: speaker, place: left, @[0 m, -3 m, 1 m]}",
        "r: {kind: speaker, place: right, @[0 m, 1.7321 m, 1 m]}",
    ];
    let found = reviewed(&room(&things), ANGLE).findings;
    let on: Vec<_> = found.iter().map(|finding| finding.on[..2].iter().map(ToString::to_string).collect::<Vec<_>>()).collect();
    assert_eq!(on, [["l", "good"]]);
}
