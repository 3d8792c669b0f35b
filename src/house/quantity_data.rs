//! Figures of data channels and of what is fed over them.

use super::data::DATA_CELSIUS;
use super::line::SIGNAL_CELSIUS;
use super::quantity::Collector;
use crate::figures::Figure;
use crate::figures::poe::{PoePower, PoeVoltage};
use crate::findings::Lack;
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

    /// What each device gets over its data cable.
    pub(super) fn fed(&mut self) {
        let house = self.house;
        for device in house.poe_devices() {
            let endpoint = &house.plan.endpoints[device];
            let ways = match house.poe_ways(device) {
                Ok(ways) => ways,
                Err(lack) => {
                    self.lacks(PoePower::NAME, vec![endpoint.id.clone()], lack);
                    continue;
                }
            };
            for way in ways {
                if let Some(strongest) = &way.strongest {
                    self.lacks(PoePower::NAME, vec![endpoint.id.clone()], strongest.doubt());
                    continue;
                }
                let runs = way.channel.runs.iter();
                let ids = runs.map(|run| house.plan.runs[*run].id.clone());
                let on: Vec<_> = std::iter::once(endpoint.id.clone()).chain(ids).collect();
                let estimated = self.estimated(way.channel.runs);
                let line = way.line(house, DATA_CELSIUS).map(|(line, _)| line);
                let power = line.clone().and_then(|line| {
                    PoePower::of(way.volts(), way.power(), line).ok_or(Lack::Reported)
                });
                let volts = line.and_then(|line| {
                    let load = endpoint.load.want("load", &endpoint.id)?.value.0;
                    let collapsed =
                        || Lack::absent(format!("a line that carries the load of {}", endpoint.id));
                    PoeVoltage::of(way.volts(), load, line).ok_or_else(collapsed)
                });
                self.add(on.clone(), estimated, power);
                self.add(on, estimated, volts);
            }
        }
    }
}
