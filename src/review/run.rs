//! One review of one plan.

use std::collections::HashSet;
use std::path::Path;
use std::sync::Arc;

use super::punch_list::{NotFound, Owed};
use super::variance::{self, JUDGED_LAST, LetPass};
use crate::findings::{Finding, Gap, Id, Level, Report, fingerprints};
use crate::house::House;
use crate::plan::{self, Date, Library, Plan};
use crate::rules::{Rule, Rulebook, Sheet};
use crate::schema::data;
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
    /// Findings that a punch list has as owed, once it has been settled up with.
    pub owed: Vec<Owed>,
    /// What else a punch list has for this plan.
    pub not_found: Vec<NotFound>,
    pub checks: usize,
    /// What was judged by.
    pub rulebook: Arc<Rulebook>,
    /// It is of a settings file and no plan.
    pub is_of_settings: bool,
}

data! { written [derive(Debug, Clone, Copy, PartialEq, Eq, Default, serde::Serialize)]
    /// How many of each.
    pub struct Tally {
        /// Checks that were made.
        pub checks: usize,
        /// Findings that can hurt someone, or break a code clause.
        pub hazard: usize,
        /// Findings of what will not work, or works badly.
        pub fault: usize,
        /// Findings of what will be regretted.
        pub advice: usize,
        /// Checks that could not be made.
        pub gaps: usize,
    }
}

/// Which rules judge.
#[derive(Debug, Clone, Copy, Default)]
pub enum Selection<'a> {
    #[default]
    All,
    /// One rule alone, by its id: for the examples of its sheet.
    Only(&'a str),
}

/// What a review is made by: which rules, by which sheets, and on which day.
#[derive(Debug, Clone, Copy)]
pub struct Scope<'a> {
    pub selection: Selection<'a>,
    /// Which sheets are in effect; the built-in ones if not said.
    pub rulebook: &'a Arc<Rulebook>,
    /// The day up to which variances have to hold. Without one no variance is past, and of those
    /// that end some day it is a gap whether they are.
    pub today: Option<Date>,
}

impl<'a> Selection<'a> {
    /// The same on a day.
    pub fn on_day(self, today: Date) -> Scope<'a> {
        Scope {
            today: Some(today),
            ..self.into()
        }
    }

    fn judges(self, rule: &str) -> bool {
        match self {
            Self::All => true,
            // What is let pass shows only once all rules have judged.
            Self::Only(id) => id == rule || JUDGED_LAST.contains(&id),
        }
    }
}

impl<'a> From<Selection<'a>> for Scope<'a> {
    fn from(selection: Selection<'a>) -> Self {
        Self {
            selection,
            rulebook: Rulebook::built_in(),
            today: None,
        }
    }
}

impl Default for Scope<'_> {
    fn default() -> Self {
        Selection::All.into()
    }
}

/// All rules as built in, on a day where one is known.
impl From<Option<Date>> for Scope<'_> {
    fn from(today: Option<Date>) -> Self {
        Self {
            today,
            ..Self::default()
        }
    }
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

    /// By what each of the findings is known again, in their order. What is owed counts among those
    /// that are alike as if it still stood there.
    pub fn fingerprints(&self) -> Vec<String> {
        let (mut owed, mut left) = (self.owed.iter().peekable(), self.findings.iter());
        let (all, is_owed): (Vec<&Finding>, Vec<bool>) = (0..)
            .map_while(|at| match owed.next_if(|owed| owed.at == at) {
                Some(owed) => Some((&owed.finding, true)),
                None => left.next().map(|finding| (finding, false)),
            })
            .unzip();
        let prints = fingerprints(all).into_iter().zip(is_owed);
        prints
            .filter(|(_, is_owed)| !is_owed)
            .map(|(print, _)| print)
            .collect()
    }

    /// The gravest level found.
    pub fn gravest(&self) -> Option<Level> {
        self.findings.iter().map(|finding| finding.level).max()
    }
}

/// Reads and judges a plan given as text. `path` is what it is called, and where its catalogues
/// are looked up from. The scope is a [`Selection`], or one on a day.
///
/// # Errors
/// The sources, and where and why the text is no YAML.
pub fn review_text<'a>(
    path: &Path,
    text: String,
    library: &dyn Library,
    scope: impl Into<Scope<'a>>,
) -> Result<Review, (Box<Sources>, Broken)> {
    let mut sources = Sources::default();
    let (file, read) = sources.add(path, text);
    if let Err(broken) = read {
        return Err((Box::new(sources), broken));
    }
    Ok(review(sources, file, library, scope))
}

