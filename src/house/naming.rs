//! A channel of several runs in a finding: its name, and the lengths that make it up.

use super::topology::House;
use crate::figures::Figure;
use crate::findings::Finding;
use crate::yaml::Span;

/// Lengths that are marked: with more the eye finds none.
const MARKS: usize = 3;

impl House<'_> {
    /// Runs in series as one thing: `V1`, `V1 with V2`, `V1 with V2 and V3`, `V1 with V2 and 7 more`.
    pub fn named(&self, runs: &[usize]) -> String {
        let id = |run: &usize| self.plan.runs[*run].id.as_str();
        match runs {
            [] => String::new(),
            [one] => id(one).to_owned(),
            [one, two] => format!("{} with {}", id(one), id(two)),
            [one, two, three] => format!("{} with {} and {}", id(one), id(two), id(three)),
            [one, two, more @ ..] => {
                format!("{} with {} and {} more", id(one), id(two), more.len())
            }
        }
    }

    /// The longest run of some, in the sum that their lengths make.
    pub fn longest(&self, runs: &[usize]) -> Option<usize> {
        let of = |run: usize| self.length(run).map_or(0.0, Figure::value);
        runs.iter()
            .copied()
            .max_by(|a, b| of(*a).total_cmp(&of(*b)))
    }

    /// Where a run's length stands, and what it says there.
    pub fn length_mark(&self, run: usize, alone: bool) -> (Span, String) {
        let entry = &self.plan.runs[run];
        let label = match (entry.length.stated(), self.length(run)) {
            (Some(_), _) if alone => "this long".to_owned(),
            (Some(length), _) => format!("{} of it", *length.value),
            (None, Ok(length)) if !alone => format!("{} of it, estimated", length.words()),
            (None, _) => "estimated length".to_owned(),
        };
        (entry.length.span().unwrap_or(entry.span), label)
    }

    /// Says that runs are concerned.
    pub fn with_runs(&self, finding: Finding, runs: &[usize]) -> Finding {
        let ids = runs.iter().map(|run| &self.plan.runs[*run].id);
        finding.with_each_on(ids)
    }

    /// Marks the lengths of a channel's other runs beside the one that is marked first, the
    /// longest three in all, and says that all the runs are concerned.
    pub fn with_lengths(&self, finding: Finding, runs: &[usize], first: usize) -> Finding {
        let mut finding = self.with_runs(finding, runs);
        let of = |run: usize| self.length(run).map_or(0.0, Figure::value);
        let mut others: Vec<usize> = runs.iter().copied().filter(|run| *run != first).collect();
        others.sort_by(|a, b| of(*b).total_cmp(&of(*a)));
        for run in others.into_iter().take(MARKS - 1) {
            let (span, label) = self.length_mark(run, false);
            finding = finding.with_mark(span, label);
        }
        finding
    }
}
