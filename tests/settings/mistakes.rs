//! Each mistake that settings and a firm's sheets can have: what is told, and that nothing of it is in effect.

use super::sheets::{FIRM, PLACE, restated};
use super::{UNDERSIZED, departed, settings, told};

/// Text, and every mistake that it has.
const MISTAKEN: &[(&str, &[&str])] = &[
    (
        "holt: fault\n",
        &[
            "nailplate.yaml:2: plan.unknown-key: the settings file has the key `holt`, which a settings file does not take",
        ],
    ),
    (
        "hold: grave\n",
        &[
            "nailplate.yaml:2: plan.unknown-word: `hold` of the settings file is `grave`, which is not a level",
        ],
    ),
    (
        "rules: [speaker.undersized]\n",
        &[
            "nailplate.yaml:2: plan.wrong-kind: `rules` of the settings file is a list, not a set of names",
        ],
    ),
    (
        "rules: {speaker.undersized: advice}\n",
        &[
            "nailplate.yaml:2: plan.wrong-kind: `speaker.undersized` in `rules` of the settings file is `advice`, not a set of `key: value` pairs",
        ],
    ),
    (
        "rules: {speaker.undersized: {level: off}}\n",
        &[
            "nailplate.yaml:2: plan.unknown-word: `level` in `speaker.undersized` in `rules` of the settings file is `off`, which is not a level",
        ],
    ),
    (
        "rules: {speaker.undersize: {level: fault}}\n",
        &[
            "nailplate.yaml:2: settings.no-such-rule: `rules` of the settings file names `speaker.undersize`, and no function judges such a rule",
        ],
    ),
    (
        "rules: {plan.unknown-key: {level: advice}}\n",
        &[
            "nailplate.yaml:2: settings.no-such-rule: `rules` of the settings file names plan.unknown-key, a mistake of reading, which no settings change",
        ],
    ),
    (
        "rules:\n  speaker.undersized: {level: advice}\n  speaker.undersized: {level: hazard}\n",
        &[
            "nailplate.yaml:4: plan.duplicate-key: `rules` of the settings file has `speaker.undersized` twice; the first is used",
        ],
    ),
    (
        "rules: {speaker.undersized: {limits: {share: {value: 3 %, authority: x}}}}\n",
        &["nailplate.yaml:2: settings.no-such-limit: speaker.undersized has no limit `share`"],
    ),
    (
        "rules: {speaker.undersized: {limits: {share-of-load: {value: 3 %}}}}\n",
        &[
            "nailplate.yaml:2: plan.missing-key: `share-of-load` in `limits` in `speaker.undersized` in `rules` of the settings file has no `authority`: a limit needs one",
        ],
    ),
    (
        "rules: {speaker.undersized: {limits: {share-of-load: {value: 3 %, authority: ' '}}}}\n",
        &[
            "nailplate.yaml:2: plan.wrong-kind: `authority` in `share-of-load` in `limits` in `speaker.undersized` in `rules` of the settings file has no value",
        ],
    ),
    (
        "rules: {speaker.undersized: {limits: {share-of-load: 3 %}}}\n",
        &[
            "nailplate.yaml:2: plan.wrong-kind: `share-of-load` in `limits` in `speaker.undersized` in `rules` of the settings file is `3 %`, not a set of `key: value` pairs",
        ],
    ),
    (
        "rules: {speaker.undersized: {limits: {share-of-load: {value: 3, authority: x}}}}\n",
        &[
            "nailplate.yaml:2: settings.unfit-limit: the limit share-of-load of speaker.undersized cannot be 3: `3` has no unit; units are %",
        ],
    ),
    (
        "rules: {speaker.undersized: {limits: {share-of-load: {value: -3 %, authority: x}}}}\n",
        &[
            "nailplate.yaml:2: settings.unfit-limit: the limit share-of-load of speaker.undersized cannot be -3 %: a number from zero on is wanted",
        ],
    ),
    (
        "rules: {power.rack-circuits-few: {limits: {circuits: {value: two, authority: x}}}}\n",
        &[
            "nailplate.yaml:2: settings.unfit-limit: the limit circuits of power.rack-circuits-few cannot be two: a whole number is wanted",
        ],
    ),
    (
        "rules: {video.undergraded: {limits: {compression: {value: .inf, authority: x}}}}\n",
        &[
            "nailplate.yaml:2: settings.unfit-limit: the limit compression of video.undergraded cannot be .inf: a number from zero on is wanted",
        ],
    ),
    (
        "rules: {data.undergraded: {limits: {alien-crosstalk: {value: silver, authority: x}}}}\n",
        &[
            "nailplate.yaml:2: settings.unfit-limit: the limit alien-crosstalk of data.undergraded cannot be silver: it is a name that nothing is measured by: only its authority can be another",
        ],
    ),
    (
        "rules: {speaker.undersized: {not-adopted: no}}\n",
        &[
            "nailplate.yaml:2: plan.unreadable: `not-adopted` in `speaker.undersized` in `rules` of the settings file is `no`, which cannot be read",
        ],
    ),
    (
        "rules: {speaker.undersized: {not-adopted: }}\n",
        &[
            "nailplate.yaml:2: plan.wrong-kind: `not-adopted` in `speaker.undersized` in `rules` of the settings file has no value",
        ],
    ),
    (
        "rules: {speaker.undersized: {not-adopted: x, level: advice}}\n",
        &[
            "nailplate.yaml:2: settings.at-odds: speaker.undersized is not adopted, and yet its level or limits are set",
        ],
    ),
    (
        "rulebook: lost\n",
        &[
            "nailplate.yaml:2: settings.unread: the folder of sheets lost could not be read: there is no such folder",
        ],
    ),
    (
        "catalogue: lost.yaml\n",
        &[
            "nailplate.yaml:2: settings.unread: the catalogue lost.yaml could not be read: there is no such file",
        ],
    ),
    (
        "catalogue: [a: b]\n",
        &[
            "nailplate.yaml:2: plan.wrong-kind: `catalogue` of the settings file is a set of `key: value` pairs, not text",
        ],
    ),
    (
        "hold: grave\nrules: {zz: {}, speaker.undersized: {levels: [a]}}\n",
        &[
            "nailplate.yaml:2: plan.unknown-word: `hold` of the settings file is `grave`, which is not a level",
            "nailplate.yaml:3: plan.unknown-key: `speaker.undersized` in `rules` of the settings file has the key `levels`, which an entry of a rule does not take",
            "nailplate.yaml:3: settings.no-such-rule: `rules` of the settings file names `zz`, and no function judges such a rule",
        ],
    ),
    // In a plan both would be read as what they mean.
    (
        "rules: {speaker.undersized: {levle: advice}, fire.unsealed-barrier: {level: advce}}\n",
        &[
            "nailplate.yaml:2: plan.unknown-key: `speaker.undersized` in `rules` of the settings file has the key `levle`, which an entry of a rule does not take",
            "nailplate.yaml:2: plan.unknown-word: `level` in `fire.unsealed-barrier` in `rules` of the settings file is `advce`, which is not a level",
        ],
    ),
];

