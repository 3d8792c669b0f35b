//! A run that was pulled and not labelled when the walls are to be closed.

use crate::findings::Report;
use crate::house::House;
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
        out.find(due_at_stage(house, finding));
    }
}
