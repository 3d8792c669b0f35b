//! A picture so wide from a seat that it cannot be taken in.

use serde::Deserialize;

use crate::figures::Figure;
use crate::findings::Report;
use crate::house::House;
use crate::rules::{Limit, Sheet, over, view};
use crate::units::Degrees;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    /// The widest angle of a picture.
    greatest: Limit<Degrees>,
}

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    let limit = limits.greatest.value;
    for view in view::views(house, sheet, out) {
        out.checked();
        if over(view.angle.value(), limit.base()) {
            let finding = view::finding(house, sheet, &view, limit);
            out.find(finding.with_authority(limits.greatest.authority.clone()));
        }
    }
}
