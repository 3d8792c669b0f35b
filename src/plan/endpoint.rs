//! `endpoints:`

use super::record::record;
use super::refs::{ARoom, AnEndpoint};
use super::shape::{AboveZero, Count, List, Notes, Triple, YesNo};
use super::trade::{BitDepth, Picture};
use super::{
    Chroma, Coordinate, Duty, EndpointKind, NonNegative, Place, Poe, Positive, Protects, Ref, Small,
};
use crate::units::{PowerDim, RatioDim, ResistanceDim, VoltageDim};

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
        /// The outlets that it is plugged into.
        "at-outlet" at_outlet: List<Ref<AnEndpoint>>,
        /// The endpoint that it stands beside.
        "beside" beside: List<Ref<AnEndpoint>>,
        /// Power that it draws.
        "load" load: NonNegative<PowerDim>,
        /// Mains power that a subwoofer draws on a bass peak.
        "peak" peak: NonNegative<PowerDim>,
        /// How long the load runs.
        "duty" duty: Duty,
        /// Voltage that it needs.
        "volts" volts: Positive<VoltageDim>,
        /// How many power feeds it takes.
        "inlets" inlets: Count<1>,
        /// How its load is shared between its inlets.
        "split" split: List<NonNegative<RatioDim>>,
        /// Connected to the protective earth.
        "earthed" earthed: YesNo,
        /// What it protects those behind it from.
        "protects" protects: List<Protects>,
        /// Type of power over Ethernet that it takes.
        "poe" poe: Poe,
        /// Nominal impedance of a speaker.
        "impedance" impedance: Positive<ResistanceDim>,
        /// Where a speaker belongs.
        "place" place: Place,
        /// Has an amplifier of its own.
        "active" active: YesNo,
        /// Throw ratio of a projector: distance over image width.
        "throw" throw: AboveZero,
        /// Width of a screen or display.
        "width" width: Small,
        /// Picture that a display shows.
        "picture" picture: Picture,
        /// Bits per colour of the picture.
        "depth" depth: BitDepth,
        /// Colour sampling of the picture.
        "chroma" chroma: Chroma,
        /// The picture comes compressed.
        "compression" compression: YesNo,
        /// Ports of a panel or switch.
        "ports" ports: Count<1>,
        /// Can still be reached once the wall is closed.
        "access" access: YesNo,
        /// There is blocking in the wall behind it.
        "backing" backing: YesNo,
        /// For people.
        "notes" notes: Notes,
    }
}
