//! Line and column of a byte, cheap also where a whole plan stands on one line.

use std::cell::Cell;

use crate::yaml::{FileId, Position, Sources};

/// Finds positions and remembers the last one: findings come in the order of their places, so on
/// a long line the next column is counted from there and not from the start.
#[derive(Debug)]
pub struct Places<'r> {
    sources: &'r Sources,
    last: Cell<(FileId, Position)>,
}

impl<'r> Places<'r> {
    pub fn new(sources: &'r Sources) -> Self {
        let start = Position {
            byte: 0,
            line: 1,
            column: 1,
        };
        Self {
            sources,
            last: Cell::new((FileId(0), start)),
        }
    }

    pub fn position(&self, file: FileId, byte: usize) -> Position {
        let source = self.sources.file(file);
        let (of, last) = self.last.get();
        let same_line = of == file && source.lines().holds(last.line - 1, byte);
        let between = source.text.get(byte.min(last.byte)..byte.max(last.byte));
        let position = match between {
            Some(between) if same_line => {
                let mark = byte.min(last.byte) == 0 && between.starts_with('\u{feff}');
                let columns = between.chars().count() - usize::from(mark);
                let column = if byte < last.byte {
                    last.column.saturating_sub(columns)
                } else {
                    last.column + columns
                };
                Position {
                    byte,
                    line: last.line,
                    column,
                }
            }
            _ => source.position(byte),
        };
        self.last.set((file, position));
        position
    }
}
