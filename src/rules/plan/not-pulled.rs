//! A run that is not on record as pulled when the walls are to be closed.

use crate::findings::{Id, Report};
use crate::house::House;
use crate::rules::Sheet;

pub use crate::rules::NoLimits as Limits;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    match house.has_record() {
        Ok(true) => {}
        Ok(false) => return,
        Err(lack) => return out.gap(sheet.id, &Id::new("plan"), lack),
    }
    for run in &house.plan.runs {
        let done = run.done.value();
        if run.done.is_bad() || done.is_some_and(|done| done.pulled.is_bad()) {
            continue;
        }
        out.checked();
        if done.is_some_and(|done| !done.pulled.is_absent()) {
            continue;
        }
        let says = format!("{} is not on record as pulled", run.id);
        let mut finding = sheet.finding(&run.id, says, run.span, "no day of pulling");
        if let Some(stage) = house.plan.stage.span() {
            finding = finding.with_mark(stage, "the walls are to be closed");
        }
        out.find(finding.with_put_right(format!(
            "pull {} and write the day as `done: {{pulled: …}}`, or take it out of the plan",
            run.id
        )));
    }
}
