//! Every figure of a plan, by what the sheets in effect state.

use crate::findings::{Gap, Lack};
use crate::house::{House, Quantity};
use crate::rules::Rulebook;
use crate::rules::rack::too_hot;
use crate::rules::video::undergraded;

/// Every figure that a plan allows, and for the rest what is missing. What compression makes of a
/// picture is taken from the sheet of `video.undergraded`, how much air may warm up from that of
/// `rack.too-hot`.
pub fn quantities(house: &House<'_>, rulebook: &Rulebook) -> (Vec<Quantity>, Vec<Gap>) {
    let compression = rulebook
        .sheet("video.undergraded")
        .and_then(|sheet| sheet.limits::<undergraded::Limits>())
        .map(|limits| limits.compression.value)
        .ok_or_else(|| Lack::absent("what compression divides by"));
    let rise = rulebook
        .sheet("rack.too-hot")
        .and_then(|sheet| sheet.limits::<too_hot::Limits>())
        .map(|limits| limits.rise.value.base())
        .ok_or_else(|| Lack::absent("how much air may warm up"));
    house.quantities(compression, rise)
}
