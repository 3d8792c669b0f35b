//! Conduits. Fill: NEC chapter 9 tables 1 and 4 (note 4, the nipple, from memory) and TIA-569 practice; bends: NEC
//! 358.26 and the like, TIA-569. Strings and spare ways: common practice, no source.

use nailplate::findings::Level::{self, Advice, Fault, Hazard};

use super::{edited, exactly, found, gaps};

const OVERFULL: &str = "pathway.overfull";
const OVERBENT: &str = "pathway.overbent";
const STRING: &str = "pathway.no-pull-string";
const SPARE: &str = "pathway.no-spare-way";

/// A plan with a conduit `c` and one run for each cable: its stock's keys.
fn plan(region: &str, conduit: &str, cables: &[&str]) -> String {
    let mut text = format!("nailplate: 1\nregion: {region}\nstock:\n");
    for (n, cable) in cables.iter().enumerate() {
        text += &format!("  s{n}: {{{cable}}}\n");
    }
    text += &format!(
        "pathways:\n  c: {{kind: conduit, {conduit}}}\nendpoints:\n  a: {{kind: rack}}\n  b: {{kind: keypad}}\nruns:\n"
    );
    for n in 0..cables.len() {
        text += &format!("  R{n}: {{from: a, to: b, stock: s{n}, through: [c]}}\n");
    }
    text
}

#[track_caller]
fn check(text: &str, rule: &str, expected: &[Level], lacks: &[&str]) {
    let expected: Vec<_> = expected.iter().map(|level| ("c", *level)).collect();
    exactly(text, rule, &expected, lacks);
}

/// Cables of one service and diameter.
fn cables(service: &str, diameter: &str, count: usize) -> Vec<String> {
    vec![format!("for: {service}, diameter: {diameter}"); count]
}

#[track_caller]
fn full(region: &str, conduit: &str, of: &[Vec<String>], expected: &[Level]) {
    let all: Vec<&str> = of.iter().flatten().map(String::as_str).collect();
    check(&plan(region, conduit, &all), OVERFULL, expected, &[]);
}

#[test]
fn fill_by_the_number_of_cables() {
    // In a bore of 10 mm a cable of n mm takes n² %.
    let bore = "bore: 10 mm, length: 3 m";
    // One: 53 %. 7.28² = 53.0 %, to a thousandth under and over.
    full("us", bore, &[cables("data", "7.28 mm", 1)], &[]);
    full("us", bore, &[cables("data", "7.281 mm", 1)], &[Fault]);
    // Two: 31 %. 2 × 3.937² = 31.0 %.
    full("us", bore, &[cables("data", "3.937 mm", 2)], &[]);
    full("us", bore, &[cables("data", "3.938 mm", 2)], &[Fault]);
    // Three and more: 40 %. Exactly at the limit passes: 4² + 4² + ... = 40 % of ten of 2 mm.
    full("us", bore, &[cables("data", "2 mm", 10)], &[]);
    full("us", bore, &[cables("data", "2 mm", 11)], &[Fault]);
    full("ca", bore, &[cables("speaker", "2 mm", 11)], &[Fault]);
    // A flat cable by its larger side; its earth and cores are no more cables.
    full("us", bore, &[cables("speaker", "3 mm x 7.3 mm", 1)], &[Fault]);
}

#[test]
fn published_fills() {
    // worked_examples.csv CD06: 6 cables of 6.0 mm in EMT 1 in: 30.43 %.
    full("us", "make: EMT, size: 1, length: 3 m", &[cables("data", "6.0 mm", 6)], &[]);
    full("us", "make: EMT, size: 1, length: 3 m", &[cables("data", "6.0 mm", 8)], &[Fault]);
    // CD07: 2 cables of 7.5 mm in ENT 3/4: 30.17 %, limit 31 %: passes only just.
    full("us", "make: ENT, size: 3/4, length: 3 m", &[cables("data", "7.5 mm", 2)], &[]);
    full("us", "make: ENT, size: 3/4, length: 3 m", &[cables("data", "7.7 mm", 2)], &[Fault]);
}

