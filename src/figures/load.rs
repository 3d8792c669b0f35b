//! What a circuit's loads draw.

use super::phases::Phases;
use super::text::sum;
use super::{Figure, positive, sound};
use crate::units::{Current, Volts, Watts, figure3, unit};

/// One load of a circuit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Load {
    pub power: Watts,
    /// Nominal voltage of the circuit.
    pub volts: Volts,
    pub phases: Phases,
    /// The part of it that this circuit carries, 1 for all: a load fed twice is split.
    pub share: f64,
}

impl Load {
    fn amperes(&self) -> Option<f64> {
        let share = sound(self.share).filter(|&share| share <= 1.0)?;
        let volts = positive(self.volts.base() * self.phases.root())?;
        sound(sound(self.power.base())? * share / volts)
    }

    fn text(&self) -> String {
        let whole = match self.phases {
            Phases::One => format!("{} ÷ {}", self.power, self.volts),
            Phases::Three => format!("{} ÷ (√3 × {})", self.power, self.volts),
        };
        if self.share < 1.0 {
            return format!("{} % of {whole}", figure3(self.share * 100.0));
        }
        whole
    }
}

fn total(loads: &[Load]) -> Option<f64> {
    let mut amperes = 0.0;
    for load in loads {
        amperes += load.amperes()?;
    }
    sound(amperes)
}

fn working(loads: &[Load], amperes: f64) -> String {
    if loads.is_empty() {
        return "no load = 0 A".into();
    }
    let terms = sum(loads, |load| load.amperes().unwrap_or(0.0), Load::text, "A");
    format!("{terms} = {} A", figure3(amperes))
}

macro_rules! load_figure {
    ($(#[$doc:meta])* $figure:ident, $name:literal) => {
        $(#[$doc])*
        #[derive(Debug, Clone, PartialEq)]
        pub struct $figure {
            loads: Vec<Load>,
            amperes: f64,
        }

        impl $figure {
            /// `None` when a voltage is not above zero, a power is negative, a share lies outside
            /// 0 to 1, or anything overflows.
            pub fn of(loads: Vec<Load>) -> Option<Self> {
                let amperes = total(&loads)?;
                Some(Self { loads, amperes })
            }

            pub fn current(&self) -> Current {
                Current::new::<unit::ampere>(self.amperes)
            }
        }

        impl Figure for $figure {
            const NAME: &'static str = $name;
            const UNIT: &'static str = "A";

            fn value(&self) -> f64 {
                self.amperes
            }

            fn working(&self) -> String {
                working(&self.loads, self.amperes)
            }
        }
    };
}

load_figure!(
    /// Current of all loads of a circuit: `Σ P ÷ V`, power factor 1; with three phases `Σ P ÷ (√3 × V)`.
    BreakerLoad,
    "breaker-load"
);
load_figure!(
    /// Current of those loads of a circuit that run three hours or more (NEC article 100): `Σ P ÷ V`.
    ContinuousLoad,
    "continuous-load"
);
