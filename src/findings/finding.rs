//! One thing wrong, and what belongs to it.

use std::borrow::Cow;
use std::collections::HashSet;

use serde_json::Value;

use super::{Id, Level};
use crate::schema::{Defs, Schema, described, one_of};
use crate::yaml::{Edit, Span};

/// A place that takes part in a finding, with a few words on its part.
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    pub span: Span,
    pub label: String,
}

/// The computed figure behind a finding.
#[derive(Debug, Clone, PartialEq)]
pub struct Shown {
    /// Its name in the table of figures.
    pub name: &'static str,
    /// In `unit`.
    pub value: f64,
    pub unit: &'static str,
    /// How the figure came about.
    pub working: String,
}

/// What the figure is held against.
#[derive(Debug, Clone, PartialEq)]
pub struct Limit {
    pub value: f64,
    pub unit: &'static str,
}

/// What applying a redline does.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum RedlineKind {
    /// The plan means the same as before: only its spelling changes.
    Same,
    /// What gets built changes.
    Change,
}

impl RedlineKind {
    pub fn word(self) -> &'static str {
        match self {
            Self::Same => "same",
            Self::Change => "change",
        }
    }
}

impl Schema for RedlineKind {
    fn schema(defs: &mut Defs) -> Value {
        defs.define("redline kind", |_| {
            described(
                one_of([Self::Same, Self::Change].into_iter().map(Self::word)),
                "What applying a redline does: the plan means the same, or what gets built changes.",
            )
        })
    }
}

/// A suggested edit of the plan: applied whole or not at all.
#[derive(Debug, Clone, PartialEq)]
pub struct Redline {
    pub kind: RedlineKind,
    pub title: String,
    pub edits: Vec<Edit>,
}

/// One thing wrong with a plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// Id of the sheet that judged.
    pub rule: &'static str,
    pub level: Level,
    /// The things concerned; the one at fault first.
    pub on: Vec<Id>,
    /// What of them, where one rule may find several faults of the same things: a key, another rule.
    /// Made of names alone, so that it stays the same where places and numbers change.
    pub about: Option<Box<str>>,
    /// One sentence: what is wrong, the value found before the value allowed.
    pub says: String,
    /// What to do about it here, where the sheet's general advice can be made exact.
    pub put_right: Option<String>,
    /// Where the limit comes from, if not simply the sheet's authority.
    pub authority: Option<Cow<'static, str>>,
    pub figure: Option<Shown>,
    pub limit: Option<Limit>,
    /// The place at fault first.
    pub marks: Vec<Mark>,
    pub redlines: Vec<Redline>,
}

impl Finding {
    /// A finding with its sentence and the place at fault; the rest is added by the `with_…`
    /// methods.
    pub fn new(
        rule: &'static str,
        level: Level,
        on: Id,
        says: impl Into<String>,
        at: Span,
        label: impl Into<String>,
    ) -> Self {
        Self {
            rule,
            level,
            on: vec![on],
            about: None,
            says: says.into(),
            put_right: None,
            authority: None,
            figure: None,
            limit: None,
            marks: vec![Mark {
                span: at,
                label: label.into(),
            }],
            redlines: Vec::new(),
        }
    }

    /// Another thing concerned. A thing already named is not named twice.
    #[must_use]
    pub fn with_on(mut self, id: &Id) -> Self {
        if !self.on.contains(id) {
            self.on.push(id.clone());
        }
        self
    }

    /// The same for very many.
    #[must_use]
    pub fn with_each_on<'i>(mut self, ids: impl IntoIterator<Item = &'i Id>) -> Self {
        let mut named: HashSet<Id> = self.on.iter().cloned().collect();
        let new = ids.into_iter().filter(|id| named.insert((*id).clone()));
        self.on.extend(new.cloned());
        self
    }

    #[must_use]
    pub fn with_about(mut self, name: &str) -> Self {
        self.be_about(name);
        self
    }

    /// One name more of what it is about.
    pub fn be_about(&mut self, name: &str) {
        self.about = Some(match self.about.take() {
            Some(before) => format!("{before}/{name}").into(),
            None => name.into(),
        });
    }

    /// Another place that takes part. A place already marked is not marked twice.
    #[must_use]
    pub fn with_mark(mut self, span: Span, label: impl Into<String>) -> Self {
        if self.marks.iter().all(|mark| mark.span != span) {
            self.marks.push(Mark {
                span,
                label: label.into(),
            });
        }
        self
    }

    /// The same, unless three places are marked already: among more the eye finds none.
    #[must_use]
    pub fn with_lesser_mark(self, span: Span, label: impl Into<String>) -> Self {
        if self.marks.len() < 3 {
            self.with_mark(span, label)
        } else {
            self
        }
    }

    #[must_use]
    pub fn with_figure(mut self, figure: Shown, limit: f64) -> Self {
        self.limit = Some(Limit {
            value: limit,
            unit: figure.unit,
        });
        self.figure = Some(figure);
        self
    }

    #[must_use]
    pub fn with_authority(mut self, authority: impl Into<Cow<'static, str>>) -> Self {
        self.authority = Some(authority.into());
        self
    }

    #[must_use]
    pub fn with_put_right(mut self, words: impl Into<String>) -> Self {
        self.put_right = Some(words.into());
        self
    }

    #[must_use]
    pub fn with_redline(mut self, redline: Option<Redline>) -> Self {
        self.redlines.extend(redline);
        self
    }
}

/// A check that could not be made because the plan lacks a figure.
#[derive(Debug, Clone, PartialEq)]
pub struct Gap {
    pub rule: &'static str,
    pub on: Vec<Id>,
    /// What is missing: `length of S4`.
    pub lacks: String,
    /// A gap that may hide a hazard: shown in full, not only counted.
    pub loud: bool,
}
