//! What has to be on record when the walls are to be closed (common practice, no source).

use nailplate::findings::Level::Fault;

use super::{found, gaps};

const ALL: [&str; 3] = ["plan.not-pulled", "plan.not-tested", "plan.not-labelled"];

fn plan(stage: &str, run: &str) -> String {
    format!(
        "nailplate: 1\nregion: eu\n{stage}stock:\n  d: {{for: data}}\nendpoints:\n  a: {{kind: rack}}\n  b: {{kind: display}}\n\
         runs:\n  R: {{from: a, to: b, stock: d{run}}}\n"
    )
}

/// Which of the three speak.
#[track_caller]
fn check(stage: &str, run: &str, expected: [bool; 3]) {
    let text = plan(stage, run);
    for (rule, expected) in ALL.into_iter().zip(expected) {
        let expected = if expected { vec![("R".to_owned(), Fault)] } else { vec![] };
        assert_eq!(found(&text, rule), expected, "{rule}\n{text}");
        assert_eq!(gaps(&text, rule), [""; 0], "{rule}\n{text}");
    }
}

const CLOSE_IN: &str = "stage: close-in\n";

#[test]
fn pulled_tested_labelled() {
    for spare in ["", ", spare: yes"] {
        let done = |done: &str| format!("{spare}, done: {{{done}}}");
        check(CLOSE_IN, spare, [true, false, false]);
        check(CLOSE_IN, &done("pulled: 2026-11-02"), [false, true, true]);
        check(CLOSE_IN, &done("pulled: 2026-11-02, tested: pass, labelled: yes"), [false; 3]);
        check(CLOSE_IN, &done("pulled: 2026-11-02, tested: fail, labelled: no"), [false, true, true]);
        check(CLOSE_IN, &done("tested: fail"), [true, true, false]);
        check(CLOSE_IN, &done("labelled: no"), [true, false, true]);
        check(CLOSE_IN, &done("labelled: yes, tested: pass"), [true, false, false]);
        check(CLOSE_IN, &done("guarded: yes"), [true, false, false]);
        // Read badly, reported already.
        check(CLOSE_IN, &done("pulled: yesterday"), [false; 3]);
        check(CLOSE_IN, &done("pulled: 2026-11-02, tested: so-so, labelled: once"), [false; 3]);
        check(CLOSE_IN, &format!("{spare}, done: yes"), [false; 3]);
    }
}

#[test]
fn before_close_in_nothing_is_owed() {
    for stage in ["stage: design\n", "stage: rough-in\n", "stage: soon\n", ""] {
        check(stage, "", [false; 3]);
    }
    for stage in ["stage: design\n", "stage: rough-in\n", "stage: soon\n"] {
        check(stage, ", done: {pulled: 2026-11-02, tested: fail}", [false; 3]);
    }
}

#[test]
fn a_record_without_a_stage_is_a_gap_once() {
    let text = plan("", ", done: {labelled: yes}").replace("\nruns:", "\nruns:\n  Q: {from: a, to: b, done: {labelled: no}}");
    for rule in ALL {
        assert_eq!(found(&text, rule), [], "{rule}");
        assert_eq!(gaps(&text, rule), ["stage of the plan"], "{rule}");
    }
}
