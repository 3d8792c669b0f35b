//! Lines that a suggested edit changes.

use std::ops::Range;

use crate::findings::Redline;
use crate::yaml::{Edit, FileId, Sources};

/// Lines that edits change: from the start of the first to the end of the last.
pub struct Row<'e> {
    pub file: FileId,
    /// From 0.
    pub line: usize,
    pub whole: Range<usize>,
    pub edits: Vec<&'e Edit>,
}

/// In the order of their places; edits of one line are in one row.
pub fn rows<'e>(redline: &'e Redline, sources: &Sources) -> Vec<Row<'e>> {
    let mut edits: Vec<&Edit> = redline.edits.iter().collect();
    edits.sort_by_key(|edit| (edit.at.file, edit.at.start));
    let mut rows: Vec<Row<'_>> = Vec::new();
    for edit in edits {
        let source = sources.file(edit.at.file);
        let lines = source.lines();
        let first = lines.index_of(edit.at.start);
        // A line's own range ends before its line break; an edit may take that, too.
        let end = lines
            .range(lines.index_of(edit.at.end), &source.text)
            .end
            .max(edit.at.end);
        match rows.last_mut() {
            Some(row) if row.file == edit.at.file && edit.at.start <= row.whole.end => {
                row.whole.end = row.whole.end.max(end);
                row.edits.push(edit);
            }
            _ => rows.push(Row {
                file: edit.at.file,
                line: first,
                whole: lines.range(first, &source.text).start.min(edit.at.start)..end,
                edits: vec![edit],
            }),
        }
    }
    rows
}

impl Row<'_> {
    /// The lines of a text before and after, each with its line end.
    pub fn texts(&self, text: &str) -> [String; 2] {
        let slice = |part: Range<usize>| text.get(part).unwrap_or_default();
        let mut after = String::new();
        let mut from = self.whole.start;
        for edit in &self.edits {
            after.push_str(slice(from..edit.at.start));
            after.push_str(&edit.text);
            from = edit.at.end;
        }
        after.push_str(slice(from..self.whole.end));
        [slice(self.whole.clone()).to_owned(), after].map(|mut lines| {
            if !lines.ends_with(['\n', '\r']) {
                lines.push('\n');
            }
            lines
        })
    }
}
