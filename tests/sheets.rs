//! Every sheet tested by its own examples: `wrong` gives exactly its finding at the marked line,
//! the offered edit gives `right`, and `right` is silent.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use nailplate::findings::{Finding, RedlineKind};
use nailplate::plan::{Date, Library, MISTAKES};
use nailplate::review::{Review, Selection, ink, of_settings, review_text};
use nailplate::rules::{READING, RULES, sheet};
use nailplate::settings::{self, Cabinet};

/// The mark behind the line that the finding must point at.
const MARK: &str = "# <== here";

/// The day on which the examples are judged.
const DAY: Date = Date {
    year: 2026,
    month: 3,
    day: 1,
};

/// Examples stand alone: they have no catalogue, but for the sheet that is about a missing one.
struct Nothing;

impl Library for Nothing {
    fn load(&self, _: &Path) -> Result<String, String> {
        Err("no such file".into())
    }
}

/// Settings, or a firm's sheet where the text is one; no other file is there.
struct Office<'t>(&'t str);

impl Library for Office<'_> {
    fn load(&self, path: &Path) -> Result<String, String> {
        match path.ends_with("line/one-subwoofer.yaml") {
            true => Ok(self.0.to_owned()),
            false => Err("no such file".into()),
        }
    }
}

impl Cabinet for Office<'_> {
    fn below(&self, folder: &Path) -> Result<Vec<PathBuf>, String> {
        match folder.ends_with("firm") {
            true => Ok(vec!["line/one-subwoofer.yaml".into()]),
            false => Err("no such folder".into()),
        }
    }
}

fn settings(text: &str) -> Review {
    let is_sheet = text.starts_with("id:");
    let settings = if is_sheet {
        "nailplate: 1\nrulebook: firm\n"
    } else {
        text
    };
    let read = settings::read(Path::new("nailplate.yaml"), settings.into(), &Office(text));
    let read = read.unwrap_or_else(|(_, broken)| panic!("no YAML: {}", broken.reason));
    of_settings(read.sources, read.file, read.findings)
}

fn review(id: &str, text: &str, selection: Selection<'_>) -> Review {
    if settings::MISTAKES.contains(&id) {
        return settings(text);
    }
    let read = review_text(
        Path::new("example.plan.yaml"),
        text.to_owned(),
        &Nothing,
        selection.on_day(DAY),
    );
    read.unwrap_or_else(|(_, broken)| {
        panic!(
            "an example is no YAML: {} at {}",
            broken.reason, broken.byte
        )
    })
}

fn say(findings: &[Finding]) -> String {
    findings
        .iter()
        .map(|f| format!("\n  {} on {:?}: {}", f.rule, f.on, f.says))
        .collect()
}

/// The text without its mark, as the offered edit must give it.
fn unmarked(text: &str) -> String {
    text.lines()
        .map(|line| line.replace(MARK, "").trim_end().to_owned() + "\n")
        .collect()
}

