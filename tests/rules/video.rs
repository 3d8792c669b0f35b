use super::{found, gaps, reviewed};
use nailplate::findings::Level::{Advice, Fault};

fn plan(display: &str, stock: &str, run: &str) -> String {
    format!(
        "nailplate: 1\nregion: us\nstock:\n  c: {{for: video{stock}}}\nendpoints:\n  rack: {{kind: rack}}\n  tv: {{kind: display{display}}}\nruns:\n  V1: {{from: rack, to: tv, stock: c{run}}}\n"
    )
}

const GRADE: &str = "video.undergraded";
const REACH: &str = "video.over-reach";

/// Rates: published 4.46 Gbit/s for 1080p60 and 8.91 for 2160p30 (worked examples HD01, HD03);
/// computed 17.82 for 2160p60, 20.05 for 2160p60 at 10 bit (HD15).
#[test]
fn a_picture_against_grades() {
    let at = |picture: &str, grade: &str| {
        found(
            &plan(&format!(", {picture}"), &format!(", grade: {grade}"), ""),
            GRADE,
        )
    };
    assert!(at("picture: 1920x1080 @ 60 Hz", "high-speed").is_empty());
    assert_eq!(
        at("picture: 1920x1080 @ 60 Hz", "standard"),
        [("V1".into(), Fault)]
    );
    assert!(at("picture: 3840x2160 @ 30 Hz", "high-speed").is_empty());
    assert!(at("picture: 3840x2160 @ 60 Hz", "premium-high-speed").is_empty());
    assert_eq!(
        at(
            "picture: 3840x2160 @ 60 Hz, depth: 10 bit",
            "premium-high-speed"
        ),
        [("V1".into(), Fault)]
    );
    assert!(
        at(
            "picture: 3840x2160 @ 60 Hz, depth: 10 bit",
            "ultra-high-speed"
        )
        .is_empty()
    );
    // 720p60 is 3 x 10 bit x 74.25 MHz: exactly what the standard grade carries.
    assert!(at("picture: 1280x720 @ 60 Hz", "standard").is_empty());
    // Compressed to a third: 4320p60 from 64.2 (HD14) to 21.4.
    assert_eq!(
        at("picture: 7680x4320 @ 60 Hz", "ultra-high-speed"),
        [("V1".into(), Fault)]
    );
    assert!(
        at(
            "picture: 7680x4320 @ 60 Hz, compression: yes",
            "ultra-high-speed"
        )
        .is_empty()
    );
}

/// 2160p120 in 12 bit: 1188 MHz x 36 bit x 18/16 = 48.114 Gbit/s, 0.24 % above 48.
#[test]
fn just_above_a_grade_is_advice() {
    let text = plan(
        ", picture: 3840x2160 @ 120 Hz, depth: 12 bit",
        ", grade: ultra-high-speed",
        "",
    );
    assert_eq!(found(&text, GRADE), [("V1".into(), Advice)]);
}

#[test]
fn grade_or_picture_missing_is_a_gap() {
    assert_eq!(
        gaps(&plan("", ", grade: high-speed", ""), GRADE),
        ["picture of tv"]
    );
    assert_eq!(
        gaps(&plan(", picture: 1920x1080 @ 60 Hz", "", ""), GRADE),
        ["grade of c"]
    );
    // A grade of data cable that carries video; on a video cable it is no grade, which reading says.
    let data = plan(
        ", picture: 1920x1080 @ 60 Hz",
        ", grade: cat6",
        ", carries: video",
    );
    assert_eq!(
        gaps(&data.replace("for: video", "for: data"), GRADE),
        ["what cat6 of c carries of video"]
    );
    assert!(gaps(&data, GRADE).is_empty());
    assert!(gaps(&plan("", ", grade: high-speed", ", spare: yes"), GRADE).is_empty());
}

#[test]
fn every_cable_of_the_channel_is_judged() {
    let text = "nailplate: 1\nregion: gb\nstock:\n  a: {for: video, grade: ultra-high-speed}\n  b: {for: video, grade: high-speed}\nendpoints:\n  rack: {kind: rack}\n  plate: {kind: wall-plate}\n  pj: {kind: projector, picture: 3840x2160 @ 60 Hz}\n  socket: {kind: box, in: pj}\nruns:\n  V1: {from: rack, to: plate, stock: b}\n  V2: {from: plate, to: socket, stock: a}\n";
    assert_eq!(found(text, GRADE), [("V1".into(), Fault)]);
    assert_eq!(reviewed(text, GRADE).findings[0].redlines.len(), 1);
}

