//! What the fuzzers share: the drives, which the ordinary tests have too, and how a text is changed.

#[path = "../../anything/drive/mod.rs"]
pub mod drive;
pub mod mutate;
