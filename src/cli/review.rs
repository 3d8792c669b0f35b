//! `nailplate review`

use std::io::{self, Write};
use std::path::PathBuf;

use clap::ValueEnum;

use super::Outcome;
use super::day::Day;
use super::input::{self, Disk};
use super::out::{Out, page};
use crate::findings::Level;
use crate::forms::{self, Words};
use crate::review::{Review, Scope, Selection, review_text};

/// Check plans and list what is wrong with them
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  nailplate review --hold advice kestrel.plan.yaml\n\n\
Exit status: 0 nothing at or above the holding level, 1 findings at or above it, 2 a file that could not be used."
)]
pub struct Args {
    /// Plans to check; `-` is standard input
    #[arg(required = true, value_name = "FILE")]
    files: Vec<PathBuf>,
    /// How the review is written
    #[arg(long = "as", value_name = "FORM", value_enum, default_value_t = Form::Text)]
    form: Form,
    /// The lowest level that holds a plan up (exit status 1)
    #[arg(long, value_name = "LEVEL", value_enum, default_value_t = Hold::Fault)]
    hold: Hold,
    /// A check that could not be made holds a plan up, too
    #[arg(long)]
    hold_gaps: bool,
    #[command(flatten)]
    day: Day,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Form {
    /// For people, with the lines that cause each finding
    Text,
    /// One finding a line: path:line:column: level: thing: sentence (rule)
    Lines,
    /// For programs: nailplate-review/1
    Json,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
enum Hold {
    Hazard,
    Fault,
    Advice,
}

impl From<Hold> for Level {
    fn from(hold: Hold) -> Self {
        match hold {
            Hold::Hazard => Self::Hazard,
            Hold::Fault => Self::Fault,
            Hold::Advice => Self::Advice,
        }
    }
}

pub fn run(args: &Args, out: &mut Out) -> io::Result<Outcome> {
    match args.form {
        Form::Text => {
            let (page, mut words, mut first) = (page(), Words::default(), true);
            each(args, &mut |review| {
                if !std::mem::take(&mut first) {
                    writeln!(out)?;
                }
                forms::text::review(review, &mut words, page, out)
            })
        }
        Form::Lines => each(args, &mut |review| forms::lines::review(review, out)),
        Form::Json => {
            let mut json = forms::json::Json::start(out, Words::default())?;
            let outcome = each(args, &mut |review| json.file(review))?;
            json.finish()?;
            Ok(outcome)
        }
    }
}

/// Reviews every file in the order given. One that cannot be used does not stop the others.
fn each(args: &Args, write: &mut dyn FnMut(&Review) -> io::Result<()>) -> io::Result<Outcome> {
    let mut worst = Outcome::Clean;
    let scope = Scope {
        selection: Selection::All,
        today: args.day.or_today(),
    };
    for path in &args.files {
        let Some(text) = input::read(path) else {
            worst = Outcome::Unusable;
            continue;
        };
        match review_text(&input::name(path), text, &Disk, scope) {
            Ok(review) => {
                write(&review)?;
                worst = worst.max(held(args, &review));
            }
            Err((sources, broken)) => {
                input::complain_of(&sources, &broken);
                worst = Outcome::Unusable;
            }
        }
    }
    Ok(worst)
}

fn held(args: &Args, review: &Review) -> Outcome {
    let found = review
        .gravest()
        .is_some_and(|level| level >= args.hold.into());
    let gaps = args.hold_gaps && !review.gaps.is_empty();
    if found || gaps {
        Outcome::Found
    } else {
        Outcome::Clean
    }
}
