//! The review for a terminal: each finding with its place, its sentence, the lines that cause it,
//! and what to do.

use std::collections::HashSet;
use std::io::{Result, Write};

use miette::GraphicalReportHandler;
use owo_colors::Style;

use super::clean::{bound, clean, unbound};
use super::marks::{Label, address, groups, labels};
use super::snippet::{Snippet, room};
use super::words::Words;
use super::{Page, System, closing, departures, owed, sections, theme};
use crate::findings::{Finding, Level, Limit, Shown};
use crate::review::Review;

use crate::yaml::{Broken, FileId, Sources};

/// One plan's findings, what was not judged, what was let pass or is owed, and the closing sentence.
///
/// # Errors
/// Those of the writer.
pub fn review(review: &Review, words: &mut Words, page: Page, out: &mut dyn Write) -> Result<()> {
    let page = page.in_units(System::of(review.plan.region.value().copied()));
    words.turn_to(review);
    let mut explained = HashSet::new();
    for finding in &review.findings {
        pictured(finding, &review.sources, page, out)?;
        footers(finding, words, &mut explained, page, out)?;
        writeln!(out)?;
    }
    sections::not_judged(&review.gaps, page, out)?;
    sections::let_pass(review, page, out)?;
    owed::owed(review, words, page, out)?;
    owed::not_found(&review.not_found, page, out)?;
    departures::section(&review.rulebook, page, out)?;
    let path = review.sources.file(review.file).path.to_string_lossy();
    let last = format!("{}: {}", clean(&path), closing::sentence(review));
    writeln!(out, "{}", page.wrap(&last, "", "  "))?;
    if review.gravest() == Some(Level::Hazard) || review.owed.iter().any(owed::is_hazard) {
        writeln!(
            out,
            "{}",
            page.paint(
                theme::ink(Level::Hazard),
                &page.wrap(closing::CAUTION, "", "")
            )
        )?;
    }
    Ok(())
}

/// Place, level and rule; the sentence; the lines.
fn pictured(finding: &Finding, sources: &Sources, page: Page, out: &mut dyn Write) -> Result<()> {
    let labels = labels(finding, sources);
    let sign = page.sign(finding.level);
    match finding.marks.first() {
        Some(mark) => {
            let place = address(sources.spots(mark.span).0, sources);
            writeln!(
                out,
                "{}  {sign}  {}",
                page.paint(theme::margin(), &place),
                finding.rule
            )?;
        }
        None => writeln!(out, "{sign}  {}", finding.rule)?,
    }
    let last = labels.iter().map(|label| label.line).max().unwrap_or(0);
    for (index, group) in groups(labels.clone(), room(page.width(), last))
        .iter()
        .enumerate()
    {
        let Some(first) = group.first() else { continue };
        let heading = match index {
            0 => bound(&clean(&finding.says)),
            _ if labels.first().is_some_and(|main| main.file == first.file) => {
                format!("and line {}", first.line + 1)
            }
            _ => format!("in {}", address(first.spot(), sources)),
        };
        let snippet = snippet(heading, group, finding.level, sources, page);
        out.write_all(snippet.as_bytes())?;
    }
    Ok(())
}

/// Lines of one file that are near each other, with their labels, under a heading.
pub(super) fn snippet(
    heading: String,
    group: &[Label<'_>],
    level: Level,
    sources: &Sources,
    page: Page,
) -> String {
    let Some(first) = group.first() else {
        return String::new();
    };
    let styles = group.iter().map(|label| {
        if label.at_fault {
            theme::ink(level)
        } else {
            Style::new()
        }
    });
    let theme = theme::snippet(page, level, styles.collect());
    let snippet = Snippet::new(heading, sources.file(first.file), group, page.width());
    drawn(&snippet, theme, page)
}

fn drawn(snippet: &Snippet, theme: miette::GraphicalTheme, page: Page) -> String {
    let handler = GraphicalReportHandler::new_themed(theme)
        .with_width(page.width())
        .without_primary_span_start()
        .without_cause_chain()
        .without_syntax_highlighting()
        .with_links(false);
    let mut drawn = String::new();
    // Writing to a String cannot fail, and the snippet hands out every span it is asked for.
    let _ = handler.render_report(&mut drawn, snippet);
    unbound(&drawn)
}

/// Working, why, what to do, authority. What a rule says in general is said at its first finding.
fn footers(
    finding: &Finding,
    words: &mut Words,
    explained: &mut HashSet<(&'static str, String)>,
    page: Page,
    out: &mut dyn Write,
) -> Result<()> {
    let words = words.get(finding.rule);
    if let Some(figure) = &finding.figure {
        writeln!(
            out,
            "{}",
            page.margin(
                "working",
                &clean(&worked(figure, finding.limit.as_ref(), page))
            )
        )?;
    }
    let first = explained.insert((finding.rule, String::new()));
    if let Some(why) = words.why() {
        writeln!(
            out,
            "{}",
            page.margin("why", if first { why } else { "as above" })
        )?;
    }
    if let Some(put_right) = words.put_right(finding)
        && (first || finding.put_right.is_some())
    {
        writeln!(out, "{}", page.margin("put right", &clean(put_right)))?;
    }
    if let Some(authority) = words.authority(finding)
        && explained.insert((finding.rule, authority.to_owned()))
    {
        writeln!(out, "{}", page.margin("authority", &clean(authority)))?;
    }
    Ok(())
}

/// `0.42 ohm, limit 0.4 ohm: 2 × …`.
pub(super) fn worked(figure: &Shown, limit: Option<&Limit>, page: Page) -> String {
    let Some(limit) = limit else {
        let found = page.figure(figure.value, figure.unit);
        return format!("{found}: {}", figure.working);
    };
    let [found, allowed] = page.figures(figure.value, limit.value, figure.unit);
    format!("{found}, limit {allowed}: {}", figure.working)
}

/// Why a text is no plan at all: `path:line:column: reason`.
pub fn broken(sources: &Sources, file: FileId, broken: &Broken) -> String {
    let source = sources.file(file);
    let at = source.position(broken.byte);
    format!(
        "{}:{}:{}: {}",
        clean(&source.path.to_string_lossy()),
        at.line,
        at.column,
        clean(&broken.reason)
    )
}
