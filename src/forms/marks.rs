//! Which places of a finding are shown together.

use std::ops::Range;

use super::snippet::floor;
use crate::findings::Finding;
use crate::yaml::{FileId, Sources, Spot};

/// More than three labels explain nothing.
const MOST: usize = 3;
/// Places in lines further apart than this get a snippet each.
const NEAR: usize = 3;

/// A place in one line, and a few words on it.
#[derive(Debug, Clone)]
pub struct Label<'f> {
    pub file: FileId,
    /// From 0.
    pub line: usize,
    /// Bytes of the file; never empty unless the line is.
    pub bytes: Range<usize>,
    pub text: &'f str,
    /// The place at fault.
    pub at_fault: bool,
}

/// The places of a finding: the one at fault first. A value reached through an alias is marked at
/// the alias, and the anchor behind it is a place of its own.
pub fn labels<'f>(finding: &'f Finding, sources: &Sources) -> Vec<Label<'f>> {
    let mut labels: Vec<Label<'f>> = Vec::new();
    for (index, mark) in finding.marks.iter().take(MOST).enumerate() {
        let (spot, anchored) = sources.spots(mark.span);
        let places = [
            Some((spot, &*mark.label)),
            anchored.map(|spot| (spot, "anchored here")),
        ];
        for (spot, text) in places.into_iter().flatten() {
            let (line, bytes) = in_one_line(sources, spot);
            let known = labels
                .iter()
                .any(|label| label.file == spot.file && label.bytes == bytes);
            if labels.len() < MOST && !known {
                let at_fault = index == 0 && labels.is_empty();
                labels.push(Label {
                    file: spot.file,
                    line,
                    bytes,
                    text,
                    at_fault,
                });
            }
        }
    }
    labels
}

/// The first line of a place and its bytes there. An empty place (a value left out) becomes the
/// character before it, or the one behind.
fn in_one_line(sources: &Sources, spot: Spot) -> (usize, Range<usize>) {
    let source = sources.file(spot.file);
    let (lines, text) = (source.lines(), &source.text);
    let line = lines.index_of(spot.start);
    let whole = lines.range(line, text);
    // Held to the line and to whole letters, whatever the span says.
    let held = |byte: usize| floor(text, byte.clamp(whole.start, whole.end));
    let (mut start, mut end) = (held(spot.start), held(spot.end));
    end = start
        + text
            .get(start..end)
            .map_or(0, |slice| slice.trim_end().len());
    if start >= end {
        let before = text
            .get(whole.start..start)
            .and_then(|before| before.chars().next_back());
        match before {
            Some(c) => start -= c.len_utf8(),
            None => {
                end = start
                    + text
                        .get(start..whole.end)
                        .and_then(|rest| rest.chars().next())
                        .map_or(0, char::len_utf8)
            }
        }
    }
    (line, start..end)
}

/// Labels in groups that fit one snippet each, the place at fault in the first. Labels of one line
/// go together only if the line need not be cropped between them, and if they do not overlap.
pub fn groups<'f>(labels: Vec<Label<'f>>, room: usize) -> Vec<Vec<Label<'f>>> {
    let mut groups: Vec<Vec<Label<'f>>> = Vec::new();
    for label in labels {
        let home = groups.iter_mut().find(|group| {
            group
                .iter()
                .any(|other| other.file == label.file && other.line.abs_diff(label.line) <= NEAR)
                && group
                    .iter()
                    .filter(|other| other.line == label.line)
                    .all(|other| fit(other, &label, room))
        });
        match home {
            Some(group) => group.push(label),
            None => groups.push(vec![label]),
        }
    }
    for group in &mut groups {
        group.sort_by_key(|label| label.bytes.start);
    }
    groups
}

fn fit(one: &Label<'_>, other: &Label<'_>, room: usize) -> bool {
    let disjoint = one.bytes.end <= other.bytes.start || other.bytes.end <= one.bytes.start;
    let hull = one.bytes.end.max(other.bytes.end) - one.bytes.start.min(other.bytes.start);
    disjoint && hull <= room / 2
}

impl Label<'_> {
    pub fn spot(&self) -> Spot {
        Spot {
            file: self.file,
            start: self.bytes.start,
            end: self.bytes.end,
        }
    }
}

/// `path:line:column` of a place.
pub fn address(spot: Spot, sources: &Sources) -> String {
    let source = sources.file(spot.file);
    let at = source.position(spot.start);
    let path = source.path.to_string_lossy();
    format!("{}:{}:{}", super::clean::clean(&path), at.line, at.column)
}
