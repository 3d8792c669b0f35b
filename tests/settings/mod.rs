//! A firm's settings: what each key does, what each mistake says, which of two goes before the other.

mod catalogue;
mod mistakes;
mod program;
mod rulebook;
mod schema;
mod sheets;

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use nailplate::findings::{Finding, Level};
use nailplate::plan::Library;
use nailplate::review::{Review, Scope, review_text};
use nailplate::rules::{Departure, RULES, Rulebook, What, sheet};
use nailplate::settings::{Cabinet, Read, read};

/// Files by their paths.
pub struct Files(pub BTreeMap<String, String>);

impl Files {
    fn of(files: &[(&str, &str)]) -> Self {
        let own = |(path, text): &(&str, &str)| ((*path).to_owned(), (*text).to_owned());
        Self(files.iter().map(own).collect())
    }
}

impl Library for Files {
    fn load(&self, path: &Path) -> Result<String, String> {
        let found = self.0.get(path.to_str().expect("UTF-8"));
        found.cloned().ok_or_else(|| "there is no such file".into())
    }
}

impl Cabinet for Files {
    fn below(&self, folder: &Path) -> Result<Vec<PathBuf>, String> {
        let below = |path: &String| {
            Path::new(path)
                .strip_prefix(folder)
                .map(Path::to_owned)
                .ok()
        };
        let files: Vec<_> = self.0.keys().filter_map(below).collect();
        (!files.is_empty())
            .then_some(files)
            .ok_or_else(|| "there is no such folder".into())
    }
}

pub fn settings(text: &str, files: &[(&str, &str)]) -> Read {
    let text = format!("nailplate: 1\n{text}");
    read(Path::new("nailplate.yaml"), text, &Files::of(files))
        .unwrap_or_else(|(_, broken)| panic!("no YAML: {}", broken.reason))
}

/// `line: rule: sentence` of every mistake.
fn told(read: &Read) -> Vec<String> {
    let place = |finding: &Finding| {
        let (spot, _) = read.sources.spots(finding.marks[0].span);
        let source = read.sources.file(spot.file);
        format!(
            "{}:{}: {}: {}",
            source.path.display(),
            source.position(spot.start).line,
            finding.rule,
            finding.says
        )
    };
    read.findings.iter().map(place).collect()
}

#[track_caller]
fn sound(text: &str, files: &[(&str, &str)]) -> Read {
    let read = settings(text, files);
    assert_eq!(told(&read), [""; 0]);
    read
}

/// What departs, as `rule kind line`.
fn departed(rulebook: &Rulebook) -> Vec<String> {
    let kind = |departure: &Departure| match &departure.what {
        What::NotAdopted { reason } => format!("not adopted: {reason}"),
        What::Level { from, to } => format!("{from} to {to}"),
        What::Limit { name, from, to, .. } => format!("{name} {from} to {to}"),
        What::Regions { to, .. } => format!("regions {to:?}"),
        What::FromStage { to, .. } => format!("stage {to:?}"),
        What::Sheet => "sheet".into(),
    };
    let line = |departure: &Departure| {
        let Departure { rule, place, .. } = departure;
        format!(
            "{rule}: {} ({}:{})",
            kind(departure),
            place.path.display(),
            place.line
        )
    };
    rulebook.departures.iter().map(line).collect()
}

/// A speaker line far over the built-in limit of 5 %: 60 ft of 18 AWG out and as much back keep about 10 % of 8 ohm.
const PLAN: &str = "nailplate: 1
region: us
stock:
  thin: {for: speaker, cores: 2 x 18 AWG, rating: CL3}
endpoints:
  rack: {kind: rack}
  left: {kind: speaker, impedance: 8 ohm}
runs:
  S1: {from: rack, to: left, stock: thin, length: 60 ft}
";

fn review(plan: &str, read: &Read) -> Review {
    let scope = Scope {
        rulebook: &read.settings.rulebook,
        ..Scope::default()
    };
    review_text(
        Path::new("a.plan.yaml"),
        plan.to_owned(),
        &Files::of(&[]),
        scope,
    )
    .unwrap_or_else(|(_, broken)| panic!("no YAML: {}", broken.reason))
}

fn of<'r>(review: &'r Review, rule: &str) -> Vec<&'r Finding> {
    let mut found = review.findings.iter();
    found
        .by_ref()
        .filter(|finding| finding.rule == rule)
        .collect()
}

