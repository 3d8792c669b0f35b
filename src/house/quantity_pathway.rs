//! Figures of conduits.

use super::quantity::{Collector, Quantity};
use crate::figures::Figure;
use crate::figures::jam::JamRatio;
use crate::figures::tension::{PullTension, SidewallPressure};
use crate::units::plain;

impl Collector<'_, '_> {
    pub(super) fn conduits(&mut self) {
        let house = self.house;
        for (index, conduit) in house.conduits() {
            let on = || vec![conduit.id.clone()];
            if !house.runs_in(index).is_empty() {
                let fill = house
                    .fill(index)
                    .and_then(|(fill, _, lack)| lack.map_or(Ok(fill), Err));
                self.add(on(), false, fill);
            }
            match house.bend_total(conduit) {
                Ok(degrees) => {
                    let bends = conduit.all_bends().into_iter().flatten();
                    let terms: Vec<_> = bends.map(|bend| plain(bend.base())).collect();
                    self.quantities.push(Quantity {
                        figure: "bend-total",
                        on: on(),
                        value: degrees,
                        unit: "deg",
                        working: format!(
                            "{} = {} deg",
                            if terms.is_empty() {
                                "no bend".into()
                            } else {
                                terms.join(" + ")
                            },
                            plain(degrees)
                        ),
                        estimated: false,
                    });
                }
                Err(lack) => self.lacks("bend-total", on(), lack),
            }
            let runs = house.loose_in(index);
            match house.three_alike(&runs) {
                Ok(None) => {}
                Ok(Some(stock)) => {
                    if let Some(ratio) = house.jam_ratio(index, stock).transpose() {
                        self.add(on(), false, ratio);
                    }
                }
                Err(lack) => self.lacks(JamRatio::NAME, on(), lack),
            }
            if !runs.is_empty() {
                self.pulls(index, &runs);
            }
        }
    }

    /// Tension and pressure of a pull in both directions, each on the conduit, then the end that it is
    /// fed in at and the end that it is pulled at.
    fn pulls(&mut self, index: usize, runs: &[u32]) {
        let house = self.house;
        let conduit = &house.plan.pathways[index];
        let ways = match house.ways(index, runs) {
            Ok(ways) => ways,
            Err(lack) => {
                let on = vec![conduit.id.clone()];
                return self.lacks(PullTension::NAME, on, lack);
            }
        };
        for way in &ways {
            let ends = house.feed_and_pull(conduit, way.reversed);
            let on: Vec<_> = std::iter::once(&conduit.id)
                .chain(ends.into_iter().flatten())
                .cloned()
                .collect();
            let course = match (ends, way.reversed) {
                ([Some(feed), Some(pull)], _) => format!("in at {feed}, pulled at {pull}"),
                (_, false) => "in at the start of its route".into(),
                (_, true) => "in at the end of its route".into(),
            };
            self.quantities.push(Quantity {
                figure: PullTension::NAME,
                on: on.clone(),
                value: way.tension.value(),
                unit: PullTension::UNIT,
                working: format!("{course}: {}{}", way.tension.working(), way.taken()),
                estimated: false,
            });
            match house.pressure(conduit, way, false) {
                Ok(pressure) => self.quantities.push(Quantity {
                    figure: SidewallPressure::NAME,
                    on,
                    value: pressure.value(),
                    unit: SidewallPressure::UNIT,
                    working: format!("{course}: {}", pressure.working()),
                    estimated: false,
                }),
                Err(lack) => self.lacks(SidewallPressure::NAME, on, lack),
            }
        }
    }
}
