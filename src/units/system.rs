//! Lengths in one system of units: what stands side by side in a sentence can be compared at sight.

use super::{Distance, Length, unit};

impl Distance {
    /// Whether it is written in feet, inches or yards.
    pub fn is_us(self) -> bool {
        matches!(self.unit().spelling, "ft" | "in" | "yd")
    }

    /// So many metres, to three figures in this length's unit: `295 ft`.
    pub fn show_metres(self, metres: f64) -> String {
        self.same_unit(Length::new::<unit::meter>(metres))
            .rounded_words()
    }

    /// A limit as it stands beside a length that was found: as it is where both are of one system,
    /// else in the other's unit, rounded down to a hundredth, so that what is over the limit is
    /// also over the number shown.
    pub fn beside(self, found: Self) -> Self {
        if self.is_us() == found.is_us() {
            return self;
        }
        found.same_unit(self.quantity()).down_to_hundredths()
    }

    /// The same for a part of a sum: its nearest hundredth.
    pub fn summed_in(self, sum: Self) -> Self {
        if self.is_us() == sum.is_us() {
            return self;
        }
        sum.same_unit(self.quantity()).to_hundredths()
    }
}
