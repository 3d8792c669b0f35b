//! Redlines of the plan's own text: a value changed, a key added.

use super::topology::House;
use crate::findings::{Redline, RedlineKind};
use crate::plan::{Entry, Field, Stock};
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

    /// The redline that pulls runs in other stocks of the plan: all of them, or none where one
    /// cannot be edited.
    pub fn pull_as(&self, pulls: &[(usize, &Entry<Stock>)]) -> Option<Redline> {
        let (mut edits, mut titles) = (Vec::new(), Vec::new());
        for (index, stock) in pulls {
            let run = &self.plan.runs[*index];
            edits.push(self.edit(run, &run.stock, "stock", stock.id.as_str())?);
            titles.push(format!("{} as {}", run.id, stock.id));
        }
        Some(Redline {
            kind: RedlineKind::Change,
            title: format!("pull {}", titles.join(", ")),
            edits,
        })
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
