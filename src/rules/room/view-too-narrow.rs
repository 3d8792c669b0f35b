//! A picture so narrow from a seat that it shows no more than a television did.

use serde::Deserialize;

use crate::figures::Figure;
use crate::findings::Report;
use crate::house::House;
use crate::rules::{Limit, Sheet, over, view};
use crate::units::Degrees;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    /// The narrowest angle of a picture.
    least: Limit<Degrees>,
}

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    let limit = limits.least.value;
    for view in view::views(house, sheet, out) {
        out.checked();
        if over(limit.base(), view.angle.value()) {
            let finding = view::finding(house, sheet, &view, limit);
            out.find(finding.with_authority(limits.least.authority.clone()));
        }
    }
}
