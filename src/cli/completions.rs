//! `nailplate completions`

use std::io::{self, Write};

use clap::builder::PossibleValuesParser;
use clap_complete::Shell;

use super::Outcome;
use super::out::Out;
use crate::rules::all_sheets;

/// Print what a shell needs to complete commands, options and rules
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  nailplate completions bash > nailplate.bash\n\n\
For bash, read that file in ~/.bashrc (`source nailplate.bash`). For zsh, call it _nailplate and lay it into a folder of \
$fpath; for fish, call it nailplate.fish and lay it into ~/.config/fish/completions.\n\n\
Exit status: 0, or 2 for a command line that could not be used."
)]
pub struct Args {
    /// The shell that is to complete
    #[arg(value_name = "SHELL", value_enum)]
    shell: Shell,
}

pub fn run(args: &Args, out: &mut Out) -> io::Result<Outcome> {
    let ids: Vec<_> = all_sheets().map(|sheet| sheet.id).collect();
    // Not part of the command itself: each start of the program would pay for the list.
    let mut command = super::command().mut_subcommand("rulebook", |rulebook| {
        rulebook.mut_arg("id", |id| id.value_parser(PossibleValuesParser::new(ids)))
    });
    let name = command.get_name().to_owned();
    let mut script = Vec::new();
    clap_complete::generate(args.shell, &mut command, name, &mut script);
    out.write_all(&script)?;
    Ok(Outcome::Clean)
}
