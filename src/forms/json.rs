//! The review as JSON, written finding by finding: `nailplate-review/1`, one document for all plans, and
//! `nailplate-review-line/1`, one document a line for each plan.

use std::io::{Result, Write};

use serde_json::{Value, json};

use super::json_parts::{
    Due, Found, Gone, Lacking, Passed, due, found, gone, lacking, passed, path,
};
use super::json_rulebook::{Bound, bound};
use super::words::Words;
use crate::review::{Review, Tally};
use crate::schema::{self, Schema};

/// The format and its version.
const FORMAT: &str = "nailplate-review/1";

/// Writes the reviews of several files into one document. Call [`Json::file`] for each, then
/// [`Json::finish`].
pub struct Json<'w> {
    out: &'w mut dyn Write,
    words: Words,
    files: usize,
}

/// The schema of the document: what [`Json`] writes around the structs, and they.
pub fn schema() -> Value {
    let about = "What `nailplate review --as json` writes: the findings of each plan, what could not be judged, what was let pass, and what is owed.";
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
            (
                "owed",
                Vec::<Due<'_>>::schema(defs),
                "Findings that a punch list has as owed.",
            ),
            (
                "not_found",
                Vec::<Gone<'_>>::schema(defs),
                "What else the punch list has for this plan.",
            ),
            (
                "rulebook",
                Bound::schema(defs),
                "What the plan was judged by.",
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
    words.turn_to(review);
    out.write_all(br#""path":"#)?;
    serde_json::to_writer(&mut *out, &path(&review.sources, review.file))?;
    out.write_all(br#","findings":"#)?;
    list(out, &review.findings, |out, finding| {
        Ok(serde_json::to_writer(
            out,
            &found(finding, words, &review.sources),
        )?)
    })?;
    out.write_all(br#","gaps":"#)?;
    list(out, &review.gaps, |out, gap| {
        Ok(serde_json::to_writer(out, &lacking(gap))?)
    })?;
    out.write_all(br#","let_pass":"#)?;
    list(out, &review.let_pass, |out, let_pass| {
        Ok(serde_json::to_writer(
            out,
            &passed(let_pass, words, &review.sources),
        )?)
    })?;
    out.write_all(br#","owed":"#)?;
    list(out, &review.owed, |out, owed| {
        Ok(serde_json::to_writer(
            out,
            &due(owed, words, &review.sources),
        )?)
    })?;
    out.write_all(br#","not_found":"#)?;
    list(out, &review.not_found, |out, entry| {
        Ok(serde_json::to_writer(out, &gone(entry))?)
    })?;
    out.write_all(br#","rulebook":"#)?;
    serde_json::to_writer(&mut *out, &bound(&review.rulebook))?;
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