#[test]
fn single_conductors_count_each() {
    let wire = |rating: &str, diameter: &str, runs: usize| vec![format!("for: power, cores: 2 x 12 AWG + earth, rating: {rating}, diameter: {diameter}"); runs];
    // NEC annex C, table C.1, from memory: 9 conductors of 12 AWG THHN (0.130 in, chapter 9 table 5) in EMT 1/2, 16 in 3/4.
    for (size, runs, expected) in [("1/2", 3, &[][..]), ("1/2", 4, &[Hazard]), ("3/4", 5, &[]), ("3/4", 6, &[Hazard])] {
        full("us", &format!("make: EMT, size: {size}, length: 9 ft"), &[wire("THHN", "0.130 in", runs)], expected);
    }
    // Two runs are six conductors, so 40 % holds, where two cables have 31 %. What has room for three is no conductor's own.
    full("us", "bore: 0.5 in, length: 9 ft", &[wire("THHN", "0.22 in", 2)], &[]);
    full("us", "bore: 0.5 in, length: 9 ft", &[wire("NM-B", "0.22 in", 2)], &[Hazard]);
    let text = plan("us", "make: EMT, size: 1/2, length: 9 ft", &[wire("THHN", "0.130 in", 1)[0].as_str(); 4]);
    let finding = &super::reviewed(&text, OVERFULL).findings[0];
    assert_eq!(finding.says, "c is 52.4 % full with 12 conductors, allowed is 40 %");
    assert_eq!(finding.figure.as_ref().map(|figure| figure.working.as_str()), Some("12 × (0.13 in)² ÷ (0.622 in)² = 52.4 %"));
}

#[test]
fn a_nipple_may_be_fuller() {
    let eight = [cables("data", "2.6 mm", 8)]; // 54 %
    full("us", "bore: 10 mm, length: 24 in", &eight, &[]);
    full("us", "bore: 10 mm, length: 609.6 mm", &eight, &[]);
    full("us", "bore: 10 mm, length: 25 in", &eight, &[Fault]);
    full("us", "bore: 10 mm", &eight, &[Fault]);
    full("us", "bore: 10 mm, length: 12 in", &[cables("data", "2.6 mm", 9)], &[Fault]);
}

#[test]
fn practice_where_the_code_is_silent() {
    let bore = "bore: 10 mm, length: 3 m";
    // Communications alone, and other regions: 40 % whatever the number.
    for (region, service) in [("us", "coax"), ("us", "fibre"), ("gb", "data"), ("eu", "data"), ("au", "speaker")] {
        full(region, bore, &[cables(service, "4.4 mm", 2)], &[]);
        full(region, bore, &[cables(service, "6.4 mm", 1)], &[Fault]);
        full(region, bore, &[cables(service, "4.5 mm", 2)], &[Fault]);
    }
    // One speaker cable among the coax brings the code's table.
    full("us", bore, &[cables("coax", "3.9 mm", 1), cables("speaker", "4.1 mm", 1)], &[Fault]);
}

#[test]
fn power_makes_it_a_hazard() {
    let bore = "bore: 10 mm, length: 3 m";
    for region in ["us", "ca", "gb", "eu", "au"] {
        full(region, bore, &[cables("power", "4 mm", 3)], &[Hazard]);
        full(region, bore, &[cables("data", "4 mm", 2), cables("power", "4 mm", 1)], &[Hazard]);
        full(region, bore, &[cables("power", "3 mm", 3)], &[]);
    }
}

#[test]
fn what_is_missing_for_the_fill() {
    let thick = "for: data, diameter: 6 mm";
    check(&plan("us", "length: 3 m", &[thick]), OVERFULL, &[], &["make of c"]);
    check(&plan("us", "make: EMT", &[thick]), OVERFULL, &[], &["size of c"]);
    check(&plan("us", "make: EMT, size: 5", &[thick]), OVERFULL, &[], &["bore of c (no table has EMT 5)"]);
    check(&plan("us", "bore: 10 mm", &["for: data"]), OVERFULL, &[], &["diameter of s0"]);
    check(&plan("us", "bore: 10 mm", &["diameter: 3 mm"]), OVERFULL, &[], &["`for` of s0"]);
    // What is known may be too much already: two cables, one of 36 %.
    check(&plan("us", "bore: 10 mm", &[thick, "for: data"]), OVERFULL, &[Fault], &[]);
    check(&plan("us", "bore: 20 mm", &[thick, "for: data"]), OVERFULL, &[], &["diameter of s1"]);
    // Bad values are reported once, elsewhere; an empty conduit is not concerned.
    check(&plan("us", "bore: wide", &[thick]), OVERFULL, &[], &[]);
    check(&plan("us", "bore: 10 mm, length: long", &["for: data, diameter: 4 mm"; 3]), OVERFULL, &[], &[]);
    check(&plan("us", "length: 3 m", &[]), OVERFULL, &[], &[]);
}

