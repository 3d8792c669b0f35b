//! The reviews as a SARIF log, held against the OASIS schema, and read as a program would that knows only the standard.

mod fixes;
mod places;
mod reader;
mod wording;

use std::fs;
use std::path::Path;

use nailplate::forms::{Words, sarif};
use nailplate::plan::Library;
use nailplate::review::{Review, Selection, review_text};
use serde_json::{Value, json};
use tempfile::TempDir;

use super::cli::{CLEAN, FAULTY, command, folder, ran};
use reader::{check, list, log, path, results, run};

const SARIF: [&str; 3] = ["review", "--as", "sarif"];

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// What the program writes in a folder, with its exit status.
#[track_caller]
fn written(folder: &Path, arguments: &[&str]) -> (Value, Option<i32>) {
    let ran = ran(command(folder, &[&SARIF[..], arguments].concat()));
    let log = log(&ran.out);
    check(&log, |file| {
        fs::read_to_string(path(file, folder)).expect("the URI leads to the file")
    });
    let invocation = &list(run(&log), "invocations")[0];
    assert_eq!(invocation["exitCode"].as_i64(), ran.status.map(i64::from));
    (log, ran.status)
}

/// The log of some reviews, made without the program around it.
fn of(reviews: &[&Review]) -> Value {
    let mut out = Vec::new();
    let mut sarif = sarif::Sarif::start(&mut out).expect("a Vec takes everything");
    for review in reviews {
        let files = sarif::files(review);
        let out = sarif.next_plan(&files).expect("it takes everything");
        sarif::results(review, &mut Words::default(), out).expect("it takes everything");
    }
    sarif.finish(true, 0).expect("it takes everything");
    log(&String::from_utf8(out).expect("UTF-8"))
}

struct Disk;

impl Library for Disk {
    fn load(&self, path: &Path) -> Result<String, String> {
        fs::read_to_string(path).map_err(|error| error.to_string())
    }
}

fn reviewed(name: &str, text: &str) -> Review {
    review_text(Path::new(name), text.to_owned(), &Disk, Selection::All)
        .unwrap_or_else(|(_, broken)| panic!("{name}: {}", broken.reason))
}

fn of_kind<'v>(results: &'v [Value], kind: &'v str) -> impl Iterator<Item = &'v Value> {
    results.iter().filter(move |result| result["kind"] == kind)
}

#[test]
fn the_shipped_plans_give_what_the_json_form_gives() {
    let arguments = ["--dated", "2026-11-25", "examples"];
    let (log, status) = written(root(), &arguments);
    assert_eq!(status, Some(1));
    let json = ran(command(
        root(),
        &[&["review", "--as", "json"][..], &arguments].concat(),
    ));
    let json: Value = serde_json::from_str(&json.out).expect("JSON");
    let mut results = results(&log).iter();
    for file in list(&json, "files") {
        let passed = list(file, "let_pass");
        for finding in list(file, "findings").iter().chain(passed) {
            let result = results.next().expect("a result");
            assert_eq!(result["ruleId"], finding["rule"]);
            assert_eq!(result["properties"]["level"], finding["level"]);
            let level = match finding["level"].as_str() {
                Some("hazard") => "error",
                Some("fault") => "warning",
                _ => "note",
            };
            assert_eq!(result["level"], level);
            let (says, text) = (&finding["says"], &result["message"]["text"]);
            let (says, text) = (says.as_str().expect("text"), text.as_str().expect("text"));
            assert!(
                text.starts_with(&says.replace('{', "{{").replace('}', "}}")),
                "{text}"
            );
            let places: Vec<_> = list(result, "locations")
                .iter()
                .chain(list(result, "relatedLocations"))
                .map(|place| place["physicalLocation"]["region"]["byteOffset"].clone())
                .collect();
            let expected: Vec<_> = list(finding, "places")
                .iter()
                .map(|place| place["from"]["byte"].clone())
                .collect();
            assert_eq!(places, expected, "{finding}");
            for key in ["figure", "limit", "authority", "on"] {
                let other = result["properties"].get(key).unwrap_or(&Value::Null);
                assert_eq!(*other, finding[key], "{key}");
            }
            let suppressions = list(result, "suppressions");
            match finding.get("reason") {
                None => assert!(suppressions.is_empty()),
                Some(reason) => {
                    assert_eq!(suppressions[0]["kind"], "inSource");
                    assert_eq!(suppressions[0]["properties"]["reason"], *reason);
                }
            }
        }
        for gap in list(file, "gaps") {
            let result = results.next().expect("a result");
            assert_eq!(
                (&result["kind"], &result["level"]),
                (&json!("open"), &json!("none"))
            );
            assert_eq!(result["properties"]["lacks"], gap["lacks"]);
        }
    }
    assert_eq!(results.next(), None);
    let plans = list(run(&log), "artifacts");
    let plans = plans.iter().filter(|file| !list(file, "roles").is_empty());
    let tallies: Vec<_> = plans
        .map(|plan| plan["properties"]["tally"].clone())
        .collect();
    let expected: Vec<_> = list(&json, "files")
        .iter()
        .map(|file| file["tally"].clone())
        .collect();
    assert_eq!(tallies, expected);
}

