//! Two people change a punch list, and git brings the two together. Git itself is run: without it these
//! tests fail.

use std::fs;
use std::path::Path;
use std::process::Command;

use tempfile::TempDir;

use super::punchlist::{LIST, OLD};
use super::{folder, run};

/// One of the plans that a list names.
fn plan(n: usize) -> String {
    format!("{n:02}.plan.yaml")
}

/// Runs git in a folder, by nobody's settings.
fn git(folder: &Path, arguments: &[&str]) -> bool {
    let output = Command::new("git")
        .current_dir(folder)
        .args([
            "-c",
            "user.name=JR",
            "-c",
            "user.email=jr@kestrel.invalid",
            "-c",
            "init.defaultBranch=main",
        ])
        .args(arguments)
        .env("GIT_CONFIG_GLOBAL", "/dev/null")
        .env("GIT_CONFIG_NOSYSTEM", "1")
        .output()
        .expect("git is needed to try merging");
    output.status.success()
}

fn commit(folder: &Path) {
    assert!(git(folder, &["add", "-A"]) && git(folder, &["commit", "-q", "-m", "so far"]));
}

/// A repository of six old plans, all of it owed; of the plans with odd numbers nothing is there yet.
fn repository(attributes: &str) -> TempDir {
    let tree = folder(&[(".gitattributes", attributes.as_bytes())]);
    for n in (0..12).step_by(2) {
        fs::write(tree.path().join(plan(n)), OLD).expect("written");
    }
    assert_eq!(run(&tree, &["punchlist", "."]).status, Some(0));
    assert!(git(tree.path(), &["init", "-q"]));
    commit(tree.path());
    tree
}

/// What one of the two does: an old plan is taken in, or one is put right.
#[derive(Clone, Copy)]
enum Does {
    TakesIn(usize),
    PutsRight(usize),
}

fn does(tree: &TempDir, branch: &str, what: Does) {
    let folder = tree.path();
    assert!(git(folder, &["checkout", "-q", "-b", branch, "main"]));
    let (n, text, flag) = match what {
        Does::TakesIn(n) => (n, OLD.to_owned(), "--add"),
        Does::PutsRight(n) => (
            n,
            OLD.replace("2 x 18 AWG", "2 x 12 AWG")
                .replace("30 A", "15 A"),
            "--close-out",
        ),
    };
    fs::write(folder.join(plan(n)), text).expect("written");
    assert_eq!(run(tree, &["punchlist", flag, &plan(n)]).status, Some(0));
    commit(folder);
}

/// Both do something, each without knowing of the other; whether git merges it by itself.
fn merged(tree: &TempDir, one: Does, other: Does) -> bool {
    does(tree, "one", one);
    does(tree, "other", other);
    git(tree.path(), &["merge", "-q", "-m", "both", "one"])
}

/// After a merge, nothing is new and nothing still there that has been put right.
fn in_step(tree: &TempDir) {
    let review = run(tree, &["review", "."]);
    assert_eq!(review.status, Some(0), "{}{}", review.out, review.err);
    let told = run(tree, &["punchlist", "."]);
    assert_eq!(told.status, Some(0), "{}{}", told.out, told.err);
}

#[test]
fn changes_at_different_places_merge() {
    use Does::{PutsRight, TakesIn};
    for (one, other) in [
        (TakesIn(1), TakesIn(5)),
        (TakesIn(1), PutsRight(6)),
        (PutsRight(2), PutsRight(8)),
        (PutsRight(2), TakesIn(9)),
        (TakesIn(11), PutsRight(0)),
    ] {
        let tree = repository("");
        assert!(merged(&tree, one, other), "git merges it");
        in_step(&tree);
    }
}

#[test]
fn changes_side_by_side_merge_by_union() {
    use Does::{PutsRight, TakesIn};
    for (one, other) in [
        (TakesIn(11), TakesIn(13)),
        (TakesIn(13), TakesIn(11)),
        (TakesIn(3), TakesIn(3)),
        (TakesIn(3), PutsRight(4)),
        (PutsRight(2), TakesIn(3)),
    ] {
        let tree = repository(&format!("{LIST} merge=union\n"));
        assert!(merged(&tree, one, other), "git merges it");
        let review = run(&tree, &["review", "."]);
        assert_eq!(review.status, Some(0), "{}{}", review.out, review.err);
        // What one has taken off may come back by the other's side, but is told and closed out again.
        let closed = run(&tree, &["punchlist", "--close-out", "."]);
        assert_eq!(closed.status, Some(0), "{}{}", closed.out, closed.err);
        in_step(&tree);
    }
}

#[test]
fn a_merge_that_git_leaves_to_people_is_refused_at_its_line() {
    let tree = repository("");
    assert!(
        !merged(&tree, Does::TakesIn(11), Does::TakesIn(13)),
        "at one place git does not choose"
    );
    let text = fs::read_to_string(tree.path().join(LIST)).expect("a list");
    let line = text
        .lines()
        .position(|line| line.starts_with("<<<<<<<"))
        .expect("git marks it")
        + 1;
    let review = run(&tree, &["review", "00.plan.yaml"]);
    assert_eq!(review.status, Some(2));
    let says = format!("nailplate: {LIST}:{line}:1: a merge was left unfinished here (`<<<<<<<`)");
    assert!(review.err.starts_with(&says), "{}", review.err);
    let marks = ["<<<<<<<", "=======", ">>>>>>>"];
    let kept = text
        .lines()
        .filter(|line| !marks.iter().any(|mark| line.starts_with(mark)));
    let kept: String = kept.map(|line| format!("{line}\n")).collect();
    fs::write(tree.path().join(LIST), kept).expect("written");
    in_step(&tree);
}
