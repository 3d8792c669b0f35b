//! The built program, run as a user would.

mod help;
mod many;
mod punch_less;
mod punch_merge;
mod punchlist;
mod punchlist_files;
mod revised;
mod staged;
mod users;

use std::fs;
use std::path::Path;

use assert_cmd::Command;
use tempfile::TempDir;

pub const CLEAN: &str = "nailplate: 1\nregion: us\n";
pub const FAULTY: &str =
    "nailplate: 1\nregion: us\nstoge: rough-in # later\nstock:\n  a: {for: line, diamter: 0.2}\n";

pub fn folder(files: &[(&str, &[u8])]) -> TempDir {
    let folder = TempDir::new().expect("a temporary folder");
    for (name, bytes) in files {
        fs::write(folder.path().join(name), bytes).expect("written");
    }
    folder
}

pub struct Ran {
    pub status: Option<i32>,
    pub out: String,
    pub err: String,
}

pub fn command(folder: &Path, arguments: &[&str]) -> Command {
    let mut command = Command::cargo_bin("nailplate").expect("built");
    command
        .current_dir(folder)
        .args(arguments)
        .env_remove("COLUMNS");
    command
}

fn run(folder: &TempDir, arguments: &[&str]) -> Ran {
    ran(command(folder.path(), arguments))
}

pub fn ran(mut command: Command) -> Ran {
    let output = command.output().expect("ran");
    let text = |bytes| String::from_utf8(bytes).expect("UTF-8");
    Ran {
        status: output.status.code(),
        out: text(output.stdout),
        err: text(output.stderr),
    }
}

#[test]
fn exit_status_follows_the_holding_level() {
    let folder = folder(&[
        ("clean.plan.yaml", CLEAN.as_bytes()),
        ("faulty.plan.yaml", FAULTY.as_bytes()),
    ]);
    for (arguments, status) in [
        (&["review", "clean.plan.yaml"][..], 0),
        (&["review", "faulty.plan.yaml"], 1),
        (&["review", "--hold", "advice", "faulty.plan.yaml"], 1),
        (&["review", "--hold", "hazard", "faulty.plan.yaml"], 0),
        (&["review", "--hold-gaps", "clean.plan.yaml"], 0),
        (&["review", "clean.plan.yaml", "faulty.plan.yaml"], 1),
        (&["review", "lost.plan.yaml", "faulty.plan.yaml"], 2),
        (&["review"], 2),
        (&["review", "--hold", "everything", "clean.plan.yaml"], 2),
        (&["rulebook", "no.such-sheet"], 2),
        (&["figures", "faulty.plan.yaml"], 0),
        (&["figures", "lost.plan.yaml"], 2),
        (&["redline", "clean.plan.yaml"], 0),
        (&["redline", "faulty.plan.yaml"], 1),
        (&["redline", "--change-orders", "faulty.plan.yaml"], 2),
    ] {
        let ran = run(&folder, arguments);
        assert_eq!(
            ran.status,
            Some(status),
            "{arguments:?}\n{}\n{}",
            ran.out,
            ran.err
        );
    }
}

#[test]
fn one_bad_file_does_not_stop_the_others() {
    let folder = folder(&[
        ("a.plan.yaml", FAULTY.as_bytes()),
        ("broken.plan.yaml", b"nailplate: 1\nruns: {S1: [\n"),
        ("latin.plan.yaml", b"nailplate: 1\ntitle: Kr\xfcger\n"),
        ("empty.plan.yaml", b""),
        ("z.plan.yaml", CLEAN.as_bytes()),
    ]);
    let files = [
        "a.plan.yaml",
        "broken.plan.yaml",
        "latin.plan.yaml",
        "empty.plan.yaml",
        "lost.plan.yaml",
        "folder/",
        "z.plan.yaml",
    ];
    let ran = run(&folder, &[&["review"][..], &files].concat());
    assert_eq!(ran.status, Some(2));
    let (first, last) = (ran.out.find("a.plan.yaml:"), ran.out.find("z.plan.yaml:"));
    assert!(first.is_some() && first < last, "{}", ran.out);
    for reason in [
        "nailplate: broken.plan.yaml:2:12: this `[` is never closed",
        "nailplate: latin.plan.yaml:2:10: not UTF-8 text: byte 0xfc at offset 22",
        "nailplate: empty.plan.yaml:1:1: there is nothing in this file",
        "nailplate: lost.plan.yaml: there is no such file",
        "nailplate: folder/: there is no such file",
    ] {
        assert!(ran.err.contains(reason), "{reason}\n{}", ran.err);
    }
    let json = run(&folder, &[&["review", "--as", "json"][..], &files].concat());
    let document: serde_json::Value =
        serde_json::from_str(&json.out).expect("JSON in spite of broken files");
    assert_eq!(document["files"].as_array().map(Vec::len), Some(2));
}

