//! What is owed, what is new, and what became of entries that are not found again.

use nailplate::findings::Level;
use nailplate::review::{Became, Changes, Entry, Review};

use super::{day, owed_on, settled, told};

pub const UNDERSIZED: &str = "speaker.undersized";

/// A thin line of so many feet on a breaker too large for its wire, and what else a case wants.
pub fn plan(length: &str, more: &str) -> String {
    format!(
        "nailplate: 1
region: us
stage: rough-in
stock:
  n: {{for: power, cores: 2 x 14 AWG + earth, rating: NM-B, material: copper}}
  s: {{for: speaker, cores: 2 x 18 AWG, rating: CL3}}
circuits:
  C: {{breaker: 30 A, volts: 120 V}}
endpoints:
  rack: {{kind: rack}}
  lamp: {{kind: light, load: 60 W}}
  left: {{kind: speaker, impedance: 4 ohm}}
runs:
  P: {{from: C, to: lamp, stock: n, length: 10 ft}}
  S1: {{from: rack, to: left, stock: s{length}}}
{more}"
    )
}

fn became(review: &Review) -> Vec<(&str, &str, &Became)> {
    let each = review.not_found.iter();
    each.map(|gone| (&*gone.entry.rule, gone.entry.at_fault(), &gone.became))
        .collect()
}

/// The entry of one rule alone.
fn only(rule: &str, plan: &str, today: &str) -> Vec<Entry> {
    let mut entries = owed_on(plan, today);
    entries.retain(|entry| *entry.rule == *rule);
    assert_eq!(entries.len(), 1, "{rule}");
    entries
}

#[test]
fn what_is_owed_is_found_again_and_holds_nothing_up() {
    let before = plan(", length: 52 ft", "");
    let entries = owed_on(&before, "2026-01-05");
    assert!(entries.iter().any(|entry| &*entry.rule == UNDERSIZED));
    let moved = before
        .replace("stock:\n", "# moved\n# down\n\nstock:\n")
        .replace("  P: {from: C, to: lamp, stock: n, length: 10 ft}\n", "")
        + "  P: {length: 10 ft, from: C, to: lamp, stock: n}\n";
    let longer = plan(", length: 60 ft", "");
    for same in [&before, &moved, &longer] {
        let review = settled(same, &entries);
        assert_eq!(told(&review.findings), Vec::<String>::new(), "{same}");
        assert_eq!(review.owed.len(), entries.len(), "{same}");
        assert_eq!(became(&review), []);
    }
}

/// The plan with a second speaker and its line.
pub fn with_second(plan: &str) -> String {
    let right = "  right: {kind: speaker, impedance: 4 ohm}\nruns:\n";
    plan.replace("runs:\n", right) + "  S2: {from: rack, to: right, stock: s, length: 52 ft}\n"
}

#[test]
fn another_thing_is_another_finding() {
    let before = plan(", length: 52 ft", "");
    let entries = owed_on(&before, "2026-01-05");
    let review = settled(&with_second(&before), &entries);
    let new = told(&review.findings);
    assert!(new.contains(&format!("{UNDERSIZED} on S2")), "{new:?}");
    let owed = told(review.owed.iter().map(|owed| &owed.finding));
    assert!(owed.contains(&format!("{UNDERSIZED} on S1")), "{owed:?}");
}

#[test]
fn what_is_graver_than_it_was_is_new() {
    let before = plan(", length: 52 ft", "");
    let hazard = only("power.breaker-over-wire", &before, "2026-01-05");
    assert_eq!(hazard[0].level, Level::Hazard);
    let mut as_fault = hazard.clone();
    as_fault[0].level = Level::Fault;
    let review = settled(&before, &as_fault);
    assert_eq!(review.owed.len(), 0);
    assert!(told(&review.findings).contains(&"power.breaker-over-wire on C".to_owned()));
    assert_eq!(became(&review), [], "it is there, only graver");
    let changes = Changes::of(&review, "a.plan.yaml", &as_fault, day("2026-11-27"));
    let new = changes.new.iter().find(|new| new.before.is_some());
    let new = new.expect("told as new");
    assert_eq!(new.before, Some(as_fault[0].clone()));
    assert_eq!(new.entry, hazard[0], "it is owed since then");
    // The other way round it is owed, and the list can be mended.
    let fault = only(UNDERSIZED, &before, "2026-01-05");
    let mut as_hazard = fault.clone();
    as_hazard[0].level = Level::Hazard;
    let review = settled(&before, &as_hazard);
    let changes = Changes::of(&review, "a.plan.yaml", &as_hazard, day("2026-11-27"));
    assert_eq!(changes.lesser, [(as_hazard[0].clone(), fault[0].clone())]);
}

