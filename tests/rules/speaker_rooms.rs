//! Lines in reserve: to the front, to the surround, to the ceiling; cables that bend. Common practice, no source.

use nailplate::findings::Level::Advice;
use nailplate::house::STIFF;
use nailplate::rules::{sheet, speaker::hard_to_terminate::Limits};

use super::{edited, exactly, lines, reviewed};

const HARD: &str = "speaker.hard-to-terminate";
const CORES: &str = "speaker.few-cores";
const SURROUND: &str = "speaker.no-spare-surround";
const OVERHEAD: &str = "speaker.no-overhead";

/// Endpoints by `id place`, `id` without a place, or in full; a run from the amplifier by `id to` and more keys.
fn plan(region: &str, endpoints: &str, runs: &str) -> String {
    let endpoints = endpoints.split("; ").map(|line| match line.split_once(' ') {
        Some((id, rest)) if !id.ends_with(':') => format!("{id}: {{kind: speaker, room: media, place: {rest}}}"),
        None => format!("{line}: {{kind: speaker, room: media}}"),
        _ => line.to_owned(),
    });
    let runs = runs.split("; ").filter(|line| !line.is_empty()).map(|line| {
        let (id, rest) = line.split_once(' ').expect("an id and an end");
        let (to, more) = rest.split_once(' ').unwrap_or((rest, ""));
        let stock = if more.contains("stock: ") { "" } else { "stock: two, " };
        format!("{id}: {{from: amp, to: {to}, {stock}length: 40 ft{}{more}}}", if more.is_empty() { "" } else { ", " })
    });
    format!(
        "nailplate: 1\nregion: {region}\nrooms:\n  media: {{kind: room}}\n  hall: {{kind: room}}\nstock:\n  two: {{for: speaker, cores: 2 x 14 AWG}}\n  four: {{for: speaker, cores: 4 x 14 AWG}}\n  three: {{for: speaker, cores: 3 x 14 AWG}}\n  bare: {{for: speaker}}\nendpoints:\n  amp: {{kind: amplifier, room: media}}\n{}runs:\n{}",
        lines(&endpoints.collect::<Vec<_>>().join("; ")), lines(&runs.collect::<Vec<_>>().join("; "))
    )
}

#[track_caller]
fn check(rule: &str, text: &str, expected: &[&str], lacks: &[&str]) {
    let expected: Vec<_> = expected.iter().map(|on| (*on, Advice)).collect();
    exactly(text, rule, &expected, lacks);
}

#[track_caller]
fn says(rule: &str, text: &str) -> String {
    reviewed(text, rule).findings[0].says.clone()
}

fn two_core(region: &str, cores: &str, run: &str) -> String {
    format!("nailplate: 1\nregion: {region}\nstock:\n  fat: {{for: speaker, cores: {cores}}}\n  four: {{for: speaker, cores: 4 x 12 AWG}}\nendpoints:\n  amp: {{kind: amplifier}}\n  a: {{kind: speaker}}\nruns:\n  S1: {{from: amp, to: a, stock: fat{run}}}\n")
}

#[test]
fn a_cable_that_bends() {
    for region in ["us", "ca", "gb", "eu", "au"] {
        check(HARD, &two_core(region, "2 x 10 AWG", ""), &["S1"], &[]);
        check(HARD, &two_core(region, "2 x 11 AWG", ""), &[], &[]);
        check(HARD, &two_core(region, "2 x 6 mm2", ""), &["S1"], &[]);
        check(HARD, &two_core(region, "2 x 4 mm2", ""), &[], &[]);
        check(HARD, &two_core(region, "4 x 10 AWG", ""), &[], &[]);
    }
    check(HARD, &two_core("us", "2 x 10 AWG", ", spare: yes"), &[], &[]);
    check(HARD, &two_core("us", "2 x 10 AWG", ", carries: line"), &[], &[]);
    assert_eq!(says(HARD, &two_core("us", "2 x 8 AWG", "")), "S1 is a two-core of 8 AWG, from 10 AWG on it is hard to bend into a terminal");
    assert_eq!(says(HARD, &two_core("gb", "2 x 6 mm2", "")), "S1 is a two-core of 6 mm2, from 6 mm2 on it is hard to bend into a terminal");
}

