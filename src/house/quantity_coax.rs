//! Figures of coaxial channels.

use super::quantity::Collector;
use crate::findings::Id;
use crate::plan::Service;

impl Collector<'_, '_> {
    /// The loss of every coaxial channel that serves something.
    pub(super) fn coax(&mut self) {
        let house = self.house;
        for line in house.lines_of(Service::Coax) {
            let branches = house.branches(line);
            let joined = house.one_source(line);
            for channel in line.channels() {
                if house.served_by(&channel).is_none() {
                    continue;
                }
                let ids = |runs: &[usize]| -> Vec<Id> {
                    let ids = runs.iter().map(|run| house.plan.runs[*run].id.clone());
                    ids.collect()
                };
                let way = joined.clone().and_then(|()| {
                    let way = house.coax_way(&channel, &branches);
                    way.map_err(|(_, lack)| lack)
                });
                match way {
                    Ok(way) => {
                        let estimated = self.estimated(&way.runs);
                        self.add(ids(&way.runs), estimated, Ok(way.loss));
                    }
                    Err(lack) => self.lacks("coax-loss", ids(&channel.runs), lack),
                }
            }
        }
    }
}
