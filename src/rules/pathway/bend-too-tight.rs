//! A conduit whose bends are tighter than a cable in it may be bent.

use crate::findings::{Finding, Lack, Level, Report, Shown};
use crate::house::{House, InsideRadius, LeastRadius};
use crate::plan::{Entry, Pathway};
use crate::rules::{Sheet, over};
use crate::tables::bends::CableKind;
use crate::units::plain;

pub use crate::rules::NoLimits as Limits;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let mut cables = Cables {
        house,
        of: vec![Cable::NotAsked; house.plan.stock.len()],
    };
    for (index, conduit) in house.conduits() {
        let runs = house.loose_in(index);
        if runs.is_empty() {
            continue;
        }
        let bent = match house.want_bends(conduit) {
            Ok(mut bends) => bends.any(|bend| bend.base() > 0.0),
            Err(lack) => {
                out.gap(sheet.id, &conduit.id, lack);
                continue;
            }
        };
        if !bent {
            out.checked();
            continue;
        }
        let radius = match house.inside_radius(conduit) {
            Ok(radius) => radius,
            Err(lack) => {
                out.gap(sheet.id, &conduit.id, lack);
                continue;
            }
        };
        let (stiffest, whole) = cables.stiffest(sheet, &runs, out);
        let need = stiffest.map_or(0.0, |(_, need)| need.pulled.base());
        if let Some((run, need)) = stiffest.filter(|_| over(need, radius.most.1.base())) {
            out.checked();
            out.find(finding(house, sheet, conduit, run, &need, &radius));
        } else if over(need, radius.least.1.base()) {
            out.gap(
                sheet.id,
                &conduit.id,
                Lack::absent(format!("radius of {}", conduit.id)),
            );
        } else if whole {
            out.checked();
        }
    }
}

/// What is known of a stock's least radius, asked for once.
#[derive(Debug, Clone, Copy)]
enum Cable {
    NotAsked,
    Known(LeastRadius),
    /// It has been told.
    Lacking,
}

struct Cables<'h, 'p> {
    house: &'h House<'p>,
    of: Vec<Cable>,
}

impl Cables<'_, '_> {
    /// The run that wants the widest bend, and whether all are known. What a stock lacks is told once.
    fn stiffest(
        &mut self,
        sheet: &Sheet,
        runs: &[u32],
        out: &mut Report,
    ) -> (Option<(usize, LeastRadius)>, bool) {
        let (mut stiffest, mut whole): (Option<(usize, LeastRadius)>, _) = (None, true);
        for run in runs {
            let run = *run as usize;
            let Some(at) = self.house.plan.runs[run]
                .stock
                .value()
                .map(|stock| stock.at())
            else {
                let lack = self.house.want_stock(&self.house.plan.runs[run]).err();
                out.gap(
                    sheet.id,
                    &self.house.plan.runs[run].id,
                    lack.unwrap_or(Lack::Reported),
                );
                whole = false;
                continue;
            };
            if matches!(self.of[at], Cable::NotAsked) {
                let stock = &self.house.plan.stock[at];
                self.of[at] = match self.house.least_bend(stock) {
                    Ok(radius) => Cable::Known(radius),
                    Err(lack) => {
                        out.gap(sheet.id, &stock.id, lack);
                        Cable::Lacking
                    }
                };
            }
            match self.of[at] {
                Cable::Known(radius) => {
                    if stiffest.is_none_or(|(_, most)| radius.pulled.base() > most.pulled.base()) {
                        stiffest = Some((run, radius));
                    }
                }
                _ => whole = false,
            }
        }
        (stiffest, whole)
    }
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    conduit: &Entry<Pathway>,
    run: usize,
    need: &LeastRadius,
    radius: &InsideRadius,
) -> Finding {
    let (centre, inside) = radius.most;
    let run = &house.plan.runs[run];
    let stock = run.stock.value().map(|stock| &house.plan.stock[stock.at()]);
    let cable = stock.map_or("its cable", |stock| stock.id.as_str());
    let says = format!(
        "{} bends to {} on the inside, {cable} is pulled round no less than {}",
        conduit.id,
        inside.rounded_words(),
        need.pulled.rounded_words(),
    );
    let at = (conduit.radius.span())
        .or(conduit.bends.span())
        .or(conduit.route.span())
        .unwrap_or(conduit.span);
    let mut finding = sheet.finding(&conduit.id, says, at, "bends too tight");
    // At rest it would do: the cable suffers while it is pulled, if it is pulled hard.
    if !over(need.laid.base(), inside.base()) {
        finding.level = Level::Advice;
    }
    finding = finding.with_on(&run.id);
    if let Some(stock) = stock {
        let span = stock.bend_radius.span().or(stock.diameter.span());
        finding = finding
            .with_on(&stock.id)
            .with_mark(span.unwrap_or(stock.span), "the stiffest cable in it");
    }
    let stated = conduit.radius.value().is_some();
    let figure = Shown {
        name: "bend-radius",
        value: inside.base() * 1000.0,
        unit: "mm",
        working: format!(
            "{} to the centre line{} − {} ÷ 2 = {}; {cable}: {}",
            centre.rounded_words(),
            if stated { "" } else { " by its trade size" },
            radius.bore,
            inside.rounded_words(),
            need.working(),
        ),
    };
    let mut authority = match need.by.map(|(kind, _)| kind) {
        None => "the cable's maker".to_owned(),
        Some(CableKind::Data) => "TIA-568; under pull from memory".to_owned(),
        Some(CableKind::ScreenedData) => "TIA-568, older editions, from memory".to_owned(),
        Some(CableKind::Coax) => "common practice, no source".to_owned(),
        Some(CableKind::Fibre) => "TIA-568, from memory".to_owned(),
        Some(CableKind::Building) => "NEC 334.24 (NM), 340.24 (UF), from memory".to_owned(),
    };
    if !stated {
        authority += "; NEC chapter 9 table 2 for the conduit, from memory";
    }
    // The next tenth up, so that the edit holds.
    let size = need.pulled.unit().size;
    let enough =
        ((need.pulled.base() + radius.bore.base() / 2.0) / size * 10.0 - 1e-9).ceil() / 10.0;
    let enough = format!("{} {}", plain(enough), need.pulled.unit().spelling);
    let edit = house.edit(conduit, &conduit.radius, "radius", &enough);
    finding
        .with_figure(figure, need.pulled.base() * 1000.0)
        .with_authority(authority)
        .with_put_right(format!(
            "use sweeps with a radius of {enough} or more to the centre line, or a cable that bends tighter"
        ))
        .with_redline(house.change(format!("bend {} to a radius of {enough}", conduit.id), edit))
}
