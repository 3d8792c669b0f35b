//! What the program does with a text that may be anything, from its first byte to the last of what it writes, by library
//! and in memory. Each drive ends, without a panic, and holds what comes of it against what is true of every text.
//!
//! The fuzzers under `tests/fuzz` call these, and so does the replay of what they found.

pub mod kept;
pub mod parts;
pub mod reading;
pub mod redline;
pub mod review;
pub mod settings;

use std::path::Path;

use nailplate::plan::Date;
use nailplate::review::{Review, Scope, review_text};

use parts::Parts;

/// What the plan is called.
pub const PLAN: &str = "house.plan.yaml";

/// The day on which everything is judged.
pub const DAY: Date = Date {
    year: 2026,
    month: 11,
    day: 25,
};

/// A number made of a text, by which it is chosen what is done with it besides: the same for the same text.
pub fn lot(text: &str) -> u32 {
    // FNV-1a, 32 bits: http://www.isthe.com/chongo/tech/comp/fnv/ (from memory).
    text.bytes().fold(0x811c_9dc5, |hash, byte| {
        (hash ^ u32::from(byte)).wrapping_mul(0x0100_0193)
    })
}

/// A review by the built-in rulebook; `None` where the text is no YAML.
pub fn reviewed(text: &str, library: &Parts<'_>) -> Option<Review> {
    let scope = Scope::from(Some(DAY));
    let review = review_text(Path::new(PLAN), text.to_owned(), library, scope);
    match review {
        Ok(review) => Some(review),
        Err((_, broken)) => {
            kept::broken(text, &broken);
            None
        }
    }
}
