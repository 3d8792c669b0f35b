//! Writing suggested edits into a text.

use crate::findings::RedlineKind;
use crate::yaml::{Edit, FileId, Sources, apply, has_comment};

use super::run::Review;

/// A text with redlines made in it.
#[derive(Debug)]
pub struct Marked {
    pub file: FileId,
    pub text: String,
    /// Titles of the redlines made.
    pub made: Vec<String>,
    /// Titles of those that were not, because they would overlap one made or eat a comment.
    pub left: Vec<String>,
}

/// Makes the redlines of a review in its files: one for each finding, in the order of the
/// findings, those of the given kinds only. A redline is made whole or not at all; one that would
/// overlap an earlier one, or whose edits span a comment, is left.
pub fn ink(review: &Review, kinds: &[RedlineKind]) -> Vec<Marked> {
    let mut edits: Vec<(Edit, usize)> = Vec::new();
    let (mut made, mut left) = (Vec::new(), Vec::new());
    let mut taken = std::collections::BTreeMap::new();
    for (order, finding) in review.findings.iter().enumerate() {
        let offered = finding.redlines.iter().find(|redline| kinds.contains(&redline.kind));
        let Some(redline) = offered else { continue };
        let first = redline.edits.first().map(|edit| edit.at.file).unwrap_or(review.file);
        let title = format!("{}: {}", finding.rule, redline.title);
        let already = redline.edits.iter().all(|edit| edits.iter().any(|(made, _)| made == edit));
        if already {
            continue;
        }
        if redline.edits.iter().any(|edit| eats_comment(&review.sources, edit))
            || redline.edits.iter().any(|edit| overlaps(&taken, edit))
        {
            left.push((first, title));
            continue;
        }
        for edit in &redline.edits {
            taken.insert((edit.at.file, edit.at.start, edit.at.end), ());
            edits.push((edit.clone(), order));
        }
        made.push((first, title));
    }
    let mut files: Vec<FileId> = edits.iter().map(|(edit, _)| edit.at.file).chain(left.iter().map(|(file, _)| *file)).collect();
    files.sort_unstable();
    files.dedup();
    files
        .into_iter()
        .filter_map(|file| {
            let mut own: Vec<(Edit, usize)> = edits.iter().filter(|(edit, _)| edit.at.file == file).cloned().collect();
            own.sort_by_key(|(edit, order)| (edit.at.start, edit.at.end, *order));
            let own: Vec<Edit> = own.into_iter().map(|(edit, _)| edit).collect();
            let titles = |from: &[(FileId, String)]| -> Vec<String> {
                from.iter().filter(|(at, _)| *at == file).map(|(_, title)| title.clone()).collect()
            };
            Some(Marked {
                file,
                text: apply(&review.sources.file(file).text, &own)?,
                made: titles(&made),
                left: titles(&left),
            })
        })
        .collect()
}

fn eats_comment(sources: &Sources, edit: &Edit) -> bool {
    has_comment(sources.slice(edit.at))
}

type Taken = std::collections::BTreeMap<(FileId, usize, usize), ()>;

/// Whether an edit touches bytes that an earlier one changes. Two insertions at one place do not:
/// each adds an entry of its own.
fn overlaps(taken: &Taken, edit: &Edit) -> bool {
    let at = edit.at;
    let before = taken.range(..(at.file, at.end, usize::MAX)).next_back();
    before.is_some_and(|((file, start, end), ())| {
        let both_insert = start == end && at.start == at.end;
        *file == at.file && !both_insert && *start < at.end.max(at.start + 1) && at.start < (*end).max(start + 1)
    })
}
