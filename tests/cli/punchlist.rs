//! A repository of old plans adopts the program: what is owed, what is new, what has been put right.

use std::fs;

use tempfile::TempDir;

use super::{CLEAN, Ran, folder, run};

pub const LIST: &str = "nailplate.punchlist.yaml";

/// A speaker line too thin, a fault, on a breaker too large, a hazard. Every name of it may be changed.
pub const OLD: &str = "\
nailplate: 1
region: us
stock:
  n: {for: power, cores: 2 x 14 AWG + earth, rating: NM-B, material: copper}
  s: {for: speaker, cores: 2 x 18 AWG, rating: CL3}
circuits:
  C: {breaker: 30 A, volts: 120 V}
endpoints:
  rack: {kind: rack}
  lamp: {kind: light, load: 60 W}
  left: {kind: speaker, impedance: 4 ohm}
runs:
  P: {from: C, to: lamp, stock: n, length: 10 ft}
  S1: {from: rack, to: left, stock: s, length: 52 ft}
";

/// The plan with a second speaker on a thin line.
pub fn with_second(plan: &str) -> String {
    let right = "  right: {kind: speaker, impedance: 4 ohm}\nruns:\n";
    plan.replace("runs:\n", right) + "  S2: {from: rack, to: right, stock: s, length: 52 ft}\n"
}

/// Two old plans, one of them below a folder, all of it owed since 2026-01-05.
pub fn adopted() -> TempDir {
    let tree = folder(&[
        ("b.plan.yaml", OLD.as_bytes()),
        ("clean.plan.yaml", CLEAN.as_bytes()),
    ]);
    fs::create_dir(tree.path().join("a")).expect("made");
    fs::write(tree.path().join("a/a.plan.yaml"), OLD).expect("written");
    let made = run(&tree, &["punchlist", "--dated", "2026-01-05", "."]);
    assert_eq!(
        (made.status, made.err.as_str()),
        (Some(0), ""),
        "{}",
        made.out
    );
    tree
}

pub fn write(tree: &TempDir, name: &str, text: &str) {
    fs::write(tree.path().join(name), text).expect("written");
}

pub fn list(tree: &TempDir) -> String {
    fs::read_to_string(tree.path().join(LIST)).expect("a list")
}

pub fn lines(tree: &TempDir, paths: &[&str]) -> Ran {
    run(tree, &[&["review", "--as", "lines"][..], paths].concat())
}

#[test]
fn old_plans_are_adopted_and_new_faults_hold_them_up() {
    let tree = adopted();
    let entries = list(&tree);
    assert_eq!(
        entries.matches("since: 2026-01-05}").count(),
        entries.matches("- {plan: ").count()
    );
    assert!(
        entries.contains(
            "- {plan: a/a.plan.yaml, rule: speaker.undersized, on: [S1, left], level: fault, "
        ),
        "{entries}"
    );
    let review = run(&tree, &["review", "."]);
    assert_eq!(review.status, Some(0), "{}", review.out);
    // Each hazard is said, and the caution under it.
    assert_eq!(
        review.out.matches("HAZARD  line 7: ").count(),
        2,
        "{}",
        review.out
    );
    assert_eq!(review.out.matches("A hazard can hurt someone.").count(), 2);
    assert_eq!(
        lines(&tree, &["."])
            .out
            .matches(": owed hazard: C: ")
            .count(),
        2
    );
    // Moved lines and other numbers are the same fault, another run is not.
    let moved = OLD
        .replace("runs:\n", "# moved\nruns:\n")
        .replace("52 ft", "66 ft");
    write(&tree, "b.plan.yaml", &moved);
    assert_eq!(run(&tree, &["review", "b.plan.yaml"]).status, Some(0));
    write(&tree, "b.plan.yaml", &with_second(&moved));
    let new = lines(&tree, &["b.plan.yaml"]);
    assert_eq!(new.status, Some(1));
    assert!(new.out.contains("b.plan.yaml:17:"), "{}", new.out);
    assert!(
        new.out.contains(": fault: S2: ") && !new.out.contains(": fault: S1: "),
        "{}",
        new.out
    );
    for (arguments, status) in [
        (&["review", "--hold", "hazard", "b.plan.yaml"][..], 0),
        (
            &[
                "review",
                "--nothing-owed",
                "--hold",
                "hazard",
                "b.plan.yaml",
            ],
            1,
        ),
        (&["review", "--nothing-owed", "a"], 1),
        (&["review", "a"], 0),
        (&["review", "--nothing-owed", "--list", LIST, "a"], 2),
    ] {
        assert_eq!(run(&tree, arguments).status, Some(status), "{arguments:?}");
    }
}

