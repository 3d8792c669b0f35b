//! How long a run is: as stated, or estimated from where its ends stand.

use super::text::sum;
use super::{Figure, sound};
use crate::units::{Distance, Length, plain, unit};

/// A position in the house's frame: x, y and height.
pub type Point = [Distance; 3];

/// Where a run must rise or drop to before it goes across.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Level {
    /// Straight across at the ends' own heights.
    Direct,
    /// Through attic or ceiling: the ceiling's height at the first and the last end.
    Ceiling(Distance, Distance),
    /// Through floor, crawl-space or slab: the floor's height at the first and the last end.
    Floor(Distance, Distance),
}

/// What is added to an estimate: a share of it, and a fixed length.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slack {
    /// 0.1 for 10 %.
    pub share: f64,
    pub fixed: Distance,
}

/// What an estimate is made of: path and conduits in metre.
#[derive(Debug, Clone, PartialEq)]
struct Estimate {
    path: f64,
    conduits: f64,
    level: Level,
    slack: Slack,
}

#[derive(Debug, Clone, PartialEq)]
enum Basis {
    Stated,
    /// Boxed, because most runs state their length and there may be very many of them.
    Estimated(Box<Estimate>),
    /// The runs in series, each in its author's unit.
    Sum {
        runs: Box<[Distance]>,
        estimated: usize,
    },
    /// Boxed like an estimate.
    Corded(Box<(RouteLength, Distance)>),
}

/// Length of a run or a channel, in metre.
#[derive(Debug, Clone, PartialEq)]
pub struct RouteLength {
    basis: Basis,
    metres: f64,
    /// A length in the unit that the author writes lengths in.
    written: Distance,
}

/// `|Δx| + |Δy| + |Δz|`, by way of `level`, in metre.
fn path(from: Point, to: Point, level: Level) -> Option<f64> {
    let apart = |a: Distance, b: Distance| sound((a.base() - b.base()).abs());
    let across = apart(from[0], to[0])? + apart(from[1], to[1])?;
    let heights = match level {
        Level::Direct => apart(from[2], to[2])?,
        Level::Ceiling(first, last) | Level::Floor(first, last) => {
            apart(from[2], first)? + apart(first, last)? + apart(last, to[2])?
        }
    };
    sound(across + heights)
}

/// `|Δx| + |Δy| + |Δz|`, by way of `level`. `None` when it is no finite number.
pub fn along_axes(from: Point, to: Point, level: Level) -> Option<Length> {
    path(from, to, level).map(Length::new::<unit::meter>)
}

/// Distance as the crow flies. `None` when it is no finite number.
pub fn straight_line(from: Point, to: Point) -> Option<Length> {
    let apart = |axis: usize| from[axis].base() - to[axis].base();
    let metres = apart(0).hypot(apart(1)).hypot(apart(2));
    Some(Length::new::<unit::meter>(sound(metres)?))
}

/// The least way by way of `level`: across as the crow flies. `None` when it is no finite number.
pub fn least_way(from: Point, to: Point, level: Level) -> Option<Length> {
    if level == Level::Direct {
        return straight_line(from, to);
    }
    let apart = |axis: usize| from[axis].base() - to[axis].base();
    let [across, along] = [0, 1].map(|axis| apart(axis).abs());
    let heights = path(from, to, level)? - across - along;
    let metres = sound(across.hypot(along) + heights)?;
    Some(Length::new::<unit::meter>(metres))
}

impl RouteLength {
    /// The measured length. `None` when it is negative or no finite number.
    pub fn stated(length: Distance) -> Option<Self> {
        let metres = sound(length.base())?;
        Some(Self {
            basis: Basis::Stated,
            metres,
            written: length,
        })
    }

