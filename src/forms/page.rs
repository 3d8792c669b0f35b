//! What the output is written on.

use owo_colors::Style;

use super::clean::{bound, unbound};
use super::own_units::System;
use super::theme;
use crate::findings::Level;
use crate::units::{figure3, plain};

/// Width of the page, whether it has colour, and in which units it shows figures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Page {
    width: usize,
    colour: bool,
    system: System,
}

/// Longer lines are hard to follow; on shorter ones no snippet can be read.
const WIDTHS: std::ops::RangeInclusive<usize> = 40..=120;

impl Page {
    /// A page of `width` columns, held to between 40 and 120.
    pub fn new(width: usize, colour: bool) -> Self {
        Self {
            width: width.clamp(*WIDTHS.start(), *WIDTHS.end()),
            colour,
            system: System::default(),
        }
    }

    /// The same page with figures in other units.
    pub fn in_units(self, system: System) -> Self {
        Self { system, ..self }
    }

    /// A value and its unit, `4.2 ft`.
    pub(super) fn figure(self, value: f64, unit: &'static str) -> String {
        let (value, unit) = self.system.own(value, unit);
        format!("{} {unit}", figure3(value)).trim_end().to_owned()
    }

    /// A value and what it is held against, as far as the two can be told apart.
    pub(super) fn figures(self, found: f64, limit: f64, unit: &'static str) -> [String; 2] {
        let shown = [self.figure(found, unit), self.figure(limit, unit)];
        if shown[0] != shown[1] || (found - limit).abs() <= 1e-9 * limit.abs() {
            return shown;
        }
        [found, limit].map(|value| {
            let (value, unit) = self.system.own(value, unit);
            format!("{} {unit}", plain(value)).trim_end().to_owned()
        })
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
