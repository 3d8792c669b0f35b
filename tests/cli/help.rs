//! Help whose examples work, refusals that say what to do, completions, manual pages.

use std::fs;
use std::path::Path;
use std::process::Command;

use regex::Regex;
use tempfile::TempDir;

use super::{folder, run};

/// The commands, as the program's own help lists them.
fn verbs() -> Vec<String> {
    let help = run(&folder(&[]), &["--help"]).out;
    let list = help.split("Commands:\n").nth(1).expect("it lists commands");
    let lines = list.lines().take_while(|line| line.starts_with("  "));
    let verbs: Vec<_> = lines
        .filter_map(|line| line.split_whitespace().next())
        .filter(|verb| *verb != "help")
        .map(str::to_owned)
        .collect();
    assert!(verbs.contains(&"review".to_owned()), "{help}");
    verbs
}

/// The shipped examples in a repository of their own.
fn shipped() -> TempDir {
    let shipped = folder(&[]);
    let examples = shipped.path().join("examples");
    copy(
        &Path::new(env!("CARGO_MANIFEST_DIR")).join("examples"),
        &examples,
    );
    for arguments in [
        &["init", "-q"][..],
        &["add", "."],
        &["commit", "-q", "-m", "first"],
    ] {
        super::staged::git(shipped.path(), arguments);
    }
    shipped
}

fn copy(from: &Path, to: &Path) {
    fs::create_dir(to).expect("made");
    for entry in fs::read_dir(from).expect("read").flatten() {
        let to = to.join(entry.file_name());
        if entry.path().is_dir() {
            copy(&entry.path(), &to);
        } else {
            fs::copy(entry.path(), to).expect("copied");
        }
    }
}

#[test]
#[cfg(unix)]
fn every_example_of_every_help_works() {
    let program = assert_cmd::cargo::cargo_bin("nailplate");
    let path = format!(
        "{}:{}",
        program.parent().expect("a folder").display(),
        std::env::var("PATH").unwrap_or_default()
    );
    for verb in verbs().into_iter().chain([String::new()]) {
        let words: Vec<_> = [verb.as_str(), "--help"]
            .into_iter()
            .filter(|word| !word.is_empty())
            .collect();
        let help = run(&folder(&[]), &words);
        assert_eq!(help.status, Some(0));
        let examples = help
            .out
            .split("\nExample:\n")
            .nth(1)
            .unwrap_or_else(|| panic!("{verb} has an example"));
        let examples: Vec<_> = examples
            .lines()
            .take_while(|line| line.starts_with("  "))
            .collect();
        assert!(!examples.is_empty(), "{}", help.out);
        for example in examples {
            assert!(
                example.trim().starts_with(&format!("nailplate {verb}")),
                "{example}"
            );
            let shipped = shipped();
            let done = Command::new("sh")
                .args(["-c", example])
                .current_dir(shipped.path())
                .env("PATH", &path)
                .env_remove("GIT_DIR")
                .env_remove("GIT_INDEX_FILE")
                .output()
                .expect("there is a shell");
            let said = String::from_utf8_lossy(&done.stderr);
            assert!(
                matches!(done.status.code(), Some(0 | 1)),
                "{example}: {said}"
            );
            // Nothing of it may be refused; what a review adds in words is no refusal.
            assert!(
                said.is_empty() || said.contains(" was revised: "),
                "{example}: {said}"
            );
            assert!(
                !done.stdout.is_empty() || example.contains("> ") || example.contains("-since"),
                "{example} shows something"
            );
        }
    }
}

