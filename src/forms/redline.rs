//! Redlines as a unified diff, each hunk under the titles of what it does.

use std::io::{Result, Write};

use similar::{Algorithm, ChangeTag, TextDiff};

use super::clean::clean;
use super::{Page, theme};
use crate::review::{Marked, Suggestion, Why};
use crate::yaml::Source;

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
    writeln!(out, "{}", page.paint(theme::margin(), &format!("--- {}\tas submitted", clean(&path))))?;
    writeln!(out, "{}", page.paint(theme::margin(), &format!("+++ {}\tredlined", clean(&path))))?;
    // Lines of a plan are mostly different from each other, which this way of comparing is fast at.
    let diff = TextDiff::configure().algorithm(Algorithm::Patience).diff_lines(&source.text, &marked.text);
    for hunk in diff.unified_diff().context_radius(2).iter_hunks() {
        let start = hunk.ops().first().map_or(0, |op| op.old_range().start);
        let end = hunk.ops().last().map_or(0, |op| op.old_range().end);
        for made in &marked.made {
            if made.at.iter().any(|byte| (start..end.max(start + 1)).contains(&source.lines().index_of(*byte))) {
                writeln!(out, "# {}", titled(made))?;
            }
        }
        writeln!(out, "{}", page.paint(theme::faint(), &hunk.header().to_string()))?;
        for change in hunk.iter_changes() {
            let (sign, style) = match change.tag() {
                ChangeTag::Delete => ('-', theme::taken_out()),
                ChangeTag::Insert => ('+', theme::put_in()),
                ChangeTag::Equal => (' ', owo_colors::Style::new()),
            };
            let line = change.value().trim_end_matches('\n');
            if page.colour() {
                writeln!(out, "{}", page.paint(style, &format!("{sign}{}", clean(line.trim_end_matches('\r')))))?;
            } else {
                writeln!(out, "{sign}{line}")?;
            }
            if change.missing_newline() {
                writeln!(out, "\\ No newline at end of file")?;
            }
        }
    }
    Ok(())
}

/// `same: write `length` (plan.unknown-key)`
fn titled(suggestion: &Suggestion) -> String {
    format!("{}: {} ({})", suggestion.kind.word(), clean(&suggestion.title), suggestion.rule)
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
