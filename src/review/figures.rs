//! Every figure of a plan, by what the rulebook's sheets state.

use crate::findings::{Gap, Lack};
use crate::house::{House, Quantity};
use crate::rules::sheet;
use crate::rules::video::undergraded;

/// Every figure that a plan allows, and for the rest what is missing. What compression makes of a
/// picture is taken from the sheet of `video.undergraded`.
pub fn quantities(house: &House<'_>) -> (Vec<Quantity>, Vec<Gap>) {
    let compression = sheet("video.undergraded")
        .and_then(|sheet| sheet.limits::<undergraded::Limits>())
        .map(|limits| limits.compression.value)
        .ok_or_else(|| Lack::absent("what compression divides by"));
    house.quantities(compression)
}
