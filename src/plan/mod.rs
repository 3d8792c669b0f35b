//! The typed plan: every value with its place, read from the YAML tree, all mistakes reported.
//!
//! Knows: the plan language. Must not know: physics, standards, rules.
//!
//! Reading cannot fail: it returns a plan and what is wrong with it. A value that could not be
//! read is [`Field::Bad`], which later checks pass over in silence because it has been reported.

mod calendar;
mod catalogue;
mod check;
mod check_part;
mod check_route;
mod circuit;
mod endpoint;
mod field;
mod fire_class;
mod merge;
mod mistake;
mod mistake_id;
mod mistake_value;
mod named;
mod names;
mod pathway;
mod patterns;
mod quantity;
mod read;
pub(crate) mod reader;
pub(crate) mod record;
mod refs;
mod room;
mod run;
pub(crate) mod shape;
mod spelling;
mod stock;
mod trade;
mod trade_schema;
mod variance;
pub(crate) mod wording;
mod words;

pub use catalogue::{Catalogue, Library, catalogues_of};
pub use check::DEEPEST;
pub use circuit::Circuit;
pub use endpoint::Endpoint;
pub use field::{Entry, Field, Stated};
pub use named::{Named, NamedValue};
pub use pathway::{Framing, Pathway};
pub use patterns::schema;
pub use quantity::{Bounded, Coordinate, Long, NonNegative, Positive, Side, Small, SmallFromZero};
pub use read::{Document, MISTAKES, Plan, Section, read};
pub use reader::Reader;
pub use record::{Key, Record};
pub use refs::{Ref, Sort, Thing, Things};
pub use room::Room;
pub use run::{Apart, Beside, Done, Run};
pub use shape::{
    AboveZero, Count, FromZero, List, Notes, Number, Shape, Text, Triple, Version, YesNo,
};
pub use spelling::{Near, near, nearest};
pub use stock::Stock;
pub use trade::{BitDepth, Breadth, Cores, Date, Head, Picture, Stretch, TradeSize};
pub use variance::Variance;
pub use words::*;
