//! How full a conduit may be: the limits that three sheets share, each with its own numbers.

use serde::Deserialize;

use super::{Limit, over};
use crate::findings::Lack;
use crate::house::Filling;
use crate::plan::{Pathway, Region};
use crate::units::{Distance, Percent};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct FillLimits {
    pub one_cable: Limit<Percent>,
    pub two_cables: Limit<Percent>,
    pub more_cables: Limit<Percent>,
    pub nipple: Limit<Percent>,
    /// No longer than this, a conduit is a nipple.
    pub nipple_length: Limit<Distance>,
    /// For what the code's table is not about.
    pub practice: Limit<Percent>,
}

/// A rounding between what a sheet and what a plan writes; a fill at the limit is within it.
const ROUNDING: f64 = 1e-9;

impl FillLimits {
    /// The limit for so many cables in a conduit that holds `filling` now. A length that could not
    /// be read may be a nipple's.
    pub fn allowed(
        &self,
        conduit: &Pathway,
        filling: &Filling,
        cables: usize,
        region: Region,
    ) -> &Limit<Percent> {
        let by_count = match cables {
            0 | 1 => &self.one_cable,
            2 => &self.two_cables,
            _ => &self.more_cables,
        };
        let longest = self.nipple_length.value.base() * (1.0 + ROUNDING);
        let nipple = conduit.is_length_bad()
            || conduit
                .laid_length()
                .is_some_and(|length| length.base() <= longest);
        match by_count {
            _ if !(filling.has_class && by_count.holds_in(region)) => &self.practice,
            _ if nipple && self.nipple.holds_in(region) => &self.nipple,
            limit => limit,
        }
    }

    /// Whether a fill is over a limit.
    pub fn is_over(percent: f64, limit: &Limit<Percent>) -> bool {
        over(percent, limit.value.number())
    }

    /// Whether a conduit has room for one more of its thickest signal cable: an empty one has.
    ///
    /// # Errors
    /// What is missing to tell.
    pub fn has_room(
        &self,
        conduit: &Pathway,
        filling: &Filling,
        region: Region,
    ) -> Result<bool, Lack> {
        if let Some(thickest) = filling.thickest_signal {
            let allowed = self
                .allowed(conduit, filling, filling.counted + 1, region)
                .value
                .number();
            if !filling
                .fill
                .room_for_one_more(thickest, allowed * (1.0 + ROUNDING))
            {
                return Ok(false);
            }
        }
        filling.lack.clone().map_or(Ok(true), Err)
    }
}
