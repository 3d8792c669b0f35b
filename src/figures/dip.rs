//! How far lamps dip when a subwoofer on their circuit draws its peak.

use super::line::LoopResistance;
use super::{Figure, positive, sound};
use crate::units::{Volts, Watts, figure3};

/// Dip of the voltage at the lamps, in percent of the nominal: `(peak − load) ÷ V × R ÷ V`, with R the loop
/// resistance of the path that both share. The source's own impedance is left out.
#[derive(Debug, Clone, PartialEq)]
pub struct LampDip {
    peak: Watts,
    load: Watts,
    nominal: Volts,
    shared: LoopResistance,
    percent: f64,
}

impl LampDip {
    /// `None` when the peak is below the load, either is negative, the voltage is not above zero, or anything overflows.
    pub fn of(peak: Watts, load: Watts, nominal: Volts, shared: LoopResistance) -> Option<Self> {
        let step = sound(sound(peak.base())? - sound(load.base())?)?;
        let volts = positive(nominal.base())?;
        let percent = sound(step / volts * shared.value() / volts * 100.0)?;
        Some(Self {
            peak,
            load,
            nominal,
            shared,
            percent,
        })
    }
}

impl Figure for LampDip {
    const NAME: &'static str = "lamp-dip";
    const UNIT: &'static str = "%";

    fn value(&self) -> f64 {
        self.percent
    }

    fn working(&self) -> String {
        let (ohms, percent) = (figure3(self.shared.value()), figure3(self.percent));
        let (peak, load, nominal) = (self.peak, self.load, self.nominal);
        let shared = self.shared.working();
        let dimmer = lamp_flux_loss(self.percent)
            .map(|loss| {
                format!(
                    "; a filament lamp gives about {} % less light",
                    figure3(loss)
                )
            })
            .unwrap_or_default();
        format!(
            "({peak} − {load}) ÷ {nominal} × {ohms} Ω ÷ {nominal} = {percent} %, where {shared}; source impedance not counted{dimmer}"
        )
    }
}

/// How much dimmer a filament lamp burns, in percent, when its voltage dips by so many percent: its light goes with
/// the 3.4th power of the voltage (textbook value, from memory). It explains a dip and decides nothing. `None` unless the
/// dip lies between 0 and 100 percent.
pub fn lamp_flux_loss(dip: f64) -> Option<f64> {
    let left = 1.0 - sound(dip).filter(|&dip| dip <= 100.0)? / 100.0;
    sound(100.0 * (1.0 - left.powf(3.4)))
}
