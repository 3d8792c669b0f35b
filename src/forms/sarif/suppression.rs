//! Variances and punch lists as suppressions.

use serde::Serialize;

use super::super::clean::clean;
use super::super::owed::is_hazard;
use super::place::Location;
use crate::review::{LetPass, Owed};
use crate::yaml::Sources;

/// Why a result holds nothing up.
#[derive(Debug, Serialize)]
pub struct Suppression<'r> {
    kind: &'static str,
    status: &'static str,
    justification: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    location: Option<Location<'r>>,
    properties: Properties<'r>,
}

#[derive(Debug, Serialize)]
#[serde(untagged)]
enum Properties<'r> {
    Variance {
        reason: &'r str,
        by: &'r str,
        until: Option<&'r str>,
        approval: Option<&'r str>,
    },
    PunchList {
        since: String,
    },
}

impl<'r> Suppression<'r> {
    /// A variance stands in the plan.
    pub fn by_variance(passed: &'r LetPass, sources: &Sources) -> Self {
        let mut justification = format!("{}; by {}", passed.reason, passed.by);
        if let Some(approval) = &passed.approval {
            justification.push_str(&format!("; approval {approval}"));
        }
        if let Some(until) = &passed.until {
            justification.push_str(&format!("; until {until}"));
        }
        Self {
            kind: "inSource",
            status: "accepted",
            justification: clean(&justification).into_owned(),
            location: Some(Location::at(sources.spots(passed.at).0, sources)),
            properties: Properties::Variance {
                reason: &passed.reason,
                by: &passed.by,
                until: passed.until.as_deref(),
                approval: passed.approval.as_deref(),
            },
        }
    }

    /// A punch list is a file of its own. A hazard that is owed is not to be hidden: what is under
    /// review does not count as suppressed.
    pub fn by_punch_list(owed: &Owed) -> Self {
        let since = owed.entry.since.to_string();
        Self {
            kind: "external",
            status: if is_hazard(owed) {
                "underReview"
            } else {
                "accepted"
            },
            justification: format!("On the punch list: owed since {since}"),
            location: None,
            properties: Properties::PunchList { since },
        }
    }
}
