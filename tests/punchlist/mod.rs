//! Punch lists: the text of one, and what a review makes of it.

mod fates;
mod shown;
mod text;

use std::path::Path;

use nailplate::findings::Finding;
use nailplate::plan::{Date, Library};
use nailplate::review::{
    Changes, Entry, PunchList, Review, Scope, Selection, review_text, settle_up,
};

/// No catalogue anywhere.
struct Nothing;

impl Library for Nothing {
    fn load(&self, _: &Path) -> Result<String, String> {
        Err("there is no such file".into())
    }
}

fn day(text: &str) -> Date {
    Date::parse(text).expect("a day")
}

fn reviewed(plan: &str) -> Review {
    let scope: Scope<'_> = Selection::All.on_day(day("2026-11-27"));
    review_text(Path::new("a.plan.yaml"), plan.to_owned(), &Nothing, scope)
        .expect("the plan is YAML")
}

/// What a plan owes, put on a list on a day.
fn owed_on(plan: &str, today: &str) -> Vec<Entry> {
    let changes = Changes::of(&reviewed(plan), "a.plan.yaml", &[], day(today));
    let mut list = PunchList::default();
    list.add(changes.new.into_iter().map(|new| new.entry));
    list.entries().to_vec()
}

/// The review of a plan, settled up with what is owed.
fn settled(plan: &str, entries: &[Entry]) -> Review {
    let mut review = reviewed(plan);
    settle_up(&mut review, entries);
    review
}

/// `rule on thing` of some findings.
fn told<'f>(findings: impl IntoIterator<Item = &'f Finding>) -> Vec<String> {
    let one = |finding: &Finding| format!("{} on {}", finding.rule, finding.on[0]);
    findings.into_iter().map(one).collect()
}