#[test]
fn a_conduit_in_a_conduit_takes_more_than_its_cables() {
    let text = |diameter: &str| {
        format!(
            "nailplate: 1\nregion: us\nstock:\n  s: {{for: data, diameter: {diameter}}}\npathways:\n  c: {{kind: conduit, bore: 20 mm}}\n\
             \x20 d: {{kind: conduit, bore: 30 mm, inside: c}}\nendpoints:\n  a: {{kind: rack}}\n  b: {{kind: keypad}}\n\
             runs:\n  R1: {{from: a, to: b, stock: s, through: [d]}}\n"
        )
    };
    check(&text("10 mm"), OVERFULL, &[], &["outside diameter of d"]);
    check(&text("15 mm"), OVERFULL, &[Fault], &[]);
}

#[test]
fn the_next_size_that_holds_it_is_offered() {
    // 3 × (0.35 in)² in 3/4 ENT (0.76 in): 63.6 %; in 1 (1.00 in): 36.8 %.
    let text = plan("us", "make: ENT, size: 3/4, length: 9 ft", &["for: data, diameter: 0.35 in"; 3]);
    let after = edited(&text, OVERFULL);
    assert!(after.contains("size: 1,"), "{after}");
    check(&after, OVERFULL, &[], &[]);
    // No size of the table holds that: words only. Nor is one offered while a diameter is missing.
    let text = plan("us", "make: ENT, size: 2, length: 9 ft", &["for: data, diameter: 1.2 in"; 3]);
    assert_eq!(edited(&text, OVERFULL), text);
    let text = plan("us", "make: ENT, size: 3/4", &["for: data, diameter: 0.7 in", "for: data"]);
    check(&text, OVERFULL, &[Fault], &[]);
    assert_eq!(edited(&text, OVERFULL), text);
}

#[test]
fn bends_by_what_is_carried() {
    for (bends, service, expected) in [
        ("[90 deg, 90 deg, 90 deg, 90 deg]", "speaker", &[][..]),
        ("[90 deg, 90 deg, 90 deg, 90 deg, 1 deg]", "speaker", &[Fault]),
        ("[90 deg, 90 deg, 90 deg, 90 deg, 1 deg]", "power", &[Fault]),
        ("[90 deg, 90 deg]", "data", &[]),
        ("[90 deg, 91 deg]", "data", &[Advice]),
        ("[90 deg, 91 deg]", "video", &[Advice]),
        ("[90 deg, 91 deg]", "coax", &[Advice]),
        ("[90 deg, 91 deg]", "fibre", &[Advice]),
        ("[90 deg, 91 deg]", "line", &[]),
        ("[90 deg, 91 deg]", "control", &[]),
        ("[200 deg, 200 deg]", "data", &[Fault]),
        ("[]", "data", &[]),
    ] {
        let stock = format!("for: {service}");
        for region in ["us", "ca", "gb", "eu", "au"] {
            check(&plan(region, &format!("bends: {bends}"), &[&stock]), OVERBENT, expected, &[]);
        }
    }
    check(&plan("us", "bends: [361 deg]", &[]), OVERBENT, &[Fault], &[]);
    check(&plan("us", "bends: [270 deg]", &[]), OVERBENT, &[], &[]);
    check(&plan("us", "size: 1", &["for: data"]), OVERBENT, &[], &["bends of c"]);
    check(&plan("us", "bends: [270 deg]", &["rating: CM"]), OVERBENT, &[], &["`for` of s0"]);
    check(&plan("us", "bends: [270 deg]", &["rating: CM", "for: data"]), OVERBENT, &[Advice], &[]);
    check(&plan("us", "bends: [round]", &["for: data"]), OVERBENT, &[], &[]);
}

