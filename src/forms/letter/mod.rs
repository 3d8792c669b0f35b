//! The review as an inspection letter: one HTML file to send back to whoever handed the plan in.
//!
//! Knows: what a review found, on which day, and the letter's place in its file. Nothing in the
//! file is fetched from elsewhere and no script runs in it, which its own policy enforces.
//!
//! A letter is written part by part, as it goes. Several in one file wait in a temporary file
//! until the contents that stand before them are known.

mod contents;
mod enclosures;
mod figures;
mod head;
mod letterhead;
mod observations;
mod owed;
mod quote;
mod redlined;
mod riser;
mod rulebook;
mod sections;
mod sign;

use std::io::{Result, Write};
use std::path::Path;

use maud::{Markup, html};

pub use contents::{Letters, entry};

use super::clean::{bound, clean};
use super::words::Words;
use super::{Page, System};
use crate::findings::Level;
use crate::plan::Date;
use crate::review::Review;

/// Where a letter stands in its file.
#[derive(Debug, Clone, Copy)]
pub struct Place {
    /// From 1; every name within the letter begins with it.
    pub number: usize,
    /// It is the only one.
    pub alone: bool,
}

/// What every part of a letter is written by.
#[derive(Clone, Copy)]
struct Letter<'r> {
    review: &'r Review,
    place: Place,
    page: Page,
}

/// Writes one letter, and where it is the only one the start of the file before it. Sections that
/// have nothing to say are left out.
///
/// # Errors
/// Those of the writer.
pub fn letter(
    review: &Review,
    words: &mut Words,
    day: Option<Date>,
    place: Place,
    out: &mut dyn Write,
) -> Result<()> {
    words.turn_to(review);
    let letter = Letter {
        review,
        place,
        // A figure is as wide as it is: the browser breaks the lines.
        page: Page::new(80, false).in_units(System::of(review.plan.region.value().copied())),
    };
    if place.alone {
        head::start(&letterhead::title(review), out)?;
        write!(
            out,
            "{}",
            html! { a.skip href={ "#" (letter.name("judged")) } { "Skip to what was found" } }
                .into_string()
        )?;
        out.write_all(b"<main>")?;
    }
    write!(
        out,
        "<article class=\"letter\" id=\"{}\" aria-labelledby=\"{}\">",
        letter.own_name(),
        letter.name("title")
    )?;
    put(letterhead::head(letter, day), out)?;
    put(sections::judged(letter), out)?;
    observations::write(letter, words, out)?;
    put(owed::page(letter, words), out)?;
    put(sections::not_judged(letter), out)?;
    put(sections::let_pass(letter), out)?;
    put(rulebook::section(letter), out)?;
    if !review.is_of_settings {
        put(sign::page(letter), out)?;
        enclosures::write(letter, out)?;
    }
    out.write_all(b"</article>")?;
    if place.alone {
        out.write_all(b"</main>")?;
    }
    Ok(())
}

fn put(markup: Markup, out: &mut dyn Write) -> Result<()> {
    out.write_all(markup.into_string().as_bytes())
}

impl Letter<'_> {
    fn own_name(self) -> String {
        format!("letter-{}", self.place.number)
    }

    /// The name of a part, by which links find it.
    fn name(self, part: &str) -> String {
        format!("letter-{}-{part}", self.place.number)
    }

    fn observation(self, number: usize) -> String {
        self.name(&format!("observation-{number}"))
    }

    /// A link to an observation, by its number.
    fn link(self, number: usize) -> Markup {
        html! { a href={ "#" (self.observation(number)) } { "observation " (number) } }
    }

    /// A heading so many steps below the letter's own.
    fn heading(self, below: usize, name: &str, inner: &Markup) -> Markup {
        let depth = below + usize::from(!self.place.alone);
        match depth {
            0 => html! { h1 id=(name) { (inner) } },
            1 => html! { h2 id=(name) { (inner) } },
            2 => html! { h3 id=(name) { (inner) } },
            _ => html! { h4 id=(name) { (inner) } },
        }
    }

    /// A section under a heading of its own.
    fn section(self, part: &str, title: &str, inner: &Markup) -> Markup {
        self.titled(part, title, inner, "body")
    }

    /// The same for what goes with the letter; on paper it begins a page.
    fn enclosure(self, part: &str, title: &str, inner: &Markup) -> Markup {
        self.titled(part, &format!("Enclosure: {title}"), inner, "enclosure")
    }

    fn titled(self, part: &str, title: &str, inner: &Markup, class: &str) -> Markup {
        let name = self.name(part);
        let title = html! { (title) };
        html! {
            section.(class) {
                (self.heading(1, &name, &title))
                (inner)
            }
        }
    }
}

/// What a file is called in a letter: as it was named, or by its name alone where that would tell
/// how the reviewer's disk is laid out.
fn file_name(path: &Path) -> String {
    let shown = match path.file_name() {
        Some(name) if path.is_absolute() => Path::new(name),
        _ => path,
    };
    clean(&shown.to_string_lossy()).into_owned()
}

/// A sentence of a finding: safe to print, numbers kept with their units.
fn sentence(text: &str) -> String {
    bound(&clean(text))
}

/// A paragraph of a sheet, in which words of the plan language stand between backquotes.
fn paragraph(text: &str) -> Markup {
    let text = sentence(text);
    let mut parts = text.split('`');
    let first = parts.next().unwrap_or_default();
    let rest: Vec<&str> = parts.collect();
    html! {
        (first)
        @for pair in rest.chunks(2) {
            @match pair {
                [word, behind] => { code { (word) } (behind) },
                // One backquote alone is no pair.
                alone => { "`" (alone.concat()) },
            }
        }
    }
}

/// The level as the word on a sign.
fn level_sign(level: Level) -> Markup {
    html! { span.sign.(level.word()) { (super::theme::word(level)) } }
}

/// Words for whoever hears the page instead of seeing it.
fn unseen(words: &str) -> Markup {
    html! { span.unseen { (words) } }
}
