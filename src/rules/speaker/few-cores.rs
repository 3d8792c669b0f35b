//! A front speaker with no pair in reserve.

use crate::findings::{Finding, Lack, Redline, Report};
use crate::house::{House, Pulled, RoomPart};
use crate::plan::{Count, Service};
use crate::rules::Sheet;

pub use crate::rules::NoLimits as Limits;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    for room in house.media_rooms() {
        for pulled in &room.pulled {
            let concerns = match pulled.part {
                Some(part) => part == RoomPart::Front,
                None => true,
            };
            // Without a line at all it is speaker.no-line's.
            if !concerns || !pulled.is_speaker || pulled.active {
                continue;
            }
            if pulled.live.is_empty() && pulled.lack.is_none() {
                continue;
            }
            let speaker = &house.plan.endpoints[pulled.endpoint];
            match (reserve(house, pulled), pulled.part) {
                (Ok(None), Some(_)) => out.checked(),
                (Ok(Some(bare)), Some(_)) => {
                    out.checked();
                    out.find(finding(house, sheet, pulled.endpoint, &bare));
                }
                (Err(lack), Some(_)) => out.gap(sheet.id, &speaker.id, lack),
                // It matters only where there is nothing in reserve, or that is not known.
                (Ok(None), None) => {}
                (_, None) => {
                    if let Err(lack) = speaker.place.want("place", &speaker.id) {
                        out.gap(sheet.id, &speaker.id, lack);
                    }
                }
            }
        }
    }
}

/// A run with no pair in reserve.
struct Bare {
    run: usize,
    count: u32,
    used: u32,
}

/// The first run to a speaker, where neither it nor another has a pair in reserve and no spare ends
/// there.
fn reserve(house: &House<'_>, pulled: &Pulled) -> Result<Option<Bare>, Lack> {
    if pulled.spares > 0 {
        return Ok(None);
    }
    let (mut first, mut lack) = (None, pulled.lack.clone());
    for run in &pulled.live {
        let index = house.behind_cord(*run as usize);
        let run = &house.plan.runs[index];
        let cores = house
            .want_stock(run)
            .and_then(|stock| stock.cores.want("cores", &stock.id));
        match cores.and_then(|cores| Ok((cores.count, run.tie.or(Count(1))?.0))) {
            Ok((count, tie)) if count >= 2 * tie + 2 => return Ok(None),
            Ok((count, tie)) => {
                first = first.or(Some(Bare {
                    run: index,
                    count,
                    used: 2 * tie,
                }));
            }
            Err(missing) => lack = lack.or(Some(missing)),
        }
    }
    lack.map_or(Ok(first), Err)
}

fn finding(house: &House<'_>, sheet: &Sheet, speaker: usize, bare: &Bare) -> Finding {
    let run = &house.plan.runs[bare.run];
    let speaker = &house.plan.endpoints[speaker];
    let says = format!(
        "{} uses {} of its {} cores and no spare line ends at {}, a pair in reserve is advised",
        run.id, bare.used, bare.count, speaker.id
    );
    let at = run.stock.span().unwrap_or(run.span);
    let mut finding = sheet
        .finding(&run.id, says, at, "no pair left in this cable")
        .with_on(&speaker.id);
    let stock = house.want_stock(run).ok();
    if let Some(cores) = stock.and_then(|stock| stock.cores.span()) {
        finding = finding.with_mark(cores, "this many cores");
    }
    if let Some(place) = speaker.place.span() {
        finding = finding.with_mark(place, "at the front");
    }
    finding
        .with_put_right(format!(
            "pull {} with {} cores or more, or a second line to {} as a spare",
            run.id,
            bare.used + 2,
            speaker.id
        ))
        .with_redline(redline(house, bare))
}

/// A stock of the plan with a pair more, the fewest cores first, then the thinnest.
fn redline(house: &House<'_>, bare: &Bare) -> Option<Redline> {
    let cores = |stock: &crate::plan::Stock| {
        let cores = stock.cores.value();
        cores.map_or((0, 0.0), |cores| (cores.count, cores.size.area().value))
    };
    let stock = house
        .substitutes(bare.run, Service::Speaker, |stock| {
            cores(stock).0 >= bare.used + 2
        })
        .min_by(|a, b| {
            cores(a)
                .partial_cmp(&cores(b))
                .unwrap_or(std::cmp::Ordering::Equal)
        })?;
    house.pull_as(&[(bare.run, stock)])
}
