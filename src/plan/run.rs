//! `runs:`

use super::record::record;
use super::refs::{ANode, APathway, ARun, AStock};
use super::shape::{Count, List, Notes, YesNo};
use super::trade::Date;
use super::{
    Bounded, Crosses, Field, Long, Method, NonNegative, Positive, Ref, Service, SmallFromZero,
    Tested, Zone, quantity,
};
use crate::units::{DataRateDim, LengthDim, TemperatureDim};

/// A temperature of the surroundings.
pub type Warmth = Bounded<TemperatureDim, { quantity::SIGNED }>;

record! {
    /// One pull of cable from one end to the other.
    Run, "a run" {
        /// Where the run starts: the source end of a cable that has one.
        @needed "from" from: Ref<ANode>,
        /// Where the run ends.
        @needed "to" to: Ref<ANode>,
        /// The cable.
        "stock" stock: Ref<AStock>,
        /// Measured length of the route.
        "length" length: Long,
        /// The pathways that it passes, in order.
        "through" through: List<Ref<APathway>>,
        /// How many cores are joined for each leg.
        "tie" tie: Count<1, 100>,
        /// Pulled in reserve; connected to nothing.
        "spare" spare: YesNo,
        /// Lies in the open, not concealed.
        "surface" surface: YesNo,
        /// Runs that it lies beside.
        "beside" beside: List<Beside>,
        /// Data rate that it has to carry.
        "rate" rate: Positive<DataRateDim>,
        /// For people.
        "notes" notes: Notes,
    }
    /// Keys that few runs have.
    seldom RunSeldom {
        /// What it carries, where that is not what its stock is made for.
        "carries" carries: Service,
        /// How it crosses a joist bay that moves air.
        "crosses" crosses: Crosses,
        /// Reference method of installation (gb).
        "method" method: Method,
        /// How many runs are bundled together.
        "bundle" bundle: Count<1>,
        /// Length over which they are bundled.
        "bundled-over" bundled_over: NonNegative<LengthDim>,
        /// How warm it is where the run lies.
        "ambient" ambient: Warmth,
        /// Length of the cords at both ends of a data channel, together.
        "cords" cords: NonNegative<LengthDim>,
        /// How deep it lies under the face of the wall (gb).
        "depth" depth: SmallFromZero,
        /// Whether it keeps to the prescribed zones of the wall (gb).
        "zone" zone: Zone,
        /// What has been done on site.
        "done" done: Done,
    }
}

/// How far a run lies from another.
pub type Apart = Bounded<LengthDim, { quantity::SMALL_FROM_ZERO }>;

impl Run {
    /// Over how much of it it lies in a bundle, where that is stated.
    pub(super) fn bundled_over(&mut self) -> Option<&mut Field<NonNegative<LengthDim>>> {
        Some(&mut self.seldom.as_mut()?.bundled_over)
    }

    /// Whether it says that it lies in the open.
    pub fn lies_open(&self) -> bool {
        self.surface.value().is_some_and(|surface| surface.0)
    }
}

record! {
    /// A run lying beside another.
    Beside, "an entry of `beside`" {
        /// The other run.
        @needed "run" run: Ref<ARun>,
        /// Distance between the two.
        "apart" apart: Apart,
        /// Length over which they lie beside each other.
        "over" over: NonNegative<LengthDim>,
        /// For people.
        "notes" notes: Notes,
    }
}

record! {
    /// What has been done on site.
    Done, "`done`" {
        /// The day that the cable was pulled.
        "pulled" pulled: Date,
        /// Both ends are labelled.
        "labelled" labelled: YesNo,
        /// Result of its test.
        "tested" tested: Tested,
        /// Steel plates are where they are needed.
        "guarded" guarded: YesNo,
        /// For people.
        "notes" notes: Notes,
    }
}
