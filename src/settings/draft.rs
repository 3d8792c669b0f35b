//! One rule's sheet in the making: built in, then the firm's sheet, then the entry in the settings.

use std::collections::BTreeMap;

use super::rules::{Change, apply};
use crate::rules::sheet::Whole;
use crate::rules::{Departure, Place, RULES, Sheet, What, sheet};
use crate::yaml::Span;

/// What has been set, and where.
pub struct Draft {
    rule: usize,
    built_in: Whole,
    whole: Whole,
    /// The place of the firm's own sheet.
    sheet: Option<Place>,
    level: Option<Place>,
    regions: Option<Place>,
    from_stage: Option<Place>,
    limits: BTreeMap<String, Place>,
    not_adopted: Option<(String, Place)>,
}

impl Draft {
    /// The sheet as built in; `None` only for one that does not read, which a test rules out.
    pub fn of(rule: usize) -> Option<Self> {
        let built_in = sheet(RULES[rule].id)?.whole().ok()?;
        Some(Self {
            rule,
            whole: built_in.clone(),
            built_in,
            sheet: None,
            level: None,
            regions: None,
            from_stage: None,
            limits: BTreeMap::new(),
            not_adopted: None,
        })
    }

    /// A sheet of the firm's own takes the place of what was there. `at` tells the place of a key,
    /// `level:`, or of a limit by its name.
    pub fn restate(&mut self, whole: Whole, at: impl Fn(&str) -> Place) {
        self.sheet = Some(at("id:"));
        self.level = Some(at("level:"));
        self.regions = Some(at("regions:"));
        self.from_stage = Some(at("from-stage:"));
        self.limits = whole
            .limits
            .keys()
            .map(|name| (name.clone(), at(name)))
            .collect();
        self.whole = whole;
    }

    /// An entry of the settings goes before every sheet.
    pub fn change(&mut self, change: &Change, place: impl Fn(Span) -> Place) {
        apply(change, &mut self.whole);
        if let Some((_, at)) = change.level {
            self.level = Some(place(at));
        }
        for limit in &change.limits {
            self.limits.insert(limit.name.clone(), place(limit.at));
        }
        if let Some((reason, at)) = &change.not_adopted {
            self.not_adopted = Some((reason.clone(), place(*at)));
        }
    }

    /// The sheet in effect, if it is not the built-in one, and what departs from that.
    pub fn finish(self) -> (Option<(usize, Sheet)>, Vec<Departure>) {
        let id = RULES[self.rule].id;
        let mut departures = Vec::new();
        let mut depart = |what, place: Option<Place>| {
            departures.extend(place.map(|place| Departure {
                rule: id,
                level: self.built_in.level,
                hazards: RULES[self.rule].hazards,
                what,
                place,
            }));
        };
        let (from, to) = (&self.built_in, &self.whole);
        if let Some((reason, place)) = self.not_adopted {
            depart(What::NotAdopted { reason }, Some(place));
        }
        if from.level != to.level {
            let (from, to) = (from.level, to.level);
            depart(What::Level { from, to }, self.level);
        }
        if from.regions != to.regions {
            let (from, to) = (from.regions.clone(), to.regions.clone());
            depart(What::Regions { from, to }, self.regions);
        }
        if from.from_stage != to.from_stage {
            let (from, to) = (from.from_stage, to.from_stage);
            depart(What::FromStage { from, to }, self.from_stage);
        }
        for (name, limit) in &to.limits {
            let built_in = from.limits.get(name);
            if built_in != Some(limit) {
                let what = What::Limit {
                    name: name.clone(),
                    from: built_in.map(|limit| limit.words()).unwrap_or_default(),
                    to: limit.words(),
                    authority: limit.authority.clone(),
                };
                depart(what, self.limits.get(name).cloned());
            }
        }
        if from != to {
            depart(What::Sheet, self.sheet);
        }
        let own = (from != to).then(|| sheet(id)).flatten();
        let own = own.map(|sheet| (self.rule, sheet.restated(self.whole)));
        (own, departures)
    }
}
