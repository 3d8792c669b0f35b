//! `stock:`

use super::record::record;
use super::shape::{Count, List, Notes, Text, YesNo};
use super::trade::{Breadth, Cores, Head};
use super::{Build, Conductor, Grade, Long, Material, NonNegative, Positive, Service, Small};
use crate::units::{CapacitancePerLengthDim, ForceDim, MassPerLengthDim};

record! {
    /// A kind of cable on the reel.
    Stock, "a stock" {
        /// The service that the cable is made for.
        "for" service: Service,
        /// Number and size of its conductors.
        "cores" cores: Cores,
        /// The listing printed on the jacket, or `none`.
        "rating" rating: List<Text>,
        /// Outside diameter; width x height for a flat cable.
        "diameter" diameter: Breadth,
        /// What the conductors are made of.
        "material" material: Material,
        /// Whether the conductors are solid or stranded.
        "conductor" conductor: Conductor,
        /// Flexible cord or cable, of fine strands.
        "flexible" flexible: YesNo,
        /// Has a jacket over its conductors.
        "jacketed" jacketed: YesNo,
        /// Made for wet places.
        "wet" wet: YesNo,
        /// Carries a line on a balanced pair.
        "balanced" balanced: YesNo,
        /// Capacitance between its conductors.
        "capacitance" capacitance: NonNegative<CapacitancePerLengthDim>,
        /// Certified grade of a video cable, or category of a data cable.
        "grade" grade: Grade,
        /// How a video cable is built.
        "build" build: Build,
        /// How far its maker says that it carries its grade.
        "reach" reach: Long,
        /// Size of the connector that has to pass the pathway.
        "head" head: Head,
        /// Series of a coaxial cable.
        "series" series: Text,
        /// Weight per length.
        "weight" weight: Positive<MassPerLengthDim>,
        /// Greatest force that its maker allows on it while it is pulled.
        "pull-limit" pull_limit: Positive<ForceDim>,
        /// Least radius that its maker allows.
        "bend-radius" bend_radius: Small,
        /// Number of shields.
        "shields" shields: Count<0, 10>,
        /// For people.
        "notes" notes: Notes,
    }
}
