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
/// layout. Returns the byte at which to insert and the text to put there; `None` where no simple
/// insertion is sure to keep everything else.
pub fn entry_edit(source: &Source, map: NodeId, key: &str, value: &str) -> Option<(usize, String)> {
    match source.tree.kind(map) {
        Kind::FlowMap if source.tree.is_bracketed(map, &source.text) => {
            flow_edit(source, map, key, value)
        }
        Kind::BlockMap => block_edit(source, map, key, value),
        _ => None,
    }
}

fn flow_edit(source: &Source, map: NodeId, key: &str, value: &str) -> Option<(usize, String)> {
    let tree = &source.tree;
    let Some((name, last)) = tree.entries(map).last() else {
        return Some((tree.bytes(map).start + 1, format!("{key}: {value}")));
    };
    if !tree.is_empty_scalar(last) {
        return Some((tree.bytes(last).end, format!(", {key}: {value}")));
    }
    // An entry may lack its value: `{spare}`, `{spare: }`, `{spare: ,}`.
    let end = tree.bytes(name).end;
    let behind = source.text.get(end..tree.bytes(map).end)?;
    let colon = behind.trim_start();
    let end = if colon.starts_with(':') {
        end + behind.len() - colon.len() + 1
    } else {
        end
    };
    Some((end, format!(", {key}: {value}")))
}

fn block_edit(source: &Source, map: NodeId, key: &str, value: &str) -> Option<(usize, String)> {
    let tree = &source.tree;
    let (first, _) = tree.entries(map).next()?;
    let (last_key, last) = tree.entries(map).last()?;
    let start = tree.bytes(first).start;
    let line = source
        .lines()
        .range(source.lines().index_of(start), &source.text);
    let before = source.text.get(line.start..start)?;
    // The first entry may stand behind the dash of a list, and behind an anchor or tag of its own.
    let bare = before.trim_start_matches('\u{feff}');
    let margin = bare
        .find(|c| !matches!(c, ' ' | '-'))
        .map_or(bare, |end| &bare[..end]);
    let start = line.start + before.len() - bare.len() + margin.len();
    let spelled_out = source.text[start..]
        .strip_prefix('?')
        .is_some_and(|rest| rest.starts_with(char::is_whitespace));
    if spelled_out || tree.is_empty_scalar(first) {
        return None;
    }
    let indent = " ".repeat(margin.len());
    let end = source.line_end();
    let one_line = match tree.kind(last) {
        Kind::Plain | Kind::Quoted | Kind::Alias | Kind::LostAlias => true,
        Kind::Block | Kind::BlockMap => false,
        Kind::FlowMap | Kind::Seq => tree.is_bracketed(last, &source.text),
    };
    if !one_line {
        return Some((start, format!("{key}: {value}{end}{indent}")));
    }
    // Behind the whole line, so that a comment on it stays with its entry.
    let at = if tree.is_empty_scalar(last) {
        tree.bytes(last_key).end
    } else {
        tree.bytes(last).end
    };
    let at = at
        + source.text[at..]
            .find(['\n', '\r'])
            .unwrap_or(source.text.len() - at);
    Some((at, format!("{end}{indent}{key}: {value}")))
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
