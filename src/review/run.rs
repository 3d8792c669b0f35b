//! One review of one plan.

use std::collections::HashSet;
use std::path::Path;

use super::variance::{self, LetPass};
use crate::findings::{Finding, Gap, Id, Level, Report};
use crate::house::House;
use crate::plan::{self, Library, Plan};
use crate::rules::{RULES, Sheet};
use crate::yaml::{Broken, FileId, Sources};

/// What was found in one plan.
#[derive(Debug)]
pub struct Review {
    pub sources: Sources,
    /// The plan among the sources.
    pub file: FileId,
    pub plan: Plan,
    /// In the order of their places, gravest first where places are equal.
    pub findings: Vec<Finding>,
    pub gaps: Vec<Gap>,
    pub let_pass: Vec<LetPass>,
    pub checks: usize,
}

/// How many of each.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, serde::Serialize)]
pub struct Tally {
    pub checks: usize,
    pub hazard: usize,
    pub fault: usize,
    pub advice: usize,
    pub gaps: usize,
}

/// Which rules judge.
#[derive(Debug, Clone, Copy, Default)]
pub enum Selection<'a> {
    #[default]
    All,
    /// One rule alone, by its id: for the examples of its sheet.
    Only(&'a str),
}

impl Review {
    pub fn tally(&self) -> Tally {
        let count = |level| {
            self.findings
                .iter()
                .filter(|finding| finding.level == level)
                .count()
        };
        Tally {
            checks: self.checks,
            hazard: count(Level::Hazard),
            fault: count(Level::Fault),
            advice: count(Level::Advice),
            gaps: self.gaps.len(),
        }
    }

    /// The gravest level found.
    pub fn gravest(&self) -> Option<Level> {
        self.findings.iter().map(|finding| finding.level).max()
    }
}

/// Reads and judges a plan given as text. `path` is what it is called, and where its catalogues
/// are looked up from.
///
/// # Errors
/// The sources, and where and why the text is no YAML.
pub fn review_text(
    path: &Path,
    text: String,
    library: &dyn Library,
    selection: Selection<'_>,
) -> Result<Review, (Box<Sources>, Broken)> {
    let mut sources = Sources::default();
    let (file, read) = sources.add(path, text);
    if let Err(broken) = read {
        return Err((Box::new(sources), broken));
    }
    Ok(review(sources, file, library, selection))
}

/// Judges a plan that has been read into `sources`.
pub fn review(
    mut sources: Sources,
    file: FileId,
    library: &dyn Library,
    selection: Selection<'_>,
) -> Review {
    let (plan, mistakes) = plan::read(&mut sources, file, library);
    let mut report = Report::default();
    report.checks += mistakes.len();
    report.findings = match selection {
        Selection::All => mistakes,
        Selection::Only(id) => mistakes
            .into_iter()
            .filter(|mistake| mistake.rule == id)
            .collect(),
    };
    let house = House::build(&plan, &sources);
    let mut yields = Vec::new();
    let (region, stage) = (plan.region.value().copied(), plan.stage.value().copied());
    for rule in RULES {
        if matches!(selection, Selection::Only(id) if id != rule.id) {
            continue;
        }
        let sheet = Sheet::new(rule.id, rule.path, rule.sheet);
        if sheet.applies(region, stage) {
            yields.extend(sheet.yields_to().map(|to| (rule.id, to)));
            (rule.judge)(&house, &sheet, &mut report);
        }
    }
    let Report {
        mut findings,
        gaps,
        checks,
    } = report;
    findings.sort_by_cached_key(|finding| {
        let spot = finding.marks.first().map(|mark| sources.spots(mark.span).0);
        (spot, std::cmp::Reverse(finding.level), finding.rule)
    });
    let let_pass = variance::take(&plan, &mut findings);
    for (rule, to) in yields {
        drop_told(&mut findings, &let_pass, rule, to);
    }
    Review {
        sources,
        file,
        plan,
        findings,
        gaps,
        let_pass,
        checks,
    }
}

/// Takes out the findings of a rule on things that another has told the same of, whether that
/// stands or is let pass.
fn drop_told(findings: &mut Vec<Finding>, let_pass: &[LetPass], rule: &str, to: &str) {
    if findings.iter().all(|finding| finding.rule != rule) {
        return;
    }
    let passed = let_pass.iter().map(|passed| &passed.finding);
    let told: HashSet<Vec<Id>> = findings
        .iter()
        .chain(passed)
        .filter(|finding| finding.rule == to)
        .map(|finding| finding.on.clone())
        .collect();
    findings.retain(|finding| finding.rule != rule || !told.contains(&finding.on));
}
