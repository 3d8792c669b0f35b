//! Channels of several runs are named and marked as such, and a limit stands in the units of what was found.

use super::reviewed;

const REACH: &str = "video.over-reach";
const SUB: &str = "line.unbalanced-sub";

fn video(region: &str, lengths: &[&str], stock: &str) -> String {
    let mut text = format!(
        "nailplate: 1\nregion: {region}\nstock:\n  c: {{for: video, grade: premium-high-speed, {stock}}}\nendpoints:\n  rack: {{kind: rack}}\n  tv: {{kind: display, picture: 3840x2160 @ 60 Hz}}\n"
    );
    let count = lengths.len();
    for plate in 1..count {
        text += &format!("  p{plate}: {{kind: wall-plate}}\n");
    }
    text += "runs:\n";
    for (at, length) in lengths.iter().enumerate() {
        let from = if at == 0 { "rack".to_owned() } else { format!("p{at}") };
        let to = if at + 1 == count { "tv".to_owned() } else { format!("p{}", at + 1) };
        text += &format!("  V{}: {{from: {from}, to: {to}, stock: c, length: {length}}}\n", at + 1);
    }
    text
}

/// What is said, the working, and the labels.
#[track_caller]
fn told(text: &str, rule: &str) -> (String, String, Vec<String>) {
    let review = reviewed(text, rule);
    assert_eq!(review.findings.len(), 1, "{text}");
    let found = &review.findings[0];
    let working = found.figure.as_ref().expect("a figure").working.clone();
    (found.says.clone(), working, found.marks.iter().map(|mark| mark.label.clone()).collect())
}

#[test]
fn a_video_channel() {
    let (says, working, labels) = told(&video("us", &["4 ft", "30 ft"], "build: passive"), REACH);
    assert_eq!(says, "V1 with V2 is 34 ft long for 17.82 Gbit/s, passive cable's reach is 25 ft");
    assert!(working.starts_with("4 ft + 30 ft = 34 ft; the picture: "), "{working}");
    assert_eq!(labels, ["30 ft of it", "4 ft of it", "passive"]);
    let (says, working, labels) = told(&video("us", &["4 ft", "10 ft", "30 ft", "2 ft"], "build: passive"), REACH);
    assert_eq!(says, "V1 with V2 and 2 more is 46 ft long for 17.82 Gbit/s, passive cable's reach is 25 ft");
    assert!(working.starts_with("4 ft + 10 ft + 30 ft + 2 ft = 46 ft"), "{working}");
    assert_eq!(labels, ["30 ft of it", "10 ft of it", "4 ft of it"]);
    let review = reviewed(&video("us", &["4 ft", "30 ft"], "build: passive"), REACH);
    let on: Vec<_> = review.findings[0].on.iter().map(|id| id.as_str()).collect();
    assert_eq!(on, ["V1", "V2", "tv"]);
    // One run alone is told of as before.
    let (says, working, labels) = told(&video("us", &["34 ft"], "build: passive"), REACH);
    assert_eq!(says, "V1 is 34 ft long for 17.82 Gbit/s, passive cable's reach is 25 ft");
    assert!(working.starts_with("34 ft as stated"), "{working}");
    assert_eq!(labels, ["this long", "passive", "the picture"]);
}

#[test]
fn found_and_limit_in_one_system() {
    let says = |region: &str, length: &str, stock: &str| told(&video(region, &[length], stock), REACH).0;
    // The fault is at 25 ft = 7.62 m, the advice at 5 m = 16.4 ft.
    assert!(says("gb", "9 m", "build: passive").ends_with("is 9 m long for 17.82 Gbit/s, passive cable's reach is 7.62 m"));
    assert!(says("us", "20 ft", "build: passive").ends_with("is 20 ft long for 17.82 Gbit/s, passive cable's advised length is 16.4 ft"));
    assert!(says("us", "240 in", "build: passive").ends_with("is 240 in long for 17.82 Gbit/s, passive cable's advised length is 196.85 in"));
    // What is over by a hair is over the number shown too: 30 m = 98.425 ft.
    assert!(says("us", "98.426 ft", "build: optical, reach: 30 m").ends_with("is 98.426 ft long, its stated reach is 98.42 ft"));
    // A part in the other system is converted in the sum.
    let (says, working, _) = told(&video("us", &["4 ft", "10 m"], "build: passive"), REACH);
    assert!(says.starts_with("V1 with V2 is 36.81 ft long"), "{says}");
    assert!(working.starts_with("4 ft + 32.81 ft = 36.8 ft"), "{working}");
}

#[test]
fn a_line_to_a_subwoofer() {
    let line = |region: &str, one: &str, two: &str| {
        format!("nailplate: 1\nregion: {region}\nstock:\n  rca: {{for: line, balanced: no}}\nendpoints:\n  rack: {{kind: rack}}\n  plate: {{kind: wall-plate}}\n  sub: {{kind: subwoofer}}\nruns:\n  L1: {{from: rack, to: plate, stock: rca, length: {one}}}\n  L2: {{from: plate, to: sub, stock: rca, length: {two}}}\n")
    };
    let (says, working, labels) = told(&line("us", "15 ft", "10 ft"), SUB);
    assert_eq!(says, "L1 with L2 is an unbalanced line of 25 ft to the subwoofer sub, advised is 20 ft");
    assert_eq!(working, "15 ft + 10 ft = 25 ft");
    assert_eq!(labels, ["15 ft of it", "10 ft of it", "not balanced"]);
    let (says, _, _) = told(&line("us", "5 m", "3 m"), SUB);
    assert_eq!(says, "L1 with L2 is an unbalanced line of 8 m to the subwoofer sub, advised is 6.09 m");
    let (says, _, _) = told(&line("gb", "15 ft", "10 ft"), SUB);
    assert_eq!(says, "L1 with L2 is an unbalanced line of 25 ft to the subwoofer sub, advised is 19.68 ft");
}

/// An estimate adds 6 ft of slack, which a metric plan reads in metres.
#[test]
fn the_slack_of_an_estimate() {
    let text = "nailplate: 1\nregion: gb\nstock:\n  rca: {for: line, balanced: no}\nendpoints:\n  rack: {kind: rack, at: [0 m, 0 m, 1 m]}\n  sub: {kind: subwoofer, at: [10 m, 0 m, 1 m]}\nruns:\n  L1: {from: rack, to: sub, stock: rca}\n";
    let (says, working, labels) = told(text, SUB);
    assert_eq!(says, "L1 is an unbalanced line of about 12.83 m to the subwoofer sub, advised is 6 m");
    assert_eq!(working, "10 m along the axes + 10 % + 1.83 m = 12.83 m, estimated");
    assert_eq!(labels, ["estimated length", "not balanced"]);
}
