//! The faults as they are written in `faults/<area>.yaml`, and what each comes to in each house.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

use nailplate::findings::Level;
use nailplate::plan::MISTAKES;
use regex::{Captures, Regex};
use serde::Deserialize;

/// The clean houses.
pub const HOUSES: [&str; 4] = ["kestrel-row", "heron-mill", "plover-lane", "tern-quay"];

/// A fault as it is written.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Fault {
    pub rule: String,
    pub way: String,
    /// Why there is no second way to break the rule.
    pub one_way: Option<String>,
    /// The level that it has to be found at, where that is not left to the rule.
    level: Option<Level>,
    #[serde(default)]
    pub houses: Houses,
    /// Which faults cannot be found beside it.
    #[serde(default)]
    ends: Vec<Ends>,
    edits: Option<Vec<Edit>>,
    on: Option<OneOrMore>,
    at: Option<String>,
    also: Option<Vec<Also>>,
    /// What is otherwise in a house.
    #[serde(default, rename = "for")]
    otherwise: BTreeMap<String, Otherwise>,
}

/// In which houses a fault is planted; in all if nothing is said.
#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Houses {
    /// Where the rule cannot be broken, and why.
    #[serde(default)]
    pub not: BTreeMap<String, String>,
    #[serde(default)]
    pub only: Vec<String>,
    /// Why the rule is not planted in the others at all.
    pub why: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Otherwise {
    edits: Option<Vec<Edit>>,
    on: Option<OneOrMore>,
    at: Option<String>,
    also: Option<Vec<Also>>,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(untagged)]
pub enum OneOrMore {
    One(String),
    More(Vec<String>),
}

impl OneOrMore {
    fn all(&self) -> &[String] {
        match self {
            Self::One(one) => std::slice::from_ref(one),
            Self::More(more) => more,
        }
    }
}

/// One change to a text.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Edit {
    /// The file, where it is not the plan: a catalogue beside it.
    pub file: Option<String>,
    /// The section below whose head something is added; it is made if there is none.
    pub under: Option<String>,
    pub add: Option<String>,
    /// The thing in whose lines the text stands once: an id, section and id, or a key of the plan. The whole file if not said.
    #[serde(rename = "in")]
    pub within: Option<String>,
    pub change: Option<String>,
    pub to: Option<String>,
    pub drop: Option<String>,
}

/// A finding that truly follows.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Also {
    pub rule: String,
    pub on: Option<OneOrMore>,
    pub why: String,
}

/// Faults that are no faults any more once this one is there.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Ends {
    /// Rules, or all of a file of faults as `file.*`.
    rule: OneOrMore,
    /// The beginning of the way, where not every way is meant.
    way: Option<String>,
    why: String,
}

/// A fault in a house.
#[derive(Debug, Clone)]
pub struct Planting {
    pub house: &'static str,
    pub rule: String,
    pub way: String,
    pub level: Option<Level>,
    pub edits: Vec<Edit>,
    /// The things concerned, from the first on.
    pub on: Vec<String>,
    pub at: String,
    pub also: Vec<(String, Vec<String>)>,
    pub ends: Vec<Ends>,
}

impl Planting {
    pub fn name(&self) -> String {
        format!("{} in {}: {}", self.rule, self.house, self.way)
    }

    /// Why the other cannot be found beside this one.
    pub fn why_ends(&self, other: &Self) -> Option<&str> {
        let ends = self.ends.iter().find(|ends| ends.is_about(other));
        ends.map(|ends| ends.why.as_str())
    }
}

impl Ends {
    fn is_about(&self, other: &Planting) -> bool {
        let is_meant = |rule: &String| match rule.strip_suffix(".*") {
            Some(file) => area(&other.rule) == file,
            None => other.rule == *rule,
        };
        let rule = self.rule.all().iter().any(is_meant);
        rule && self
            .way
            .as_ref()
            .is_none_or(|way| other.way.starts_with(way.as_str()))
    }
}

/// The file that a rule's faults stand in: that of its folder under `rules/`.
pub fn area(rule: &str) -> &str {
    match MISTAKES.contains(&rule) {
        true => "reading",
        false => rule.split('.').next().expect("an area"),
    }
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/planted")
}

fn loaded<T: serde::de::DeserializeOwned>(path: &Path) -> T {
    let text = fs::read_to_string(path).unwrap_or_else(|error| panic!("{path:?}: {error}"));
    serde_yaml::from_str(&text).unwrap_or_else(|error| panic!("{path:?}: {error}"))
}

