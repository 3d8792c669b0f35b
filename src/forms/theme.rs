//! Colours and drawing characters.
//!
//! A level's colour follows the safety signs of ISO 3864 and ANSI Z535 (red for danger, orange for
//! warning, blue for notice; from memory) and never stands without its word. Red and blue are those
//! that a terminal lets its owner choose; its sixteen colours have no orange, and their yellow
//! cannot be read on a white page.

use miette::{GraphicalTheme, ThemeCharacters, ThemeStyles};
use owo_colors::{Style, XtermColors};

use super::Page;
use crate::findings::Level;

const BLACK: XtermColors = XtermColors::UserBlack;
const ORANGE: XtermColors = XtermColors::FlushOrange;
/// Reads on white as on black.
const DARK_ORANGE: XtermColors = XtermColors::TennOrange;

/// A level as a sign has it.
pub fn word(level: Level) -> &'static str {
    match level {
        Level::Hazard => "HAZARD",
        Level::Fault => "FAULT",
        Level::Advice => "ADVICE",
    }
}

/// The panel behind the word.
pub fn panel(level: Level) -> Style {
    match level {
        Level::Hazard => Style::new().bright_white().on_red().bold(),
        Level::Fault => Style::new().color(BLACK).on_color(ORANGE).bold(),
        Level::Advice => Style::new().bright_white().on_blue().bold(),
    }
}

/// Lines and words that belong to a level.
pub fn ink(level: Level) -> Style {
    match level {
        Level::Hazard => Style::new().red().bold(),
        Level::Fault => Style::new().color(DARK_ORANGE).bold(),
        // Plain blue is too dark to read on a black page.
        Level::Advice => Style::new().bright_blue().bold(),
    }
}

/// Words in the margin and headings.
pub fn margin() -> Style {
    Style::new().bold()
}

/// What may be passed over at first reading.
pub fn faint() -> Style {
    Style::new().dimmed()
}

/// Taken out and put in, in a redline.
pub fn taken_out() -> Style {
    Style::new().red()
}

pub fn put_in() -> Style {
    Style::new().green()
}

/// miette's theme for one snippet: the place at fault in the colour of its level, the other places
/// without. `marks` has one style a label, in the order of their places.
pub fn snippet(page: Page, level: Level, marks: Vec<Style>) -> GraphicalTheme {
    // A rule beside the sentence instead of an icon.
    let rule = "│".to_owned();
    let characters = ThemeCharacters {
        vbar_break: ' ',
        ltop: '┌',
        lbot: '└',
        underline: '─',
        underbar: '┬',
        error: rule.clone(),
        warning: rule.clone(),
        advice: rule,
        ..ThemeCharacters::unicode()
    };
    let of_level = page.style(ink(level));
    let styles = ThemeStyles {
        error: of_level,
        warning: of_level,
        advice: of_level,
        linum: page.style(faint()),
        highlights: marks.into_iter().map(|style| page.style(style)).collect(),
        ..ThemeStyles::none()
    };
    GraphicalTheme { characters, styles }
}