/// The areas are ASTM B258's; two tied cores of 14 AWG make about 11 AWG (common practice), of 12 AWG 9.
#[test]
fn cores_that_are_tied_instead() {
    let text = two_core("us", "2 x 10 AWG", "");
    let review = reviewed(&text, HARD);
    let found = &review.findings[0];
    assert_eq!(found.figure.as_ref().expect("a figure").working, "10 AWG = 5.26 mm2; tied instead, 2 × 12 AWG = 6.62 mm2, about 9 AWG");
    assert_eq!(found.put_right.as_deref(), Some("pull a four-core of 12 AWG and tie 2 for each leg: as much copper, and easier to bend"));
    assert!(edited(&text, HARD).contains("stock: four, tie: 2"));
    // Two of 12 AWG are less than 8 AWG (8.37 mm2), three are more; the plan's four-core does not do.
    let text = two_core("us", "2 x 8 AWG", "");
    assert_eq!(reviewed(&text, HARD).findings[0].put_right.as_deref(), Some("pull 6 cores of 12 AWG and tie 3 for each leg: as much copper, and easier to bend"));
    assert_eq!(edited(&text, HARD), text);
    let text = two_core("gb", "2 x 6 mm2", "");
    assert_eq!(reviewed(&text, HARD).findings[0].put_right.as_deref(), Some("pull a four-core of 4 mm2 and tie 2 for each leg: as much copper, and easier to bend"));
}

#[test]
fn what_a_thick_cable_lacks() {
    check(HARD, &two_core("us", "2 x 10 AWG", "").replace(", cores: 2 x 10 AWG", ""), &[], &["cores of fat"]);
    check(HARD, &two_core("us", "2 x 10 AWG", ", carries: speaker").replace(", stock: fat", ""), &[], &["stock of S1"]);
    let two = two_core("us", "2 x 10 AWG", "").replace(", cores: 2 x 10 AWG", "") + "  S2: {from: amp, to: a, stock: fat}\n";
    check(HARD, &two, &[], &["cores of fat"]);
}

/// No redline may pull what the sheet advises against: the size that redlines keep below is the sheet's.
#[test]
fn the_size_of_the_sheet_is_that_of_the_redlines() {
    let limits: &Limits = sheet(HARD).expect("a sheet").limits().expect("its limits");
    assert_eq!(limits.size.value, STIFF);
    assert!(limits.size_metric.value.area() >= STIFF.area());
}

#[test]
fn a_pair_at_the_front() {
    for region in ["us", "ca", "gb", "eu", "au"] {
        check(CORES, &plan(region, "a left; b right; c centre", "S1 a; S2 b; S3 c"), &["S1", "S2", "S3"], &[]);
    }
    check(CORES, &plan("us", "a left", "S1 a stock: four"), &[], &[]);
    check(CORES, &plan("us", "a left", "S1 a stock: three"), &["S1"], &[]);
    check(CORES, &plan("us", "a left", "S1 a stock: four, tie: 2"), &["S1"], &[]);
    check(CORES, &plan("us", "a left", "S1 a; S2 a spare: yes"), &[], &[]);
    check(CORES, &plan("us", "a left; p: {kind: wall-plate, beside: a}", "S1 a; S2 p spare: yes"), &[], &[]);
    check(CORES, &plan("us", "a left", "S1 a; S2 a stock: four"), &[], &[]);
    // Other places, other speakers, and no line at all are no matter of this sheet.
    check(CORES, &plan("us", "a surround-left", "S1 a"), &[], &[]);
    check(CORES, &plan("us", "a left, active: yes", "S1 a"), &[], &[]);
    check(CORES, &plan("us", "a left", ""), &[], &[]);
    assert_eq!(says(CORES, &plan("us", "a left", "S1 a")), "S1 uses 2 of its 2 cores and no spare line ends at a, a pair in reserve is advised");
    assert!(edited(&plan("us", "a left", "S1 a"), CORES).contains("S1: {from: amp, to: a, stock: four"));
}

#[test]
fn a_cord_leads_to_the_plate() {
    let text = |wall: &str| {
        let base = plan("us", "a left; p: {kind: wall-plate, room: media}", &format!("S1 p{wall}"));
        base + "  S2: {from: p, to: a, stock: two, length: 3 ft, surface: yes}\n"
    };
    check(CORES, &text(" stock: four"), &[], &[]);
    check(CORES, &text(""), &["S1"], &[]);
    check(CORES, &(text("") + "  S3: {from: amp, to: p, stock: two, spare: yes}\n"), &[], &[]);
}

