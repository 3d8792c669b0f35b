//! What the plan was judged by, where that is not the built-in rulebook.

use maud::{Markup, html};

use super::{Letter, file_name, level_sign, sentence};
use crate::findings::Level;
use crate::forms::departures;
use crate::rules::{Departure, Place};

/// What is not as in the built-in rulebook, and which line says so; what may hide a hazard first.
pub fn section(letter: Letter<'_>) -> Markup {
    let departures = &letter.review.rulebook.departures;
    if departures.is_empty() {
        return html! {};
    }
    let (grave, others): (Vec<_>, Vec<_>) = departures
        .iter()
        .partition(|departure| departure.may_hide_hazard());
    letter.section(
        "rulebook",
        "The rulebook",
        &html! {
            p { "The plan was judged by a firm's own settings. This is not as in the built-in rulebook:" }
            ul {
                @for departure in grave {
                    li { (level_sign(Level::Hazard)) " " (departed(departure)) }
                }
                @for departure in others { li { (departed(departure)) } }
            }
        },
    )
}

fn departed(departure: &Departure) -> String {
    let Place { path, line } = &departure.place;
    let what = departures::said(departure);
    format!("{} ({}, line {line})", sentence(&what), file_name(path))
}
