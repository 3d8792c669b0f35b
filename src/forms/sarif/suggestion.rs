//! Redlines as fixes.

use serde::Serialize;

use super::Message;
use super::place::{File, Region, file};
use crate::findings::{Redline, RedlineKind};
use crate::yaml::{Sources, has_comment};

/// A redline: all of its changes are made, or none.
#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Fix<'r> {
    description: Message,
    artifact_changes: Vec<Change<'r>>,
    properties: Kind,
}

#[derive(Debug, Serialize)]
struct Kind {
    kind: RedlineKind,
}

/// The changes of one file.
#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct Change<'r> {
    artifact_location: File,
    replacements: Vec<Replacement<'r>>,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct Replacement<'r> {
    deleted_region: Region,
    inserted_content: Content<'r>,
}

#[derive(Debug, Serialize)]
struct Content<'r> {
    text: &'r str,
}

/// The redlines of a finding that lose no comment. Who makes a fix out of a log may not look at
/// the plan.
pub fn fixes<'r>(redlines: &'r [Redline], sources: &Sources) -> Vec<Fix<'r>> {
    let keeps = |redline: &&Redline| {
        let mut edits = redline.edits.iter();
        !redline.edits.is_empty() && edits.all(|edit| !has_comment(sources.slice(edit.at)))
    };
    redlines
        .iter()
        .filter(keeps)
        .map(|redline| fix(redline, sources))
        .collect()
}

fn fix<'r>(redline: &'r Redline, sources: &Sources) -> Fix<'r> {
    let mut edits: Vec<_> = redline.edits.iter().collect();
    // Stable: insertions at one place stay in their order.
    edits.sort_by_key(|edit| edit.at);
    let changes = edits.chunk_by(|one, next| one.at.file == next.at.file);
    let change = |edits: &[&'r crate::yaml::Edit]| Change {
        artifact_location: file(sources, edits[0].at.file),
        replacements: edits
            .iter()
            .map(|edit| Replacement {
                deleted_region: Region::of_text(edit.at, sources),
                inserted_content: Content { text: &edit.text },
            })
            .collect(),
    };
    Fix {
        description: Message::of(&redline.title),
        artifact_changes: changes.map(change).collect(),
        properties: Kind { kind: redline.kind },
    }
}
