//! A two-core so thick that its ends are hard to bend and to terminate.

use std::collections::HashSet;

use serde::Deserialize;

use crate::figures::Figure;
use crate::figures::line::{AWG_SIZES, METRIC_SIZES};
use crate::figures::tied::EquivalentSize;
use crate::findings::{Finding, Redline, RedlineKind, Report, Shown};
use crate::house::{House, SIGNAL_CELSIUS};
use crate::plan::{Cores, Entry, Service, Stated, Stock};
use crate::rules::{Limit, Sheet};
use crate::units::{Area, WireSize, figure3, unit};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    pub size: Limit<WireSize>,
    pub size_metric: Limit<WireSize>,
}

impl Limits {
    /// The limit of the series that a size is of.
    fn of(&self, size: WireSize) -> &Limit<WireSize> {
        match size {
            WireSize::Awg(_) => &self.size,
            WireSize::Metric(_) => &self.size_metric,
        }
    }
}

/// Cores tied for each leg, at most.
const MOST_TIED: u8 = 4;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    for (on, lack) in house.hidden_runs(Service::Speaker, |run| !house.is_spare(run)) {
        out.gap(sheet.id, on, lack);
    }
    let mut lacking = HashSet::new();
    for index in house.runs_of(Service::Speaker) {
        if house.is_spare(index) {
            continue;
        }
        let run = &house.plan.runs[index];
        let stock = match house.want_stock(run) {
            Ok(stock) => stock,
            Err(lack) => {
                out.gap(sheet.id, &run.id, lack);
                continue;
            }
        };
        match stock.cores.want("cores", &stock.id) {
            Err(lack) => {
                if lacking.insert(stock.id.as_str()) {
                    out.gap(sheet.id, &stock.id, lack);
                }
            }
            Ok(cores) => {
                out.checked();
                let limit = limits.of(cores.size);
                if cores.count == 2 && cores.size.area() >= limit.value.area() {
                    out.find(finding(house, sheet, index, stock, cores, limit));
                }
            }
        }
    }
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    index: usize,
    stock: &Entry<Stock>,
    cores: &Stated<Cores>,
    limit: &Limit<WireSize>,
) -> Finding {
    let run = &house.plan.runs[index];
    let says = format!(
        "{} is a two-core of {}, from {} on it is hard to bend into a terminal",
        run.id, cores.size, limit.value
    );
    let at = run.stock.span().unwrap_or(run.span);
    let mut finding = sheet
        .finding(&run.id, says, at, "this cable")
        .with_on(&stock.id)
        .with_mark(cores.span, "this size of core")
        .with_authority(limit.authority.clone());
    let area = |area: Area| area.get::<unit::square_millimeter>();
    let tied = tied_instead(cores.size, limit.value);
    if let Some(own) = EquivalentSize::of(cores.size, 1) {
        let mut working = match cores.size {
            WireSize::Awg(_) => format!("{} = {} mm2", cores.size, figure3(own.value())),
            WireSize::Metric(_) => cores.size.to_string(),
        };
        if let Some(tied) = &tied {
            working += &format!("; tied instead, {}", tied.figure.working());
        }
        let figure = Shown {
            name: EquivalentSize::NAME,
            value: own.value(),
            unit: EquivalentSize::UNIT,
            working,
        };
        finding = finding.with_figure(figure, area(limit.value.area()));
    }
    if let Some(tied) = tied {
        let cable = match tied.count {
            2 => "a four-core".to_owned(),
            tied => format!("{} cores", 2 * tied),
        };
        let words = format!(
            "pull {cable} of {} and tie {} for each leg: as much copper, and easier to bend",
            tied.size, tied.count
        );
        finding = finding.with_put_right(words);
    }
    finding.with_redline(redline(house, index, limit.value))
}

/// Thinner cores that come to as much copper when tied.
struct Tied {
    size: WireSize,
    count: u8,
    figure: EquivalentSize,
}

/// The fewest cores of a common size below the limit that have the area of `size` when tied; of
/// those the thinnest.
fn tied_instead(size: WireSize, limit: WireSize) -> Option<Tied> {
    let sizes = match size {
        WireSize::Awg(_) => &AWG_SIZES,
        WireSize::Metric(_) => &METRIC_SIZES,
    };
    (2..=MOST_TIED).find_map(|count| {
        let thin = sizes.iter().filter(|thin| thin.area() < limit.area());
        thin.filter_map(|thin| {
            Some(Tied {
                size: *thin,
                count,
                figure: EquivalentSize::of(*thin, count)?,
            })
        })
        .find(|tied| tied.figure.area() >= size.area())
    })
}

/// A stock of the plan with thinner cores that resists no more when they are tied.
fn redline(house: &House<'_>, index: usize, limit: WireSize) -> Option<Redline> {
    let run = &house.plan.runs[index];
    let ohms = |stock: &Entry<Stock>| {
        let wire = house.wire_of(stock, Service::Speaker, SIGNAL_CELSIUS);
        wire.map_or(f64::INFINITY, |wire| wire.ohm_per_metre())
    };
    let present = ohms(house.want_stock(run).ok()?);
    let count = |stock: &Entry<Stock>| stock.cores.value().map_or(0, |cores| cores.count);
    let tie = |stock: &Entry<Stock>| {
        let ties = 2..=count(stock).min(2 * u32::from(MOST_TIED)) / 2;
        ties.into_iter()
            .find(|tie| ohms(stock) / f64::from(*tie) <= present)
    };
    let thinner = |stock: &Entry<Stock>| {
        let cores = stock.cores.value();
        cores.is_some_and(|cores| cores.size.area() < limit.area()) && tie(stock).is_some()
    };
    let stock = house
        .recored(index, Service::Speaker, thinner)
        .min_by_key(|stock| tie(stock).map(|tie| (count(stock) - 2 * tie, tie)))?;
    let tie = tie(stock)?;
    let edits = vec![
        house.edit(run, &run.stock, "stock", stock.id.as_str())?,
        house.edit(run, &run.tie, "tie", &tie.to_string())?,
    ];
    Some(Redline {
        kind: RedlineKind::Change,
        title: format!(
            "pull {} as {}, {tie} cores tied for each leg",
            run.id, stock.id
        ),
        edits,
    })
}
