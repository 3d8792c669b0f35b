//! Figures of data channels and of what is fed over them.

use super::line::SIGNAL_CELSIUS;
use super::quantity::Collector;
use crate::plan::Service;

impl Collector<'_, '_> {
    pub(super) fn data(&mut self) {
        let house = self.house;
        for channel in house.data_channels() {
            let on = || {
                let runs = channel.runs.iter();
                runs.map(|run| house.plan.runs[*run].id.clone())
                    .collect::<Vec<_>>()
            };
            let estimated = self.estimated(channel.runs);
            // A channel of one run has that run's own.
            if channel.runs.len() > 1 {
                self.add(on(), estimated, house.data_length(&channel));
                let resistance = house.loop_resistance(channel.runs, Service::Data, SIGNAL_CELSIUS);
                self.add(on(), estimated, resistance);
            }
            let loss = match house.category(&channel) {
                Err((_, lack)) => Err(lack),
                Ok(category) => house
                    .loss_bounds(&channel, category)
                    .and_then(|bounds| house.insertion_loss(bounds.best)),
            };
            self.add(on(), estimated, loss);
        }
    }
}
