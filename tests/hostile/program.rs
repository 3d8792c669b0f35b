//! The built program on hostile plans: every command that reads one ends with status 0, 1 or 2 and never with a panic.

use std::fs;
use std::path::Path;
use std::process::{Command, Output, Stdio};

use serde_json::Value;
use tempfile::TempDir;

/// Every command that reads a plan, in every form; those that write stand last.
const COMMANDS: &[&[&str]] = &[
    &["review"],
    &["review", "--as", "lines", "--hold", "advice"],
    &["review", "--as", "html"],
    &["review", "--as", "markdown"],
    &["review", "--as", "json", "--hands", "1"],
    &["review", "--as", "json-lines", "--hold-gaps"],
    &["review", "--as", "sarif"],
    &["figures"],
    &["figures", "--as", "json"],
    &["redline"],
    &["punchlist"],
    &["review", "--as", "lines"],
    &["punchlist", "--close-out"],
    &["redline", "--ink", "--change-orders"],
];

/// What the program says of the plans in a folder by one command, held against what has to be true of all.
#[track_caller]
pub fn held(folder: &Path, arguments: &[&str], input: Stdio) -> Output {
    let output = Command::new(env!("CARGO_BIN_EXE_nailplate"))
        .args(arguments)
        .current_dir(folder)
        .stdin(input)
        .output()
        .expect("it runs");
    let told = String::from_utf8_lossy(&output.stderr);
    let short: String = told.chars().take(2000).collect();
    // A signal (a stack that is full) gives no status at all.
    assert!(
        matches!(output.status.code(), Some(0..=2)),
        "{arguments:?}: {:?}\n{short}",
        output.status
    );
    assert!(
        !told.contains("panicked at") && !told.contains("RUST_BACKTRACE"),
        "{arguments:?}\n{short}"
    );
    let out = std::str::from_utf8(&output.stdout).expect("UTF-8");
    // What would turn or steer the terminal of whoever reads it.
    let steers = |c: char| matches!(c, '\0'..='\u{8}' | '\u{b}'..='\u{1f}' | '\u{7f}'..='\u{9f}' | '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    let is_for_people = !arguments
        .iter()
        .any(|word| word.starts_with("json") || *word == "sarif" || *word == "redline");
    for said in [if is_for_people { out } else { "" }, &told] {
        let steering = said.lines().find(|line| line.contains(steers));
        assert!(steering.is_none(), "{arguments:?}: {steering:?}");
    }
    if arguments.contains(&"json") || arguments.contains(&"sarif") {
        let document: Result<Value, _> = serde_json::from_str(out);
        assert!(
            document.is_ok(),
            "{arguments:?}: {:?}\n{short}",
            document.err()
        );
    }
    output
}

/// Commands on the plans of a folder.
#[track_caller]
fn hold(folder: &Path, commands: &[&[&str]]) {
    for arguments in commands {
        held(folder, &[arguments, &["."][..]].concat(), Stdio::null());
    }
}

/// A command of each kind.
const SOME: &[&[&str]] = &[
    &["review"],
    &["review", "--as", "json"],
    &["figures", "--as", "json"],
    &["punchlist"],
    &["redline", "--ink"],
];

/// A folder with plans in it.
pub fn plans<'t>(texts: impl IntoIterator<Item = (usize, &'t [u8])>) -> TempDir {
    let folder = TempDir::new().expect("a folder");
    for (number, text) in texts {
        fs::write(folder.path().join(format!("{number:04}.plan.yaml")), text).expect("written");
    }
    folder
}

#[test]
fn plans_that_hold_themselves() {
    let texts = super::circles::texts();
    hold(
        plans(texts.iter().map(String::as_bytes).enumerate()).path(),
        COMMANDS,
    );
}

#[test]
fn ids_that_nobody_can_type() {
    let texts = super::ids::texts();
    hold(
        plans(texts.iter().map(String::as_bytes).enumerate()).path(),
        COMMANDS,
    );
}

#[test]
fn texts_that_are_hardly_any() {
    let texts = super::texts::texts();
    hold(
        plans(texts.iter().map(Vec::as_slice).enumerate()).path(),
        SOME,
    );
}

/// Shipped houses with all of their quantities absurd at once, each in another way.
#[test]
fn houses_with_nothing_but_absurd_quantities() {
    let texts = super::quantities::all_at_once();
    hold(
        plans(texts.iter().map(String::as_bytes).enumerate()).path(),
        COMMANDS,
    );
}