fn trial(id: &str) {
    let sheet = sheet(id).expect("the sheet is in the rulebook");
    let whole = sheet
        .whole()
        .unwrap_or_else(|error| panic!("{}: {error}", sheet.path));
    assert_eq!(whole.id, id, "the sheet's id is its file's name");
    complete(&whole);
    if let Some(rule) = RULES.iter().find(|rule| rule.id == id) {
        (rule.decode)(sheet).expect("the rule reads every limit of its sheet");
    }

    let marked: Vec<_> = whole
        .wrong
        .lines()
        .enumerate()
        .filter(|(_, line)| line.contains(MARK))
        .collect();
    assert_eq!(marked.len(), 1, "`wrong` marks one line with `{MARK}`");
    let wrong = review(id, &whole.wrong, Selection::Only(id));
    assert_eq!(
        wrong.findings.len(),
        1,
        "`wrong` gives one finding, not:{}",
        say(&wrong.findings)
    );
    let finding = &wrong.findings[0];
    let (spot, _) = wrong.sources.spots(finding.marks[0].span);
    let line = wrong.sources.file(spot.file).position(spot.start).line;
    assert_eq!(
        line,
        marked[0].0 + 1,
        "the finding points at the marked line: {}",
        finding.says
    );
    well_put(finding);

    let right = review(id, &whole.right, Selection::Only(id));
    assert!(
        right.findings.is_empty(),
        "`right` is silent, not:{}",
        say(&right.findings)
    );
    assert!(
        right.gaps.is_empty(),
        "`right` leaves no gap: {:?}",
        right.gaps
    );
    for (name, text) in [("wrong", &whole.wrong), ("right", &whole.right)] {
        let all = review(id, text, Selection::All);
        let others: Vec<_> = all
            .findings
            .iter()
            .filter(|f| f.rule != id && MISTAKES.contains(&f.rule))
            .cloned()
            .collect();
        assert!(
            others.is_empty(),
            "`{name}` is otherwise a plan without mistakes:{}",
            say(&others)
        );
    }

    if !finding.redlines.is_empty() {
        let marked = ink(&wrong, &[RedlineKind::Same, RedlineKind::Change]);
        assert_eq!(
            unmarked(&marked[0].text),
            unmarked(&whole.right),
            "the offered edit gives `right`"
        );
        // An edit brings no finding that was not there before.
        let known: BTreeSet<_> = review(id, &whole.wrong, Selection::All)
            .findings
            .iter()
            .map(|f| (f.rule, f.on.clone()))
            .collect();
        let after = review(id, &marked[0].text, Selection::All);
        let new: Vec<_> = after
            .findings
            .iter()
            .filter(|f| !known.contains(&(f.rule, f.on.clone())))
            .cloned()
            .collect();
        assert!(
            new.is_empty(),
            "the offered edit brings nothing new:{}",
            say(&new)
        );
    }
}

/// Nothing in a sheet is left empty.
fn complete(whole: &nailplate::rules::sheet::Whole) {
    for (what, text) in [
        ("title", &whole.title),
        ("authority", &whole.authority),
        ("why", &whole.why),
        ("put-right", &whole.put_right),
    ] {
        assert!(!text.trim().is_empty(), "`{what}` is empty");
    }
    assert!(!whole.title.ends_with('.'), "a title has no full stop");
    assert!(
        whole.why.split_whitespace().count() >= 12,
        "`why` says what goes wrong in the room"
    );
    for (name, limit) in &whole.limits {
        assert!(
            !limit.authority.trim().is_empty(),
            "limit `{name}` has no authority"
        );
    }
}

/// The message convention: one sentence without full stop, every place with words, at most three
/// labels of a kind that point at something.
fn well_put(finding: &Finding) {
    let says = &finding.says;
    assert!(!says.ends_with(['.', '!']), "no full stop: {says}");
    assert!(
        !says.contains('\n') && !says.contains("  "),
        "one line: {says}"
    );
    let first = says.split(' ').next().unwrap_or("");
    let names_a_thing = finding.on.iter().any(|id| id.as_str() == first);
    assert!(
        names_a_thing || first.starts_with(|c: char| !c.is_uppercase()) || first.len() < 2,
        "starts in lower case or with the id of a thing: {says}"
    );
    assert!(!finding.on.is_empty(), "says what it is on");
    assert!(finding.marks.len() <= 4, "few marks: {:?}", finding.marks);
    for mark in &finding.marks {
        assert!(
            !mark.label.trim().is_empty() || finding.marks.len() == 1,
            "every mark has words"
        );
    }
    if let (Some(figure), Some(limit)) = (&finding.figure, &finding.limit) {
        assert!(figure.value.is_finite() && limit.value.is_finite());
        assert!(!figure.working.is_empty(), "a figure shows its working");
    }
}

/// Every mistake that reading reports has its sheet, and every such sheet its mistake.
#[test]
fn reading_and_its_sheets_agree() {
    let sheets: BTreeSet<_> = READING.iter().map(|sheet| sheet.id).collect();
    let all = MISTAKES.iter().chain(settings::MISTAKES);
    let mistakes: BTreeSet<_> = all.copied().collect();
    assert_eq!(mistakes, sheets);
}

include!(concat!(env!("OUT_DIR"), "/rule_tests.rs"));