#[test]
fn a_string_and_room_for_one_more() {
    let pipe = |string: &str| format!("bore: 20 mm, length: 3 m{string}");
    let thin = "for: data, diameter: 5 mm";
    check(&plan("us", &pipe(", pull-string: yes"), &[thin]), STRING, &[], &[]);
    check(&plan("us", &pipe(", pull-string: no"), &[thin]), STRING, &[Advice], &[]);
    check(&plan("us", &pipe(""), &[thin]), STRING, &[], &["pull-string of c"]);
    check(&plan("us", &pipe(", pull-string: perhaps"), &[thin]), STRING, &[], &[]);
    check(&plan("us", "pull-string: no", &[]), STRING, &[Advice], &[]);
    check(&plan("us", "pull-string: yes", &[]), STRING, &[], &[]);
    // Building wire alone is not meant; with signal beside it, it is.
    check(&plan("us", "pull-string: no", &["for: power"]), STRING, &[], &[]);
    let mixed = &["for: power, diameter: 3 mm", thin];
    check(&plan("us", &pipe(", pull-string: no"), mixed), STRING, &[Advice], &[]);
    let after = edited(&plan("us", &pipe(", pull-string: no"), &[thin]), STRING);
    check(&after, STRING, &[], &[]);
}

#[test]
fn room_is_judged_as_if_one_more_were_in_it() {
    let pipe = "bore: 10 mm, length: 3 m, pull-string: yes";
    // One of 3.9 mm and one more are two: 30.4 % of 31 %. Of 4 mm: 32 %.
    check(&plan("us", pipe, &["for: data, diameter: 3.9 mm"]), STRING, &[], &[]);
    check(&plan("us", pipe, &["for: data, diameter: 4 mm"]), STRING, &[Advice], &[]);
    check(&plan("gb", pipe, &["for: data, diameter: 4 mm"]), STRING, &[], &[]);
    check(&plan("us", pipe, &["for: coax, diameter: 4 mm"]), STRING, &[], &[]);
    // The thickest signal cable is the measure: the power cable is not.
    check(&plan("us", pipe, &["for: power, diameter: 5 mm", "for: data, diameter: 2.5 mm"]), STRING, &[], &[]);
    check(&plan("us", pipe, &["for: power, diameter: 2.5 mm", "for: data, diameter: 5 mm"]), STRING, &[Advice], &[]);
    // Ten of 2 mm: 40 % with one more is 44 %.
    check(&plan("us", pipe, &["for: data, diameter: 2 mm"; 9]), STRING, &[], &[]);
    check(&plan("us", pipe, &["for: data, diameter: 2 mm"; 10]), STRING, &[Advice], &[]);
    check(&plan("us", pipe, &["for: data"]), STRING, &[], &["diameter of s0"]);
    check(&plan("us", pipe, &["for: data, diameter: 6 mm", "for: data"]), STRING, &[Advice], &[]);
    let text = plan("us", "make: EMT, size: 1/2, pull-string: yes, length: 9 ft", &["for: data, diameter: 0.3 in"]);
    let after = edited(&text, STRING);
    assert!(after.contains("size: 3/4"), "{after}");
    check(&after, STRING, &[], &[]);
}

/// A plan with a rack `a` (served by a spare run) and whatever more endpoints, pathways and runs.
fn ways(endpoints: &str, pathways: &str, runs: &str) -> String {
    let lines = |text: &str| {
        text.split("; ").filter(|line| !line.is_empty()).fold(String::new(), |all, line| all + "  " + line + "\n")
    };
    let pathways = if pathways.is_empty() { String::new() } else { format!("pathways:\n{}", lines(pathways)) };
    format!(
        "nailplate: 1\nregion: us\nstock:\n  s: {{for: video, diameter: 0.2 in}}\n  t: {{for: power, diameter: 0.2 in}}\n{pathways}endpoints:\n  \
         a: {{kind: source}}\n{}runs:\n  N: {{from: a, to: a, stock: s}}\n{}",
        lines(endpoints),
        lines(runs),
    )
}

