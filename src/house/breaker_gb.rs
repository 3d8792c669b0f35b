//! What breaker a power run allows in gb.

use super::breaker::{Allowed, Basis, Place, Wiring};
use crate::findings::Lack;
use crate::plan::{Entry, Run, Stock};
use crate::tables::ampacity::{Method, flat_cable, most_generous};
use crate::units::{WireSize, unit};

impl Wiring<'_, '_> {
    /// BS 7671 433.1.1 by table 4D5, and 433.1.204 around a ring.
    pub(super) fn british(
        &self,
        size: WireSize,
        area: f64,
        run: &Entry<Run>,
        stock: &Entry<Stock>,
        place: Place,
    ) -> Result<Allowed, Lack> {
        let none = || {
            Lack::absent(format!(
                "a row of BS 7671 table 4D5 for {size} ({})",
                stock.id
            ))
        };
        let stated = run
            .method
            .value()
            .and_then(|method| Method::named(method.word()));
        let (generous, most) = match stated {
            Some(method) => (
                method,
                flat_cable(size, method).map(|printed| printed.amperes),
            ),
            None => match most_generous(size) {
                Some((method, printed)) => (method, Some(printed.amperes)),
                None => (Method::C, None),
            },
        };
        let Some(most) = most else {
            let smallest = most_generous(WireSize::Metric(1.0)).map(|(_, printed)| printed.amperes);
            return match smallest {
                Some(most) if area < 1.0 => Ok(Allowed {
                    least: 0.0,
                    most,
                    copper: None,
                    basis: Basis::BelowTable,
                }),
                _ => Err(none()),
            };
        };
        let all = Method::ALL
            .into_iter()
            .filter_map(|method| flat_cable(size, method));
        let least = match stated {
            Some(_) => most,
            None => all.map(|printed| printed.amperes).fold(most, f64::min),
        };
        let basis = Basis::Method {
            method: generous,
            amperes: most,
            assumed: stated.is_none(),
        };
        let in_ring = |carries: f64| match self.ring_terms {
            Some(terms)
                if area >= square_millimetres(terms.least_conductor)
                    && carries >= terms.carries =>
            {
                carries.max(terms.breaker)
            }
            _ => carries,
        };
        Ok(match place {
            Place::Tree => Allowed {
                least,
                most,
                copper: None,
                basis,
            },
            Place::Ring => {
                let most_in_ring = in_ring(most);
                let basis = if most_in_ring > most {
                    Basis::Ring
                } else {
                    basis
                };
                Allowed {
                    least: in_ring(least),
                    most: most_in_ring,
                    copper: None,
                    basis,
                }
            }
            // A spur to one point is as good as the ring; beyond that a fuse may protect it, which
            // a plan cannot say.
            Place::ShortSpur if in_ring(most) > most => Allowed {
                least: in_ring(least),
                most: f64::INFINITY,
                copper: None,
                basis: if least == most {
                    Basis::Spur
                } else {
                    Basis::Ring
                },
            },
            Place::ShortSpur | Place::LongSpur => Allowed {
                least,
                most: f64::INFINITY,
                copper: None,
                basis: Basis::Spur,
            },
        })
    }
}

fn square_millimetres(size: WireSize) -> f64 {
    size.area().get::<unit::square_millimeter>()
}
