//! A cable whose reaction-to-fire class is below the one asked for where it lies.

use std::cell::OnceCell;
use std::collections::HashSet;

use serde::Deserialize;

use crate::findings::{Finding, Id, Lack, Redline, Report};
use crate::house::{Asker, Classes, Declared, House};
use crate::plan::{Entry, Region, Stock};
use crate::rules::{Limit, Sheet};
use crate::tables::cpr::{Euroclass, meets};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    least_class: Limit<LeastClass>,
}

/// A class that is asked for wherever the plan asks for none, or `none`.
#[derive(Debug, Clone, Deserialize)]
#[serde(try_from = "String")]
struct LeastClass(Option<(Euroclass, String)>);

impl TryFrom<String> for LeastClass {
    type Error = String;
    fn try_from(text: String) -> Result<Self, String> {
        if text == "none" {
            return Ok(Self(None));
        }
        match Euroclass::parse(&text) {
            Some(class) => Ok(Self(Some((class, text)))),
            None => Err(format!("{text} is no class of EN 13501-6")),
        }
    }
}

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let (Some(limits), Ok(region)) = (sheet.limits::<Limits>(), house.region()) else {
        return;
    };
    let held = limits.least_class.holds_in(region);
    let least = limits.least_class.value.0.as_ref().filter(|_| held);
    if !house.asks_for_class() && least.is_none() {
        // Where no class is usual, only one that the plan asks for is judged.
        if let (true, Some(run)) = (held, house.plan.runs.first()) {
            out.gap(sheet.id, &run.id, no_demand(region));
        }
        return;
    }
    let case = Case {
        house,
        sheet,
        least,
        classes: house.classes(),
        declared: house.plan.stock.iter().map(Declared::of).collect(),
        relisted: OnceCell::new(),
    };
    let (mut lacking, mut unasked) = (HashSet::new(), None);
    for (run, entry) in house.plan.runs.iter().enumerate() {
        let verdict = case.verdict(run);
        match verdict {
            Verdict::Unasked => unasked = unasked.or(Some(&entry.id)),
            Verdict::Good => out.checked(),
            Verdict::Short(asker) => {
                out.checked();
                out.find(case.finding(run, asker));
            }
            Verdict::Open(on, lack) => {
                // What belongs to the plan, a pathway or a stock is told once.
                if lacking.insert(on) {
                    out.loud_gap(sheet.id, on.unwrap_or(&entry.id), lack);
                }
            }
        }
    }
    if let (Some(run), true) = (unasked, held) {
        let lack = match house.plan.fire_class.is_absent() {
            true => no_demand(region),
            false => Lack::absent(
                "fire-class of a pathway outdoors or in the ground (that of the plan is for indoors)",
            ),
        };
        out.gap(sheet.id, run, lack);
    }
}

fn no_demand(region: Region) -> Lack {
    let whole = match region {
        Region::Gb => "no class is laid down for every cable in gb",
        _ => "no class holds in every country",
    };
    Lack::absent(format!("fire-class of the plan or of a pathway ({whole})"))
}

enum Verdict<'p> {
    /// No class is asked for.
    Unasked,
    Good,
    /// Below what is asked for here; `None` for the sheet's own class.
    Short(Option<Asker>),
    /// This thing, or the plan itself, lacks what would tell.
    Open(Option<&'p Id>, Lack),
}

struct Case<'a, 'p> {
    house: &'a House<'p>,
    sheet: &'a Sheet,
    least: Option<&'a (Euroclass, String)>,
    classes: Classes,
    declared: Vec<Result<Declared, Lack>>,
    /// For each stock, the class that would do for all of its runs.
    relisted: OnceCell<Vec<Wanted>>,
}

#[derive(Debug, Clone, PartialEq)]
enum Wanted {
    Nothing,
    One(Euroclass, Option<Asker>),
    /// No one class of those asked for satisfies all.
    Mixed,
}