/// Each is told, and nothing that is mistaken is in effect.
#[test]
fn every_mistake_is_told_and_nothing_weaker_comes_of_it() {
    for (text, expected) in MISTAKEN {
        let read = settings(text, &[]);
        assert_eq!(told(&read), *expected, "{text}");
        assert_eq!(read.settings.mistakes, expected.len());
        // Of two entries the first is used, which is readable and lowers a level.
        let first_of_two = told(&read)[0].contains("twice");
        assert_eq!(
            read.settings.rulebook.weakened(),
            usize::from(first_of_two),
            "{text}"
        );
    }
}

/// A firm's sheet at a path, changed from the built-in one, and its one mistake.
const UNFIT: &[(&str, &str, &str, &str)] = &[
    (
        "firm/undersized.yaml",
        "id:",
        "id:",
        "settings.unfit-sheet: the sheet undersized.yaml is not where its rule is looked for",
    ),
    (
        "firm/speaker/undersized.yml",
        "id:",
        "id:",
        "settings.unfit-sheet: the sheet speaker/undersized.yml is not where its rule is looked for",
    ),
    (
        "firm/speaker/deep/undersized.yaml",
        "id:",
        "id:",
        "settings.unfit-sheet: the sheet speaker/deep/undersized.yaml is not where its rule is looked for",
    ),
    (
        "firm/speaker/oversized.yaml",
        "id:",
        "id:",
        "settings.unfit-sheet: the sheet of `speaker.undersized` lies in speaker/oversized.yaml, the place of speaker.oversized",
    ),
    (
        "firm/speaker/oversized.yaml",
        "id: speaker.undersized",
        "id: speaker.oversized",
        "settings.no-such-rule: the sheet names `speaker.oversized`, and no function judges such a rule",
    ),
    (
        PLACE,
        "title:",
        "titel:",
        "plan.unknown-key: the sheet has the key `titel`, which a sheet does not take",
    ),
    (
        PLACE,
        "level: fault",
        "level: grave",
        "plan.unknown-word: `level` of the sheet is `grave`, which is not a level",
    ),
    (
        PLACE,
        "level: fault",
        "level: fault\nregions: us",
        "plan.wrong-kind: `regions` of the sheet is `us`, not a list of regions",
    ),
    (
        PLACE,
        "level: fault",
        "level: fault\nyields-to: power.no-feed",
        "settings.unfit-sheet: speaker.undersized yields to no other rule, not to power.no-feed",
    ),
    (
        PLACE,
        "share-of-load: {",
        "share: {",
        "settings.no-such-limit: speaker.undersized has no limit `share`",
    ),
    (
        PLACE,
        "value: 5 %",
        "value: 5 ohm",
        "settings.unfit-limit: the limit share-of-load of speaker.undersized cannot be 5 ohm: `ohm` is no unit of a share; units are %",
    ),
    (
        PLACE,
        "limits:\n",
        "limits: {}\nnotes:\n",
        "plan.unknown-key: the sheet has the key `notes`, which a sheet does not take",
    ),
    (
        PLACE,
        "why: >",
        "why: [",
        "settings.unread: the sheet firm/speaker/undersized.yaml could not be read: ",
    ),
];

#[test]
fn a_sheet_with_a_mistake_is_told_and_not_in_effect() {
    for (path, from, to, expected) in UNFIT {
        let own = restated(UNDERSIZED, from, to).replace("level: fault", "level: advice");
        let read = settings(FIRM, &[(path, &own)]);
        let found = told(&read);
        assert!(
            found.iter().any(|line| line.contains(expected)),
            "{path} {to}: {found:#?}"
        );
        let limits = to.contains("limits: {}");
        assert!(found.len() == 1 || limits, "{path} {to}: {found:#?}");
        assert_eq!(departed(&read.settings.rulebook), [""; 0], "{path} {to}");
    }
}

#[test]
fn a_sheet_without_one_of_its_limits() {
    let own = restated("power.rack-circuits-few", "  better: {", "  # better: {");
    let read = settings(FIRM, &[("firm/power/rack-circuits-few.yaml", &own)]);
    assert_eq!(
        told(&read),
        [
            "firm/power/rack-circuits-few.yaml:6: settings.unfit-sheet: the sheet of power.rack-circuits-few leaves out its limit better"
        ]
    );
}
