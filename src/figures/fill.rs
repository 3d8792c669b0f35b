//! How full a conduit is.

use super::{Figure, positive, sound};
use crate::units::{Distance, figure3};

/// Share of a conduit's inside area that its cables take, in percent: `Σ d² ÷ D²`. A cable of many cores is one;
/// a flat one counts as a round one of its larger side (NEC chapter 9 note 9, from memory).
#[derive(Debug, Clone, PartialEq)]
pub struct Fill {
    bore: Distance,
    cables: Vec<Distance>,
    percent: f64,
}

/// Percent that one cable takes.
fn share(bore: Distance, cable: Distance) -> Option<f64> {
    let ratio = positive(cable.base())? / positive(bore.base())?;
    sound(ratio * ratio * 100.0)
}

impl Fill {
    /// `None` when a diameter is not above zero, or anything overflows. No cable is a fill of nothing.
    pub fn of(bore: Distance, cables: Vec<Distance>) -> Option<Self> {
        positive(bore.base())?;
        let mut percent = 0.0;
        for &cable in &cables {
            percent += share(bore, cable)?;
        }
        let percent = sound(percent)?;
        Some(Self {
            bore,
            cables,
            percent,
        })
    }

    pub fn cables(&self) -> usize {
        self.cables.len()
    }

    /// Whether one more cable fits within `limit` percent: the limit for one cable more than there are.
    pub fn room_for_one_more(&self, diameter: Distance, limit: f64) -> bool {
        share(self.bore, diameter).is_some_and(|more| self.percent + more <= limit)
    }
}

impl Figure for Fill {
    const NAME: &'static str = "fill";
    const UNIT: &'static str = "%";

    fn value(&self) -> f64 {
        self.percent
    }

    fn working(&self) -> String {
        let mut kinds: Vec<(Distance, usize)> = Vec::new();
        for &cable in &self.cables {
            match kinds.iter_mut().find(|kind| kind.0 == cable) {
                Some(kind) => kind.1 += 1,
                None => kinds.push((cable, 1)),
            }
        }
        let size = |kind: &(Distance, usize)| {
            let count = u32::try_from(kind.1).unwrap_or(u32::MAX);
            share(self.bore, kind.0).unwrap_or(0.0) * f64::from(count)
        };
        let text = |&(cable, count): &(Distance, usize)| match count {
            1 => format!("({cable})² ÷ ({})²", self.bore),
            count => format!("{count} × ({cable})² ÷ ({})²", self.bore),
        };
        let terms = match kinds.as_slice() {
            [] => "no cable".into(),
            kinds => super::text::sum(kinds, size, text, "%"),
        };
        format!("{terms} = {} %", figure3(self.percent))
    }
}
