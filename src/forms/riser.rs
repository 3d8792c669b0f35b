//! The riser as SVG. It reads in black and white: a service is known by its dashes and its letter, a
//! level by the shape and the width of its marks; a page may add the levels' colours by their classes.

use maud::{Markup, html};

use super::clean::clean;
use crate::findings::Level;
use crate::papers::riser::{
    Band, Family, Flag, MOST_TAGS, Row, Sheet, Stroke, TAG, TAG_WIDTH, Tie, letter,
};
use crate::plan::Service;

/// Height of a line of the legend, and the least width of an entry.
const KEY: i32 = 22;
const KEY_WIDTH: i32 = 195;

/// A sheet with its legend. `name` begins the names within the drawing, `title` and `about` are for
/// whoever hears it.
pub fn svg(sheet: &Sheet, name: &str, title: &str, about: &str) -> Markup {
    let [width, height] = sheet.size;
    let width = width.max(3 * KEY_WIDTH);
    let keys = keys(sheet);
    let across = usize::try_from(width / KEY_WIDTH).unwrap_or(1).max(1);
    let lines = i32::try_from(keys.len().div_ceil(across)).unwrap_or(0);
    let whole = height + 18 + lines * KEY;
    let (title_name, about_name) = (format!("{name}-title"), format!("{name}-about"));
    html! {
        svg.riser xmlns="http://www.w3.org/2000/svg" width=(width) height=(whole) viewBox={ "0 0 " (width) " " (whole) }
            role="img" aria-labelledby={ (title_name) " " (about_name) } font-family="ui-monospace, Menlo, Consolas, 'DejaVu Sans Mono', monospace"
            font-size="11.5" fill="none" stroke="currentColor" stroke-width="1" {
            title id=(title_name) { (title) }
            desc id=(about_name) { (about) }
            @for band in &sheet.storeys { (storey(band, width)) }
            @for band in &sheet.rooms { (room(band, width)) }
            @for row in &sheet.rows { (line(row)) }
            @for stroke in &sheet.strokes { (run(stroke)) }
            @for row in &sheet.rows { (thing(row)) }
            @for (index, key) in keys.iter().enumerate() {
                @let (across, down) = (index % across, index / across);
                @let at = |index: usize, step: i32| i32::try_from(index).unwrap_or(0) * step;
                (legend(key, 12 + at(across, KEY_WIDTH), height + 24 + at(down, KEY)))
            }
        }
    }
}

fn storey(band: &Band, width: i32) -> Markup {
    html! {
        rect.storey x="1" y=(band.top) width=(width - 2) height=(band.bottom - band.top - 2) stroke-width="1.5" {}
        text.name x="10" y=(band.top + 17) font-size="13" font-weight="700" fill="currentColor" stroke="none" { (clean(&band.name)) }
    }
}

fn room(band: &Band, width: i32) -> Markup {
    html! {
        @if !band.name.is_empty() {
            path.room d={ "M1 " (band.top + 3) "H" (width - 1) } {}
            text.name x="10" y=(band.top + 18) font-style="italic" fill="currentColor" stroke="none" { (clean(&band.name)) }
            (tags(&band.flags, band.name_end() + 4, band.top + 13, true))
        }
    }
}

/// From a thing to the strokes that end on it.
fn line(row: &Row) -> Markup {
    html! {
        @if let Some([from, to]) = row.line { path.lead d={ "M" (from) " " (row.y) "H" (to) } {} }
        @if let Some((tie, [x, y])) = row.tie {
            path.tie d={ "M" (x) " " (y + 8) "V" (row.y) "H" (row.x - 9) } stroke-dasharray=[(tie == Tie::Plugged).then_some("2 2")] {}
        }
    }
}

fn thing(row: &Row) -> Markup {
    html! {
        (symbol(row.family, row.x, row.y))
        text.name x=(row.x + 13) y=(row.y + 4) fill="currentColor" stroke="none" { (clean(&row.name)) }
        (tags(&row.flags, row.name_end() + 4, row.y, true))
    }
}

