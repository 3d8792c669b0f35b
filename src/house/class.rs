//! Reaction-to-fire classes: what each place asks for, and what each stock is declared as.

use std::collections::HashSet;

use super::topology::{House, small};
use crate::findings::Lack;
use crate::plan::{DEEPEST, Entry, Field, PathwayKind as Kind, Stock, Text};
use crate::tables::cpr::{Euroclass, meets};

/// Who asks for a class.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Asker {
    Way(u32),
    Plan,
}

/// What asks for a class in a pathway: itself and those around it, else the plan.
#[derive(Debug, Default, Clone)]
struct Ways {
    asking: Vec<u32>,
    /// Neither it nor any around it asks, and it is in the building: the plan's own class counts.
    open: bool,
}

/// The classes that a plan asks for. `None` for one that is not stated.
#[derive(Debug)]
pub struct Classes {
    plan: Option<Result<Euroclass, Lack>>,
    stated: Vec<Option<Result<Euroclass, Lack>>>,
    ways: Vec<Ways>,
    any_way: bool,
}

/// What is declared of a stock.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Declared {
    /// Known to be of no class.
    Nothing,
    Classes(Vec<Euroclass>),
}

impl Declared {
    /// The classes that stand in a stock's rating.
    ///
    /// # Errors
    /// The plan states no rating, or none of it is a class.
    pub fn of(stock: &Entry<Stock>) -> Result<Self, Lack> {
        let rating = stock.rating.want("rating", &stock.id)?;
        let texts = || rating.values().map(|text| &**text);
        let classes: Vec<_> = texts().filter_map(Euroclass::parse).collect();
        if !classes.is_empty() {
            return Ok(Self::Classes(classes));
        }
        match texts().collect::<Vec<_>>().as_slice() {
            [] => Err(Lack::absent(format!("rating of {}", stock.id))),
            texts if texts.iter().all(|text| *text == "none") => Ok(Self::Nothing),
            texts => Err(Lack::absent(format!(
                "a class of EN 13501-6 for {} (its rating is {})",
                stock.id,
                texts.join(" ")
            ))),
        }
    }

    /// Whether one of the classes satisfies what is asked; `None` where that hangs on a criterion
    /// (smoke, droplets, acidity) that is not declared.
    pub fn satisfies(&self, asked: Euroclass) -> Option<bool> {
        let Self::Classes(classes) = self else {
            return Some(false);
        };
        let mut verdict = Some(false);
        for class in classes {
            match meets(*class, asked) {
                Some(true) => return Some(true),
                None => verdict = None,
                Some(false) => {}
            }
        }
        verdict
    }
}

impl Classes {
    /// The class that somebody asks for, if he does.
    pub fn asked(&self, asker: Asker) -> Option<&Result<Euroclass, Lack>> {
        match asker {
            Asker::Plan => self.plan.as_ref(),
            Asker::Way(way) => self.stated[way as usize].as_ref(),
        }
    }

    /// Who may ask for a class of a run's cable: its pathways that do, and the plan for the rest.
    ///
    /// # Errors
    /// `see` has been given all that is known, and what would tell the rest is missing.
    pub fn askers(
        &self,
        house: &House<'_>,
        run: usize,
        mut see: impl FnMut(Asker),
    ) -> Result<(), Lack> {
        let run = &house.plan.runs[run];
        let named = match run.through.want("through", &run.id) {
            Ok(through) if !through.0.is_empty() => through,
            found => {
                see(Asker::Plan);
                let in_open = run.lies_open();
                return match found {
                    _ if in_open || !self.any_way => Ok(()),
                    Ok(_) => Err(Lack::absent(format!("through of {}", run.id))),
                    Err(lack) => Err(lack),
                };
            }
        };
        let mut open = false;
        for way in named.values() {
            let ways = &self.ways[way.at()];
            ways.asking.iter().for_each(|way| see(Asker::Way(*way)));
            open |= ways.open;
        }
        if open {
            see(Asker::Plan);
        }
        Ok(())
    }
}

impl House<'_> {
    /// Whether anything in the plan asks for a class.
    pub fn asks_for_class(&self) -> bool {
        let ways = &self.plan.pathways;
        !self.plan.fire_class.is_absent() || ways.iter().any(|way| !way.fire_class.is_absent())
    }

    /// The classes that the plan asks for.
    pub fn classes(&self) -> Classes {
        let pathways = &self.plan.pathways;
        let stated: Vec<_> = pathways
            .iter()
            .map(|way| read(&way.fire_class, way.id.as_str()))
            .collect();
        let any_way = stated.iter().any(Option::is_some);
        let ways = (0..pathways.len()).map(|way| self.class_ways(way, &stated));
        Classes {
            plan: read(&self.plan.fire_class, "the plan"),
            ways: ways.collect(),
            stated,
            any_way,
        }
    }

    fn class_ways(&self, way: usize, stated: &[Option<Result<Euroclass, Lack>>]) -> Ways {
        let mut ways = Ways::default();
        let (mut seen, mut next) = (HashSet::from([way]), vec![(way, 1)]);
        let mut in_building = false;
        while let Some((at, depth)) = next.pop() {
            if stated[at].is_some() {
                ways.asking.push(small(at));
            }
            let way = &self.plan.pathways[at];
            let around = way.inside.value().map_or(&[][..], |list| &list.0);
            // A conduit in the ground is no more in the building than the ground is.
            let outside = matches!(way.kind.value(), Some(Kind::Outdoors | Kind::Underground));
            let carrier = matches!(
                way.kind.value(),
                Some(Kind::Conduit | Kind::Raceway | Kind::Tray)
            );
            in_building |= !outside && (!carrier || around.is_empty());
            if depth < DEEPEST {
                let around = around.iter().map(|outer| outer.value.at());
                next.extend(
                    around
                        .filter(|outer| seen.insert(*outer))
                        .map(|outer| (outer, depth + 1)),
                );
            }
        }
        ways.open = ways.asking.is_empty() && in_building;
        ways
    }
}

fn read(field: &Field<Text>, of: &str) -> Option<Result<Euroclass, Lack>> {
    match field {
        Field::Absent => None,
        Field::Bad => Some(Err(Lack::Reported)),
        Field::Stated(text) => Some(Euroclass::parse(&text.value).ok_or_else(|| {
            Lack::absent(format!(
                "a class of EN 13501-6 that {of} asks for (`fire-class` is {})",
                &*text.value
            ))
        })),
    }
}
