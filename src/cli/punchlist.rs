//! `nailplate punchlist`

use std::collections::{HashMap, HashSet};
use std::io;
use std::path::{Path, PathBuf};
use std::thread;

use super::day::Day;
use super::input::{self, Disk, Files};
use super::lists::{Lists, NAME, Which};
use super::out::{Out, complain, page};
use super::review::{Refused, reviewed};
use super::settings::{self, Governed};
use super::shelf::Shelf;
use super::{Outcome, hands, plans, written};
use crate::forms::changes::{self as form, Done};
use crate::plan::Date;
use crate::review::{Became, Changes, NotFound};

/// Record what plans owe today, so that reviews hold them up only for what is new
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  nailplate punchlist examples/\n  nailplate punchlist --close-out examples/\n\n\
Where there is no list, all findings of today are put on a new one. Where there is one, it is told what is new and what has \
been put right, and nothing is written without --add or --close-out.\n\n\
Exit status: 0 the list was written, or is as the plans are; 1 something is new or has been put right, and nothing was \
written; 2 a file that could not be used."
)]
pub struct Args {
    /// Plans to record, or folders of plans
    #[arg(required = true, value_name = "PATH")]
    paths: Vec<PathBuf>,
    /// The punch list; if left out, the nearest nailplate.punchlist.yaml in a plan's folder or above it,
    /// else a new one in the current folder
    #[arg(long, value_name = "FILE")]
    list: Option<PathBuf>,
    /// Put what is new on a list that is there already
    #[arg(long)]
    add: bool,
    /// Take off the list what has been put right
    #[arg(long)]
    close_out: bool,
    #[command(flatten)]
    day: Day,
}

pub fn run(args: &Args, out: &mut Out) -> io::Result<Outcome> {
    if args.paths.iter().any(|path| input::is_stdin(path)) {
        complain("standard input has no place that a punch list could name: give punchlist a file");
        return Ok(Outcome::Unusable);
    }
    let Some(today) = args.day.or_today() else {
        complain("the computer's clock tells no day: give one with --dated");
        return Ok(Outcome::Unusable);
    };
    let (plans, worst) = plans::named(&args.paths);
    let (lists, unusable, is_new) = lists(args, &plans);
    if unusable == Outcome::Unusable {
        return Ok(unusable);
    }
    let (plans, mistaken, worst) = settings::govern(plans, worst, &Files::Disk);
    mistaken.iter().for_each(settings::complain_of);
    let mut recorded = Recorded {
        changes: lists.all().iter().map(|_| Changes::default()).collect(),
        lists: &lists,
        worst,
    };
    recorded.look(&plans, &args.paths, today)?;
    let done = Done {
        added: args.add || is_new,
        closed_out: args.close_out,
    };
    recorded.write(done, is_new, out)
}

/// The lists of the plans, and whether there was none and a new one is to be made.
fn lists(args: &Args, plans: &[PathBuf]) -> (Lists, Outcome, bool) {
    // A list may lie in a folder whose plans are all gone.
    let folders = args.paths.iter().filter(|path| path.is_dir());
    let folders = folders.map(|folder| folder.join(NAME));
    let places: Vec<PathBuf> = plans.iter().cloned().chain(folders).collect();
    let named = args.list.as_deref();
    let new = match named {
        Some(path) if path.symlink_metadata().is_err() => Some(path),
        Some(_) => None,
        None => Some(Path::new(NAME)),
    };
    let which = named.map_or(Which::Nearest, Which::Named);
    if named.is_none() || new.is_none() {
        let (lists, outcome) = Lists::of(&places, which, &Files::Disk);
        if !lists.all().is_empty() {
            return (lists, outcome, false);
        }
    }
    let (lists, outcome) = Lists::of(
        &places,
        Which::New(new.unwrap_or(Path::new(NAME))),
        &Files::Disk,
    );
    (lists, outcome, true)
}

/// What has changed, a list at a time.
struct Recorded<'l> {
    lists: &'l Lists,
    changes: Vec<Changes>,
    worst: Outcome,
}

