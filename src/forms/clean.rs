//! Text from a plan, made safe to print.

use std::borrow::Cow;

/// What a character of a plan is printed as. A plan may come from anybody: characters that steer a
/// terminal, or turn the reading direction so that the line seen is not the line judged, are
/// replaced. Line breaks and tabs become spaces.
pub fn shown(c: char) -> char {
    match c {
        '\n' | '\r' | '\t' => ' ',
        '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}' => '\u{fffd}',
        c if c.is_control() => '\u{fffd}',
        c => c,
    }
}

/// A text on one line, with nothing in it that steers a terminal.
pub fn clean(text: &str) -> Cow<'_, str> {
    if text.chars().all(|c| shown(c) == c) {
        return Cow::Borrowed(text);
    }
    Cow::Owned(text.chars().map(shown).collect())
}
