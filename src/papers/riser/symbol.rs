//! What stands for a thing: one symbol for each family of kinds, one letter for each service.

use crate::house::{House, Node};
use crate::plan::{EndpointKind as Kind, Service};

/// Kinds that look alike on the drawing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Family {
    Panel,
    Circuit,
    Rack,
    Equipment,
    Picture,
    Sound,
    /// Where cables are joined or end: outlets, plates, boxes, patch panels.
    Joint,
    Light,
    /// What feels, hears, sees or sends: sensors, keypads, cameras, antennas.
    Sense,
    Seat,
    /// Anything else that draws power.
    Load,
    Unknown,
}

impl Family {
    pub fn of(house: &House<'_>, node: Node) -> Self {
        let Some(endpoint) = house.endpoint(node) else {
            return Self::Circuit;
        };
        match endpoint.kind.value() {
            None => Self::Unknown,
            Some(Kind::BreakerPanel) => Self::Panel,
            Some(Kind::Rack) => Self::Rack,
            Some(
                Kind::Amplifier
                | Kind::Receiver
                | Kind::Source
                | Kind::Router
                | Kind::Switch
                | Kind::PowerConditioner,
            ) => Self::Equipment,
            Some(Kind::Projector | Kind::Display | Kind::Screen) => Self::Picture,
            Some(Kind::Speaker | Kind::Subwoofer) => Self::Sound,
            Some(
                Kind::Outlet
                | Kind::WallPlate
                | Kind::PatchPanel
                | Kind::Box
                | Kind::Distribution
                | Kind::Entry
                | Kind::DataOutlet
                | Kind::Splitter
                | Kind::Inlet,
            ) => Self::Joint,
            Some(Kind::Light) => Self::Light,
            Some(
                Kind::AccessPoint
                | Kind::Camera
                | Kind::Sensor
                | Kind::Keypad
                | Kind::Antenna
                | Kind::WallSwitch,
            ) => Self::Sense,
            Some(Kind::Seat) => Self::Seat,
            Some(Kind::Motor | Kind::Fan | Kind::Appliance | Kind::Sink) => Self::Load,
        }
    }

    pub fn words(self) -> &'static str {
        match self {
            Self::Panel => "breaker panel",
            Self::Circuit => "circuit",
            Self::Rack => "rack",
            Self::Equipment => "equipment",
            Self::Picture => "picture",
            Self::Sound => "loudspeaker",
            Self::Joint => "outlet, plate, box",
            Self::Light => "light",
            Self::Sense => "sensor, switch, antenna",
            Self::Seat => "seat",
            Self::Load => "other load",
            Self::Unknown => "kind not said",
        }
    }
}

/// The letter on a run.
pub fn letter(service: Option<Service>) -> char {
    match service {
        Some(Service::Power) => 'P',
        Some(Service::Speaker) => 'S',
        Some(Service::Line) => 'L',
        Some(Service::Video) => 'V',
        Some(Service::Data) => 'D',
        Some(Service::Coax) => 'X',
        Some(Service::Fibre) => 'F',
        Some(Service::Control) => 'K',
        None => '?',
    }
}