const UNDERSIZED: &str = "speaker.undersized";

#[test]
fn nothing_set_is_the_built_in_rulebook() {
    let read = sound("notes: {anything: [at, all]}\n", &[]);
    assert_eq!(departed(&read.settings.rulebook), [""; 0]);
    assert_eq!(
        (read.settings.hold, read.settings.catalogue.len()),
        (None, 0)
    );
    assert_eq!(of(&review(PLAN, &read), UNDERSIZED)[0].level, Level::Fault);
}

#[test]
fn a_level_is_another() {
    for (word, level) in [("hazard", Level::Hazard), ("advice", Level::Advice)] {
        let read = sound(
            &format!("rules:\n  speaker.undersized: {{level: {word}}}\n"),
            &[],
        );
        assert_eq!(of(&review(PLAN, &read), UNDERSIZED)[0].level, level);
        assert_eq!(
            departed(&read.settings.rulebook),
            [format!(
                "speaker.undersized: fault to {word} (nailplate.yaml:3)"
            )]
        );
    }
}

#[test]
fn a_limit_is_another_and_its_authority_is_in_the_finding() {
    let by = |percent: &str| {
        let text = format!(
            "rules:\n  speaker.undersized:\n    limits:\n      share-of-load: {{value: {percent}, authority: 'our manual: \"4.2\"'}}\n"
        );
        sound(&text, &[])
    };
    let strict = by("2 %");
    let review_by_2 = review(PLAN, &strict);
    let finding = of(&review_by_2, UNDERSIZED)[0];
    assert_eq!(finding.authority.as_deref(), Some("our manual: \"4.2\""));
    assert_eq!(finding.limit.as_ref().map(|limit| limit.value), Some(2.0));
    assert!(of(&review(PLAN, &by("12 %")), UNDERSIZED).is_empty());
    assert_eq!(
        departed(&strict.settings.rulebook),
        ["speaker.undersized: share-of-load 5 % to 2 % (nailplate.yaml:5)"]
    );
}

/// Every rule on record that shows a finding in its own example: with each of its limits on another word, and as
/// little apart as can be, that word is in the finding.
#[test]
fn whatever_limit_is_another_its_authority_is_in_the_finding() {
    let mut tried = 0;
    for rule in RULES {
        let whole = sheet(rule.id).expect("a rule").whole().expect("whole");
        for (name, limit) in &whole.limits {
            // A word that nothing is measured by stays.
            let digits = limit.value.find(|c: char| !c.is_ascii_digit() && c != '.');
            let (number, unit) = limit.value.split_at(digits.unwrap_or(limit.value.len()));
            let value = match number.contains('.') || digits.is_none() || number.is_empty() {
                true => limit.value.clone(),
                false => format!("{number}.000001{unit}"),
            };
            let text = format!(
                "rules: {{{}: {{limits: {{{name}: {{value: \"{value}\", authority: \"our manual, 4.2\"}}}}}}}}\n",
                rule.id
            );
            let read = settings(&text, &[]);
            if !read.findings.is_empty() || value == limit.value {
                continue;
            }
            let review = review(&whole.wrong, &read);
            let region = review.plan.region.value().copied();
            let holds = region.is_some_and(|region| limit.holds_in(region));
            for finding in of(&review, rule.id).into_iter().filter(|_| holds) {
                tried += 1;
                let authority = finding.authority.as_deref().unwrap_or_default();
                assert!(
                    authority.contains("our manual, 4.2"),
                    "{} {name}: {authority}",
                    rule.id
                );
            }
        }
    }
    assert!(tried > 50, "{tried}");
}

/// `pathway.overfull` is a fault, and a hazard where the conduit holds power.
#[test]
fn what_may_hide_a_hazard_is_known() {
    for (rule, entry, hides) in [
        ("fire.underrated", "not-adopted: x y", true),
        ("fire.underrated", "level: fault", true),
        ("pathway.overfull", "not-adopted: x y", true),
        ("pathway.overfull", "level: advice", false),
        ("pathway.overfull", "level: hazard", false),
        (
            "pathway.overfull",
            "limits: {more-cables: {value: 45 %, authority: me}}",
            true,
        ),
        (
            "pathway.overfull",
            "limits: {more-cables: {value: 40 %, authority: me}}",
            false,
        ),
        ("speaker.undersized", "not-adopted: x y", false),
        (
            "speaker.undersized",
            "limits: {share-of-load: {value: 9 %, authority: me}}",
            false,
        ),
    ] {
        let read = sound(&format!("rules: {{{rule}: {{{entry}}}}}\n"), &[]);
        let departures = &read.settings.rulebook.departures;
        assert_eq!(departures.len(), 1);
        assert_eq!(departures[0].may_hide_hazard(), hides, "{rule} {entry}");
    }
}

