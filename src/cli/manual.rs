//! `nailplate manual`

use std::io::{self, Write};

use clap::Command;
use clap_mangen::Man;
use clap_mangen::roff::{Roff, bold, roman};

use super::Outcome;
use super::out::{Out, complain};
use crate::plan::nearest;

/// Print the manual page of the program, or of one command
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  nailplate manual review > nailplate-review.1\n\n\
`man -l nailplate-review.1` shows it; laid into a folder such as /usr/local/share/man/man1, `man nailplate-review` does.\n\n\
Exit status: 0, or 2 for a command line that could not be used."
)]
pub struct Args {
    /// The command whose page to print; the program's own if left out
    #[arg(value_name = "COMMAND")]
    command: Option<String>,
}

pub fn run(args: &Args, out: &mut Out) -> io::Result<Outcome> {
    let mut main = super::command().disable_help_subcommand(true);
    main.build();
    let Some(name) = &args.command else {
        page(main, out)?;
        return Ok(Outcome::Clean);
    };
    let Some(command) = main.find_subcommand(name) else {
        let names = main.get_subcommands().map(Command::get_name);
        complain(&match nearest(name, names) {
            Some((near, _)) => format!("there is no command `{name}`; did you mean `{near}`?"),
            None => format!("there is no command `{name}`; `nailplate --help` lists them"),
        });
        return Ok(Outcome::Unusable);
    };
    page(command.clone(), out)?;
    Ok(Outcome::Clean)
}

/// A page in the language of troff's `man` macros. What `--help` says behind the options gets
/// headings of its own.
fn page(command: Command, out: &mut Out) -> io::Result<()> {
    let after = command.get_after_help().map(ToString::to_string);
    let has_commands = command.has_subcommands();
    let man = Man::new(command)
        .source(concat!("nailplate ", env!("CARGO_PKG_VERSION")))
        .manual("nailplate manual");
    man.render_title(out)?;
    man.render_name_section(out)?;
    man.render_synopsis_section(out)?;
    man.render_description_section(out)?;
    man.render_options_section(out)?;
    if has_commands {
        man.render_subcommands_section(out)?;
    }
    let mut roff = Roff::new();
    let after = after.unwrap_or_default();
    let (mut examples, mut notes, mut status) = (Vec::new(), Vec::new(), Vec::new());
    for paragraph in after.split("\n\n") {
        if let Some(lines) = paragraph.strip_prefix("Example:\n") {
            examples.push(lines);
        } else if let Some(text) = paragraph.strip_prefix("Exit status: ") {
            status.push(text);
        } else if !paragraph.is_empty() {
            notes.push(paragraph);
        }
    }
    if !notes.is_empty() {
        roff.control("SH", ["NOTES"]);
        for note in notes {
            roff.control("PP", []);
            roff.text([roman(note.replace('\n', " "))]);
        }
    }
    if !status.is_empty() {
        roff.control("SH", ["EXIT STATUS"]);
        roff.text([roman(status.join(" ").replace('\n', " "))]);
    }
    if !examples.is_empty() {
        roff.control("SH", ["EXAMPLES"]);
        for line in examples.iter().flat_map(|lines| lines.lines()) {
            roff.control("PP", []);
            roff.control("nf", []);
            roff.text([bold(line.trim())]);
            roff.control("fi", []);
        }
    }
    roff.to_writer(out)?;
    out.flush()
}
