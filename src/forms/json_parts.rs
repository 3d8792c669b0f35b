//! What a review says, as the parts of its JSON.

use std::borrow::Cow;

use serde::Serialize;

use super::words::Words;
use crate::findings::{Finding, Gap, Id, Level, Mark, Redline, RedlineKind};
use crate::review::{Became, LetPass, NotFound, Owed};
use crate::schema::data;
use crate::yaml::{Edit, FileId, Position, Sources, Spot};

data! { written [derive(Debug, Serialize)]
    /// A position in a file.
    pub(super) struct At {
        /// Byte, from 0.
        byte: usize,
        /// Line, from 1.
        line: usize,
        /// Column in characters, from 1.
        column: usize,
    }
}

impl From<Position> for At {
    fn from(at: Position) -> Self {
        Self {
            byte: at.byte,
            line: at.line,
            column: at.column,
        }
    }
}

data! { written [derive(Serialize)]
    /// One thing wrong with a plan.
    pub(super) struct Found<'r> {
        /// Id of the sheet that judged.
        rule: &'r str,
        /// How grave it is.
        level: Level,
        /// Ids of the things concerned, the one at fault first.
        on: Vec<&'r str>,
        /// What is wrong, in one sentence.
        says: &'r str,
        /// What goes wrong in the room.
        why: Option<&'r str>,
        /// What an installer does about it.
        put_right: Option<&'r str>,
        /// Clause, table, or "common practice".
        authority: Option<&'r str>,
        /// The computed figure behind it.
        figure: Option<Figure<'r>>,
        /// What the figure is held against.
        limit: Option<Limit<'r>>,
        /// The places that take part, the one at fault first.
        places: Vec<Place<'r>>,
        /// Edits that are offered; each is applied whole or not at all.
        redlines: Vec<Suggested<'r>>,
    }
}

data! { written [derive(Serialize)]
    /// A computed figure.
    pub(super) struct Figure<'r> {
        /// Its name in the table of figures.
        name: &'r str,
        /// Its value, in `unit`.
        value: f64,
        /// The unit of the value.
        unit: &'r str,
        /// How it came about.
        working: &'r str,
    }
}

data! { written [derive(Serialize)]
    /// What a figure is held against.
    pub(super) struct Limit<'r> {
        /// Its value, in `unit`.
        value: f64,
        /// The unit of the value.
        unit: &'r str,
    }
}

data! { written [derive(Serialize)]
    /// A place that takes part in a finding.
    pub(super) struct Place<'r> {
        /// The file, as it was named.
        path: Cow<'r, str>,
        /// Where the place starts.
        from: At,
        /// The position behind its last character.
        to: At,
        /// A few words on its part.
        mark: &'r str,
    }
}

data! { written [derive(Serialize)]
    /// An edit that is offered.
    pub(super) struct Suggested<'r> {
        /// What applying it does.
        kind: RedlineKind,
        /// What it does, in words.
        title: &'r str,
        /// The replacements, all of them to be made.
        edits: Vec<Replaced<'r>>,
    }
}

data! { written [derive(Serialize)]
    /// A replacement of some text by another.
    pub(super) struct Replaced<'r> {
        /// The file, as it was named.
        path: Cow<'r, str>,
        /// Where the replaced text starts.
        from: At,
        /// The position behind its last character.
        to: At,
        /// What comes in its place.
        text: &'r str,
    }
}

data! { written [derive(Serialize)]
    /// A check that could not be made.
    pub(super) struct Lacking<'r> {
        /// Id of the sheet that wanted to judge.
        rule: &'r str,
        /// Ids of the things concerned.
        on: Vec<&'r str>,
        /// What is missing.
        lacks: &'r str,
    }
}

data! { written [derive(Serialize)]
    /// A finding that a variance lets pass.
    pub(super) struct Passed<'r> {
        /// The finding.
        @flatten finding: Found<'r>,
        /// Why it is let pass.
        reason: &'r str,
        /// Who lets it pass.
        by: &'r str,
        /// Until when.
        until: Option<&'r str>,
        /// Reference of the approval by the authority having jurisdiction.
        approval: Option<&'r str>,
    }
}

data! { written [derive(Serialize)]
    /// A finding that a punch list has as owed.
    pub(super) struct Due<'r> {
        /// The finding.
        @flatten finding: Found<'r>,
        /// By what it is known again.
        fingerprint: &'r str,
        /// The day from which on it is owed.
        since: String,
    }
}

