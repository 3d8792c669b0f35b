//! A run that was pulled and not labelled when the walls are to be closed.

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
        let Some(done) = run.done.value() else {
            continue;
        };
        let finding = match done.labelled.stated() {
            Some(labelled) if labelled.value.0 => {
                out.checked();
                continue;
            }
            Some(labelled) => {
                let says = format!("{} is not labelled at both ends", run.id);
                sheet.finding(&run.id, says, labelled.span, "no label")
            }
            // What is not on record as pulled is plan.not-pulled's.
            None if done.labelled.is_bad() || done.pulled.value().is_none() => continue,
            None => {
                let says = format!("{} is pulled and not on record as labelled", run.id);
                sheet.finding(&run.id, says, run.span, "no label on record")
            }
        };
        out.checked();
        out.find(match house.plan.stage.span() {
            Some(stage) => finding.with_mark(stage, "the walls are to be closed"),
            None => finding,
        });
    }
}
