//! Dimensions of things that are pulled, filled, warmed and cooled.

use super::dimension::{Dimension, Unit, dimension, shifted, unit_of};
use super::{
    AirFlow, Area, Force, ForcePerLength, Length, Mass, MassPerLength, Temperature,
    TemperatureRise, Volume, unit,
};

/// Pound-force in newton: international pound times standard gravity (0.453 592 37 × 9.806 65, exact).
const POUND_FORCE: f64 = 4.448_221_615_260_5;
/// Metre per second squared (CGPM 1901, exact).
const GRAVITY: f64 = 9.806_65;
const FOOT: f64 = 0.3048;
const INCH: f64 = 0.0254;

dimension!(
    /// Base unit: newton.
    ForceDim, Force, unit::newton, "a force", likely 1 0, from 0.01 to 5e4, [
    unit_of("N", &["newton", "newtons"], 1.0),
    unit_of("lbf", &["lb", "lbs", "pound", "pounds"], POUND_FORCE),
    unit_of("kN", &[], 1000.0),
    unit_of("kgf", &[], GRAVITY),
]);
dimension!(
    /// Base unit: kilogram.
    MassDim, Mass, unit::kilogram, "a weight", likely 1 0, from 1e-4 to 1000.0, [
    unit_of("kg", &["kilogram", "kilograms"], 1.0),
    unit_of("lb", &["lbs", "pound", "pounds"], 0.453_592_37),
]);
dimension!(
    /// Mass of a cable per length; base unit: kilogram per metre. A weight per length is read as the mass
    /// that weighs it at standard gravity, so 1 lbf/ft is 1 lb/ft.
    MassPerLengthDim, MassPerLength, unit::kilogram_per_meter, "a weight per length", likely 1 0, from 1e-5 to 100.0, [
    unit_of("kg/m", &[], 1.0),
    unit_of("lb/ft", &["lbf/ft", "lbs/ft"], 0.453_592_37 / FOOT),
    unit_of("lb/1000 ft", &["lb/1000ft", "lbf/1000 ft", "lb/kft", "lbs/1000 ft"], 0.453_592_37 / (1000.0 * FOOT)),
    unit_of("kg/km", &["g/m"], 0.001),
    unit_of("N/m", &[], 1.0 / GRAVITY),
]);
dimension!(
    /// Base unit: square metre.
    AreaDim, Area, unit::square_meter, "an area", likely 0 2, from 1e-9 to 1e6, [
    unit_of("in2", &["in²", "sq in"], INCH * INCH),
    unit_of("ft2", &["ft²", "sq ft"], FOOT * FOOT),
    unit_of("mm2", &["mm²"], 1e-6),
    unit_of("cm2", &["cm²"], 1e-4),
    unit_of("m2", &["m²"], 1.0),
]);
dimension!(
    /// Base unit: cubic metre.
    VolumeDim, Volume, unit::cubic_meter, "a volume", likely 0 1, from 1e-8 to 1.0, [
    unit_of("in3", &["in³", "cu in", "cu. in."], INCH * INCH * INCH),
    unit_of("cm3", &["cm³", "cc", "ml"], 1e-6),
    unit_of("ft3", &["ft³", "cu ft"], FOOT * FOOT * FOOT),
    unit_of("m3", &["m³"], 1.0),
    unit_of("l", &["L", "litre", "litres", "liter", "liters"], 0.001),
]);
dimension!(
    /// Base unit: cubic metre per hour.
    AirFlowDim, AirFlow, unit::cubic_meter_per_hour, "an air flow", likely 1 0, from 1e-3 to 1e4, [
    unit_of("m3/h", &["m³/h"], 1.0),
    unit_of("CFM", &["cfm", "ft3/min", "ft³/min"], FOOT * FOOT * FOOT * 60.0),
    unit_of("l/s", &["L/s"], 3.6),
]);
dimension!(
    /// Base unit: degree Celsius.
    TemperatureDim, Temperature, unit::degree_celsius, "a temperature", likely 1 0, from 0.0 to 200.0, [
    unit_of("°C", &["C", "degC", "deg C", "℃"], 1.0),
    shifted("°F", &["F", "degF", "deg F", "℉"], 5.0 / 9.0, -160.0 / 9.0),
]);

dimension!(
    /// Base unit: kelvin.
    TemperatureRiseDim, TemperatureRise, unit::kelvin, "a rise in temperature", likely 0 0, from 1e-3 to 1000.0, [
    unit_of("K", &["kelvin"], 1.0),
]);

/// Pressure of a cable on the side of a bend; base unit: newton per metre of radius.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ForcePerLengthDim;

impl Dimension for ForcePerLengthDim {
    type Quantity = ForcePerLength;
    const NAME: &'static str = "a force per length";
    const UNITS: &'static [Unit] = &[
        unit_of("N/m", &[], 1.0),
        unit_of("lbf/ft", &["lb/ft", "lbs/ft"], POUND_FORCE / FOOT),
        unit_of("kN/m", &[], 1000.0),
    ];
    const LIKELY: (usize, usize) = (1, 0);
    const LEAST: f64 = 0.01;
    const GREATEST: f64 = 1e8;
    fn quantity(base: f64) -> ForcePerLength {
        Force::new::<unit::newton>(base) / Length::new::<unit::meter>(1.0)
    }
    fn base(quantity: ForcePerLength) -> f64 {
        quantity.value
    }
}