data! { written [derive(Serialize)]
    /// An entry of the punch list whose finding was not found again.
    pub(super) struct Gone<'r> {
        /// Id of the sheet that judged.
        rule: &'r str,
        /// Ids of the things concerned, the one at fault first.
        on: Vec<&'r str>,
        /// How grave it was.
        level: Level,
        /// By what it is known again.
        fingerprint: &'r str,
        /// The day from which on it is owed.
        since: String,
        /// What became of it: `put-right`, `let-pass` (by a variance), `no-rule` (of this name), or `not-judged`.
        became: &'r str,
        /// What was missing to judge it.
        lacks: Option<&'r str>,
    }
}

pub(super) fn due<'r>(owed: &'r Owed, words: &'r mut Words, sources: &'r Sources) -> Due<'r> {
    Due {
        finding: found(&owed.finding, words, sources),
        fingerprint: &owed.fingerprint,
        since: owed.entry.since.to_string(),
    }
}

pub(super) fn gone(gone: &NotFound) -> Gone<'_> {
    Gone {
        rule: &gone.entry.rule,
        on: gone.entry.on.iter().map(|on| &**on).collect(),
        level: gone.entry.level,
        fingerprint: &gone.entry.fingerprint,
        since: gone.entry.since.to_string(),
        became: gone.became.word(),
        lacks: match &gone.became {
            Became::Unjudged(lack) => Some(lack),
            _ => None,
        },
    }
}

pub(super) fn found<'r>(
    finding: &'r Finding,
    words: &'r mut Words,
    sources: &'r Sources,
) -> Found<'r> {
    let words = words.get(finding.rule);
    Found {
        rule: finding.rule,
        level: finding.level,
        on: names(&finding.on),
        says: &finding.says,
        why: words.why(),
        put_right: words.put_right(finding),
        authority: words.authority(finding),
        figure: finding.figure.as_ref().map(|figure| Figure {
            name: figure.name,
            value: figure.value,
            unit: figure.unit,
            working: &figure.working,
        }),
        limit: finding.limit.as_ref().map(|limit| Limit {
            value: limit.value,
            unit: limit.unit,
        }),
        places: finding
            .marks
            .iter()
            .flat_map(|mark| marked(mark, sources))
            .collect(),
        redlines: finding
            .redlines
            .iter()
            .map(|redline| suggested(redline, sources))
            .collect(),
    }
}

/// The place, and for a value reached through an alias the anchored place behind it.
fn marked<'r>(mark: &'r Mark, sources: &'r Sources) -> Vec<Place<'r>> {
    let (spot, anchored) = sources.spots(mark.span);
    let place = |spot: Spot, mark| {
        let (from, to) = ends(spot, sources);
        Place {
            path: path(sources, spot.file),
            from,
            to,
            mark,
        }
    };
    let anchored = anchored.map(|spot| place(spot, "anchored here"));
    std::iter::once(place(spot, &*mark.label))
        .chain(anchored)
        .collect()
}

fn suggested<'r>(redline: &'r Redline, sources: &'r Sources) -> Suggested<'r> {
    let replaced = |edit: &'r Edit| {
        let (from, to) = ends(edit.at, sources);
        Replaced {
            path: path(sources, edit.at.file),
            from,
            to,
            text: &edit.text,
        }
    };
    Suggested {
        kind: redline.kind,
        title: &redline.title,
        edits: redline.edits.iter().map(replaced).collect(),
    }
}

pub(super) fn passed<'r>(
    let_pass: &'r LetPass,
    words: &'r mut Words,
    sources: &'r Sources,
) -> Passed<'r> {
    Passed {
        finding: found(&let_pass.finding, words, sources),
        reason: &let_pass.reason,
        by: &let_pass.by,
        until: let_pass.until.as_deref(),
        approval: let_pass.approval.as_deref(),
    }
}

pub(super) fn lacking(gap: &Gap) -> Lacking<'_> {
    Lacking {
        rule: gap.rule,
        on: names(&gap.on),
        lacks: &gap.lacks,
    }
}

fn names(ids: &[Id]) -> Vec<&str> {
    ids.iter().map(Id::as_str).collect()
}

fn ends(spot: Spot, sources: &Sources) -> (At, At) {
    let source = sources.file(spot.file);
    (
        source.position(spot.start).into(),
        source.position(spot.end).into(),
    )
}

pub(super) fn path(sources: &Sources, file: FileId) -> Cow<'_, str> {
    sources.file(file).path.to_string_lossy()
}
