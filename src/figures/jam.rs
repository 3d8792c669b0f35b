//! Whether three cables may wedge in a bend.

use super::{Figure, positive};
use crate::tables::pulling::{jam_oval, jam_range};
use crate::units::{Distance, figure3};

/// Inside diameter of a conduit over the diameter of its cables, `D / d`: three cables of one diameter may wedge
/// between 2.8 and 3.2 (NEC chapter 9 table 1, note). Engineering texts take 1.05 D / d, as a bend is oval.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct JamRatio {
    bore: Distance,
    cable: Distance,
    ratio: f64,
}

impl JamRatio {
    /// `None` when a diameter is not above zero, or anything overflows.
    pub fn of(bore: Distance, cable: Distance) -> Option<Self> {
        let ratio = positive(positive(bore.base())? / positive(cable.base())?)?;
        Some(Self { bore, cable, ratio })
    }

    /// `1.05 D / d` (IEEE 576, IEEE 1185, from memory).
    pub fn in_a_bend(&self) -> f64 {
        self.ratio * jam_oval()
    }

    /// Whether either form lies where three equal cables may wedge.
    pub fn may_jam(&self) -> bool {
        let (least, greatest) = jam_range();
        let inside = |ratio: f64| (least..=greatest).contains(&ratio);
        inside(self.ratio) || inside(self.in_a_bend())
    }
}

impl Figure for JamRatio {
    const NAME: &'static str = "jam-ratio";
    const UNIT: &'static str = "1";

    fn value(&self) -> f64 {
        self.ratio
    }

    fn working(&self) -> String {
        let (ratio, bend) = (figure3(self.ratio), figure3(self.in_a_bend()));
        let factor = figure3(jam_oval());
        format!(
            "{} ÷ {} = {ratio}, {factor} × that in a bend = {bend}",
            self.bore, self.cable
        )
    }
}
