//! The printed schemas: what the program takes and gives, held against them by a validator that is not ours.

mod random;
mod spellings;
mod values;

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::LazyLock;

use jsonschema::Validator;
use nailplate::plan::{
    self, Beside, Catalogue, Circuit, Document, Done, Endpoint, Framing, Key, Library, Pathway,
    Record, Room, Run, Stock, Variance,
};
use nailplate::rules::{all_sheets, sheet};
use nailplate::schema::Defs;
use nailplate::yaml::Sources;
use serde_json::{Value, json};

/// What the program prints.
fn printed(arguments: &[&str]) -> Value {
    let done = Command::new(env!("CARGO_BIN_EXE_nailplate"))
        .args(arguments)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .expect("the program runs");
    serde_json::from_slice(&done.stdout).expect("it prints JSON")
}

fn validator(of: &str) -> Validator {
    let schema = printed(&["schema", of]);
    if let Err(error) = jsonschema::meta::validate(&schema) {
        panic!("schema {of} is no schema: {error}");
    }
    jsonschema::draft202012::new(&schema).unwrap_or_else(|error| panic!("schema {of}: {error}"))
}

static PLAN: LazyLock<Validator> = LazyLock::new(|| validator("plan"));

/// A text as the schema of a plan says that it is to be loaded.
fn loaded(text: &str) -> Option<Value> {
    // YAML 1.2 has two booleans; by YAML 1.1 the `y` of `faces: y` would be one.
    let core = serde_yaml::options! { strict_booleans: true };
    serde_yaml::from_str_with_options(text, core).ok()
}

/// Catalogues lie beside the examples.
struct Disk;

impl Library for Disk {
    fn load(&self, path: &Path) -> Result<String, String> {
        std::fs::read_to_string(path).map_err(|error| error.to_string())
    }
}

/// The mistakes that reading reports in a text, as rule and sentence; `None` for what is no YAML.
fn mistakes(path: &Path, text: &str) -> Option<Vec<(&'static str, String)>> {
    let mut sources = Sources::default();
    let (file, read) = sources.add(path, text.to_owned());
    read.ok()?;
    let (_, findings) = plan::read(&mut sources, file, &Disk);
    Some(findings.into_iter().map(|f| (f.rule, f.says)).collect())
}

/// Mistakes of the kind that a schema can see.
const SEEN: &[&str] = &[
    "plan.missing-key",
    "plan.no-unit",
    "plan.unknown-key",
    "plan.unknown-word",
    "plan.unreadable",
    "plan.wrong-kind",
    "plan.wrong-unit",
    "plan.wrong-version",
];

/// Asserts that a schema that rejects is never alone, and tells whether it rejects.
#[track_caller]
fn rejected(path: &Path, text: &str) -> bool {
    let Some(value) = loaded(text) else {
        return true;
    };
    let error = PLAN.iter_errors(&value).next();
    // What is no YAML to the reader is refused altogether.
    let Some(mistakes) = mistakes(path, text) else {
        return true;
    };
    if let Some(error) = &error {
        let at = error.instance_path().to_string();
        assert!(
            !mistakes.is_empty(),
            "{text}\nonly the schema: {at} {error}"
        );
    }
    error.is_some()
}

fn files(folder: &str) -> Vec<PathBuf> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let entries = std::fs::read_dir(root.join(folder)).expect("a folder");
    let mut files: Vec<_> = entries
        .map(|entry| entry.expect("an entry").path())
        .collect();
    files.sort();
    files
}

fn text(path: &Path) -> String {
    std::fs::read_to_string(path).expect("text")
}

/// Every record: its keys and its name among the definitions.
pub const RECORDS: [(&str, &[Key]); 12] = [
    (Document::WHAT, Document::KEYS),
    (Catalogue::WHAT, Catalogue::KEYS),
    (Room::WHAT, Room::KEYS),
    (Stock::WHAT, Stock::KEYS),
    (Pathway::WHAT, Pathway::KEYS),
    (Framing::WHAT, Framing::KEYS),
    (Circuit::WHAT, Circuit::KEYS),
    (Endpoint::WHAT, Endpoint::KEYS),
    (Run::WHAT, Run::KEYS),
    (Beside::WHAT, Beside::KEYS),
    (Done::WHAT, Done::KEYS),
    (Variance::WHAT, Variance::KEYS),
];

