//! A bundle of data cables that carries more current for devices than its conductors may.

use std::collections::HashSet;

use serde::Deserialize;

use crate::figures::Figure;
use crate::figures::poe::ConductorCurrent;
use crate::findings::{Finding, Lack, Redline, Report, Shown};
use crate::house::{House, PoeWay, poe_type};
use crate::plan::{Entry, Material, Region, Service, Stock};
use crate::rules::{Limit, Sheet, over};
use crate::tables::edition::Edition;
use crate::tables::listings::limited_power;
use crate::tables::poe::{bundle_ampacity, bundles_count_above};
use crate::units::{Celsius, figure3};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    table_2017: Limit<String>,
    table_2020: Limit<String>,
    table_2023: Limit<String>,
    /// The tables are for surroundings up to this.
    ambient: Limit<Celsius>,
}

/// The largest bundle that the tables have a column for.
const LARGEST: u32 = 192;

/// A bundle that is too hot.
struct Hot {
    run: usize,
    bundle: u32,
    current: ConductorCurrent,
    allowed: f64,
}

struct Judge<'j, 'p> {
    house: &'j House<'p>,
    edition: Edition,
    table: &'j Limit<String>,
    ambient: f64,
}

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    let (Ok(region), Ok(edition)) = (house.region(), house.edition()) else {
        return;
    };
    let table = match edition {
        Edition::E2017 => &limits.table_2017,
        Edition::E2020 => &limits.table_2020,
        Edition::E2023 => &limits.table_2023,
    };
    let judge = Judge {
        house,
        edition,
        table,
        ambient: limits.ambient.value.base(),
    };
    let mut seen = HashSet::new();
    for device in house.poe_devices() {
        let endpoint = &house.plan.endpoints[device];
        // A device whose own type takes no more than the threshold loads no bundle, whatever feeds it.
        let takes = endpoint.poe.value().and_then(|poe| poe_type(*poe));
        if takes.is_some_and(|takes| !over(takes.source_power.base(), bundles_count_above())) {
            out.checked();
            continue;
        }
        let ways = match house.poe_ways(device) {
            Ok(ways) => ways,
            Err(lack) => {
                out.loud_gap(sheet.id, &endpoint.id, lack);
                continue;
            }
        };
        for way in &ways {
            for run in way.channel.runs {
                if seen.insert(*run) {
                    judge.run(sheet, region, way, *run, out);
                }
            }
        }
    }
}

impl Judge<'_, '_> {
    fn run(
        &self,
        sheet: &Sheet,
        region: Region,
        way: &PoeWay<'_, '_>,
        run: usize,
        out: &mut Report,
    ) {
        let of = &self.house.plan.runs[run].id;
        match self.whichever(region, way, run) {
            Err(lack) => out.loud_gap(sheet.id, of, lack),
            Ok(found) => {
                out.checked();
                if let Some(hot) = found {
                    out.find(self.finding(sheet, way, &hot));
                }
            }
        }
    }

    /// Judges by the strongest source that may feed the device: where that does not heat the bundle, none does. What only
    /// some of them heat hangs on which it is.
    fn whichever(
        &self,
        region: Region,
        way: &PoeWay<'_, '_>,
        run: usize,
    ) -> Result<Option<Hot>, Lack> {
        let found = self.verdict(region, &way.at_best(), run)?;
        match (&way.strongest, &found) {
            (Some(strongest), Some(_)) => match self.verdict(region, way, run)? {
                None => Err(strongest.doubt()),
                found => Ok(found),
            },
            _ => Ok(found),
        }
    }

    fn verdict(
        &self,
        region: Region,
        way: &PoeWay<'_, '_>,
        run: usize,
    ) -> Result<Option<Hot>, Lack> {
        if !over(way.power().base(), bundles_count_above()) {
            return Ok(None);
        }
        if !self.table.holds_in(region) {
            return Err(Lack::absent(format!("a limit for {region}")));
        }
        let entry = &self.house.plan.runs[run];
        let bundle = entry.bundle.want("bundle", &entry.id)?.value.0;
        let stock = self.house.want_stock(entry)?;
        let current =
            ConductorCurrent::of(way.volts(), way.power(), way.pairs()).ok_or(Lack::Reported)?;
        let allowed = self.allowed(stock, bundle)?;
        if over(current.value(), allowed) {
            return Ok(Some(Hot {
                run,
                bundle,
                current,
                allowed,
            }));
        }
        let ambient = &entry.ambient;
        if ambient.is_bad() {
            return Err(Lack::Reported);
        }
        match ambient.value() {
            Some(ambient) if over(ambient.base(), self.ambient) => Err(Lack::absent(format!(
                "a correction of the ampacity for {} around {}",
                **ambient, entry.id
            ))),
            _ => Ok(None),
        }
    }

