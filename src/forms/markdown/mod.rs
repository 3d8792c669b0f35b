//! The review as Markdown, for a thread in which people talk about a plan: CommonMark, and `details`
//! in one place. It reads well as it is, too.
//!
//! Nothing that a plan holds becomes markup. A thread takes only so much in one piece: findings are
//! written out, gravest first, as far as they fit, the others follow in a line each, and what does
//! not fit even so is counted.

mod below;
mod observation;
mod owed;
mod paper;

use std::collections::HashSet;
use std::io::{Result, Write};

use super::closing;
use super::markup::{code, inline};
use super::owed::is_hazard;
use super::words::Words;
use super::{Page, System};
use crate::findings::{Finding, Level};
use crate::review::Review;
use paper::{LINES, Paper, WHOLE};

/// Columns of quoted lines.
const WIDTH: usize = 100;

/// One plan's review under a heading of its own, in no more bytes than one piece of a thread holds.
///
/// # Errors
/// Those of the writer.
pub fn review(review: &Review, words: &mut Words, out: &mut dyn Write) -> Result<()> {
    words.turn_to(review);
    let system = System::of(review.plan.region.value().copied());
    let desk = Desk {
        review,
        page: Page::new(WIDTH, false).in_units(system),
    };
    let mut paper = Paper::new(out);
    let path = review.sources.file(review.file).path.to_string_lossy();
    paper.put(&format!(
        "## Review of {}\n\n{}\n",
        code(&path),
        inline(&closing::sentence(review))
    ))?;
    if review.gravest() == Some(Level::Hazard) || review.owed.iter().any(is_hazard) {
        paper.put(&format!("\n{}\n", closing::CAUTION))?;
    }
    findings(desk, words, &mut paper)?;
    below::not_judged(&review.gaps, &mut paper)?;
    below::let_pass(desk, &mut paper)?;
    owed::owed(desk, words, &mut paper)?;
    owed::not_found(desk, &mut paper)?;
    below::rulebook(&review.rulebook, &mut paper)
}

/// What every part is written by.
#[derive(Clone, Copy)]
struct Desk<'r> {
    review: &'r Review,
    page: Page,
}

fn heading(level: Level) -> &'static str {
    match level {
        Level::Hazard => "\n### Hazards\n",
        Level::Fault => "\n### Faults\n",
        Level::Advice => "\n### Advice\n",
    }
}

fn findings(desk: Desk<'_>, words: &mut Words, paper: &mut Paper<'_>) -> Result<()> {
    let mut explained = HashSet::new();
    let (mut number, mut whole) = (0, true);
    let mut left: Vec<&Finding> = Vec::new();
    for level in Level::ALL {
        let of_level = |finding: &&Finding| finding.level == level;
        let mut heading = heading(level);
        // Whether the last thing written is a line of a list.
        let mut listing = false;
        for finding in desk.review.findings.iter().filter(of_level) {
            number += 1;
            if whole {
                let first = !explained.contains(finding.rule);
                let text = observation::whole(desk, number, finding, words, first);
                if paper.fits(heading.len() + text.len(), WHOLE) {
                    paper.put(heading)?;
                    paper.put(&text)?;
                    heading = "";
                    explained.insert(finding.rule);
                    continue;
                }
                whole = false;
                paper.put(std::mem::take(&mut heading))?;
                let others = desk.review.findings.len() + 1 - number;
                paper.put(&format!(
                    "\nThe other {others} in a line each: `nailplate review` writes them out.\n"
                ))?;
            }
            let line = observation::line(desk, finding);
            if paper.fits(heading.len() + line.len() + 1, LINES) {
                paper.put(std::mem::take(&mut heading))?;
                if !std::mem::replace(&mut listing, true) {
                    paper.put("\n")?;
                }
                paper.put(&line)?;
            } else {
                left.push(finding);
            }
        }
    }
    if !left.is_empty() {
        let counted = closing::counted(left.into_iter());
        let words = "more that have no room here: `nailplate review` has them all.";
        paper.put(&format!("\nAnd {counted} {words}\n"))?;
    }
    Ok(())
}
