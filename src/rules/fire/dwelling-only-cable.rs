//! A cable of the X types, which are for one- and two-family dwellings and thin, elsewhere or thick.

use serde::Deserialize;

use crate::findings::{Finding, Lack, Report, Shown};
use crate::house::{House, Listed, Pull, Shell, Space};
use crate::rules::{Limit, Sheet};
use crate::tables::listings::{Family, Listing};
use crate::units::{Distance, plain};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    thinner_than: Limit<Distance>,
    coax_thinner_than: Limit<Distance>,
}

/// As thick as the limit is too thick; a rounding between inch and millimetre must not hide it.
const ROUNDING: f64 = 1.0 - 1e-9;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    let Some(listed) = house.listed() else { return };
    for (run, pull) in listed.pulls() {
        // A cable that is no X type, for all that is known, is not concerned.
        let Some(listing) = listed
            .jacket_of(run)
            .and_then(|jacket| jacket.dwelling_only(listed.region()))
        else {
            continue;
        };
        let pull = match pull {
            Ok(pull) => pull,
            Err(lack) => {
                out.loud_gap(sheet.id, &house.plan.runs[run].id, lack);
                continue;
            }
        };
        let case = Case {
            house,
            sheet,
            listed: &listed,
            pull: &pull,
            listing,
        };
        match case.judge(limits) {
            Err(lack) => out.loud_gap(sheet.id, &house.plan.runs[run].id, lack),
            Ok(found) => {
                out.checked();
                if let Some(finding) = found {
                    out.find(finding);
                }
            }
        }
    }
}

struct Case<'a, 'p> {
    house: &'a House<'p>,
    sheet: &'a Sheet,
    listed: &'a Listed<'a, 'p>,
    pull: &'a Pull<'p>,
    listing: Listing,
}

impl Case<'_, '_> {
    fn judge(&self, limits: &Limits) -> Result<Option<Finding>, Lack> {
        // Listed raceway takes an X type of any size, in any building.
        let bare = self
            .pull
            .spaces
            .iter()
            .find(|space| space.shell == Shell::Open);
        let Some(bare) = bare else {
            return self.pull.lack.clone().map_or(Ok(None), Err);
        };
        let limit = if self.listing.family() == Family::Coaxial {
            &limits.coax_thinner_than
        } else {
            &limits.thinner_than
        };
        let small = self.house.is_small_dwelling();
        if small == Ok(false) {
            return Ok(Some(self.elsewhere(*bare)));
        }
        let stock = self.pull.stock;
        let thick = stock
            .diameter
            .want("diameter", &stock.id)
            .map(|size| size.value.larger());
        match thick {
            Ok(thick) if thick.base() >= limit.value.base() * ROUNDING => {
                Ok(Some(self.thick(*bare, thick, limit)))
            }
            Ok(_) => small.map(|_| None),
            // Either would be needed; the building is missed by every such run, so it comes first.
            Err(lack) => small.and(Err(lack)),
        }
    }

    fn elsewhere(&self, space: Space) -> Finding {
        let building = self.house.plan.building.stated();
        let what = building.map_or("", |building| building.value.word());
        let says = format!(
            "{} is listed {} in a {what} building; X types are for one- and two-family dwellings",
            self.house.plan.runs[self.pull.run].id,
            self.listing.name(),
        );
        let finding = self.finding(space, says);
        match building {
            Some(building) => finding.with_mark(building.span, "no one- or two-family dwelling"),
            None => finding,
        }
    }

    fn thick(&self, space: Space, thick: Distance, limit: &Limit<Distance>) -> Finding {
        let says = format!(
            "{} is listed {} and {thick} thick; a bare X type has to be under {}",
            self.house.plan.runs[self.pull.run].id,
            self.listing.name(),
            limit.value,
        );
        let millimetres = thick.base() * 1000.0;
        let figure = Shown {
            name: "diameter",
            value: millimetres,
            unit: "mm",
            working: match thick.unit().spelling {
                "mm" => format!("{thick} as stated"),
                _ => format!("{thick} as stated = {} mm", plain(millimetres)),
            },
        };
        let mut finding = self
            .finding(space, says)
            .with_figure(figure, limit.value.base() * 1000.0);
        if finding.authority.is_none() {
            finding = finding.with_authority(limit.authority.clone());
        }
        match self.pull.stock.diameter.span() {
            Some(span) => finding.with_mark(span, "this thick"),
            None => finding,
        }
    }

    fn finding(&self, space: Space, says: String) -> Finding {
        let run = &self.house.plan.runs[self.pull.run];
        let way = &self.house.plan.pathways[space.way as usize];
        let at = run.stock.span().unwrap_or(run.span);
        let mut finding = self
            .sheet
            .finding(&run.id, says, at, "this cable")
            .with_on(&self.pull.stock.id)
            .with_on(&way.id);
        if let Some(rating) = self.pull.stock.rating.span() {
            finding = finding.with_mark(rating, "an X type");
        }
        // The sheet's own authority stands outside the US.
        let family = self.listing.family();
        if let Some(authority) = self.house.listing_authority(family, true, "") {
            finding = finding.with_authority(authority);
        }
        let advice = match self.listed.better(self.pull) {
            Some(better) => {
                format!("pull a cable listed {better}, or this one in listed raceway all the way")
            }
            None => "no cable may lie there outside rigid metal conduit".into(),
        };
        finding
            .with_put_right(advice)
            .with_redline(self.listed.redline(self.pull))
    }
}
