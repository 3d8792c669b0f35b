//! What plan the letter is about, when it was reviewed, and by what.

use maud::{Markup, html};

use super::{Letter, file_name};
use crate::forms::clean::clean;
use crate::plan::{Date, Region};
use crate::review::Review;

/// The plan's name: its title, else its file.
pub fn title(review: &Review) -> String {
    match review.plan.title.value() {
        Some(title) if !title.trim().is_empty() => clean(title.trim()).into_owned(),
        _ => file_name(&review.sources.file(review.file).path),
    }
}

pub fn head(letter: Letter<'_>, day: Option<Date>) -> Markup {
    let plan = &letter.review.plan;
    let title = html! { bdi { (title(letter.review)) } };
    let path = file_name(&letter.review.sources.file(letter.review.file).path);
    let stated = |text: Option<&str>| text.map(|text| clean(text).into_owned());
    let day = day.map_or_else(|| "not known".to_owned(), |day| day.to_string());
    let (kind, what) = match letter.review.is_of_settings {
        true => ("Mistakes in a firm's settings", "Settings"),
        false => ("Inspection of a wiring plan", "Plan"),
    };
    let terms = [
        (what, Some(path)),
        ("Drawing", stated(plan.drawing.value().map(|text| &**text))),
        ("Issue", stated(plan.issue.value().map(|text| &**text))),
        (
            "Region",
            plan.region.value().map(|region| place(*region).to_owned()),
        ),
        (
            "Building",
            plan.building.value().map(|kind| kind.word().to_owned()),
        ),
        (
            "Stage",
            plan.stage.value().map(|stage| stage.word().to_owned()),
        ),
        (
            "Edition",
            plan.code.value().map(|code| code.word().to_owned()),
        ),
        ("Reviewed on", Some(day)),
        (
            "Reviewed by",
            Some(format!("nailplate {}", env!("CARGO_PKG_VERSION"))),
        ),
    ];
    html! {
        header.letterhead {
            p.kind {
                (kind)
                @if !letter.place.alone { ", letter " (letter.place.number) }
            }
            (letter.heading(0, &letter.name("title"), &title))
            dl.plan {
                @for (term, value) in terms {
                    @if let Some(value) = value {
                        div { dt { (term) } dd { bdi { (value) } } }
                    }
                }
            }
        }
    }
}

/// A region in words.
fn place(region: Region) -> &'static str {
    match region {
        Region::Us => "United States",
        Region::Ca => "Canada",
        Region::Gb => "Great Britain",
        Region::Eu => "European Union",
        Region::Au => "Australia",
    }
}
