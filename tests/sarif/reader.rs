//! Reads a log as any program would that knows the standard and nothing of nailplate: finds files, cuts regions out of
//! them, makes fixes.
//!
//! Source: SARIF 2.1.0 (OASIS), 3.4 artifactLocation, 3.14 run, 3.27 result, 3.30 region, 3.55 to 3.57 fix; from memory
//! where the schema does not say it.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

use jsonschema::Validator;
use percent_encoding::percent_decode_str;
use serde_json::Value;

/// The OASIS schema, formats of URIs included.
static SCHEMA: LazyLock<Validator> = LazyLock::new(|| {
    // One pattern has a bracket too many, which a strict validator takes for no pattern at all.
    let text = include_str!("sarif-schema-2.1.0.json").replace("{2}]?$", "{2}$");
    let schema = serde_json::from_str(&text).expect("JSON");
    jsonschema::draft7::options()
        .should_validate_formats(true)
        .build(&schema)
        .expect("a schema")
});

/// Asserts that a text is a log by its schema.
#[track_caller]
pub fn log(text: &str) -> Value {
    let log = serde_json::from_str(text).unwrap_or_else(|error| panic!("{error}\n{text}"));
    let errors: Vec<_> = SCHEMA
        .iter_errors(&log)
        .map(|error| format!("{}: {error}", error.instance_path()))
        .collect();
    assert!(errors.is_empty(), "{errors:#?}");
    log
}

pub fn run(log: &Value) -> &Value {
    let runs = log["runs"].as_array().expect("runs");
    assert_eq!(runs.len(), 1, "one run holds all plans");
    &runs[0]
}

pub fn list<'v>(object: &'v Value, key: &str) -> &'v [Value] {
    object[key].as_array().map_or(&[], Vec::as_slice)
}

pub fn results(log: &Value) -> &[Value] {
    list(run(log), "results")
}

/// Where a location leads to, from the folder that its base stands for.
pub fn path(location: &Value, folder: &Path) -> PathBuf {
    let uri = location["uri"].as_str().expect("a URI");
    let bytes: Vec<u8> = percent_decode_str(uri.strip_prefix("file://").unwrap_or(uri)).collect();
    #[cfg(unix)]
    let decoded = {
        use std::os::unix::ffi::OsStringExt;
        PathBuf::from(std::ffi::OsString::from_vec(bytes))
    };
    #[cfg(not(unix))]
    let decoded = PathBuf::from(String::from_utf8(bytes).expect("UTF-8"));
    match location.get("uriBaseId") {
        Some(_) => folder.join(decoded),
        None => decoded,
    }
}

/// Byte of a line and column. Lines end as `newlineSequences` says; columns are code points, and a
/// byte-order mark before the text is none of its characters.
pub fn byte(text: &str, line: u64, column: u64) -> usize {
    let mark = if text.starts_with('\u{feff}') { 3 } else { 0 };
    let mut at = mark;
    for _ in 1..line {
        let end = at + text[at..].find(['\n', '\r']).expect("so many lines");
        at = end
            + if text[end..].starts_with("\r\n") {
                2
            } else {
                1
            };
    }
    let ends = text[at..].char_indices().map(|(byte, _)| byte);
    let mut ends = ends.chain([text.len() - at]);
    at + ends.nth(column as usize - 1).expect("so many columns")
}

/// The bytes that a region covers by its lines and columns.
pub fn range(region: &Value, text: &str) -> std::ops::Range<usize> {
    let number = |key: &str| region[key].as_u64().expect("a number");
    byte(text, number("startLine"), number("startColumn"))
        ..byte(text, number("endLine"), number("endColumn"))
}

/// A text with the replacements of one file made in it, all regions as they were before.
fn replaced(text: &str, change: &Value) -> String {
    let mut out = String::new();
    let mut from = 0;
    for replacement in list(change, "replacements") {
        let deleted = range(&replacement["deletedRegion"], text);
        out.push_str(&text[from..deleted.start]);
        let content = &replacement["insertedContent"]["text"];
        out.push_str(content.as_str().expect("a text"));
        from = deleted.end;
    }
    out + &text[from..]
}

/// The texts that a fix makes, by path.
pub fn fixed(fix: &Value, read: impl Fn(&Path) -> String) -> BTreeMap<PathBuf, String> {
    let changes = list(fix, "artifactChanges").iter().map(|change| {
        let path = path(&change["artifactLocation"], Path::new(""));
        (path.clone(), replaced(&read(&path), change))
    });
    changes.collect()
}

/// Asserts what the standard says beside its schema. `read` gives the text of a location.
#[track_caller]
pub fn check(log: &Value, read: impl Fn(&Value) -> String) {
    let run = run(log);
    let rules = list(&run["tool"]["driver"], "rules");
    let files: Vec<_> = list(run, "artifacts")
        .iter()
        .map(|artifact| artifact["location"].clone())
        .collect();
    for (index, file) in files.iter().enumerate() {
        assert!(!files[..index].contains(file), "{file} stands there once");
        let base = file["uriBaseId"].as_str();
        assert!(base.is_none_or(|base| run["originalUriBaseIds"].get(base).is_some()));
    }
    for result in list(run, "results") {
        // 3.27.6: an index, if there is one, is that of the rule with this id.
        if let Some(index) = result["ruleIndex"].as_u64() {
            assert_eq!(rules[index as usize]["id"], result["ruleId"]);
        }
        // 3.27.10: what does not fail has no level.
        assert_eq!(
            result["kind"] == "fail",
            result["level"] != "none",
            "{result}"
        );
        // 3.27.23: either all results have the list or none.
        assert!(result["suppressions"].is_array(), "{result}");
        let suppressions = list(result, "suppressions").iter();
        let places = list(result, "locations")
            .iter()
            .chain(list(result, "relatedLocations"))
            .chain(suppressions.filter_map(|suppression| suppression.get("location")));
        for place in places {
            let place = &place["physicalLocation"];
            let file = &place["artifactLocation"];
            assert!(files.contains(file), "{file} is among the artifacts");
            let Some(region) = place.get("region") else {
                continue;
            };
            let text = read(file);
            let bytes = range(region, &text);
            let number = |key: &str| region[key].as_u64().map(|n| n as usize);
            assert_eq!(number("byteOffset"), Some(bytes.start), "{region}");
            assert_eq!(number("byteLength"), Some(bytes.len()), "{region}");
        }
        for message in [&result["message"]].into_iter().chain(
            list(result, "relatedLocations")
                .iter()
                .map(|place| &place["message"]),
        ) {
            let text = message["text"].as_str().expect("a text");
            // 3.11.5 and 3.11.6: no argument, no link.
            let bare = text.replace("{{", "").replace("}}", "");
            assert!(!bare.contains(['{', '}']) && !bare.contains("]("), "{text}");
            assert!(!text.contains(char::is_control), "{text:?}");
        }
    }
}
