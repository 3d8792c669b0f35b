//! Reviews of what is revised, as files named or listed.

use std::fs;
use std::path::Path;

use tempfile::TempDir;

use super::{CLEAN, FAULTY, Ran, command, folder, ran};

/// Plans in folders, some of which share a catalogue by different spellings of its name.
pub fn tree() -> TempDir {
    let tree = folder(&[]);
    let uses = |names: &str| format!("{FAULTY}catalogue: {names}\n");
    for (path, text) in [
        ("stock/shared.yaml", "stock:\n  mic: {for: line}\n"),
        ("stock/other.yaml", "stock:\n  mike: {for: line}\n"),
        (
            "a/flow.plan.yaml",
            &uses("[../stock/other.yaml, ../stock/shared.yaml]"),
        ),
        (
            "a/list.plan.yml",
            &uses("\n  # the shared one\n- ../stock/../stock/shared.yaml\n- ../stock/other.yaml"),
        ),
        (
            "b/whole.plan.yaml",
            "{nailplate: 1, region: us, stoge: x, \"cata\\u006cogue\": [../stock/shared.yaml]}\n",
        ),
        (
            "b/alias.plan.yaml",
            &format!("notes: &all [../stock/shared.yaml]\ncatalogue: *all\n{FAULTY}"),
        ),
        ("b/other.plan.yaml", &uses("../stock/other.yaml")),
        (
            "b/none.plan.yaml",
            &format!("{FAULTY}# shared.yaml is no catalogue: of this plan\n"),
        ),
        ("clean.plan.yaml", CLEAN),
        ("notes.txt", "stock"),
    ] {
        let path = tree.path().join(path);
        fs::create_dir_all(path.parent().expect("a folder")).expect("made");
        fs::write(path, text).expect("written");
    }
    tree
}

pub const USERS: [&str; 4] = [
    "a/flow.plan.yaml",
    "a/list.plan.yml",
    "b/alias.plan.yaml",
    "b/whole.plan.yaml",
];

pub fn review(folder: &Path, arguments: &[&str], input: Option<&[u8]>) -> Ran {
    let mut command = command(
        folder,
        &[&["review", "--as", "lines"][..], arguments].concat(),
    );
    // Not those of the hook that these tests may run in.
    for name in ["GIT_DIR", "GIT_INDEX_FILE", "GIT_WORK_TREE"] {
        command.env_remove(name);
    }
    command.write_stdin(input.unwrap_or_default());
    ran(command)
}

/// The plans with findings, in the order of their names.
pub fn told(ran: &Ran) -> Vec<&str> {
    let mut paths: Vec<_> = ran
        .out
        .lines()
        .filter_map(|line| line.split(':').next())
        .collect();
    paths.sort_unstable();
    paths.dedup();
    paths
}

#[test]
fn a_revised_plan_is_reviewed_and_nothing_else() {
    let tree = tree();
    let one = review(tree.path(), &["--revised", "b/other.plan.yaml"], None);
    assert_eq!(
        (told(&one), one.status),
        (vec!["b/other.plan.yaml"], Some(1))
    );
    assert_eq!(one.err, "");
    let clean = review(
        tree.path(),
        &["--revised", "clean.plan.yaml", "notes.txt"],
        None,
    );
    assert_eq!(
        (clean.status, clean.err.as_str()),
        (Some(0), ""),
        "{}",
        clean.out
    );
    // A folder stands for all plans in it, as elsewhere.
    let folder = review(tree.path(), &["--revised", "b"], None);
    assert_eq!(told(&folder).len(), 4, "{}", folder.out);
    // One that is gone has nothing to review.
    let gone = review(tree.path(), &["--revised", "gone.plan.yaml"], None);
    assert_eq!(
        (gone.status, gone.out.as_str(), gone.err.as_str()),
        (Some(0), "", "")
    );
}

