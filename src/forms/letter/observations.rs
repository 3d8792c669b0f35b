//! What is wrong, gravest first, numbered through.

use std::collections::HashMap;
use std::io::{Result, Write};

use maud::{Markup, html};

use super::quote::quoted;
use super::redlined::redlined;
use super::{Letter, level_sign, paragraph, put, sentence};
use crate::findings::{Finding, Level, Limit, Shown};
use crate::forms::clean::clean;
use crate::forms::words::Words;

/// Writes the observations of each level that has any.
///
/// # Errors
/// Those of the writer.
pub fn write(letter: Letter<'_>, words: &mut Words, out: &mut dyn Write) -> Result<()> {
    let mut told = HashMap::new();
    let mut last = None;
    for (number, finding) in numbered(&letter.review.findings) {
        if last != Some(finding.level) {
            if last.is_some() {
                out.write_all(b"</section>")?;
            }
            last = Some(finding.level);
            let name = letter.name(finding.level.word());
            out.write_all(b"<section class=\"body\">")?;
            let (title, meaning) = spelled(finding.level);
            put(letter.heading(1, &name, &html! { (title) }), out)?;
            put(html! { p.meaning { (meaning) } }, out)?;
        }
        put(observation(letter, number, finding, words, &mut told), out)?;
    }
    if last.is_some() {
        out.write_all(b"</section>")?;
    }
    Ok(())
}

/// Findings with their numbers from 1: hazards first, and of one level in the order of their places.
pub fn numbered(findings: &[Finding]) -> impl Iterator<Item = (usize, &Finding)> {
    let of = |level| {
        findings
            .iter()
            .filter(move |finding| finding.level == level)
    };
    (1..).zip(Level::ALL.into_iter().flat_map(of))
}

fn spelled(level: Level) -> (&'static str, &'static str) {
    match level {
        Level::Hazard => (
            "Hazards",
            "These can hurt someone, or break a clause of a code. Have them put right by a licensed person before anything is \
             covered.",
        ),
        Level::Fault => ("Faults", "These will not work, or will work badly."),
        Level::Advice => (
            "Advice",
            "These will be regretted: nothing stops working, but later it costs a wall.",
        ),
    }
}

/// Where each rule was told of first, so that what it says in general is said once.
type Told = HashMap<&'static str, usize>;

fn observation(
    letter: Letter<'_>,
    number: usize,
    finding: &Finding,
    words: &mut Words,
    told: &mut Told,
) -> Markup {
    let name = letter.observation(number);
    let title = format!("{name}-says");
    let words = words.get(finding.rule);
    let first = *told.entry(finding.rule).or_insert(number);
    let again = first != number;
    let says = html! {
        span.number { (number) } " " (level_sign(finding.level)) " " span.says { (paragraph(&finding.says)) }
    };
    html! {
        article.observation.(finding.level.word()) id=(name) aria-labelledby=(title) {
            div.head {
                (letter.heading(2, &title, &says))
                (quoted(finding, letter.review))
            }
            dl.terms {
                @if let Some(figure) = &finding.figure {
                    (term("Working", &worked(letter, figure, finding.limit.as_ref())))
                }
                @if let Some(why) = words.why() {
                    (term("Why it matters", &html! {
                        @if again { "as in " (letter.link(first)) } @else { (paragraph(why)) }
                    }))
                }
                @if let Some(put_right) = words.put_right(finding) {
                    (term("Put right", &html! {
                        @if again && finding.put_right.is_none() { "as in " (letter.link(first)) } @else { (paragraph(put_right)) }
                    }))
                }
                @for redline in &finding.redlines {
                    (term("Suggested edit", &redlined(redline, letter.review)))
                }
                (term("Authority", &html! {
                    @if let Some(authority) = words.authority(finding) { (clean(authority)) "; " }
                    "rule " code { (finding.rule) }
                }))
            }
        }
    }
}

/// One named part of an observation.
pub fn term(name: &str, inner: &Markup) -> Markup {
    html! { div { dt { (name) } dd { (inner) } } }
}

/// The figure, what it is held against, and how it came about.
fn worked(letter: Letter<'_>, figure: &Shown, limit: Option<&Limit>) -> Markup {
    let (found, allowed) = match limit {
        Some(limit) => {
            let [found, allowed] = letter.page.figures(figure.value, limit.value, figure.unit);
            (found, Some(allowed))
        }
        None => (letter.page.figure(figure.value, figure.unit), None),
    };
    html! {
        strong { (sentence(&found)) }
        @if let Some(allowed) = allowed { ", limit " strong { (sentence(&allowed)) } }
        ": " span.working { (sentence(&figure.working)) }
    }
}
