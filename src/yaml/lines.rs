//! Bytes to lines and columns.

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
}

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
        Self { starts }
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

    /// Index (from 0) of the line that holds `byte`.
    pub fn index_of(&self, byte: usize) -> usize {
        self.starts
            .partition_point(|start| *start as usize <= byte)
            .saturating_sub(1)
    }

    /// Line and column of a byte; a byte-order mark counts as no column.
    pub fn position(&self, byte: usize, text: &str) -> Position {
        let mut byte = byte.min(text.len());
        while !text.is_char_boundary(byte) {
            byte -= 1;
        }
        let index = self.index_of(byte);
        let before = &text[self.starts[index] as usize..byte];
        Position {
            byte,
            line: index + 1,
            column: before.chars().filter(|c| *c != '\u{feff}').count() + 1,
        }
    }
}
