//! A conduit that its cables cannot be pulled through without harm.

use crate::figures::Figure;
use crate::figures::tension::SidewallPressure;
use crate::findings::{Finding, Lack, Report};
use crate::house::{House, PullBasis, PullLimit, Way};
use crate::plan::{Entry, Pathway};
use crate::rules::{Sheet, over, shown};
use crate::tables::pulling::{sidewall, sources};

pub use crate::rules::NoLimits as Limits;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let mut cables = Cables {
        house,
        of: vec![None; house.plan.stock.len()],
    };
    for (index, conduit) in house.conduits() {
        let runs = house.loose_in(index);
        if runs.is_empty() {
            continue;
        }
        let (weighed, weakest, whole) = cables.weakest(sheet, &runs, out);
        if !weighed {
            continue;
        }
        let case = Case {
            house,
            sheet,
            conduit,
            cables: runs.len(),
            weakest,
        };
        let verdict = house.ways(index, &runs).and_then(|ways| case.verdict(ways));
        match verdict {
            Err(lack) => out.gap(sheet.id, &conduit.id, lack),
            Ok(Some(finding)) => {
                out.checked();
                out.find(finding);
            }
            // What a stock lacks has been told of it.
            Ok(None) if !whole => {}
            Ok(None) => out.checked(),
        }
    }
}

/// What is known of a stock, asked for once.
#[derive(Debug, Clone, Copy)]
struct Cable {
    weighed: bool,
    limit: Option<PullLimit>,
}

struct Cables<'h, 'p> {
    house: &'h House<'p>,
    of: Vec<Option<Cable>>,
}

impl Cables<'_, '_> {
    /// Whether all weights are known, the run that bears least, and whether all limits are known. What
    /// a stock lacks is told once.
    fn weakest(
        &mut self,
        sheet: &Sheet,
        runs: &[u32],
        out: &mut Report,
    ) -> (bool, Option<(usize, PullLimit)>, bool) {
        let (mut weighed, mut whole) = (true, true);
        let mut weakest: Option<(usize, PullLimit)> = None;
        for run in runs {
            let index = *run as usize;
            let run = &self.house.plan.runs[index];
            let Some(at) = run.stock.value().map(|stock| stock.at()) else {
                let lack = self.house.want_stock(run).err();
                out.gap(sheet.id, &run.id, lack.unwrap_or(Lack::Reported));
                weighed = false;
                continue;
            };
            let cable = *self.of[at].get_or_insert_with(|| {
                let stock = &self.house.plan.stock[at];
                let weight = stock.weight.want("weight", &stock.id);
                let limit = self.house.pull_limit(stock);
                let cable = Cable {
                    weighed: weight.is_ok(),
                    limit: limit.as_ref().ok().copied(),
                };
                for lack in weight.err().into_iter().chain(limit.err()) {
                    out.gap(sheet.id, &stock.id, lack);
                }
                cable
            });
            weighed &= cable.weighed;
            match cable.limit {
                Some(limit)
                    if weakest.is_none_or(|(_, least)| limit.force.base() < least.force.base()) =>
                {
                    weakest = Some((index, limit));
                }
                Some(_) => {}
                None => whole = false,
            }
        }
        (weighed, weakest, whole)
    }
}

/// What is wrong with one way to pull.
enum Fault {
    Tension(PullLimit),
    /// And what is allowed, in N/m.
    Pressure(SidewallPressure, f64),
}

struct Case<'a, 'p> {
    house: &'a House<'p>,
    sheet: &'a Sheet,
    conduit: &'a Entry<Pathway>,
    cables: usize,
    weakest: Option<(usize, PullLimit)>,
}

impl Case<'_, '_> {
    /// A finding where neither way will do.
    fn verdict(&self, ways: [Way; 2]) -> Result<Option<Finding>, Lack> {
        let [first, second] = &ways;
        let (better, other) = if second.tension.value() < first.tension.value() {
            (second, first)
        } else {
            (first, second)
        };
        let (of_better, of_other) = (self.fault(better), self.fault(other));
        if matches!(of_better, Ok(None)) || matches!(of_other, Ok(None)) {
            return Ok(None);
        }
        // A way that may do keeps the other from being a finding.
        of_other?;
        Ok(of_better?.map(|fault| self.finding(better, other, &fault)))
    }

