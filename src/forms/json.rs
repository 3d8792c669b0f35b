//! The review as JSON, written finding by finding: `nailplate-review/1`, one document for all plans, and
//! `nailplate-review-line/1`, one document a line for each plan.
//!
//! Long because both forms, and the schema of what they write, are made of the same parts.

use std::borrow::Cow;
use std::io::{Result, Write};

use serde::Serialize;
use serde_json::{Value, json};

use super::places::Places;
use super::words::Words;
use crate::findings::{Finding, Gap, Id, Level, Mark, Redline, RedlineKind};
use crate::review::{LetPass, Review, Tally};
use crate::schema::{self, Schema, data};
use crate::yaml::{Edit, Position, Sources, Spot};

/// The format and its version.
const FORMAT: &str = "nailplate-review/1";

/// Writes the reviews of several files into one document. Call [`Json::file`] for each, then
/// [`Json::finish`].
pub struct Json<'w> {
    out: &'w mut dyn Write,
    words: Words,
    files: usize,
}

data! { written [derive(Debug, Serialize)]
    /// A position in a file.
    struct At {
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
    struct Found<'r> {
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
    struct Figure<'r> {
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
    struct Limit<'r> {
        /// Its value, in `unit`.
        value: f64,
        /// The unit of the value.
        unit: &'r str,
    }
}

