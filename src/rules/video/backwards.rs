//! An active or optical cable that starts at the display.

use std::collections::HashSet;

use crate::findings::{Finding, Lack, Redline, RedlineKind, Report};
use crate::house::{House, Line, Toward};
use crate::plan::{Build, Service};
use crate::rules::Sheet;

pub use crate::rules::NoLimits as Limits;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    // A cable that ends at its display lies the right way, whatever it is.
    let starts_at_display = |run: usize| {
        let from = house.ends(run).map(|(from, _)| from);
        from.is_some_and(|from| house.display_at(from).is_some())
    };
    for (on, lack) in house.hidden_runs(Service::Video, starts_at_display) {
        out.gap(sheet.id, on, lack);
    }
    if house.runs_of(Service::Video).next().is_none() {
        return;
    }
    let beside = house.beside();
    let mut judge = Judge {
        house,
        sheet,
        out,
        lacking: HashSet::new(),
    };
    for line in house.lines_of(Service::Video) {
        if let Err(lack) = house.follow(line) {
            judge.tangle(line, lack);
            continue;
        }
        let toward = house.line_toward(line, beside);
        for (step, toward) in line.steps.iter().zip(toward) {
            judge.run(step.run as usize, toward);
        }
    }
    for run in house.runs_of(Service::Video) {
        if house.is_spare(run) {
            judge.run(run, house.run_toward(run, beside));
        }
    }
}

struct Judge<'a, 'p> {
    house: &'a House<'p>,
    sheet: &'a Sheet,
    out: &'a mut Report,
    /// Stocks that are known to lack their build.
    lacking: HashSet<&'a str>,
}

impl Judge<'_, '_> {
    /// A line that cannot be followed is told of once, if it has a cable with a direction.
    fn tangle(&mut self, line: &Line, lack: Lack) {
        let directed = line.steps.iter().find(|step| {
            let run = &self.house.plan.runs[step.run as usize];
            let stock = self.house.want_stock(run).ok();
            stock.and_then(|stock| stock.build.value()) != Some(&Build::Passive)
        });
        if let Some(step) = directed {
            let run = &self.house.plan.runs[step.run as usize];
            self.out.gap(self.sheet.id, &run.id, lack);
        }
    }

    fn run(&mut self, index: usize, toward: Toward) {
        let run = &self.house.plan.runs[index];
        // Which way it lies does not matter before it is the wrong one.
        let toward = match toward {
            Toward::To => Ok(()),
            Toward::From => Err(None),
            Toward::Unknown(at) => {
                let endpoint = &self.house.plan.endpoints[at];
                let lack = endpoint.kind.want("kind", &endpoint.id).err();
                Err(Some(lack.unwrap_or(Lack::Reported)))
            }
        };
        let stock = match self.house.want_stock(run) {
            Ok(stock) => stock,
            Err(lack) if toward.is_err() => return self.out.gap(self.sheet.id, &run.id, lack),
            Err(_) => return,
        };
        if stock.build.value() == Some(&Build::Passive) {
            return;
        }
        let Err(unsure) = toward else {
            return self.out.checked();
        };
        match (stock.build.want("build", &stock.id), unsure) {
            (Err(lack), _) => {
                if self.lacking.insert(stock.id.as_str()) {
                    self.out.gap(self.sheet.id, &stock.id, lack);
                }
            }
            (Ok(_), Some(lack)) => self.out.gap(self.sheet.id, &run.id, lack),
            (Ok(build), None) => {
                self.out.checked();
                let found = finding(self.house, self.sheet, index, build);
                self.out.find(found);
            }
        }
    }
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    index: usize,
    build: &crate::plan::Stated<Build>,
) -> Finding {
    let run = &house.plan.runs[index];
    let ends = house
        .ends(index)
        .map(|(from, to)| (house.id(from), house.id(to)));
    let (from, to) = ends.unwrap_or((&run.id, &run.id));
    let kind = match build.value {
        Build::Optical => "an optical",
        _ => "an active",
    };
    let says = format!(
        "{} is {kind} cable with its source end at {from}, the display's side",
        run.id
    );
    let at = run.from.span().unwrap_or(run.span);
    let mut finding = sheet
        .finding(&run.id, says, at, "the source end")
        .with_on(from)
        .with_mark(build.span, "it has a direction");
    if let Some(to) = run.to.span() {
        finding = finding.with_mark(to, "where the picture comes from");
    }
    finding
        .with_put_right(format!("pull {} with its source end at {to}", run.id))
        .with_redline(turned(house, index))
}

/// Both ends exchanged.
fn turned(house: &House<'_>, index: usize) -> Option<Redline> {
    let run = &house.plan.runs[index];
    let (from, to) = house.ends(index)?;
    let (from, to) = (house.id(from), house.id(to));
    let edits = vec![
        house.edit(run, &run.from, "from", to.as_str())?,
        house.edit(run, &run.to, "to", from.as_str())?,
    ];
    Some(Redline {
        kind: RedlineKind::Change,
        title: format!("turn {} round, from {to} to {from}", run.id),
        edits,
    })
}