#[test]
fn the_schema_has_every_key_and_no_other() {
    let schema = plan::schema();
    let defs = schema["$defs"].as_object().expect("definitions");
    let objects: BTreeSet<_> = defs
        .values()
        .filter(|def| def["type"] == "object")
        .map(|def| def["title"].as_str().expect("a title"))
        .collect();
    let records: BTreeSet<_> = RECORDS.iter().map(|(what, _)| *what).collect();
    assert_eq!(
        objects, records,
        "every record is defined, and nothing else"
    );
    for (what, keys) in RECORDS {
        let def = defs
            .values()
            .find(|def| def["title"] == what)
            .expect("it is defined");
        let names: BTreeSet<_> = keys.iter().map(|key| key.name).collect();
        let properties = def["properties"].as_object().expect("properties");
        let given: BTreeSet<_> = properties.keys().map(String::as_str).collect();
        assert_eq!(given, names, "{what}");
        let needed: Vec<_> = keys.iter().filter(|key| key.needed).collect();
        let needed: Vec<_> = needed.iter().map(|key| json!(key.name)).collect();
        assert_eq!(def["required"], json!(needed), "{what}");
        assert_eq!(def["additionalProperties"], json!(false), "{what}");
        for key in keys {
            assert_eq!(properties[key.name]["description"], key.what.trim());
            // Two shapes under one name would both be whichever comes first.
            let mut alone = Defs::default();
            (key.schema)(&mut alone);
            for (name, own) in alone.into_map() {
                assert_eq!(defs[&name], own, "{name}, of `{}` of {what}", key.name);
            }
        }
    }
}

#[test]
fn the_shipped_plans_are_in_the_schema() {
    let mut tried = 0;
    for path in files("examples") {
        let value = loaded(&text(&path)).expect("YAML");
        let name = path.display();
        if path.ends_with("stock.yaml") {
            let mut schema = plan::schema();
            schema["$ref"] = json!("#/$defs/catalogue");
            let catalogue = jsonschema::draft202012::new(&schema).expect("a schema");
            catalogue
                .validate(&value)
                .unwrap_or_else(|error| panic!("{name}: {error}"));
            assert!(!PLAN.is_valid(&value), "a catalogue is no plan");
            continue;
        }
        tried += 1;
        PLAN.validate(&value)
            .unwrap_or_else(|error| panic!("{name}: {}: {error}", error.instance_path()));
    }
    assert!(tried >= 4);
}

#[test]
fn the_examples_of_sheets_are_in_the_schema_unless_reading_complains() {
    let (mut fitting, mut rejects) = (0, 0);
    for sheet in all_sheets().filter(|sheet| !sheet.id.starts_with("settings.")) {
        let whole = sheet.whole().expect("a sheet");
        for plan in [&whole.wrong, &whole.right] {
            // In a folder that is not there, so that no catalogue beside the tests is read.
            let path = Path::new("nowhere/example.plan.yaml");
            let found = mistakes(path, plan).expect("YAML");
            let rejected = rejected(path, plan);
            let seen = found.iter().any(|(rule, _)| SEEN.contains(rule));
            // Grades are held against the service once all is read.
            let later = found
                .iter()
                .any(|(_, says)| says.contains("is not a grade of"));
            assert!(
                rejected || !seen || later,
                "only reading: {found:?}\n{plan}"
            );
            fitting += usize::from(!rejected);
            rejects += usize::from(rejected);
        }
    }
    assert!(
        fitting > 200 && rejects > 5,
        "{fitting} fit, {rejects} do not"
    );
}

#[test]
fn every_sheet_is_in_the_schema_of_sheets() {
    let validator = validator("sheet");
    let mut tried = 0;
    for folder in files("rules") {
        if folder.ends_with("tables") {
            continue;
        }
        for path in files(&folder.to_string_lossy()) {
            let value = loaded(&text(&path)).expect("YAML");
            validator.validate(&value).unwrap_or_else(|error| {
                panic!("{}: {}: {error}", path.display(), error.instance_path())
            });
            tried += 1;
        }
    }
    assert_eq!(tried, all_sheets().count());
}