impl Recorded<'_> {
    /// Reviews the plans, and looks for those that are no more.
    fn look(&mut self, plans: &[Governed], paths: &[PathBuf], today: Date) -> io::Result<()> {
        let lists = self.lists;
        let mut pieces: Vec<(&Governed, usize, String)> = Vec::new();
        for plan in plans {
            match lists.holding(&plan.path) {
                Some((list, name)) => pieces.push((plan, list, name)),
                None => self.unusable(&format!(
                    "{}: no punch list could hold for it: it must lie below the list's folder and have a name that is text; \
                     --list names another list",
                    plan.path.display()
                )),
            }
        }
        let there: HashSet<(usize, &str)> = pieces
            .iter()
            .filter(|(plan, ..)| plan.path.exists())
            .map(|(_, list, name)| (*list, &**name))
            .collect();
        let gone = lists.lost(paths, |list, name| there.contains(&(list, name)));
        let lost: HashSet<(usize, &str)> = gone
            .iter()
            .map(|(list, entry)| (*list, &*entry.plan))
            .collect();
        let pieces: Vec<_> = pieces
            .iter()
            .filter(|(_, list, name)| !lost.contains(&(*list, &**name)))
            .collect();
        for (list, entry) in gone {
            self.changes[list].not_found.push(NotFound {
                entry: entry.clone(),
                became: Became::NoPlan,
            });
        }
        let shelf = Shelf::before(Disk);
        let processors = thread::available_parallelism().map_or(1, usize::from);
        hands::in_order(
            &pieces,
            processors.min(pieces.len()),
            || (),
            |(), (plan, list, name)| {
                let review = reviewed(plan, &Files::Disk, &shelf, lists, Some(today))?;
                let entries = lists.all()[*list].list.of(name);
                Ok((*list, Changes::of(&review, name, entries, today)))
            },
            |looked: Result<_, Refused>| {
                match looked {
                    Ok((list, changes)) => self.changes[list].extend(changes),
                    Err(refused) if refused.told => self.worst = Outcome::Unusable,
                    Err(refused) => self.unusable(&refused.reason),
                }
                Ok(())
            },
        )
    }

    fn unusable(&mut self, reason: &str) {
        complain(reason);
        self.worst = Outcome::Unusable;
    }

    /// Writes the lists that change, and tells of each.
    fn write(mut self, done: Done, is_new: bool, out: &mut Out) -> io::Result<Outcome> {
        for (found, changes) in self
            .lists
            .all()
            .iter()
            .zip(std::mem::take(&mut self.changes))
        {
            let mut list = found.list.clone();
            if done.closed_out {
                let off = changes
                    .not_found
                    .iter()
                    .filter(|gone| gone.became.is_done());
                list.take_off(off.map(|gone| &gone.entry));
                list.take_off(changes.lesser.iter().map(|(was, _)| was));
                list.add(changes.lesser.iter().map(|(_, is)| is.clone()));
            }
            if done.added {
                let moved = moved(&changes, done);
                list.take_off(changes.new.iter().filter_map(|new| new.before.as_ref()));
                list.add(changes.new.iter().map(|new| {
                    let mut entry = new.entry.clone();
                    let before = moved.get(&(&*entry.rule, &*entry.fingerprint));
                    entry.since = before.copied().unwrap_or(entry.since);
                    entry
                }));
            }
            let written = if is_new && list.entries().is_empty() {
                // Nothing is owed: no list is wanted.
                Ok(())
            } else if is_new {
                written::create(&found.path, &list.text())
            } else if (done.added || done.closed_out) && list.text() != found.text {
                written::replace(&found.path, &found.text, &list.text())
            } else {
                Ok(())
            };
            if let Err(reason) = written {
                self.unusable(&format!("{}: not written: {reason}", found.name));
                continue;
            }
            form::changes(&found.name, &changes, list.entries(), done, page(), out)?;
            if !done.added && !done.closed_out && !changes.is_nothing() {
                self.worst = self.worst.max(Outcome::Found);
            }
        }
        Ok(self.worst)
    }
}

/// Since when plans owe what others take over from them: where a plan is no more and another owes the
/// same, it has most likely been renamed.
fn moved(changes: &Changes, done: Done) -> HashMap<(&str, &str), Date> {
    let gone = changes.not_found.iter();
    gone.filter(|gone| done.closed_out && gone.became == Became::NoPlan)
        .map(|gone| {
            let entry = &gone.entry;
            ((&*entry.rule, &*entry.fingerprint), entry.since)
        })
        .collect()
}
