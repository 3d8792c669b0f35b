//! `pathways:`

use super::record::record;
use super::refs::{ANode, APathway, AnEndpoint};
use super::shape::{AboveZero, FromZero, List, Notes, Text, YesNo};
use super::trade::{Stretch, TradeSize};
use super::{
    Air, Bounded, ConduitListing, Containment, Long, Make, Member, NonNegative, PathwayKind, Ref,
    Side, Small, SmallFromZero, quantity,
};
use crate::units::{AngleDim, Degrees, Distance, Length, LengthDim, unit};

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
        /// Straights and bends of a conduit in their order, from its start.
        "route" route: List<Stretch>,
        /// Radius of a conduit's bends, to its centre line.
        "radius" radius: Small,
        /// Coefficient of friction of a pull through a conduit.
        "friction" friction: AboveZero,
        /// What a conduit is listed for besides ordinary walls.
        "listing" listing: List<ConduitListing>,
        /// A fixed barrier keeps power from low voltage.
        "barrier" barrier: YesNo,
        /// What of metal holds the data cables.
        "containment" containment: Containment,
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
        /// Reaction-to-fire class that cables must reach here.
        "fire-class" fire_class: Text,
        /// Holes and notches for the cables.
        "framing" framing: List<Framing>,
        /// What kind of air a plenum moves.
        "air" air: Air,
        /// The endpoints that it is kept in reserve for.
        "spare-for" spare_for: List<Ref<AnEndpoint>>,
        /// For people.
        "notes" notes: Notes,
    }
}

record! {
    /// A hole or notch that cables pass, in a member of the frame.
    Framing, "an entry of `framing`" {
        /// The member.
        "member" member: Member,
        /// Its larger side: the face that is bored, or the height of a joist.
        "depth" depth: Small,
        /// Clear length of a joist between its supports.
        "span" span: Side,
        /// It carries load.
        "bearing" bearing: YesNo,
        /// It is doubled.
        "doubled" doubled: YesNo,
        /// Diameter of the hole.
        "hole" hole: Small,
        /// From the hole's side to the nearest edge of the member.
        "edge" edge: SmallFromZero,
        /// Depth of the notch.
        "notch" notch: Small,
        /// Length of the notch along the member.
        "notch-length" notch_length: Small,
        /// From the nearer end of the joist to the notch.
        "from-end" from_end: NonNegative<LengthDim>,
        /// A steel plate guards the cables.
        "guarded" guarded: YesNo,
        /// The opening is closed around the cables with insulation, caulk or foam.
        "filled" filled: YesNo,
        /// For people.
        "notes" notes: Notes,
    }
}

impl Pathway {
    /// Whether it says that it is a conduit or a raceway.
    pub fn is_raceway(&self) -> bool {
        self.kind.value().is_some_and(|kind| kind.is_raceway())
    }

    /// Length of a conduit: as stated, else its straights together, in the unit of the first.
    pub fn laid_length(&self) -> Option<Distance> {
        if let Some(length) = self.length.value() {
            return Some(**length);
        }
        if self.length.is_bad() {
            return None;
        }
        self.straights()
    }

    /// Whether a length was given that could not be read.
    pub fn is_length_bad(&self) -> bool {
        self.length.is_bad() || self.length.is_absent() && self.route.is_bad()
    }

    /// The straights of a conduit's route together. `None` where it has none.
    pub fn straights(&self) -> Option<Distance> {
        let mut straights = self.stretches().filter_map(|stretch| match stretch {
            Stretch::Straight(length) => Some(length),
            Stretch::Bend(_) => None,
        });
        let first = straights.next()?;
        let total = straights
            .map(Distance::base)
            .fold(first.base(), |a, b| a + b);
        Some(first.same_unit(Length::new::<unit::meter>(total)))
    }

    /// The bends of a conduit in their order: as stated, else those of its route. `None` where the
    /// plan states neither, or they could not be read.
    pub fn all_bends(&self) -> Option<impl Iterator<Item = Degrees> + '_> {
        let stated = self.bends.value();
        let by_route = self.bends.is_absent() && self.route.value().is_some();
        if stated.is_none() && !by_route {
            return None;
        }
        let routed = by_route.then(|| self.stretches()).into_iter().flatten();
        let routed = routed.filter_map(|stretch| match stretch {
            Stretch::Bend(angle) => Some(angle),
            Stretch::Straight(_) => None,
        });
        let stated = stated.into_iter().flat_map(|bends| bends.values());
        Some(stated.map(|bend| **bend).chain(routed))
    }

    /// The stretches of a conduit's route.
    pub fn stretches(&self) -> impl Iterator<Item = Stretch> + '_ {
        let route = self.route.value().into_iter();
        route.flat_map(|route| route.values().copied())
    }
}
