//! `circuits:`

use super::record::record;
use super::refs::AnEndpoint;
use super::shape::{Count, List, Notes, YesNo};
use super::{NonNegative, Positive, Protection, Ref};
use crate::units::{CurrentDim, RatioDim, VoltageDim};

record! {
    /// A breaker; power runs start there.
    Circuit, "a circuit" {
        /// Rating of the breaker.
        "breaker" breaker: Positive<CurrentDim>,
        /// Nominal voltage.
        "volts" volts: Positive<VoltageDim>,
        /// Poles of the breaker.
        "poles" poles: Count<1, 4>,
        /// The endpoints that the circuit is dedicated to.
        "serves" serves: List<Ref<AnEndpoint>>,
        /// Protective devices.
        "protection" protection: List<Protection>,
        /// A ring final circuit, fed from both ends (gb).
        "ring" ring: YesNo,
        /// Voltage drop from the service to this breaker.
        "feeder-drop" feeder_drop: NonNegative<RatioDim>,
        /// The breaker panel that it stands in.
        "panel" panel: Ref<AnEndpoint>,
        /// For people.
        "notes" notes: Notes,
    }
}
