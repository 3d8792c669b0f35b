//! `nailplate schema`

use std::io::{self, Write};

use clap::ValueEnum;

use super::Outcome;
use super::out::Out;
use crate::forms::{figures, json};
use crate::plan;
use crate::rules::sheet;
use crate::settings;

/// Print the JSON Schema (2020-12) of what is read or written
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  nailplate schema plan > plan.schema.json\n\n\
The schema says how a plan is to be loaded before it is held against it.\n\n\
Exit status: 0, or 2 for a command line that could not be used."
)]
pub struct Args {
    /// Whose schema
    #[arg(value_name = "OF", value_enum)]
    of: Of,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Of {
    /// A plan, and a catalogue as its `#/$defs/catalogue`
    Plan,
    /// A sheet of the rulebook
    Sheet,
    /// The settings of a firm, nailplate.yaml
    Settings,
    /// What `review --as json` writes
    Review,
    /// What `figures --as json` writes
    Figures,
}

pub fn run(args: &Args, out: &mut Out) -> io::Result<Outcome> {
    let schema = match args.of {
        Of::Plan => plan::schema(),
        Of::Sheet => sheet::schema(),
        Of::Settings => settings::schema(),
        Of::Review => json::schema(),
        Of::Figures => figures::schema(),
    };
    serde_json::to_writer_pretty(&mut *out, &schema)?;
    writeln!(out)?;
    Ok(Outcome::Clean)
}
