//! What a plan yields on paper: where everything goes on a drawing.
//!
//! Knows: the house, findings by their numbers. Must not know: how anything is printed.

pub mod riser;