#[test]
fn what_concerns_fewer_things_is_owed_what_concerns_more_is_new() {
    let fewer = plan(", length: 52 ft", "");
    let more = with_second(&fewer);
    let rule = "rack.no-patch-panel";
    let of = |plan: &str| only(rule, plan, "2026-01-05");
    assert_eq!(of(&more)[0].on, ["rack", "S1", "S2"].map(Box::from));
    let review = settled(&fewer, &of(&more));
    assert_eq!(
        told(review.owed.iter().map(|owed| &owed.finding)),
        [format!("{rule} on rack")]
    );
    assert_eq!(became(&review), []);
    let changes = Changes::of(&review, "a.plan.yaml", &of(&more), day("2026-11-27"));
    assert_eq!(
        changes.lesser,
        [(of(&more).remove(0), of(&fewer).remove(0))]
    );
    let review = settled(&more, &of(&fewer));
    assert_eq!((review.owed.len(), became(&review)), (0, vec![]));
    let changes = Changes::of(&review, "a.plan.yaml", &of(&fewer), day("2026-11-27"));
    let grown: Vec<_> = changes
        .new
        .iter()
        .filter(|new| new.before.is_some())
        .collect();
    assert_eq!(grown.len(), 1);
    assert_eq!(grown[0].entry, of(&more)[0]);
    // Other things are another matter.
    let other = fewer.replace("S1", "S9");
    let review = settled(&other, &of(&fewer));
    assert_eq!(became(&review), [(rule, "rack", &Became::PutRight)]);
    assert!(told(&review.findings).contains(&format!("{rule} on rack")));
}

#[test]
fn what_is_mended_is_put_right() {
    let thin = only(UNDERSIZED, &plan(", length: 52 ft", ""), "2026-01-05");
    let thick = plan(", length: 52 ft", "").replace("18 AWG", "12 AWG");
    let review = settled(&thick, &thin);
    assert_eq!(became(&review), [(UNDERSIZED, "S1", &Became::PutRight)]);
    let gone = plan(", length: 52 ft", "").replace(
        "  S1: {from: rack, to: left, stock: s, length: 52 ft}\n",
        "",
    );
    assert_eq!(
        became(&settled(&gone, &thin)),
        [(UNDERSIZED, "S1", &Became::PutRight)]
    );
}

#[test]
fn what_cannot_be_judged_any_more_is_not_put_right() {
    let thin = only(UNDERSIZED, &plan(", length: 52 ft", ""), "2026-01-05");
    let not_judged = |plan: &str, lack: &str| {
        let review = settled(plan, &thin);
        let lack = Became::Unjudged(lack.to_owned());
        assert_eq!(became(&review), [(UNDERSIZED, "S1", &lack)], "{plan}");
    };
    not_judged(&plan("", ""), "length of S1");
    not_judged(
        &plan(", length: 52 fot", ""),
        "a plan that could be read in full",
    );
}

#[test]
fn a_mistake_that_was_there_before_hides_nothing() {
    let odd =
        |thickness: &str| plan(", length: 52 ft, colour: red", "").replace("18 AWG", thickness);
    let mistake = "plan.unknown-key";
    let mut entries = owed_on(&odd("18 AWG"), "2026-01-05");
    entries.retain(|entry| [UNDERSIZED, mistake].contains(&&*entry.rule));
    let review = settled(&odd("12 AWG"), &entries);
    assert_eq!(became(&review), [(UNDERSIZED, "S1", &Became::PutRight)]);
    // One that is owed only since a later day may hide it.
    let mut later = only(mistake, &odd("18 AWG"), "2026-02-05");
    later.extend(only(UNDERSIZED, &odd("18 AWG"), "2026-01-05"));
    let review = settled(&odd("12 AWG"), &later);
    let hidden = Became::Unjudged("a plan that could be read in full".to_owned());
    assert_eq!(became(&review), [(UNDERSIZED, "S1", &hidden)]);
}

