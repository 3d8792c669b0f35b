//! Names of things, and references to them.

use std::collections::HashMap;
use std::marker::PhantomData;

use serde_json::{Value, json};

use super::reader::Reader;
use super::shape::Shape;
use crate::findings::Id;
use crate::schema::{Defs, Schema, scalar};
use crate::yaml::{NodeId, Span};

/// Which section a thing stands in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Sort {
    Room,
    Stock,
    Pathway,
    Circuit,
    Endpoint,
    Run,
}

impl Sort {
    /// In the order of the enum.
    pub const ALL: [Self; 6] = [
        Self::Room,
        Self::Stock,
        Self::Pathway,
        Self::Circuit,
        Self::Endpoint,
        Self::Run,
    ];

    /// The section's key, and what one thing of it is called.
    pub fn words(self) -> (&'static str, &'static str) {
        match self {
            Self::Room => ("rooms", "a room"),
            Self::Stock => ("stock", "a stock"),
            Self::Pathway => ("pathways", "a pathway"),
            Self::Circuit => ("circuits", "a circuit"),
            Self::Endpoint => ("endpoints", "an endpoint"),
            Self::Run => ("runs", "a run"),
        }
    }
}

/// One thing of the plan: its section and its place in the section's order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Thing {
    pub sort: Sort,
    pub index: u32,
}

impl Thing {
    pub fn new(sort: Sort, index: usize) -> Self {
        Self {
            sort,
            index: u32::try_from(index).unwrap_or(u32::MAX),
        }
    }

    pub fn at(self) -> usize {
        self.index as usize
    }
}

/// All ids of a plan: one id names one thing.
#[derive(Debug, Default)]
pub struct Things {
    by_name: HashMap<Id, (Thing, Span), foldhash::fast::RandomState>,
    /// Sorts whose section, or catalogue, could not be read.
    lost: [bool; 6],
    /// Sorts whose section holds something, and none of it could be read.
    unread: Vec<Sort>,
}

impl Things {
    pub fn get(&self, name: &str) -> Option<Thing> {
        self.by_name.get(name).map(|(thing, _)| *thing)
    }

    /// Gives a name to a thing; a name that is taken stays with the first.
    pub fn name(&mut self, id: Id, thing: Thing, at: Span) {
        self.by_name.entry(id).or_insert((thing, at));
    }

    /// The thing that has a name, the name as all share it, and the place where it was given.
    pub fn first(&self, name: &str) -> Option<(&Id, Thing, Span)> {
        let (id, (thing, place)) = self.by_name.get_key_value(name)?;
        Some((id, *thing, *place))
    }

    /// Not all things of this sort are known, which has been reported.
    pub fn lose(&mut self, sort: Sort) {
        self.lost[sort as usize] = true;
    }

    /// The same, and its section is not just empty.
    pub fn unread(&mut self, sort: Sort) {
        self.lose(sort);
        self.unread.push(sort);
    }

    /// The sections that hold something of which nothing could be read.
    pub fn unread_sections(&self) -> impl Iterator<Item = &'static str> + '_ {
        self.unread.iter().map(|sort| sort.words().0)
    }

    /// Whether a name that is not known may stand for a thing that could not be read.
    pub fn may_be_lost(&self, sorts: &[Sort]) -> bool {
        sorts.iter().any(|sort| self.lost[*sort as usize])
    }

    pub fn reserve(&mut self, more: usize) {
        self.by_name.reserve(more);
    }

    pub fn len(&self) -> usize {
        self.by_name.len()
    }

    pub fn is_empty(&self) -> bool {
        self.by_name.is_empty()
    }

    /// Names of things of the given sorts.
    pub fn names(&self, sorts: &'static [Sort]) -> impl Iterator<Item = &str> {
        self.by_name
            .iter()
            .filter(|(_, (thing, _))| sorts.contains(&thing.sort))
            .map(|(id, _)| id.as_str())
    }
}

/// Which sorts a reference may name.
pub trait Accepts: 'static {
    const SORTS: &'static [Sort];
    const WANTS: &'static str;
}

macro_rules! accepts {
    ($($name:ident: $wants:literal [$($sort:ident),+];)*) => {
        $(
            #[doc = concat!("References to ", $wants, ".")]
            #[derive(Debug, Clone, Copy, PartialEq, Eq)]
            pub struct $name;
            impl Accepts for $name {
                const SORTS: &'static [Sort] = &[$(Sort::$sort),+];
                const WANTS: &'static str = $wants;
            }
        )*
    };
}

accepts! {
    ARoom: "a room" [Room];
    AStock: "a stock" [Stock];
    APathway: "a pathway" [Pathway];
    AnEndpoint: "an endpoint" [Endpoint];
    ARun: "a run" [Run];
    ANode: "an endpoint or a circuit" [Endpoint, Circuit];
    AnyThing: "a thing of this plan" [Room, Stock, Pathway, Circuit, Endpoint, Run];
}

/// A reference that was found to name a thing of the right sort.
#[derive(Debug, PartialEq, Eq)]
pub struct Ref<A> {
    pub thing: Thing,
    accepts: PhantomData<A>,
}

impl<A> Clone for Ref<A> {
    fn clone(&self) -> Self {
        *self
    }
}
impl<A> Copy for Ref<A> {}

impl<A> Ref<A> {
    /// Index in the section.
    pub fn at(self) -> usize {
        self.thing.at()
    }
}

impl<A: Accepts> Schema for Ref<A> {
    fn schema(defs: &mut Defs) -> Value {
        defs.define(&format!("id of {}", A::WANTS), |_| {
            json!({"type": scalar(), "minLength": 1, "description": format!("The id of {}.", A::WANTS)})
        })
    }
}

impl<A: Accepts> Shape for Ref<A> {
    const WANTS: &'static str = A::WANTS;
    fn read(reader: &mut Reader<'_>, node: NodeId) -> Option<Self> {
        let text = reader.scalar(node, A::WANTS)?;
        let thing = match reader.things.get(text) {
            Some(thing) if A::SORTS.contains(&thing.sort) => thing,
            None if reader.things.may_be_lost(A::SORTS) => return None,
            found => reader.no_such_id(node, text, A::WANTS, A::SORTS, found)?,
        };
        Some(Self {
            thing,
            accepts: PhantomData,
        })
    }
}
