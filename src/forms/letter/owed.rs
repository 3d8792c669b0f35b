//! What a punch list has as owed, and what is still on it though it was not found again.

use maud::{Markup, html};

use super::observations::term;
use super::sections::{recorded, table};
use super::{Letter, paragraph};
use crate::forms::clean::clean;
use crate::forms::owed::words as fate;
use crate::forms::words::Words;
use crate::review::Owed;

/// Everything that is owed, gravest first.
pub fn page(letter: Letter<'_>, words: &mut Words) -> Markup {
    let review = letter.review;
    if review.owed.is_empty() && review.not_found.is_empty() {
        return html! {};
    }
    let mut owed: Vec<&Owed> = review.owed.iter().collect();
    owed.sort_by_key(|owed| std::cmp::Reverse(owed.finding.level));
    let gone = review.not_found.iter().map(|gone| {
        [
            html! { code { (clean(&gone.entry.rule)) } },
            html! { (clean(gone.entry.at_fault())) },
            html! { (fate(&gone.became)) },
        ]
    });
    letter.section(
        "owed",
        "Owed",
        &html! {
            @if !owed.is_empty() {
                p { "These stand on a punch list as known and still owed. They hold nothing up, and they are not put right." }
                ul.recorded {
                    @for owed in owed {
                        li { (one(letter, owed, words)) }
                    }
                }
            }
            @if !review.not_found.is_empty() {
                (table("gone", "Still on the punch list, not found again", ["Rule", "On", "What became of it"], gone))
            }
        },
    )
}

fn one(letter: Letter<'_>, owed: &Owed, words: &mut Words) -> Markup {
    let finding = &owed.finding;
    let more = html! {
        (term("Owed since", &html! { (owed.entry.since) }))
        @if let Some(put_right) = words.get(finding.rule).put_right(finding) {
            (term("Put right", &paragraph(put_right)))
        }
    };
    recorded(letter, finding, &more)
}
