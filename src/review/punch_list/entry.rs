//! One entry of a punch list, and how it is written.

use std::borrow::Cow;
use std::cmp::Ordering;
use std::fmt::{self, Write};
use std::sync::Arc;

use crate::findings::{Finding, Level};
use crate::plan::Date;
use crate::plan::wording::is_unseen;

/// Things that an entry names at most.
pub const MOST: usize = 32;

/// A finding that is owed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    /// The plan, by its path from the list's folder, with `/` between folders on every system.
    pub plan: Arc<str>,
    pub rule: Arc<str>,
    /// The things concerned, the one at fault first. Of very many the first `MOST`.
    pub on: Vec<Box<str>>,
    /// What is owed is no graver than this.
    pub level: Level,
    pub fingerprint: Box<str>,
    pub since: Date,
    /// Whole lines of comment that stand above it.
    pub(super) above: Box<str>,
    /// A comment that stands behind it, with the blanks before it.
    pub(super) behind: Box<str>,
}

impl Entry {
    /// What a plan owes by a finding.
    pub fn of(plan: Arc<str>, finding: &Finding, fingerprint: &str, since: Date) -> Self {
        Self {
            plan,
            rule: finding.rule.into(),
            on: named(finding),
            level: finding.level,
            fingerprint: fingerprint.into(),
            since,
            above: Box::default(),
            behind: Box::default(),
        }
    }

    /// The entry for what its finding has become.
    #[must_use]
    pub(super) fn now(&self, finding: &Finding, fingerprint: &str) -> Self {
        Self {
            on: named(finding),
            level: finding.level,
            fingerprint: fingerprint.into(),
            ..self.clone()
        }
    }

    /// The thing at fault.
    pub fn at_fault(&self) -> &str {
        self.on.first().map_or("plan", |on| on)
    }

    /// Of two that are the same what both say: owed since the earlier day, and as grave as the graver.
    pub(super) fn join(&mut self, again: &mut Self) {
        self.since = self.since.min(again.since);
        self.level = self.level.max(again.level);
        for (own, other) in [
            (&mut self.above, &mut again.above),
            (&mut self.behind, &mut again.behind),
        ] {
            if own.is_empty() {
                std::mem::swap(own, other);
            }
        }
    }

    /// By what entries are told apart, and the order in which they stand.
    pub fn order(&self, other: &Self) -> Ordering {
        (&*self.plan, &*self.rule, &self.on, &*self.fingerprint).cmp(&(
            &*other.plan,
            &*other.rule,
            &other.on,
            &*other.fingerprint,
        ))
    }
}

/// The entry as YAML, on one line.
impl fmt::Display for Entry {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "- {{plan: {}, rule: {}, on: {}, level: {}, fingerprint: {}, since: {}}}",
            written(&self.plan),
            written(&self.rule),
            listed(&self.on),
            self.level,
            digits(&self.fingerprint),
            self.since
        )
    }
}

/// The things that an entry names.
fn named(finding: &Finding) -> Vec<Box<str>> {
    if finding.on.is_empty() {
        return vec!["plan".into()];
    }
    let on = finding.on.iter().take(MOST);
    on.map(|id| Box::from(id.as_str())).collect()
}

/// Things as YAML: one by itself, several as a list.
fn listed(on: &[Box<str>]) -> String {
    match on {
        [one] => written(one).into_owned(),
        _ => {
            let on: Vec<_> = on.iter().map(|on| written(on)).collect();
            format!("[{}]", on.join(", "))
        }
    }
}

/// Whether a character may stand in a value without quotes.
pub(super) fn is_bare(c: char) -> bool {
    c.is_alphanumeric() || matches!(c, '_' | '.' | '/' | '-' | '+' | ' ')
}

/// A fingerprint as YAML: in quotes where a loader would take it for a number.
fn digits(fingerprint: &str) -> Cow<'_, str> {
    if fingerprint.parse::<f64>().is_ok() {
        return Cow::Owned(format!("\"{fingerprint}\""));
    }
    Cow::Borrowed(fingerprint)
}

/// A value as YAML: in quotes where it has signs of YAML's own, where nobody could see what it is,
/// or where a loader might take it for a number or a truth value.
fn written(text: &str) -> Cow<'_, str> {
    const OTHER: [&str; 9] = ["y", "n", "yes", "no", "on", "off", "true", "false", "null"];
    let first = text.chars().next();
    let bare = first.is_some_and(|c| c.is_alphabetic() || c == '_')
        && text.chars().all(is_bare)
        && !text.ends_with(' ')
        && !OTHER.iter().any(|word| text.eq_ignore_ascii_case(word));
    if bare {
        return Cow::Borrowed(text);
    }
    let mut quoted = String::from('"');
    for c in text.chars() {
        match c {
            '"' | '\\' => quoted.extend(['\\', c]),
            // In the halves that JSON and the engine take, where one is not enough.
            c if is_unseen(c) => {
                for half in c.encode_utf16(&mut [0; 2]) {
                    let _ = write!(quoted, "\\u{half:04x}");
                }
            }
            c => quoted.push(c),
        }
    }
    quoted.push('"');
    Cow::Owned(quoted)
}
