//! Standard output and standard error.

use std::io::{self, BufWriter, ErrorKind, IsTerminal, StdoutLock, Write};

use crate::forms::{Page, clean};

/// Standard output. Once its reader has gone (`| head`) everything more is dropped without a word,
/// and the exit status still tells what was found.
#[derive(Debug)]
pub struct Out {
    inner: BufWriter<Patient>,
}

#[derive(Debug)]
struct Patient {
    stdout: StdoutLock<'static>,
    gone: bool,
}

impl Write for Patient {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        if self.gone {
            return Ok(bytes.len());
        }
        match self.stdout.write(bytes) {
            Err(error) if error.kind() == ErrorKind::BrokenPipe => {
                self.gone = true;
                Ok(bytes.len())
            }
            other => other,
        }
    }

    fn flush(&mut self) -> io::Result<()> {
        if self.gone {
            return Ok(());
        }
        match self.stdout.flush() {
            Err(error) if error.kind() == ErrorKind::BrokenPipe => {
                self.gone = true;
                Ok(())
            }
            other => other,
        }
    }
}

impl Write for Out {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.inner.write(bytes)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.inner.flush()
    }
}

impl Out {
    pub fn standard() -> Self {
        let stdout = io::stdout().lock();
        Self {
            inner: BufWriter::with_capacity(
                64 * 1024,
                Patient {
                    stdout,
                    gone: false,
                },
            ),
        }
    }

    /// # Errors
    /// What is buffered could not be written.
    pub fn finish(mut self) -> io::Result<()> {
        self.flush()
    }
}

/// The page that standard output is: as wide as the terminal, else as `COLUMNS` says, else 80;
/// colour on a terminal only, and not when `NO_COLOR` is set.
pub fn page() -> Page {
    let terminal = io::stdout().is_terminal();
    let measured = || terminal_size::terminal_size().map(|(width, _)| usize::from(width.0));
    let stated = || std::env::var("COLUMNS").ok()?.parse().ok();
    let width = if terminal {
        measured().or_else(stated)
    } else {
        stated()
    };
    let set = |name: &str| std::env::var_os(name).is_some_and(|value| !value.is_empty());
    let dumb = std::env::var_os("TERM").is_some_and(|term| term == "dumb");
    Page::new(width.unwrap_or(80), terminal && !set("NO_COLOR") && !dumb)
}

/// A line on standard error. If nobody reads it, that is no reason to fail.
pub fn complain(text: &str) {
    let _ = writeln!(io::stderr(), "nailplate: {}", clean(text));
}

/// A line on standard error that belongs to the complaint before it.
pub fn explain(text: &str) {
    let page = textwrap::Options::new(80)
        .initial_indent("  ")
        .subsequent_indent("    ");
    let _ = writeln!(io::stderr(), "{}", textwrap::fill(&clean(text), page));
}