#[test]
fn a_revised_catalogue_stands_for_the_plans_that_use_it() {
    let tree = tree();
    for here in [tree.path().to_owned(), tree.path().join("stock")] {
        let (name, up) = if here == tree.path() {
            ("stock/shared.yaml", "")
        } else {
            ("shared.yaml", "../")
        };
        let users = review(&here, &["--revised", name], None);
        if up.is_empty() {
            assert_eq!(told(&users), USERS, "{}", users.err);
            assert_eq!(
                users.err,
                "nailplate: stock/shared.yaml was revised: 4 plans that use it are checked with it\n"
            );
        } else {
            // Without a repository nothing says how far up there may be plans.
            assert_eq!((told(&users).len(), users.status), (0, Some(0)));
        }
    }
    // The plan that is revised itself comes first and once.
    let both = review(
        tree.path(),
        &["--revised", "stock/other.yaml", "b/other.plan.yaml"],
        None,
    );
    assert_eq!(
        told(&both),
        ["a/flow.plan.yaml", "a/list.plan.yml", "b/other.plan.yaml"]
    );
    assert!(both.out.starts_with("b/other.plan.yaml:"), "{}", both.out);
    assert_eq!(
        both.err,
        "nailplate: stock/other.yaml was revised: 2 plans that use it are checked with it\n"
    );
    // One that is taken away leaves its users without.
    fs::remove_dir_all(tree.path().join("stock")).expect("removed");
    let gone = review(tree.path(), &["--revised", "stock/shared.yaml"], None);
    assert_eq!(told(&gone), USERS, "{}", gone.err);
    assert!(
        gone.out
            .contains("could not be read: there is no such file"),
        "{}",
        gone.out
    );
}

#[test]
#[cfg(unix)]
fn a_catalogue_behind_a_link_is_the_same_catalogue() {
    let tree = tree();
    std::os::unix::fs::symlink("../stock/shared.yaml", tree.path().join("a/link.yaml"))
        .expect("linked");
    fs::write(
        tree.path().join("a/linked.plan.yaml"),
        format!("{FAULTY}catalogue: link.yaml\n"),
    )
    .expect("written");
    for name in ["stock/shared.yaml", "a/link.yaml"] {
        let users = review(tree.path(), &["--revised", name], None);
        assert!(
            told(&users).contains(&"a/linked.plan.yaml"),
            "{name}: {}",
            users.out
        );
    }
}

#[test]
fn a_plan_that_does_not_read_may_use_any_catalogue() {
    let tree = tree();
    fs::write(
        tree.path().join("broken.plan.yaml"),
        "catalogue: [stock.yaml\n",
    )
    .expect("written");
    let users = review(tree.path(), &["--revised", "stock/shared.yaml"], None);
    assert_eq!(users.status, Some(2));
    assert!(
        users
            .err
            .contains("broken.plan.yaml:1:12: this `[` is never closed"),
        "{}",
        users.err
    );
    // One that has no catalogue for certain is left in peace.
    fs::write(tree.path().join("broken.plan.yaml"), "runs: {\n").expect("written");
    let users = review(tree.path(), &["--revised", "stock/shared.yaml"], None);
    assert_eq!(users.status, Some(1), "{}", users.err);
}

#[test]
fn a_list_on_standard_input() {
    let tree = tree();
    let odd = "b/a b\u{fc}.plan.yaml";
    fs::write(tree.path().join(odd), FAULTY).expect("written");
    for list in [
        format!("{odd}\nb/none.plan.yaml\n"),
        format!("{odd}\r\n\r\nb/none.plan.yaml"),
        format!("{odd}\0b/none.plan.yaml\0"),
    ] {
        let listed = review(tree.path(), &["--revised", "-"], Some(list.as_bytes()));
        assert_eq!(
            told(&listed),
            [odd, "b/none.plan.yaml"],
            "{list:?} {}",
            listed.err
        );
    }
    let none = review(tree.path(), &["--revised", "-"], None);
    assert_eq!((none.status, none.out.as_str()), (Some(0), ""));
    // Quoted as git does it without -z, it is the name of no file.
    let quoted = review(
        tree.path(),
        &["--revised", "-"],
        Some(b"\"b/a b\\303\\274.plan.yaml\"\n"),
    );
    assert_eq!(quoted.status, Some(2));
    assert!(
        quoted.err.contains("let git write it with `-z`"),
        "{}",
        quoted.err
    );
    // Every form has its empty document.
    let json = ran({
        let mut command = command(tree.path(), &["review", "--as", "json", "--revised", "-"]);
        command.write_stdin("");
        command
    });
    assert_eq!(
        json.out,
        "{\"format\":\"nailplate-review/1\",\"files\":[]}\n"
    );
}

