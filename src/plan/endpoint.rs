//! `endpoints:`

use super::record::record;
use super::refs::{ARoom, AnEndpoint};
use super::shape::{AboveZero, Count, List, Notes, Triple, YesNo};
use super::trade::{BitDepth, Picture};
use super::{
    Bounded, Chroma, Coordinate, Duty, EndpointKind, Facing, NonNegative, Place, Poe, Positive,
    Protection, Protects, Ref, Side, Small, quantity,
};
use crate::units::{
    DecibelDim, FrequencyDim, LevelDim, MassDim, PowerDim, RatioDim, ResistanceDim, VoltageDim,
    Volts, VolumeDim,
};

record! {
    /// Anything that a cable ends on.
    Endpoint, "an endpoint" {
        /// What it is.
        "kind" kind: EndpointKind,
        /// The room that it stands in.
        "room" room: Ref<ARoom>,
        /// Its place in the house.
        "at" at: Triple<Coordinate>,
        /// The endpoint that it is part of.
        "in" within: Ref<AnEndpoint>,
        /// Power that it draws.
        "load" load: NonNegative<PowerDim>,
        /// Mains power that a subwoofer draws on a bass peak.
        "peak" peak: NonNegative<PowerDim>,
        /// How long the load runs.
        "duty" duty: Duty,
        /// Voltage that it needs; the least and the greatest of a device that takes a range.
        "volts" volts: List<Positive<VoltageDim>>,
        /// How many power feeds it takes.
        "inlets" inlets: Count<1, 100>,
        /// Connected to the protective earth.
        "earthed" earthed: YesNo,
        /// What it protects those behind it from.
        "protects" protects: List<Protects>,
        /// Nominal impedance of a speaker.
        "impedance" impedance: Bounded<ResistanceDim, { quantity::OVER_ZERO }, 50_000>,
        /// Where a speaker belongs; of a box or plate, the speaker that may come there.
        "place" place: Place,
        /// Has an amplifier of its own.
        "active" active: YesNo,
        /// Width of a screen or display.
        "width" width: Small,
        /// Picture that a display shows.
        "picture" picture: Picture,
        /// Bits per colour of the picture.
        "depth" depth: BitDepth,
        /// Colour sampling of the picture.
        "chroma" chroma: Chroma,
        /// Ports of a panel or switch; of an outlet, how many can be plugged in.
        "ports" ports: Count<1>,
        /// Can still be reached once the wall is closed.
        "access" access: YesNo,
        /// There is blocking in the wall behind it.
        "backing" backing: YesNo,
        /// For people.
        "notes" notes: Notes,
    }
    /// Keys that few endpoints have.
    seldom EndpointSeldom {
        /// The outlets that it is plugged into.
        "at-outlet" at_outlet: List<Ref<AnEndpoint>>,
        /// The endpoint that it stands beside.
        "beside" beside: List<Ref<AnEndpoint>>,
        /// How its load is shared between its inlets.
        "split" split: List<NonNegative<RatioDim>>,
        /// Protective devices in it (an outlet that has its own).
        "protection" protection: List<Protection>,
        /// Type of power over Ethernet that it takes.
        "poe" poe: Poe,
        /// Supplies power over Ethernet of this type.
        "poe-supply" poe_supply: Poe,
        /// The picture comes compressed.
        "compression" compression: YesNo,
        /// Throw ratio of a projector: distance over image width; the least and the greatest of a zoom.
        "throw" throw: List<AboveZero>,
        /// Impedance of a source's output.
        "output-impedance" output_impedance: Bounded<ResistanceDim, { quantity::OVER_ZERO }, 50_000>,
        /// Has a transformer that parts the earths of its two sides.
        "isolates" isolates: YesNo,
        /// Power tap of a loudspeaker on a constant-voltage line.
        "tap" tap: Positive<PowerDim>,
        /// Nominal voltage of a constant-voltage loudspeaker line; of an amplifier, that of all its lines.
        "line-volts" line_volts: Positive<VoltageDim>,
        /// Level of the signal that comes in here.
        "level" level: Bounded<LevelDim, { quantity::SIGNED }>,
        /// Least level that it works with.
        "needs" needs: Bounded<LevelDim, { quantity::SIGNED }>,
        /// Highest frequency of the coaxial signal.
        "frequency" frequency: Positive<FrequencyDim>,
        /// Outputs of a splitter.
        "ways" ways: Count<1, 100>,
        /// Loss of a splitter from its input to one output.
        "loss" loss: NonNegative<DecibelDim>,
        /// Bonded to the earthing system (an antenna, an entry).
        "bonded" bonded: YesNo,
        /// Space inside a box.
        "volume" volume: Positive<VolumeDim>,
        /// Devices mounted in a box; if left out, as many as outlets and wall switches stand in it.
        "yokes" yokes: Count<0, 100>,
        /// A box has cable clamps inside.
        "clamps" clamps: YesNo,
        /// A fixed barrier in a box keeps power from low voltage.
        "barrier" barrier: YesNo,
        /// Width, depth and height of something that stands on the floor or hangs; `at` is its middle.
        "size" size: Triple<Side>,
        /// The way its front looks.
        "faces" faces: Facing,
        /// What it weighs.
        "weight" weight: Positive<MassDim>,
    }
}

impl Endpoint {
    /// The least and the greatest nominal voltage that it is made for, where it says so.
    pub fn made_for(&self) -> Option<(Volts, Volts)> {
        let stated = || self.volts.value().into_iter().flat_map(List::values);
        let mut stated = stated().map(|volts| **volts);
        let first = stated.next()?;
        Some(stated.fold((first, first), |(least, greatest), volts| {
            if volts.base() < least.base() {
                (volts, greatest)
            } else if volts.base() > greatest.base() {
                (least, volts)
            } else {
                (least, greatest)
            }
        }))
    }
}
