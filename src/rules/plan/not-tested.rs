//! A run that was pulled and not tested, or that failed, when the walls are to be closed.

use crate::findings::Report;
use crate::house::House;
use crate::plan::Tested;
use crate::rules::{Sheet, due_at_stage, is_record_judged};

pub use crate::rules::NoLimits as Limits;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    if !is_record_judged(house, sheet, out) {
        return;
    }
    for run in &house.plan.runs {
        let Some(done) = run.done.value() else {
            continue;
        };
        let finding = match done.tested.stated() {
            Some(tested) if tested.value == Tested::Fail => {
                let says = format!("{} has failed its test", run.id);
                let words = format!(
                    "find the fault in {} and test it again, or pull it anew",
                    run.id
                );
                sheet
                    .finding(&run.id, says, tested.span, "it failed")
                    .with_put_right(words)
            }
            Some(_) => {
                out.checked();
                continue;
            }
            // What is not on record as pulled is plan.not-pulled's.
            None if done.tested.is_bad() || done.pulled.value().is_none() => continue,
            None => {
                let says = format!("{} is pulled and not on record as tested", run.id);
                sheet.finding(&run.id, says, run.span, "no test result")
            }
        };
        out.checked();
        out.find(due_at_stage(house, finding));
    }
}
