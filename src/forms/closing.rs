//! The last lines of a review: what was judged, what was found, what could not be judged.

use super::owed::is_hazard;
use crate::findings::{Finding, Level};
use crate::plan::MISTAKES;
use crate::review::Review;

/// Stands under every review that has a hazard in it.
pub const CAUTION: &str = "A hazard can hurt someone. Local code and the authority having jurisdiction decide: \
    have hazards put right by a licensed person.";

/// `2 hazards, 1 fault`; empty where there are none.
pub fn counted<'f>(findings: impl Iterator<Item = &'f Finding>) -> String {
    let mut counts = Level::ALL.map(|level| (level, 0_usize));
    for finding in findings {
        for (level, count) in &mut counts {
            *count += usize::from(*level == finding.level);
        }
    }
    let words = counts.iter().filter(|(_, count)| *count > 0);
    let words = words.map(|(level, count)| match (level, count) {
        (Level::Advice, _) | (_, 1) => format!("{count} {level}"),
        _ => format!("{count} {level}s"),
    });
    words.collect::<Vec<_>>().join(", ")
}

/// `14 checks: 2 hazards, 1 fault; 4 checks could not be made for want of a figure.`
pub fn sentence(review: &Review) -> String {
    let tally = review.tally();
    let found = counted(review.findings.iter());
    let found = if found.is_empty() {
        match review.owed.len() {
            0 => "nothing found".to_owned(),
            _ => "nothing new".to_owned(),
        }
    } else {
        found
    };
    if review.is_of_settings {
        return format!(
            "{found} in the settings; what could not be read stays as built in, and every plan that goes by them is held up."
        );
    }
    let passed = match review.let_pass.len() {
        0 => String::new(),
        count => format!("; {count} let pass"),
    };
    let owed = match review.owed.len() {
        0 => String::new(),
        count => {
            let hazards = review.owed.iter().filter(|owed| is_hazard(owed)).count();
            format!("; {}", self::owed(hazards, count))
        }
    };
    let done = review.not_found.iter().filter(|gone| gone.became.is_done());
    let done = match done.count() {
        0 => String::new(),
        count => format!("; {count} put right, still on the punch list"),
    };
    let passed_findings = review.let_pass.iter().map(|let_pass| &let_pass.finding);
    // A value that could not be read makes no gap, so that it is not complained of twice.
    let unread = review
        .findings
        .iter()
        .chain(passed_findings)
        .chain(review.owed.iter().map(|owed| &owed.finding))
        .any(|finding| MISTAKES.contains(&finding.rule));
    let unread = if unread {
        "; what could not be read was not checked"
    } else {
        ""
    };
    let gaps = match tally.gaps {
        0 if unread.is_empty() => "; no check lacked a figure".to_owned(),
        0 => String::new(),
        count => format!("; {}", lacking(count)),
    };
    let weaker = match review.rulebook.weakened() {
        0 => String::new(),
        1 => "; 1 rule not adopted, or judged less than built in".to_owned(),
        count => format!("; {count} rules not adopted, or judged less than built in"),
    };
    let checks = if tally.checks == 1 { "check" } else { "checks" };
    format!(
        "{} {checks}: {found}{passed}{owed}{done}{gaps}{unread}{weaker}.",
        tally.checks
    )
}

/// `4 checks could not be made for want of a figure`
pub fn lacking(count: usize) -> String {
    let checks = if count == 1 { "check" } else { "checks" };
    format!("{count} {checks} could not be made for want of a figure")
}

/// `12 owed, 2 of them hazards`
pub fn owed(hazards: usize, all: usize) -> String {
    match (hazards, all) {
        (0, 0) => "nothing owed".to_owned(),
        (0, _) => format!("{all} owed"),
        (1, 1) => "1 owed, a hazard".to_owned(),
        (1, _) => format!("{all} owed, 1 of them a hazard"),
        _ => format!("{all} owed, {hazards} of them hazards"),
    }
}
