//! The review as JSON, written finding by finding: `nailplate-review/1`, one document for all plans, and
//! `nailplate-review-line/1`, one document a line for each plan.

use std::io::{Result, Write};

use serde::Serialize;

use super::places::Places;
use super::words::Words;
use crate::findings::{Finding, Gap, Id, Mark, Redline};
use crate::review::{LetPass, Review};
use crate::yaml::{Edit, Position, Sources, Spot};

/// Writes the reviews of several files into one document. Call [`Json::file`] for each, then
/// [`Json::finish`].
pub struct Json<'w> {
    out: &'w mut dyn Write,
    words: Words,
    files: usize,
}

/// A position in data output: byte from 0, line and column (characters) from 1.
#[derive(Debug, Serialize)]
struct At {
    byte: usize,
    line: usize,
    column: usize,
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

#[derive(Serialize)]
struct Found<'r> {
    rule: &'r str,
    level: &'r str,
    on: Vec<&'r str>,
    says: &'r str,
    why: Option<&'r str>,
    put_right: Option<&'r str>,
    authority: Option<&'r str>,
    figure: Option<Figure<'r>>,
    limit: Option<Limit<'r>>,
    places: Vec<Place<'r>>,
    redlines: Vec<Suggested<'r>>,
}

#[derive(Serialize)]
struct Figure<'r> {
    name: &'r str,
    value: f64,
    unit: &'r str,
    working: &'r str,
}

#[derive(Serialize)]
struct Limit<'r> {
    value: f64,
    unit: &'r str,
}

#[derive(Serialize)]
struct Place<'r> {
    path: String,
    from: At,
    to: At,
    mark: &'r str,
}

#[derive(Serialize)]
struct Suggested<'r> {
    kind: &'static str,
    title: &'r str,
    edits: Vec<Replaced<'r>>,
}

#[derive(Serialize)]
struct Replaced<'r> {
    path: String,
    from: At,
    to: At,
    text: &'r str,
}

#[derive(Serialize)]
struct Lacking<'r> {
    rule: &'r str,
    on: Vec<&'r str>,
    lacks: &'r str,
}

#[derive(Serialize)]
struct Passed<'r> {
    #[serde(flatten)]
    finding: Found<'r>,
    reason: &'r str,
    by: &'r str,
    until: Option<&'r str>,
    approval: Option<&'r str>,
}

impl<'w> Json<'w> {
    /// Starts the document.
    ///
    /// # Errors
    /// Those of the writer.
    pub fn start(out: &'w mut dyn Write, words: Words) -> Result<Self> {
        out.write_all(br#"{"format":"nailplate-review/1","files":["#)?;
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
    sources: &Sources,
    places: &Places<'_>,
) -> Found<'r> {
    let words = words.get(finding.rule);
    Found {
        rule: finding.rule,
        level: finding.level.word(),
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
fn marked<'r>(mark: &'r Mark, sources: &Sources, places: &Places<'_>) -> Vec<Place<'r>> {
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

fn suggested<'r>(redline: &'r Redline, sources: &Sources, places: &Places<'_>) -> Suggested<'r> {
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
        kind: redline.kind.word(),
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

fn path(sources: &Sources, file: crate::yaml::FileId) -> String {
    sources.file(file).path.to_string_lossy().into_owned()
}
