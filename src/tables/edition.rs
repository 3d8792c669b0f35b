//! Editions of the National Electrical Code (NFPA 70) that tables are kept for.

use serde::Deserialize;

/// Edition of NFPA 70, the oldest first. Which one binds, and with what amendments, the authority having
/// jurisdiction says.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Deserialize)]
pub enum Edition {
    #[serde(rename = "2017")]
    E2017,
    #[serde(rename = "2020")]
    E2020,
    #[serde(rename = "2023")]
    E2023,
}

impl Edition {
    pub const ALL: [Self; 3] = [Self::E2017, Self::E2020, Self::E2023];

    pub fn year(self) -> u16 {
        match self {
            Self::E2017 => 2017,
            Self::E2020 => 2020,
            Self::E2023 => 2023,
        }
    }

    /// The edition of a year. `None` for a year without one here.
    pub fn of_year(year: u16) -> Option<Self> {
        Self::ALL.into_iter().find(|edition| edition.year() == year)
    }
}
