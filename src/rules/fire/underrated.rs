//! A signal cable whose listing is not enough for the space that it lies in.

use crate::findings::{Finding, Lack, Report};
use crate::house::{Asked, House, Jacket, Listed, Pull, Shell, Space, demanded};
use crate::plan::{Air, Entry, Pathway, PathwayKind};
use crate::rules::Sheet;

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
    let enough = |asked| jacket.satisfies(asked, pull.service, listed.region());
    let (mut short, mut lack): (Option<(Space, Asked)>, _) = (None, pull.lack.clone());
    for space in &pull.spaces {
        let demand = listed.demand(pull, *space);
        if !enough(demand.least) {
            if short.is_none_or(|(_, asked)| demand.least > asked) {
                short = Some((*space, demand.least));
            }
        } else if !enough(demand.most) {
            lack = lack.or(demand.lack);
        }
    }
    match (short, lack) {
        (Some((space, asked)), _) => Ok(Verdict::Short(space, asked)),
        (None, Some(lack)) => Err(lack),
        (None, None) => Ok(Verdict::Enough),
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
    let text = match listed.jacket(pull) {
        Ok(Jacket::Printed(_, text)) => text,
        _ => "",
    };
    let (run_id, way_id, what) = (&run.id, &way.id, what(way));
    let says = match asked {
        Asked::Grade(grade) => {
            let wanted = demanded(pull.service, grade).name();
            let plastic = if space.shell == Shell::Plastic {
                ", in raceway that is not of metal"
            } else {
                ""
            };
            format!("{run_id} is listed {text} where {way_id}, {what}, asks for {wanted}{plastic}")
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
    let metal = matches!(
        way.kind.value(),
        Some(PathwayKind::Plenum | PathwayKind::Riser)
    );
    let advice = match listed.better(pull) {
        Some(better) if metal => {
            format!("pull a cable listed {better}, or run this one in metal conduit")
        }
        Some(better) => format!("pull a cable listed {better}, or one that may stand for it"),
        None => {
            "lead it round the duct, or in EMT, IMC or RMC where the code lets anything in at all"
                .into()
        }
    };
    finding
        .with_put_right(advice)
        .with_redline(listed.redline(pull))
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