/// Every fault by its area, in the order in which they are written.
pub static FAULTS: LazyLock<Vec<(String, Fault)>> = LazyLock::new(|| {
    let files = fs::read_dir(folder().join("faults")).expect("the folder is there");
    let mut files: Vec<_> = files.flatten().map(|file| file.path()).collect();
    files.sort();
    let of_file = |path: PathBuf| {
        let area = path.file_stem().expect("a name").to_string_lossy();
        let area = area.into_owned();
        let faults: Vec<Fault> = loaded(&path);
        faults.into_iter().map(move |fault| (area.clone(), fault))
    };
    files.into_iter().flat_map(of_file).collect()
});

/// Every fault in every house where it can be planted.
pub static PLANTINGS: LazyLock<Vec<Planting>> = LazyLock::new(|| {
    let words: BTreeMap<String, BTreeMap<String, String>> = loaded(&folder().join("words.yaml"));
    let houses = HOUSES.iter().flat_map(|house| {
        let of_house = FAULTS.iter().filter(|(_, fault)| fault.is_in(house));
        of_house.map(|(_, fault)| fault.planting(house, &words[*house]))
    });
    houses.collect()
});

impl Fault {
    pub fn is_in(&self, house: &str) -> bool {
        let Houses { not, only, .. } = &self.houses;
        for named in not.keys().chain(only).chain(self.otherwise.keys()) {
            assert!(
                HOUSES.contains(&named.as_str()),
                "{}: no house {named}",
                self.way
            );
        }
        // A fault that is written house by house is planted in those.
        let written = self.edits.is_some() || self.otherwise.contains_key(house);
        let wanted = only.is_empty() || only.iter().any(|only| only == house);
        !not.contains_key(house) && written && wanted
    }

    fn planting(&self, house: &'static str, words: &BTreeMap<String, String>) -> Planting {
        let otherwise = self.otherwise.get(house);
        let lacks =
            |key: &str| -> ! { panic!("{}: {} has no `{key}` in {house}", self.rule, self.way) };
        let said = |text: &String| with_words(text, words);
        let all = |on: &OneOrMore| on.all().iter().map(said).collect::<Vec<_>>();
        let edits = otherwise
            .and_then(|o| o.edits.as_ref())
            .or(self.edits.as_ref());
        let on = otherwise.and_then(|o| o.on.as_ref()).or(self.on.as_ref());
        let at = otherwise.and_then(|o| o.at.as_ref()).or(self.at.as_ref());
        let also = otherwise
            .and_then(|o| o.also.as_ref())
            .or(self.also.as_ref());
        let edited = |edit: &Edit| Edit {
            file: edit.file.clone(),
            under: edit.under.clone(),
            add: edit.add.as_ref().map(said),
            within: edit.within.as_ref().map(said),
            change: edit.change.as_ref().map(said),
            to: edit.to.as_ref().map(said),
            drop: edit.drop.as_ref().map(said),
        };
        let followed = |also: &Also| {
            assert!(!also.why.is_empty());
            (also.rule.clone(), also.on.as_ref().map_or(Vec::new(), &all))
        };
        Planting {
            house,
            rule: self.rule.clone(),
            way: self.way.clone(),
            level: self.level,
            edits: edits
                .unwrap_or_else(|| lacks("edits"))
                .iter()
                .map(edited)
                .collect(),
            on: all(on.unwrap_or_else(|| lacks("on"))),
            at: said(at.unwrap_or_else(|| lacks("at"))),
            also: also.into_iter().flatten().map(followed).collect(),
            ends: self.ends.clone(),
        }
    }
}

/// A text with the house's own words in it.
fn with_words(text: &String, words: &BTreeMap<String, String>) -> String {
    static WORD: LazyLock<Regex> =
        LazyLock::new(|| Regex::new(r"\$(?:\{([a-z0-9-]+)\}|([a-z0-9-]+))").expect("fixed"));
    let word = |found: &Captures| {
        let name = found
            .get(1)
            .or_else(|| found.get(2))
            .map_or("", |name| name.as_str());
        let word = words.get(name);
        word.unwrap_or_else(|| panic!("words.yaml has no `{name}`, used in {text:?}"))
            .clone()
    };
    WORD.replace_all(text, word).into_owned()
}
