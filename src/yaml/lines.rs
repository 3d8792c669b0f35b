//! Bytes to lines and columns.

use std::sync::OnceLock;

/// A place for people: line and column from 1, the column in characters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Position {
    pub byte: usize,
    pub line: usize,
    pub column: usize,
}

/// Where each line of a text starts. Lines end with LF, CRLF or a lone CR, as YAML has it.
#[derive(Debug)]
pub struct Lines {
    starts: Vec<u32>,
    /// Columns before each block of [`BLOCK`] bytes, from the start of the text; for long lines only.
    blocks: OnceLock<Vec<u32>>,
}

/// A plan may be one line, as JSON is: no place in it is counted from its start.
const BLOCK: usize = 4096;

impl Lines {
    pub fn of(text: &str) -> Self {
        let bytes = text.as_bytes();
        let mut starts = vec![0];
        for (index, byte) in bytes.iter().enumerate() {
            let ends = match byte {
                b'\n' => true,
                b'\r' => bytes.get(index + 1) != Some(&b'\n'),
                _ => false,
            };
            if ends && let Ok(next) = u32::try_from(index + 1) {
                starts.push(next);
            }
        }
        Self {
            starts,
            blocks: OnceLock::new(),
        }
    }

    pub fn count(&self) -> usize {
        self.starts.len()
    }

    /// Bytes of line `index` (from 0) without its line end; empty past the last line.
    pub fn range(&self, index: usize, text: &str) -> std::ops::Range<usize> {
        let Some(&start) = self.starts.get(index) else {
            return text.len()..text.len();
        };
        let start = start as usize;
        let end = self
            .starts
            .get(index + 1)
            .map_or(text.len(), |next| *next as usize);
        let kept = text[start..end].trim_end_matches(['\r', '\n']).len();
        start..start + kept
    }

    /// Whether line `index` (from 0) holds `byte`.
    pub fn holds(&self, index: usize, byte: usize) -> bool {
        let starts_by = |line: usize| {
            self.starts
                .get(line)
                .is_some_and(|start| *start as usize <= byte)
        };
        starts_by(index) && !starts_by(index + 1)
    }

    /// Index (from 0) of the line that holds `byte`.
    pub fn index_of(&self, byte: usize) -> usize {
        self.starts
            .partition_point(|start| *start as usize <= byte)
            .saturating_sub(1)
    }

    /// Line and column of a byte. A byte-order mark before the whole text counts as no column;
    /// elsewhere the same character is one like any other.
    pub fn position(&self, byte: usize, text: &str) -> Position {
        let mut byte = byte.min(text.len());
        while !text.is_char_boundary(byte) {
            byte -= 1;
        }
        let index = self.index_of(byte);
        let start = self.starts[index] as usize;
        let before = if byte - start <= BLOCK {
            columns(text, start..byte)
        } else {
            self.columns_before(byte, text) - self.columns_before(start, text)
        };
        Position {
            byte,
            line: index + 1,
            column: before + 1,
        }
    }

    fn columns_before(&self, byte: usize, text: &str) -> usize {
        let blocks = self.blocks.get_or_init(|| {
            let mut before = 0;
            let starts = (0..=text.len()).step_by(BLOCK);
            let block = |start: usize| {
                let here = before;
                before += small(columns(text, start..(start + BLOCK).min(text.len())));
                here
            };
            starts.map(block).collect()
        });
        let block = byte / BLOCK;
        blocks[block] as usize + columns(text, block * BLOCK..byte)
    }
}

/// Plans are held to 4 GB.
fn small(count: usize) -> u32 {
    u32::try_from(count).unwrap_or(u32::MAX)
}

/// Characters that begin in a part of a text, without a byte-order mark before all of it.
fn columns(text: &str, part: std::ops::Range<usize>) -> usize {
    let begins = |byte: &&u8| **byte & 0xc0 != 0x80;
    let mark = part.contains(&0) && text.starts_with('\u{feff}');
    let characters = text.as_bytes()[part].iter().filter(begins).count();
    characters - usize::from(mark)
}
