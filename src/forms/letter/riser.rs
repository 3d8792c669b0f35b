//! The riser as an enclosure, and the same in words: a table of the runs.

use std::collections::{HashMap, HashSet};

use maud::{Markup, html};

use super::Letter;
use super::observations::numbered;
use super::sections::table;
use crate::findings::Id;
use crate::forms::clean::clean;
use crate::forms::riser::svg;
use crate::house::{House, Node};
use crate::papers::riser::{Flag, Riser, Sheet, letter as letter_of};
use crate::plan::Service;

pub fn page(letter: Letter<'_>, house: &House<'_>) -> Markup {
    let plan = house.plan;
    let mut first: HashMap<&Id, Vec<Flag>> = HashMap::new();
    let mut any: HashMap<&Id, Vec<usize>> = HashMap::new();
    for (number, finding) in numbered(&letter.review.findings) {
        let level = finding.level;
        if let Some(on) = finding.on.first() {
            first.entry(on).or_default().push(Flag { number, level });
        }
        for on in &finding.on {
            any.entry(on).or_default().push(number);
        }
    }
    let riser = Riser::of(house, &|thing| {
        first.get(plan.id(thing)).cloned().unwrap_or_default()
    });
    let Some(riser) = riser else { return html! {} };
    let things = plan.runs.iter().map(|run| &run.id);
    let things = things.chain(plan.endpoints.iter().map(|endpoint| &endpoint.id));
    let things = things.chain(plan.circuits.iter().map(|circuit| &circuit.id));
    let drawn: HashSet<&Id> = things
        .chain(plan.rooms.iter().map(|room| &room.id))
        .collect();
    let mut elsewhere: Vec<usize> = first
        .iter()
        .filter(|(on, _)| !drawn.contains(**on))
        .flat_map(|(_, flags)| flags.iter().map(|flag| flag.number))
        .collect();
    elsewhere.sort_unstable();
    let count = riser.sheets.len();
    letter.enclosure("riser", "riser",
        &html! {
            p {
                "Each run is an upright stroke between the rows that it joins, named at its upper end; it passes a row unless a dot joins "
                "them. Above a name stand the numbers of the observations on it."
                @if !elsewhere.is_empty() {
                    " Not on the drawing, since they are on a pathway, a stock or the plan itself: "
                    @for (index, number) in elsewhere.iter().enumerate() {
                        @if index > 0 { ", " } (letter.link(*number))
                    }
                    "."
                }
                @if !letter.review.owed.is_empty() || !letter.review.let_pass.is_empty() {
                    " What is owed or let pass is not on the drawing."
                }
            }
            @for (index, sheet) in riser.sheets.iter().enumerate() { (drawing(letter, index + 1, count, sheet)) }
            @if !riser.left_out.is_empty() {
                p { "No run ends on " (names(riser.left_out.iter().map(|node| house.id(*node)))) "." }
            }
            @if !riser.undrawn.is_empty() {
                p { "Not drawn, for want of two different ends: " (names(riser.undrawn.iter().map(|run| &plan.runs[*run].id))) "." }
            }
            @if !plan.runs.is_empty() { (runs(letter, house, &any)) }
        },
    )
}

fn names<'i>(ids: impl Iterator<Item = &'i Id>) -> String {
    let names: Vec<_> = ids.map(|id| clean(id.as_str())).collect();
    names.join(", ")
}

fn drawing(letter: Letter<'_>, number: usize, count: usize, sheet: &Sheet) -> Markup {
    let services: Vec<&str> = sheet
        .services
        .iter()
        .map(|service| service.map_or("not said", Service::word))
        .collect();
    let services = services.join(", ");
    let mut title = "Riser".to_owned();
    if !letter.place.alone {
        title += &format!(" of letter {}", letter.place.number);
    }
    if count > 1 {
        title += &format!(", sheet {number} of {count}: {services}");
    }
    let about = format!(
        "{} storeys, {} rooms, {} circuits and endpoints, {} runs. The table of runs says the same in words.",
        sheet.storeys.len(),
        sheet.rooms.len(),
        sheet.rows.len(),
        sheet.strokes.len()
    );
    let name = letter.name(&format!("riser-{number}"));
    html! {
        figure {
            @if count > 1 { figcaption { (title) } }
            // Wider than a telephone: moved with a finger, or with the arrow keys.
            div.drawing role="region" tabindex="0" aria-label=(title) {
                (svg(sheet, &name, &title, &about))
            }
        }
    }
}

fn runs(letter: Letter<'_>, house: &House<'_>, observations: &HashMap<&Id, Vec<usize>>) -> Markup {
    let plan = house.plan;
    let node = |node: Option<Node>| {
        node.map_or_else(
            || "not said".to_owned(),
            |node| clean(house.id(node).as_str()).into_owned(),
        )
    };
    let rows = plan.runs.iter().enumerate().map(|(index, run)| {
        let service = house.service(index);
        let end = |thing: Option<crate::plan::Thing>| node(thing.map(|thing| house.node(thing)));
        let stock = run.stock.value().map(|stock| clean(plan.stock[stock.at()].id.as_str()));
        let through = run.through.value().map_or_else(String::new, |through| {
            names(through.0.iter().map(|way| &plan.pathways[way.value.at()].id))
        });
        let length = match house.length(index) {
            Ok(length) if length.is_estimated() => format!("{}, estimated", length.words()),
            Ok(length) => length.words(),
            Err(_) => "not known".to_owned(),
        };
        [
            html! { (clean(run.id.as_str())) @if house.is_spare(index) { ", spare" } },
            html! { (service.map_or("not said", Service::word)) " (" (letter_of(service)) ")" },
            html! { (end(run.from.value().map(|from| from.thing))) },
            html! { (end(run.to.value().map(|to| to.thing))) },
            html! { (stock.unwrap_or("not said".into())) },
            html! { (length) },
            html! { @if through.is_empty() { "not said" } @else { (through) } },
            html! {
                @for (index, number) in observations.get(&run.id).into_iter().flatten().enumerate() {
                    @if index > 0 { ", " }
                    a href={ "#" (letter.observation(*number)) } aria-label={ "observation " (number) } { (number) }
                }
            },
        ]
    });
    table(
        "runs",
        "The runs in words",
        [
            "Run",
            "Carries",
            "From",
            "To",
            "Cable",
            "Length",
            "Through",
            "Observations",
        ],
        rows,
    )
}
