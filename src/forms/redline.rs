//! Redlines as a unified diff, each hunk under the titles of what it does.

use std::io::{Result, Write};
use std::time::Duration;

use similar::{Algorithm, ChangeTag, TextDiff};

use super::clean::clean;
use super::{Page, theme};
use crate::review::{Marked, Suggestion, Why};
use crate::yaml::Source;

/// Unchanged lines shown above and below a change.
const CONTEXT: usize = 1;
/// After this the diff is finished without looking for the shortest one; it stays right. Only
/// thousands of neighbouring lines that all change take so long.
const PATIENCE: Duration = Duration::from_secs(3);

/// The redlines of one file. The lines of the diff are the file's own, byte for byte, unless the
/// page is a terminal's.
///
/// # Errors
/// Those of the writer.
pub fn diff(source: &Source, marked: &Marked, page: Page, out: &mut dyn Write) -> Result<()> {
    if marked.text == source.text {
        return Ok(());
    }
    let path = source.path.to_string_lossy();
    let names = [
        format!("--- {}\tas submitted", clean(&path)),
        format!("+++ {}\tredlined", clean(&path)),
    ];
    let mut made: Vec<(usize, &Suggestion)> = Vec::new();
    for suggestion in &marked.made {
        made.extend(
            suggestion
                .at
                .iter()
                .map(|byte| (source.lines().index_of(*byte), suggestion)),
        );
    }
    made.sort_by_key(|(line, _)| *line);
    // Lines of a plan are mostly different from each other, which this way of comparing is fast at.
    let diff = TextDiff::configure()
        .algorithm(Algorithm::Patience)
        .timeout(PATIENCE)
        .diff_lines(&source.text, &marked.text);
    for hunk in diff.unified_diff().context_radius(CONTEXT).iter_hunks() {
        let start = hunk.ops().first().map_or(0, |op| op.old_range().start);
        let end = hunk
            .ops()
            .last()
            .map_or(0, |op| op.old_range().end)
            .max(start + 1);
        let here = made.partition_point(|(line, _)| *line < start)
            ..made.partition_point(|(line, _)| *line < end);
        let mut last = None;
        for (_, suggestion) in &made[here] {
            if last.replace(*suggestion) != Some(*suggestion) {
                writeln!(out, "{}", titled(suggestion))?;
            }
        }
        // The names stand above every hunk: words between two hunks of one file are no unified diff.
        for name in &names {
            writeln!(out, "{}", page.paint(theme::margin(), name))?;
        }
        writeln!(
            out,
            "{}",
            page.paint(theme::faint(), &hunk.header().to_string())
        )?;
        for change in hunk.iter_changes() {
            let (sign, style) = match change.tag() {
                ChangeTag::Delete => ('-', theme::taken_out()),
                ChangeTag::Insert => ('+', theme::put_in()),
                ChangeTag::Equal => (' ', owo_colors::Style::new()),
            };
            let line = change.value().trim_end_matches('\n');
            if page.colour() {
                writeln!(
                    out,
                    "{}",
                    page.paint(
                        style,
                        &format!("{sign}{}", clean(line.trim_end_matches('\r')))
                    )
                )?;
            } else {
                writeln!(out, "{sign}{line}")?;
            }
            if change.missing_newline() {
                writeln!(out, "\\ No newline at end of file")?;
            }
        }
        writeln!(out)?;
    }
    Ok(())
}

/// `same: write `length` (plan.unknown-key)`
fn titled(suggestion: &Suggestion) -> String {
    format!(
        "{}: {} ({})",
        suggestion.kind.word(),
        clean(&suggestion.title),
        suggestion.rule
    )
}

/// What was made in a file.
///
/// # Errors
/// Those of the writer.
pub fn made(made: &[Suggestion], out: &mut dyn Write) -> Result<()> {
    for suggestion in made {
        writeln!(out, "  made  {}", titled(suggestion))?;
    }
    Ok(())
}

/// What was not made, and why.
///
/// # Errors
/// Those of the writer.
pub fn left(left: &[(Suggestion, Why)], out: &mut dyn Write) -> Result<()> {
    for (suggestion, why) in left {
        writeln!(out, "  left  {}: {}", titled(suggestion), why.words())?;
    }
    Ok(())
}
