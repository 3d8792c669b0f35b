//! Variances: which let pass, which are owed a reason, which are stale (common practice, no source).

use std::path::Path;

use nailplate::plan::Date;
use nailplate::review::{Review, Scope, Selection, review_text};

use super::Shelf;

const STALE: &str = "plan.variance-stale";
const UNREASONED: &str = "plan.variance-unreasoned";

/// A keypad that nothing reaches (a fault), a breaker too large (a hazard), a run of unknown length.
fn plan(variances: &str) -> String {
    let list = variances
        .split("; ")
        .filter(|one| !one.is_empty())
        .fold(String::new(), |all, one| all + "  - {" + one + "}\n");
    let list = if list.is_empty() {
        list
    } else {
        format!("variances:\n{list}")
    };
    format!(
        "nailplate: 1\nregion: us\nstock:\n  n: {{for: power, cores: 2 x 14 AWG + earth, rating: NM-B, material: copper}}\n  \
         s: {{for: speaker, cores: 2 x 12 AWG, rating: CL3}}\n  t: {{for: speaker, rating: CL3}}\ncircuits:\n  C: {{breaker: 30 A, volts: 120 V}}\nendpoints:\n  rack: {{kind: rack}}\n  \
         lamp: {{kind: light, load: 60 W}}\n  keypad: {{kind: keypad}}\n  left: {{kind: speaker, impedance: 8 ohm}}\n  right: {{kind: speaker, impedance: 8 ohm}}\nruns:\n  \
         P: {{from: C, to: lamp, stock: n, length: 10 ft}}\n  S: {{from: rack, to: left, stock: s}}\n  T: {{from: rack, to: right, stock: s, length: 10 ft}}\n{list}"
    )
}

fn review<'a>(text: &str, scope: impl Into<Scope<'a>>) -> Review {
    review_text(Path::new("case.plan.yaml"), text.to_owned(), &Shelf, scope)
        .unwrap_or_else(|_| panic!("no YAML: {text}"))
}

fn day(text: &str) -> Date {
    Date::parse(text).expect("a day")
}

/// What one rule says on 2026-03-01, and what it lacks.
#[track_caller]
fn check(text: &str, rule: &str, says: &[&str], lacks: &[&str]) {
    let review = review(text, Selection::Only(rule).on_day(day("2026-03-01")));
    let found: Vec<_> = review
        .findings
        .iter()
        .map(|finding| &*finding.says)
        .collect();
    assert_eq!(found, says, "{text}");
    let gaps: Vec<_> = review.gaps.iter().map(|gap| &*gap.lacks).collect();
    assert_eq!(gaps, lacks, "{text}");
    assert!(review.findings.iter().all(|finding| finding.rule == rule));
}

const KEYPAD: &str = "rule: plan.loose-end, on: keypad";
const BREAKER: &str = "rule: power.breaker-over-wire, on: C";

#[test]
fn reason_and_name_and_approval() {
    for (variance, lacks) in [
        (format!("{KEYPAD}, reason: later, by: JR"), ""),
        (format!("{KEYPAD}, by: JR"), "gives no reason"),
        (
            format!("{KEYPAD}, reason: later"),
            "names nobody who answers for it",
        ),
        (
            KEYPAD.to_owned(),
            "gives no reason and names nobody who answers for it",
        ),
        (
            format!("{BREAKER}, reason: later, by: JR"),
            "has no approval, which a hazard wants",
        ),
        (
            format!("{BREAKER}, reason: later, by: JR, approval: R-17"),
            "",
        ),
        // On nothing that is found, so no hazard either.
        (
            "rule: power.breaker-over-wire, on: lamp, reason: later, by: JR".to_owned(),
            "",
        ),
    ] {
        let on = variance
            .split([' ', ','])
            .filter(|word| !word.is_empty())
            .collect::<Vec<_>>();
        let says = format!("the variance of {} on {} {lacks}", on[1], on[3]);
        let says = if lacks.is_empty() {
            vec![]
        } else {
            vec![&*says]
        };
        check(&plan(&variance), UNREASONED, &says, &[]);
    }
    check(
        &plan("reason: later"),
        UNREASONED,
        &["the variance of no rule names nobody who answers for it"],
        &[],
    );
    // What could not be read has been reported.
    check(
        &plan(&format!("{KEYPAD}, reason: '', by: {{}}")),
        UNREASONED,
        &[],
        &[],
    );
}

