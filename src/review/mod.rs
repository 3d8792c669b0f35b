//! Runs the rulebook over a plan: findings, gaps, what was let pass, what is owed, redlines.
//!
//! Knows: reading, the house, every rule. Must not know: how anything is printed.

mod desk;
mod figures;
mod lacks;
mod punch_list;
mod redline;
mod run;
mod settle;
mod variance;

pub use figures::quantities;
pub use punch_list::{Became, Changes, Entry, Mistake, New, NotFound, Owed, PunchList, settle_up};
pub use redline::{Marked, Suggestion, Why, ink, ink_of};
pub use run::{Review, Scope, Selection, Tally, of_settings, review, review_text, unread};
pub use settle::{Rewritten, Settled, settle};
pub use variance::LetPass;