#[test]
fn what_the_front_lacks() {
    check(CORES, &plan("us", "a left", "S1 a stock: bare"), &[], &["cores of bare"]);
    check(CORES, &plan("us", "a left; b right", "S1 a; S2 b").replace("stock: two, length: 40 ft", "carries: speaker, length: 40 ft"), &[], &["stock of S1", "stock of S2"]);
    check(CORES, &plan("us", "a left", "S1 a").replace("kind: speaker, ", ""), &["S1"], &[]);
    // A speaker without a place beside one with: it may be at the front.
    check(CORES, &plan("us", "a left; b", "S1 a stock: four; S2 b"), &[], &["place of b"]);
    check(CORES, &plan("us", "a left; b", "S1 a stock: four; S2 b stock: four"), &[], &[]);
    check(CORES, &plan("us", "a left; b: {kind: speaker, room: hall}", "S1 a stock: four; S2 b"), &[], &[]);
    check(CORES, &plan("us", "a left; b: {kind: speaker}", "S1 a stock: four; S2 b"), &[], &["place of b"]);
    check(CORES, &plan("us", "a; b", "S1 a; S2 b"), &[], &[]);
    // A tapped speaker on a constant-voltage line is none of the media room's.
    check(CORES, &plan("us", "a left; b: {kind: speaker, tap: 30 W}", "S1 a stock: four; S2 b"), &[], &[]);
}

#[test]
fn twice_the_surround_lines() {
    for region in ["us", "ca", "gb", "eu", "au"] {
        check(SURROUND, &plan(region, "a surround-left; b surround-right", "S1 a; S2 b"), &["a"], &[]);
        check(SURROUND, &plan(region, "a surround-left; b surround-right", "S1 a; S2 b; S3 a spare: yes; S4 b spare: yes"), &[], &[]);
    }
    let three = plan("us", "a surround-left; b surround-right", "S1 a; S2 b; S3 a spare: yes");
    check(SURROUND, &three, &["b"], &[]);
    assert_eq!(says(SURROUND, &three), "media has 3 surround lines for 2 surround speakers, advised are 4");
    assert_eq!(
        reviewed(&three, SURROUND).findings[0].put_right.as_deref(),
        Some("pull 1 speaker line more as a spare, to a surround speaker or to a box where one may come")
    );
    // Spares may all go to boxes, and to one speaker.
    check(SURROUND, &plan("us", "a surround-left; b surround-right; p: {kind: box, room: media, place: rear-left}", "S1 a; S2 b; S3 p spare: yes; S4 p spare: yes"), &[], &[]);
    check(SURROUND, &plan("us", "a rear-left", "S1 a; S2 a spare: yes"), &[], &[]);
    // A line that goes on to the next speaker is no line in reserve of its own.
    let chain = plan("us", "a surround-left; b rear-left", "S1 a") + "  S2: {from: a, to: b, stock: two}\n";
    check(SURROUND, &chain, &["a"], &[]);
    assert_eq!(says(SURROUND, &chain), "media has 2 surround lines for 2 surround speakers, advised are 4");
}

#[test]
fn when_the_surround_sheet_is_silent() {
    for (endpoints, runs) in [("a left; b right", "S1 a; S2 b"), ("a surround-left, active: yes", "S1 a"), ("a surround-left; b: {kind: speaker, room: hall}", "S1 b"), ("a; b", "S1 a; S2 b"), ("a overhead-rear-left", "S1 a")] {
        let text = plan("us", endpoints, runs);
        check(SURROUND, &text, &[], &[]);
        assert_eq!(reviewed(&text, SURROUND).checks, 0, "{text}");
    }
}

#[test]
fn what_the_surround_lacks() {
    // One speaker without a place: with its spare it cannot make things worse, without it may.
    check(SURROUND, &plan("us", "a left; b", "S1 a; S2 b"), &[], &["place of b"]);
    check(SURROUND, &plan("us", "a left; b", "S1 a; S2 b; S3 b spare: yes"), &[], &[]);
    check(SURROUND, &plan("us", "a surround-left; p: {kind: box, room: media}", "S1 a; S2 p spare: yes"), &[], &["place of p"]);
    check(SURROUND, &plan("us", "a surround-left; b surround-right; p: {kind: box, room: media}", "S1 a; S2 b; S3 p spare: yes"), &["a"], &[]);
    check(SURROUND, &plan("us", "a surround-left", "S1 a; S2 a").replace("S2: {from: amp, to: a, stock: two, ", "S2: {from: amp, to: a, "), &[], &["stock of S2"]);
    // Each room for itself; without a room, the only media room's.
    check(SURROUND, &plan("us", "a surround-left; b: {kind: speaker, place: surround-right}", "S1 a; S2 b; S3 a spare: yes; S4 a spare: yes"), &[], &[]);
    check(SURROUND, &plan("us", "a surround-left; b: {kind: speaker, room: hall, place: surround-right}", "S1 a; S2 b; S3 a spare: yes; S4 a spare: yes"), &["b"], &[]);
}

