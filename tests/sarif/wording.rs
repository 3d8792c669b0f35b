//! Words in a log: the rules', and those of a plan.

use super::super::cli::folder;
use super::super::markdown::parsed::pieces;
use super::reader::{list, results, run};
use super::{root, written};

#[test]
fn a_plan_cannot_write_links_or_arguments_into_a_message() {
    let text = "nailplate: 1\nregion: us\n\"[see](https://x.example) {0}\": 1\nrooms: {\"[a](1)\": {siz: 2}}\n";
    let folder = folder(&[("a.plan.yaml", text.as_bytes())]);
    let (log, _) = written(folder.path(), &["a.plan.yaml"]);
    let told = |words: &str| {
        let mut messages = results(&log)
            .iter()
            .map(|result| result["message"]["text"].to_string());
        messages.any(|text| text.contains(words))
    };
    assert!(
        told("[see] (https://x.example) {{0}}"),
        "{:#?}",
        results(&log)
    );
}

#[test]
fn every_rule_stands_in_the_log_once_with_its_words() {
    let (log, _) = written(root(), &["examples/plover-lane.plan.yaml"]);
    let rules = list(&run(&log)["tool"]["driver"], "rules");
    let ids: Vec<_> = rules.iter().map(|rule| rule["id"].as_str()).collect();
    let expected: Vec<_> = nailplate::rules::all_sheets()
        .map(|sheet| Some(sheet.id))
        .collect();
    assert_eq!(ids, expected);
    for rule in rules {
        let help = rule["help"]["text"].as_str().expect("help");
        for word in ["Why: ", "\n\nPut right: ", "\n\nAuthority: "] {
            assert!(help.contains(word), "{help}");
        }
        // Panics at any markup but bold words and code.
        let marked = rule["help"]["markdown"].as_str().expect("help");
        assert!(pieces(marked).len() >= 3, "{marked}");
    }
}
