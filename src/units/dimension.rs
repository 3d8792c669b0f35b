//! The dimensions that a plan's quantities have, each with the units it may be written in.

use super::{
    Angle, CapacitancePerLength, Current, DataRate, Frequency, Length, Power, Ratio, Resistance,
    Time, Voltage, unit,
};

/// One unit: the spelling we print, other spellings we accept, and its size in the base unit.
#[derive(Debug)]
pub struct Unit {
    pub spelling: &'static str,
    pub also: &'static [&'static str],
    /// How many base units of the dimension one of this unit is.
    pub size: f64,
    /// Where this unit's nought stands, in base units: 0 but for temperatures and levels.
    pub nought: f64,
}

pub(super) const fn unit_of(
    spelling: &'static str,
    also: &'static [&'static str],
    size: f64,
) -> Unit {
    shifted(spelling, also, size, 0.0)
}

/// A unit whose nought is not the base unit's.
pub(super) const fn shifted(
    spelling: &'static str,
    also: &'static [&'static str],
    size: f64,
    nought: f64,
) -> Unit {
    Unit {
        spelling,
        also,
        size,
        nought,
    }
}

/// A kind of quantity that a plan can state.
pub trait Dimension: Copy + Clone + std::fmt::Debug + PartialEq + 'static {
    /// The typed quantity for physics.
    type Quantity: Copy;
    /// What it is called in messages: "a length".
    const NAME: &'static str;
    const UNITS: &'static [Unit];
    /// Indices into `UNITS` suggested for a bare number: in the us and ca, and elsewhere.
    const LIKELY: (usize, usize);
    /// The least magnitude but zero, in base units, that somebody could mean, and the greatest that a
    /// house could hold. Beyond them a value is a slip of the pen, and no physics is tried on it (common
    /// sense, no source, where none is named).
    const LEAST: f64;
    const GREATEST: f64;
    /// From base units to the typed quantity.
    fn quantity(base: f64) -> Self::Quantity;
    /// From the typed quantity to base units.
    fn base(quantity: Self::Quantity) -> f64;
}

macro_rules! dimension {
    ($(#[$doc:meta])* $marker:ident, $quantity:ty, $base:ty, $name:literal, likely $us:literal $metric:literal,
     from $least:literal to $greatest:literal, [$($unit:expr),+ $(,)?]) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq)]
        pub struct $marker;
        impl Dimension for $marker {
            type Quantity = $quantity;
            const NAME: &'static str = $name;
            const UNITS: &'static [Unit] = &[$($unit),+];
            const LIKELY: (usize, usize) = ($us, $metric);
            const LEAST: f64 = $least;
            const GREATEST: f64 = $greatest;
            fn quantity(base: f64) -> $quantity {
                <$quantity>::new::<$base>(base)
            }
            fn base(quantity: $quantity) -> f64 {
                quantity.get::<$base>()
            }
        }
    };
}
pub(super) use dimension;

