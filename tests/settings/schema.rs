//! The schema of settings and their reader: each value of each key is in both or in neither.

use jsonschema::Validator;
use nailplate::rules::RULES;
use nailplate::settings::schema;
use serde_json::Value;

use super::settings;

fn loaded(text: &str) -> Value {
    let core = serde_yaml::options! { strict_booleans: true };
    serde_yaml::from_str_with_options(text, core).expect("YAML")
}

fn validator() -> Validator {
    let schema = schema();
    jsonschema::meta::validate(&schema).unwrap_or_else(|error| panic!("no schema: {error}"));
    jsonschema::draft202012::new(&schema).expect("a schema")
}

/// Values that are tried for each key: of every kind, and words that some key takes.
const VALUES: &[&str] = &[
    "1",
    "2",
    "1.5",
    "\"1\"",
    "yes",
    "no",
    "true",
    "False",
    "\"no\"",
    "~",
    "",
    "\"\"",
    "\" \"",
    "hazard",
    "fault",
    "advice",
    "Advice",
    "off",
    "some words",
    "3 %",
    "2026-01-02",
    "[]",
    "[a]",
    "[a, b]",
    "[1]",
    "[~]",
    "[[a]]",
    "{}",
    "{a: b}",
    "|-\n  text\n",
];

/// Where a value may stand, by text with `@` in its place.
const PLACES: &[&str] = &[
    "nailplate: @\n",
    "nailplate: 1\nrulebook: @\n",
    "nailplate: 1\ncatalogue: @\n",
    "nailplate: 1\nhold: @\n",
    "nailplate: 1\nnotes: @\n",
    "nailplate: 1\nunknown: @\n",
    "nailplate: 1\nrules: @\n",
    "nailplate: 1\nrules:\n  speaker.undersized: @\n",
    "nailplate: 1\nrules:\n  speaker.undersized:\n    level: @\n",
    "nailplate: 1\nrules:\n  speaker.undersized:\n    limits: @\n",
    "nailplate: 1\nrules:\n  speaker.undersized:\n    not-adopted: @\n",
    "nailplate: 1\nrules:\n  speaker.undersized:\n    notes: @\n",
    "nailplate: 1\nrules:\n  speaker.undersized:\n    limits:\n      share-of-load: @\n",
    "nailplate: 1\nrules:\n  speaker.undersized:\n    limits:\n      share-of-load:\n        authority: me\n        value: @\n",
    "nailplate: 1\nrules:\n  speaker.undersized:\n    limits:\n      share-of-load:\n        value: 3 %\n        authority: @\n",
    "nailplate: 1\nrules:\n  speaker.undersized:\n    limits:\n      share-of-load:\n        value: 3 %\n        authority: me\n        level: @\n",
];

/// Mistakes that a schema cannot see.
const UNSEEN: &[&str] = &[
    "settings.unread",
    "settings.no-such-limit",
    "settings.unfit-limit",
];

#[test]
fn schema_and_reader_agree_on_each_value_of_each_key() {
    let validator = validator();
    let (mut both, mut neither) = (0, 0);
    for place in PLACES {
        for value in VALUES {
            // A block stands deeper than its key.
            let deep = place
                .lines()
                .last()
                .map_or(0, |line| line.len() - line.trim_start().len());
            let value = value.replace("\n  ", &format!("\n{}", " ".repeat(deep + 2)));
            let text = place.replacen('@', &value, 1);
            let fits = validator.is_valid(&loaded(&text));
            let read = settings_of(&text);
            let sound = read.iter().all(|rule| UNSEEN.contains(rule));
            assert_eq!(fits, sound, "{text}\n{read:?}");
            both += usize::from(fits);
            neither += usize::from(!fits);
        }
    }
    assert!(both > 80 && neither > 150, "{both} {neither}");
}

fn settings_of(text: &str) -> Vec<&'static str> {
    let read = nailplate::settings::read(
        std::path::Path::new("nailplate.yaml"),
        text.to_owned(),
        &super::Files::of(&[]),
    );
    let read = read.unwrap_or_else(|(_, broken)| panic!("{}", broken.reason));
    read.findings.iter().map(|finding| finding.rule).collect()
}

#[test]
fn every_rule_can_be_set_and_no_other() {
    let validator = validator();
    for rule in RULES {
        let text = format!("nailplate: 1\nrules: {{{}: {{level: advice}}}}\n", rule.id);
        assert!(validator.is_valid(&loaded(&text)), "{}", rule.id);
    }
    for id in ["plan.unknown-key", "settings.unread", "speaker.undersize"] {
        let text = format!("rules: {{{id}: {{level: advice}}}}\n");
        assert!(
            !validator.is_valid(&loaded(&format!("nailplate: 1\n{text}"))),
            "{id}"
        );
        assert!(!settings(&text, &[]).findings.is_empty());
    }
    assert!(
        !validator.is_valid(&loaded("hold: advice\n")),
        "the version is needed"
    );
}