/// Judges a plan that has been read into `sources`.
pub fn review<'a>(
    mut sources: Sources,
    file: FileId,
    library: &dyn Library,
    scope: impl Into<Scope<'a>>,
) -> Review {
    let Scope {
        selection,
        rulebook,
        today,
    } = scope.into();
    let (plan, mistakes) = plan::read(&mut sources, file, library);
    let all_read = mistakes.is_empty() && plan.usual_unread.is_empty();
    let mut report = Report {
        checks: mistakes.len(),
        ..Report::default()
    };
    report.findings = mistakes;
    report
        .findings
        .retain(|mistake| selection.judges(mistake.rule));
    report.gaps.extend(unread(&plan));
    let house = House::build(&plan, &sources);
    let mut yields = Vec::new();
    let (region, stage) = (plan.region.value().copied(), plan.stage.value().copied());
    let mut judge = |rule: &Rule, sheet: &Sheet, report: &mut Report| {
        if sheet.applies(region, stage) {
            yields.extend(sheet.yields_to().map(|to| (rule.id, to)));
            let first = report.findings.len();
            (rule.judge)(&house, sheet, report);
            rulebook.cite(sheet, region, &mut report.findings[first..]);
        }
    };
    let (last, first): (Vec<_>, Vec<_>) = rulebook
        .rules()
        .partition(|(rule, _)| JUDGED_LAST.contains(&rule.id));
    // A house whose runs or endpoints are all unknown would only be said to lack everything.
    let is_whole = plan.unread_sections.is_empty();
    for (rule, sheet) in first {
        if is_whole && selection.judges(rule.id) {
            judge(rule, sheet, &mut report);
        }
    }
    let in_order = |findings: &mut Vec<Finding>| {
        findings.sort_by_cached_key(|finding| {
            let spot = finding.marks.first().map(|mark| sources.spots(mark.span).0);
            (spot, std::cmp::Reverse(finding.level), finding.rule)
        });
    };
    in_order(&mut report.findings);
    let (let_pass, outcomes) = variance::take(&plan, &mut report, rulebook, all_read, today);
    house.tell_outcomes(outcomes);
    if matches!(selection, Selection::Only(id) if JUDGED_LAST.contains(&id)) {
        // The others have judged for the sake of the variances alone.
        report = Report::default();
    }
    // Nothing that is found about a variance can be let pass by one.
    let found = report.findings.len();
    for (rule, sheet) in last {
        if matches!(selection, Selection::All)
            || matches!(selection, Selection::Only(id) if id == rule.id)
        {
            judge(rule, sheet, &mut report);
        }
    }
    let Report {
        mut findings,
        gaps,
        checks,
    } = report;
    if findings.len() > found {
        in_order(&mut findings);
    }
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
        owed: Vec::new(),
        not_found: Vec::new(),
        checks,
        rulebook: Arc::clone(rulebook),
        is_of_settings: false,
    }
}

/// What a plan lacks because a whole section, or a catalogue that it did not name itself, could not be read.
pub fn unread(plan: &Plan) -> impl Iterator<Item = Gap> {
    let gap = |rule, lacks| Gap {
        rule,
        on: vec![Id::new("plan")],
        lacks,
        loud: true,
    };
    let sections = plan.unread_sections.iter().map(move |section| {
        let lacks = format!(
            "{section} of the plan, of which nothing could be read: no rule has judged this plan"
        );
        gap("plan.wrong-kind", lacks)
    });
    let catalogues = plan.usual_unread.iter().map(move |name| {
        let lacks = format!("stock of {name}, which could not be read");
        gap("plan.catalogue-unread", lacks)
    });
    sections.chain(catalogues)
}

/// The mistakes of a settings file, told like those of a plan: so every form shows them, once for all plans
/// that go by it.
pub fn of_settings(sources: Sources, file: FileId, mut findings: Vec<Finding>) -> Review {
    findings
        .sort_by_cached_key(|finding| finding.marks.first().map(|mark| sources.spots(mark.span).0));
    Review {
        sources,
        file,
        plan: Plan::default(),
        checks: findings.len(),
        findings,
        gaps: Vec::new(),
        let_pass: Vec::new(),
        owed: Vec::new(),
        not_found: Vec::new(),
        rulebook: Arc::clone(Rulebook::built_in()),
        is_of_settings: true,
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
