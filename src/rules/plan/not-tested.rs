//! A run that was pulled and not tested, or that failed, when the walls are to be closed.

use crate::findings::{Id, Report};
use crate::house::House;
use crate::plan::Tested;
use crate::rules::Sheet;

pub use crate::rules::NoLimits as Limits;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    match house.has_record() {
        Ok(true) => {}
        Ok(false) => return,
        Err(lack) => return out.gap(sheet.id, &Id::new("plan"), lack),
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
        out.find(match house.plan.stage.span() {
            Some(stage) => finding.with_mark(stage, "the walls are to be closed"),
            None => finding,
        });
    }
}