#[test]
fn a_revised_punch_list_stands_for_the_plans_below_it() {
    let tree = tree();
    let list = "nailplate.punchlist.yaml";
    let recorded = |folder: &str| {
        let path = format!("{folder}{list}");
        let done = ran(command(
            tree.path(),
            &[
                "punchlist",
                "--list",
                &path,
                if folder.is_empty() { "." } else { folder },
            ],
        ));
        assert_eq!(done.status, Some(0), "{}", done.err);
    };
    recorded("");
    recorded("a/");
    let all = review(tree.path(), &["--revised", list], None);
    assert_eq!(all.status, Some(0), "all is owed: {}", all.out);
    // The plans in `a` go by the nearer list.
    assert!(
        all.err.contains(&format!(
            "{list} was revised: 5 plans that use it are checked with it\n"
        )),
        "{}",
        all.err
    );
    fs::remove_file(tree.path().join(list)).expect("removed");
    let gone = review(tree.path(), &["--revised", list], None);
    assert_eq!(
        (told(&gone).len(), gone.status),
        (4, Some(1)),
        "{}",
        gone.out
    );
    let nearer = review(tree.path(), &["--revised", &format!("a/{list}")], None);
    assert!(
        nearer.err.contains(": 2 plans that use it are"),
        "{}",
        nearer.err
    );
}

#[test]
fn a_punch_list_under_another_name_counts_where_it_is_named() {
    let tree = tree();
    let list = ["--list", "a/owed.yaml"];
    // A nearer one that does not count.
    fs::create_dir(tree.path().join("a/in")).expect("made");
    fs::rename(
        tree.path().join("a/list.plan.yml"),
        tree.path().join("a/in/list.plan.yml"),
    )
    .expect("moved");
    let nearer = "a/in/nailplate.punchlist.yaml";
    let made = ran(command(
        tree.path(),
        &["punchlist", "--list", nearer, "a/in"],
    ));
    assert_eq!(made.status, Some(0), "{}", made.err);
    let recorded = ran(command(
        tree.path(),
        &[&["punchlist"][..], &list, &["a"]].concat(),
    ));
    assert_eq!(recorded.status, Some(0), "{}", recorded.err);
    let revised = || {
        let arguments = [&list[..], &["--revised", "./a/../a/owed.yaml"]].concat();
        review(tree.path(), &arguments, None)
    };
    let all = revised();
    assert_eq!(all.status, Some(0), "all is owed: {}", all.out);
    assert!(
        all.err.contains(": 2 plans that use it are checked"),
        "{}",
        all.err
    );
    let path = tree.path().join("a/owed.yaml");
    let text = fs::read_to_string(&path).expect("read");
    let entries = |text: &str| text.lines().filter(|line| line.starts_with("- ")).count();
    let fewer: Vec<_> = text
        .lines()
        .filter(|line| !line.contains("flow.plan.yaml"))
        .collect();
    let fewer = fewer.join("\n") + "\n";
    assert!(entries(&fewer) < entries(&text), "{text}");
    fs::write(&path, fewer).expect("written");
    let less = revised();
    assert_eq!(
        (told(&less), less.status),
        (vec!["a/flow.plan.yaml"], Some(1))
    );
    let unnamed = review(tree.path(), &["--revised", "a/owed.yaml"], None);
    assert_eq!((told(&unnamed).len(), unnamed.status), (0, Some(0)));
}
