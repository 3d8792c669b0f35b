//! Volume that a box needs for what is in it.

use super::text::sum;
use super::{Figure, sound};
use crate::tables::boxes::{allowances, conductor_volume};
use crate::tables::edition::Edition;
use crate::units::{Space, Volume, WireSize, figure3, unit};

/// Cubic centimetre in one cubic inch (exact).
const CUBIC_INCH: f64 = 16.387_064;

/// What is in a box.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Content {
    /// Insulated conductors that enter and end, or pass through, by size. Those that never leave the box do not count.
    pub conductors: Vec<(WireSize, u32)>,
    /// Earthing conductors by size.
    pub earths: Vec<(WireSize, u32)>,
    /// Devices, each by the largest conductor connected to it.
    pub yokes: Vec<WireSize>,
    /// One or more clamps inside the box.
    pub clamps: bool,
}

/// Least volume of a box, in cm3 (NEC 314.16(B), from memory): each conductor by its size, each yoke as two, all clamps
/// as one, the earthing conductors as one with a quarter for each beyond four from the 2020 edition on.
#[derive(Debug, Clone, PartialEq)]
pub struct BoxFill {
    /// Number of allowances, cubic inch of each, what for.
    terms: Vec<(f64, f64, &'static str)>,
    cubic_inches: f64,
}

impl BoxFill {
    /// `None` when a size has no volume in the table, or anything overflows.
    pub fn of(content: &Content, edition: Edition) -> Option<Self> {
        let allow = allowances(edition)?;
        let mut terms = Vec::new();
        for &(size, count) in &content.conductors {
            terms.push((f64::from(count), conductor_volume(size)?, "conductors"));
        }
        let largest = |sizes: &mut dyn Iterator<Item = WireSize>| {
            let mut greatest: Option<f64> = None;
            for size in sizes {
                let volume = conductor_volume(size)?;
                greatest = Some(greatest.map_or(volume, |known| known.max(volume)));
            }
            Some(greatest)
        };
        let all = content.conductors.iter().chain(&content.earths);
        if let Some(each) = largest(&mut all.map(|kind| kind.0))?
            && content.clamps
        {
            terms.push((allow.clamps, each, "clamps"));
        }
        for &size in &content.yokes {
            terms.push((allow.yoke, conductor_volume(size)?, "device"));
        }
        let earths: u32 = content
            .earths
            .iter()
            .fold(0, |sum, kind| sum.saturating_add(kind.1));
        let each = largest(&mut content.earths.iter().map(|kind| kind.0))?;
        if let Some(each) = each.filter(|_| earths > 0) {
            let more = f64::from(earths.saturating_sub(allow.earths_free));
            terms.push((allow.earths + allow.earth_more * more, each, "earths"));
        }
        let cubic_inches = sound(terms.iter().map(|term| term.0 * term.1).sum())?;
        Some(Self {
            terms,
            cubic_inches,
        })
    }

    pub fn cubic_inches(&self) -> f64 {
        self.cubic_inches
    }

    pub fn volume(&self) -> Volume {
        Volume::new::<unit::cubic_meter>(self.value() * 1e-6)
    }

    /// Whether a box holds it.
    pub fn fits(&self, space: Space) -> bool {
        // Inches and centimetres both come off whole.
        self.value() * 1e-6 <= space.base() * (1.0 + 1e-9)
    }
}

impl Figure for BoxFill {
    const NAME: &'static str = "box-fill";
    const UNIT: &'static str = "cm3";

    fn value(&self) -> f64 {
        self.cubic_inches * CUBIC_INCH
    }

    fn working(&self) -> String {
        let size = |term: &(f64, f64, &str)| term.0 * term.1;
        let text = |term: &(f64, f64, &str)| {
            format!("{} × {} in3 ({})", figure3(term.0), figure3(term.1), term.2)
        };
        let terms = match self.terms.as_slice() {
            [] => "nothing in the box".into(),
            terms => sum(terms, size, text, "in3"),
        };
        let (inches, centimetres) = (figure3(self.cubic_inches), figure3(self.value()));
        format!("{terms} = {inches} in3 ({centimetres} cm3)")
    }
}