    fn fault(&self, way: &Way) -> Result<Option<Fault>, Lack> {
        let tension = way.tension.value();
        if let Some((_, limit)) = self.weakest
            && over(tension, limit.force.base())
        {
            return Ok(Some(Fault::Tension(limit)));
        }
        let Some(allowed) = sidewall() else {
            return Ok(None);
        };
        let widest = self.house.pressure(self.conduit, way, false)?;
        if over(widest.value(), allowed.base()) {
            return Ok(Some(Fault::Pressure(widest, allowed.base())));
        }
        let tightest = self.house.pressure(self.conduit, way, true)?;
        if over(tightest.value(), allowed.base()) {
            return Err(Lack::absent(format!("radius of {}", self.conduit.id)));
        }
        Ok(None)
    }

    fn finding(&self, better: &Way, other: &Way, fault: &Fault) -> Finding {
        let Self {
            house,
            sheet,
            conduit,
            ..
        } = self;
        let pull = better.tension.pull();
        let what = match self.cables {
            1 => "its cable".to_owned(),
            many => format!("its {many} cables"),
        };
        let stock = self
            .weakest
            .and_then(|(run, _)| house.want_stock(&house.plan.runs[run]).ok());
        let cable = stock.map_or("a cable", |stock| stock.id.as_str());
        let (says, mut figure, limit, authority) = match fault {
            Fault::Tension(limit) => {
                let says = format!(
                    "{} takes {} to pull {what} through the better way, {cable} bears {}",
                    conduit.id,
                    pull.shown(better.tension.value()),
                    pull.shown(limit.force.base()),
                );
                let mut figure = shown(&better.tension);
                figure.working += &basis(cable, limit);
                let [pair, conductors, ..] = sources();
                let authority = match limit.basis {
                    PullBasis::Stated => "the cable's maker",
                    PullBasis::FourPair => pair,
                    PullBasis::Conductors(..) => conductors,
                };
                (says, figure, limit.force.base(), authority)
            }
            Fault::Pressure(pressure, allowed) => {
                let says = format!(
                    "{} presses {what} with {} in the worst bend, pulled the better way; allowed is {}",
                    conduit.id,
                    pull.shown_pressure(pressure.value()),
                    pull.shown_pressure(*allowed),
                );
                let mut figure = shown(pressure);
                figure.working += &format!("; {}", better.tension.working());
                (says, figure, *allowed, sources()[1])
            }
        };
        figure.working += &better.taken();
        let at = (conduit.route.span())
            .or(conduit.bends.span())
            .or(conduit.length.span())
            .unwrap_or(conduit.span);
        let mut finding = sheet.finding(&conduit.id, says, at, "pulled through this");
        if let Some((run, _)) = self.weakest {
            let run = &house.plan.runs[run];
            finding = finding.with_on(&run.id);
            let weak = stock.map(|stock| stock.pull_limit.span().unwrap_or(stock.span));
            finding = finding.with_mark(weak.unwrap_or(run.span), "the weakest cable in it");
        }
        if let Some(span) = stock.and_then(|stock| stock.weight.span()) {
            finding = finding.with_mark(span, "its weight");
        }
        let way = |way: &Way| match house.feed_and_pull(conduit, way.reversed) {
            [Some(feed), Some(pull)] => format!("feed it in at {feed} and pull at {pull}"),
            [Some(feed), None] => format!("feed it in at {feed}"),
            [None, Some(pull)] => format!("pull at {pull}"),
            [None, None] if way.reversed => "feed it in at the end of its route".to_owned(),
            [None, None] => "feed it in at the start of its route".to_owned(),
        };
        let worse = other.tension.value();
        let direction = if over(worse, better.tension.value()) {
            format!(
                "; {} (the other way takes {})",
                way(better),
                pull.shown(worse)
            )
        } else {
            String::new()
        };
        let fewer = if self.cables > 1 {
            "pull fewer cables at a time, "
        } else {
            ""
        };
        let sweeps = match fault {
            Fault::Pressure(..) => "lay wider sweeps, ",
            Fault::Tension(_) => "",
        };
        finding
            .with_figure(figure, limit)
            .with_authority(authority)
            .with_put_right(format!(
                "{fewer}{sweeps}put a pull box into it, or pull with compound and state the `friction` that it gives{direction}"
            ))
    }
}

fn basis(cable: &str, limit: &PullLimit) -> String {
    match limit.basis {
        PullBasis::Stated => format!("; {cable} bears {} as stated", limit.force),
        PullBasis::FourPair => format!("; {cable} of four pairs bears {}", limit.force),
        PullBasis::Conductors(count, size) => format!(
            "; {cable} of {count} copper conductors of {size} bears {} by their area",
            limit.force.to_hundredths()
        ),
    }
}
