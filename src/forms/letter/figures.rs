//! Every figure with its working, as an enclosure.

use std::io::{Result, Write};

use maud::html;

use super::sections::{lacking, table};
use super::{Letter, put, sentence};
use crate::findings::Id;
use crate::forms::clean::clean;
use crate::forms::sections::by_what;
use crate::house::House;
use crate::review::quantities;

/// Runs of a plan beyond which its figures would make a book.
const MOST_RUNS: usize = 400;

/// # Errors
/// Those of the writer.
pub fn write(letter: Letter<'_>, out: &mut dyn Write) -> Result<()> {
    let review = letter.review;
    let section = |inner| letter.section("figures", "Enclosure: figures and their working", &inner);
    let runs = review.plan.runs.len();
    if runs > MOST_RUNS {
        let inner = html! {
            p {
                "The figures are left out: the plan has " (runs) " runs, and a letter lists those of at most " (MOST_RUNS)
                ". " code { "nailplate figures" } " lists them all."
            }
        };
        return put(section(inner), out);
    }
    let (quantities, gaps) = quantities(&House::build(&review.plan, &review.sources));
    if quantities.is_empty() && gaps.is_empty() {
        return Ok(());
    }
    let rows = quantities.iter().map(|quantity| {
        let on: Vec<_> = quantity.on.iter().map(Id::as_str).map(clean).collect();
        let value = letter.page.figure(quantity.value, quantity.unit);
        [
            html! { (quantity.figure.replace('-', " ")) },
            html! { (on.join(", ")) },
            html! { (sentence(&value)) @if quantity.estimated { ", estimated" } },
            html! { (sentence(&quantity.working)) },
        ]
    });
    let lacks = by_what(gaps.iter());
    let inner = html! {
        @if !quantities.is_empty() {
            (table("Figures of the plan as it stands", ["Figure", "Of", "Value", "Working"], rows))
        }
        @if !lacks.is_empty() {
            (lacking("Figures that could not be computed", &lacks))
        }
    };
    put(section(inner), out)
}
