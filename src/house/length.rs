//! How long each run is: as stated, or estimated from where its ends stand.

use super::topology::House;
use crate::figures::route::{Level, RouteLength, Slack, straight_line};
use crate::findings::Lack;
use crate::plan::{Entry, Pathway, PathwayKind, Room, Run};
use crate::units::{Distance, Length, unit};

/// A run's length, and whether the plan states it.
pub type RunLength = RouteLength;

/// Slack that an estimate adds: 10 % and 6 ft (common practice, no source). The same numbers stand
/// as limits in `rules/plan/length-impossible.yaml`, where a test holds them together.
pub const SLACK_SHARE: f64 = 0.10;
/// In feet.
pub const SLACK_FEET: f64 = 6.0;

impl<'p> House<'p> {
    /// The length of a run: stated, or estimated and said to be.
    ///
    /// # Errors
    /// What an estimate lacks: a point of an end, or the height of a ceiling that it goes by.
    pub fn length(&self, run: usize) -> Result<&RunLength, Lack> {
        let lengths = self.lengths.get_or_init(|| {
            (0..self.plan.runs.len())
                .map(|run| self.compute_length(run))
                .collect()
        });
        lengths[run].as_ref().map_err(Clone::clone)
    }

    fn compute_length(&self, index: usize) -> Result<RunLength, Lack> {
        let run = &self.plan.runs[index];
        if let Some(stated) = run.length.value() {
            return RouteLength::stated(**stated).ok_or(Lack::Reported);
        }
        if run.length.is_bad() || run.through.is_bad() {
            return Err(Lack::Reported);
        }
        let missing = |lack: Lack| match lack {
            // The nearest cure is to measure the run, not to place its ends.
            Lack::Absent(_) => Lack::absent(format!("length of {}", run.id)),
            Lack::Reported => Lack::Reported,
        };
        let (from, to) = self.ends(index).ok_or(Lack::Reported)?;
        let (start, end) = (
            self.want_point(from).map_err(missing)?,
            self.want_point(to).map_err(missing)?,
        );
        let level = self.level(run, index).map_err(missing)?;
        let conduits: Vec<Distance> = self
            .outermost_conduits(run)
            .into_iter()
            .filter_map(|way| way.laid_length())
            .collect();
        let slack = Slack {
            share: SLACK_SHARE,
            fixed: Distance::new(SLACK_FEET, "ft").ok_or(Lack::Reported)?,
        };
        RouteLength::estimated(start, end, level, &conduits, slack).ok_or(Lack::Reported)
    }

    /// By way of the ceiling, of the floor, or straight across.
    fn level(&self, run: &Entry<Run>, index: usize) -> Result<Level, Lack> {
        let Some(up) = self.rises(run) else {
            return Ok(Level::Direct);
        };
        let (from, to) = self.ends(index).ok_or(Lack::Reported)?;
        let height = |node| -> Result<Distance, Lack> {
            let endpoint = self.standing_endpoint(node)?;
            let room = self
                .standing(endpoint)
                .room
                .ok_or_else(|| Lack::absent("room"))?;
            room_height(room, up).ok_or_else(|| Lack::absent("origin and size of the room"))
        };
        Ok(if up {
            Level::Ceiling(height(from)?, height(to)?)
        } else {
            Level::Floor(height(from)?, height(to)?)
        })
    }

    /// Whether a run goes by way of the ceiling or of the floor; `None` for straight across.
    pub(super) fn rises(&self, run: &Run) -> Option<bool> {
        let mut down = false;
        for way in self.pathways_of(run) {
            match way.kind.value() {
                Some(PathwayKind::Attic | PathwayKind::Ceiling) => return Some(true),
                Some(PathwayKind::Floor | PathwayKind::CrawlSpace | PathwayKind::Slab) => {
                    down = true;
                }
                _ => {}
            }
        }
        down.then_some(false)
    }

    /// The pathways that a run names, without what they lie in.
    fn pathways_of<'a>(&'a self, run: &'a Run) -> impl Iterator<Item = &'p Entry<Pathway>> + 'a {
        run.through
            .value()
            .into_iter()
            .flat_map(|through| through.values())
            .map(|way| &self.plan.pathways[way.at()])
    }

    /// The straight line between a run's ends.
    ///
    /// # Errors
    /// An end that has no point.
    pub fn straight_line(&self, run: usize) -> Result<Length, Lack> {
        let (from, to) = self.ends(run).ok_or(Lack::Reported)?;
        straight_line(self.want_point(from)?, self.want_point(to)?).ok_or(Lack::Reported)
    }
}

/// The height of a room's ceiling, or of its floor, in the unit of its origin.
pub(super) fn room_height(room: &Room, ceiling: bool) -> Option<Distance> {
    let base = room.origin.value()?.0[2];
    if !ceiling {
        return Some(*base);
    }
    let height = room.size.value()?.0[2];
    Some(base.same_unit(Length::new::<unit::meter>(base.base() + height.base())))
}