#[test]
fn what_a_variance_does_and_does_not_let_pass() {
    let passed = |variance: &str, today: &str| {
        let review = review(&plan(variance), Selection::All.on_day(day(today)));
        let stands = |rule: &str| review.findings.iter().any(|finding| finding.rule == rule);
        let rule = if variance.contains("loose") {
            "plan.loose-end"
        } else {
            "power.breaker-over-wire"
        };
        let keypads = review
            .findings
            .iter()
            .filter(|finding| finding.rule == rule && finding.on[0].as_str() != "rack")
            .count();
        assert_eq!(review.let_pass.len() + keypads, 1, "{variance}");
        (
            review.let_pass.len() == 1,
            stands(STALE),
            stands(UNREASONED),
        )
    };
    let full = |variance: &str| format!("{variance}, reason: later, by: JR");
    assert_eq!(passed(&full(KEYPAD), "2026-03-01"), (true, false, false));
    assert_eq!(passed(KEYPAD, "2026-03-01"), (false, false, true));
    assert_eq!(passed(&full(BREAKER), "2026-03-01"), (false, false, true));
    assert_eq!(
        passed(&(full(BREAKER) + ", approval: R-17"), "2026-03-01"),
        (true, false, false)
    );
    // Up to its day, that day included.
    let ends = full(KEYPAD) + ", until: 2026-02-28";
    assert_eq!(passed(&ends, "2025-12-31"), (true, false, false));
    assert_eq!(passed(&ends, "2026-02-28"), (true, false, false));
    assert_eq!(passed(&ends, "2026-03-01"), (false, true, false));
}

#[test]
fn variances_that_let_nothing_pass() {
    let full = |variance: &str| format!("{variance}, reason: later, by: JR");
    check(&plan(""), STALE, &[], &[]);
    check(&plan(&full(KEYPAD)), STALE, &[], &[]);
    check(
        &plan(&full("rule: plan.loose-end, on: [keypad, lamp]")),
        STALE,
        &["plan.loose-end finds nothing on lamp that could be let pass"],
        &[],
    );
    check(
        &plan(&(full(KEYPAD) + ", until: 2026-02-28")),
        STALE,
        &["the variance of plan.loose-end on keypad ended on 2026-02-28, today is 2026-03-01"],
        &[],
    );
    check(
        &plan(&(full(KEYPAD) + ", until: 2026-03-01")),
        STALE,
        &[],
        &[],
    );
    check(
        &plan("on: keypad"),
        STALE,
        &["a variance on keypad names no rule"],
        &[],
    );
    check(
        &plan("rule: plan.loose-end"),
        STALE,
        &["the variance of plan.loose-end names nothing that it is on"],
        &[],
    );
    check(
        &plan("rule: plan.loose-ends, on: keypad"),
        STALE,
        &["the variance of plan.loose-ends on keypad names no rule of the rulebook"],
        &[],
    );
    // One may cover for another; both are about the finding.
    check(&plan(&format!("{KEYPAD}; {KEYPAD}")), STALE, &[], &[]);
    // What could not be read has been reported.
    check(&plan("rule: {}, on: keypad"), STALE, &[], &[]);
    check(&plan("rule: plan.loose-end, on: nobody"), STALE, &[], &[]);
    check(&plan(&format!("{KEYPAD}, until: soon")), STALE, &[], &[]);
}

#[test]
fn findings_about_variances_are_not_let_pass() {
    let text = plan(&format!(
        "{KEYPAD}; rule: plan.variance-unreasoned, on: keypad, reason: later, by: JR; rule: plan.variance-stale, on: keypad, reason: later, by: JR"
    ));
    check(
        &text,
        UNREASONED,
        &[
            "the variance of plan.loose-end on keypad gives no reason and names nobody who answers for it",
        ],
        &[],
    );
    let nothing = |rule: &str| format!("{rule} finds nothing on keypad that could be let pass");
    check(&text, STALE, &[&nothing(UNREASONED), &nothing(STALE)], &[]);
}