impl<'p> Case<'_, 'p> {
    /// Sees each class that is asked of a run; then who could not be understood.
    fn asked(
        &self,
        run: usize,
        mut see: impl FnMut(Euroclass, Option<Asker>),
    ) -> Option<(Option<&'p Id>, Lack)> {
        let plan = self.house.plan;
        let mut open = None;
        let rest = self.classes.askers(self.house, run, |asker| {
            match (self.classes.asked(asker), asker) {
                (Some(Ok(class)), _) => see(*class, Some(asker)),
                (Some(Err(lack)), Asker::Way(way)) => {
                    open = Some((Some(&plan.pathways[way as usize].id), lack.clone()));
                }
                (Some(Err(lack)), Asker::Plan) => open = Some((None, lack.clone())),
                (None, _) => {
                    if let Some((class, _)) = self.least {
                        see(*class, None);
                    }
                }
            }
        });
        let rest = rest.err().map(|lack| (Some(&plan.runs[run].id), lack));
        open.or(rest)
    }

    fn verdict(&self, run: usize) -> Verdict<'p> {
        let plan = self.house.plan;
        let entry = &plan.runs[run];
        let stock = entry.stock.value().map(|stock| stock.at());
        let declared = stock.map(|stock| &self.declared[stock]);
        let (mut any, mut short, mut silent) = (false, None, false);
        let open = self.asked(run, |class, asker| {
            any = true;
            if let Some(Ok(declared)) = declared {
                let verdict = declared.satisfies(class);
                silent |= verdict.is_none();
                if verdict == Some(false) {
                    short = short.or(Some(asker));
                }
            }
        });
        if let Some(asker) = short {
            return Verdict::Short(asker);
        }
        match (open, stock, declared) {
            (None, ..) if !any => Verdict::Unasked,
            (Some((on, lack)), ..) if !any => Verdict::Open(on, lack),
            (_, Some(stock), Some(Err(lack))) => {
                Verdict::Open(Some(&plan.stock[stock].id), lack.clone())
            }
            (_, Some(stock), _) if silent => {
                let id = &plan.stock[stock].id;
                let lack =
                    format!("the criteria of the class of {id} that are asked for (s, d, a)");
                Verdict::Open(Some(id), Lack::absent(lack))
            }
            (_, None, _) => {
                let lack = entry.stock.want("stock", &entry.id).err();
                Verdict::Open(Some(&entry.id), lack.unwrap_or(Lack::Reported))
            }
            (Some((on, lack)), ..) => Verdict::Open(on, lack),
            (None, ..) => Verdict::Good,
        }
    }

    /// The class that somebody asks for, as it is written.
    fn text(&self, asker: Option<Asker>) -> &str {
        let field = match asker {
            None => return self.least.map_or("", |(_, text)| text),
            Some(Asker::Plan) => &self.house.plan.fire_class,
            Some(Asker::Way(way)) => &self.house.plan.pathways[way as usize].fire_class,
        };
        field.value().map_or("", |text| text)
    }

    fn finding(&self, run: usize, asker: Option<Asker>) -> Finding {
        let plan = self.house.plan;
        let entry = &plan.runs[run];
        let stock = entry.stock.value().map(|stock| &plan.stock[stock.at()]);
        let ratings = stock.and_then(|stock| stock.rating.value());
        let printed: Vec<&str> = ratings
            .into_iter()
            .flat_map(|list| list.values())
            .map(|text| &**text)
            .filter(|text| Euroclass::parse(text).is_some())
            .collect();
        let has = match printed.as_slice() {
            [] => "of no class".to_owned(),
            printed => format!("of class {}", printed.join(" and ")),
        };
        let (who, span) = match asker {
            None => ("this sheet".to_owned(), None),
            Some(Asker::Plan) => ("the plan".to_owned(), plan.fire_class.span()),
            Some(Asker::Way(way)) => {
                let way = &plan.pathways[way as usize];
                (way.id.to_string(), way.fire_class.span())
            }
        };
        let wanted = self.text(asker);
        let says = format!("{} is {has} where {who} asks for {wanted}", entry.id);
        let at = entry.stock.span().unwrap_or(entry.span);
        let mut finding = self.sheet.finding(&entry.id, says, at, "this cable");
        if let Some(stock) = stock {
            finding = finding.with_on(&stock.id);
            if let Some(rating) = stock.rating.span() {
                finding = finding.with_mark(rating, "its class");
            }
        }
        if let Some(Asker::Way(way)) = asker {
            finding = finding.with_on(&plan.pathways[way as usize].id);
        }
        if let Some(span) = span {
            finding = finding.with_mark(span, "the class asked for");
        }
        finding
            .with_put_right(format!(
                "pull a cable of class {wanted} or better, in each of its criteria too"
            ))
            .with_redline(self.redline(run, stock))
    }

    /// Another stock of the plan, else this one bought in the class that all its runs need.
    fn redline(&self, run: usize, stock: Option<&Entry<Stock>>) -> Option<Redline> {
        let house = self.house;
        let entry = &house.plan.runs[run];
        let service = house.service(run)?;
        let mut asked = Vec::new();
        let _ = self.asked(run, |class, _| asked.push(class));
        let does = |stock: &Entry<Stock>| {
            Declared::of(stock).is_ok_and(|declared| {
                asked
                    .iter()
                    .all(|class| declared.satisfies(*class) == Some(true))
            })
        };
        if let Some(stock) = house.substitutes(run, service, does).next() {
            let edit = house.edit(entry, &entry.stock, "stock", stock.id.as_str());
            return house.change(format!("pull {} as {}", entry.id, stock.id), edit);
        }
        let stock = stock?;
        // A catalogue says what there is, and a second marking would be lost.
        let file = |span| house.sources.spots(span).0.file;
        let simple = stock.rating.value().is_some_and(|list| list.0.len() == 1);
        if file(stock.span) != file(entry.span) || !simple {
            return None;
        }
        let at = entry.stock.value()?.at();
        let Wanted::One(_, asker) = self.relisted()[at] else {
            return None;
        };
        let class = self.text(asker);
        let edit = house.edit(stock, &stock.rating, "rating", &format!("\"{class}\""));
        house.change(format!("buy {} in class {class} instead", stock.id), edit)
    }

    fn relisted(&self) -> &[Wanted] {
        self.relisted.get_or_init(|| {
            let mut all = vec![Wanted::Nothing; self.house.plan.stock.len()];
            for (run, entry) in self.house.plan.runs.iter().enumerate() {
                let Some(stock) = entry.stock.value() else {
                    continue;
                };
                let wanted = &mut all[stock.at()];
                let _ = self.asked(run, |class, asker| {
                    *wanted = match wanted {
                        Wanted::Nothing => Wanted::One(class, asker),
                        Wanted::One(before, _) if meets(*before, class) == Some(true) => return,
                        Wanted::One(before, _) if meets(class, *before) == Some(true) => {
                            Wanted::One(class, asker)
                        }
                        _ => Wanted::Mixed,
                    };
                });
            }
            all
        })
    }
}
