//! Every figure with its working, as an enclosure.

use maud::{Markup, html};

use super::sections::{lacking, table};
use super::{Letter, sentence};
use crate::figures::Figure;
use crate::figures::route::RouteLength;
use crate::findings::Id;
use crate::forms::clean::clean;
use crate::forms::sections::by_what;
use crate::house::{House, Quantity};
use crate::review::quantities;

/// The figures, if the plan has any.
pub fn page(letter: Letter<'_>, house: &House<'_>) -> Markup {
    let (quantities, gaps) = quantities(house, &letter.review.rulebook);
    if quantities.is_empty() && gaps.is_empty() {
        return html! {};
    }
    // A length as stated stands in the table of runs, and has no working.
    let told = |quantity: &&Quantity| {
        let stated = quantity.figure == RouteLength::NAME && !quantity.estimated;
        !(stated && quantity.on.len() == 1)
    };
    let quantities: Vec<&Quantity> = quantities.iter().filter(told).collect();
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
            (table("figures", "Figures of the plan as it stands", ["Figure", "Of", "Value", "Working"], rows))
        }
        @if !lacks.is_empty() {
            (lacking("Figures that could not be computed", &lacks))
        }
    };
    letter.enclosure("figures", "figures and their working", &inner)
}