#[test]
fn what_could_not_be_judged_is_not_stale() {
    let undersized = |on: &str| {
        plan(&format!(
            "rule: speaker.undersized, on: {on}, reason: later, by: JR"
        ))
    };
    // S states no length, T does and is short.
    check(&undersized("S"), STALE, &[], &["length of S"]);
    check(
        &undersized("T"),
        STALE,
        &["speaker.undersized finds nothing on T that could be let pass"],
        &[],
    );
    check(
        &undersized("[T, S]"),
        STALE,
        &["speaker.undersized finds nothing on T that could be let pass"],
        &["length of S"],
    );
    // What a thing lacks that others share.
    let shared = plan("rule: rack.too-hot, on: rack, reason: later, by: JR").replace(
        "endpoints:\n  rack: {kind: rack}",
        "rooms:\n  r: {kind: room}\nendpoints:\n  rack: {kind: rack, room: r, load: 900 W}",
    );
    check(&shared, STALE, &[], &["cooled of r"]);
    // What a thing lacks that is in it: lines to a plate of the room that may belong to its ceiling.
    let within = plan("rule: speaker.no-overhead, on: r, reason: later, by: JR")
        .replace("endpoints:\n  rack: {kind: rack}", "rooms:\n  r: {kind: room}\nendpoints:\n  rack: {kind: rack, room: r}\n  side: {kind: speaker, room: r, impedance: 8 ohm, place: surround-left}\n  plate: {kind: wall-plate, room: r}")
        .replace("runs:\n", "runs:\n  A: {from: rack, to: side, stock: s, length: 10 ft}\n  H: {from: rack, to: plate, stock: s, length: 10 ft, spare: yes}\n  I: {from: rack, to: plate, stock: s, length: 10 ft, spare: yes}\n  J: {from: rack, to: plate, stock: s, length: 10 ft, spare: yes}\n  K: {from: rack, to: plate, stock: s, length: 10 ft, spare: yes}\n");
    check(&within, STALE, &[], &["place of plate"]);
    // A value that could not be read may hide the finding.
    check(
        &undersized("T").replace("length: 10 ft}\nv", "length: 10}\nv"),
        STALE,
        &[],
        &["a plan that could be read in full"],
    );
    // Other rules' gaps do not count, nor those of other runs.
    check(
        &plan("rule: plan.loose-end, on: S"),
        STALE,
        &["plan.loose-end finds nothing on S that could be let pass"],
        &[],
    );
}

#[test]
fn without_a_day_an_end_is_a_gap() {
    let text = plan(&format!(
        "{KEYPAD}, reason: later, by: JR, until: 2020-01-01"
    ));
    let reviewed = review(&text, Selection::All);
    assert_eq!(reviewed.let_pass.len(), 1);
    let lacks: Vec<_> = reviewed
        .gaps
        .iter()
        .filter(|gap| gap.rule == STALE)
        .map(|gap| &*gap.lacks)
        .collect();
    assert_eq!(lacks, ["the day of the review"]);
}

#[test]
fn one_rule_alone_makes_no_variance_stale() {
    let text = plan("rule: plan.loose-end, on: lamp");
    assert!(
        review(&text, Selection::Only("power.breaker-over-wire"))
            .findings
            .iter()
            .all(|finding| finding.rule != STALE)
    );
    // And a rule about variances reports of no other.
    let alone = review(&text, Selection::Only(STALE).on_day(day("2026-03-01")));
    assert_eq!((alone.findings.len(), alone.checks), (1, 1));
}

/// The Gregorian calendar: days after 1970-01-01 as POSIX counts them (86 400 s each).
#[test]
fn days_of_the_calendar() {
    for (days, date) in [
        (0, "1970-01-01"),
        (58, "1970-02-28"),
        (59, "1970-03-01"),
        (365, "1971-01-01"),
        (789, "1972-02-29"),
        (10_956, "1999-12-31"),
        (10_957, "2000-01-01"),
        (11_016, "2000-02-29"),
        (11_017, "2000-03-01"),
        // 1 700 000 000 s are 2023-11-14, as `date -u` prints.
        (19_675, "2023-11-14"),
        (47_540, "2100-02-28"),
        (47_541, "2100-03-01"),
        (2_932_896, "9999-12-31"),
    ] {
        assert_eq!(Date::after_1970(days), Some(day(date)), "{days}");
    }
    assert_eq!(Date::after_1970(2_932_897), None);
    assert_eq!(Date::after_1970(u64::MAX), None);
    // Every day is the next of the one before.
    let all: Vec<_> = (0..200_000).filter_map(Date::after_1970).collect();
    assert!(all.windows(2).all(|pair| pair[0] < pair[1]) && all.len() == 200_000);
    assert!(
        all.iter()
            .all(|date| Date::parse(&date.to_string()) == Some(*date))
    );
}
