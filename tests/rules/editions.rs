//! The edition of the NEC that a plan is judged by is named, and which clause it has (725.154 became 722.135 in 2023, 820 went into 800 in 2020; from
//! memory).

use super::reviewed;

/// A hidden run and a rating.
fn plan(code: &str, region: &str, stock: &str) -> String {
    format!(
        "nailplate: 1\n{code}region: {region}\nbuilding: commercial\nstock:\n  x: {{{stock}}}\npathways:\n  w: {{kind: riser}}\nendpoints:\n  \
         a: {{kind: rack}}\n  b: {{kind: speaker}}\n  e: {{kind: entry, bonded: no}}\nruns:\n  S1: {{from: a, to: b, stock: x, through: [w]}}\n  \
         X1: {{from: e, to: a, stock: x, carries: coax}}\n"
    )
}

#[track_caller]
fn authority(rule: &str, code: &str, region: &str, stock: &str) -> String {
    let review = reviewed(&plan(code, region, stock), rule);
    let finding = review.findings.first().expect("it is found");
    finding.authority.clone().unwrap_or_default().into_owned()
}

#[test]
fn the_clause_is_that_of_the_edition() {
    let none = "for: speaker, rating: none";
    let of = |code: &str| authority("fire.unrated-in-wall", code, "us", none);
    assert_eq!(of(""), "NEC 722.135, from memory; judged by NEC 2023, the plan names no code");
    assert_eq!(of("code: NEC 2023\n"), "NEC 722.135, from memory; judged by NEC 2023");
    assert_eq!(of("code: NEC 2020\n"), "NEC 725.154, from memory; judged by NEC 2020");
    assert_eq!(of("code: NEC 2017\n"), "NEC 725.154, from memory; judged by NEC 2017");
    // In Canada the sheet's own authority stands.
    assert_eq!(authority("fire.unrated-in-wall", "", "ca", none), "");
    let short = |code: &str, stock: &str| authority("fire.underrated", code, "us", stock);
    assert_eq!(short("", "for: speaker, rating: CL2"), "NEC 722.135 and 300.22, from memory; judged by NEC 2023, the plan names no code");
    assert_eq!(short("code: NEC 2017\n", "for: coax, rating: CATV"), "NEC 820.154 and 300.22, from memory; judged by NEC 2017");
    assert_eq!(short("code: NEC 2020\n", "for: coax, rating: CATV"), "NEC 800.154 and 300.22, from memory; judged by NEC 2020");
    assert_eq!(short("code: NEC 2020\n", "for: fibre, rating: OFN"), "NEC 770.154 and 300.22, from memory; judged by NEC 2020");
    let dwelling = |code: &str, rating: &str| authority("fire.dwelling-only-cable", code, "us", &format!("for: speaker, rating: {rating}"));
    assert_eq!(dwelling("", "CL3X"), "NEC 722.135, from memory; judged by NEC 2023, the plan names no code");
    assert_eq!(dwelling("code: NEC 2020\n", "CL3X"), "NEC 725.154, from memory; judged by NEC 2020");
    assert_eq!(dwelling("code: NEC 2017\n", "CMX"), "NEC 800.113, from memory; judged by NEC 2017");
    assert_eq!(dwelling("code: NEC 2017\n", "CATVX"), "NEC 820.113, from memory; judged by NEC 2017");
}

#[test]
fn an_entry_names_the_edition() {
    let of = |code: &str, region: &str| authority("coax.antenna-unearthed", code, region, "for: coax, rating: CATV");
    assert!(of("", "us").ends_with("; judged by NEC 2023, the plan names no code"), "{}", of("", "us"));
    assert!(of("code: NEC 2017\n", "us").ends_with("; judged by NEC 2017"));
    assert!(!of("", "ca").contains("judged by"));
}

#[test]
fn a_code_that_cannot_be_read_decides_nothing() {
    // Reported once; the finding stands with the sheet's authority.
    assert_eq!(authority("fire.unrated-in-wall", "code: NEC 1066\n", "us", "for: speaker, rating: none"), "");
}
