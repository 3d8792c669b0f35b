//! A signal cable whose listing is not enough for the space that it lies in.

use crate::findings::{Finding, Lack, Report};
use crate::house::{Asked, House, Jacket, Kin, Listed, Pull, Shell, Space};
use crate::plan::{Air, Entry, Pathway, PathwayKind};
use crate::rules::Sheet;
use crate::tables::listings::{Grade, Listing};

pub use crate::rules::NoLimits as Limits;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(listed) = house.listed() else { return };
    for (run, pull) in listed.pulls() {
        let on = &house.plan.runs[run].id;
        match pull.and_then(|pull| Ok((verdict(&listed, &pull)?, pull))) {
            Err(lack) => out.loud_gap(sheet.id, on, lack),
            Ok((Verdict::Elsewhere, _)) => {}
            Ok((Verdict::Enough, _)) => out.checked(),
            Ok((Verdict::Short(space, asked), pull)) => {
                out.checked();
                out.find(finding(house, sheet, &listed, &pull, space, asked));
            }
        }
    }
}

enum Verdict {
    Enough,
    /// No rating at all: `fire.unrated-in-wall` says so.
    Elsewhere,
    /// Not enough for this space, which asks for at least this.
    Short(Space, Asked),
}

fn verdict(listed: &Listed<'_, '_>, pull: &Pull<'_>) -> Result<Verdict, Lack> {
    let jacket = listed.jacket(pull)?;
    let Jacket::Printed(_, text) = jacket else {
        return Ok(Verdict::Elsewhere);
    };
    if !jacket.is_known(listed.region()) {
        return Err(Lack::absent(format!(
            "a known listing for {} (no table has {text})",
            pull.stock.id
        )));
    }
    let enough = |asked, kin| jacket.satisfies(asked, kin, listed.region());
    let least = least_kin(pull);
    let (mut short, mut lack): (Option<(Space, Asked)>, _) = (None, pull.lack.clone());
    for space in &pull.spaces {
        let demand = listed.demand(pull, *space);
        if !enough(demand.least, least) {
            if short.is_none_or(|(_, asked)| demand.least > asked) {
                short = Some((*space, demand.least));
            }
        } else if !enough(demand.most, pull.kin) {
            lack = lack.or(demand.lack).or_else(|| pull.kin_lack.clone());
        }
    }
    match (short, lack) {
        (Some((space, asked)), _) => Ok(Verdict::Short(space, asked)),
        (None, Some(lack)) => Err(lack),
        (None, None) => Ok(Verdict::Enough),
    }
}

/// The kin that asks least of the cable, for all that is known of the run.
fn least_kin(pull: &Pull<'_>) -> Kin {
    match pull.kin_lack {
        Some(_) => Kin::of(pull.service, false),
        None => pull.kin,
    }
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    listed: &Listed<'_, '_>,
    pull: &Pull<'_>,
    space: Space,
    asked: Asked,
) -> Finding {
    let run = &house.plan.runs[pull.run];
    let way = &house.plan.pathways[space.way as usize];
    let jacket = listed.jacket(pull).unwrap_or(&Jacket::Unrated);
    let text = match jacket {
        Jacket::Printed(_, text) => text,
        Jacket::Unrated => "",
    };
    let wants = listed.wants(pull);
    let (run_id, way_id, what) = (&run.id, &way.id, what(way));
    let says = match asked {
        Asked::Grade(grade) => {
            // What the advice names too: an X type is a choice for a thin cable only.
            let thin = jacket.demanded(grade, least_kin(pull));
            let least = jacket.demanded(grade.max(Grade::General), least_kin(pull));
            let more = match wants {
                Some((most, _)) if most != least => open(listed, pull, most),
                _ => String::new(),
            };
            let thin = if thin == least {
                String::new()
            } else {
                format!(" (a thin one in a small dwelling for {})", thin.name())
            };
            let least = least.name();
            let plastic = if space.shell == Shell::Plastic {
                ", in raceway that is not of metal"
            } else {
                ""
            };
            format!(
                "{run_id} is listed {text} where {way_id}, {what}, asks for {least}{thin}{plastic}{more}"
            )
        }
        Asked::NoCable => {
            format!(
                "{run_id} is listed {text} where {way_id}, {what}, takes no cable outside rigid metal conduit"
            )
        }
    };
    let at = run.stock.span().unwrap_or(run.span);
    let mut finding = sheet
        .finding(&run.id, says, at, "this cable")
        .with_on(&pull.stock.id)
        .with_on(&way.id);
    if let Some(rating) = pull.stock.rating.span() {
        finding = finding.with_mark(rating, "its listing");
    }
    let kind = way.air.span().or(way.kind.span());
    finding = finding.with_mark(kind.unwrap_or(way.span), what);
    // The sheet's own authority stands outside the US.
    if let Some(authority) = house.listing_authority(pull.kin.family(), false, " and 300.22") {
        finding = finding.with_authority(authority);
    }
    let by_metal = matches!(
        way.kind.value(),
        Some(PathwayKind::Plenum | PathwayKind::Riser)
    );
    let advice = match wants {
        Some((wanted, near)) => {
            let such = if near == wanted {
                String::new()
            } else {
                format!(" such as {}", near.name())
            };
            let metal = if by_metal {
                ", or run this one in metal conduit"
            } else {
                ""
            };
            let wanted = wanted.name();
            format!("pull a cable listed {wanted}, or one that may stand for it{such}{metal}")
        }
        None => {
            "lead it round the duct, or in EMT, IMC or RMC where the code lets anything in at all"
                .into()
        }
    };
    finding
        .with_put_right(advice)
        .with_redline(listed.redline(pull))
}

/// That more is wanted as long as the plan leaves something out.
fn open(listed: &Listed<'_, '_>, pull: &Pull<'_>, most: Listing) -> String {
    let mut lacks = pull
        .spaces
        .iter()
        .map(|space| listed.demand(pull, *space).lack);
    let lack = lacks.find(Option::is_some).flatten();
    match lack.or_else(|| pull.kin_lack.clone()) {
        Some(Lack::Absent(what)) => {
            format!(", and {} is wanted while {what} is not stated", most.name())
        }
        _ => format!(", and perhaps for {}", most.name()),
    }
}

/// What a space is, in words.
fn what(way: &Entry<Pathway>) -> &'static str {
    match way.kind.value() {
        Some(PathwayKind::Plenum) => match way.air.value() {
            Some(Air::Duct) => "a fabricated duct",
            Some(Air::JoistBay) => "a joist bay that moves air",
            _ => "a plenum",
        },
        Some(PathwayKind::Riser) => "a riser",
        _ => "a hidden space",
    }
}