/// The strict reader of sheets and their schema refuse the same.
#[test]
fn sheets_with_a_mistake_are_in_neither() {
    let validator = validator("sheet");
    let sound = sheet("speaker.undersized").expect("a sheet").text();
    let level = "level: fault\n";
    let limit = "  share-of-load: {value: 5 %, authority:";
    for (from, to) in [
        (level, "levle: fault\n"),
        (level, "level: grave\n"),
        (level, ""),
        (level, "level: fault\nregions: [us, zz]\n"),
        (level, "level: fault\nregions: us\n"),
        (level, "level: fault\nfrom-stage: soon\n"),
        (level, "level: fault\nfrom_stage: close-in\n"),
        (limit, "  share-of-load: {valeu: 5 %, authority:"),
        (limit, "  share-of-load: {authority:"),
        (
            limit,
            "  share-of-load: {value: 5 %, level: grave, authority:",
        ),
        (limit, "  share-of-load: {value: [5 %], authority:"),
        ("title: Speaker", "title: [Speaker]\n# "),
    ] {
        assert!(sound.contains(from));
        let text = sound.replacen(from, to, 1);
        let value = loaded(&text).expect("YAML");
        assert!(!validator.is_valid(&value), "{to} is in the schema");
        let strict = serde_yaml::from_str::<nailplate::rules::sheet::Whole>(&text);
        assert!(strict.is_err(), "{to} is read");
    }
    for to in [
        "level: hazard\n",
        "level: fault\nregions: [us, gb]\nfrom-stage: close-in\nyields-to: power.no-feed\n",
        "level: fault\nregions: null\n",
    ] {
        let text = sound.replacen(level, to, 1);
        assert!(validator.is_valid(&loaded(&text).expect("YAML")), "{to}");
        let strict = serde_yaml::from_str::<nailplate::rules::sheet::Whole>(&text);
        assert!(strict.is_ok(), "{to} is not read");
    }
}

/// Results of every shipped plan are in the schema, and no key of theirs could be spared.
#[test]
fn what_is_written_is_in_its_schema() {
    let plans: Vec<_> = files("examples")
        .into_iter()
        .filter(|path| path.to_string_lossy().ends_with(".plan.yaml"))
        .map(|path| {
            format!(
                "examples/{}",
                path.file_name().expect("a name").to_string_lossy()
            )
        })
        .collect();
    for verb in ["review", "figures"] {
        let validator = validator(verb);
        let mut arguments = vec![verb, "--as", "json"];
        if verb == "review" {
            arguments.extend(["--dated", "2026-11-25"]);
        }
        arguments.extend(plans.iter().map(String::as_str));
        let document = printed(&arguments);
        assert_eq!(
            document["files"].as_array().map(Vec::len),
            Some(plans.len())
        );
        if let Err(error) = validator.validate(&document) {
            panic!("{verb}: {}: {error}", error.instance_path());
        }
        let mut seen = BTreeSet::new();
        try_without(&validator, &mut document.clone(), "", &mut seen);
        let expected = if verb == "review" { 40 } else { 10 };
        assert!(seen.len() >= expected, "{verb}: {seen:?}");
    }
}

/// Takes out each key once, and puts one in that is not known: neither is in the schema.
fn try_without(validator: &Validator, whole: &mut Value, at: &str, seen: &mut BTreeSet<String>) {
    let here = whole.pointer(at).expect("it is there").clone();
    match here {
        Value::Object(map) => {
            for (key, value) in &map {
                let shape: String = format!("{at}/{key}")
                    .split('/')
                    .map(|step| step.parse::<usize>().map_or(step, |_| "*"))
                    .collect::<Vec<_>>()
                    .join("/");
                if seen.insert(shape.clone()) {
                    for changed in [None, Some(json!([[]]))] {
                        let mut without = map.clone();
                        without.remove(key);
                        without.extend(changed.map(|value| (key.clone(), value)));
                        *whole.pointer_mut(at).expect("there") = Value::Object(without);
                        assert!(
                            !validator.is_valid(whole),
                            "{shape} is not needed, or anything"
                        );
                    }
                    let mut more = map.clone();
                    more.insert("zz".into(), json!(1));
                    *whole.pointer_mut(at).expect("there") = Value::Object(more);
                    assert!(!validator.is_valid(whole), "{shape} has another beside it");
                    *whole.pointer_mut(at).expect("there") = Value::Object(map.clone());
                }
                // Deeper only where something may be new.
                if value.is_object() || value.is_array() {
                    try_without(validator, whole, &format!("{at}/{key}"), seen);
                }
            }
        }
        Value::Array(items) => {
            for (index, _) in items.iter().enumerate() {
                try_without(validator, whole, &format!("{at}/{index}"), seen);
            }
        }
        _ => {}
    }
}