#[test]
fn four_lines_to_the_ceiling() {
    let all = "a surround-left; ofl overhead-front-left; ofr overhead-front-right; orl overhead-rear-left; orr overhead-rear-right";
    for region in ["us", "ca", "gb", "eu", "au"] {
        check(OVERHEAD, &plan(region, all, "S0 a; S1 ofl; S2 ofr; S3 orl; S4 orr"), &[], &[]);
        check(OVERHEAD, &plan(region, all, "S0 a; S1 ofl; S2 ofr; S3 orl"), &["media"], &[]);
        check(OVERHEAD, &plan(region, "a surround-left", "S0 a"), &["media"], &[]);
    }
    assert_eq!(says(OVERHEAD, &plan("us", all, "S0 a; S1 ofl; S2 ofr; S3 orl")), "media has 2 overhead lines at the front and 1 at the rear, advised are 2 and 2");
    // Spares to boxes, and lines in the middle, count.
    let boxes = "a surround-left; f: {kind: box, room: media, place: overhead-front-left}; r: {kind: wall-plate, room: media, place: overhead-rear-left}";
    check(OVERHEAD, &plan("us", boxes, "S0 a; S1 f spare: yes; S2 f spare: yes; S3 r spare: yes; S4 r spare: yes"), &[], &[]);
    let middle = "a surround-left; ml overhead-middle-left; mr overhead-middle-right; fl overhead-front-left; fr overhead-front-right";
    check(OVERHEAD, &plan("us", middle, "S0 a; S1 ml; S2 mr; S3 fl; S4 fr"), &[], &[]);
    check(OVERHEAD, &plan("us", middle, "S0 a; S1 ml; S2 mr"), &["media"], &[]);
    assert_eq!(says(OVERHEAD, &plan("us", middle, "S0 a; S1 ml; S2 mr")), "media has 0 overhead lines at the front, 2 in the middle and 0 at the rear, advised are 2 and 2");
    // Four lines to the front alone are not two and two.
    let front = plan("us", all, "S1 ofl; S2 ofr; S3 ofl spare: yes; S4 ofr spare: yes");
    assert_eq!(says(OVERHEAD, &front), "media has 4 overhead lines at the front and 0 at the rear, advised are 2 and 2");
    // Powered speakers overhead are lines too.
    let active = all.replace("-left", "-left, active: yes").replace("-right", "-right, active: yes");
    check(OVERHEAD, &plan("us", &active, "S0 a; S1 ofl; S2 ofr; S3 orl; S4 orr").replace("for: speaker", "for: line"), &[], &[]);
}

#[test]
fn when_the_overhead_sheet_is_silent_and_what_it_lacks() {
    for (endpoints, runs) in [("a left; b right", "S1 a; S2 b"), ("a; b", "S1 a; S2 b")] {
        let text = plan("us", endpoints, runs);
        check(OVERHEAD, &text, &[], &[]);
        assert_eq!(reviewed(&text, OVERHEAD).checks, 0);
    }
    check(OVERHEAD, &plan("us", "a left; b", "S1 a; S2 b"), &[], &["place of b"]);
    // Three known and one that may be the fourth; two that may be, of four.
    let three = "fl overhead-front-left; fr overhead-front-right; rl overhead-rear-left; x";
    check(OVERHEAD, &plan("us", three, "S1 fl; S2 fr; S3 rl; S4 x"), &[], &["place of x"]);
    check(OVERHEAD, &plan("us", "a surround-left; x; y", "S1 a; S2 x; S3 y"), &["media"], &[]);
    let unknown = plan("us", "fl overhead-front-left; fr overhead-front-right; rl overhead-rear-left; rr overhead-rear-right", "S1 fl; S2 fr; S3 rl; S4 rr stock: two").replace("S4: {from: amp, to: rr, length: 40 ft, stock: two}", "S4: {from: amp, to: rr}");
    check(OVERHEAD, &unknown, &[], &["stock of S4"]);
}
