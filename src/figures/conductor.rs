//! Resistance of one conductor per length, from the tables or from geometry, at a temperature.

use super::positive;
use crate::tables::conductors::printed;
pub use crate::tables::conductors::{Material, Stranding};
use crate::units::{Distance, ResistancePerLength, WireSize, unit};

/// Annealed copper at 20 °C, Ω·mm²/m (IACS; NBS Handbook 100).
const COPPER: f64 = 0.017_241;
/// Aluminium of 61 % IACS at 20 °C, Ω·mm²/m (from memory).
const ALUMINIUM: f64 = 0.028_264;
/// Copper-clad aluminium, ASTM B566 class 10A, at 20 °C, Ω·mm²/m (from memory): 1.59 × copper.
const COPPER_CLAD: f64 = 0.027_43;

/// Temperature coefficients per kelvin, each for the temperature that it is referred to.
/// Copper at 20 °C: NBS Handbook 100, IEC 60028.
const COPPER_AT_20: f64 = 0.003_93;
/// Copper at 75 °C: NEC chapter 9 table 8, note.
const COPPER_AT_75: f64 = 0.003_23;
/// Aluminium at 20 °C: from memory.
const ALUMINIUM_AT_20: f64 = 0.004_03;
/// Aluminium at 75 °C: NEC chapter 9 table 8, note, from memory.
const ALUMINIUM_AT_75: f64 = 0.003_30;

/// Where a resistance comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// NEC chapter 9 table 8, moved from 75 °C.
    Table8 { memory: bool },
    /// IEC 60228, moved from 20 °C.
    Iec60228 { memory: bool },
    /// ASTM B258 diameter or nominal area, and the material's resistivity at 20 °C.
    Geometry,
    /// Copper of the same size and stranding, times the ratio of the resistivities.
    CopperClad,
    /// Stated by whoever asks.
    Stated,
}

impl Origin {
    /// In words, for an authority or a working.
    pub fn words(self) -> &'static str {
        match self {
            Self::Table8 { memory: false } => "NEC chapter 9 table 8",
            Self::Table8 { memory: true } => "NEC chapter 9 table 8, from memory",
            Self::Iec60228 { memory: false } => "IEC 60228",
            Self::Iec60228 { memory: true } => "IEC 60228, from memory",
            Self::Geometry => "cross-section and resistivity",
            Self::CopperClad => "1.59 × copper of the same size (ASTM B566, from memory)",
            Self::Stated => "as stated",
        }
    }
}

/// Resistance per length of one conductor at a temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OneWay {
    ohm_per_metre: f64,
    celsius: f64,
    origin: Origin,
}

impl OneWay {
    /// A resistance known from elsewhere: a data sheet, a measurement. `None` unless above zero.
    pub fn stated(per_length: ResistancePerLength, celsius: f64) -> Option<Self> {
        Self::new(per_length.value, celsius, Origin::Stated)
    }

    fn new(ohm_per_metre: f64, celsius: f64, origin: Origin) -> Option<Self> {
        Some(Self {
            ohm_per_metre: positive(ohm_per_metre)?,
            celsius: celsius.is_finite().then_some(celsius)?,
            origin,
        })
    }

    pub fn ohm_per_metre(self) -> f64 {
        self.ohm_per_metre
    }

    /// Temperature of the conductor, °C.
    pub fn celsius(self) -> f64 {
        self.celsius
    }

    pub fn origin(self) -> Origin {
        self.origin
    }

    /// Out and back over a length: `2 × L × r`, in ohm.
    pub(super) fn loop_ohms(self, length: Distance) -> Option<f64> {
        super::sound(2.0 * super::sound(length.base())? * self.ohm_per_metre)
    }
}

/// Resistance of one conductor per length at `celsius`.
///
/// AWG: NEC chapter 9 table 8, moved from 75 °C by `1 + α (t − 75)`. Metric copper: IEC 60228,
/// moved from 20 °C. What the tables lack: [`from_geometry`]. Copper-clad aluminium: copper of
/// the same size and stranding × 1.59.
///
/// `None` for a temperature at which a conductor would have no resistance, or that is no number.
pub fn one_way(
    size: WireSize,
    material: Material,
    stranding: Stranding,
    celsius: f64,
) -> Option<OneWay> {
    if material == Material::CopperCladAluminium {
        let copper = one_way(size, Material::Copper, stranding, celsius)?;
        let clad = copper.ohm_per_metre * COPPER_CLAD / COPPER;
        return OneWay::new(clad, celsius, Origin::CopperClad);
    }
    let Some(row) = printed(size, material, stranding) else {
        return from_geometry(size, material, celsius);
    };
    let (origin, coefficient) = match (size, material) {
        (WireSize::Metric(_), _) => (Origin::Iec60228 { memory: row.memory }, COPPER_AT_20),
        (_, Material::Aluminium) => (Origin::Table8 { memory: row.memory }, ALUMINIUM_AT_75),
        _ => (Origin::Table8 { memory: row.memory }, COPPER_AT_75),
    };
    let warmth = 1.0 + coefficient * (celsius - row.celsius);
    OneWay::new(row.ohm_per_metre * warmth, celsius, origin)
}

/// Resistance of one conductor per length from its cross-section (ASTM B258 for AWG, the nominal
/// area for metric) and the resistivity at 20 °C. Takes no account of the lay of strands.
pub fn from_geometry(size: WireSize, material: Material, celsius: f64) -> Option<OneWay> {
    let (resistivity, coefficient) = match material {
        Material::Copper => (COPPER, COPPER_AT_20),
        Material::Aluminium => (ALUMINIUM, ALUMINIUM_AT_20),
        Material::CopperCladAluminium => (COPPER_CLAD, COPPER_AT_20),
    };
    let area = size.area().get::<unit::square_millimeter>();
    let warmth = 1.0 + coefficient * (celsius - 20.0);
    OneWay::new(
        resistivity / positive(area)? * warmth,
        celsius,
        Origin::Geometry,
    )
}
