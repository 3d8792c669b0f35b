//! What a punch list lacks and what it has too much, for a terminal.

use std::io::{Result, Write};

use super::clean::clean;
use super::owed::{by_fate, words};
use super::sections::listed;
use super::{Page, closing, theme};
use crate::findings::Level;
use crate::review::{Changes, Entry, New, NotFound};

/// New findings below hazard that are printed; who wants all has `review`.
const MOST: usize = 20;

/// What was done about the changes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Done {
    /// What is new was put on the list.
    pub added: bool,
    /// What is not owed any more was taken off.
    pub closed_out: bool,
}

/// The changes of one list, called `name`; `entries` are those that it has now.
///
/// # Errors
/// Those of the writer.
pub fn changes(
    name: &str,
    changes: &Changes,
    entries: &[Entry],
    done: Done,
    page: Page,
    out: &mut dyn Write,
) -> Result<()> {
    let heading = match done.added {
        true => "PUT ON THE PUNCH LIST",
        false => "NEW, not on the punch list",
    };
    let heading = page.paint(theme::margin(), heading);
    new(&heading, &changes.new, page, out)?;
    let (off, kept): (Vec<_>, Vec<_>) = changes
        .not_found
        .iter()
        .partition(|gone| gone.became.is_done());
    let heading = match done.closed_out {
        true => "TAKEN OFF THE PUNCH LIST",
        false => "STILL ON THE PUNCH LIST, not found again",
    };
    gone(heading, &off, page, out)?;
    gone("KEPT ON THE PUNCH LIST, not judged", &kept, page, out)?;
    if !changes.lesser.is_empty() {
        let heading = match done.closed_out {
            true => "LESS THAN WAS ON THE PUNCH LIST",
            false => "LESS THAN IS ON THE PUNCH LIST",
        };
        writeln!(out, "{}", page.paint(theme::margin(), heading))?;
        for (was, is) in &changes.lesser {
            let on = listed(is.on.iter().map(|on| &**on));
            let (plan, rule) = (clean(&is.plan), clean(&is.rule));
            let mut line = format!("{plan}: {rule} on {on}, {}", called(is.level));
            if is.level < was.level {
                line += &format!(" and no longer {}", called(was.level));
            }
            let gone = was.on.iter().filter(|on| !is.on.contains(on));
            let gone: Vec<_> = gone.map(|on| &**on).collect();
            if !gone.is_empty() {
                line += &format!(", without {}", listed(gone.into_iter()));
            }
            writeln!(out, "{}", page.wrap(&line, "  ", "    "))?;
        }
        writeln!(out)?;
    }
    let hazards = |entries: &mut dyn Iterator<Item = &Entry>| {
        entries.filter(|entry| entry.level == Level::Hazard).count()
    };
    let owed = hazards(&mut entries.iter());
    let summary = format!(
        "{}: {}{}.",
        clean(name),
        closing::owed(owed, entries.len()),
        left(changes, off.len(), done)
    );
    writeln!(out, "{}", page.wrap(&summary, "", "  "))?;
    if owed + hazards(&mut changes.new.iter().map(|new| &new.entry)) > 0 {
        let caution = page.wrap(closing::CAUTION, "", "");
        writeln!(out, "{}", page.paint(theme::ink(Level::Hazard), &caution))?;
    }
    Ok(())
}

/// What was not done, and how to.
fn left(changes: &Changes, off: usize, done: Done) -> String {
    let mut left = String::new();
    if !done.added && !changes.new.is_empty() {
        let count = changes.new.len();
        left += &format!("; {count} new, which --add would put on the list");
    }
    if !done.closed_out && off > 0 {
        left += &format!("; {off} put right, which --close-out would take off");
    }
    if !done.closed_out && !changes.lesser.is_empty() {
        let count = changes.lesser.len();
        left += &format!("; {count} less than it was, which --close-out would put down so");
    }
    left
}

/// Every hazard, and the first of the others.
fn new(heading: &str, new: &[New], page: Page, out: &mut dyn Write) -> Result<()> {
    if new.is_empty() {
        return Ok(());
    }
    writeln!(out, "{heading}")?;
    let is_hazard = |new: &&New| new.entry.level == Level::Hazard;
    for new in new.iter().filter(is_hazard) {
        one(new, page, out)?;
    }
    let rest: Vec<&New> = new.iter().filter(|new| !is_hazard(new)).collect();
    for new in rest.iter().take(MOST) {
        one(new, page, out)?;
    }
    if let Some(more) = rest.len().checked_sub(MOST).filter(|more| *more > 0) {
        writeln!(out, "  and {more} more")?;
    }
    writeln!(out)
}

fn one(new: &New, page: Page, out: &mut dyn Write) -> Result<()> {
    let place = match &new.place {
        Some((path, at)) => format!("{}:{}:{}", clean(path), at.line, at.column),
        None => clean(&new.entry.plan).into_owned(),
    };
    let before = new.before.as_ref().map_or(String::new(), |before| {
        if before.level < new.entry.level {
            format!(", owed as {} so far", called(before.level))
        } else {
            let more = new.entry.on.iter().filter(|on| !before.on.contains(on));
            format!(", owed without {} so far", listed(more.map(|on| &**on)))
        }
    });
    let line = format!(
        "{place}: {} ({}){before}",
        clean(&new.says),
        clean(&new.entry.rule)
    );
    let sign = format!("  {}  ", page.sign(new.entry.level));
    writeln!(out, "{}", page.wrap(&line, &sign, "    "))
}

/// What a finding of a level is called.
fn called(level: Level) -> &'static str {
    match level {
        Level::Hazard => "a hazard",
        Level::Fault => "a fault",
        Level::Advice => "advice",
    }
}

/// Entries by what became of them and by plan.
fn gone(heading: &str, gone: &[&NotFound], page: Page, out: &mut dyn Write) -> Result<()> {
    if gone.is_empty() {
        return Ok(());
    }
    writeln!(out, "{}", page.paint(theme::margin(), heading))?;
    let fates = gone.iter().map(|gone| {
        let fate = format!("{}, {}", clean(&gone.entry.plan), words(&gone.became));
        (fate, *gone)
    });
    by_fate(fates, page, out)?;
    writeln!(out)
}