    /// The length from where the ends stand: along the axes by way of `level`, never less than the
    /// conduits together, plus slack. `None` when a conduit or the slack is negative, or
    /// anything is no finite number.
    pub fn estimated(
        from: Point,
        to: Point,
        level: Level,
        conduits: &[Distance],
        slack: Slack,
    ) -> Option<Self> {
        let path = path(from, to, level)?;
        let mut through = 0.0;
        for conduit in conduits {
            through += sound(conduit.base())?;
        }
        let fixed = sound(slack.fixed.base())?;
        let metres = sound(path.max(through) * (1.0 + sound(slack.share)?) + fixed)?;
        Some(Self {
            basis: Basis::Estimated(Box::new(Estimate {
                path,
                conduits: through,
                level,
                slack,
            })),
            metres,
            written: from[0],
        })
    }

    /// Runs in series. `None` for none.
    pub fn channel(runs: &[Self]) -> Option<Self> {
        let metres = sound(runs.iter().map(|run| run.metres).sum())?;
        let estimated = runs.iter().filter(|run| run.is_estimated()).count();
        Some(Self {
            basis: Basis::Sum {
                runs: runs.iter().map(Self::distance).collect(),
                estimated,
            },
            metres,
            written: runs.first()?.written,
        })
    }

    /// The same with the cords at its ends. `None` when they are negative or no finite number.
    pub fn with_cords(self, cords: Distance) -> Option<Self> {
        Some(Self {
            metres: sound(self.metres + sound(cords.base())?)?,
            written: self.written,
            basis: Basis::Corded(Box::new((self, cords))),
        })
    }

    pub fn length(&self) -> Length {
        Length::new::<unit::meter>(self.metres)
    }

    /// In the author's unit.
    pub fn distance(&self) -> Distance {
        match self.basis {
            // As written, without a turn through metres.
            Basis::Stated => self.written,
            // To a hundredth of the unit: more would claim what an estimate cannot know.
            _ => self.written.same_unit(self.length()).to_hundredths(),
        }
    }

    /// For a sentence: `34 ft`, `about 29.1 ft`.
    pub fn words(&self) -> String {
        if self.is_estimated() {
            format!("about {}", self.shown(self.metres))
        } else {
            self.distance().to_string()
        }
    }

    pub fn is_estimated(&self) -> bool {
        match &self.basis {
            Basis::Stated => false,
            Basis::Estimated(_) => true,
            Basis::Sum { estimated, .. } => *estimated > 0,
            Basis::Corded(parts) => parts.0.is_estimated(),
        }
    }

    fn shown(&self, metres: f64) -> String {
        self.written.show_metres(metres)
    }
}

impl Figure for RouteLength {
    const NAME: &'static str = "route-length";
    const UNIT: &'static str = "m";

    fn value(&self) -> f64 {
        self.metres
    }

    fn working(&self) -> String {
        let total = self.shown(self.metres);
        match &self.basis {
            Basis::Stated => format!("{} as stated", self.written),
            Basis::Sum { runs, estimated } => {
                let unit = self.written.unit();
                let text = |run: &Distance| run.summed_in(self.written).to_string();
                let size = |run: &Distance| run.base() / unit.size;
                let terms = sum(runs, size, text, unit.spelling);
                let note = match estimated {
                    0 => String::new(),
                    all if *all == runs.len() => ", estimated".to_owned(),
                    some => format!(", {some} of them estimated"),
                };
                format!("{terms} = {total}{note}")
            }
            Basis::Corded(parts) => {
                let (cable, cords) = &**parts;
                let cable = cable.working();
                format!("{cable}, + {cords} of cords = {total}")
            }
            Basis::Estimated(estimate) => {
                let Estimate {
                    path,
                    conduits,
                    level,
                    slack,
                } = &**estimate;
                let way = if conduits > path {
                    format!("{} of conduit", self.shown(*conduits))
                } else {
                    let by = match level {
                        Level::Direct => "",
                        Level::Ceiling(..) => " by way of the ceiling",
                        Level::Floor(..) => " by way of the floor",
                    };
                    format!("{} along the axes{by}", self.shown(*path))
                };
                let share = plain(slack.share * 100.0);
                let fixed = slack.fixed.summed_in(self.written);
                format!("{way} + {share} % + {fixed} = {total}, estimated")
            }
        }
    }
}
