//! Runs the rulebook over a plan: findings, gaps, what was let pass, redlines.
//!
//! Knows: reading, the house, every rule. Must not know: how anything is printed.

mod figures;
mod redline;
mod run;
mod settle;
mod variance;

pub use figures::quantities;
pub use redline::{Marked, Suggestion, Why, ink};
pub use run::{Review, Scope, Selection, Tally, review, review_text};
pub use settle::{Rewritten, Settled, settle};
pub use variance::LetPass;
