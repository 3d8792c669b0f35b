//! One line of a punch list as an entry: `- {plan: …, rule: …, …}`.
//!
//! An entry takes one line, so lines are read without the YAML engine: a list of 100,000 entries is
//! 13 MB, which that engine reads at 20 MB a second. What is read here is YAML all the same, a narrow
//! part of it: tests hold the two against each other.

use std::borrow::Cow;

use super::entry::is_bare;

/// The keys of an entry, in the order in which they are written.
pub const KEYS: [&str; 6] = ["plan", "rule", "on", "level", "fingerprint", "since"];

/// A slip in a line: the byte at which it is, and what it is.
pub type Slip = (usize, String);

/// What stands behind a key, and the byte at which it starts.
type Value<'l> = (Words<'l>, usize);

/// A word, or several in brackets.
#[derive(Debug)]
pub enum Words<'l> {
    One(Cow<'l, str>),
    Several(Vec<Cow<'l, str>>),
}

/// What stands in an entry's line.
#[derive(Debug, Default)]
pub struct Line<'l> {
    /// In the order of [`KEYS`].
    pub values: [Option<Value<'l>>; KEYS.len()],
    /// Keys that are not known or not alone.
    pub slips: Vec<Slip>,
    /// The comment behind it, with the blanks before it.
    pub behind: &'l str,
}

/// Reads a line.
///
/// # Errors
/// Where it is no entry.
pub fn read(text: &str) -> Result<Line<'_>, Slip> {
    let mut at = Cursor { text, at: 0 };
    let mut line = Line::default();
    at.blanks();
    if !at.takes("-") || at.blanks() == 0 || !at.takes("{") {
        return Err((
            at.at.min(text.len()),
            "no entry; an entry stands on one line, `- {plan: …, rule: …, …}`".into(),
        ));
    }
    at.blanks();
    let mut expected = 0;
    while !at.takes("}") {
        let start = at.at;
        let key = at.word();
        at.blanks();
        if key.is_empty() || !at.takes(":") || at.blanks() == 0 {
            return Err((start, "a key, `:`, a blank and a value are wanted".into()));
        }
        let behind = at.at;
        let value = (at.words()?, behind);
        // Mostly they come in the order in which they are written.
        let known = Some(expected)
            .filter(|index| KEYS.get(*index) == Some(&key))
            .or_else(|| KEYS.iter().position(|known| *known == key));
        match known {
            Some(index) if line.values[index].is_none() => line.values[index] = Some(value),
            Some(_) => line.slips.push((start, format!("`{key}` stands twice"))),
            None => line.slips.push((start, unknown(key))),
        }
        expected += 1;
        at.blanks();
        if at.takes(",") {
            at.blanks();
        } else if !at.rest().starts_with('}') {
            return Err((
                at.at,
                "a `,` or the closing `}` is missing before this".into(),
            ));
        }
    }
    let behind = at.at;
    let blanks = at.blanks();
    if !at.rest().is_empty() {
        if blanks == 0 || !at.rest().starts_with('#') {
            return Err((at.at, "something stands behind the entry".into()));
        }
        line.behind = &text[behind..];
    }
    Ok(line)
}

fn unknown(key: &str) -> String {
    match crate::plan::nearest(key, KEYS) {
        Some((near, _)) => format!("an entry has no key `{key}`; did you mean `{near}`?"),
        None => format!(
            "an entry has no key `{key}`; its keys are {}",
            KEYS.join(", ")
        ),
    }
}

struct Cursor<'l> {
    text: &'l str,
    at: usize,
}

impl<'l> Cursor<'l> {
    fn rest(&self) -> &'l str {
        &self.text[self.at..]
    }

    fn takes(&mut self, sign: &str) -> bool {
        let there = self.rest().starts_with(sign);
        if there {
            self.at += sign.len();
        }
        there
    }

    /// Passes over blanks and tells how many.
    fn blanks(&mut self) -> usize {
        let rest = self.rest();
        let count = rest.len() - rest.trim_start_matches(' ').len();
        self.at += count;
        count
    }

    fn word(&mut self) -> &'l str {
        let rest = self.rest();
        let length = rest
            .find(|c: char| !c.is_ascii_alphanumeric() && c != '-' && c != '_')
            .unwrap_or(rest.len());
        self.at += length;
        &rest[..length]
    }

    fn words(&mut self) -> Result<Words<'l>, Slip> {
        if !self.takes("[") {
            return self.value().map(Words::One);
        }
        let mut words = Vec::new();
        loop {
            self.blanks();
            words.push(self.value()?);
            self.blanks();
            if self.takes("]") {
                return Ok(Words::Several(words));
            }
            if !self.takes(",") {
                let says = "a `,` or the closing `]` is missing before this";
                return Err((self.at, says.into()));
            }
        }
    }

    fn value(&mut self) -> Result<Cow<'l, str>, Slip> {
        let rest = self.rest();
        match rest.chars().next() {
            Some('"') => self.quoted(rest),
            Some('\'') => {
                let end = rest[1..].find('\'').map(|at| at + 1);
                let end = end.ok_or_else(|| (self.at, NEVER_CLOSED.to_owned()))?;
                self.at += end + 1;
                if self.rest().starts_with('\'') {
                    return Err((
                        self.at,
                        "put a value that holds `'` in double quotes".into(),
                    ));
                }
                Ok(Cow::Borrowed(&rest[1..end]))
            }
            first => {
                let end = rest.find([',', '}', ']']).unwrap_or(rest.len());
                let bare = rest[..end].trim_end_matches(' ');
                let odd = bare.char_indices().find(|(_, c)| !is_bare(*c));
                if let Some((odd, c)) = odd {
                    let says = format!(
                        "a value with `{}` in it stands in double quotes",
                        c.escape_debug()
                    );
                    return Err((self.at + odd, says));
                }
                if bare.is_empty() || matches!(first, Some('-')) {
                    return Err((self.at, "a value is missing here".into()));
                }
                self.at += bare.len();
                Ok(Cow::Borrowed(bare))
            }
        }
    }

    /// A value in double quotes. Of the ways in which YAML can spell a character in them, those that
    /// JSON has are read.
    fn quoted(&mut self, rest: &'l str) -> Result<Cow<'l, str>, Slip> {
        let mut escaped = false;
        let end = rest.bytes().enumerate().skip(1).find(|(_, byte)| {
            let ends = *byte == b'"' && !escaped;
            escaped = *byte == b'\\' && !escaped;
            ends
        });
        let (end, _) = end.ok_or_else(|| (self.at, NEVER_CLOSED.to_owned()))?;
        let start = self.at;
        self.at += end + 1;
        if rest[1..end].contains('\\') {
            return serde_json::from_str(&rest[..=end])
                .map(Cow::Owned)
                .map_err(|_| (start, "this `\\` spells no character".into()));
        }
        Ok(Cow::Borrowed(&rest[1..end]))
    }
}

const NEVER_CLOSED: &str = "this quote is never closed on its line";
