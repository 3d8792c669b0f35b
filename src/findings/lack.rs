//! Why a figure could not be had.

use std::borrow::Cow;

/// What a computation wanted and did not get.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum Lack {
    /// The plan leaves it out: the check becomes a gap that says what is missing.
    Absent(Cow<'static, str>),
    /// It is there but could not be read, which has been reported: no gap is wanted.
    Reported,
}

impl Lack {
    pub fn absent(what: impl Into<Cow<'static, str>>) -> Self {
        Self::Absent(what.into())
    }
}
