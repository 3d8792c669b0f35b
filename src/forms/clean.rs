//! Text from a plan, made safe to print.

use std::borrow::Cow;

use crate::plan::wording::is_unseen;

/// What a character of a plan is printed as. A plan may come from anybody: characters that steer a
/// terminal, or turn the reading direction so that the line seen is not the line judged, are
/// replaced. Line breaks and tabs become spaces.
pub fn shown(c: char) -> char {
    match c {
        '\n' | '\r' | '\t' => ' ',
        c if is_unseen(c) => '\u{fffd}',
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

/// Units that stay on the line of their number.
const UNITS: &[&str] = &[
    "%", "°C", "Ω", "ohm", "ft", "in", "m", "mm", "mm2", "V", "A", "W", "AWG", "dB", "deg", "Hz",
    "MHz", "Gbit/s", "Ω/km", "Ω/1000",
];
const NO_BREAK: char = '\u{a0}';

/// A text whose numbers will not be wrapped away from their units. [`unbound`] undoes it.
pub fn bound(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut words = text.split(' ').peekable();
    while let Some(word) = words.next() {
        out.push_str(word);
        let Some(next) = words.peek() else { break };
        let unit = next.trim_end_matches([',', '.', ';', ':', ')']);
        let binds = word.ends_with(|c: char| c.is_ascii_digit()) && UNITS.contains(&unit);
        out.push(if binds { NO_BREAK } else { ' ' });
    }
    out
}

/// The text with its ordinary blanks back.
pub fn unbound(text: &str) -> String {
    text.replace(NO_BREAK, " ")
}
