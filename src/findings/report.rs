//! Where rules put what they find.

use super::{Finding, Gap, Id, Lack};

/// Collects the findings and gaps of one plan and counts the checks made.
#[derive(Debug, Default)]
pub struct Report {
    pub findings: Vec<Finding>,
    pub gaps: Vec<Gap>,
    /// Things judged, whatever came of it; gaps are not counted here.
    pub checks: usize,
}

impl Report {
    /// One thing was judged.
    pub fn checked(&mut self) {
        self.checks += 1;
    }

    pub fn find(&mut self, finding: Finding) {
        self.findings.push(finding);
    }

    /// One thing could not be judged. A value that was reported as unreadable makes no gap.
    pub fn gap(&mut self, rule: &'static str, on: &Id, lack: Lack) {
        self.add_gap(rule, on, lack, false);
    }

    /// The same where what is not known may hide a hazard.
    pub fn loud_gap(&mut self, rule: &'static str, on: &Id, lack: Lack) {
        self.add_gap(rule, on, lack, true);
    }

    fn add_gap(&mut self, rule: &'static str, on: &Id, lack: Lack, loud: bool) {
        if let Lack::Absent(what) = lack {
            self.gaps.push(Gap {
                rule,
                on: vec![on.clone()],
                lacks: what.into_owned(),
                loud,
            });
        }
    }
}
