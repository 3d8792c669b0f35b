//! What the output is written on.

use owo_colors::Style;

use super::clean::{bound, unbound};
use super::theme;
use crate::findings::Level;

/// Width of the page and whether it has colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Page {
    width: usize,
    colour: bool,
}

/// Longer lines are hard to follow; on shorter ones no snippet can be read.
const WIDTHS: std::ops::RangeInclusive<usize> = 40..=120;

impl Page {
    /// A page of `width` columns, held to between 40 and 120.
    pub fn new(width: usize, colour: bool) -> Self {
        Self {
            width: width.clamp(*WIDTHS.start(), *WIDTHS.end()),
            colour,
        }
    }

    pub fn width(self) -> usize {
        self.width
    }

    pub(super) fn colour(self) -> bool {
        self.colour
    }

    pub(super) fn style(self, style: Style) -> Style {
        if self.colour { style } else { Style::new() }
    }

    pub(super) fn paint(self, style: Style, text: &str) -> String {
        if self.colour {
            style.style(text).to_string()
        } else {
            text.to_owned()
        }
    }

    /// The level as a word: on a colour page like the word on a safety sign.
    pub(super) fn sign(self, level: Level) -> String {
        if self.colour {
            theme::panel(level)
                .style(format!(" {} ", theme::word(level)))
                .to_string()
        } else {
            theme::word(level).to_owned()
        }
    }

    /// A paragraph behind a word in the margin, wrapped to the page.
    pub(super) fn margin(self, word: &str, text: &str) -> String {
        const MARGIN: usize = 13;
        let first = format!(
            "  {}{}",
            self.paint(theme::margin(), word),
            " ".repeat((MARGIN - 2).saturating_sub(word.len()))
        );
        let rest = " ".repeat(MARGIN);
        self.wrap(text, &first, &rest)
    }

    /// A paragraph wrapped to the page.
    pub(super) fn wrap(self, text: &str, first: &str, rest: &str) -> String {
        let options = textwrap::Options::new(self.width)
            .initial_indent(first)
            .subsequent_indent(rest)
            .word_separator(textwrap::WordSeparator::AsciiSpace)
            .word_splitter(textwrap::WordSplitter::NoHyphenation);
        unbound(&textwrap::fill(&bound(text.trim()), options))
    }
}
