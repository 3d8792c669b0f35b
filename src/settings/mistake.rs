//! The mistakes that only settings can have, one method each. Their sheets stand in `rules/settings/`; all others
//! are those of the plan language.

use crate::findings::{Finding, Id, Level, Mark};
use crate::plan::near;
use crate::plan::reader::Reader;
use crate::plan::wording::shown;
use crate::rules::sheet::{AnyLimit, Whole};
use crate::rules::{READING, RULES, sheet};
use crate::yaml::{FileId, NodeId, Sources, Span};

/// Ids of the mistakes; their sheets stand in `rules/settings/`.
pub const MISTAKES: &[&str] = &[
    "settings.at-odds",
    "settings.no-such-limit",
    "settings.no-such-rule",
    "settings.unfit-limit",
    "settings.unfit-sheet",
    "settings.unread",
];

/// What mistakes of the settings' own file are on.
pub const ON: &str = "settings file";

/// Why a rule cannot go by a limit; `None` where it can. `whole` is the built-in sheet.
pub fn misfit(rule: usize, whole: &Whole, name: &str, wanted: &AnyLimit) -> Option<String> {
    let known = whole.limits.get(name)?;
    let decoded = |limit: AnyLimit| {
        let mut whole = whole.clone();
        whole.limits.insert(name.to_owned(), limit);
        let sheet = sheet(RULES[rule].id).map(|sheet| sheet.restated(whole));
        sheet.map_or(Ok(()), |sheet| (RULES[rule].decode)(&sheet))
    };
    if let Err(reason) = decoded(wanted.clone()) {
        return Some(reason);
    }
    let nonsense = AnyLimit {
        value: "∅".into(),
        ..known.clone()
    };
    if wanted.value != known.value && decoded(nonsense).is_ok() {
        return Some(
            "it is a name that nothing is measured by: only its authority can be another".into(),
        );
    }
    let is_number = |text: &str| text.starts_with(|c: char| c.is_ascii_digit());
    if is_number(&known.value) && !is_number(wanted.value.trim_start_matches(['+', '.'])) {
        return Some("a number from zero on is wanted".into());
    }
    None
}

impl Reader<'_> {
    /// An entry, by its key, or a firm's sheet, for what no function judges.
    pub(super) fn no_such_rule(&mut self, key: Option<NodeId>, at: Span, name: &str) {
        let of_reading = READING.iter().any(|sheet| sheet.id == name);
        let says = if of_reading {
            format!(
                "{} names {name}, a mistake of reading, which no settings change",
                self.subject()
            )
        } else {
            format!(
                "{} names `{}`, and no function judges such a rule",
                self.subject(),
                shown(name)
            )
        };
        let near = near(name, RULES.iter().map(|rule| rule.id)).filter(|_| !of_reading);
        let redline = near.as_ref().and_then(|near| {
            let word = near.only()?;
            let kind = Self::kind_of_guess(near, name);
            self.replacing(key?, word, kind, format!("write `{word}`"))
        });
        let own = key.map_or(at, |key| self.solid(key));
        if let Some(finding) =
            self.report_at("settings.no-such-rule", own, at, says, "no such rule")
        {
            finding.put_right = Some(match near {
                Some(near) => format!("{} Nothing that stands here is in effect", near.question()),
                None if of_reading => {
                    "take it out: a plan that cannot be read cannot be judged".into()
                }
                None => {
                    "take it out, or write one of the rules that `nailplate rulebook` lists".into()
                }
            });
            finding.redlines.extend(redline);
        }
    }

    /// A limit that the rule does not have.
    pub(super) fn no_such_limit(
        &mut self,
        key: NodeId,
        at: Span,
        name: &str,
        rule: &str,
        whole: &Whole,
    ) {
        let says = format!("{rule} has no limit `{}`", shown(name));
        let known: Vec<&str> = whole.limits.keys().map(String::as_str).collect();
        let near = near(name, known.iter().copied());
        let redline = near.as_ref().and_then(|near| {
            let word = near.only()?;
            let kind = Self::kind_of_guess(near, name);
            self.replacing(key, word, kind, format!("write `{word}`"))
        });
        let own = self.solid(key);
        if let Some(finding) =
            self.report_at("settings.no-such-limit", own, at, says, "no such limit")
        {
            finding.put_right = Some(match near {
                Some(near) => near.question(),
                None if known.is_empty() => {
                    "take it out: this rule holds nothing against a number".into()
                }
                None => format!("its limits are {}", known.join(", ")),
            });
            finding.redlines.extend(redline);
        }
    }

    /// A limit that the rule cannot go by.
    pub(super) fn unfit_limit(
        &mut self,
        at: Span,
        name: &str,
        rule: &str,
        text: &str,
        reason: &str,
    ) {
        let says = format!(
            "the limit {name} of {rule} cannot be {}: {reason}",
            shown(text)
        );
        let built_in = sheet(rule)
            .and_then(|sheet| sheet.whole().ok())
            .and_then(|whole| whole.limits.get(name).map(|limit| limit.value.clone()));
        if let Some(finding) = self.report_at(
            "settings.unfit-limit",
            at,
            at,
            says,
            "the rule cannot go by this",
        ) {
            finding.put_right = built_in.map(|value| {
                format!(
                    "write it as the built-in sheet does: {value}; until then that is in effect"
                )
            });
        }
    }

    /// A rule that is not adopted and yet has something set.
    pub(super) fn at_odds(&mut self, at: Span, rule: &str) {
        let says = format!("{rule} is not adopted, and yet its level or limits are set");
        if let Some(finding) = self.report_at("settings.at-odds", at, at, says, "one or the other")
        {
            finding.put_right =
                Some("take out one of the two; until then the rule judges as in its sheet".into());
        }
    }

    /// A sheet of the firm's own that cannot stand in the place of the built-in one.
    pub(super) fn unfit_sheet(&mut self, at: Span, says: String, label: &str, put_right: &str) {
        if let Some(finding) = self.report_at("settings.unfit-sheet", at, at, says, label) {
            finding.put_right = Some(put_right.into());
        }
    }
}

/// A file or folder that the settings name and that could not be read; `stopped` is where in it.
pub fn unread(
    sources: &Sources,
    what: &str,
    reason: &str,
    named: Span,
    stopped: Option<(FileId, usize)>,
) -> Finding {
    let mut says = format!("{what} could not be read: {reason}");
    if let Some((file, byte)) = stopped {
        let at = sources.file(file).position(byte);
        says += &format!(" (line {}, column {})", at.line, at.column);
    }
    let mut finding = Finding::new(
        "settings.unread",
        Level::Fault,
        Id::new(ON),
        says,
        named,
        "not read",
    );
    if let Some((file, byte)) = stopped {
        let source = sources.file(file);
        let sign = source.text[byte..].chars().next();
        if let Some(sign) = sign.filter(|sign| !sign.is_whitespace()) {
            finding.marks.push(Mark {
                span: source.span_of(byte..byte + sign.len_utf8()),
                label: "reading stopped here".into(),
            });
        }
    }
    finding
}