fn run(stroke: &Stroke) -> Markup {
    let (x, top, bottom) = (stroke.x, stroke.top(), stroke.bottom());
    let gravest = stroke.flags.iter().map(|flag| flag.level).max();
    let width = match gravest {
        Some(Level::Hazard) => "4.5",
        Some(Level::Fault) => "3.5",
        Some(Level::Advice) => "2.5",
        None => "1.5",
    };
    html! {
        g.run.(gravest.map_or("sound", Level::word)) {
            path d={ "M" (x) " " (top) "V" (bottom) } stroke-width=(width) stroke-dasharray=[dashes(stroke.service)] {}
            (end(x, stroke.from, true, stroke.spare))
            (end(x, stroke.to, false, stroke.spare))
            (service_letter(stroke.service, x, i32::midpoint(top, bottom)))
        }
        text.name x=(x) y=(top - 8) font-size="10" text-anchor="middle" fill="currentColor" stroke="none" { (clean(&stroke.name)) }
        (tags(&stroke.flags, x, top - 19 - TAG / 2, false))
    }
}

/// Where a run begins (square) or ends (round); that of a spare is hollow.
fn end(x: i32, y: i32, begins: bool, spare: bool) -> Markup {
    let class = if spare { "hollow" } else { "full" };
    let fill = if spare { "none" } else { "currentColor" };
    html! {
        @if begins {
            rect.(class) x=(x - 4) y=(y - 4) width="8" height="8" fill=(fill) {}
        } @else {
            circle.(class) cx=(x) cy=(y) r="4" fill=(fill) {}
        }
    }
}

fn service_letter(service: Option<Service>, x: i32, y: i32) -> Markup {
    html! {
        circle.hollow cx=(x) cy=(y) r="6.5" fill="none" {}
        text x=(x) y=(y + 3) font-size="9" font-weight="700" text-anchor="middle" fill="currentColor" stroke="none" { (letter(service)) }
    }
}

/// Numbers of observations: side by side from `x` on, or one above the other around it.
fn tags(flags: &[Flag], x: i32, y: i32, aside: bool) -> Markup {
    let more = flags.len().saturating_sub(MOST_TAGS);
    let place = |index: usize| {
        let step = i32::try_from(index).unwrap_or(0);
        if aside {
            [x + TAG_WIDTH / 2 + step * TAG_WIDTH, y]
        } else {
            [x, y - step * TAG]
        }
    };
    html! {
        @for (index, flag) in flags.iter().take(MOST_TAGS).enumerate() {
            @let [x, y] = place(index);
            (tag(flag.level, &flag.number.to_string(), x, y))
        }
        @if more > 0 {
            @let [x, y] = place(MOST_TAGS);
            text.name x=(x) y=(y + 4) font-size="10" text-anchor="middle" fill="currentColor" stroke="none" { "+" (more) }
        }
    }
}

/// A number in the shape of its level: square, rounded, round.
fn tag(level: Level, words: &str, x: i32, y: i32) -> Markup {
    let round = match level {
        Level::Hazard => "0",
        Level::Fault => "3",
        Level::Advice => "6.5",
    };
    html! {
        g.tag.(level.word()) {
            rect x=(x - 10) y=(y - 6) width="20" height="13" rx=(round) fill="none" stroke-width=[(level == Level::Hazard).then_some("2")] {}
            text x=(x) y=(y + 4) font-size="9.5" font-weight="700" text-anchor="middle" fill="currentColor" stroke="none" { (words) }
        }
    }
}

fn dashes(service: Option<Service>) -> Option<&'static str> {
    Some(match service? {
        Service::Power => return None,
        Service::Speaker => "9 4",
        Service::Line => "2 3",
        Service::Video => "10 3 2 3",
        Service::Data => "5 3",
        Service::Coax => "10 3 2 3 2 3",
        Service::Fibre => "1 2",
        Service::Control => "4 2 1 2",
    })
}

/// An entry of the legend.
enum Key {
    Service(Option<Service>),
    Family(Family),
    Begins,
    Ends,
    Spare,
    Level(Level),
    Within,
    Plugged,
}

