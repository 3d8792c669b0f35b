//! What a review says: findings, gaps, marks, redlines. Types only; nothing is judged here.
//!
//! Knows: places in files, quantities. Must not know: plans, rules, how anything is printed.

mod finding;
mod fingerprint;
mod lack;
mod level;
mod report;

pub use finding::{Finding, Gap, Limit, Mark, Redline, RedlineKind, Shown};
pub use fingerprint::fingerprints;
pub use lack::Lack;
pub use level::Level;
pub use report::Report;

use std::fmt;
use std::sync::Arc;

/// The name of one thing in a plan. Cheap to clone.
#[derive(Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Id(Arc<str>);

impl Id {
    pub fn new(text: &str) -> Self {
        Self(text.into())
    }

    #[inline]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Id {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.0)
    }
}

impl fmt::Debug for Id {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::borrow::Borrow<str> for Id {
    #[inline]
    fn borrow(&self) -> &str {
        &self.0
    }
}
