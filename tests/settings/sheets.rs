//! A firm's own sheets in the place of the built-in ones.

use nailplate::findings::Level;
use nailplate::plan::Record;
use nailplate::rules::sheet::{AnyLimit, Whole};
use nailplate::rules::{RULES, What, sheet};
use nailplate::schema::{Defs, Schema};
use nailplate::settings::{RuleEntry, SheetFile, SheetLimit};

use super::{PLAN, UNDERSIZED, departed, of, review, sound};

/// A firm's sheet made of the built-in one.
pub fn restated(id: &str, from: &str, to: &str) -> String {
    let text = sheet(id).expect("a rule").text();
    assert!(text.contains(from), "{id} has {from}");
    text.replacen(from, to, 1)
}

pub const FIRM: &str = "rulebook: firm\n";
pub const PLACE: &str = "firm/speaker/undersized.yaml";

#[test]
fn a_sheet_of_the_firm_stands_in_the_place_of_the_built_in_one() {
    let own = restated(
        UNDERSIZED,
        "level: fault",
        "level: hazard\nregions: [us, ca]\nfrom-stage: rough-in",
    )
    .replace("{value: 5 %,", "{value: 4 %,");
    let read = sound(FIRM, &[(PLACE, &own)]);
    assert_eq!(
        departed(&read.settings.rulebook),
        [
            "speaker.undersized: fault to hazard (firm/speaker/undersized.yaml:3)",
            "speaker.undersized: regions Some([Us, Ca]) (firm/speaker/undersized.yaml:4)",
            "speaker.undersized: stage Some(RoughIn) (firm/speaker/undersized.yaml:5)",
            "speaker.undersized: share-of-load 5 % to 4 % (firm/speaker/undersized.yaml:8)",
            "speaker.undersized: sheet (firm/speaker/undersized.yaml:1)",
        ]
    );
    assert_eq!(of(&review(PLAN, &read), UNDERSIZED)[0].level, Level::Hazard);
    let in_gb = PLAN.replace("region: us", "region: gb");
    assert!(of(&review(&in_gb, &read), UNDERSIZED).is_empty());
    let early = format!("{PLAN}stage: design\n");
    assert!(of(&review(&early, &read), UNDERSIZED).is_empty());
}

/// Built in < the firm's sheets, of which the later < the entry.
#[test]
fn the_last_word_wins() {
    let first = restated(UNDERSIZED, "level: fault", "level: hazard").replace("5 %,", "4 %,");
    let second = restated(UNDERSIZED, "level: fault", "level: advice");
    let files = [
        ("one/speaker/undersized.yaml", &*first),
        ("two/speaker/undersized.yaml", &second),
    ];
    let level = |text: &str| {
        let read = sound(text, &files);
        let sheet = read.settings.rulebook.sheet(UNDERSIZED).expect("a rule");
        (
            sheet.level,
            sheet.whole().expect("whole").limits["share-of-load"]
                .value
                .clone(),
        )
    };
    assert_eq!(
        level("rulebook: [one, two]\n"),
        (Level::Advice, "5 %".into())
    );
    assert_eq!(
        level("rulebook: [two, one]\n"),
        (Level::Hazard, "4 %".into())
    );
    assert_eq!(
        level("rulebook: [two, one]\nrules: {speaker.undersized: {level: fault}}\n"),
        (Level::Fault, "4 %".into())
    );
}

/// Every built-in sheet is one that a firm could have written, and says the same when it is.
#[test]
fn every_built_in_sheet_can_be_a_firms() {
    let paths: Vec<_> = RULES
        .iter()
        .map(|rule| rule.path.replacen("rules/", "firm/", 1))
        .collect();
    let files: Vec<_> = paths
        .iter()
        .zip(RULES)
        .map(|(path, rule)| (&**path, rule.sheet))
        .collect();
    let read = sound(FIRM, &files);
    for departure in &read.settings.rulebook.departures {
        // Line ends behind a block of words are layout.
        assert_eq!(departure.what, What::Sheet, "{}", departure.rule);
    }
    let (own, built_in) = (review(PLAN, &read), review(PLAN, &sound("", &[])));
    assert_eq!(own.findings, built_in.findings);
    assert_eq!(own.gaps, built_in.gaps);
}

#[test]
fn a_firms_sheet_has_the_keys_of_a_built_in_one() {
    for (keys, schema) in [
        (SheetFile::KEYS, Whole::schema as fn(&mut Defs) -> _),
        (SheetLimit::KEYS, AnyLimit::schema),
    ] {
        let mut defs = Defs::default();
        let reference = schema(&mut defs);
        let object = defs.get(&reference).expect("defined");
        let mut known: Vec<_> = object["properties"]
            .as_object()
            .expect("keys")
            .keys()
            .cloned()
            .collect();
        let mut own: Vec<_> = keys.iter().map(|key| key.name.to_owned()).collect();
        known.sort();
        own.sort();
        assert_eq!(own, known);
        for key in keys {
            let needed = object["required"]
                .as_array()
                .expect("a list")
                .contains(&key.name.into());
            assert_eq!(key.needed, needed, "{}", key.name);
        }
    }
    assert!(RuleEntry::KEYS.iter().all(|key| !key.needed));
}