/// Each shipped house cut off at a few bytes, those within a character included.
#[test]
fn houses_cut_off() {
    let mut begins = Vec::new();
    for (number, name) in super::HOUSES.iter().enumerate() {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("examples/{name}.plan.yaml"));
        let text = fs::read(path).expect("a house");
        let within = (0..text.len())
            .filter(|at| text[*at] & 0xc0 == 0x80)
            .take(2);
        let ends: Vec<_> = (1..5)
            .map(|part| text.len() * part / 5 + number)
            .chain(within)
            .collect();
        begins.extend(ends.into_iter().map(|end| text[..end].to_vec()));
    }
    hold(
        plans(begins.iter().map(Vec::as_slice).enumerate()).path(),
        SOME,
    );
}

/// What is named in the place of a plan, a catalogue, settings or a firm's sheets.
#[cfg(unix)]
#[test]
fn what_is_no_file_at_all() {
    use std::os::unix::fs::{PermissionsExt, symlink};
    let folder = plans([]);
    let at = |name: &str| folder.path().join(name);
    fs::create_dir(at("folder.plan.yaml")).expect("made");
    symlink("loop.plan.yaml", at("loop.plan.yaml")).expect("made");
    symlink(".", at("here")).expect("made");
    fs::write(at("closed.plan.yaml"), "nailplate: 1\n").expect("written");
    fs::set_permissions(at("closed.plan.yaml"), fs::Permissions::from_mode(0o0)).expect("set");
    let head = "nailplate: 1\nregion: us\n";
    for (name, catalogue) in [
        ("self", "uses-self.plan.yaml"),
        ("folder", "."),
        ("nothing", "''"),
        ("endless", "/dev/zero"),
        ("empty", "/dev/null"),
        ("loop", "loop.plan.yaml"),
        ("far", "../../../../../../../../etc/passwd"),
        ("odd", "\"a\\0b\""),
        ("long", &"x/".repeat(5000)),
        ("address", "https://127.0.0.1:1/stock.yaml"),
    ] {
        let text = format!("{head}catalogue: [{catalogue}]\n");
        fs::write(at(&format!("uses-{name}.plan.yaml")), text).expect("written");
        held(
            folder.path(),
            &["review", &format!("uses-{name}.plan.yaml")],
            Stdio::null(),
        );
    }
    fs::remove_file(at("uses-endless.plan.yaml")).expect("removed");
    hold(folder.path(), SOME);
    for path in [
        "loop.plan.yaml",
        "folder.plan.yaml",
        "/dev/null",
        "here/here",
        "",
        "a\nb",
    ] {
        for verb in ["review", "figures", "redline", "punchlist"] {
            held(folder.path(), &[verb, path], Stdio::null());
        }
    }
    let endless = Stdio::from(fs::File::open("/dev/zero").expect("there"));
    let output = held(folder.path(), &["figures", "-"], endless);
    assert_eq!(output.status.code(), Some(2));
}

/// Settings, and a firm's sheets, that mean harm.
#[test]
fn settings_that_mean_harm() {
    let sheet = include_str!("../../rules/speaker/undersized.yaml");
    let mut texts: Vec<Vec<u8>> = super::texts::texts().into_iter().step_by(5).collect();
    let bomb: String = (1..9)
        .map(|level| {
            format!(
                "  l{level}: &l{level} [{}]\n",
                vec![format!("*l{}", level - 1); 10].join(", ")
            )
        })
        .collect();
    texts.extend(
        [
            "rules: &r {<<: *r, speaker.undersized: *r}\n".to_owned(),
            format!("rules:\n  l0: &l0 [x]\n{bomb}"),
            "rulebook: .\n".into(),
            "rulebook: nailplate.yaml\n".into(),
            "rulebook: [., .]\n".into(),
            "catalogue: nailplate.yaml\n".into(),
            format!("hold: {}\n", "x".repeat(100_000)),
            "rulebook: firm\n".into(),
        ]
        .map(|text| format!("nailplate: 1\n{text}").into_bytes()),
    );
    for text in texts {
        let folder = plans([(
            1,
            &b"nailplate: 1\nregion: us\nendpoints: {a: {kind: rack}}\n"[..],
        )]);
        let at = |name: &str| folder.path().join(name);
        fs::write(at("nailplate.yaml"), &text).expect("written");
        fs::create_dir_all(at("firm/speaker")).expect("made");
        fs::write(
            at("firm/speaker/undersized.yaml"),
            &sheet[..sheet.len() / 2],
        )
        .expect("written");
        for arguments in [&["review", "."][..], &["rulebook", "speaker.undersized"]] {
            held(folder.path(), arguments, Stdio::null());
        }
    }
}

/// Punch lists that mean harm.
#[test]
fn punch_lists_that_mean_harm() {
    for text in super::texts::texts().into_iter().step_by(5) {
        let folder = plans([(1, &b"nailplate: 1\nregion: us\n"[..])]);
        fs::write(folder.path().join("nailplate.punchlist.yaml"), &text).expect("written");
        for arguments in [&["review", "."][..], &["punchlist", "."]] {
            held(folder.path(), arguments, Stdio::null());
        }
    }
}
