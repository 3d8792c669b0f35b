//! Which edition of the National Electrical Code a plan is judged by.

use super::topology::House;
use crate::findings::Lack;
use crate::plan::{Code, Region};
use crate::tables::edition::Edition;
use crate::tables::listings::{Family, clause};

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

    /// The clause that asks for listings of a family in the plan's edition, in words: `NEC 722.135, from memory; judged by
    /// NEC 2023, the plan names no code`. With `dwelling`, the one that lets its X types into dwellings; `also` stands
    /// beside the clause. `None` outside the US, where the sheet's authority stands.
    pub fn listing_authority(&self, family: Family, dwelling: bool, also: &str) -> Option<String> {
        if self.region() != Ok(Region::Us) {
            return None;
        }
        let edition = self.edition().ok()?;
        let clause = clause(edition, family, dwelling)?;
        let words = self.edition_words(edition);
        Some(format!(
            "NEC {clause}{also}, from memory; judged by {words}"
        ))
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
