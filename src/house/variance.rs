//! What came of the plan's variances, for the rules that judge them.

use super::topology::House;
use crate::plan::Date;

/// What came of a variance on one of its things, once all other rules had judged.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Outcome {
    /// The rule found nothing on the thing.
    Nothing,
    /// Whether the rule would find something is not known, for want of this.
    Unjudged(String),
    /// There is a finding that it is about.
    Matched {
        /// One of them is a hazard.
        hazard: bool,
    },
}

/// What came of all variances.
#[derive(Debug, Default)]
pub struct Outcomes {
    /// For each variance of the plan, one for each thing that it names.
    pub of: Vec<Vec<Outcome>>,
    /// The day of the review, where it is known.
    pub today: Option<Date>,
}

impl House<'_> {
    /// Hands over what came of the variances. Only the first call counts.
    pub fn tell_outcomes(&self, outcomes: Outcomes) {
        self.outcomes.get_or_init(|| outcomes);
    }

    /// What came of the variances; none before all other rules have judged.
    pub fn outcomes(&self) -> Option<&Outcomes> {
        self.outcomes.get()
    }
}