dimension!(
    /// Base unit: metre. Foot and inch are the international ones (0.3048 m, 25.4 mm, exact).
    LengthDim, Length, unit::meter, "a length", likely 0 2, from 1e-5 to 10_000.0, [
    unit_of("ft", &["foot", "feet", "'"], 0.3048),
    unit_of("in", &["inch", "inches", "\""], 0.0254),
    unit_of("m", &["metre", "metres", "meter", "meters"], 1.0),
    unit_of("mm", &["millimetre", "millimetres"], 0.001),
    unit_of("cm", &["centimetre", "centimetres"], 0.01),
    unit_of("yd", &["yard", "yards"], 0.9144),
]);
dimension!(
    /// Base unit: ampere. No standard breaker is larger than 6000 A (NEC 240.6(A), from memory).
    CurrentDim, Current, unit::ampere, "a current", likely 0 0, from 1e-6 to 6000.0, [
    unit_of("A", &["amp", "amps", "a"], 1.0),
    unit_of("mA", &[], 0.001),
]);
dimension!(
    /// Base unit: volt. Low voltage ends at 1000 V (IEC 60038, from memory).
    VoltageDim, Voltage, unit::volt, "a voltage", likely 0 0, from 1e-6 to 1000.0, [
    unit_of("V", &["volt", "volts", "v"], 1.0),
    unit_of("mV", &[], 0.001),
    unit_of("kV", &[], 1000.0),
]);
dimension!(
    /// Base unit: watt. A house's whole service is 200 A at 240 V, 48 kW (common practice, no source).
    PowerDim, Power, unit::watt, "a power", likely 0 0, from 1e-6 to 50_000.0, [
    unit_of("W", &["watt", "watts", "w"], 1.0),
    unit_of("kW", &["kw"], 1000.0),
    unit_of("mW", &[], 0.001),
]);
dimension!(
    /// Base unit: ohm. Its sign is the Greek letter (U+03A9) or the old sign of its own (U+2126).
    ResistanceDim, Resistance, unit::ohm, "a resistance", likely 0 0, from 1e-4 to 1e6, [
    unit_of("ohm", &["ohms", "\u{3a9}", "\u{2126}", "Ohm"], 1.0),
    unit_of("kohm", &["kilohm", "k\u{3a9}", "k\u{2126}"], 1000.0),
    unit_of("mohm", &["m\u{3a9}", "m\u{2126}"], 0.001),
]);
dimension!(
    /// Base unit: degree.
    AngleDim, Angle, unit::degree, "an angle", likely 0 0, from 0.01 to 36_000.0, [
    unit_of("deg", &["degree", "degrees", "°"], 1.0),
]);
dimension!(
    /// Base unit: 1.
    RatioDim, Ratio, unit::ratio, "a share", likely 0 0, from 1e-5 to 1000.0, [
    unit_of("%", &["percent", "per cent"], 0.01),
]);
dimension!(
    /// Base unit: gigabit per second.
    DataRateDim, DataRate, unit::gigabit_per_second, "a data rate", likely 0 0, from 1e-9 to 1e6, [
    unit_of("Gbit/s", &["Gb/s", "Gbps"], 1.0),
    unit_of("Mbit/s", &["Mb/s", "Mbps"], 0.001),
    unit_of("kbit/s", &["kb/s", "kbps"], 0.000_001),
]);
dimension!(
    /// Base unit: hour.
    HoursDim, Time, unit::hour, "a time", likely 0 0, from 0.001 to 100_000.0, [
    unit_of("h", &["hour", "hours", "hr"], 1.0),
    unit_of("min", &["minute", "minutes"], 1.0 / 60.0),
]);
dimension!(
    /// Base unit: hertz.
    FrequencyDim, Frequency, unit::hertz, "a frequency", likely 2 2, from 0.01 to 1e12, [
    unit_of("Hz", &["hertz", "c/s"], 1.0),
    unit_of("kHz", &[], 1000.0),
    unit_of("MHz", &[], 1e6),
    unit_of("GHz", &[], 1e9),
]);
dimension!(
    /// Apparent power; base unit: volt-ampere.
    ApparentPowerDim, Power, unit::watt, "an apparent power", likely 0 0, from 1e-6 to 10_000_000.0, [
    unit_of("VA", &[], 1.0),
    unit_of("kVA", &[], 1000.0),
]);

/// Base unit: farad per metre.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CapacitancePerLengthDim;

impl Dimension for CapacitancePerLengthDim {
    type Quantity = CapacitancePerLength;
    const NAME: &'static str = "a capacitance per length";
    const UNITS: &'static [Unit] = &[
        unit_of("pF/m", &[], 1e-12),
        unit_of("pF/ft", &[], 1e-12 / 0.3048),
        unit_of("nF/km", &[], 1e-12),
    ];
    const LIKELY: (usize, usize) = (1, 0);
    const LEAST: f64 = 1e-14;
    const GREATEST: f64 = 1e-8;
    fn quantity(base: f64) -> CapacitancePerLength {
        use uom::si::{capacitance::farad, length::meter};
        super::Capacitance::new::<farad>(base) / Length::new::<meter>(1.0)
    }
    fn base(quantity: CapacitancePerLength) -> f64 {
        quantity.value
    }
}
