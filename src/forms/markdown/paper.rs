//! How much of a review goes into one piece of a thread.

use std::io::{Result, Write};

/// Bytes of one plan's review that findings written out may take. Where people talk about plans, a
/// piece of a thread often ends at 65,536 letters (common practice, no source); no letter takes less
/// than a byte.
pub const WHOLE: usize = 50_000;
/// The same with findings of a line each.
pub const LINES: usize = 56_000;
/// The same with what stands below the findings, but for the sentences that say what was left out.
pub const ALL: usize = 62_000;

/// The output, and how full it is.
pub struct Paper<'w> {
    out: &'w mut dyn Write,
    used: usize,
}

impl<'w> Paper<'w> {
    pub fn new(out: &'w mut dyn Write) -> Self {
        Self { out, used: 0 }
    }

    pub fn fits(&self, more: usize, most: usize) -> bool {
        self.used + more <= most
    }

    /// # Errors
    /// Those of the writer.
    pub fn put(&mut self, text: &str) -> Result<()> {
        self.used += text.len();
        self.out.write_all(text.as_bytes())
    }

    /// Writes a list as far as it fits, then how many lines more there are, and what has them.
    ///
    /// # Errors
    /// Those of the writer.
    pub fn list(&mut self, lines: impl Iterator<Item = String>, most: usize) -> Result<()> {
        self.put("\n")?;
        let (mut written, mut more) = (0, 0);
        for line in lines {
            if more == 0 && written < most && self.fits(line.len(), ALL) {
                self.put(&line)?;
                written += 1;
            } else {
                more += 1;
            }
        }
        if more > 0 {
            self.put(&format!("- and {more} more (`--as json` has all)\n"))?;
        }
        Ok(())
    }
}
