//! What kinds of endpoint do: which pass a service on, which draw power.

use crate::plan::{Endpoint, EndpointKind as Kind};

/// Passive endpoints join runs of one service into a channel. A distribution unit is passive
/// unless it has a load. `None` where the plan does not say the kind.
pub fn is_passive(endpoint: &Endpoint) -> Option<bool> {
    Some(match endpoint.kind.value()? {
        Kind::PatchPanel
        | Kind::WallPlate
        | Kind::Box
        | Kind::Outlet
        | Kind::Inlet
        | Kind::DataOutlet
        | Kind::Entry
        | Kind::Splitter => true,
        Kind::Distribution => endpoint.load.is_absent(),
        _ => false,
    })
}

/// The opposite of passive, where the kind is known.
pub fn is_active(endpoint: &Endpoint) -> bool {
    is_passive(endpoint) == Some(false)
}

/// Whether an endpoint draws power that the plan ought to state as `load`. Outlets and boxes are
/// no consumers, nor is what only switches, guards or holds; a fixed screen, a seat and an antenna
/// draw nothing. A stated load always counts.
pub fn is_consumer(endpoint: &Endpoint) -> bool {
    if endpoint.load.value().is_some() {
        return true;
    }
    if is_passive(endpoint) == Some(true) {
        return false;
    }
    match endpoint.kind.value() {
        Some(
            Kind::Screen
            | Kind::Seat
            | Kind::BreakerPanel
            | Kind::WallSwitch
            | Kind::PowerConditioner
            | Kind::Antenna
            | Kind::Sensor
            | Kind::Keypad
            | Kind::Sink,
        ) => false,
        Some(Kind::Speaker) => endpoint.active.value().is_some_and(|active| active.0),
        Some(Kind::Subwoofer) => is_active_subwoofer(endpoint),
        _ => true,
    }
}

/// A subwoofer has its own amplifier unless it says `active: no`.
pub fn is_active_subwoofer(endpoint: &Endpoint) -> bool {
    endpoint.kind.value() == Some(&Kind::Subwoofer)
        && endpoint.active.value().is_none_or(|active| active.0)
}

/// A loudspeaker that lives off its speaker line: a speaker unless `active: yes`, a subwoofer only
/// with `active: no`.
pub fn is_passive_speaker(endpoint: &Endpoint) -> bool {
    match endpoint.kind.value() {
        Some(Kind::Speaker) => endpoint.active.value().is_none_or(|active| !active.0),
        Some(Kind::Subwoofer) => !is_active_subwoofer(endpoint),
        _ => false,
    }
}

/// Endpoints that a signal ends at rather than starts from.
pub fn is_sink(endpoint: &Endpoint) -> bool {
    matches!(
        endpoint.kind.value(),
        Some(
            Kind::Projector
                | Kind::Display
                | Kind::Screen
                | Kind::Speaker
                | Kind::Subwoofer
                | Kind::DataOutlet
                | Kind::AccessPoint
                | Kind::Camera
                | Kind::Keypad
                | Kind::Sensor
                | Kind::Motor
        )
    )
}
