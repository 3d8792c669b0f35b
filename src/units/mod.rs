//! Quantities and how they are spelled.
//!
//! Knows: dimensions, units, numbers as their authors wrote them, wire sizes, number style.
//! Must not know: YAML, plans, rules.
//!
//! Physics below `plan/` works on the typed quantities re-exported here (crate `uom`), so that
//! adding volts to ohms does not compile. What an author wrote is kept as [`Measured`]: the number
//! and the unit as written, so that `98 ft` is never read back as `97.99 ft`.

mod decode;
mod dimension;
mod level;
mod matter;
mod measured;
mod number;
mod spelled;
mod system;
mod wire;

pub use dimension::{
    AngleDim, ApparentPowerDim, CapacitancePerLengthDim, CurrentDim, DataRateDim, Dimension,
    FrequencyDim, HoursDim, LengthDim, PowerDim, RatioDim, ResistanceDim, Unit, VoltageDim,
};
pub use level::{DecibelDim, Decibels, Level, LevelDim};
pub use matter::{
    AirFlowDim, AreaDim, ForceDim, ForcePerLengthDim, MassDim, MassPerLengthDim, TemperatureDim,
    TemperatureRiseDim, VolumeDim,
};
pub use measured::Measured;
pub use number::{figure3, plain};
pub use spelled::{Misspelling, split_number};
pub use wire::WireSize;

pub use uom::si::f64::{
    Angle, Area, Capacitance, ElectricCurrent as Current, ElectricPotential as Voltage,
    ElectricalResistance as Resistance, Force, Frequency, InformationRate as DataRate, Length,
    LinearMassDensity as MassPerLength, Mass, Power, Ratio, TemperatureInterval as TemperatureRise,
    ThermodynamicTemperature as Temperature, Time, Volume, VolumeRate as AirFlow,
};

/// Unit markers for `Quantity::new::<unit>()` and `.get::<unit>()`.
pub mod unit {
    pub use uom::si::angle::{degree, radian};
    pub use uom::si::area::{square_inch, square_meter, square_millimeter};
    pub use uom::si::capacitance::{farad, picofarad};
    pub use uom::si::electric_current::ampere;
    pub use uom::si::electric_potential::volt;
    pub use uom::si::electrical_resistance::ohm;
    pub use uom::si::force::newton;
    pub use uom::si::frequency::{hertz, kilohertz, megahertz};
    pub use uom::si::information_rate::gigabit_per_second;
    pub use uom::si::length::{foot, inch, kilometer, meter, millimeter};
    pub use uom::si::linear_mass_density::kilogram_per_meter;
    pub use uom::si::mass::kilogram;
    pub use uom::si::power::watt;
    pub use uom::si::ratio::{percent, ratio};
    pub use uom::si::temperature_interval::kelvin;
    pub use uom::si::thermodynamic_temperature::degree_celsius;
    pub use uom::si::time::hour;
    pub use uom::si::volume::cubic_meter;
    pub use uom::si::volume_rate::cubic_meter_per_hour;
}

use uom::si::{ISQ, Quantity, SI};
use uom::typenum::{N2, N3, P1, P2, P4, Z0};

/// Resistance per length of one conductor (ohm per metre): m·kg·s⁻³·A⁻².
pub type ResistancePerLength = Quantity<ISQ<P1, P1, N3, N2, Z0, Z0, Z0>, SI<f64>, f64>;

/// Capacitance per length of a cable (farad per metre): m⁻³·kg⁻¹·s⁴·A².
pub type CapacitancePerLength =
    Quantity<ISQ<N3, uom::typenum::N1, P4, P2, Z0, Z0, Z0>, SI<f64>, f64>;

/// Force per length (newton per metre): kg·s⁻².
pub type ForcePerLength = Quantity<ISQ<Z0, P1, N2, Z0, Z0, Z0, Z0>, SI<f64>, f64>;

pub type Distance = Measured<LengthDim>;
pub type Amps = Measured<CurrentDim>;
pub type Volts = Measured<VoltageDim>;
pub type Watts = Measured<PowerDim>;
pub type Ohms = Measured<ResistanceDim>;
pub type Degrees = Measured<AngleDim>;
pub type Percent = Measured<RatioDim>;
pub type Rate = Measured<DataRateDim>;
pub type Hours = Measured<HoursDim>;
pub type FaradsPerMetre = Measured<CapacitancePerLengthDim>;
pub type Hertz = Measured<FrequencyDim>;
pub type VoltAmperes = Measured<ApparentPowerDim>;
pub type Newtons = Measured<ForceDim>;
pub type Kilograms = Measured<MassDim>;
pub type KilogramsPerMetre = Measured<MassPerLengthDim>;
pub type NewtonsPerMetre = Measured<ForcePerLengthDim>;
pub type Surface = Measured<AreaDim>;
pub type Space = Measured<VolumeDim>;
pub type CubicMetresPerHour = Measured<AirFlowDim>;
pub type Celsius = Measured<TemperatureDim>;
pub type Kelvins = Measured<TemperatureRiseDim>;
pub type Loss = Measured<DecibelDim>;
pub type SignalLevel = Measured<LevelDim>;