#[test]
fn a_variance_goes_first() {
    let variance =
        "variances:\n  - {rule: speaker.undersized, on: S1, reason: short use, by: JR}\n";
    let thin = only(UNDERSIZED, &plan(", length: 52 ft", ""), "2026-01-05");
    let review = settled(&plan(", length: 52 ft", variance), &thin);
    assert_eq!((review.let_pass.len(), review.owed.len()), (1, 0));
    assert_eq!(became(&review), [(UNDERSIZED, "S1", &Became::LetPass)]);
}

#[test]
fn rules_that_do_not_judge_here() {
    let text = plan(", length: 52 ft", "");
    let thin = only(UNDERSIZED, &text, "2026-01-05");
    let mut none = thin[0].clone();
    none.rule = "speaker.no-such".into();
    assert_eq!(
        became(&settled(&text, &[none])),
        [("speaker.no-such", "S1", &Became::NoRule)]
    );
    // Whether a run has been pulled is asked from close-in on.
    let closed = text.replace("stage: rough-in", "stage: close-in");
    let pulled = owed_on(&closed, "2026-01-05");
    let pulled: Vec<_> = pulled
        .into_iter()
        .filter(|entry| &*entry.rule == "plan.not-pulled")
        .collect();
    assert!(!pulled.is_empty());
    let again = settled(&text, &pulled);
    assert!(
        again.not_found.iter().all(|gone| !gone.became.is_done()),
        "{:?}",
        became(&again)
    );
}

#[test]
fn mistakes_of_reading_are_owed_key_by_key() {
    let odd = |keys: &str| plan(&format!(", length: 52 ft{keys}"), "");
    let mut entries = owed_on(&odd(", colour: red, maker: none"), "2026-01-05");
    entries.retain(|entry| &*entry.rule == "plan.unknown-key");
    assert_eq!(entries.len(), 2);
    let left = |plan: &str| {
        let review = settled(plan, &entries);
        let unknown = review
            .findings
            .iter()
            .filter(|found| found.rule == "plan.unknown-key");
        (
            unknown.map(|found| found.says.clone()).collect::<Vec<_>>(),
            review.owed.len(),
        )
    };
    assert_eq!(left(&odd(", maker: none, colour: blue")), (vec![], 2));
    // Another key in the place of one that is owed is new.
    let (new, owed) = left(&odd(", maker: none, weigth-of-it: 2"));
    assert_eq!(owed, 1);
    assert_eq!(new.len(), 1);
    assert!(new[0].contains("`weigth-of-it`"), "{new:?}");
}

#[test]
fn findings_that_are_alike_are_counted() {
    // Two conduits' worth of the same: no rule tells them apart.
    let twice = plan(", length: 52 ft, through: [wall-1, wall-2]", "");
    let entries = owed_on(&twice, "2026-01-05");
    let alike: Vec<_> = entries
        .iter()
        .filter(|entry| &*entry.rule == "plan.no-such-id")
        .collect();
    assert_eq!(alike.len(), 2, "{entries:?}");
    assert_ne!(alike[0].fingerprint, alike[1].fingerprint);
    // With the first of them owed, the second keeps its number.
    for (owed, left) in [(0, 1), (1, 0)] {
        let review = settled(&twice, &[alike[owed].clone()]);
        let prints = review.fingerprints();
        let mut of_rule = review
            .findings
            .iter()
            .zip(&prints)
            .filter(|(found, _)| found.rule == "plan.no-such-id");
        let (_, print) = of_rule.next().expect("one is left");
        assert_eq!(**print, *alike[left].fingerprint);
        assert!(of_rule.next().is_none());
    }
}
