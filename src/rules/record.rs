//! What the rules on the record of work share: whether it is judged, and why now.

use super::Sheet;
use crate::findings::{Finding, Id, Report};
use crate::house::House;

/// Whether the record of work is to be judged; where the plan leaves that open, a gap says so.
pub fn is_record_judged(house: &House<'_>, sheet: &Sheet, out: &mut Report) -> bool {
    house.has_record().unwrap_or_else(|lack| {
        out.gap(sheet.id, &Id::new("plan"), lack);
        false
    })
}

/// Marks the stage of the plan, which is what makes the record due.
pub fn due_at_stage(house: &House<'_>, finding: Finding) -> Finding {
    match house.plan.stage.span() {
        Some(stage) => finding.with_mark(stage, "the walls are to be closed"),
        None => finding,
    }
}
