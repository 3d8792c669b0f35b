//! Many plans at once: folders, several hands, lines of JSON.

use std::fs;
use std::path::Path;

use serde_json::Value;
use tempfile::TempDir;

use super::{CLEAN, FAULTY, Ran, command, folder, ran, run};

const LINES: [&str; 3] = ["review", "--as", "lines"];

/// The plans that lines were printed for, in their order.
fn told(out: &str) -> Vec<&str> {
    let mut paths: Vec<_> = out
        .lines()
        .map(|line| line.split(':').next().unwrap_or_default())
        .collect();
    paths.dedup();
    paths
}

/// A folder of plans in folders; what is ignored, hidden or no plan lies among them.
fn tree() -> TempDir {
    let tree = folder(&[]);
    for (path, text) in [
        ("plans/b.plan.yaml", FAULTY),
        ("plans/a/z.plan.yml", FAULTY),
        ("plans/a.plan.yaml", FAULTY),
        ("plans/a/deep/er/c.plan.yaml", FAULTY),
        ("plans/stock.yaml", FAULTY),
        ("plans/notes.plan.yaml.txt", FAULTY),
        ("plans/.hidden/h.plan.yaml", FAULTY),
        ("plans/old/o.plan.yaml", FAULTY),
        ("plans/a/draft-1.plan.yaml", FAULTY),
        ("plans/.gitignore", "old/\n"),
        ("plans/a/.ignore", "draft-*\n"),
        ("empty/notes.txt", "nothing"),
    ] {
        let path = tree.path().join(path);
        fs::create_dir_all(path.parent().expect("a folder")).expect("made");
        fs::write(path, text).expect("written");
    }
    tree
}

fn lines(folder: &Path, paths: &[&str]) -> Ran {
    ran(command(folder, &[&LINES[..], paths].concat()))
}

#[test]
fn a_folder_is_all_plans_below_it_in_order() {
    let tree = tree();
    let all = [
        "plans/a/deep/er/c.plan.yaml",
        "plans/a/z.plan.yml",
        "plans/a.plan.yaml",
        "plans/b.plan.yaml",
    ];
    let below = lines(tree.path(), &["plans"]);
    assert_eq!(told(&below.out), all, "{}", below.err);
    assert_eq!((below.status, below.err.as_str()), (Some(1), ""));
    // From inside they are called as if each had been named.
    let inside = lines(&tree.path().join("plans"), &["."]);
    let short = all.map(|path| path.strip_prefix("plans/").expect("it is below"));
    assert_eq!(told(&inside.out), short);
    // A file that is named is reviewed whatever it is called and whatever ignores it.
    let named = lines(tree.path(), &["plans/old/o.plan.yaml", "plans/stock.yaml"]);
    assert_eq!(
        told(&named.out),
        ["plans/old/o.plan.yaml", "plans/stock.yaml"]
    );
    for verb in ["figures", "redline"] {
        let other = run(&tree, &[verb, "plans"]);
        assert!(
            other.out.contains("plans/a/deep/er/c.plan.yaml"),
            "{verb}: {}",
            other.out
        );
        assert!(!other.out.contains("plans/old"), "{verb}: {}", other.out);
    }
}

#[test]
fn a_plan_named_twice_is_reviewed_once() {
    let tree = tree();
    let twice = lines(
        tree.path(),
        &[
            "plans/b.plan.yaml",
            "./plans/a/../b.plan.yaml",
            "plans/a",
            "plans",
            "plans/a/",
        ],
    );
    assert_eq!(
        told(&twice.out),
        [
            "plans/b.plan.yaml",
            "plans/a/deep/er/c.plan.yaml",
            "plans/a/z.plan.yml",
            "plans/a.plan.yaml"
        ]
    );
    assert_eq!(twice.err, "");
    // Standard input is not a file of that name.
    fs::write(tree.path().join("-"), FAULTY).expect("written");
    let mut both = command(tree.path(), &["review", "--as", "lines", "-", "./-", "-"]);
    both.write_stdin(FAULTY);
    assert_eq!(told(&ran(both).out), ["<stdin>", "./-"]);
}

#[test]
fn a_folder_without_plans_is_said() {
    let tree = tree();
    let none = lines(tree.path(), &["empty"]);
    assert_eq!((none.status, none.out.as_str()), (Some(0), ""));
    assert_eq!(
        none.err,
        "nailplate: empty: no plan below this folder (*.plan.yaml, *.plan.yml)\n"
    );
    let json = run(&tree, &["review", "--as", "json", "empty"]);
    assert_eq!(
        json.out,
        "{\"format\":\"nailplate-review/1\",\"files\":[]}\n"
    );
    assert_eq!(
        run(&tree, &["review", "--as", "json-lines", "empty"]).out,
        ""
    );
}

#[test]
#[cfg(unix)]
fn links_are_not_followed() {
    use std::os::unix::fs::symlink;
    let tree = tree();
    let root = tree.path();
    symlink(root.join("plans"), root.join("empty/out")).expect("linked");
    symlink(root.join("empty"), root.join("empty/round")).expect("linked");
    symlink(
        root.join("plans/b.plan.yaml"),
        root.join("empty/l.plan.yaml"),
    )
    .expect("linked");
    let below = lines(root, &["empty"]);
    assert_eq!((below.status, below.out.as_str()), (Some(0), ""));
    assert!(
        below
            .err
            .contains("empty/l.plan.yaml: a link; below a folder links are not followed"),
        "{}",
        below.err
    );
    // A link that is named is what it leads to.
    assert_eq!(
        told(&lines(root, &["empty/l.plan.yaml"]).out),
        ["empty/l.plan.yaml"]
    );
    let linked = lines(root, &["empty/out"]);
    assert_eq!(told(&linked.out).len(), 4, "{}", linked.err);
}

