//! What has been done on site.

use super::topology::House;
use crate::findings::Lack;

impl House<'_> {
    /// Whether the runs' record of work is to be judged at all: not in a plan that says neither how
    /// far the work is nor what has been done.
    ///
    /// # Errors
    /// Work is on record and the plan does not say how far it is.
    pub fn has_record(&self) -> Result<bool, Lack> {
        if self.plan.stage.value().is_some() {
            return Ok(true);
        }
        if self.plan.stage.is_bad() {
            return Err(Lack::Reported);
        }
        match self.plan.runs.iter().any(|run| !run.done.is_absent()) {
            true => Err(Lack::absent("stage of the plan")),
            false => Ok(false),
        }
    }
}
