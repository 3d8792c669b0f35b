//! A value of the plan and where it stands.

use std::ops::Deref;

use crate::findings::{Id, Lack};
use crate::yaml::{NodeId, Span};

/// A value that the plan states, and its place.
#[derive(Debug, Clone, PartialEq)]
pub struct Stated<T> {
    pub value: T,
    pub span: Span,
}

impl<T> Deref for Stated<T> {
    type Target = T;
    #[inline]
    fn deref(&self) -> &T {
        &self.value
    }
}

/// The value of one key.
#[derive(Debug, Clone, PartialEq, Default)]
pub enum Field<T> {
    /// The plan leaves it out.
    #[default]
    Absent,
    /// It is there and could not be read; that has been reported.
    Bad,
    Stated(Stated<T>),
}

impl<T> Field<T> {
    #[inline]
    pub fn stated(&self) -> Option<&Stated<T>> {
        match self {
            Self::Stated(stated) => Some(stated),
            _ => None,
        }
    }

    #[inline]
    pub fn value(&self) -> Option<&T> {
        self.stated().map(|stated| &stated.value)
    }

    #[inline]
    pub fn span(&self) -> Option<Span> {
        self.stated().map(|stated| stated.span)
    }

    #[inline]
    pub fn is_absent(&self) -> bool {
        matches!(self, Self::Absent)
    }

    #[inline]
    pub fn is_bad(&self) -> bool {
        matches!(self, Self::Bad)
    }

    /// The value, or why there is none.
    ///
    /// # Errors
    /// [`Lack::Absent`] naming `key` and the thing it belongs to; [`Lack::Reported`] for a value
    /// that could not be read.
    pub fn want(&self, key: &str, of: &Id) -> Result<&Stated<T>, Lack> {
        match self {
            Self::Stated(stated) => Ok(stated),
            Self::Absent => Err(Lack::absent(format!("{key} of {of}"))),
            Self::Bad => Err(Lack::Reported),
        }
    }
}

impl<T: Copy> Field<T> {
    /// The value, or `default` where the plan leaves it out.
    ///
    /// # Errors
    /// [`Lack::Reported`] for a value that could not be read.
    pub fn or(&self, default: T) -> Result<T, Lack> {
        match self {
            Self::Stated(stated) => Ok(stated.value),
            Self::Absent => Ok(default),
            Self::Bad => Err(Lack::Reported),
        }
    }
}

/// One thing of a section: its id, the id's place, and what is stated about it.
#[derive(Debug)]
pub struct Entry<T> {
    pub id: Id,
    /// The id, where the section names it.
    pub span: Span,
    /// The mapping behind the id, where entries can be added to it: `None` when it is reached
    /// through an alias, or is no mapping.
    pub map: Option<NodeId>,
    pub body: T,
}

impl<T> Deref for Entry<T> {
    type Target = T;
    #[inline]
    fn deref(&self) -> &T {
        &self.body
    }
}