/// Reaches of passive cable: common practice, no source.
#[test]
fn reach_by_rate() {
    let at = |picture: &str, length: &str| {
        found(
            &plan(
                &format!(", picture: {picture}"),
                ", grade: ultra-high-speed, build: passive",
                &format!(", length: {length}"),
            ),
            REACH,
        )
    };
    let (hd, uhd30, uhd60, uhd120) = (
        "1920x1080 @ 60 Hz",
        "3840x2160 @ 30 Hz",
        "3840x2160 @ 60 Hz",
        "3840x2160 @ 120 Hz",
    );
    assert!(at(hd, "50 ft").is_empty());
    assert_eq!(at(hd, "51 ft"), [("V1".into(), Fault)]);
    assert!(at(uhd30, "10 m").is_empty());
    assert_eq!(at(uhd30, "10.1 m"), [("V1".into(), Fault)]);
    assert!(at(uhd60, "5 m").is_empty());
    assert_eq!(at(uhd60, "5.1 m"), [("V1".into(), Advice)]);
    assert_eq!(at(uhd60, "25 ft"), [("V1".into(), Advice)]);
    assert_eq!(at(uhd60, "26 ft"), [("V1".into(), Fault)]);
    assert!(at(uhd120, "3 m").is_empty());
    assert_eq!(at(uhd120, "3.1 m"), [("V1".into(), Advice)]);
    assert_eq!(at(uhd120, "5.1 m"), [("V1".into(), Fault)]);
}

#[test]
fn reach_by_grade_where_no_picture_is_stated() {
    let text = plan(
        "",
        ", grade: premium-high-speed, build: passive",
        ", length: 30 ft",
    );
    assert_eq!(found(&text, REACH), [("V1".into(), Fault)]);
    let figure = reviewed(&text, REACH).findings[0]
        .figure
        .clone()
        .expect("a figure");
    assert!(
        figure.working.contains("no picture stated"),
        "{}",
        figure.working
    );
    assert!(
        found(
            &plan("", ", grade: high-speed, build: passive", ", length: 30 ft"),
            REACH
        )
        .is_empty()
    );
}

#[test]
fn active_cable_reaches_what_it_states() {
    let at = |stock: &str, length: &str| {
        let text = plan(
            ", picture: 3840x2160 @ 60 Hz",
            &format!(", grade: ultra-high-speed, {stock}"),
            &format!(", length: {length}"),
        );
        (found(&text, REACH), gaps(&text, REACH))
    };
    assert_eq!(at("build: optical, reach: 30 m", "30 m"), (vec![], vec![]));
    assert_eq!(
        at("build: optical, reach: 30 m", "31 m"),
        (vec![("V1".into(), Fault)], vec![])
    );
    assert_eq!(
        at("build: active", "10 m"),
        (vec![], vec!["reach of c".to_owned()])
    );
    assert_eq!(at("build: active", "2 m"), (vec![], vec![]));
}

#[test]
fn what_reach_lacks() {
    let at =
        |stock: &str, run: &str| gaps(&plan(", picture: 3840x2160 @ 60 Hz", stock, run), REACH);
    assert_eq!(at(", build: passive", ""), ["length of V1"]);
    assert_eq!(at("", ", length: 40 ft"), ["build of c"]);
    assert!(at("", ", length: 10 ft").is_empty());
    assert_eq!(
        gaps(&plan("", ", build: passive", ", length: 10 ft"), REACH),
        ["picture of tv"]
    );
    // No reach is known for 96 Gbit/s, but it is not more than for 48.
    let most = |length: &str| {
        plan(
            "",
            ", grade: ultra96, build: passive",
            &format!(", length: {length}"),
        )
    };
    assert_eq!(
        gaps(&most("2 m"), REACH),
        ["a reach known for 96 Gbit/s over passive cable"]
    );
    assert_eq!(found(&most("6 m"), REACH), [("V1".into(), Fault)]);
}

