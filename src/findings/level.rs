//! How grave a finding is.

use std::fmt;

/// Ordered: advice below fault below hazard.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Deserialize)]
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

impl fmt::Display for Level {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.word())
    }
}
