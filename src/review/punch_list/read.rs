//! The text of a punch list to its entries; every mistake at its line.

use std::borrow::Cow;
use std::sync::Arc;

use super::PunchList;
use super::entry::Entry;
use super::line::{self, KEYS, Line, Words};
use crate::findings::Level;
use crate::plan::Date;

/// What is wrong with a list, and where: line and column from 1, the column in characters.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mistake {
    pub line: usize,
    pub column: usize,
    pub says: String,
}

/// Marks that git leaves in a file that it could not merge.
const MERGE: [&str; 4] = ["<<<<<<<", "|||||||", "=======", ">>>>>>>"];

impl PunchList {
    /// Reads a list.
    ///
    /// # Errors
    /// Every mistake, in the order of the lines: a list is used whole or not at all.
    pub fn read(text: &str) -> Result<Self, Vec<Mistake>> {
        let mut reading = Reading::default();
        let body = text.strip_prefix('\u{feff}').unwrap_or(text);
        for (index, whole) in body.split_inclusive('\n').enumerate() {
            reading.number = index + 1;
            let line = whole.strip_suffix('\n').unwrap_or(whole);
            reading.line(line.strip_suffix('\r').unwrap_or(line));
        }
        let line_end = if body
            .split_once('\n')
            .is_some_and(|(first, _)| first.ends_with('\r'))
        {
            "\r\n"
        } else {
            "\n"
        };
        reading.finish(line_end)
    }
}

#[derive(Default)]
struct Reading {
    number: usize,
    head: String,
    versioned: bool,
    /// A line above the entries is no such line, which is told once.
    odd: bool,
    /// How `owed:` stands there, once it does.
    owed: Option<Owed>,
    entries: Vec<Entry>,
    /// Blanks before the first entry, and so before each.
    indented: Option<usize>,
    /// Comments and empty lines since the last line of another kind.
    above: String,
    in_conflict: bool,
    mistakes: Vec<Mistake>,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Owed {
    /// `owed: []`
    Nothing,
    /// `owed:`, with entries below it.
    Below,
}

impl Reading {
    fn line(&mut self, line: &str) {
        if let Some(at) = line.find(|c: char| c.is_control()) {
            let sign = line[at..].chars().next().unwrap_or_default();
            let says = format!("the character {} does not belong here", sign.escape_debug());
            self.mistake(line, at, says);
            return;
        }
        if self.merge_mark(line) {
            return;
        }
        if line.trim_start_matches(' ').is_empty() || line.trim_start_matches(' ').starts_with('#')
        {
            self.above.push_str(line);
            self.above.push('\n');
            return;
        }
        if self.owed.is_some() {
            self.entry(line);
        } else {
            self.top(line);
        }
    }

    /// A mark of an unfinished merge is told once; the entries of both sides are read.
    fn merge_mark(&mut self, line: &str) -> bool {
        let Some(mark) = MERGE.iter().find(|mark| {
            let rest = line.strip_prefix(**mark);
            rest.is_some_and(|rest| rest.is_empty() || rest.starts_with(' '))
        }) else {
            return false;
        };
        if !self.in_conflict {
            let says = format!(
                "a merge was left unfinished here (`{mark}`): keep the entries of both sides and take out the lines of `<`, `=` and `>`"
            );
            self.mistake(line, 0, says);
        }
        self.in_conflict = *mark != MERGE[3];
        true
    }

    /// A line above the entries.
    fn top(&mut self, line: &str) {
        let bare = line
            .split(" #")
            .next()
            .unwrap_or(line)
            .trim_end_matches(' ');
        let version = bare
            .strip_prefix("nailplate: ")
            .map(|v| v.trim_start_matches(' '));
        match (bare, version) {
            (_, Some(_)) if self.versioned => self.mistake(line, 0, "`nailplate` stands twice"),
            (_, Some(version)) => {
                self.versioned = true;
                if version != "1" {
                    let says =
                        format!("the list is of version `{version}`; this program knows version 1");
                    self.mistake(line, 0, says);
                }
            }
            ("owed:", _) => self.owed = Some(Owed::Below),
            ("owed: []", _) => self.owed = Some(Owed::Nothing),
            ("---", _) if !self.versioned => {}
            _ if self.odd => {}
            _ => {
                self.odd = true;
                let says =
                    "no line of a punch list; above its entries stand `nailplate: 1` and `owed:`";
                self.mistake(line, 0, says);
            }
        }
        self.head.push_str(&std::mem::take(&mut self.above));
        // With entries below, or without, it is written as it has to be then.
        if self.owed.is_none() {
            self.head.push_str(line);
            self.head.push('\n');
        }
    }

