//! `nailplate rulebook` as the settings have it.

use super::PLAN;
use super::program::{folder, run};

const OWN: &str = "nailplate: 1
rules:
  fire.underrated: {not-adopted: judged by hand}
  speaker.undersized:
    level: hazard
    limits: {share-of-load: {value: 3 %, authority: our manual}}
";

#[test]
fn it_shows_what_is_in_effect_and_which_line_set_it() {
    let folder = folder(&[
        ("jobs/nailplate.yaml", OWN),
        ("jobs/a/one.plan.yaml", PLAN),
        ("other/two.plan.yaml", PLAN),
    ]);
    let root = folder.path();
    let jobs = root.join("jobs/a");
    let list = run(&jobs, &["rulebook"], "").out;
    for expected in [
        " out     Cable listing not enough for where it runs  ",
        "(not adopted: ../nailplate.yaml:3)\n",
        " hazard  Speaker line too resistive for its load  (../nailplate.yaml:5, ../nailplate.yaml:6)\n",
        "2 of them not as built in, by ../nailplate.yaml.",
    ] {
        assert!(list.contains(expected), "{expected}\n{list}");
    }
    let one = run(&jobs, &["rulebook", "speaker.undersized"], "").out;
    for expected in [
        "speaker.undersized  HAZARD\n",
        "  level      hazard, built in is fault, by ../nailplate.yaml:5\n",
        "  limits     share-of-load 3 % (our manual), built in is 5 %, by ../nailplate.yaml:6\n",
    ] {
        assert!(one.contains(expected), "{expected}\n{one}");
    }
    let out = run(&jobs, &["rulebook", "fire.underrated"], "").out;
    assert!(
        out.contains("  out        not adopted: judged by hand, by ../nailplate.yaml:3\n"),
        "{out}"
    );
    // The settings of a plan, or those that are named, wherever one is.
    let level = |arguments: &[&str]| {
        let arguments = [&["rulebook", "speaker.undersized"], arguments].concat();
        let ran = run(root, &arguments, "");
        assert_eq!(ran.status, Some(0), "{}", ran.err);
        ran.out.lines().next().unwrap_or_default().to_owned()
    };
    assert_eq!(level(&[]), "speaker.undersized  FAULT");
    assert_eq!(
        level(&["--for", "jobs/a/one.plan.yaml"]),
        "speaker.undersized  HAZARD"
    );
    assert_eq!(
        level(&["--for", "other/two.plan.yaml"]),
        "speaker.undersized  FAULT"
    );
    assert_eq!(
        level(&["--settings", "jobs/nailplate.yaml"]),
        "speaker.undersized  HAZARD"
    );
}

#[test]
fn settings_with_mistakes_are_told() {
    let folder = folder(&[
        ("slip.yaml", "nailplate: 1\nhodl: advice\n"),
        ("broken.yaml", "["),
    ]);
    for (settings, status, told) in [
        ("slip.yaml", 1, "slip.yaml: 1 mistake in the settings"),
        ("broken.yaml", 2, "broken.yaml:1:1: "),
        ("lost.yaml", 2, "lost.yaml: there is no such file"),
    ] {
        let ran = run(folder.path(), &["rulebook", "--settings", settings], "");
        assert_eq!(ran.status, Some(status), "{}", ran.err);
        assert!(ran.err.contains(told), "{}", ran.err);
    }
}
