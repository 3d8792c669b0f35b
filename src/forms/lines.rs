//! One finding a line: `path:line:column: level: thing: sentence (rule)`.

use std::io::{Result, Write};

use super::clean::clean;
use super::places::Places;
use crate::findings::Id;
use crate::review::Review;

/// Every finding, then every gap, of one plan.
///
/// # Errors
/// Those of the writer.
pub fn review(review: &Review, out: &mut dyn Write) -> Result<()> {
    let places = Places::new(&review.sources);
    for finding in &review.findings {
        let Some(mark) = finding.marks.first() else {
            continue;
        };
        let (spot, _) = review.sources.spots(mark.span);
        let at = places.position(spot.file, spot.start);
        let path = review.sources.file(spot.file).path.to_string_lossy();
        let thing = finding.on.first().map_or("plan", Id::as_str);
        writeln!(
            out,
            "{}:{}:{}: {}: {}: {} ({})",
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
    for gap in &review.gaps {
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
    Ok(())
}
