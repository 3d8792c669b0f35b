//! How results look: text for a terminal, one finding a line, JSON, SARIF, Markdown, a letter, tables, a diff.
//!
//! Knows: what a review found, how wide the page is, whether it has colour. Must not know: how
//! anything was judged or computed, where the output goes.
//!
//! A form writes as it goes and keeps nothing: a review of a large plan costs little to show.

pub mod changes;
pub mod figures;
pub mod json;
pub mod letter;
pub mod lines;
pub mod markdown;
pub mod owed;
pub mod redline;
pub mod rulebook;
pub mod sarif;
pub mod text;

mod clean;
mod closing;
mod departures;
mod edited;
mod json_parts;
mod json_rulebook;
mod marks;
mod markup;
mod own_units;
mod page;
mod riser;
mod sections;
mod snippet;
mod theme;
mod words;

pub use clean::clean;
pub use own_units::System;
pub use page::Page;
pub use words::Words;