#[test]
fn a_log_names_no_folder_of_the_machine() {
    let folder = folder(&[("a.plan.yaml", FAULTY.as_bytes())]);
    let ran = ran(command(
        folder.path(),
        &[&SARIF[..], &["./a.plan.yaml"]].concat(),
    ));
    let name = folder.path().to_string_lossy().into_owned();
    assert!(
        !ran.out.contains(&name) && !ran.out.contains("file://"),
        "{}",
        ran.out
    );
    let whole = folder.path().join("a.plan.yaml");
    let (log, _) = written(folder.path(), &[whole.to_str().expect("UTF-8")]);
    let location = &list(run(&log), "artifacts")[0]["location"];
    let uri = location["uri"].as_str().expect("a URI");
    assert!(
        uri.starts_with("file:///") && location.get("uriBaseId").is_none(),
        "{uri}"
    );
}

#[test]
fn files_of_any_name_are_found_again() {
    let tree = TempDir::new().expect("a temporary folder");
    let plan = format!("{FAULTY}catalogue: [\"../lager #1 ü.yaml\", \"./../lager #1 ü.yaml\"]\n");
    let stock = "stock:\n  x: {fro: line}\n";
    let mut names = vec![
        "Küche #2 50%.plan.yaml",
        "a b/c:d?e=f&g.plan.yaml",
        "[x]{y}'z\".plan.yaml",
    ];
    if cfg!(windows) {
        names.truncate(1);
    }
    fs::create_dir_all(tree.path().join("plans/a b")).expect("made");
    fs::write(tree.path().join("lager #1 ü.yaml"), stock).expect("written");
    fs::write(tree.path().join("plans/lager #1 ü.yaml"), stock).expect("written");
    for name in &names {
        fs::write(tree.path().join("plans").join(name), &plan).expect("written");
    }
    #[cfg(unix)]
    {
        use std::os::unix::ffi::OsStrExt;
        let latin = std::ffi::OsStr::from_bytes(b"plans/Kr\xfcger.plan.yaml");
        fs::write(tree.path().join(latin), &plan).expect("written");
    }
    let (log, status) = written(tree.path(), &["plans"]);
    assert_eq!(status, Some(1));
    let artifacts = list(run(&log), "artifacts");
    // Each plan, and the two catalogues once.
    assert_eq!(artifacts.len(), names.len() + usize::from(cfg!(unix)) + 2);
}

#[test]
fn regions_hold_with_all_line_ends_marks_and_letters() {
    let text = "nailplate: 1\nregion: us\nstoge: rough-in\nstock:\n  \"ü\u{feff}書 😀\": {fro: line}\nrooms: {Ä: {siz: 1}}\n";
    for end in ["\n", "\r\n", "\r"] {
        for mark in ["", "\u{feff}"] {
            let text = format!("{mark}{}", text.replace('\n', end));
            let folder = folder(&[("a.plan.yaml", text.as_bytes())]);
            let (log, _) = written(folder.path(), &["a.plan.yaml"]);
            let cut: Vec<_> = of_kind(results(&log), "fail")
                .map(|result| {
                    let place = &list(result, "locations")[0]["physicalLocation"];
                    &text[reader::range(&place["region"], &text)]
                })
                .collect();
            for word in ["stoge", "fro", "siz"] {
                assert!(cut.contains(&word), "{word}: {cut:?}");
            }
        }
    }
}

#[test]
fn what_could_not_be_used_is_told() {
    let folder = folder(&[
        ("a.plan.yaml", FAULTY.as_bytes()),
        ("broken.plan.yaml", b"nailplate: 1\nruns: {S1: [\n"),
        ("empty.plan.yaml", b""),
        ("latin.plan.yaml", b"nailplate: 1\ntitle: Kr\xfcger\n"),
        ("z.plan.yaml", CLEAN.as_bytes()),
    ]);
    let named = [
        "a.plan.yaml",
        "broken.plan.yaml",
        "empty.plan.yaml",
        "latin.plan.yaml",
        "lost.plan.yaml",
        "z.plan.yaml",
    ];
    let (log, status) = written(folder.path(), &named);
    assert_eq!(status, Some(2));
    let invocation = &list(run(&log), "invocations")[0];
    assert_eq!(invocation["executionSuccessful"], false);
    let told = list(invocation, "toolExecutionNotifications");
    let uris: Vec<_> = told
        .iter()
        .map(|notification| {
            assert_eq!(notification["level"], "error");
            let place = &list(notification, "locations")[0]["physicalLocation"];
            place["artifactLocation"]["uri"].as_str().expect("a URI")
        })
        .collect();
    assert_eq!(uris, named[1..5]);
    let broken = told[0]["message"]["text"].as_str();
    assert_eq!(
        broken,
        Some("broken.plan.yaml:2:12: this `[` is never closed")
    );
    let plans: Vec<_> = list(run(&log), "artifacts")
        .iter()
        .map(|file| file["location"]["uri"].as_str().expect("a URI"))
        .collect();
    assert_eq!(plans, named);
    for (arguments, expected) in [
        (&["z.plan.yaml"][..], Some(0)),
        (&["--hold", "hazard", "a.plan.yaml"], Some(0)),
        (&["a.plan.yaml"], Some(1)),
    ] {
        let (log, status) = written(folder.path(), arguments);
        assert_eq!(status, expected);
        let invocation = &list(run(&log), "invocations")[0];
        assert_eq!(invocation["executionSuccessful"], true);
        assert_eq!(invocation["toolExecutionNotifications"], json!([]));
    }
}