#[test]
fn standard_input_is_a_file_called_stdin() {
    let folder = folder(&[("stock.yaml", b"stock:\n  mic: {fro: line}\n")]);
    let mut command = command(folder.path(), &["review", "--as", "lines", "-"]);
    command.write_stdin(format!("{CLEAN}stoge: rough-in\ncatalogue: [stock.yaml]\n"));
    let ran = ran(command);
    assert_eq!(ran.status, Some(1), "{}", ran.err);
    assert!(ran.out.contains("<stdin>:3:1: fault: "), "{}", ran.out);
    // Its catalogues lie in the current folder.
    assert!(ran.out.contains("stock.yaml:2:9: fault: "), "{}", ran.out);
}

#[test]
fn no_colour_where_no_terminal_is() {
    let folder = folder(&[("a.plan.yaml", FAULTY.as_bytes())]);
    for arguments in [
        &["review", "a.plan.yaml"][..],
        &["redline", "a.plan.yaml"],
        &["rulebook"],
        &["figures", "a.plan.yaml"],
    ] {
        let ran = run(&folder, arguments);
        assert!(
            !ran.out.contains('\u{1b}') && !ran.err.contains('\u{1b}'),
            "{arguments:?}"
        );
    }
}

/// Runs on a terminal made by `script` (util-linux), where there is one.
#[cfg(target_os = "linux")]
fn on_a_terminal(folder: &TempDir, no_color: Option<&str>) -> Option<String> {
    let program = assert_cmd::cargo::cargo_bin("nailplate");
    let mut script = std::process::Command::new("script");
    script.args([
        "-qec",
        &format!("'{}' review a.plan.yaml", program.display()),
        "/dev/null",
    ]);
    script
        .current_dir(folder.path())
        .env("TERM", "xterm")
        .env_remove("NO_COLOR")
        .stdin(std::process::Stdio::null());
    if let Some(value) = no_color {
        script.env("NO_COLOR", value);
    }
    let output = script.output().ok()?;
    Some(String::from_utf8_lossy(&output.stdout).into_owned())
}

#[test]
#[cfg(target_os = "linux")]
fn colour_on_a_terminal_unless_no_color() {
    let folder = folder(&[("a.plan.yaml", FAULTY.as_bytes())]);
    // Without `script` there is no terminal to try.
    let Some(coloured) = on_a_terminal(&folder, None) else {
        return;
    };
    assert!(coloured.contains("\u{1b}["), "{coloured}");
    let empty = on_a_terminal(&folder, Some("")).unwrap_or_default();
    assert!(
        empty.contains("\u{1b}["),
        "an empty NO_COLOR is none (no-color.org): {empty}"
    );
    let plain = on_a_terminal(&folder, Some("1")).unwrap_or_default();
    assert!(
        plain.contains("FAULT") && !plain.contains('\u{1b}'),
        "{plain}"
    );
}

#[test]
fn a_reader_that_goes_away_is_no_failure() {
    let folder = folder(&[]);
    let keys: String = (0..20_000).map(|n| format!("key-{n}: x\n")).collect();
    fs::write(folder.path().join("a.plan.yaml"), format!("{CLEAN}{keys}")).expect("written");
    let program = assert_cmd::cargo::cargo_bin("nailplate");
    for form in ["text", "lines", "json", "json-lines", "sarif", "markdown"] {
        let mut child = std::process::Command::new(&program)
            .args(["review", "--as", form, "a.plan.yaml"])
            .current_dir(folder.path())
            .stdout(std::process::Stdio::piped())
            .stderr(std::process::Stdio::piped())
            .spawn()
            .expect("started");
        drop(child.stdout.take());
        let output = child.wait_with_output().expect("ended");
        assert_eq!(String::from_utf8_lossy(&output.stderr), "", "{form}");
        assert_eq!(
            output.status.code(),
            Some(1),
            "{form}: the status still tells what was found"
        );
    }
}