#[test]
fn a_spare_and_an_estimate() {
    let spare = plan(
        "",
        ", grade: premium-high-speed, build: passive",
        ", length: 30 ft, spare: yes",
    );
    assert_eq!(found(&spare, REACH), [("V1".into(), Advice)]);
    let text = "nailplate: 1\nregion: us\nstock:\n  c: {for: video, grade: premium-high-speed, build: passive}\nendpoints:\n  rack: {kind: rack, at: [0 ft, 0 ft, 3 ft]}\n  tv: {kind: display, at: [30 ft, 0 ft, 3 ft]}\nruns:\n  V1: {from: rack, to: tv, stock: c}\n";
    let review = reviewed(text, REACH);
    assert!(
        review.findings[0].says.contains("about"),
        "{}",
        review.findings[0].says
    );
    assert!(
        review.findings[0]
            .figure
            .as_ref()
            .expect("a figure")
            .working
            .contains("estimated")
    );
}

const CONDUIT: &str = "video.no-conduit";

fn conduits(pathways: &str, projector: &str, run: &str) -> String {
    format!(
        "nailplate: 1\nregion: us\nstock:\n  c: {{for: video}}\n  nm: {{for: power}}\npathways:\n  attic: {{kind: attic}}\n{pathways}endpoints:\n  rack: {{kind: rack}}\n  pot: {{kind: box}}\n  pj: {{kind: projector{projector}}}\nruns:\n  V1: {{from: rack, to: pj, stock: c{run}}}\n  P1: {{from: rack, to: pj, stock: nm, through: [attic]}}\n"
    )
}

#[test]
fn a_conduit_reaches_the_projector_in_several_ways() {
    let none: Vec<String> = Vec::new();
    let judged = |text: &str| (found(text, CONDUIT), gaps(text, CONDUIT));
    let missing = (vec![("pj".to_owned(), Advice)], none.clone());
    let fine = (Vec::new(), none);
    assert_eq!(judged(&conduits("", "", ", through: [attic]")), missing);
    assert_eq!(judged(&conduits("", "", "")), missing);
    let pipe = "  pipe: {kind: conduit, from: rack, to: pj}\n";
    assert_eq!(judged(&conduits(pipe, "", ", through: [attic]")), fine);
    let pot = "  pipe: {kind: conduit, from: rack, to: pot}\n";
    assert_eq!(judged(&conduits(pot, "", ", through: [attic]")), missing);
    assert_eq!(
        judged(&conduits(pot, ", beside: pot", ", through: [attic]")),
        fine
    );
    assert_eq!(
        judged(&conduits(pot, ", in: pot", ", through: [attic]")),
        fine
    );
    assert_eq!(judged(&conduits(pot, "", ", through: [pipe]")), fine);
    assert_eq!(
        judged(&conduits(
            "  pipe: {kind: conduit, spare-for: pj}\n",
            "",
            ", through: [attic]"
        )),
        fine
    );
    // Another conduit may be the projector's: which one the plan does not say.
    assert_eq!(
        gaps(
            &conduits("  pipe: {kind: conduit}\n", "", ", through: [attic]"),
            CONDUIT
        ),
        ["from of pipe"]
    );
    assert_eq!(gaps(&conduits(pot, "", ""), CONDUIT), ["through of V1"]);
}

/// A long line with a tap at each plate: every far end is judged, however many there are.
#[test]
fn every_end_of_a_comb_is_judged() {
    let mut text = String::from(
        "nailplate: 1\nregion: us\nstock:\n  hd: {for: video, grade: standard, build: passive}\nendpoints:\n  src: {kind: source}\n",
    );
    let mut runs = String::from("runs:\n");
    for n in 0..80 {
        let from = if n == 0 {
            "src".to_owned()
        } else {
            format!("o{}", n - 1)
        };
        text += &format!(
            "  o{n}: {{kind: wall-plate}}\n  d{n}: {{kind: display, picture: 3840x2160 @ 60 Hz}}\n"
        );
        runs += &format!(
            "  A{n}: {{from: {from}, to: o{n}, stock: hd, length: 5 ft}}\n  T{n}: {{from: o{n}, to: d{n}, stock: hd, length: 5 ft}}\n"
        );
    }
    text += &runs;
    let ends: std::collections::BTreeSet<_> = super::found(&text, "video.undergraded")
        .into_iter()
        .map(|(on, _)| on)
        .collect();
    assert!(
        ends.contains("T79"),
        "the last tap is judged too: {}",
        ends.len()
    );
}
