//! Redlines of the plan's own text: a value changed, a key added.

use super::topology::House;
use crate::findings::{Redline, RedlineKind};
use crate::plan::{Entry, Field};
use crate::yaml::{Edit, entry_edit};

impl House<'_> {
    /// The edit that makes `key` of an entry be `value`: it replaces what is stated, or adds the
    /// key. None where the text is shared through an alias, so that other entries would change.
    pub fn edit<T, F>(
        &self,
        entry: &Entry<T>,
        field: &Field<F>,
        key: &str,
        value: &str,
    ) -> Option<Edit> {
        match field {
            Field::Bad => None,
            Field::Stated(stated) => {
                if self.sources.is_shared(stated.span) {
                    return None;
                }
                let (at, _) = self.sources.spots(stated.span);
                Some(Edit {
                    at,
                    text: value.to_owned(),
                })
            }
            Field::Absent => {
                let map = entry.map?;
                let (spot, _) = self.sources.spots(entry.span);
                let source = self.sources.file(spot.file);
                let (at, text) = entry_edit(source, map, key, value)?;
                Some(Edit {
                    at: source.spot_of(at..at),
                    text,
                })
            }
        }
    }

    /// A redline that changes what gets built, of one edit.
    pub fn change(&self, title: impl Into<String>, edit: Option<Edit>) -> Option<Redline> {
        Some(Redline {
            kind: RedlineKind::Change,
            title: title.into(),
            edits: vec![edit?],
        })
    }
}
