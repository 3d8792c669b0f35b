//! The plan's own lines, with the places of a finding marked in them.

use std::borrow::Cow;
use std::ops::Range;

use maud::{Markup, html};

use super::{file_name, paragraph, unseen};
use crate::findings::Finding;
use crate::forms::clean::shown;
use crate::forms::marks::{Label, labels};
use crate::forms::snippet::floor;
use crate::review::Review;
use crate::yaml::FileId;

/// Bytes of a line that are quoted before the first mark and behind the last one.
const AROUND: usize = 160;
/// Bytes of a mark, or of what stands between two, beyond which its middle is left out.
const MOST: usize = 320;

/// The lines, the one at fault first, and what is to be seen in each. A file is named where it is not
/// the plan itself.
pub fn quoted(finding: &Finding, review: &Review) -> Markup {
    let sources = &review.sources;
    let labels = labels(finding, sources);
    let rows = rows(&labels);
    let mut file = review.file;
    let letters = ["a", "b", "c"];
    html! {
        @for row in rows {
            @let source = sources.file(row.file);
            @if std::mem::replace(&mut file, row.file) != row.file {
                p.file { bdi { (file_name(&source.path)) } }
            }
            div.line {
                span.no { (unseen("line ")) (row.line + 1) }
                code {
                    @let whole = source.lines().range(row.line, &source.text);
                    @for piece in pieces(&source.text, whole, &row.marks) {
                        @match piece {
                            Piece::Plain(text) => { (text) },
                            Piece::Mark(text, mark) => {
                                @let letter = letters.get(mark).copied().unwrap_or("");
                                mark.fault[labels[mark].at_fault] {
                                    (unseen(&format!("[{letter}: "))) (text) (unseen("]"))
                                }
                                @if labels.len() > 1 { sup aria-hidden="true" { (letter) } }
                            },
                        }
                    }
                }
            }
            ul.notes {
                @for (mark, _) in &row.marks {
                    li {
                        @if labels.len() > 1 { span.key { (letters.get(*mark).copied().unwrap_or("")) } " " }
                        (paragraph(labels[*mark].text))
                    }
                }
            }
        }
    }
}

/// A line that is quoted, and which labels are marked in it; disjoint, in order.
struct Row {
    file: FileId,
    line: usize,
    marks: Vec<(usize, Range<usize>)>,
}

/// Labels of one line go together unless they overlap.
fn rows(labels: &[Label<'_>]) -> Vec<Row> {
    let mut rows: Vec<Row> = Vec::new();
    for (index, label) in labels.iter().enumerate() {
        let apart =
            |other: &Range<usize>| other.end <= label.bytes.start || label.bytes.end <= other.start;
        let mark = (index, label.bytes.clone());
        let home = rows.iter_mut().find(|row| {
            (row.file, row.line) == (label.file, label.line)
                && row.marks.iter().all(|(_, other)| apart(other))
        });
        match home {
            Some(row) => {
                let at = row
                    .marks
                    .partition_point(|(_, other)| other.start < label.bytes.start);
                row.marks.insert(at, mark);
            }
            None => rows.push(Row {
                file: label.file,
                line: label.line,
                marks: vec![mark],
            }),
        }
    }
    rows
}

enum Piece {
    Plain(String),
    /// With the index of its label.
    Mark(String, usize),
}

/// A line cut at its marks, what is far from them left out.
fn pieces(text: &str, line: Range<usize>, marks: &[(usize, Range<usize>)]) -> Vec<Piece> {
    let mut pieces = Vec::with_capacity(2 * marks.len() + 1);
    let mut from = line.start;
    for (index, mark) in marks {
        let before = from..mark.start;
        pieces.push(Piece::Plain(if from == line.start {
            tail(text, before).trim_start().to_owned()
        } else {
            middle(text, before)
        }));
        pieces.push(Piece::Mark(middle(text, mark.clone()), *index));
        from = mark.end;
    }
    pieces.push(Piece::Plain(start(text, from..line.end)));
    pieces
}

/// The end of a part, with nothing in it that a page should not hold.
pub fn tail(text: &str, part: Range<usize>) -> String {
    let from = floor(text, part.end.saturating_sub(AROUND)).max(part.start);
    let cut = if from > part.start { "…" } else { "" };
    format!("{cut}{}", safe(slice(text, from..part.end)))
}

/// The start of a part.
pub fn start(text: &str, part: Range<usize>) -> String {
    let to = floor(text, part.start.saturating_add(AROUND).min(part.end)).max(part.start);
    let cut = if to < part.end { "…" } else { "" };
    format!("{}{cut}", safe(slice(text, part.start..to)))
}

/// A part without its middle, where it is long.
pub fn middle(text: &str, part: Range<usize>) -> String {
    if part.len() <= MOST {
        return safe(slice(text, part)).into_owned();
    }
    let (first, last) = (
        floor(text, part.start + MOST / 2),
        floor(text, part.end - MOST / 4),
    );
    format!(
        "{} … {}",
        safe(slice(text, part.start..first)),
        safe(slice(text, last..part.end))
    )
}

fn slice(text: &str, part: Range<usize>) -> &str {
    text.get(part).unwrap_or_default()
}

/// A text as it is shown, its line breaks kept.
fn safe(text: &str) -> Cow<'_, str> {
    let kept = |c: char| if c == '\n' { c } else { shown(c) };
    if text.chars().all(|c| kept(c) == c) {
        return Cow::Borrowed(text);
    }
    Cow::Owned(text.replace("\r\n", "\n").chars().map(kept).collect())
}