#[test]
fn a_line_of_an_ignore_file_that_is_no_pattern_is_said() {
    let tree = tree();
    fs::write(tree.path().join("plans/.gitignore"), "old/\nfoo{a\n").expect("written");
    let below = lines(tree.path(), &["plans"]);
    assert!(
        below
            .err
            .starts_with("nailplate: plans/.gitignore: line 2: "),
        "{}",
        below.err
    );
    assert_eq!(
        told(&below.out).len(),
        4,
        "the other line holds: {}",
        below.out
    );
    assert_eq!(below.status, Some(1));
}

/// Clean, faulty and broken plans that share catalogues, one of which is lost.
fn mixed() -> TempDir {
    let mixed = folder(&[("stock.yaml", b"stock:\n  mic: {fro: line}\n")]);
    let plans = mixed.path().join("plans");
    fs::create_dir(&plans).expect("made");
    for n in 0..60 {
        let keys: String = (0..n % 7 * 30)
            .map(|key| format!("key-{key}: x\n"))
            .collect();
        let text = match n % 5 {
            0 => CLEAN.to_owned(),
            1 => format!("{FAULTY}catalogue: [../stock.yaml]\n"),
            2 => format!("{CLEAN}catalogue: [../lost.yaml, ../plans/../stock.yaml]\n"),
            3 if n % 4 == 0 => "runs: {S1: [\n".to_owned(),
            _ => FAULTY.to_owned(),
        };
        fs::write(plans.join(format!("{n:02}.plan.yaml")), text + &keys).expect("written");
    }
    mixed
}

#[test]
fn one_hand_and_many_print_the_same() {
    let mixed = mixed();
    for form in ["text", "lines", "json", "json-lines"] {
        let by = |hands| {
            run(
                &mixed,
                &[
                    "review",
                    "--as",
                    form,
                    "--hands",
                    hands,
                    "plans",
                    "lost.plan.yaml",
                ],
            )
        };
        let one = by("1");
        assert_eq!(one.status, Some(2), "{form}");
        assert!(one.out.contains("59.plan.yaml"), "{form}: {}", one.out);
        assert_eq!(one.err.lines().count(), 4, "{form}: {}", one.err);
        for hands in ["2", "7", "256"] {
            let many = by(hands);
            assert!(one.out == many.out, "{form}, {hands} hands");
            assert_eq!((one.status, &one.err), (many.status, &many.err));
        }
        let unsaid = run(&mixed, &["review", "--as", form, "plans", "lost.plan.yaml"]);
        assert!(one.out == unsaid.out, "{form}");
    }
    for hands in ["0", "257", "-1", "1e300", "many"] {
        let refused = run(&mixed, &["review", "--hands", hands, "plans"]);
        assert_eq!(
            (refused.status, refused.out.as_str()),
            (Some(2), ""),
            "{hands}"
        );
    }
}

#[test]
fn lines_of_json_join() {
    let mixed = mixed();
    let by =
        |form, paths: &[&str]| run(&mixed, &[&["review", "--as", form][..], paths].concat()).out;
    let [first, second, broken] = ["06", "09", "08"].map(|n| format!("plans/{n}.plan.yaml"));
    let one = by("json-lines", &[&first, &second, &broken]);
    let joined = by("json-lines", &[&first]) + &by("json-lines", &[&second, &broken]);
    assert_eq!(one, joined);
    assert_eq!(one.lines().count(), 2);
    // Each holds what the one document holds of the plan.
    let document: Value = serde_json::from_str(&by("json", &[&first, &second])).expect("JSON");
    let files = document["files"].as_array().expect("a list");
    for (line, file) in one.lines().zip(files) {
        let mut line: Value = serde_json::from_str(line).expect("JSON");
        let format = line.as_object_mut().expect("an object").remove("format");
        assert_eq!(format, Some("nailplate-review-line/1".into()));
        assert_eq!(&line, file);
        assert!(!file["findings"].as_array().expect("a list").is_empty());
    }
}

#[test]
#[cfg(unix)]
fn a_folder_that_may_not_be_read_does_not_stop_the_others() {
    use std::os::unix::fs::PermissionsExt;
    let tree = tree();
    let closed = tree.path().join("plans/a/deep");
    let set = |mode| fs::set_permissions(&closed, fs::Permissions::from_mode(mode)).expect("set");
    set(0o000);
    // Nothing is closed to the superuser.
    let superuser = fs::read_dir(&closed).is_ok();
    let below = lines(tree.path(), &["plans"]);
    set(0o755);
    if superuser {
        return;
    }
    assert_eq!(below.status, Some(2));
    assert_eq!(below.err, "nailplate: plans/a/deep: no permission\n");
    assert_eq!(told(&below.out).len(), 3);
}

#[test]
fn letters_are_the_same_whoever_writes_them() {
    let tree = tree();
    let letters = |hands: &str| {
        let arguments = [
            "review",
            "--as",
            "html",
            "--dated",
            "2026-11-25",
            "--hands",
            hands,
            "plans",
            "lost.plan.yaml",
        ];
        ran(command(tree.path(), &arguments))
    };
    let (one, several) = (letters("1"), letters("3"));
    assert_eq!(one.status, Some(2), "{}", one.err);
    assert_eq!(one.out, several.out);
    assert_eq!(one.out.matches("<article class=\"letter\"").count(), 4);
    assert!(
        one.out
            .contains("No letter: lost.plan.yaml: there is no such file")
    );
    assert!(one.out.contains("2026-11-25"));
    let folder = tree.path().to_string_lossy().into_owned();
    assert!(!one.out.contains(&folder));
}
