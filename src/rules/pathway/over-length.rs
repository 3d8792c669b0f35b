//! A conduit that is too long without a place to pull from.

use serde::Deserialize;

use crate::findings::{Finding, Lack, Report, Shown};
use crate::house::House;
use crate::plan::{Entry, Pathway, Service};
use crate::rules::{Limit, Sheet, over};
use crate::units::{Distance, plain};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    /// Between two pull points.
    section: Limit<Distance>,
}

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    for (index, conduit) in house.conduits() {
        let signal = is_for_signal(house, index);
        if matches!(signal, Ok(false)) {
            continue;
        }
        let length = match house.want_conduit_length(conduit) {
            Ok(length) => length,
            Err(lack) => {
                out.gap(sheet.id, &conduit.id, lack);
                continue;
            }
        };
        match signal {
            _ if !over(length.base(), limits.section.value.base()) => out.checked(),
            Err(lack) => out.gap(sheet.id, &conduit.id, lack),
            Ok(_) => {
                out.checked();
                out.find(finding(sheet, conduit, length, &limits.section));
            }
        }
    }
}

/// Whether a conduit is empty or holds anything but building wire, which is not meant.
fn is_for_signal(house: &House<'_>, conduit: usize) -> Result<bool, Lack> {
    let runs = house.runs_in(conduit);
    let mut lack = None;
    for run in runs {
        match house.service(*run as usize) {
            Some(Service::Power) => {}
            Some(_) => return Ok(true),
            None => lack = lack.or_else(|| house.want_service(*run as usize).err()),
        }
    }
    lack.map_or(Ok(runs.is_empty()), Err)
}

fn finding(
    sheet: &Sheet,
    conduit: &Entry<Pathway>,
    length: Distance,
    limit: &Limit<Distance>,
) -> Finding {
    let most = if length.unit().spelling == limit.value.unit().spelling {
        limit.value.to_string()
    } else {
        let most = length.same_unit(limit.value.quantity());
        format!("{} ({})", most.rounded_words(), limit.value)
    };
    let says = format!(
        "{} is {} long without a pull point, advised is {most} at most",
        conduit.id,
        length.rounded_words(),
    );
    let at = (conduit.length.span().or(conduit.route.span())).unwrap_or(conduit.span);
    let boxes = (length.base() / limit.value.base()).ceil() - 1.0;
    let advice = if boxes <= 1.0 {
        "put a pull box into it about half way, where it stays accessible".into()
    } else {
        format!(
            "put {} pull boxes into it, where they stay accessible, so that no part is longer than {most}",
            plain(boxes),
        )
    };
    let basis = if conduit.length.value().is_some() {
        "as stated"
    } else {
        "of straights by its route"
    };
    let figure = Shown {
        name: "route-length",
        value: length.base(),
        unit: "m",
        working: format!("{} {basis}", length.rounded_words()),
    };
    sheet
        .finding(&conduit.id, says, at, "this long")
        .with_figure(figure, limit.value.base())
        .with_authority(limit.authority.clone())
        .with_put_right(advice)
}
