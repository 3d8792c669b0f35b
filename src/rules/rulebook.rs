//! The rulebook that a review goes by: the built-in sheets, and what a firm's settings have put in their place.

use std::collections::HashSet;
use std::path::{Path, PathBuf};
use std::sync::{Arc, LazyLock};

use super::sheet::AnyLimit;
use super::{RULES, Rule, SHEETS, Sheet, sheet};
use crate::findings::{Finding, Level};
use crate::plan::{Region, Stage};

/// Which sheets are in effect. What is as built in takes no room, and is decoded once for all rulebooks.
#[derive(Debug, Default)]
pub struct Rulebook {
    /// In the order of [`RULES`], or none at all; `None` for a sheet that is as built in.
    own: Vec<Option<Sheet>>,
    left_out: HashSet<&'static str>,
    /// The settings that it was made by.
    pub settings: Option<PathBuf>,
    /// What is not as built in, in the order of the rules.
    pub departures: Vec<Departure>,
}

/// One thing that is not as built in, and which line says so.
#[derive(Debug, Clone, PartialEq)]
pub struct Departure {
    pub rule: &'static str,
    /// The rule's level as built in.
    pub level: Level,
    /// Whether its findings may be hazards, whatever that level.
    pub hazards: bool,
    pub what: What,
    pub place: Place,
}

/// A line of the settings, or of a firm's sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    pub path: Arc<Path>,
    /// From 1.
    pub line: usize,
}

/// What departs from the built-in sheet, from what to what.
#[derive(Debug, Clone, PartialEq)]
pub enum What {
    /// The rule does not judge.
    NotAdopted {
        reason: String,
    },
    Level {
        from: Level,
        to: Level,
    },
    /// In words: value, regions, level.
    Limit {
        name: String,
        from: String,
        to: String,
        authority: String,
    },
    Regions {
        from: Option<Vec<Region>>,
        to: Option<Vec<Region>>,
    },
    FromStage {
        from: Option<Stage>,
        to: Option<Stage>,
    },
    /// A sheet of the firm's own stands in the place of the built-in one.
    Sheet,
}

impl What {
    /// Whether less is judged, or less gravely. Which way a limit is the looser one only its rule knows.
    pub fn weakens(&self) -> bool {
        match self {
            Self::NotAdopted { .. } => true,
            Self::Level { from, to } => to < from,
            Self::Regions { from, to } => match (from, to) {
                (_, None) => false,
                (None, Some(_)) => true,
                (Some(from), Some(to)) => from.iter().any(|region| !to.contains(region)),
            },
            Self::FromStage { from, to } => {
                to.map(|stage| stage as u8) > from.map(|stage| stage as u8)
            }
            Self::Limit { .. } | Self::Sheet => false,
        }
    }
}

impl Departure {
    /// Whether a hazard may go unseen for it, or be told as less: the rule knows hazards, and judges less, less
    /// gravely, or by another limit.
    pub fn may_hide_hazard(&self) -> bool {
        match &self.what {
            // Those that a limit or the rule itself calls hazards stay such.
            What::Level { from, .. } => *from == Level::Hazard && self.what.weakens(),
            What::Limit { from, to, .. } => self.hazards && from != to,
            _ => self.hazards && self.what.weakens(),
        }
    }
}

impl Rulebook {
    /// The rulebook without any settings.
    pub fn built_in() -> &'static Arc<Self> {
        static BUILT_IN: LazyLock<Arc<Rulebook>> = LazyLock::new(Arc::default);
        &BUILT_IN
    }

    /// A rulebook by settings: sheets that stand in the place of the built-in ones, by index into [`RULES`].
    pub fn by(
        settings: &Path,
        sheets: impl IntoIterator<Item = (usize, Sheet)>,
        departures: Vec<Departure>,
    ) -> Self {
        let mut own = Vec::new();
        for (index, sheet) in sheets {
            if own.is_empty() {
                own.resize_with(RULES.len(), || None);
            }
            own[index] = Some(sheet);
        }
        let left_out = departures
            .iter()
            .filter(|departure| matches!(departure.what, What::NotAdopted { .. }))
            .map(|departure| departure.rule)
            .collect();
        Self {
            own,
            left_out,
            settings: Some(settings.to_owned()),
            departures,
        }
    }

    /// Whether a rule judges, or a mistake is reported, at all.
    pub fn adopts(&self, id: &str) -> bool {
        !self.left_out.contains(id)
    }

    /// How many rules judge less than they do as built in, limits aside.
    pub fn weakened(&self) -> usize {
        let weak = self
            .departures
            .iter()
            .filter(|departure| departure.what.weakens());
        let mut rules: Vec<_> = weak.map(|departure| departure.rule).collect();
        rules.dedup();
        rules.len()
    }

    /// What departs from one built-in sheet.
    pub fn departures_of(&self, id: &str) -> impl Iterator<Item = &Departure> {
        self.departures
            .iter()
            .filter(move |departure| departure.rule == id)
    }

    /// Says in the findings of a rule which limits it was judged by that are not as built in, and on whose word,
    /// as far as a finding does not say that itself.
    pub fn cite(&self, sheet: &Sheet, region: Option<Region>, findings: &mut [Finding]) {
        if findings.is_empty() || self.own_sheet(sheet.id).is_none() {
            return;
        }
        let changed: Vec<(&str, &AnyLimit)> = self
            .departures_of(sheet.id)
            .filter_map(|departure| match &departure.what {
                What::Limit { name, from, to, .. } if from != to => {
                    Some((&**name, sheet.own_limit(name)?))
                }
                _ => None,
            })
            .filter(|(_, limit)| region.is_none_or(|region| limit.holds_in(region)))
            .collect();
        let general = sheet.authority();
        for finding in findings {
            for (name, limit) in &changed {
                let said = finding.authority.as_deref().unwrap_or(&general);
                if !said.contains(&*limit.authority) {
                    let AnyLimit {
                        value, authority, ..
                    } = limit;
                    let cited = format!("{said}; judged with {name} {value}: {authority}");
                    finding.authority = Some(cited.into());
                }
            }
        }
    }

    /// Every rule that is adopted, with the sheet that it judges by.
    pub fn rules(&self) -> impl Iterator<Item = (&'static Rule, &Sheet)> {
        let all = RULES.iter().enumerate();
        all.filter(|(_, rule)| self.adopts(rule.id))
            .map(|(index, rule)| (rule, self.at(index)))
    }

    fn at(&self, index: usize) -> &Sheet {
        let own = self.own.get(index).and_then(Option::as_ref);
        own.unwrap_or(&SHEETS[index])
    }

    /// The sheet of a rule or of a mistake, adopted or not.
    pub fn sheet(&self, id: &str) -> Option<&Sheet> {
        self.own_sheet(id).or_else(|| sheet(id))
    }

    /// The sheet of a rule where it is not as built in.
    pub fn own_sheet(&self, id: &str) -> Option<&Sheet> {
        let index = RULES.binary_search_by(|rule| rule.id.cmp(id)).ok()?;
        self.own.get(index)?.as_ref()
    }
}
