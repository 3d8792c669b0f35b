//! Connectors that have to pass a conduit.

use super::topology::House;
use crate::figures::Figure;
use crate::figures::head::HeadBore;
use crate::findings::Lack;
use crate::plan::{Entry, Head, Pathway};
use crate::units::{Degrees, Distance};

/// Where in a conduit a head asks for the most room.
#[derive(Debug, Clone, Copy)]
pub struct HeadPassage {
    pub needs: HeadBore,
    pub bore: Distance,
    /// The greatest bend and its radius, if a bend decides.
    pub bend: Option<(Distance, Degrees)>,
}

impl HeadPassage {
    /// Whether the head passes, but for rounding.
    pub fn passes(&self) -> bool {
        self.needs.value() <= self.bore.base() * 1000.0 * (1.0 + 1e-9)
    }
}

impl House<'_> {
    /// What bore a head needs in a conduit, in its straights or in its greatest bend. Where a
    /// bend's radius is not stated it is one that NEC chapter 9 table 2 allows at the least.
    ///
    /// # Errors
    /// The bore, the bends or their radius is missing, and without it nobody knows.
    pub fn head_passage(&self, head: &Head, conduit: &Entry<Pathway>) -> Result<HeadPassage, Lack> {
        self.head_passage_in(head, conduit, self.bore(conduit)?)
    }

    /// The same if the conduit had another bore.
    ///
    /// # Errors
    /// The bends or their radius is missing, and without it nobody knows.
    pub fn head_passage_in(
        &self,
        head: &Head,
        conduit: &Entry<Pathway>,
        bore: Distance,
    ) -> Result<HeadPassage, Lack> {
        let needs = HeadBore::straight(head.wide, head.high, head.long).ok_or(Lack::Reported)?;
        let straight = HeadPassage {
            needs,
            bore,
            bend: None,
        };
        if !straight.passes() {
            return Ok(straight);
        }
        let greatest = self.want_bends(conduit).map(|bends| {
            bends
                .max_by(|a, b| a.base().total_cmp(&b.base()))
                .filter(|angle| angle.base() > 0.0)
        });
        let angle = match greatest {
            Ok(None) => return Ok(straight),
            Ok(Some(angle)) => Ok(angle),
            Err(lack) => Err(lack),
        };
        let bent = |radius: Distance, angle: Degrees| {
            let needs = HeadBore::bent(head.wide, head.high, head.long, radius, angle);
            let needs = needs.ok_or(Lack::Reported)?;
            let bend = Some((radius, angle));
            Ok::<_, Lack>(HeadPassage { needs, bore, bend })
        };
        let (least, most) = match (self.centre_radius(conduit), &angle) {
            (Ok(radii), _) => radii,
            (Err(lack), Ok(_)) => return Err(lack),
            (Err(_), Err(lack)) => return Err(lack.clone()),
        };
        // Half a circle is the most that a bend can be: what passes that passes all.
        let angle = match angle {
            Ok(angle) => angle,
            Err(lack) => {
                let half = Degrees::new(180.0, "deg").ok_or(Lack::Reported)?;
                let worst = bent(least, half)?;
                return if worst.passes() { Ok(worst) } else { Err(lack) };
            }
        };
        let (tight, wide) = (bent(least, angle)?, bent(most, angle)?);
        match (tight.passes(), wide.passes()) {
            (true, _) => Ok(tight),
            (false, false) => Ok(wide),
            (false, true) => Err(Lack::absent(format!("radius of {}", conduit.id))),
        }
    }
}