/// Only what the sheet shows.
fn keys(sheet: &Sheet) -> Vec<Key> {
    let mut families: Vec<Family> = sheet.rows.iter().map(|row| row.family).collect();
    families.sort_unstable();
    families.dedup();
    let mut keys: Vec<Key> = sheet.services.iter().copied().map(Key::Service).collect();
    keys.extend(families.into_iter().map(Key::Family));
    if !sheet.strokes.is_empty() {
        keys.extend([Key::Begins, Key::Ends]);
    }
    if sheet.strokes.iter().any(|stroke| stroke.spare) {
        keys.push(Key::Spare);
    }
    for (tie, key) in [(Tie::Within, Key::Within), (Tie::Plugged, Key::Plugged)] {
        if sheet
            .rows
            .iter()
            .any(|row| row.tie.is_some_and(|(own, _)| own == tie))
        {
            keys.push(key);
        }
    }
    let flagged = |level| {
        let things = sheet.rows.iter().map(|row| &row.flags);
        let all = things
            .chain(sheet.strokes.iter().map(|stroke| &stroke.flags))
            .chain(sheet.rooms.iter().map(|room| &room.flags));
        all.flatten().any(|flag| flag.level == level)
    };
    keys.extend(
        Level::ALL
            .into_iter()
            .filter(|level| flagged(*level))
            .map(Key::Level),
    );
    keys
}

fn legend(key: &Key, x: i32, y: i32) -> Markup {
    let middle = x + 14;
    let (drawn, words) = match key {
        Key::Service(service) => (
            html! {
                path d={ "M" (x) " " (y) "H" (x + 30) } stroke-width="1.5" stroke-dasharray=[dashes(*service)] {}
                (service_letter(*service, x + 15, y))
            },
            service.map_or("not said what it carries", Service::word),
        ),
        Key::Family(family) => (symbol(*family, middle, y), family.words()),
        Key::Begins => (end(middle, y, true, false), "a run begins"),
        Key::Ends => (end(middle, y, false, false), "a run ends"),
        Key::Spare => (
            html! { (end(x + 7, y, true, true)) (end(x + 21, y, false, true)) },
            "ends of a spare run",
        ),
        Key::Within => (elbow(x, y, None), "stands in it"),
        Key::Plugged => (elbow(x, y, Some("2 2")), "plugged into it"),
        Key::Level(level) => (
            tag(*level, "n", middle, y),
            match level {
                Level::Hazard => "HAZARD, observation n",
                Level::Fault => "FAULT, observation n",
                Level::Advice => "ADVICE, observation n",
            },
        ),
    };
    html! {
        (drawn)
        text x=(x + 36) y=(y + 4) font-size="10.5" fill="currentColor" stroke="none" { (words) }
    }
}

fn elbow(x: i32, y: i32, dashes: Option<&str>) -> Markup {
    html! { path.tie d={ "M" (x + 8) " " (y - 8) "V" (y) "H" (x + 22) } stroke-dasharray=[dashes] {} }
}

/// The symbol of a family, about sixteen units wide.
fn symbol(family: Family, x: i32, y: i32) -> Markup {
    let at = |d: &str| html! { path d=(d) {} };
    let drawn = match family {
        // Half filled, as installation drawings have a distribution board (from memory).
        Family::Panel => {
            html! { (at("M-6 -7H6V7H-6Z")) path d="M-6 0H6V7H-6Z" fill="currentColor" {} }
        }
        Family::Circuit => at("M-8 0H-3L4 -5M4 0H8"),
        Family::Rack => at("M-6 -8H6V8H-6ZM-6 -3H6M-6 2H6"),
        Family::Equipment => {
            html! { (at("M-8 -5H8V5H-8Z")) circle cx="4" cy="0" r="1.5" fill="currentColor" {} }
        }
        Family::Picture => at("M-8 -6H8V4H-8ZM-4 7H4"),
        // The loudspeaker of circuit diagrams (from memory).
        Family::Sound => at("M-5 -3H-1V3H-5ZM-1 -3L5 -7V7L-1 3"),
        Family::Joint => {
            html! { (at("M-6 -6H6V6H-6Z")) circle cx="0" cy="0" r="2" fill="currentColor" {} }
        }
        // The lamp of circuit diagrams (from memory).
        Family::Light => html! { circle cx="0" cy="0" r="7" {} (at("M-5 -5L5 5M5 -5L-5 5")) },
        Family::Sense => at("M-7 4A7 7 0 0 1 7 4ZM0 4V8"),
        Family::Seat => at("M-5 -8V7M-5 1H5V7"),
        Family::Load => html! { circle cx="0" cy="0" r="7" {} (at("M-3 0H3")) },
        Family::Unknown => html! { circle cx="0" cy="0" r="7" stroke-dasharray="2 2" {} },
    };
    html! { g.symbol transform={ "translate(" (x) " " (y) ")" } stroke-width="1.4" { (drawn) } }
}