#[test]
fn limits_that_are_not_named_stay() {
    let read = sound(
        "rules:\n  power.voltage-drop:\n    limits: {branch: {value: 4 %, authority: us}}\n",
        &[],
    );
    let own = read
        .settings
        .rulebook
        .sheet("power.voltage-drop")
        .expect("a rule");
    let (own, built_in) = (
        own.whole().expect("whole"),
        sheet("power.voltage-drop")
            .expect("a rule")
            .whole()
            .expect("whole"),
    );
    for (name, limit) in &built_in.limits {
        assert_eq!(own.limits[name] == *limit, name != "branch", "{name}");
        assert_eq!(own.limits[name].regions, limit.regions, "{name}");
        assert_eq!(own.limits[name].level, limit.level, "{name}");
    }
}

#[test]
fn a_rule_that_is_not_adopted_does_not_judge() {
    let read = sound(
        "rules:\n  speaker.undersized: {not-adopted: measured on site}\n",
        &[],
    );
    assert!(of(&review(PLAN, &read), UNDERSIZED).is_empty());
    assert_eq!(
        departed(&read.settings.rulebook),
        ["speaker.undersized: not adopted: measured on site (nailplate.yaml:3)"]
    );
}

/// Its variance is then neither stale nor in use.
#[test]
fn a_variance_of_a_rule_that_is_not_adopted_waits() {
    let plan =
        format!("{PLAN}variances:\n  - {{rule: speaker.undersized, on: S1, reason: r, by: JR}}\n");
    let read = sound(
        "rules:\n  speaker.undersized: {not-adopted: measured on site}\n",
        &[],
    );
    let review = review(&plan, &read);
    assert!(of(&review, "plan.variance-stale").is_empty());
    assert!(review.let_pass.is_empty());
    let gap = review
        .gaps
        .iter()
        .find(|gap| gap.rule == "plan.variance-stale");
    assert_eq!(
        gap.map(|gap| &*gap.lacks),
        Some("a finding of speaker.undersized, which is not adopted")
    );
}

/// Limits at the ends of what is read: every rule goes by them, nothing panics, and no figure is no number.
#[test]
fn absurd_limits_are_judged_by() {
    let plan = std::fs::read_to_string(
        Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/kestrel-row-submitted.plan.yaml"),
    );
    let plan = plan.expect("an example");
    let mut tried = 0;
    for number in ["0", "0.000001", "4000000000", "1e300"] {
        let mut text = String::from("rules:\n");
        for rule in RULES {
            let whole = sheet(rule.id).expect("a rule").whole().expect("whole");
            text += &format!("  {}:\n    limits:\n", rule.id);
            let mut some = false;
            for (name, limit) in &whole.limits {
                let end = limit
                    .value
                    .find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | '-' | '/')));
                let unit = &limit.value[end.unwrap_or(limit.value.len())..];
                some = true;
                text += &format!("      {name}: {{value: \"{number}{unit}\", authority: x}}\n");
            }
            if !some {
                text = text.trim_end_matches("    limits:\n").to_owned() + "    notes: none\n";
            }
        }
        let read = settings(&text, &[]);
        assert!(
            read.findings
                .iter()
                .all(|finding| finding.rule == "settings.unfit-limit"),
            "{:#?}",
            told(&read)
        );
        tried += read.settings.rulebook.departures.len();
        for finding in review(&plan, &read).findings {
            for value in finding.figure.iter().map(|figure| figure.value) {
                assert!(value.is_finite(), "{}: {}", finding.rule, finding.says);
            }
        }
    }
    assert!(tried > 150, "{tried} limits were set");
}

#[test]
fn what_has_no_yaml_is_refused() {
    for text in ["rules: [\n", "", "---\n"] {
        let read = read(Path::new("nailplate.yaml"), text.into(), &Files::of(&[]));
        assert!(read.is_err(), "{text:?}");
    }
}
