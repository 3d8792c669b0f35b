//! `nailplate redline`

use std::collections::HashSet;
use std::io::{self, Write};
use std::path::PathBuf;

use super::day::Day;
use super::input::{self, Disk, Files};
use super::out::{Out, complain, page};
use super::settings::{self, Governed};
use super::{Outcome, plans, written};
use crate::findings::RedlineKind;
use crate::forms::{clean, redline as form};
use crate::review::{Review, Scope, Settled, ink, review_text, settle};

/// Show or write the edits that a review suggests
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  nailplate redline examples/kestrel-row-submitted.plan.yaml\n  \
nailplate redline --ink examples/tern-quay-submitted.plan.yaml\n\n\
Without --ink nothing is written: the redlines are shown as a diff.\n\n\
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

impl Args {
    /// The kinds of edits that are shown, or written.
    fn kinds(&self) -> &'static [RedlineKind] {
        match (self.ink, self.change_orders) {
            (true, false) => &[RedlineKind::Same],
            _ => &[RedlineKind::Same, RedlineKind::Change],
        }
    }
}

pub fn run(args: &Args, out: &mut Out) -> io::Result<Outcome> {
    let (plans, worst) = plans::named(&args.paths);
    let (plans, mistaken, mut worst) = settings::govern(plans, worst, &Files::Disk);
    let mut shown = HashSet::new();
    for review in &mistaken {
        mend(args, review, out)?;
    }
    for plan in plans.iter().filter(|plan| plan.unusable.is_none()) {
        let outcome = if args.ink {
            write(args, plan, out)?
        } else {
            show(args, plan, &mut shown, out)?
        };
        worst = worst.max(outcome);
    }
    Ok(worst)
}

/// The diff of everything on offer. A catalogue that several plans share is shown once.
fn show(
    args: &Args,
    plan: &Governed,
    shown: &mut HashSet<(PathBuf, String)>,
    out: &mut Out,
) -> io::Result<Outcome> {
    let path = &plan.path;
    let Some(text) = input::read(path) else {
        return Ok(Outcome::Unusable);
    };
    let name = input::name(path);
    let review = match review_text(&name, text, &plan.stocked(&Disk), scope(args, plan)) {
        Ok(review) => review,
        Err((sources, broken)) => {
            input::complain_of(&sources, &broken);
            return Ok(Outcome::Unusable);
        }
    };
    let marked = ink(&review, args.kinds());
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

fn scope<'p>(args: &Args, plan: &'p Governed) -> Scope<'p> {
    Scope {
        today: args.day.or_today(),
        ..plan.scope()
    }
}

/// Settings with mistakes: their slips are shown, or mended where that changes nothing that they mean. The others
/// are told.
fn mend(args: &Args, review: &Review, out: &mut Out) -> io::Result<()> {
    let name = |file| clean(&review.sources.file(file).path.to_string_lossy()).into_owned();
    let marked = ink(review, args.kinds());
    for file in &marked {
        let source = review.sources.file(file.file);
        if !args.ink {
            form::diff(source, file, page(), out)?;
        } else if file.text != source.text {
            match written::replace(&source.path, &source.text, &file.text) {
                Ok(()) => {
                    writeln!(
                        out,
                        "{}: written; the plans below went by it as it was",
                        name(file.file)
                    )?;
                    form::made(&file.made, out)?;
                }
                Err(reason) => complain(&format!("{}: not written: {reason}", name(file.file))),
            }
        }
        form::left(&file.left, out)?;
    }
    settings::complain_of(review);
    Ok(())
}

fn write(args: &Args, plan: &Governed, out: &mut Out) -> io::Result<Outcome> {
    let path = &plan.path;
    if input::is_stdin(path) {
        complain("standard input cannot be written: give --ink a file");
        return Ok(Outcome::Unusable);
    }
    let Some(text) = input::read(path) else {
        return Ok(Outcome::Unusable);
    };
    let (library, scope) = (plan.stocked(&Disk), scope(args, plan));
    let settled = match settle(path, text, &library, args.kinds(), scope) {
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
