//! A video cable whose grade does not carry the picture of the display behind it.

use std::collections::BTreeMap;

use serde::Deserialize;

use crate::figures::Figure;
use crate::figures::video::VideoRate;
use crate::findings::{Finding, Lack, Level, Redline, Report, Shown};
use crate::house::House;
use crate::plan::{Entry, Service, Stock};
use crate::rules::{Limit, Sheet, over};
use crate::tables::timings::Timing;
use crate::tables::video_grades::{Grade, named, weakest_for};
use crate::units::{Percent, figure3, plain};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    /// Above a grade by no more than this is advice.
    margin: Limit<Percent>,
    /// What compression divides a picture by.
    pub compression: Limit<f64>,
}

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    // A display's rate is the same for all its channels, and a run may be in several.
    let mut rates: BTreeMap<usize, Option<(VideoRate, Timing)>> = BTreeMap::new();
    let mut needs: BTreeMap<usize, usize> = BTreeMap::new();
    for (on, lack) in house.hidden_runs(Service::Video, |run| !house.is_spare(run)) {
        out.gap(sheet.id, on, lack);
    }
    for line in house.lines_of(Service::Video) {
        for channel in line.channels() {
            let Some(display) = house.display_at(channel.end) else {
                continue;
            };
            if let Err(lack) = house.follow(line) {
                out.gap(sheet.id, &house.plan.runs[channel.runs[0]].id, lack);
                continue;
            }
            let endpoint = &house.plan.endpoints[display];
            let rate = *rates.entry(display).or_insert_with(|| {
                let rate = house.video_rate(endpoint, limits.compression.value);
                rate.map_err(|lack| out.gap(sheet.id, &endpoint.id, lack))
                    .ok()
            });
            let Some((rate, _)) = rate else { continue };
            for run in &channel.runs {
                let known = needs.entry(*run).or_insert(display);
                let before = rates.get(known).copied().flatten();
                if before.is_some_and(|(before, _)| before.value() < rate.value()) {
                    *known = display;
                }
            }
        }
    }
    for (run, display) in needs {
        let Some(Some((rate, _))) = rates.get(&display) else {
            continue;
        };
        let entry = &house.plan.runs[run];
        match house.want_stock(entry).and_then(grade) {
            Err(lack) => out.gap(sheet.id, &entry.id, lack),
            Ok(grade) => {
                out.checked();
                if over(rate.value(), grade.carries.base()) {
                    out.find(finding(house, sheet, limits, run, display, rate, &grade));
                }
            }
        }
    }
}

fn grade(stock: &Entry<Stock>) -> Result<Grade, Lack> {
    let grade = stock.grade.want("grade", &stock.id)?;
    let none = || {
        Lack::absent(format!(
            "what {} of {} carries of video",
            grade.value, stock.id
        ))
    };
    named(grade.word()).ok_or_else(none)
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    limits: &Limits,
    run: usize,
    display: usize,
    rate: &VideoRate,
    grade: &Grade,
) -> Finding {
    let entry = &house.plan.runs[run];
    let display = &house.plan.endpoints[display];
    let carries = grade.carries.base();
    let near = !over(rate.value(), carries * (1.0 + limits.margin.value.base()));
    let says = format!(
        "{} is to carry {} Gbit/s to {}, {} cable carries {}{}",
        entry.id,
        figure3(rate.value()),
        display.id,
        grade.name,
        grade.carries,
        if near {
            format!(", less by no more than {}", limits.margin.value)
        } else {
            String::new()
        },
    );
    let stock = house.want_stock(entry).ok();
    let at = entry.stock.span().unwrap_or(entry.span);
    let mut finding = sheet
        .finding(&entry.id, says, at, "this cable")
        .with_on(&display.id);
    if near {
        finding.level = limits.margin.level.unwrap_or(Level::Advice);
        finding = finding.with_authority(limits.margin.authority.clone());
    }
    if let Some(stated) = stock.and_then(|stock| stock.grade.stated()) {
        finding = finding.with_mark(stated.span, format!("carries {}", grade.carries));
    }
    if let Some(picture) = display.picture.stated() {
        finding = finding.with_mark(picture.span, "the picture");
    }
    let mut working = rate.working();
    if display.depth.is_absent() {
        working += "; 8 bit taken, no depth stated";
    }
    if display.chroma.is_absent() {
        working += "; 4:4:4 taken, no chroma stated";
    }
    if display.compression.value().is_some_and(|yes| yes.0) {
        working += &format!(
            "; {} to 1 is {}",
            plain(limits.compression.value),
            limits.compression.authority
        );
    }
    let figure = Shown {
        name: VideoRate::NAME,
        value: rate.value(),
        unit: VideoRate::UNIT,
        working,
    };
    let put_right = match weakest_for(rate.value()) {
        Some(grade) => format!(
            "pull {} cable or better, or show a picture of less rate",
            grade.name
        ),
        None => {
            "no graded cable carries this picture: show it compressed, or with less depth or chroma"
                .into()
        }
    };
    finding
        .with_figure(figure, carries)
        .with_put_right(put_right)
        .with_redline(redline(house, run, rate))
}

/// The plan's stock of the least grade that is enough.
fn redline(house: &House<'_>, run: usize, rate: &VideoRate) -> Option<Redline> {
    let entry = &house.plan.runs[run];
    let carries = |stock: &Entry<Stock>| grade(stock).map_or(0.0, |grade| grade.carries.base());
    let stock = house
        .substitutes(run, Service::Video, |stock| {
            !over(rate.value(), carries(stock))
        })
        .min_by(|a, b| carries(a).total_cmp(&carries(b)))?;
    let edit = house.edit(entry, &entry.stock, "stock", stock.id.as_str());
    house.change(format!("pull {} as {}", entry.id, stock.id), edit)
}
