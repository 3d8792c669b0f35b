//! What was judged, what was not, and what was let pass.

use std::collections::BTreeSet;

use maud::{Markup, html};

use super::observations::term;
use super::{Letter, file_name, level_sign, paragraph, sentence};
use crate::findings::{Finding, Gap, Id, Level};
use crate::forms::clean::clean;
use crate::forms::closing;
use crate::forms::owed::is_hazard;
use crate::forms::sections::by_what;
use crate::review::LetPass;

/// Things named in one cell of a table: more belong to the JSON form.
const NAMED: usize = 100;

/// The review in a sentence, and what it means for whoever reads the letter.
pub fn judged(letter: Letter<'_>) -> Markup {
    let review = letter.review;
    let gravest = review.gravest();
    let quotes = !review.findings.is_empty();
    letter.section(
        "judged",
        "What was judged",
        &html! {
            p.judged { (sentence(&closing::sentence(review))) }
            @if gravest == Some(Level::Hazard) || review.owed.iter().any(is_hazard) {
                p { (closing::CAUTION) }
            }
            @if quotes {
                p { "A line number is one of the plan named above, unless another file is named beside it." }
            } @else if review.owed.is_empty() {
                p { "That nothing was found is no approval: what a plan does not state, nobody has looked at." }
            }
        },
    )
}

/// Checks that could not be made, by what is lacking: those that may hide a hazard first.
pub fn not_judged(letter: Letter<'_>) -> Markup {
    let gaps = &letter.review.gaps;
    if gaps.is_empty() {
        return html! {};
    }
    let table = |caption: &str, loud: bool| {
        let groups = by_what(gaps.iter().filter(|gap| gap.loud == loud));
        html! {
            @if !groups.is_empty() {
                (lacking(caption, &groups))
            }
        }
    };
    letter.section(
        "not-judged",
        "Not judged",
        &html! {
            p { "What the plan does not say could not be checked. It has not passed." }
            (table("Not known, and it may hide a hazard", true))
            (table("Not known", false))
        },
    )
}

/// A table of what is lacking, for which things, and which rules want it.
pub fn lacking(caption: &str, groups: &[(&str, Vec<&Gap>)]) -> Markup {
    let rows = groups.iter().map(|(lacks, gaps)| {
        let on: BTreeSet<&Id> = gaps.iter().flat_map(|gap| &gap.on).collect();
        let rules: BTreeSet<&str> = gaps.iter().map(|gap| gap.rule).collect();
        [
            paragraph(lacks),
            html! { (named(on.into_iter().map(Id::as_str))) },
            html! { (named(rules.into_iter())) },
        ]
    });
    table(
        "lacking",
        caption,
        ["What is missing", "For", "Wanted by"],
        rows,
    )
}

/// A table that becomes a list of its rows on a narrow page; the first cell heads its row. The style
/// has the widths of its columns by its class.
pub fn table<const N: usize>(
    class: &str,
    caption: &str,
    heads: [&str; N],
    rows: impl Iterator<Item = [Markup; N]>,
) -> Markup {
    html! {
        table.(class) role="table" {
            caption { (caption) }
            thead role="rowgroup" {
                tr role="row" {
                    @for head in heads { th role="columnheader" scope="col" { (head) } }
                }
            }
            tbody role="rowgroup" {
                @for row in rows {
                    tr role="row" {
                        @for (index, (head, cell)) in heads.iter().zip(row).enumerate() {
                            @if index == 0 {
                                th role="rowheader" scope="row" { (cell) }
                            } @else {
                                td role="cell" data-head=(head) { (cell) }
                            }
                        }
                    }
                }
            }
        }
    }
}

fn named<'t>(names: impl ExactSizeIterator<Item = &'t str>) -> String {
    let more = names.len().saturating_sub(NAMED);
    let shown: Vec<_> = names.take(NAMED).map(clean).collect();
    match more {
        0 => shown.join(", "),
        _ => format!("{} and {more} more", shown.join(", ")),
    }
}

/// Findings that a variance lets pass: what, why, by whom, and until when.
pub fn let_pass(letter: Letter<'_>) -> Markup {
    let passed = &letter.review.let_pass;
    if passed.is_empty() {
        return html! {};
    }
    letter.section(
        "let-pass",
        "Let pass",
        &html! {
            p { "These were found, and a variance in the plan lets them pass." }
            ul.recorded {
                @for passed in passed { li { (one_passed(letter, passed)) } }
            }
        },
    )
}

fn one_passed(letter: Letter<'_>, passed: &LetPass) -> Markup {
    let more = html! {
        (term("Reason", &html! { (clean(&passed.reason)) }))
        (term("Let pass by", &html! { (clean(&passed.by)) }))
        @if let Some(until) = &passed.until { (term("Until", &html! { (clean(until)) })) }
        @if let Some(approval) = &passed.approval { (term("Approval", &html! { (clean(approval)) })) }
    };
    recorded(letter, &passed.finding, &more)
}

/// A finding that is on the record elsewhere: what is wrong, what `more` there is to say, and where.
pub fn recorded(letter: Letter<'_>, finding: &Finding, more: &Markup) -> Markup {
    let sources = &letter.review.sources;
    let place = finding.marks.first().map(|mark| {
        let (spot, _) = sources.spots(mark.span);
        let source = sources.file(spot.file);
        let line = source.lines().index_of(spot.start) + 1;
        format!("{}, line {line}", file_name(&source.path))
    });
    html! {
        p.says { (level_sign(finding.level)) " " (paragraph(&finding.says)) }
        dl.terms {
            (more)
            @if let Some(place) = place { (term("Place", &html! { (place) })) }
            (term("Rule", &html! { code { (finding.rule) } }))
        }
    }
}
