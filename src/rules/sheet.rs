//! A sheet: what is judged, how gravely, on what authority, and how it is explained.
//!
//! A sheet is YAML. Its parts are cut out of the text at their top-level keys and read only when
//! asked for: a review needs the level and the limits of every sheet, and the words of few. What a
//! review needs is kept, so that ten thousand plans read it once.

use std::any::Any;
use std::collections::BTreeMap;
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
    /// The sheet as a firm has it, where that is not as built in.
    own: Option<Box<Whole>>,
    /// The limits as the rule's own type, once they have been asked for.
    limits: OnceLock<Option<Box<dyn Any + Send + Sync>>>,
}

data! { read [derive(Debug, Clone, PartialEq, Deserialize), serde(deny_unknown_fields, rename_all = "kebab-case")]
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
        @default pub limits: BTreeMap<String, AnyLimit>,
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

data! { read [derive(Debug, Clone, PartialEq, Deserialize), serde(deny_unknown_fields, rename_all = "kebab-case")]
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

impl AnyLimit {
    pub fn holds_in(&self, region: Region) -> bool {
        let regions = self.regions.as_ref();
        regions.is_none_or(|regions| regions.contains(&region))
    }

    /// Value, regions and level in words: `5 % in us, ca, advice`.
    pub fn words(&self) -> String {
        let mut words = self.value.clone();
        if let Some(regions) = &self.regions {
            words += &format!(" in {}", listed(Some(regions)));
        }
        if let Some(level) = self.level {
            words += &format!(", {level}");
        }
        words
    }
}

/// Regions in words.
pub fn listed(regions: Option<&[Region]>) -> String {
    match regions {
        Some([]) => "no region".into(),
        Some(regions) => {
            let words: Vec<_> = regions.iter().map(|region| region.word()).collect();
            words.join(", ")
        }
        None => "every region".into(),
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
        let mut sheet = Self {
            id,
            path,
            level: Level::Fault,
            text,
            regions: "",
            yields_to: None,
            from_stage: None,
            own: None,
            limits: OnceLock::new(),
        };
        for line in text.lines().filter(|line| !line.starts_with([' ', '#'])) {
            match line.split_once(':').map(|(key, value)| (key, value.trim())) {
                Some(("level", "hazard")) => sheet.level = Level::Hazard,
                Some(("level", "advice")) => sheet.level = Level::Advice,
                Some(("regions", words)) => sheet.regions = words,
                Some(("yields-to", id)) => sheet.yields_to = Some(id),
                Some(("from-stage", word)) => sheet.from_stage = Stage::parse(word),
                _ => {}
            }
        }
        sheet
    }

    /// The sheet of the same rule as a firm has it. What it yields to is not the firm's to say.
    pub fn restated(&self, whole: Whole) -> Self {
        Self {
            level: whole.level,
            from_stage: whole.from_stage,
            own: Some(Box::new(whole)),
            limits: OnceLock::new(),
            ..*self
        }
    }

    /// The sheet as built in, as written.
    pub fn text(&self) -> &'static str {
        self.text
    }

    /// Everything in the sheet, strictly.
    ///
    /// # Errors
    /// What is wrong with the sheet, with line and column.
    pub fn whole(&self) -> Result<Whole, String> {
        match &self.own {
            Some(own) => Ok((**own).clone()),
            None => serde_yaml::from_str(self.text).map_err(|error| error.to_string()),
        }
    }

    /// A limit of a sheet that is not as built in.
    pub fn own_limit(&self, name: &str) -> Option<&AnyLimit> {
        self.own.as_ref()?.limits.get(name)
    }

    /// The limits as the rule's own type.
    ///
    /// # Errors
    /// A limit that the rule does not know, or that the sheet lacks.
    pub fn decode<T: DeserializeOwned>(&self) -> Result<T, String> {
        if let Some(own) = &self.own {
            return serde_yaml::from_str(&spelled(&own.limits)).map_err(|error| reason(&error));
        }
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
        self.words("title", |own| &own.title)
    }

    pub fn authority(&self) -> String {
        self.words("authority", |own| &own.authority)
    }

    /// What goes wrong in the room.
    pub fn why(&self) -> String {
        self.words("why", |own| &own.why)
    }

    /// What an installer does about it.
    pub fn put_right(&self) -> String {
        self.words("put-right", |own| &own.put_right)
    }

    fn words(&self, key: &str, of: fn(&Whole) -> &String) -> String {
        if let Some(own) = &self.own {
            return of(own).trim().to_owned();
        }
        let Some(part) = part(self.text, key) else {
            return String::new();
        };
        let parsed: Result<BTreeMap<String, String>, _> = serde_yaml::from_str(part);
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
        let in_region = match &self.own {
            Some(own) => own
                .regions
                .as_ref()
                .is_none_or(|some| region.is_some_and(|region| some.contains(&region))),
            None => {
                self.regions.is_empty()
                    || region.is_some_and(|region| has_word(self.regions, region.word()))
            }
        };
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

/// Limits as YAML. A number stands bare, so that a rule may take it for a number or for text.
fn spelled(limits: &BTreeMap<String, AnyLimit>) -> String {
    let quoted = |text: &str| serde_json::Value::from(text).to_string();
    let mut out = String::new();
    for (name, limit) in limits {
        let is_number = limit.value.parse::<f64>().is_ok_and(f64::is_finite);
        let value = match is_number {
            true => limit.value.clone(),
            false => quoted(&limit.value),
        };
        out += &format!(
            "{}: {{value: {value}, authority: {}",
            quoted(name),
            quoted(&limit.authority)
        );
        if let Some(level) = limit.level {
            out += &format!(", level: {level}");
        }
        if let Some(regions) = &limit.regions {
            let words: Vec<_> = regions.iter().map(|region| region.word()).collect();
            out += &format!(", regions: [{}]", words.join(", "));
        }
        out += "}\n";
    }
    match out.is_empty() {
        true => "{}".into(),
        false => out,
    }
}

/// Why limits do not fit, without the place in a text that nobody has written.
fn reason(error: &serde_yaml::Error) -> String {
    let words = error.without_snippet().to_string();
    let bare = words
        .rsplit_once(" at line ")
        .map_or(&*words, |(bare, _)| bare);
    match bare {
        "invalid u64" | "invalid u32" | "invalid usize" => "a whole number is wanted".into(),
        "invalid floating point" => "a number without a unit is wanted".into(),
        _ => bare.to_owned(),
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

/// Whether `[us, ca]` has a word.
fn has_word(list: &str, word: &str) -> bool {
    list.trim_matches(['[', ']'])
        .split(',')
        .any(|item| item.trim() == word)
}
