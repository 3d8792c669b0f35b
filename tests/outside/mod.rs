//! Checks against published standards, handbook tables and worked examples. Each value names its source.
mod conduits;
mod listings;
mod timings;

/// Asserts that a value lies within a share of what is published.
#[track_caller]
pub fn near(what: &str, value: f64, published: f64, tolerance: f64) {
    let off = (value - published).abs();
    assert!(
        off <= tolerance * published.abs(),
        "{what}: {value}, published {published}"
    );
}
