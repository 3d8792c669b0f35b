//! Which edition of the National Electrical Code a plan is judged by.

use super::topology::House;
use crate::findings::Lack;
use crate::plan::Code;
use crate::tables::edition::Edition;

impl House<'_> {
    /// The edition that the plan names as its `code`; that of 2023 where it names none.
    ///
    /// # Errors
    /// A `code` that could not be read.
    pub fn edition(&self) -> Result<Edition, Lack> {
        Ok(match self.plan.code.or(Code::Nec2023)? {
            Code::Nec2017 => Edition::E2017,
            Code::Nec2020 => Edition::E2020,
            Code::Nec2023 => Edition::E2023,
        })
    }

    /// The edition in words, and whether it is only taken: `NEC 2023, the plan names no code`.
    pub fn edition_words(&self, edition: Edition) -> String {
        let taken = if self.plan.code.is_absent() {
            ", the plan names no code"
        } else {
            ""
        };
        format!("NEC {}{taken}", edition.year())
    }
}
