//! What may stand in `nailplate.yaml` and in a firm's own sheet.

use serde_json::{Value, json};

use super::rules::Rules;
use crate::findings::Level;
use crate::plan::reader::Reader;
use crate::plan::record::{record, words};
use crate::plan::shape::{List, NO, Notes, Shape, Text, Version, YES};
use crate::plan::{Named, Region, Stage, Stated};
use crate::schema::{self, Defs, Schema};
use crate::yaml::NodeId;

record! {
    /// Settings of the plans in a folder and below it.
    File, "a settings file" {
        /// Version of the plan language: 1.
        @needed "nailplate" nailplate: Version,
        /// Folders of the firm's own sheets, looked up from the settings' folder; of two sheets of one rule the later counts.
        "rulebook" rulebook: List<Text>,
        /// Catalogues of plans that name none, looked up from the settings' folder.
        "catalogue" catalogue: List<Text>,
        /// The lowest level that holds a plan up, where the command line says none.
        "hold" hold: LevelWord,
        /// What is not as in the sheets, by rule.
        "rules" rules: Rules,
        /// For people.
        "notes" notes: Notes,
    }
}

record! {
    /// What is not as in the sheet of one rule.
    RuleEntry, "an entry of a rule" {
        /// How grave its findings are; those that a limit or the rule itself grades keep their own level.
        "level" level: LevelWord,
        /// Limits by name; those that are left out stay as in the sheet.
        "limits" limits: Named<LimitEntry>,
        /// Why the rule does not judge here.
        "not-adopted" not_adopted: Reason,
        /// For people.
        "notes" notes: Notes,
    }
}

record! {
    /// A limit that is not as in the sheet.
    LimitEntry, "a limit" {
        /// The limit, with its unit if it has one.
        @needed "value" value: Text,
        /// On whose word the limit is another: a clause, a manual, a person.
        @needed "authority" authority: Text,
    }
}

record! {
    /// A sheet of the firm's own, in the place of the built-in one of the same rule.
    SheetFile, "a sheet" {
        /// Area and name of the rule, as its file is called.
        @needed "id" id: Text,
        /// What is wrong, in one line.
        @needed "title" title: Text,
        /// How grave its findings are.
        @needed "level" level: LevelWord,
        /// Clause, table, or "common practice".
        @needed "authority" authority: Text,
        /// Where it applies; everywhere if left out.
        "regions" regions: Regions,
        /// The stage of the work from which on it is judged.
        "from-stage" from_stage: Stage,
        /// As in the built-in sheet.
        "yields-to" yields_to: Text,
        /// All limits of the rule, by name.
        "limits" limits: Named<SheetLimit>,
        /// What goes wrong in the room.
        @needed "why" why: Text,
        /// What an installer does about it.
        @needed "put-right" put_right: Text,
        /// The smallest plan that gives the finding.
        @needed "wrong" wrong: Text,
        /// The same plan put right.
        @needed "right" right: Text,
    }
}

record! {
    /// A limit of a firm's own sheet.
    SheetLimit, "a limit of a sheet" {
        /// The limit, with its unit if it has one.
        @needed "value" value: Text,
        /// Clause, table, or "common practice".
        @needed "authority" authority: Text,
        /// How grave its findings are, where that differs from the sheet's level.
        "level" level: LevelWord,
        /// Where it holds; everywhere if left out.
        "regions" regions: Regions,
    }
}

words! {
    /// How grave a finding is.
    LevelWord, "a level" {
        "hazard" => Hazard,
        "fault" => Fault,
        "advice" => Advice,
    }
}

impl From<LevelWord> for Level {
    fn from(word: LevelWord) -> Self {
        match word {
            LevelWord::Hazard => Self::Hazard,
            LevelWord::Fault => Self::Fault,
            LevelWord::Advice => Self::Advice,
        }
    }
}

/// Words that say why. `not-adopted: no` says none, and would be taken for the contrary of what it says.
#[derive(Debug)]
pub struct Reason(pub Text);

impl Schema for Reason {
    fn schema(_: &mut Defs) -> Value {
        let words: Vec<_> = YES.into_iter().chain(NO).collect();
        json!({"type": ["string", "number"], "pattern": "\\S", "not": {"enum": words}})
    }
}

impl Shape for Reason {
    const WANTS: &'static str = "the reason, in words";
    fn read(reader: &mut Reader<'_>, node: NodeId) -> Option<Self> {
        let text = Text::read(reader, node)?;
        if YES.iter().chain(&NO).any(|word| **word == *text.0) {
            reader.unreadable(node, &text, Self::WANTS);
            return None;
        }
        Some(Self(text))
    }
}

/// A list of regions; unlike other lists never one region without brackets, as in the built-in sheets.
#[derive(Debug)]
pub struct Regions(pub List<Region>);

impl Regions {
    pub fn all(&self) -> Vec<Region> {
        self.0.values().copied().collect()
    }
}

impl Schema for Regions {
    fn schema(defs: &mut Defs) -> Value {
        json!({"type": "array", "items": Region::schema(defs)})
    }
}

impl Shape for Regions {
    const WANTS: &'static str = "regions in brackets, such as [us, ca]";
    fn read(reader: &mut Reader<'_>, node: NodeId) -> Option<Self> {
        if !reader.is_list(node) {
            reader.wrong_kind(node, "a list of regions", Self::WANTS);
            return None;
        }
        let items = reader.items(node);
        let count = items.len();
        let read: Vec<Stated<Region>> = items
            .into_iter()
            .filter_map(|item| reader.stated(item))
            .collect();
        (read.len() == count).then_some(Self(List(read)))
    }
}

/// How settings come to a validator, and what it cannot see.
const ABOUT: &str = "Settings of nailplate, nailplate.yaml. Load its YAML by the core schema of YAML 1.2, aliases and merge \
keys followed, keys as text, block texts without their last line end (`|-`). Which limits a rule has and how they are spelled, \
and whether files are there, is not seen by a schema: `nailplate review` reports it.";

/// The schema of settings.
pub fn schema() -> Value {
    schema::document("nailplate settings", ABOUT, File::schema)
}