data! { written [derive(Serialize)]
    /// A place that takes part in a finding.
    struct Place<'r> {
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
    struct Suggested<'r> {
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
    struct Replaced<'r> {
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
    struct Lacking<'r> {
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
    struct Passed<'r> {
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

/// The schema of the document: what [`Json`] writes around the structs, and they.
pub fn schema() -> Value {
    let about = "What `nailplate review --as json` writes: the findings of each plan, what could not be judged, and what was let pass.";
    schema::document("nailplate review", about, |defs| {
        let file = [
            ("path", <&str>::schema(defs), "The plan, as it was named."),
            (
                "findings",
                Vec::<Found<'_>>::schema(defs),
                "What is wrong, in the order of the places.",
            ),
            (
                "gaps",
                Vec::<Lacking<'_>>::schema(defs),
                "Checks that could not be made.",
            ),
            (
                "let_pass",
                Vec::<Passed<'_>>::schema(defs),
                "Findings that a variance lets pass.",
            ),
            ("tally", Tally::schema(defs), "How many of each."),
        ];
        files(FORMAT, "One plan and its review.", file)
    })
}

/// The schema of a document of `files` in some format.
pub(super) fn files<const N: usize>(
    format: &str,
    what: &str,
    file: [(&str, Value, &str); N],
) -> Value {
    let keys = file
        .into_iter()
        .map(|(name, schema, what)| (name.to_owned(), schema::described(schema, what), true));
    let file = schema::object("file", what, keys);
    let format = json!({"const": format, "description": "The format and its version."});
    let files = json!({"type": "array", "items": file, "description": "In the order in which they were named."});
    let keys = [
        ("format".to_owned(), format, true),
        ("files".to_owned(), files, true),
    ];
    schema::object("document", "", keys.into_iter())
}

impl<'w> Json<'w> {
    /// Starts the document.
    ///
    /// # Errors
    /// Those of the writer.
    pub fn start(out: &'w mut dyn Write, words: Words) -> Result<Self> {
        write!(out, r#"{{"format":"{FORMAT}","files":["#)?;
        Ok(Self {
            out,
            words,
            files: 0,
        })
    }

    /// Adds one file.
    ///
    /// # Errors
    /// Those of the writer.
    pub fn file(&mut self, review: &Review) -> Result<()> {
        self.part()?;
        file(review, &mut self.words, self.out)
    }

    /// Where the next file's object, made by [`file()`], has to be written.
    ///
    /// # Errors
    /// Those of the writer.
    pub fn next_file(&mut self) -> Result<&mut dyn Write> {
        self.part()?;
        Ok(self.out)
    }

    fn part(&mut self) -> Result<()> {
        if self.files > 0 {
            self.out.write_all(b",")?;
        }
        self.files += 1;
        Ok(())
    }

    /// Ends the document.
    ///
    /// # Errors
    /// Those of the writer.
    pub fn finish(self) -> Result<()> {
        self.out.write_all(b"]}\n")
    }
}

/// One plan as an object of the list `files`.
///
/// # Errors
/// Those of the writer.
pub fn file(review: &Review, words: &mut Words, out: &mut dyn Write) -> Result<()> {
    out.write_all(b"{")?;
    members(review, words, out)?;
    out.write_all(b"}")
}

/// One plan as a document of its own on a line of its own, so that the output of several runs can
/// be joined.
///
/// # Errors
/// Those of the writer.
pub fn line(review: &Review, words: &mut Words, out: &mut dyn Write) -> Result<()> {
    out.write_all(br#"{"format":"nailplate-review-line/1","#)?;
    members(review, words, out)?;
    out.write_all(b"}\n")
}

fn members(review: &Review, words: &mut Words, out: &mut dyn Write) -> Result<()> {
    let places = Places::new(&review.sources);
    out.write_all(br#""path":"#)?;
    serde_json::to_writer(&mut *out, &path(&review.sources, review.file))?;
    out.write_all(br#","findings":"#)?;
    list(out, &review.findings, |out, finding| {
        Ok(serde_json::to_writer(
            out,
            &found(finding, words, &review.sources, &places),
        )?)
    })?;
    out.write_all(br#","gaps":"#)?;
    list(out, &review.gaps, |out, gap| {
        Ok(serde_json::to_writer(out, &lacking(gap))?)
    })?;
    out.write_all(br#","let_pass":"#)?;
    list(out, &review.let_pass, |out, let_pass| {
        let LetPass {
            finding,
            reason,
            by,
            until,
            approval,
        } = let_pass;
        let finding = found(finding, words, &review.sources, &places);
        let passed = Passed {
            finding,
            reason,
            by,
            until: until.as_deref(),
            approval: approval.as_deref(),
        };
        Ok(serde_json::to_writer(out, &passed)?)
    })?;
    out.write_all(br#","tally":"#)?;
    Ok(serde_json::to_writer(out, &review.tally())?)
}

fn list<T>(
    out: &mut dyn Write,
    items: &[T],
    mut write: impl FnMut(&mut dyn Write, &T) -> Result<()>,
) -> Result<()> {
    out.write_all(b"[")?;
    for (index, item) in items.iter().enumerate() {
        if index > 0 {
            out.write_all(b",")?;
        }
        write(out, item)?;
    }
    out.write_all(b"]")
}

fn found<'r>(
    finding: &'r Finding,
    words: &'r mut Words,
    sources: &'r Sources,
    places: &Places<'_>,
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
            .flat_map(|mark| marked(mark, sources, places))
            .collect(),
        redlines: finding
            .redlines
            .iter()
            .map(|redline| suggested(redline, sources, places))
            .collect(),
    }
}

/// The place, and for a value reached through an alias the anchored place behind it.
fn marked<'r>(mark: &'r Mark, sources: &'r Sources, places: &Places<'_>) -> Vec<Place<'r>> {
    let (spot, anchored) = sources.spots(mark.span);
    let place = |spot: Spot, mark| {
        let (from, to) = ends(spot, places);
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

fn suggested<'r>(redline: &'r Redline, sources: &'r Sources, places: &Places<'_>) -> Suggested<'r> {
    let replaced = |edit: &'r Edit| {
        let (from, to) = ends(edit.at, places);
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

fn lacking(gap: &Gap) -> Lacking<'_> {
    Lacking {
        rule: gap.rule,
        on: names(&gap.on),
        lacks: &gap.lacks,
    }
}

fn names(ids: &[Id]) -> Vec<&str> {
    ids.iter().map(Id::as_str).collect()
}

fn ends(spot: Spot, places: &Places<'_>) -> (At, At) {
    (
        places.position(spot.file, spot.start).into(),
        places.position(spot.file, spot.end).into(),
    )
}

fn path(sources: &Sources, file: crate::yaml::FileId) -> Cow<'_, str> {
    sources.file(file).path.to_string_lossy()
}
