//! A planted text reviewed, and what was found held against what was planted.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::fs;
use std::ops::Range;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

use nailplate::findings::{Finding, Level};
use nailplate::plan::{Date, Library};
use nailplate::review::{Review, Selection, review_text};

use super::fault::{HOUSES, Planting};
use super::soil::{self, Files, Grown, Spot};

/// The folder that the houses are in, as tests see it.
const FOLDER: &str = "examples";

/// The files of each house: the plan and the catalogue that all share.
static CLEAN: LazyLock<BTreeMap<&str, Files>> = LazyLock::new(|| {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(FOLDER);
    let read = |name: String| {
        let text = fs::read_to_string(folder.join(&name)).expect("the example is there");
        (name, text)
    };
    let files = |house| [plan_of(house), "stock.yaml".to_owned()].map(read).into();
    HOUSES.map(|house| (house, files(house))).into()
});

pub fn plan_of(house: &str) -> String {
    format!("{house}.plan.yaml")
}

/// Files that are in no folder.
struct Shelf<'a>(&'a BTreeMap<String, Grown>);

impl Library for Shelf<'_> {
    fn load(&self, path: &Path) -> Result<String, String> {
        let name = path.strip_prefix(FOLDER).ok().and_then(Path::to_str);
        let file = name.and_then(|name| self.0.get(name));
        file.map(|file| file.text.clone())
            .ok_or_else(|| "no such file".into())
    }
}

/// A finding, with the place that it points at first.
#[derive(Debug, Clone)]
pub struct Found {
    pub rule: &'static str,
    pub level: Level,
    pub on: Vec<String>,
    file: String,
    bytes: Range<usize>,
    line: usize,
    column: usize,
    marked: String,
    says: String,
}

impl Found {
    fn new(finding: &Finding, review: &Review) -> Self {
        let spot = review.sources.spots(finding.marks[0].span).0;
        let file = review.sources.file(spot.file);
        let position = file.position(spot.start);
        Self {
            rule: finding.rule,
            level: finding.level,
            on: finding.on.iter().map(ToString::to_string).collect(),
            file: file
                .path
                .strip_prefix(FOLDER)
                .expect("in the folder")
                .to_string_lossy()
                .into_owned(),
            bytes: spot.start..spot.end,
            line: position.line,
            column: position.column,
            marked: review.sources.slice(spot).to_owned(),
            says: finding.says.clone(),
        }
    }

    fn is_of(&self, rule: &str, on: &[String]) -> bool {
        self.rule == rule && self.on.starts_with(on)
    }

    fn lies_in(&self, file: &str, bytes: &Range<usize>) -> bool {
        self.file == file && bytes.start <= self.bytes.start && self.bytes.end <= bytes.end
    }

    /// One line for whoever reads along.
    pub fn line(&self) -> String {
        let Self {
            rule,
            level,
            on,
            line,
            column,
            marked,
            says,
            ..
        } = self;
        let first = marked.lines().next().unwrap_or("");
        format!("{level:7} {rule} on {on:?} at {line}:{column} `{first}`: {says}")
    }
}

/// All files of a house with faults in them; `None` where they touch the same text.
pub fn plant(faults: &[&Planting]) -> Option<BTreeMap<String, Grown>> {
    let house = faults[0].house;
    soil::planted(&CLEAN[house], &plan_of(house), faults)
}

/// What a review tells.
pub struct Told {
    pub found: Vec<Found>,
    /// What was not judged, a line each.
    gaps: BTreeSet<String>,
}

/// What is not judged in the clean houses: limits that their regions have none of.
static USUAL_GAPS: LazyLock<BTreeMap<&str, BTreeSet<String>>> = LazyLock::new(|| {
    let of = |house| soil::planted(&CLEAN[house], &plan_of(house), &[]).expect("nothing touches");
    HOUSES
        .map(|house| (house, review(house, &of(house)).gaps))
        .into()
});

