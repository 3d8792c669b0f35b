//! One finding a line: `path:line:column: level: thing: sentence (rule)`.

use std::io::{Result, Write};

use super::clean::clean;
use super::closing::lacking;
use super::departures;
use super::owed::is_hazard;
use crate::findings::Id;
use crate::review::Review;

/// Every finding, then every hazard that is owed, then every gap, of one plan, and what its settings
/// do that may hide a hazard. What else is owed is left out: the lines say what holds a plan up, and
/// a hazard is never left out. Unless gaps hold it up, too (`gaps_hold`), those that hide no hazard
/// are counted on one line.
///
/// # Errors
/// Those of the writer.
pub fn review(review: &Review, gaps_hold: bool, out: &mut dyn Write) -> Result<()> {
    let findings = review.findings.iter().map(|finding| (finding, ""));
    let owed = review.owed.iter().filter(|owed| is_hazard(owed));
    let owed = owed.map(|owed| (&owed.finding, "owed "));
    for (finding, owed) in findings.chain(owed) {
        let Some(mark) = finding.marks.first() else {
            continue;
        };
        let (spot, _) = review.sources.spots(mark.span);
        let source = review.sources.file(spot.file);
        let at = source.position(spot.start);
        let path = source.path.to_string_lossy();
        let thing = finding.on.first().map_or("plan", Id::as_str);
        writeln!(
            out,
            "{}:{}:{}: {owed}{}: {}: {} ({})",
            clean(&path),
            at.line,
            at.column,
            finding.level,
            clean(thing),
            clean(&finding.says),
            finding.rule
        )?;
    }
    let path = review.sources.file(review.file).path.to_string_lossy();
    let (told, counted): (Vec<_>, Vec<_>) =
        review.gaps.iter().partition(|gap| gaps_hold || gap.loud);
    for gap in told {
        let thing = gap.on.first().map_or("plan", Id::as_str);
        writeln!(
            out,
            "{}: gap: {}: lacks {} ({})",
            clean(&path),
            clean(thing),
            clean(&gap.lacks),
            gap.rule
        )?;
    }
    if !counted.is_empty() {
        let lacking = lacking(counted.len());
        writeln!(out, "{}: {lacking}", clean(&path))?;
    }
    for departure in &review.rulebook.departures {
        if departure.may_hide_hazard() {
            writeln!(
                out,
                "{}: rulebook: {}",
                clean(&path),
                clean(&departures::told(departure))
            )?;
        }
    }
    Ok(())
}