#[test]
fn standard_input_and_nothing_at_all() {
    let folder = folder(&[]);
    let mut command = command(folder.path(), &[&SARIF[..], &["-"]].concat());
    command.write_stdin(FAULTY);
    let log = log(&ran(command).out);
    check(&log, |_| FAULTY.to_owned());
    let file = &list(run(&log), "artifacts")[0];
    assert_eq!(file["roles"], json!(["analysisTarget", "standardStream"]));
    assert_eq!(file["location"].get("uriBaseId"), None);
    let (log, status) = written(folder.path(), &["."]);
    assert_eq!((results(&log).len(), status), (0, Some(0)));
}

#[test]
fn hands_and_places_in_line_change_nothing() {
    let tree = TempDir::new().expect("a temporary folder");
    fs::write(
        tree.path().join("stock.yaml"),
        "stock:\n  mic: {fro: line}\n",
    )
    .expect("written");
    for n in 0..40 {
        let text = match n % 4 {
            0 => CLEAN.to_owned(),
            1 => "nailplate: [".to_owned(),
            2 => FAULTY.to_owned(),
            _ => format!("{FAULTY}catalogue: [stock.yaml]\n"),
        };
        fs::write(tree.path().join(format!("{n:02}.plan.yaml")), text).expect("written");
    }
    let by = |hands| {
        ran(command(
            tree.path(),
            &[&SARIF[..], &["--hands", hands, "."]].concat(),
        ))
        .out
    };
    assert_eq!(by("1"), by("3"));
    let (log, _) = written(tree.path(), &["."]);
    let artifacts = list(run(&log), "artifacts");
    assert_eq!(artifacts.len(), 41, "all plans, and the catalogue once");
    let told = list(
        &list(run(&log), "invocations")[0],
        "toolExecutionNotifications",
    );
    assert_eq!(told.len(), 10);
}

#[test]
fn a_finding_is_known_again_in_another_log() {
    let prints = |text: &str| -> Vec<Value> {
        let folder = folder(&[("a.plan.yaml", text.as_bytes())]);
        let (log, _) = written(folder.path(), &["a.plan.yaml"]);
        let fail = of_kind(results(&log), "fail");
        fail.map(|result| result["partialFingerprints"].clone())
            .collect()
    };
    let first = prints(FAULTY);
    assert!(!first.is_empty() && first.iter().all(Value::is_object));
    assert_eq!(
        first,
        prints(&FAULTY.replace("region", "# a line more\nregion"))
    );
}

#[test]
fn what_is_owed_is_kept_apart_and_no_hazard_is_hidden() {
    let name = "kestrel-row-submitted.plan.yaml";
    let read = |name| fs::read(root().join("examples").join(name)).expect("shipped");
    let folder = folder(&[(name, &read(name)), ("stock.yaml", &read("stock.yaml"))]);
    let (before, _) = written(folder.path(), &[name]);
    assert_eq!(
        ran(command(folder.path(), &["punchlist", name])).status,
        Some(0)
    );
    let (log, status) = written(folder.path(), &[name]);
    assert_eq!(status, Some(0));
    assert_eq!(results(&log).len(), results(&before).len());
    let mut hazards = 0;
    for result in of_kind(results(&log), "fail") {
        let hazard = result["properties"]["level"] == "hazard";
        hazards += usize::from(hazard);
        let suppression = &list(result, "suppressions")[0];
        assert_eq!(suppression["kind"], "external");
        let status = if hazard { "underReview" } else { "accepted" };
        assert_eq!(suppression["status"], status);
        let print = &result["partialFingerprints"];
        let mut same = results(&before).iter();
        assert!(same.any(|result| result["partialFingerprints"] == *print));
    }
    assert!(hazards > 0);
}

#[test]
fn a_file_beside_the_plans_that_could_not_be_used_is_told() {
    let folder = folder(&[("a.plan.yaml", CLEAN.as_bytes()), ("list.yaml", b"- [")]);
    let (log, status) = written(folder.path(), &["--list", "list.yaml", "a.plan.yaml"]);
    assert_eq!(status, Some(2));
    let invocation = &list(run(&log), "invocations")[0];
    assert_eq!(invocation["executionSuccessful"], false);
    let [told] = list(invocation, "toolExecutionNotifications") else {
        panic!("{invocation}")
    };
    assert_eq!(told["level"], "error");
}
