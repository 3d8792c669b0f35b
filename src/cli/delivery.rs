//! Reviews handed over one by one: to standard output, the complaints to standard error.

use std::io::{self, IsTerminal, Stderr, Write};
use std::time::Instant;

use super::Outcome;
use super::input;
use super::out::{Out, complain};
use super::progress::Progress;
use super::review::{Form, Refused};
use crate::forms::Words;
use crate::forms::json::Json;
use crate::forms::letter::Letters;
use crate::forms::sarif::Sarif;

/// What stands between, before and behind the reviews, and how far they are.
pub struct Delivery<'w> {
    document: Document<'w>,
    progress: Progress<Stderr>,
    /// Standard output goes to a terminal, too, most likely the one that shows the progress.
    beside: bool,
    worst: Outcome,
}

enum Document<'w> {
    Json(Json<'w>),
    Letters(Letters<'w>),
    Sarif(Sarif<'w>),
    /// One after the other, some with an empty line between.
    Plain {
        out: &'w mut Out,
        spaced: bool,
        first: bool,
    },
}

impl<'w> Delivery<'w> {
    /// # Errors
    /// Those of the output.
    pub fn start(
        form: Form,
        total: usize,
        worst: Outcome,
        out: &'w mut Out,
    ) -> io::Result<Delivery<'w>> {
        let beside = io::stdout().is_terminal();
        // Something drawn into the document's one long line would spoil it.
        let drawn = !(beside && matches!(form, Form::Json | Form::Html | Form::Sarif));
        let document = match form {
            Form::Json => Document::Json(Json::start(out, Words::default())?),
            Form::Html => Document::Letters(Letters::start(out, total)),
            Form::Sarif => {
                let mut sarif = Sarif::start(out)?;
                if worst == Outcome::Unusable {
                    sarif.overlooked()?;
                }
                Document::Sarif(sarif)
            }
            Form::Text | Form::Lines | Form::JsonLines | Form::Markdown => Document::Plain {
                out,
                spaced: matches!(form, Form::Text | Form::Markdown),
                first: true,
            },
        };
        Ok(Self {
            document,
            progress: Progress::on_standard_error(total, drawn),
            beside,
            worst,
        })
    }

    /// The next plan has been reviewed; `entry` is its line in the document's contents or list of files,
    /// `write` writes its part.
    ///
    /// # Errors
    /// Those of the output.
    pub fn reviewed(
        &mut self,
        outcome: Outcome,
        entry: &str,
        write: impl FnOnce(&mut dyn Write) -> io::Result<()>,
    ) -> io::Result<()> {
        if self.beside {
            self.progress.make_way();
        }
        write(self.document.next(entry)?)?;
        self.one_more(outcome)
    }

    /// The next plan could not be used.
    ///
    /// # Errors
    /// Those of the output.
    pub fn unusable(&mut self, refused: &Refused) -> io::Result<()> {
        if !refused.told {
            self.progress.make_way();
            complain(&refused.reason);
        }
        let name = input::name(&refused.plan);
        match &mut self.document {
            Document::Letters(letters) => letters.unusable(&name, &refused.reason)?,
            Document::Sarif(sarif) => sarif.unusable(&name, &refused.reason)?,
            Document::Json(_) | Document::Plain { .. } => {}
        }
        self.one_more(Outcome::Unusable)
    }

    fn one_more(&mut self, outcome: Outcome) -> io::Result<()> {
        self.worst = self.worst.max(outcome);
        let now = Instant::now();
        if self.progress.step(now) {
            if self.beside {
                self.document.flush()?;
            }
            self.progress.draw(now);
        }
        Ok(())
    }

    /// Ends the document. The worst of all outcomes counts.
    ///
    /// # Errors
    /// Those of the output.
    pub fn finish(mut self) -> io::Result<Outcome> {
        self.progress.make_way();
        let worst = self.worst;
        match self.document {
            Document::Json(json) => json.finish()?,
            Document::Letters(letters) => letters.finish()?,
            Document::Sarif(sarif) => sarif.finish(worst != Outcome::Unusable, worst.status())?,
            Document::Plain { .. } => {}
        }
        Ok(worst)
    }
}

impl Document<'_> {
    /// Where the next review goes.
    fn next(&mut self, entry: &str) -> io::Result<&mut dyn Write> {
        match self {
            Self::Json(json) => json.next_file(),
            Self::Letters(letters) => Ok(letters.next(entry)),
            Self::Sarif(sarif) => sarif.next_plan(entry),
            Self::Plain { out, spaced, first } => {
                if !std::mem::take(first) && *spaced {
                    writeln!(out)?;
                }
                Ok(&mut **out)
            }
        }
    }

    fn flush(&mut self) -> io::Result<()> {
        match self {
            // Nothing is drawn beside it.
            Self::Json(_) | Self::Letters(_) | Self::Sarif(_) => Ok(()),
            Self::Plain { out, .. } => out.flush(),
        }
    }
}
