//! Reviews of what git says is revised: staged, or changed since a commit.

use std::fs;
use std::path::Path;

use tempfile::TempDir;

use super::revised::{USERS, review, told, tree};
use super::{CLEAN, FAULTY};

/// Runs git in a folder as somebody invented, with nobody's settings.
pub fn git(folder: &Path, arguments: &[&str]) {
    let done = std::process::Command::new("git")
        .args([
            "-c",
            "user.name=Wren",
            "-c",
            "user.email=wren@plover.invalid",
            "-c",
            "init.defaultBranch=main",
        ])
        .args(arguments)
        .current_dir(folder)
        .env("GIT_CONFIG_GLOBAL", "/dev/null")
        .env("GIT_CONFIG_NOSYSTEM", "1")
        .env_remove("GIT_DIR")
        .env_remove("GIT_INDEX_FILE")
        .output()
        .expect("these tests need git on the PATH");
    assert!(
        done.status.success(),
        "git {arguments:?}: {}",
        String::from_utf8_lossy(&done.stderr)
    );
}

/// The tree, committed.
fn repository() -> TempDir {
    let tree = tree();
    git(tree.path(), &["init", "-q"]);
    git(tree.path(), &["add", "."]);
    git(tree.path(), &["commit", "-q", "-m", "first"]);
    tree
}

const NEXT: [&str; 1] = ["--next-commit"];

#[test]
fn the_next_commit_is_reviewed_as_staged() {
    let tree = repository();
    let root = tree.path();
    let nothing = review(root, &NEXT, None);
    assert_eq!(
        (nothing.status, nothing.out.as_str(), nothing.err.as_str()),
        (Some(0), "", "")
    );
    // Faulty as staged, clean in the work tree: the commit would be faulty.
    fs::write(root.join("clean.plan.yaml"), FAULTY).expect("written");
    fs::remove_file(root.join("b/none.plan.yaml")).expect("removed");
    git(root, &["add", "-A"]);
    fs::write(root.join("clean.plan.yaml"), CLEAN).expect("written");
    let staged = review(root, &NEXT, None);
    assert_eq!(
        (told(&staged), staged.status),
        (vec!["clean.plan.yaml"], Some(1))
    );
    assert_eq!(
        staged.err,
        "nailplate: clean.plan.yaml: read as staged; what has changed in it since then is not in the commit\n"
    );
    // And the other way round. What is faulty and not staged holds nothing up.
    git(root, &["add", "-A"]);
    fs::write(root.join("clean.plan.yaml"), FAULTY).expect("written");
    fs::write(root.join("new.plan.yaml"), FAULTY).expect("written");
    let staged = review(root, &NEXT, None);
    assert_eq!(
        (staged.status, staged.out.as_str()),
        (Some(0), ""),
        "{}",
        staged.err
    );
}

#[test]
fn a_staged_catalogue_brings_its_users_from_the_index() {
    let tree = repository();
    let root = tree.path();
    fs::write(
        root.join("stock/shared.yaml"),
        "stock:\n  mic: {fro: line}\n",
    )
    .expect("written");
    git(root, &["add", "."]);
    // Neither what is not staged nor what git does not know takes part.
    fs::write(root.join("a/flow.plan.yaml"), CLEAN).expect("written");
    fs::write(
        root.join("new.plan.yaml"),
        format!("{FAULTY}catalogue: stock/shared.yaml\n"),
    )
    .expect("written");
    let inside = root.join("stock");
    for here in [root, &inside] {
        let users = review(here, &NEXT, None);
        let up = if here == root { "" } else { "../" };
        let mut plans = told(&users);
        // The catalogue's own mistake stands with the plans.
        plans.retain(|path| path.contains(".plan."));
        let wanted: Vec<_> = USERS.iter().map(|path| format!("{up}{path}")).collect();
        assert_eq!(plans, wanted, "{}", users.err);
        assert!(users.out.contains("`fro`"), "{}", users.out);
        assert!(
            users
                .err
                .contains(&format!("{up}a/flow.plan.yaml: read as staged")),
            "{}",
            users.err
        );
    }
}

