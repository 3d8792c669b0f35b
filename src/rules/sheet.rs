//! A sheet: what is judged, how gravely, on what authority, and how it is explained.
//!
//! A sheet is YAML. Its parts are cut out of the text at their top-level keys and read only when
//! asked for: a review needs the level and the limits of every sheet, and the words of few. What a
//! review needs is kept, so that ten thousand plans read it once.

use std::any::Any;
use std::sync::OnceLock;

use serde::Deserialize;
use serde::de::DeserializeOwned;

use crate::findings::{Finding, Id, Level};
use crate::plan::{Region, Stage};
use crate::schema::{self, Schema, data};
use crate::yaml::Span;

/// One sheet of the rulebook.
#[derive(Debug)]
pub struct Sheet {
    pub id: &'static str,
    pub path: &'static str,
    pub level: Level,
    text: &'static str,
    regions: &'static str,
    from_stage: Option<Stage>,
    yields_to: Option<&'static str>,
    /// The limits as the rule's own type, once they have been asked for.
    limits: OnceLock<Option<Box<dyn Any + Send + Sync>>>,
}

data! { read [derive(Debug, Deserialize), serde(deny_unknown_fields, rename_all = "kebab-case")]
    /// The whole of a sheet, for checking that it is complete.
    pub struct Whole {
        /// Area and name of the rule, as its file is called: `speaker.undersized`.
        pub id: String,
        /// What is wrong, in one line without a full stop.
        pub title: String,
        /// How grave its findings are.
        pub level: Level,
        /// Clause, table, or "common practice".
        pub authority: String,
        /// Where it applies; everywhere if left out.
        @default pub regions: Option<Vec<Region>>,
        /// The stage of the work from which on it is judged.
        @default pub from_stage: Option<Stage>,
        /// A sheet that tells the same of a thing, and goes before this one.
        @default pub yields_to: Option<String>,
        /// The limits that the rule holds something against, by name.
        @default pub limits: std::collections::BTreeMap<String, AnyLimit>,
        /// What goes wrong in the room.
        pub why: String,
        /// What an installer does about it.
        pub put_right: String,
        /// The smallest plan that gives the finding, its line marked with `# <== here`.
        pub wrong: String,
        /// The same plan put right.
        pub right: String,
    }
}

data! { read [derive(Debug, Deserialize), serde(deny_unknown_fields, rename_all = "kebab-case")]
    /// A limit of any kind.
    pub struct AnyLimit {
        /// The limit, with its unit if it has one.
        pub value: String,
        /// Clause, table, or "common practice".
        pub authority: String,
        /// How grave its findings are, where that differs from the sheet's level.
        @default pub level: Option<Level>,
        /// Where it holds; everywhere if left out.
        @default pub regions: Option<Vec<Region>>,
    }
}

/// The schema of a sheet.
pub fn schema() -> serde_json::Value {
    let about = "A sheet of nailplate's rulebook: what is judged, how gravely, on what authority, and how it is explained. \
Load its YAML by the core schema of YAML 1.2. The spelling of limits is known to each rule alone.";
    schema::document("nailplate sheet", about, Whole::schema)
}

impl Sheet {
    pub fn new(id: &'static str, path: &'static str, text: &'static str) -> Self {
        let level = match part(text, "level").map(value) {
            Some("hazard") => Level::Hazard,
            Some("advice") => Level::Advice,
            _ => Level::Fault,
        };
        Self {
            id,
            path,
            level,
            text,
            regions: part(text, "regions").map(value).unwrap_or_default(),
            yields_to: part(text, "yields-to").map(value),
            from_stage: part(text, "from-stage").map(value).and_then(Stage::parse),
            limits: OnceLock::new(),
        }
    }