pub fn review(house: &str, files: &BTreeMap<String, Grown>) -> Told {
    let name = plan_of(house);
    let path = PathBuf::from(FOLDER).join(&name);
    let day = Date::parse("2026-11-25").expect("a day");
    let text = files[&name].text.clone();
    match review_text(&path, text, &Shelf(files), Selection::All.on_day(day)) {
        Ok(review) => Told {
            found: review
                .findings
                .iter()
                .map(|finding| Found::new(finding, &review))
                .collect(),
            gaps: review
                .gaps
                .iter()
                .map(|gap| format!("gap     {} on {:?}: no {}", gap.rule, gap.on, gap.lacks))
                .collect(),
        },
        Err((_, broken)) => panic!(
            "{house}: no YAML at byte {}: {}\n{}",
            broken.byte, broken.reason, files[&name].text
        ),
    }
}

/// The place that a fault is to be found at, and its bytes.
///
/// # Errors
/// What is wrong with what the fault says of it.
pub fn place(
    planting: &Planting,
    files: &BTreeMap<String, Grown>,
) -> Result<(Spot, Range<usize>), String> {
    let plan = plan_of(planting.house);
    let others = files.keys().filter(|name| **name != plan);
    for name in std::iter::once(&plan).chain(others) {
        match soil::once(&files[name].text, &planting.at) {
            Ok(start) => {
                let bytes = start..start + planting.at.len();
                return Ok((files[name].spot(name, bytes.clone()), bytes));
            }
            Err(0) => {}
            Err(count) => {
                return Err(format!(
                    "`at` stands {count} times in {name}: {:?}",
                    planting.at
                ));
            }
        }
    }
    Err(format!("`at` stands nowhere: {:?}", planting.at))
}

/// What came of one fault.
#[derive(Debug, Default)]
pub struct Outcome {
    pub is_found: bool,
    pub false_alarms: usize,
    /// Advice beside it.
    pub advice: usize,
    /// What is amiss, and for whoever asks everything found.
    pub amiss: String,
    pub all: String,
}

/// Plants one fault and looks at everything that is found.
pub fn try_alone(planting: &Planting) -> Outcome {
    let files =
        plant(&[planting]).unwrap_or_else(|| panic!("{}: its own edits touch", planting.name()));
    let Told { found, gaps } = review(planting.house, &files);
    let mut outcome = Outcome::default();
    let gaps = gaps.difference(&USUAL_GAPS[planting.house]).cloned();
    for line in found.iter().map(Found::line).chain(gaps) {
        let _ = writeln!(outcome.all, "    {line}");
    }
    let (spot, bytes) = match place(planting, &files) {
        Ok(place) => place,
        Err(wrong) => {
            outcome.amiss = format!("    {wrong}\n{}", outcome.all);
            return outcome;
        }
    };
    let mut left: Vec<&Found> = found.iter().collect();
    let own = left
        .iter()
        .position(|found| is_it(planting, found, &spot.file, &bytes));
    match own {
        Some(index) => {
            left.remove(index);
            outcome.is_found = true;
        }
        None => {
            let _ = writeln!(
                outcome.amiss,
                "    not found on {:?} at {:?}",
                planting.on, planting.at
            );
        }
    }
    for (rule, on) in &planting.also {
        match left.iter().position(|found| found.is_of(rule, on)) {
            Some(index) => drop(left.remove(index)),
            None => {
                outcome.is_found = false;
                let _ = writeln!(outcome.amiss, "    does not follow: {rule} on {on:?}");
            }
        }
    }
    for found in left {
        if found.level == Level::Advice {
            outcome.advice += 1;
        } else {
            outcome.false_alarms += 1;
            let _ = writeln!(outcome.amiss, "    beside it: {}", found.line());
        }
    }
    outcome
}

/// Whether a finding is the one that a fault has to give.
pub fn is_it(planting: &Planting, found: &Found, file: &str, bytes: &Range<usize>) -> bool {
    found.is_of(&planting.rule, &planting.on)
        && planting.level.is_none_or(|level| level == found.level)
        && found.lies_in(file, bytes)
}
