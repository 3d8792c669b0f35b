//! `nailplate redline`

use std::collections::HashSet;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use super::day::Day;
use super::input::{self, Disk};
use super::out::{Out, complain, page};
use super::{Outcome, plans, written};
use crate::findings::RedlineKind;
use crate::forms::{clean, redline as form};
use crate::review::{Scope, Selection, Settled, ink, review_text, settle};

/// Show or write the edits that a review suggests
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  nailplate redline kestrel.plan.yaml\n  nailplate redline --ink kestrel.plan.yaml\n\n\
Without --ink nothing is written: the redlines are shown as a diff.\n\
Exit status: 0 nothing to redline, 1 redlines offered or left, 2 a file that could not be used."
)]
pub struct Args {
    /// Plans to redline, or folders of plans; `-` is standard input (to show only)
    #[arg(required = true, value_name = "PATH")]
    paths: Vec<PathBuf>,
    /// Write those redlines that leave the plan's meaning the same
    #[arg(long)]
    ink: bool,
    /// With --ink: write those, too, that change what gets built
    #[arg(long, requires = "ink")]
    change_orders: bool,
    #[command(flatten)]
    day: Day,
}

pub fn run(args: &Args, out: &mut Out) -> io::Result<Outcome> {
    let (plans, mut worst) = plans::named(&args.paths);
    let mut shown = HashSet::new();
    for path in &plans {
        let outcome = if args.ink {
            write(args, path, out)?
        } else {
            show(args, path, &mut shown, out)?
        };
        worst = worst.max(outcome);
    }
    Ok(worst)
}

/// The diff of everything on offer. A catalogue that several plans share is shown once.
fn show(
    args: &Args,
    path: &Path,
    shown: &mut HashSet<(PathBuf, String)>,
    out: &mut Out,
) -> io::Result<Outcome> {
    let scope = Scope {
        selection: Selection::All,
        today: args.day.or_today(),
    };
    let Some(text) = input::read(path) else {
        return Ok(Outcome::Unusable);
    };
    let review = match review_text(&input::name(path), text, &Disk, scope) {
        Ok(review) => review,
        Err((sources, broken)) => {
            input::complain_of(&sources, &broken);
            return Ok(Outcome::Unusable);
        }
    };
    let marked = ink(&review, &[RedlineKind::Same, RedlineKind::Change]);
    for file in &marked {
        let source = review.sources.file(file.file);
        if !shown.insert((source.path.clone(), file.text.clone())) {
            continue;
        }
        form::diff(source, file, page(), out)?;
        if !file.left.is_empty() {
            writeln!(
                out,
                "{}: {} left",
                clean(&source.path.to_string_lossy()),
                file.left.len()
            )?;
            form::left(&file.left, out)?;
        }
    }
    Ok(if marked.is_empty() {
        Outcome::Clean
    } else {
        Outcome::Found
    })
}

fn write(args: &Args, path: &Path, out: &mut Out) -> io::Result<Outcome> {
    if input::is_stdin(path) {
        complain("standard input cannot be written: give --ink a file");
        return Ok(Outcome::Unusable);
    }
    let Some(text) = input::read(path) else {
        return Ok(Outcome::Unusable);
    };
    let kinds: &[RedlineKind] = if args.change_orders {
        &[RedlineKind::Same, RedlineKind::Change]
    } else {
        &[RedlineKind::Same]
    };
    let settled = match settle(path, text, &Disk, kinds, args.day.or_today()) {
        Ok(settled) => settled,
        Err((sources, broken)) => {
            input::complain_of(&sources, &broken);
            return Ok(Outcome::Unusable);
        }
    };
    let Settled { files, made, left } = settled;
    for file in &files {
        if let Err(reason) = written::replace(&file.path, &file.before, &file.after) {
            complain(&format!("{}: not written: {reason}", file.path.display()));
            return Ok(Outcome::Unusable);
        }
        writeln!(out, "{}: written", clean(&file.path.to_string_lossy()))?;
    }
    if made.is_empty() && left.is_empty() {
        return Ok(Outcome::Clean);
    }
    writeln!(
        out,
        "{}: {} made, {} left",
        clean(&path.to_string_lossy()),
        made.len(),
        left.len()
    )?;
    form::made(&made, out)?;
    form::left(&left, out)?;
    Ok(if left.is_empty() {
        Outcome::Clean
    } else {
        Outcome::Found
    })
}