    pub fn text(&self) -> &'static str {
        self.text
    }

    /// Everything in the sheet, strictly.
    ///
    /// # Errors
    /// What is wrong with the sheet, with line and column.
    pub fn whole(&self) -> Result<Whole, String> {
        serde_yaml::from_str(self.text).map_err(|error| error.to_string())
    }

    /// The limits as the rule's own type.
    ///
    /// # Errors
    /// A limit that the rule does not know, or that the sheet lacks.
    pub fn decode<T: DeserializeOwned>(&self) -> Result<T, String> {
        let limits = part(self.text, "limits").map_or("{}", |part| part);
        // `limits: {}` on one line, or an indented mapping below its key.
        let body = limits.strip_prefix("limits:").unwrap_or(limits);
        let body = if body.trim().is_empty() { "{}" } else { body };
        serde_yaml::from_str(body).map_err(|error| format!("{}: limits: {error}", self.id))
    }

    /// The limits as the rule's own type; `None` for a sheet that does not fit, which a test of
    /// the rulebook rules out.
    pub fn limits<T: DeserializeOwned + Send + Sync + 'static>(&self) -> Option<&T> {
        let decode = || Some(Box::new(self.decode::<T>().ok()?) as Box<dyn Any + Send + Sync>);
        self.limits.get_or_init(decode).as_ref()?.downcast_ref()
    }

    /// One sentence that names what is wrong.
    pub fn title(&self) -> String {
        self.words("title")
    }

    pub fn authority(&self) -> String {
        self.words("authority")
    }

    /// What goes wrong in the room.
    pub fn why(&self) -> String {
        self.words("why")
    }

    /// What an installer does about it.
    pub fn put_right(&self) -> String {
        self.words("put-right")
    }

    fn words(&self, key: &str) -> String {
        let Some(part) = part(self.text, key) else {
            return String::new();
        };
        let parsed: Result<std::collections::BTreeMap<String, String>, _> =
            serde_yaml::from_str(part);
        parsed
            .ok()
            .and_then(|mut map| map.remove(key))
            .unwrap_or_default()
            .trim()
            .to_owned()
    }

    /// The sheet that goes before this one: where it has a finding on the same things, this one has
    /// nothing to add.
    pub fn yields_to(&self) -> Option<&'static str> {
        self.yields_to
    }

    /// Whether the sheet applies to a plan of this region and stage. Where the plan does not say the
    /// stage, a sheet that applies from one on is judged, and its rule says what is missing.
    pub fn applies(&self, region: Option<Region>, stage: Option<Stage>) -> bool {
        let in_region = self.regions.is_empty()
            || region.is_some_and(|region| has_word(self.regions, region.word()));
        let far_enough = self
            .from_stage
            .is_none_or(|from| stage.is_none_or(|stage| stage as u8 >= from as u8));
        in_region && far_enough
    }

    /// A finding of this sheet at its own level.
    pub fn finding(
        &self,
        on: &Id,
        says: impl Into<String>,
        at: Span,
        label: impl Into<String>,
    ) -> Finding {
        Finding::new(self.id, self.level, on.clone(), says, at, label)
    }
}

/// The text of one top-level key and what stands under it.
fn part<'t>(text: &'t str, key: &str) -> Option<&'t str> {
    let mut start = None;
    let mut at = 0;
    for line in text.split_inclusive('\n') {
        let top = !line.starts_with([' ', '#', '\n', '\r']);
        if top && let Some(start) = start {
            return Some(&text[start..at]);
        }
        if top
            && line
                .strip_prefix(key)
                .is_some_and(|rest| rest.starts_with(':'))
        {
            start = Some(at);
        }
        at += line.len();
    }
    start.map(|start| &text[start..])
}

/// The value of a part that is one line.
fn value(part: &str) -> &str {
    part.split_once(':').map_or("", |(_, value)| value.trim())
}

/// Whether `[us, ca]` has a word.
fn has_word(list: &str, word: &str) -> bool {
    list.trim_matches(['[', ']'])
        .split(',')
        .any(|item| item.trim() == word)
}
