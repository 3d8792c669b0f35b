//! Places anywhere in a text of any letters: what the log says of them in lines is what it says in bytes.

use nailplate::forms::{Words, sarif};
use nailplate::rules::all_sheets;
use proptest::prelude::*;
use serde_json::{Value, json};

use super::super::forms::random::{comments, marked};
use super::reader::{check, results};

proptest! {
    #[test]
    fn lines_and_bytes_agree(
        plan in comments(),
        places in proptest::collection::vec((0usize..6000, 0usize..200), 1..5),
    ) {
        let Some(review) = marked(plan, &places) else { return Ok(()) };
        let mut out = Vec::new();
        sarif::results(&review, &mut Words::default(), &mut out).expect("a Vec takes everything");
        let list = format!("[{}]", String::from_utf8_lossy(&out));
        let found: Value = serde_json::from_str(&list).expect("JSON");
        let files: Vec<Value> = sarif::files(&review)
            .lines()
            .map(|file| serde_json::from_str(file).expect("JSON"))
            .collect();
        let rules: Vec<_> = all_sheets().map(|sheet| json!({"id": sheet.id})).collect();
        let log = json!({"runs": [{
            "tool": {"driver": {"rules": rules}},
            "originalUriBaseIds": {"RUN-FOLDER": {}},
            "artifacts": files,
            "results": found,
        }]});
        let text = &review.sources.file(review.file).text;
        check(&log, |_| text.clone());
        prop_assert_eq!(results(&log).len(), review.findings.len() + review.gaps.len());
    }
}
