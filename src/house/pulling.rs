//! The pull of cables through a conduit: which are pulled, how they lie, what they bear.

use std::borrow::Cow;

use super::topology::House;
use crate::figures::jam::JamRatio;
use crate::findings::Lack;
use crate::plan::{Entry, Stock};

impl<'p> House<'p> {
    /// The runs that lie loose in a conduit: all in it, but where other conduit lies in it too only those that name it themselves.
    pub fn loose_in(&self, conduit: usize) -> Cow<'_, [u32]> {
        let all = self.runs_in(conduit);
        if self.inner_conduit(conduit).is_none() {
            return Cow::Borrowed(all);
        }
        let names_it = |run: &&u32| self.names(**run as usize, conduit);
        Cow::Owned(all.iter().filter(names_it).copied().collect())
    }

    /// Whether a run names a pathway itself, as against one that lies inside it.
    pub(super) fn names(&self, run: usize, pathway: usize) -> bool {
        let through = self.plan.runs[run].through.value();
        through.is_some_and(|through| through.values().any(|way| way.at() == pathway))
    }

    /// The stock of three runs that are all of the cable in a conduit and of one stock. `None` for
    /// other numbers and for unlike cables.
    ///
    /// # Errors
    /// A stock is missing, and without it nobody knows whether they are alike.
    pub fn three_alike(&self, runs: &[u32]) -> Result<Option<&'p Entry<Stock>>, Lack> {
        let [a, b, c] = *runs else {
            return Ok(None);
        };
        let stock = |run: u32| {
            self.plan.runs[run as usize]
                .stock
                .value()
                .map(|stock| stock.at())
        };
        match [a, b, c].map(stock) {
            [Some(a), Some(b), Some(c)] if a == b && b == c => Ok(Some(&self.plan.stock[a])),
            // Two unlike ones decide it, whatever the third is.
            [a, b, c]
                if [(a, b), (b, c), (a, c)]
                    .iter()
                    .any(|(a, b)| a.is_some() && b.is_some() && a != b) =>
            {
                Ok(None)
            }
            _ => {
                let runs = [a, b, c].map(|run| &self.plan.runs[run as usize]);
                runs.into_iter()
                    .map(|run| self.want_stock(run))
                    .find_map(Result::err)
                    .map_or(Ok(None), Err)
            }
        }
    }

    /// Bore over diameter of three cables of a stock. `None` for a flat cable, which lies otherwise.
    ///
    /// # Errors
    /// The conduit's bore or the stock's diameter is missing.
    pub fn jam_ratio(
        &self,
        conduit: usize,
        stock: &Entry<Stock>,
    ) -> Result<Option<JamRatio>, Lack> {
        let diameter = stock.diameter.want("diameter", &stock.id)?;
        if diameter.high.is_some() {
            return Ok(None);
        }
        let bore = self.bore(&self.plan.pathways[conduit])?;
        let ratio = JamRatio::of(bore, diameter.wide).ok_or(Lack::Reported)?;
        Ok(Some(ratio))
    }
}
