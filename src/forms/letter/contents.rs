//! A file of letters: one alone, or several behind a table of what is in them.

use std::io::{Result, Seek, Write};
use std::path::Path;

use maud::{Markup, html};
use tempfile::SpooledTempFile;

use super::{file_name, head, letterhead};
use crate::forms::clean::clean;
use crate::review::Review;

/// Bytes of letters that wait in memory; more wait in a temporary file.
const IN_MEMORY: usize = 4 * 1024 * 1024;

/// Writes letters into one file. Call [`Letters::next`] or [`Letters::unusable`] for each plan, then
/// [`Letters::finish`].
pub struct Letters<'w> {
    out: &'w mut dyn Write,
    /// What has to wait for the contents, unless there is one letter only.
    waiting: Option<SpooledTempFile>,
    entries: String,
    plans: usize,
}

impl<'w> Letters<'w> {
    pub fn start(out: &'w mut dyn Write, plans: usize) -> Self {
        Self {
            out,
            waiting: (plans != 1).then(|| SpooledTempFile::new(IN_MEMORY)),
            entries: String::new(),
            plans,
        }
    }

    /// Where the next letter has to be written, and its line in the contents, made by [`entry()`].
    pub fn next(&mut self, entry: &str) -> &mut dyn Write {
        self.entries.push_str(entry);
        match &mut self.waiting {
            Some(waiting) => waiting,
            None => &mut *self.out,
        }
    }

    /// The next plan could not be used: the file says so, too.
    ///
    /// # Errors
    /// Those of the writer.
    pub fn unusable(&mut self, path: &Path, reason: &str) -> Result<()> {
        let name = file_name(path);
        let reason = clean(reason).replace(&*clean(&path.to_string_lossy()), &name);
        if self.waiting.is_some() {
            let row = html! {
                tr role="row" {
                    th role="rowheader" scope="row" { bdi { (name) } }
                    td.unusable role="cell" colspan="7" { "No letter: " (reason) }
                }
            };
            self.entries.push_str(&row.into_string());
            return Ok(());
        }
        head::start(&name, self.out)?;
        let page = html! {
            main {
                article.letter {
                    header.letterhead {
                        p.kind { "Inspection of a wiring plan" }
                        h1 { bdi { (name) } }
                    }
                    p { "This plan could not be used, and nothing in it was judged: " (reason) }
                }
            }
        };
        super::put(page, self.out)
    }

    /// Ends the file.
    ///
    /// # Errors
    /// Those of the writer, and of the temporary file.
    pub fn finish(self) -> Result<()> {
        if let Some(mut waiting) = self.waiting {
            head::start("Inspection letters", self.out)?;
            super::put(
                html! { a.skip href="#letters" { "Skip to the first letter" } },
                self.out,
            )?;
            super::put(contents(self.plans, &self.entries), self.out)?;
            self.out.write_all(b"<main id=\"letters\">")?;
            waiting.rewind()?;
            std::io::copy(&mut waiting, self.out)?;
            self.out.write_all(b"</main>")?;
        }
        head::end(self.out)
    }
}

/// A letter's line in the contents.
pub fn entry(review: &Review, number: usize) -> String {
    let tally = review.tally();
    let counts = [
        ("Hazard", tally.hazard),
        ("Fault", tally.fault),
        ("Advice", tally.advice),
        ("Owed", review.owed.len()),
        ("Let pass", review.let_pass.len()),
        ("Not judged", tally.gaps),
    ];
    let path = file_name(&review.sources.file(review.file).path);
    let row = html! {
        tr role="row" {
            th role="rowheader" scope="row" { (number) ". " a href={ "#letter-" (number) } { bdi { (letterhead::title(review)) } } }
            td role="cell" data-head="Plan" { bdi { (path) } }
            @for (head, count) in counts {
                td.count role="cell" data-head=(head) { (count) }
            }
        }
    };
    row.into_string()
}

fn contents(plans: usize, entries: &str) -> Markup {
    html! {
        header.contents {
            p.kind { "Inspection of wiring plans" }
            h1 { "Letters on " (plans) @if plans == 1 { " plan" } @else { " plans" } }
            nav aria-label="Contents" {
                table.letters role="table" {
                    caption { "Contents" }
                    thead role="rowgroup" {
                        tr role="row" {
                            @for head in ["Letter", "Plan", "Hazard", "Fault", "Advice", "Owed", "Let pass", "Not judged"] {
                                th role="columnheader" scope="col" { (head) }
                            }
                        }
                    }
                    tbody role="rowgroup" { (maud::PreEscaped(entries)) }
                }
            }
        }
    }
}