#[test]
fn a_spare_way_is_a_spare_run_or_a_conduit_with_room() {
    let wants = |endpoints: &str, pathways: &str, runs: &str, expected: &[&str], lacks: &[&str]| {
        let text = ways(endpoints, pathways, runs);
        let expected: Vec<_> = expected.iter().map(|id| ((*id).to_owned(), Advice)).collect();
        assert_eq!(found(&text, SPARE), expected, "{text}");
        assert_eq!(gaps(&text, SPARE), lacks, "{text}");
    };
    let spare = "R: {from: a, to: p, stock: s, spare: yes}";
    let live = "R: {from: a, to: p, stock: s, through: [c]}";
    for kind in ["projector", "display", "rack"] {
        let p = format!("p: {{kind: {kind}}}");
        wants(&p, "", "", &["p"], &[]);
        wants(&p, "", "R: {from: a, to: p, stock: s}", &["p"], &[]);
        wants(&p, "", spare, &[], &[]);
        wants(&p, "c: {kind: conduit, from: a, to: p}", "", &[], &[]);
        wants(&p, "c: {kind: conduit, from: a, spare-for: p}", "", &[], &[]);
        wants(&p, "c: {kind: conduit, from: a, to: p, bore: 20 mm, length: 9 ft}", live, &[], &[]);
        // Full, unknown, or with power in it.
        wants(&p, "c: {kind: conduit, from: a, to: p, bore: 8 mm, length: 9 ft}", live, &["p"], &[]);
        wants(&p, "c: {kind: conduit, from: a, to: p, length: 9 ft}", live, &[], &["make of c"]);
        let power = "R: {from: a, to: p, stock: t, through: [c]}";
        wants(&p, "c: {kind: conduit, from: a, to: p, bore: 20 mm}", power, &["p"], &[]);
        // A conduit of another place is none; one that does not say where it ends may be.
        wants(&p, "c: {kind: conduit, from: a, to: a, bore: 20 mm}", live, &["p"], &[]);
        wants(&p, "c: {kind: conduit, bore: 20 mm}", live, &[], &["from of c"]);
        wants(&p, "c: {kind: wall, from: a, to: p}", "", &["p"], &[]);
        // By way of what stands in it, and of a box beside it, whichever of the two says so.
        let q = "; q: {kind: patch-panel, in: p}";
        wants(&(p.clone() + q), "", "R: {from: a, to: q, stock: s, spare: yes}", &[], &[]);
        wants(&(p.clone() + "; q: {kind: box, beside: p}"), "c: {kind: conduit, to: q}", "", &[], &[]);
        let named = p.replace('}', ", beside: q}") + "; q: {kind: wall-plate}";
        wants(&named, "c: {kind: conduit, to: q}", "", &[], &[]);
        wants(&named.replace("wall-plate", "camera"), "c: {kind: conduit, to: q}", "", &["p"], &[]);
    }
    // Beside a picture's lines that all lie in the open another can be laid; a rack has other lines as well.
    let open = |kind: &str, runs: &str, expected: &[&str]| wants(&format!("p: {{kind: {kind}}}"), "", runs, expected, &[]);
    open("display", "R: {from: a, to: p, stock: s, surface: yes}", &[]);
    open("projector", "R: {from: a, to: p, stock: s, surface: yes}", &[]);
    open("display", "R: {from: a, to: p, stock: s, surface: yes}; Q: {from: a, to: p, stock: s}", &["p"]);
    open("display", "R: {from: a, to: p, stock: t, surface: yes}", &["p"]);
    open("rack", "R: {from: a, to: p, stock: s, surface: yes}", &["p"]);
    // A screen only with power; what stands in a rack is the rack's matter, which counts once.
    wants("p: {kind: screen}", "", "", &[], &[]);
    wants("p: {kind: screen, load: 0 W}", "", "", &[], &[]);
    wants("p: {kind: screen, load: 90 W}", "", "", &["p"], &[]);
    wants("p: {kind: screen}; m: {kind: motor, in: p}", "", "", &["p"], &[]);
    wants("p: {kind: screen}; m: {kind: motor, beside: p}", "", "", &["p"], &[]);
    wants("p: {kind: rack}; d: {kind: display, in: p}", "", "", &["p"], &[]);
    wants("p: {kind: speaker}; d: {kind: keypad}", "", "", &[], &[]);
}

#[test]
fn many_of_everything_at_once() {
    let mut text = String::from(
        "nailplate: 1\nregion: us\nstock:\n  s: {for: data, diameter: 0.2 in}\npathways:\n  c: {kind: conduit, bore: 40 m, bends: [9 deg], pull-string: yes, from: a, to: a}\nendpoints:\n  a: {kind: rack}\n  b: {kind: display, in: a}\nruns:\n",
    );
    for n in 0..5_000 {
        text += &format!("  R{n}: {{from: a, to: b, stock: s, through: [c]}}\n");
    }
    for rule in [OVERFULL, OVERBENT, STRING, SPARE] {
        check(&text, rule, &[], &[]);
    }
}