#[test]
fn ink_keeps_mark_line_ends_comments_and_permissions() {
    let text = format!("\u{feff}{FAULTY}").replace('\n', "\r\n");
    let folder = folder(&[("a.plan.yaml", text.as_bytes())]);
    let path = folder.path().join("a.plan.yaml");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        fs::set_permissions(&path, fs::Permissions::from_mode(0o640)).expect("set");
    }
    let ran = run(&folder, &["redline", "--ink", "a.plan.yaml"]);
    assert_eq!(
        ran.status,
        Some(1),
        "the unit is left: {}{}",
        ran.out,
        ran.err
    );
    assert!(
        ran.out.contains("it changes what gets built"),
        "{}",
        ran.out
    );
    let after = text.replace("stoge", "stage");
    assert_eq!(
        fs::read_to_string(&path).expect("read"),
        after.replace("diamter", "diameter"),
        "{}",
        ran.out
    );
    let ran = run(
        &folder,
        &["redline", "--ink", "--change-orders", "a.plan.yaml"],
    );
    assert_eq!(ran.status, Some(0), "{}{}", ran.out, ran.err);
    assert_eq!(
        fs::read_to_string(&path).expect("read"),
        after.replace("diamter: 0.2", "diameter: 0.2 in")
    );
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        assert_eq!(
            fs::metadata(&path).expect("there").permissions().mode() & 0o777,
            0o640
        );
    }
    assert_eq!(
        fs::read_dir(folder.path()).expect("read").count(),
        1,
        "nothing is left beside the plan"
    );
    assert_eq!(run(&folder, &["redline", "a.plan.yaml"]).status, Some(0));
}

#[test]
fn ink_leaves_standard_input_and_read_only_files() {
    let folder = folder(&[("a.plan.yaml", FAULTY.as_bytes())]);
    let path = folder.path().join("a.plan.yaml");
    let mut permissions = fs::metadata(&path).expect("there").permissions();
    permissions.set_readonly(true);
    fs::set_permissions(&path, permissions).expect("set");
    let ran = run(&folder, &["redline", "--ink", "a.plan.yaml"]);
    assert_eq!(ran.status, Some(2));
    assert!(ran.err.contains("read-only"), "{}", ran.err);
    assert_eq!(fs::read_to_string(&path).expect("read"), FAULTY);
    let mut command = command(folder.path(), &["redline", "--ink", "-"]);
    command.write_stdin(FAULTY);
    assert_eq!(self::ran(command).status, Some(2));
}

#[test]
fn the_diff_is_one_that_patch_takes() {
    let folder = folder(&[("a.plan.yaml", FAULTY.as_bytes())]);
    let diff = run(&folder, &["redline", "a.plan.yaml"]);
    fs::write(folder.path().join("a.diff"), &diff.out).expect("written");
    let mut patch = std::process::Command::new("patch");
    patch
        .args(["-s", "-p0", "-i", "a.diff"])
        .current_dir(folder.path());
    // Without `patch` there is nothing to try it with.
    let Ok(status) = patch.status() else { return };
    assert!(status.success(), "{}", diff.out);
    let after = fs::read_to_string(folder.path().join("a.plan.yaml")).expect("read");
    assert_eq!(
        after,
        FAULTY
            .replace("stoge", "stage")
            .replace("diamter: 0.2", "diameter: 0.2 in")
    );
}

#[test]
fn a_gap_holds_a_plan_up_when_asked() {
    // Nothing says how long the speaker line is.
    let plan = "nailplate: 1\nregion: us\nstock:\n  thin: {for: speaker, cores: 2 x 18 AWG, rating: CL3}\n\
                endpoints:\n  rack: {kind: rack}\n  left: {kind: speaker, impedance: 8 ohm}\n\
                runs:\n  S1: {from: rack, to: left, stock: thin}\n";
    let folder = folder(&[("a.plan.yaml", plan.as_bytes())]);
    let ran = run(&folder, &["review", "--hold", "hazard", "a.plan.yaml"]);
    assert_eq!(ran.status, Some(0), "{}", ran.out);
    assert!(ran.out.contains("length of S1: "), "{}", ran.out);
    let ran = run(
        &folder,
        &["review", "--hold", "hazard", "--hold-gaps", "a.plan.yaml"],
    );
    assert_eq!(ran.status, Some(1), "{}", ran.out);
}