#[test]
fn a_gap_holds_as_before() {
    let tree = adopted();
    let lacking = OLD.replace(", length: 52 ft", "");
    write(&tree, "b.plan.yaml", &lacking);
    assert_eq!(run(&tree, &["review", "b.plan.yaml"]).status, Some(0));
    let held = run(&tree, &["review", "--hold-gaps", "b.plan.yaml"]);
    assert_eq!(held.status, Some(1), "{}", held.out);
    assert!(
        held.out
            .contains("not judged for want of length of S1: speaker.undersized on S1"),
        "{}",
        held.out
    );
}

#[test]
fn nothing_is_put_on_a_list_by_accident() {
    let tree = adopted();
    let before = list(&tree);
    let again = run(&tree, &["punchlist", "."]);
    assert_eq!(again.status, Some(0), "{}", again.out);
    write(&tree, "b.plan.yaml", &with_second(OLD));
    let new = run(&tree, &["punchlist", "."]);
    assert_eq!(new.status, Some(1));
    assert!(
        new.out.starts_with("NEW, not on the punch list\n"),
        "{}",
        new.out
    );
    assert!(new.out.contains("FAULT  b.plan.yaml:16:"), "{}", new.out);
    assert!(
        new.out.contains("; 2 new, which --add would"),
        "{}",
        new.out
    );
    assert_eq!(
        run(&tree, &["punchlist", "--close-out", "."]).status,
        Some(0)
    );
    assert_eq!(list(&tree), before);
    let added = run(
        &tree,
        &["punchlist", "--add", "--dated", "2026-02-06", "b.plan.yaml"],
    );
    assert_eq!(added.status, Some(0), "{}", added.out);
    assert!(
        added.out.starts_with("PUT ON THE PUNCH LIST\n"),
        "{}",
        added.out
    );
    let after = list(&tree);
    // What was on it stays as it was, save one that concerns more by now.
    let grown = |line: &&str| line.contains("b.plan.yaml, rule: rack.no-patch-panel");
    let kept = |text: &str| {
        let lines = text
            .lines()
            .filter(|line| !line.ends_with("since: 2026-02-06}"));
        let lines = lines.filter(|line| !grown(line)).map(str::to_owned);
        lines.collect::<Vec<_>>()
    };
    assert_eq!(kept(&after), kept(&before));
    let line = after.lines().find(grown).expect("it is on the list");
    assert!(
        line.contains("on: [rack, S1, S2]") && line.ends_with("since: 2026-01-05}"),
        "{line}"
    );
    assert_eq!(after.matches("since: 2026-02-06}").count(), 1);
    assert_eq!(run(&tree, &["review", "."]).status, Some(0));
}

#[test]
fn what_is_put_right_is_told_and_closed_out() {
    let tree = adopted();
    let thick = OLD.replace("2 x 18 AWG", "2 x 12 AWG");
    write(&tree, "b.plan.yaml", &thick);
    let review = run(&tree, &["review", "b.plan.yaml"]);
    assert!(
        review.out.contains(
            "STILL ON THE PUNCH LIST, not found again\n  put right: speaker.undersized on S1\n"
        ),
        "{}",
        review.out
    );
    assert!(review.out.contains("; 1 put right,"), "{}", review.out);
    let before = list(&tree);
    let told = run(&tree, &["punchlist", "."]);
    assert_eq!(
        (told.status, list(&tree)),
        (Some(1), before.clone()),
        "{}",
        told.out
    );
    // What lies in another folder is not looked at.
    assert_eq!(
        run(&tree, &["punchlist", "--close-out", "a"]).status,
        Some(0)
    );
    assert_eq!(list(&tree), before);
    let closed = run(&tree, &["punchlist", "--close-out", "."]);
    assert_eq!(closed.status, Some(0));
    assert!(
        closed.out.contains(
            "TAKEN OFF THE PUNCH LIST\n  b.plan.yaml, put right: speaker.undersized on S1\n"
        ),
        "{}",
        closed.out
    );
    let gone = |line: &&str| line.contains("b.plan.yaml, rule: speaker.undersized");
    let rest: Vec<_> = before.lines().filter(|line| !gone(line)).collect();
    assert_eq!(list(&tree).lines().collect::<Vec<_>>(), rest);
    // Once closed out, it holds a plan up again.
    write(&tree, "b.plan.yaml", OLD);
    assert_eq!(run(&tree, &["review", "b.plan.yaml"]).status, Some(1));
    // Nothing left to owe: an empty list, which stays one.
    write(&tree, "b.plan.yaml", CLEAN);
    write(&tree, "a/a.plan.yaml", CLEAN);
    assert_eq!(
        run(&tree, &["punchlist", "--close-out", "."]).status,
        Some(0)
    );
    assert!(list(&tree).ends_with("owed: []\n"));
    assert_eq!(run(&tree, &["punchlist", "."]).status, Some(0));
}

