//! Where punch lists lie and what they are called, plans by other names, lists with mistakes.

use std::fs;
use std::path::Path;

use serde_json::Value;

use super::punchlist::{LIST, OLD, adopted, lines, list, with_second, write};
use super::{CLEAN, command, folder, ran, run};

#[test]
fn a_plan_is_the_same_however_it_is_spelled() {
    let tree = adopted();
    let whole = tree.path().join("a/a.plan.yaml");
    let whole = whole.to_str().expect("text");
    for path in [
        "a/a.plan.yaml",
        "./a/a.plan.yaml",
        "a/../a/./a.plan.yaml",
        "a",
        "./a/",
        whole,
    ] {
        let owed = lines(&tree, &[path]);
        assert_eq!(owed.status, Some(0), "{path}: {}", owed.out);
    }
    // From below, the list lies above.
    let below = tree.path().join("a");
    let from_below = |arguments: &[&str]| ran(command(&below, arguments));
    for path in ["a.plan.yaml", ".", "../a/a.plan.yaml", "../b.plan.yaml"] {
        assert_eq!(from_below(&["review", path]).status, Some(0), "{path}");
    }
    write(&tree, "a/a.plan.yaml", &with_second(OLD));
    let added = from_below(&["punchlist", "--add", "."]);
    assert!(added.out.contains(&format!("../{LIST}: ")), "{}", added.out);
    assert!(!below.join(LIST).exists());
    assert_eq!(run(&tree, &["review", "a"]).status, Some(0));
}

#[test]
fn the_nearest_list_holds_and_none_above_the_repository() {
    let tree = adopted();
    let inner = tree.path().join("a");
    fs::write(inner.join(LIST), "nailplate: 1\nowed: []\n").expect("written");
    assert_eq!(
        run(&tree, &["review", "a"]).status,
        Some(1),
        "the nearer list owes nothing"
    );
    assert_eq!(
        run(&tree, &["review", "--list", LIST, "a"]).status,
        Some(0),
        "unless another is named"
    );
    fs::remove_file(inner.join(LIST)).expect("removed");
    assert_eq!(run(&tree, &["review", "a"]).status, Some(0));
    fs::create_dir(inner.join(".git")).expect("made");
    assert_eq!(
        run(&tree, &["review", "a"]).status,
        Some(1),
        "what lies above a repository is not its own"
    );
}

#[test]
fn a_list_of_another_name() {
    let tree = folder(&[("b.plan.yaml", OLD.as_bytes())]);
    fs::create_dir(tree.path().join("lists")).expect("made");
    let outside = run(
        &tree,
        &["punchlist", "--list", "lists/old.yaml", "b.plan.yaml"],
    );
    assert_eq!(outside.status, Some(2));
    assert!(
        outside.err.contains("it must lie below the list's folder"),
        "{}",
        outside.err
    );
    assert_eq!(
        run(&tree, &["punchlist", "--list", "old.yaml", "b.plan.yaml"]).status,
        Some(0)
    );
    assert_eq!(run(&tree, &["review", "b.plan.yaml"]).status, Some(1));
    assert_eq!(
        run(&tree, &["review", "--list", "old.yaml", "b.plan.yaml"]).status,
        Some(0)
    );
    let lost = run(&tree, &["review", "--list", "lost.yaml", "b.plan.yaml"]);
    assert_eq!(lost.status, Some(2));
    assert!(
        lost.err
            .contains("lost.yaml: there is no such file; nothing is taken as owed by this list"),
        "{}",
        lost.err
    );
}

#[test]
fn standard_input_owes_nothing() {
    let tree = adopted();
    for (arguments, status) in [(&["review", "-"], 1), (&["punchlist", "-"], 2)] {
        let mut command = command(tree.path(), arguments);
        command.write_stdin(OLD);
        assert_eq!(ran(command).status, Some(status), "{arguments:?}");
    }
}

