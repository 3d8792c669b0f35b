//! Edits of a text that keep its comments, order and layout.

use super::source::{Source, Spot};
use super::tree::{Kind, NodeId};

/// Replace the bytes at `at` by `text`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Edit {
    pub at: Spot,
    pub text: String,
}

/// The edit that puts `key: value` into a mapping: behind the last entry, in the mapping's own
/// layout. Returns the bytes to replace (an empty range) and the text to put there.
pub fn entry_edit(source: &Source, map: NodeId, key: &str, value: &str) -> Option<(usize, String)> {
    let tree = &source.tree;
    let bytes = tree.bytes(map);
    match tree.kind(map) {
        Kind::FlowMap => match tree.entries(map).last() {
            None => Some((bytes.start + 1, format!("{key}: {value}"))),
            // An entry may lack its value: `{spare}`.
            Some((name, last)) if tree.is_empty_scalar(last) => {
                let end = tree.bytes(last).end.max(tree.bytes(name).end);
                Some((end, format!(", {key}: {value}")))
            }
            Some((_, last)) => Some((tree.bytes(last).end, format!(", {key}: {value}"))),
        },
        Kind::BlockMap => {
            let (first, _) = tree.entries(map).next()?;
            let start = tree.bytes(first).start;
            let indent = " ".repeat(source.position(start).column - 1);
            let end = source.line_end();
            let (_, last) = tree.entries(map).last()?;
            let simple = tree.is_scalar(last) && tree.kind(last) != Kind::Block
                || tree.kind(last) == Kind::FlowMap;
            if simple {
                // Behind the whole line, so that a comment on it stays with its entry.
                let at = tree.bytes(last).end;
                let at = at + source.text[at..].find(['\n', '\r']).unwrap_or(source.text.len() - at);
                Some((at, format!("{end}{indent}{key}: {value}")))
            } else {
                Some((start, format!("{key}: {value}{end}{indent}")))
            }
        }
        _ => None,
    }
}

/// Whether a slice of YAML may hold a comment. Errs towards yes (a `#` inside quotes counts), since
/// an edit that may eat a comment is not to be made.
pub fn has_comment(slice: &str) -> bool {
    slice.starts_with('#')
        || slice
            .match_indices('#')
            .any(|(at, _)| slice[..at].ends_with(char::is_whitespace))
}

/// Applies edits of one file. They must be in order and disjoint (two insertions at one byte are
/// made in the order given); otherwise `None`, and nothing is applied.
pub fn apply(text: &str, edits: &[Edit]) -> Option<String> {
    let mut out = String::with_capacity(text.len() + 64);
    let mut from = 0;
    for edit in edits {
        out.push_str(text.get(from..edit.at.start)?);
        text.get(edit.at.start..edit.at.end)?;
        out.push_str(&edit.text);
        from = edit.at.end;
    }
    out.push_str(text.get(from..)?);
    Some(out)
}