#[test]
fn a_refusal_says_what_is_wrong_what_is_near_and_what_to_do() {
    let folder = folder(&[("a.plan.yaml", super::CLEAN.as_bytes())]);
    for (words, said) in [
        (
            "revieuw a",
            "`nailplate` has no command `revieuw`; did you mean `review`?\n  it has review, ",
        ),
        (
            "a.plan.yaml",
            "`nailplate` wants a command before `a.plan.yaml`\n  `nailplate review a.plan.yaml` checks it\n",
        ),
        ("--bogus", "`nailplate` has no option `--bogus`\n"),
        (
            "review",
            "`nailplate review` wants PATH\n  PATH: Plans to check, or folders of plans; `-` is standard input\n",
        ),
        ("review --revised", "`nailplate review` wants PATH\n"),
        (
            "review lost.plan.yaml",
            "lost.plan.yaml: there is no such file\n",
        ),
        (
            "review b.plan.yaml",
            "b.plan.yaml: there is no such file; did you mean `a.plan.yaml`?\n",
        ),
        (
            "review --as jason a",
            "`--as` does not take `jason`; did you mean `json`?\n  it takes text, lines, ",
        ),
        ("review --as", "`--as` wants FORM\n  it takes text, lines, "),
        ("review --as= a", "`--as` wants FORM\n"),
        (
            "review --hold everything a",
            "`--hold` does not take `everything`\n  it takes hazard, fault or advice\n",
        ),
        (
            "review --hands 0 a",
            "`--hands` does not take `0`: it takes a whole number from 1 to 256\n",
        ),
        (
            "review --hands 9e9 a",
            "`--hands` does not take `9e9`: it takes a whole number from 1 to 256\n",
        ),
        (
            "review --dated 2026-02-30 a",
            "`--dated` does not take `2026-02-30`: there is no such day\n",
        ),
        (
            "review --dated tomorrow a",
            "`--dated` does not take `tomorrow`: a day is written as 2026-11-02\n",
        ),
        (
            "review --hold-gap a",
            "`nailplate review` has no option `--hold-gap`; did you mean `--hold-gaps`?\n",
        ),
        (
            "review -x a",
            "`nailplate review` has no option `-x`\n  a file of that name is written `./-x`\n",
        ),
        (
            "review --as json --as text a",
            "`--as` is given twice\n  leave one away\n",
        ),
        (
            "review --hold-gaps=yes a",
            "`--hold-gaps` takes no value\n  leave `=yes` away\n",
        ),
        (
            "review --next-commit a",
            "`--next-commit` does not go with PATH\n",
        ),
        (
            "review --revised-since",
            "`--revised-since` wants COMMIT\n  `--revised-since`: Check so what was revised since",
        ),
        (
            "redline --change-orders a",
            "`nailplate redline` wants `--ink`\n  `--ink`: Write those redlines",
        ),
        ("rulebook a b", "`nailplate rulebook` has no use for `b`\n"),
        (
            "rulebook speaker.undersised",
            "no sheet is called `speaker.undersised`; did you mean `speaker.undersized`?\n",
        ),
        (
            "schema plant",
            "`nailplate schema` does not take `plant`; did you mean `plan`?\n  it takes plan, ",
        ),
        (
            "completions",
            "`nailplate completions` wants SHELL\n  it takes bash, ",
        ),
        (
            "manual revew",
            "there is no command `revew`; did you mean `review`?\n",
        ),
        (
            "review --hold \u{1b}[31m a",
            "`--hold` does not take `\u{fffd}[31m`",
        ),
    ] {
        let words: Vec<_> = words.split(' ').collect();
        let ran = run(&folder, &words);
        assert_eq!((ran.status, ran.out.as_str()), (Some(2), ""), "{words:?}");
        assert!(
            ran.err.starts_with(&format!("nailplate: {said}")),
            "{words:?}\n{}",
            ran.err
        );
        for line in ran.err.lines().skip(1) {
            assert!(line.starts_with("  ") && line.len() <= 80, "{line}");
        }
    }
    // Without a command the help is shown, and it is a command line that could not be used.
    let bare = run(&folder, &[]);
    assert_eq!(bare.status, Some(2));
    assert!(bare.err.contains("Usage: nailplate"), "{}", bare.err);
}

#[test]
fn help_fits_a_terminal_and_names_the_exit_status() {
    for verb in verbs() {
        for help in [
            &[verb.as_str(), "--help"][..],
            &["help", verb.as_str()],
            &[verb.as_str(), "-h"],
        ] {
            let help = run(&folder(&[]), help).out;
            assert!(help.contains("Exit status: 0"), "{help}");
            for line in help.lines() {
                assert!(line.chars().count() <= 100, "{line}");
            }
        }
    }
}

#[test]
fn every_shell_gets_its_completions() {
    let place = folder(&[]);
    let option = Regex::new("(change-orders|\\bl change-orders)").expect("fixed");
    for (shell, begins) in [
        ("bash", "_nailplate()"),
        ("zsh", "#compdef nailplate"),
        ("fish", "# Print an optspec"),
        ("elvish", "\nuse builtin;"),
        ("powershell", "\nusing namespace"),
    ] {
        let ran = run(&place, &["completions", shell]);
        assert_eq!((ran.status, ran.err.as_str()), (Some(0), ""), "{shell}");
        assert!(ran.out.starts_with(begins), "{shell}: {}", ran.out);
        for verb in verbs() {
            assert!(ran.out.contains(&verb), "{shell}: {verb}");
        }
        assert!(option.is_match(&ran.out), "{shell}");
    }
    // Rules by their names, too.
    let bash = run(&place, &["completions", "bash"]).out;
    assert!(
        bash.contains("speaker.undersized") && bash.contains("plan.unknown-key"),
        "{bash}"
    );
}

#[test]
fn every_command_has_a_manual_page() {
    let place = folder(&[]);
    let main = run(&place, &["manual"]);
    assert_eq!((main.status, main.err.as_str()), (Some(0), ""));
    for verb in verbs() {
        let page = run(&place, &["manual", &verb]).out;
        assert!(
            main.out.contains(&format!("nailplate\\-{verb}")),
            "{}",
            main.out
        );
        assert!(
            page.contains(".SH EXAMPLES") && page.contains(".SH \"EXIT STATUS\""),
            "{page}"
        );
        assert!(page.starts_with(".ie") || page.starts_with(".TH"), "{page}");
    }
}