#[test]
fn a_list_with_mistakes_owes_nothing_and_is_never_written() {
    let tree = adopted();
    let good = list(&tree);
    let bad = good.replace("left], level: fault", "left], levle: fault");
    write(&tree, LIST, &bad);
    for hands in ["1", "3"] {
        let review = run(&tree, &["review", "--as", "lines", "--hands", hands, "."]);
        assert_eq!(review.status, Some(2));
        assert!(review.out.contains(": fault: S1: "), "{}", review.out);
        let first = good
            .lines()
            .position(|line| line.contains("speaker.undersized"))
            .expect("there")
            + 1;
        assert!(
            review.err.starts_with(&format!(
                "nailplate: {LIST}:{first}:67: an entry has no key `levle`; did you mean `level`?\n"
            )),
            "{}",
            review.err
        );
        assert_eq!(
            review
                .err
                .matches("nothing is taken as owed by this list")
                .count(),
            1,
            "{}",
            review.err
        );
    }
    for flag in ["--add", "--close-out"] {
        let refused = run(&tree, &["punchlist", flag, "."]);
        assert_eq!((refused.status, refused.out.as_str()), (Some(2), ""));
    }
    assert_eq!(list(&tree), bad);
}

#[test]
fn clean_plans_want_no_list() {
    let tree = folder(&[("a.plan.yaml", CLEAN.as_bytes())]);
    let ran = run(&tree, &["punchlist", "."]);
    assert_eq!(ran.status, Some(0));
    assert_eq!(ran.out, format!("{LIST}: nothing owed.\n"));
    assert!(!tree.path().join(LIST).exists());
}

#[test]
#[cfg(unix)]
fn a_new_list_may_be_read_like_any_other_file() {
    use std::os::unix::fs::PermissionsExt;
    let tree = adopted();
    let mode = |name: &str| {
        let there = fs::metadata(tree.path().join(name)).expect("there");
        there.permissions().mode() & 0o777
    };
    assert_eq!(mode(LIST), mode("b.plan.yaml"));
}

#[test]
fn json_is_in_its_schema_and_the_same_by_many_hands() {
    let tree = adopted();
    write(
        &tree,
        "b.plan.yaml",
        &OLD.replace("2 x 18 AWG", "2 x 12 AWG"),
    );
    let by = |hands: &str| run(&tree, &["review", "--as", "json", "--hands", hands, "."]).out;
    assert_eq!(by("1"), by("5"));
    let document: Value = serde_json::from_str(&by("1")).expect("JSON");
    let schema: Value = serde_json::from_str(&run(&tree, &["schema", "review"]).out).expect("JSON");
    let validator = jsonschema::draft202012::new(&schema).expect("a schema");
    if let Err(error) = validator.validate(&document) {
        panic!("{}: {error}", error.instance_path());
    }
    let file = &document["files"][1];
    assert_eq!(file["path"], "b.plan.yaml");
    assert_eq!(file["findings"].as_array().map(Vec::len), Some(0));
    let gone = &file["not_found"][0];
    assert_eq!(
        (&gone["rule"], &gone["became"]),
        (&"speaker.undersized".into(), &"put-right".into())
    );
    // No key of it could be spared, and no other is known.
    for pointer in ["/files/1/owed/0", "/files/1/not_found/0"] {
        let keys: Vec<String> = document
            .pointer(pointer)
            .and_then(Value::as_object)
            .expect("an object")
            .keys()
            .cloned()
            .collect();
        for key in keys {
            let mut changed = document.clone();
            let object = changed
                .pointer_mut(pointer)
                .and_then(Value::as_object_mut)
                .expect("there");
            let value = object.remove(&key).expect("there");
            assert!(
                !validator.is_valid(&changed),
                "{pointer}/{key} is not needed"
            );
            let object = changed
                .pointer_mut(pointer)
                .and_then(Value::as_object_mut)
                .expect("there");
            object.insert(key, value);
            object.insert("zz".into(), 1.into());
            assert!(!validator.is_valid(&changed), "{pointer} takes anything");
        }
    }
}

/// The paths on a list have `/` between folders and start at the list.
#[test]
fn a_plan_with_an_odd_name() {
    let tree = folder(&[]);
    let odd = "a b/yes, \u{fc}: {#1}.plan.yaml";
    fs::create_dir(tree.path().join("a b")).expect("made");
    fs::write(tree.path().join(Path::new(odd)), OLD).expect("written");
    assert_eq!(run(&tree, &["punchlist", "."]).status, Some(0));
    assert!(
        list(&tree).contains(&format!("- {{plan: \"{odd}\", ")),
        "{}",
        list(&tree)
    );
    assert_eq!(run(&tree, &["review", odd]).status, Some(0));
}
