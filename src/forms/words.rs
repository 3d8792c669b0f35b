//! What the sheets say, looked up once a rule.

use std::borrow::Cow;
use std::collections::HashMap;
use std::sync::Arc;

use crate::findings::Finding;
use crate::review::Review;
use crate::rules::{self, Rulebook, Sheet};

/// The words of one sheet; empty where there is no sheet.
#[derive(Debug, Default)]
pub struct SheetWords {
    pub why: String,
    pub put_right: String,
    pub authority: String,
}

/// The words of the sheets that a review has met.
#[derive(Debug)]
pub struct Words {
    sheet: fn(&str) -> Option<&'static Sheet>,
    known: HashMap<&'static str, SheetWords>,
    /// Whose sheets go before those.
    rulebook: Arc<Rulebook>,
    own: HashMap<&'static str, SheetWords>,
}

impl Default for Words {
    fn default() -> Self {
        Self::of(rules::sheet)
    }
}

impl Words {
    /// Words of the sheets that a function finds.
    pub fn of(sheet: fn(&str) -> Option<&'static Sheet>) -> Self {
        Self {
            sheet,
            known: HashMap::new(),
            rulebook: Arc::clone(Rulebook::built_in()),
            own: HashMap::new(),
        }
    }

    /// From here on the words are those of the sheets that a review was made by.
    pub fn turn_to(&mut self, review: &Review) {
        if !Arc::ptr_eq(&self.rulebook, &review.rulebook) {
            self.rulebook = Arc::clone(&review.rulebook);
            self.own.clear();
        }
    }

    pub fn get(&mut self, rule: &'static str) -> &SheetWords {
        if let Some(sheet) = self.rulebook.own_sheet(rule) {
            return self
                .own
                .entry(rule)
                .or_insert_with(|| SheetWords::of(sheet));
        }
        let sheet = self.sheet;
        self.known
            .entry(rule)
            .or_insert_with(|| sheet(rule).map(SheetWords::of).unwrap_or_default())
    }
}

impl SheetWords {
    pub fn of(sheet: &Sheet) -> Self {
        Self {
            why: sheet.why(),
            put_right: sheet.put_right(),
            authority: sheet.authority(),
        }
    }

    /// What to do about a finding: in its own words, else in the sheet's.
    pub fn put_right<'a>(&'a self, finding: &'a Finding) -> Option<&'a str> {
        filled(finding.put_right.as_deref().unwrap_or(&self.put_right))
    }

    pub fn authority<'a>(&'a self, finding: &'a Finding) -> Option<&'a str> {
        filled(
            finding
                .authority
                .as_ref()
                .map_or(&*self.authority, Cow::as_ref),
        )
    }

    pub fn why(&self) -> Option<&str> {
        filled(&self.why)
    }
}

fn filled(text: &str) -> Option<&str> {
    (!text.is_empty()).then_some(text)
}
