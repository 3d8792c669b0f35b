//! The verbs: read the command line, call one function, choose a form, set the exit status.
//!
//! Knows: files, the terminal. Must not know: how anything is judged.

mod completions;
mod day;
mod delivery;
mod figures;
mod git;
mod hands;
mod input;
mod lists;
mod manual;
mod nearby;
mod out;
mod plans;
mod progress;
mod punchlist;
mod redline;
mod refused;
mod review;
mod revised;
mod rulebook;
mod schema;
mod settings;
mod shelf;
mod users;
mod written;

use std::process::ExitCode;

use clap::{CommandFactory, Parser, Subcommand};

pub use out::Out;

/// Checks the wiring plan of a media room before the walls are closed.
#[derive(Debug, Parser)]
#[command(name = "nailplate", version, max_term_width = 100, after_help = CLOSING)]
pub struct Cli {
    #[command(subcommand)]
    command: Command,
}

const CLOSING: &str = "Example:\n  nailplate review examples/kestrel-row-submitted.plan.yaml\n\n\
`nailplate COMMAND --help` tells more of a command.\n\n\
Exit status: 0 nothing to put right, 1 something to put right, 2 a file or a command line \
that could not be used.";

#[derive(Debug, Subcommand)]
enum Command {
    Review(review::Args),
    Figures(figures::Args),
    Redline(redline::Args),
    Rulebook(rulebook::Args),
    Punchlist(punchlist::Args),
    Schema(schema::Args),
    Completions(completions::Args),
    Manual(manual::Args),
}

/// What a command came to; the worst of several files counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum Outcome {
    #[default]
    Clean,
    Found,
    Unusable,
}

impl Outcome {
    /// The exit status.
    fn status(self) -> u8 {
        match self {
            Self::Clean => 0,
            Self::Found => 1,
            Self::Unusable => 2,
        }
    }
}

impl From<Outcome> for ExitCode {
    fn from(outcome: Outcome) -> Self {
        Self::from(outcome.status())
    }
}

/// The command line as a whole, with its commands and options.
fn command() -> clap::Command {
    Cli::command()
}

/// Runs the command line.
pub fn run() -> ExitCode {
    let words: Vec<_> = std::env::args_os().collect();
    let cli = match Cli::try_parse_from(&words) {
        Ok(cli) => cli,
        Err(error) if !error.use_stderr() => {
            // If nobody reads the help any more, that is no reason to fail.
            let _ = error.print();
            return Outcome::Clean.into();
        }
        Err(error) => {
            refused::told(&error, &command(), &words);
            return Outcome::Unusable.into();
        }
    };
    let mut out = Out::standard();
    let done = match cli.command {
        Command::Review(args) => review::run(&args, &mut out),
        Command::Figures(args) => figures::run(&args, &mut out),
        Command::Redline(args) => redline::run(&args, &mut out),
        Command::Rulebook(args) => rulebook::run(&args, &mut out),
        Command::Punchlist(args) => punchlist::run(&args, &mut out),
        Command::Schema(args) => schema::run(&args, &mut out),
        Command::Completions(args) => completions::run(&args, &mut out),
        Command::Manual(args) => manual::run(&args, &mut out),
    };
    let flushed = done.and_then(|outcome| out.finish().map(|()| outcome));
    match flushed {
        Ok(outcome) => outcome.into(),
        Err(error) => {
            out::complain(&format!(
                "the output could not be written: {}",
                input::reason(&error)
            ));
            Outcome::Unusable.into()
        }
    }
}