#[test]
fn plans_that_are_no_more() {
    let tree = adopted();
    let all = list(&tree).matches("- {plan: b.plan.yaml").count();
    fs::rename(
        tree.path().join("b.plan.yaml"),
        tree.path().join("c.plan.yaml"),
    )
    .expect("renamed");
    // By its new name everything in it is new.
    let review = run(&tree, &["review", "c.plan.yaml"]);
    assert_eq!((review.status, review.err.as_str()), (Some(1), ""));
    let said = "nailplate: nailplate.punchlist.yaml: 6 owed by plans that are no more, the first of them b.plan.yaml; \
                `nailplate punchlist --close-out` takes that off\n";
    assert_eq!(run(&tree, &["review", "."]).err, said);
    assert_eq!(run(&tree, &["review", "a"]).err, "");
    let told = run(&tree, &["punchlist", "."]);
    assert!(
        told.out
            .contains("\n  b.plan.yaml, no such plan any more: power.breaker-over-wire on C\n"),
        "{}",
        told.out
    );
    // What is named is looked at, the plan itself or the folder; another folder's is not.
    let by_name = run(&tree, &["punchlist", "b.plan.yaml"]);
    assert_eq!(by_name.status, Some(1), "{}{}", by_name.out, by_name.err);
    assert_eq!(
        run(&tree, &["punchlist", "--close-out", "a"]).status,
        Some(0)
    );
    assert_eq!(list(&tree).matches("- {plan: b.plan.yaml").count(), all);
    let moved = run(
        &tree,
        &[
            "punchlist",
            "--add",
            "--close-out",
            "--dated",
            "2026-02-06",
            ".",
        ],
    );
    assert_eq!(moved.status, Some(0), "{}", moved.out);
    assert_eq!(list(&tree).matches("- {plan: b.plan.yaml").count(), 0);
    assert_eq!(list(&tree).matches("- {plan: c.plan.yaml").count(), all);
    assert!(
        !list(&tree).contains("2026-02-06"),
        "owed since then under whatever name"
    );
    assert_eq!(run(&tree, &["review", "."]).status, Some(0));
    // A plan that never was is one that cannot be used.
    assert_eq!(
        run(&tree, &["punchlist", "never.plan.yaml"]).status,
        Some(2)
    );
}

#[test]
fn a_plan_that_cannot_be_read_cannot_be_owed() {
    let tree = adopted();
    let before = list(&tree);
    write(&tree, "b.plan.yaml", "runs: {S1: [\n");
    write(&tree, "d.plan.yaml", OLD);
    let ran = run(
        &tree,
        &[
            "punchlist",
            "--add",
            "--close-out",
            "--dated",
            "2026-02-06",
            ".",
        ],
    );
    assert_eq!(ran.status, Some(2));
    assert!(ran.err.contains("b.plan.yaml:1:12: "), "{}", ran.err);
    let after = list(&tree);
    let kept: Vec<_> = after
        .lines()
        .filter(|line| !line.contains("{plan: d.plan.yaml"))
        .collect();
    assert_eq!(
        kept,
        before.lines().collect::<Vec<_>>(),
        "what it owes stays on the list"
    );
    assert!(
        after.lines().count() > kept.len(),
        "the others are looked at"
    );
    assert_eq!(run(&tree, &["review", "."]).status, Some(2));
}

#[test]
fn mistakes_of_reading_are_owed_too() {
    let tree = folder(&[("a.plan.yaml", super::FAULTY.as_bytes())]);
    assert_eq!(run(&tree, &["punchlist", "a.plan.yaml"]).status, Some(0));
    assert_eq!(run(&tree, &["review", "a.plan.yaml"]).status, Some(0));
    write(
        &tree,
        "a.plan.yaml",
        &super::FAULTY.replace("region", "regoin"),
    );
    assert_eq!(run(&tree, &["review", "a.plan.yaml"]).status, Some(1));
}
