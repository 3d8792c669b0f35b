//! Plans that use a revised file by way of their settings.

use std::fs;

use tempfile::TempDir;

use super::revised::{review, told};
use super::{FAULTY, folder};

const SETTINGS: &str = "nailplate: 1\ncatalogue: [stock/usual.yaml]\nrulebook: sheets\n";

fn tree() -> TempDir {
    let tree = folder(&[]);
    let sheet = include_str!("../../rules/speaker/undersized.yaml");
    for (path, text) in [
        ("nailplate.yaml", SETTINGS),
        ("sheets/speaker/undersized.yaml", sheet),
        ("stock/usual.yaml", "stock:\n  mic: {for: line}\n"),
        ("stock/other.yaml", "stock:\n  mike: {for: line}\n"),
        ("usual.plan.yaml", FAULTY),
        ("a/usual.plan.yaml", FAULTY),
        (
            "a/other.plan.yaml",
            &format!("{FAULTY}catalogue: ../stock/other.yaml\n"),
        ),
        ("b/nailplate.yml", "nailplate: 1\nhold: hazard\n"),
        ("b/apart.plan.yaml", FAULTY),
    ] {
        let path = tree.path().join(path);
        fs::create_dir_all(path.parent().expect("a folder")).expect("made");
        fs::write(path, text).expect("written");
    }
    tree
}

const BELOW: [&str; 3] = ["a/other.plan.yaml", "a/usual.plan.yaml", "usual.plan.yaml"];

#[test]
fn revised_settings_stand_for_the_plans_that_go_by_them() {
    let tree = tree();
    let root = tree.path();
    let all = review(root, &["--revised", "nailplate.yaml"], None);
    assert_eq!(told(&all), BELOW, "{}", all.err);
    assert_eq!(
        all.err,
        "nailplate: nailplate.yaml was revised: 3 plans that use it are checked with it\n"
    );
    let nearer = review(root, &["--revised", "b/nailplate.yml"], None);
    assert_eq!(
        (told(&nearer), nearer.status),
        (vec!["b/apart.plan.yaml"], Some(0)),
        "it holds at hazards only"
    );
    // Taken away, they leave their plans to what lies above.
    fs::remove_file(root.join("b/nailplate.yml")).expect("removed");
    let gone = review(root, &["--revised", "b/nailplate.yml"], None);
    assert_eq!(
        (told(&gone), gone.status),
        (vec!["b/apart.plan.yaml"], Some(1)),
        "{}",
        gone.err
    );
}

#[test]
fn a_usual_catalogue_and_a_firms_sheet_are_used_by_way_of_settings() {
    let tree = tree();
    let root = tree.path();
    let usual = review(root, &["--revised", "stock/usual.yaml"], None);
    assert_eq!(
        told(&usual),
        ["a/usual.plan.yaml", "usual.plan.yaml"],
        "{}",
        usual.err
    );
    let sheet = "sheets/speaker/undersized.yaml";
    assert_eq!(told(&review(root, &["--revised", sheet], None)), BELOW);
    // Gone, the catalogue is missing from all that would use it; gone, the sheet is the built-in one again.
    fs::remove_file(root.join("stock/usual.yaml")).expect("removed");
    let usual = review(root, &["--revised", "stock/usual.yaml"], None);
    assert!(
        told(&usual).contains(&"a/usual.plan.yaml") && usual.out.contains("usual.yaml"),
        "{}",
        usual.out
    );
    fs::remove_file(root.join(sheet)).expect("removed");
    let bare = review(root, &["--revised", sheet], None);
    assert!(
        told(&bare).contains(&"a/other.plan.yaml"),
        "{}{}",
        bare.out,
        bare.err
    );
}

#[test]
fn settings_and_sheets_count_as_they_are_staged() {
    let tree = tree();
    let root = tree.path();
    let sheet = root.join("sheets/speaker/undersized.yaml");
    for arguments in [
        &["init", "-q"][..],
        &["add", "."],
        &["commit", "-q", "-m", "first"],
    ] {
        super::staged::git(root, arguments);
    }
    // A plan is staged that goes by settings which the work tree no longer has as they are staged.
    fs::write(root.join("usual.plan.yaml"), format!("{FAULTY}# again\n")).expect("written");
    super::staged::git(root, &["add", "usual.plan.yaml"]);
    fs::write(root.join("nailplate.yaml"), "nailplate: 1\nhold: hazard\n").expect("written");
    fs::write(&sheet, "not a sheet").expect("written");
    let staged = review(root, &["--next-commit"], None);
    assert_eq!(
        (told(&staged), staged.status),
        (vec!["usual.plan.yaml"], Some(1)),
        "{}",
        staged.err
    );
    assert!(
        staged.err.contains("nailplate.yaml: read as staged"),
        "{}",
        staged.err
    );
    assert!(
        staged
            .err
            .contains("sheets/speaker/undersized.yaml: read as staged"),
        "{}",
        staged.err
    );
    super::staged::git(root, &["add", "nailplate.yaml"]);
    assert_eq!(review(root, &["--next-commit"], None).status, Some(0));
}
