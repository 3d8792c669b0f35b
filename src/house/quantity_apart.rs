//! Figures of data cabling beside power cabling.

use super::quantity::Collector;
use crate::plan::{Region, Service};

impl Collector<'_, '_> {
    /// The least separation of each run of data or coax from each power run that it is stated to
    /// lie beside, where EN 50174-2 holds.
    pub(super) fn separations(&mut self) {
        let house = self.house;
        if !matches!(house.region(), Ok(Region::Gb | Region::Eu)) {
            return;
        }
        let nearby = house.nearby(|_| false);
        let mut circuits = None;
        for service in [Service::Data, Service::Coax] {
            for signal in house.runs_of(service) {
                let mut before = None;
                for entry in nearby.of(signal) {
                    // Several stretches beside one run are one pair.
                    if before.replace(entry.power) == Some(entry.power) {
                        continue;
                    }
                    let power = entry.power as usize;
                    let circuits = circuits.get_or_insert_with(|| house.circuits_by_run());
                    let found = house
                        .want_service(power)
                        .and_then(|_| house.apart(signal, power, circuits));
                    let figure = found.and_then(|apart| match apart.lack {
                        None => Ok(apart.least),
                        // What is missing may make no difference.
                        Some(_) if apart.most == Some(apart.least) => Ok(apart.least),
                        Some((_, lack)) => Err(lack),
                    });
                    let on = [signal, power].map(|run| house.plan.runs[run].id.clone());
                    self.add(on.to_vec(), false, figure);
                }
            }
        }
    }
}
