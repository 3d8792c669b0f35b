//! Radii: of the bends of a conduit, and of the cables that are pulled round them.

use super::topology::House;
use crate::findings::Lack;
use crate::plan::{Entry, Pathway, Region, Service, Stock};
use crate::tables::bends::{CableKind, cable_radius, conduit_radius, least_radius};
use crate::units::{Distance, plain};

/// Radius of a conduit's bends to the inside of the curve, where the cable lies under pull.
#[derive(Debug, Clone, Copy)]
pub struct InsideRadius {
    /// To the centre line, and to the inside: the least that it may be.
    pub least: (Distance, Distance),
    /// The most; the same where the plan states the radius. The table has a column for a bender with
    /// a full shoe and one for other means, and a plan does not say which was used.
    pub most: (Distance, Distance),
    pub bore: Distance,
}

/// Least radius that a cable may be bent to.
#[derive(Debug, Clone, Copy)]
pub struct LeastRadius {
    /// At rest.
    pub laid: Distance,
    /// While it is pulled; what a maker states holds for both.
    pub pulled: Distance,
    /// The kind of cable, and its diameter, where the radius is a multiple of it.
    pub by: Option<(CableKind, Distance)>,
}

impl LeastRadius {
    /// How the radius under pull came about.
    pub fn working(&self) -> String {
        let by = self
            .by
            .and_then(|(kind, diameter)| Some((cable_radius(kind)?, diameter)));
        match by {
            Some((times, diameter)) => {
                format!(
                    "{} × {diameter} under pull = {}",
                    plain(times.pulled),
                    self.pulled
                )
            }
            None => format!("{} as its maker says", self.pulled),
        }
    }
}

impl House<'_> {
    /// Radius of a conduit's bends: as stated, else by its trade size (NEC chapter 9 table 2).
    ///
    /// # Errors
    /// Neither radius nor a trade size of the table, or no bore.
    pub fn inside_radius(&self, conduit: &Entry<Pathway>) -> Result<InsideRadius, Lack> {
        let (least, most) = self.centre_radius(conduit)?;
        let bore = self.bore(conduit)?;
        let inside = |radius: Distance| {
            let half = bore.base() / 2.0 / radius.unit().size;
            // A radius of less than half the bore is no bend at all; it is judged as none.
            Distance::new((radius.number() - half).max(0.0), radius.unit().spelling)
                .map(|inside| (radius, inside))
                .ok_or(Lack::Reported)
        };
        Ok(InsideRadius {
            least: inside(least)?,
            most: inside(most)?,
            bore,
        })
    }

    /// Whether what is in a conduit could be pulled round its bends if it had a larger bore. A stated
    /// radius is one to the centre line, so a larger bore leaves less of it inside; where none is
    /// stated a larger size has wider bends.
    pub(super) fn bends_round(&self, index: usize, bore: Distance) -> bool {
        let conduit = &self.plan.pathways[index];
        let bent = conduit
            .all_bends()
            .is_none_or(|mut bends| bends.any(|bend| bend.base() > 0.0));
        let Some(radius) = conduit.radius.value().filter(|_| bent) else {
            return true;
        };
        let inside = radius.base() - bore.base() / 2.0;
        self.loose_in(index).iter().all(|run| {
            let stock = self.want_stock(&self.plan.runs[*run as usize]);
            let need = stock.and_then(|stock| self.least_bend(stock));
            // Where that is not known, it is told as a gap whatever the bore.
            !need.is_ok_and(|need| need.pulled.base() > inside)
        })
    }

    pub(super) fn centre_radius(
        &self,
        conduit: &Entry<Pathway>,
    ) -> Result<(Distance, Distance), Lack> {
        if let Some(radius) = conduit.radius.value() {
            return Ok((**radius, **radius));
        }
        if conduit.radius.is_bad() || conduit.size.is_bad() {
            return Err(Lack::Reported);
        }
        let by_size = conduit.size.value().and_then(|size| {
            Some((
                conduit_radius(size.0, true)?,
                conduit_radius(size.0, false)?,
            ))
        });
        by_size.ok_or_else(|| Lack::absent(format!("radius of {}", conduit.id)))
    }

    /// Least radius of a cable under pull: its maker's, else the multiple of its diameter that is
    /// published for its kind.
    ///
    /// # Errors
    /// The stock states none, and none is published for its kind, or the diameter is missing.
    pub fn least_bend(&self, stock: &Entry<Stock>) -> Result<LeastRadius, Lack> {
        if let Some(radius) = stock.bend_radius.value() {
            return Ok(LeastRadius {
                laid: **radius,
                pulled: **radius,
                by: None,
            });
        }
        if stock.bend_radius.is_bad() {
            return Err(Lack::Reported);
        }
        let service = **stock.service.want("`for`", &stock.id)?;
        let kind = self
            .cable_kind(stock, service)?
            .ok_or_else(|| Lack::absent(format!("bend-radius of {}", stock.id)))?;
        let diameter = stock.diameter.want("diameter", &stock.id)?.larger();
        let radius = |pulled| least_radius(kind, diameter, pulled).ok_or(Lack::Reported);
        Ok(LeastRadius {
            laid: radius(false)?,
            pulled: radius(true)?,
            by: Some((kind, diameter)),
        })
    }

    /// `None` for cables that no multiple is published for.
    fn cable_kind(
        &self,
        stock: &Entry<Stock>,
        service: Service,
    ) -> Result<Option<CableKind>, Lack> {
        Ok(match service {
            Service::Data if stock.shields.is_bad() => return Err(Lack::Reported),
            Service::Data => Some(match stock.shields.value() {
                Some(shields) if shields.0 > 0 => CableKind::ScreenedData,
                // Under pull both ask the same.
                _ => CableKind::Data,
            }),
            Service::Coax => Some(CableKind::Coax),
            Service::Fibre => Some(CableKind::Fibre),
            Service::Power if self.region()? == Region::Us => {
                if stock.rating.is_bad() {
                    return Err(Lack::Reported);
                }
                let mut ratings = stock
                    .rating
                    .value()
                    .into_iter()
                    .flat_map(|list| list.values());
                let sheathed =
                    |text: &str| ["NM", "UF"].iter().any(|start| text.starts_with(start));
                ratings
                    .any(|text| sheathed(text))
                    .then_some(CableKind::Building)
            }
            _ => None,
        })
    }
}
