//! Figures of conduits.

use super::quantity::{Collector, Quantity};
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
        }
    }
}