    fn entry(&mut self, line: &str) {
        if self.owed == Some(Owed::Nothing) {
            self.owed = Some(Owed::Below);
            self.mistake(
                line,
                0,
                "`owed: []` says that there are no entries; write `owed:` above them",
            );
        }
        match line::read(line) {
            Ok(read) => {
                let entry = self.made(line, read);
                self.entries.extend(entry);
            }
            Err((at, says)) => self.mistake(line, at, says),
        }
        self.above.clear();
    }

    /// The entry of a line, unless something is wrong with it.
    fn made(&mut self, line: &str, mut read: Line<'_>) -> Option<Entry> {
        let before = self.mistakes.len();
        // A key that is not known is most likely the one that is missing.
        let whole = read.slips.is_empty();
        for (at, says) in std::mem::take(&mut read.slips) {
            self.mistake(line, at, says);
        }
        let start = line.len() - line.trim_start_matches(' ').len();
        if *self.indented.get_or_insert(start) != start {
            self.mistake(line, start, "the entries must all be indented alike");
        }
        for (key, value) in KEYS.iter().zip(&read.values) {
            if value.is_none() && whole {
                self.mistake(line, start, format!("the entry has no `{key}`"));
            }
        }
        let [plan, rule, on, level, fingerprint, since] = read.values;
        let on = on.map(|(on, _)| match on {
            Words::One(on) => vec![Box::from(on)],
            Words::Several(on) => on.into_iter().map(Box::from).collect(),
        });
        let [plan, rule, level, fingerprint, since] =
            [plan, rule, level, fingerprint, since].map(|value| self.one(line, value));
        if let Some((plan, at)) = &plan
            && !is_from_folder(plan)
        {
            let says = "the plan is named by its path from this list's folder, such as `lower/kestrel.plan.yaml`";
            self.mistake(line, *at, says);
        }
        let level = self.known(line, level, "a level: hazard, fault or advice", |word| {
            Level::ALL.into_iter().find(|level| level.word() == word)
        });
        let since = self.known(line, since, "a day, such as 2026-11-02", Date::parse);
        let fingerprint = self.known(
            line,
            fingerprint,
            "a fingerprint of 16 hexadecimal digits",
            |text| {
                let hexadecimal = text
                    .bytes()
                    .all(|b| b.is_ascii_digit() || (b'a'..=b'f').contains(&b));
                (text.len() == 16 && hexadecimal).then(|| Box::from(text))
            },
        );
        if self.mistakes.len() > before {
            return None;
        }
        let ((plan, _), (rule, _)) = (plan?, rule?);
        let last = self.entries.last();
        Some(Entry {
            plan: shared(last.map(|last| &last.plan), &plan),
            rule: shared(last.map(|last| &last.rule), &rule),
            on: on?,
            level: level?,
            fingerprint: fingerprint?,
            since: since?,
            above: std::mem::take(&mut self.above).into(),
            behind: read.behind.into(),
        })
    }

    /// A value that is a single word.
    fn one<'l>(
        &mut self,
        line: &str,
        value: Option<(Words<'l>, usize)>,
    ) -> Option<(Cow<'l, str>, usize)> {
        match value? {
            (Words::One(word), at) => Some((word, at)),
            (Words::Several(_), at) => {
                self.mistake(line, at, "one value is wanted here, no list");
                None
            }
        }
    }

    fn known<T>(
        &mut self,
        line: &str,
        value: Option<(Cow<'_, str>, usize)>,
        wanted: &str,
        read: impl Fn(&str) -> Option<T>,
    ) -> Option<T> {
        let (text, at) = value?;
        let known = read(&text);
        if known.is_none() {
            self.mistake(
                line,
                at,
                format!("`{}` is not {wanted}", text.escape_debug()),
            );
        }
        known
    }

    fn mistake(&mut self, line: &str, at: usize, says: impl Into<String>) {
        self.mistakes.push(Mistake {
            line: self.number,
            column: line[..at].chars().count() + 1,
            says: says.into(),
        });
    }

    fn finish(mut self, line_end: &'static str) -> Result<PunchList, Vec<Mistake>> {
        self.number = self.number.max(1);
        if !self.versioned {
            self.number = 1;
            self.mistake(
                "",
                0,
                "no punch list: `nailplate: 1` is missing above its entries",
            );
        } else if self.owed.is_none() && !self.odd {
            self.mistake("", 0, "`owed:` is missing");
        }
        if !self.mistakes.is_empty() {
            return Err(self.mistakes);
        }
        let mut list = PunchList {
            head: self.head,
            entries: self.entries,
            tail: self.above,
            line_end,
        };
        list.settle();
        Ok(list)
    }
}

/// The text, shared with the entry before where that has the same.
fn shared(last: Option<&Arc<str>>, text: &str) -> Arc<str> {
    match last {
        Some(last) if **last == *text => Arc::clone(last),
        _ => text.into(),
    }
}

/// Whether a path leads down from a folder, each step by name.
fn is_from_folder(path: &str) -> bool {
    path.split('/').all(|step| !matches!(step, "" | "." | ".."))
}
