//! `pathways:`

use super::record::record;
use super::refs::{ANode, APathway, AnEndpoint};
use super::shape::{FromZero, List, Notes, YesNo};
use super::trade::TradeSize;
use super::{Air, Bounded, Long, Make, PathwayKind, Ref, Small, quantity};
use crate::units::AngleDim;

/// The angle of one bend.
pub type Bend = Bounded<AngleDim, { quantity::FROM_ZERO }>;

record! {
    /// What runs pass through.
    Pathway, "a pathway" {
        /// What it is.
        "kind" kind: PathwayKind,
        /// Make of a conduit.
        "make" make: Make,
        /// Trade size of a conduit.
        "size" size: TradeSize,
        /// Inside diameter of a conduit that no table has.
        "bore" bore: Small,
        /// Length of a conduit.
        "length" length: Long,
        /// Bends of a conduit between its pull points.
        "bends" bends: List<Bend>,
        /// Where a conduit starts.
        "from" from: Ref<ANode>,
        /// Where a conduit ends.
        "to" to: Ref<ANode>,
        /// A conduit has a pull string in it.
        "pull-string" pull_string: YesNo,
        /// The pathways that it lies in itself.
        "inside" inside: List<Ref<APathway>>,
        /// Hours of fire resistance of a wall, floor or ceiling.
        "fire-hours" fire_hours: FromZero,
        /// Openings in a fire-resisting barrier are sealed.
        "sealed" sealed: YesNo,
        /// What kind of air a plenum moves.
        "air" air: Air,
        /// The endpoints that it is kept in reserve for.
        "spare-for" spare_for: List<Ref<AnEndpoint>>,
        /// For people.
        "notes" notes: Notes,
    }
}
