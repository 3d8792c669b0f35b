//! Text to a tree in which every node knows its bytes; line index; edits of the text.
//!
//! Knows: YAML. Must not know: what a plan is.
//!
//! The engine's events are kept as a flat tree of nodes with byte spans. Aliases are not expanded:
//! whoever walks the tree follows them and pays for it (see `plan/`), so no document can grow.

mod broken;
mod build;
mod edit;
mod lines;
mod source;
mod tree;

pub use broken::Broken;
pub use build::{MAX_BYTES, MAX_DEPTH};
pub use edit::{Edit, apply, entry_edit, has_comment};
pub use lines::{Lines, Position};
pub use source::{FileId, Source, Sources, Span, Spot};
pub use tree::{Further, Kind, NodeId, Tree};
