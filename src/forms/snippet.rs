//! A few neighbouring lines of a file as miette wants them.
//!
//! miette's own sources look for a line from the start of the file and cannot crop: labels far to
//! the right make lines that nobody can read, and beyond column 65,535 a panic. Here the lines are
//! found by binary search, cropped to the page around their labels, and handed over as a text of
//! their own.

use std::fmt;

use miette::{
    Diagnostic, LabeledSpan, MietteError, MietteSpanContents, SourceCode, SourceSpan, SpanContents,
};
use textwrap::core::display_width;

use super::clean::shown;
use super::marks::Label;
use crate::yaml::Source;

/// Words of a label are wrapped to no less than this.
const NARROWEST: usize = 24;
/// Bytes of a very long line that are looked at around its labels.
const LOOK: usize = 1024;

/// Lines with labels under a heading.
#[derive(Debug)]
pub struct Snippet {
    heading: String,
    text: String,
    /// From 0.
    first_line: usize,
    lines: usize,
    labels: Vec<LabeledSpan>,
}

/// Columns that a line has, beside its number and frame.
pub fn room(width: usize, last_line: usize) -> usize {
    width.saturating_sub((last_line + 1).to_string().len() + 4)
}

impl Snippet {
    /// `labels` are of one file, in the order of their places, and in lines near each other.
    pub fn new(heading: String, source: &Source, labels: &[Label<'_>], width: usize) -> Self {
        let first_line = labels.iter().map(|label| label.line).min().unwrap_or(0);
        let last_line = labels.iter().map(|label| label.line).max().unwrap_or(0);
        let room = room(width, last_line);
        let mut snippet = Self {
            heading,
            text: String::new(),
            first_line,
            lines: 0,
            labels: Vec::new(),
        };
        for line in first_line..=last_line {
            let own: Vec<&Label<'_>> = labels.iter().filter(|label| label.line == line).collect();
            snippet.add_line(source, line, &own, room);
        }
        snippet
    }

    fn add_line(&mut self, source: &Source, line: usize, labels: &[&Label<'_>], room: usize) {
        let range = source.lines().range(line, &source.text);
        let window = Window::on(&source.text[range.clone()], range.start, labels, room);
        if self.lines > 0 {
            self.text.push('\n');
        }
        self.lines += 1;
        let base = self.text.len();
        // Where each character of the file went.
        let mut places: Vec<(usize, usize)> = Vec::with_capacity(window.cells.len() + 1);
        if window.cropped_left {
            self.text.push('…');
        }
        for cell in &window.cells {
            places.push((cell.byte, self.text.len()));
            self.text.push(cell.shown);
        }
        places.push((usize::MAX, self.text.len()));
        if window.cropped_right {
            self.text.push('…');
        }
        for label in labels {
            let place = |byte: usize| {
                places[places
                    .partition_point(|(at, _)| *at < byte)
                    .min(places.len() - 1)]
                .1
            };
            let (mut start, mut end) = (place(label.bytes.start), place(label.bytes.end));
            if start >= end {
                // Nothing of it is in the window: the last character shown has to do. An empty
                // line gets a blank to mark.
                if self.text.len() == base {
                    self.text.push(' ');
                }
                start = self.text[base..]
                    .char_indices()
                    .next_back()
                    .map_or(base, |(at, _)| base + at);
                end = self.text.len();
            }
            let column =
                display_width(&self.text[base..start]) + display_width(&self.text[start..end]) / 2;
            let text = super::clean::clean(label.text);
            let free = room.saturating_sub(column + 4);
            // Words of several lines hang on a stroke of their own, two columns wide.
            let free = if display_width(&text) > free {
                free.saturating_sub(2)
            } else {
                free
            };
            let words = textwrap::fill(&text, free.max(NARROWEST));
            self.labels
                .push(LabeledSpan::new(Some(words), start, end - start));
        }
    }
}

struct Cell {
    byte: usize,
    shown: char,
}

/// What of a line is shown.
struct Window {
    cells: Vec<Cell>,
    cropped_left: bool,
    cropped_right: bool,
}

impl Window {
    /// The part of a line that has its labels in it and fits in `room` columns. `base` is the byte
    /// at which the line starts.
    fn on(line: &str, base: usize, labels: &[&Label<'_>], room: usize) -> Self {
        let from = labels
            .iter()
            .map(|label| label.bytes.start - base)
            .min()
            .unwrap_or(0);
        let to = labels
            .iter()
            .map(|label| label.bytes.end - base)
            .max()
            .unwrap_or(0);
        // A long line is not walked from its start.
        let near = floor(
            line,
            if line.len() > 2 * LOOK {
                from.saturating_sub(LOOK)
            } else {
                0
            },
        );
        let far = floor(line, near.saturating_add(3 * LOOK).min(line.len()));
        let (left, right) = (
            floor(line, from.clamp(near, far)),
            floor(line, to.clamp(near, far)),
        );
        let column = width(&line[near..left]);
        let marked = width(&line[left..right.max(left)]);
        // Columns that are needed to the right of the first mark: each label's words hang on its
        // middle, wrapped where they must be.
        let words = labels
            .iter()
            .map(|label| {
                let place = |byte: usize| floor(line, (byte - base).clamp(left, right.max(left)));
                let (start, end) = (place(label.bytes.start), place(label.bytes.end));
                let middle = width(&line[left..start]) + width(&line[start..end]) / 2;
                middle + display_width(label.text).min(NARROWEST) + 6
            })
            .max()
            .unwrap_or(0);
        let needed = marked.max(words);
        let skip = if near == 0 && column + needed <= room {
            0
        } else {
            column.saturating_sub((room / 3).min(room.saturating_sub(needed + 2)))
        };
        let (mut cells, mut passed, mut used) = (Vec::new(), 0, 0);
        let mut cropped_right = far < line.len();
        let mut cropped_left = near > 0;
        for (at, c) in line[near..far].char_indices() {
            // A byte-order mark has no column.
            if c == '\u{feff}' && base + near + at == 0 {
                continue;
            }
            let shown = shown(c);
            let columns = columns(shown);
            if passed < skip {
                passed += columns;
                cropped_left = true;
                continue;
            }
            if used + columns + 2 > room
                && width(&line[near + at..far]) + used + usize::from(cropped_left) > room
            {
                cropped_right = true;
                break;
            }
            used += columns;
            cells.push(Cell {
                byte: base + near + at,
                shown,
            });
        }
        Self {
            cells,
            cropped_left,
            cropped_right,
        }
    }
}

/// Columns of a slice of the file as it is shown.
fn width(slice: &str) -> usize {
    // Most are ASCII, and where a plan is one line much of it is looked at for each label.
    if slice.bytes().all(|byte| matches!(byte, b' '..=b'~')) {
        return slice.len();
    }
    slice.chars().map(|c| columns(shown(c))).sum()
}

/// Columns of a character that is shown.
fn columns(shown: char) -> usize {
    match shown {
        ' '..='~' => 1,
        other => display_width(other.encode_utf8(&mut [0; 4])),
    }
}

/// The nearest character boundary at or before a byte.
pub fn floor(text: &str, byte: usize) -> usize {
    let mut byte = byte.min(text.len());
    while !text.is_char_boundary(byte) {
        byte -= 1;
    }
    byte
}

impl SourceCode for Snippet {
    /// All of it, whatever span is asked for: its lines were chosen before.
    fn read_span<'a>(
        &'a self,
        _: &SourceSpan,
        _: usize,
        _: usize,
    ) -> Result<Box<dyn SpanContents<'a> + 'a>, MietteError> {
        let all = SourceSpan::new(0.into(), self.text.len());
        Ok(Box::new(MietteSpanContents::new(
            self.text.as_bytes(),
            all,
            self.first_line,
            0,
            self.lines,
        )))
    }
}

impl fmt::Display for Snippet {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.heading)
    }
}

impl std::error::Error for Snippet {}

impl Diagnostic for Snippet {
    fn source_code(&self) -> Option<&dyn SourceCode> {
        Some(self)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        Some(Box::new(self.labels.iter().cloned()))
    }
}