    /// Ampere that each conductor of a stock may carry in a bundle.
    fn allowed(&self, stock: &Entry<Stock>, bundle: u32) -> Result<f64, Lack> {
        let cores = stock.cores.want("cores", &stock.id)?;
        let material = stock.material.or(Material::Copper)?;
        if material != Material::Copper {
            return Err(Lack::absent(format!(
                "an ampacity of {material} of {}",
                stock.id
            )));
        }
        let ratings = stock
            .rating
            .value()
            .into_iter()
            .flat_map(|list| list.values());
        if let Some(own) = ratings
            .filter_map(|rating| limited_power(rating))
            .reduce(f64::min)
        {
            return Ok(own);
        }
        let found = bundle_ampacity(self.edition, cores.size, bundle);
        let none = || {
            let many = if bundle > LARGEST {
                format!(" in a bundle of {bundle}")
            } else {
                String::new()
            };
            Lack::absent(format!(
                "an ampacity of {} of {}{many}",
                cores.size, stock.id
            ))
        };
        Ok(found.ok_or_else(none)?.amperes)
    }

    fn finding(&self, sheet: &Sheet, way: &PoeWay<'_, '_>, hot: &Hot) -> Finding {
        let house = self.house;
        let run = &house.plan.runs[hot.run];
        let says = format!(
            "{} carries {} A in each conductor for {}, allowed in a bundle of {} cables is {} A",
            run.id,
            figure3(hot.current.value()),
            way.device.id,
            hot.bundle,
            figure3(hot.allowed)
        );
        let at = run.bundle.span().unwrap_or(run.span);
        let mut finding = sheet
            .finding(&run.id, says, at, "cables together")
            .with_on(&way.device.id)
            .with_on(&way.source.id);
        let cores = house
            .want_stock(run)
            .ok()
            .and_then(|stock| stock.cores.span());
        if let Some(cores) = cores {
            finding = finding.with_mark(cores, "this size of core");
        }
        if let Some(poe) = way.device.poe.span() {
            finding = finding.with_mark(poe, format!("fed with {}", way.power()));
        }
        let figure = Shown {
            name: ConductorCurrent::NAME,
            value: hot.current.value(),
            unit: ConductorCurrent::UNIT,
            working: format!(
                "{}; {}",
                hot.current.working(),
                house.edition_words(self.edition)
            ),
        };
        let stock = house.want_stock(run).ok();
        let fits = |bundle: &u32| {
            let allowed = stock.map(|stock| self.allowed(stock, *bundle));
            allowed
                .is_some_and(|allowed| allowed.is_ok_and(|most| !over(hot.current.value(), most)))
        };
        let put_right = match (1..hot.bundle.min(LARGEST)).rev().find(fits) {
            Some(1) => "lay each cable by itself, apart from the others".to_owned(),
            Some(most) => format!("part the cables into bundles of {most} at most"),
            None => "feed the device from a supply of its own".to_owned(),
        };
        finding
            .with_figure(figure, hot.allowed)
            .with_authority(self.table.authority.clone())
            .with_put_right(put_right)
            .with_redline(self.redline(hot))
    }

    /// The plan's thinnest stock that may carry the current in this bundle.
    fn redline(&self, hot: &Hot) -> Option<Redline> {
        let does = |stock: &Entry<Stock>| {
            let allowed = self.allowed(stock, hot.bundle);
            allowed.is_ok_and(|allowed| !over(hot.current.value(), allowed))
        };
        let house = self.house;
        let stock = house.thinnest(house.substitutes(hot.run, Service::Data, does))?;
        house.pull_as(&[(hot.run, stock)])
    }
}