#[test]
fn a_catalogue_that_is_not_staged_is_missing_from_the_commit() {
    let tree = repository();
    let root = tree.path();
    fs::write(
        root.join("stock/fresh.yaml"),
        "stock:\n  mic: {for: line}\n",
    )
    .expect("written");
    fs::write(
        root.join("clean.plan.yaml"),
        format!("{CLEAN}catalogue: stock/fresh.yaml\n"),
    )
    .expect("written");
    git(root, &["add", "clean.plan.yaml"]);
    let missing = review(root, &NEXT, None);
    assert_eq!(missing.status, Some(1));
    assert!(
        missing
            .out
            .contains("could not be read: the next commit would not hold this file"),
        "{}",
        missing.out
    );
    git(root, &["add", "stock/fresh.yaml"]);
    assert_eq!(review(root, &NEXT, None).status, Some(0));
}

#[test]
fn the_first_commit_is_one_too() {
    let tree = tree();
    git(tree.path(), &["init", "-q"]);
    git(tree.path(), &["add", "b", "stock"]);
    let first = review(tree.path(), &NEXT, None);
    assert_eq!(
        (told(&first).len(), first.status),
        (4, Some(1)),
        "{}",
        first.err
    );
}

#[test]
fn what_has_changed_since_a_commit() {
    let tree = repository();
    let root = tree.path();
    git(root, &["checkout", "-q", "-b", "work"]);
    fs::write(root.join("a/mine.plan.yaml"), FAULTY).expect("written");
    git(root, &["add", "."]);
    git(root, &["commit", "-q", "-m", "mine"]);
    git(root, &["checkout", "-q", "main"]);
    fs::write(root.join("theirs.plan.yaml"), FAULTY).expect("written");
    fs::remove_file(root.join("b/none.plan.yaml")).expect("removed");
    git(root, &["add", "-A"]);
    git(root, &["commit", "-q", "-m", "theirs"]);
    git(root, &["checkout", "-q", "work"]);
    // Only what this branch did, not what the other has done meanwhile; from any folder.
    let mine = review(root, &["--revised-since", "main"], None);
    assert_eq!(
        (told(&mine), mine.status),
        (vec!["a/mine.plan.yaml"], Some(1)),
        "{}",
        mine.err
    );
    let mine = review(&root.join("a"), &["--revised-since", "main"], None);
    assert_eq!(told(&mine), ["mine.plan.yaml"], "{}", mine.err);
    for lost in ["no-such-branch", "--output=x", "main..work"] {
        let refused = review(root, &[&format!("--revised-since={lost}")], None);
        assert_eq!(
            (refused.status, refused.out.as_str()),
            (Some(2), ""),
            "{lost}"
        );
        assert!(
            refused.err.starts_with("nailplate: git: "),
            "{}",
            refused.err
        );
    }
    assert!(!root.join("x").exists());
}

#[test]
fn without_a_repository_git_is_quoted() {
    let tree = tree();
    for arguments in [&NEXT[..], &["--revised-since", "main"]] {
        let refused = review(tree.path(), arguments, None);
        assert_eq!((refused.status, refused.out.as_str()), (Some(2), ""));
        assert!(
            refused.err.contains("git: not a git repository"),
            "{}",
            refused.err
        );
    }
}

#[test]
fn a_punch_list_counts_as_it_is_staged() {
    let tree = repository();
    let root = tree.path();
    let done = super::ran(super::command(root, &["punchlist", "."]));
    assert_eq!(done.status, Some(0), "{}", done.err);
    fs::write(root.join("b/none.plan.yaml"), format!("{FAULTY}# again\n")).expect("written");
    git(root, &["add", "b"]);
    // Not staged, the list would not be in the commit.
    let alone = review(root, &NEXT, None);
    assert_eq!(
        (told(&alone), alone.status),
        (vec!["b/none.plan.yaml"], Some(1))
    );
    git(root, &["add", "."]);
    let with = review(root, &NEXT, None);
    assert_eq!(with.status, Some(0), "{}", with.out);
}
