//! A run that is not on record as pulled when the walls are to be closed.

use crate::findings::Report;
use crate::house::House;
use crate::rules::{Sheet, due_at_stage, is_record_judged};

pub use crate::rules::NoLimits as Limits;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    if !is_record_judged(house, sheet, out) {
        return;
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
        let finding = sheet.finding(&run.id, says, run.span, "no day of pulling");
        out.find(due_at_stage(house, finding).with_put_right(format!(
            "pull {} and write the day as `done: {{pulled: …}}`, or take it out of the plan",
            run.id
        )));
    }
}
