//! How grave a finding is.

use std::fmt;

use serde_json::Value;

use crate::schema::{Defs, Schema, described, one_of};

/// Ordered: advice below fault below hazard.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Deserialize, serde::Serialize,
)]
#[serde(rename_all = "kebab-case")]
pub enum Level {
    /// Will be regretted.
    Advice,
    /// Will not work, or works badly.
    Fault,
    /// Can hurt someone, or breaks a code clause.
    Hazard,
}

impl Level {
    /// Gravest first.
    pub const ALL: [Self; 3] = [Self::Hazard, Self::Fault, Self::Advice];

    pub fn word(self) -> &'static str {
        match self {
            Self::Advice => "advice",
            Self::Fault => "fault",
            Self::Hazard => "hazard",
        }
    }
}

impl Schema for Level {
    fn schema(defs: &mut Defs) -> Value {
        defs.define("level", |_| {
            described(
                one_of(Self::ALL.into_iter().map(Self::word)),
                "How grave a finding is.",
            )
        })
    }
}

impl fmt::Display for Level {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.word())
    }
}
