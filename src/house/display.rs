//! Video lines of displays: how many there are, whether they are closed in, which way they run.

use super::beside::Beside;
use super::channel::Line;
use super::topology::{House, Node};
use crate::findings::Lack;
use crate::plan::{PathwayKind as Kind, Service};

/// The video lines that end at a display.
#[derive(Debug, Default)]
pub struct DisplayLines {
    /// Runs, spare ones included; where a cord in the open goes on to the display, the run behind it.
    pub runs: Vec<usize>,
    /// What is missing to know whether one more run is a video line.
    pub lack: Option<Lack>,
}

/// On which side of a run its display is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Toward {
    /// At its `to`, or on neither side or both, as far as the plan says.
    To,
    /// At its `from`, and not at its `to`.
    From,
    /// The kind of this endpoint would tell.
    Unknown(usize),
}

/// Displays and ends of no known kind on one side of a run.
#[derive(Debug, Clone, Copy, Default)]
struct Side {
    displays: usize,
    unknown: Option<usize>,
}

impl Side {
    fn with(self, other: Self) -> Self {
        Self {
            displays: self.displays + other.displays,
            unknown: self.unknown.or(other.unknown),
        }
    }
}

fn toward(from: Side, to: Side) -> Toward {
    if to.displays > 0 {
        return Toward::To;
    }
    match (from.displays > 0, from.unknown, to.unknown) {
        (true, _, None) => Toward::From,
        (true, _, Some(unknown)) | (false, Some(unknown), _) => Toward::Unknown(unknown),
        (false, None, _) => Toward::To,
    }
}

impl House<'_> {
    /// Video lines that end at a display, at what belongs to it, or at the plate of its cord.
    pub fn display_lines(&self, display: usize, beside: &Beside) -> DisplayLines {
        let landings = self.line_landings(display, beside);
        let mut lines = DisplayLines::default();
        for at in &landings {
            let node = Node::of_endpoint(*at);
            for run in self.runs_at(node) {
                let other = self.other_end(run, node).and_then(Node::endpoint);
                if other.is_some_and(|other| landings.contains(&other)) {
                    continue;
                }
                match self.want_service(run) {
                    Ok(Service::Video) => lines.runs.push(self.behind_cord(run)),
                    Ok(_) => {}
                    Err(lack) => lines.lack = lines.lack.or(Some(lack)),
                }
            }
        }
        lines.runs.sort_unstable();
        lines.runs.dedup();
        lines
    }

    /// Whether a run says that it lies in the open.
    pub fn is_in_the_open(&self, run: usize) -> Result<bool, Lack> {
        Ok(self.plan.runs[run].surface.or(crate::plan::YesNo(false))?.0)
    }

    /// Whether a run is closed in on its way, so that it cannot be changed at sight: it does not lie in
    /// the open, and passes more than cabinets, trays and surface raceway.
    ///
    /// # Errors
    /// Its pathways, or what they are, are missing.
    pub fn is_closed_in(&self, run: usize) -> Result<bool, Lack> {
        if self.is_in_the_open(run)? {
            return Ok(false);
        }
        let entry = &self.plan.runs[run];
        let named = entry.through.want("through", &entry.id)?;
        if named.0.is_empty() {
            return Err(Lack::absent(format!("through of {}", entry.id)));
        }
        let mut lack = None;
        for way in self.passes(run) {
            let way = &self.plan.pathways[*way as usize];
            match way.kind.want("kind", &way.id).map(|kind| **kind) {
                Ok(Kind::Cabinet | Kind::Tray | Kind::Surface | Kind::Raceway) => {}
                Ok(_) => return Ok(true),
                Err(missing) => lack = lack.or(Some(missing)),
            }
        }
        lack.map_or(Ok(false), Err)
    }

    /// What a node is to a video cable that ends at it.
    fn side(&self, node: Node, beside: &Beside) -> Side {
        let Some(at) = node.endpoint() else {
            return Side::default();
        };
        let next = beside.of(at).map(Node::of_endpoint);
        let is_display = [node]
            .into_iter()
            .chain(next)
            .any(|node| self.display_at(node).is_some());
        let kind = &self.plan.endpoints[at].kind;
        Side {
            displays: usize::from(is_display),
            unknown: (!is_display && kind.value().is_none()).then_some(at),
        }
    }

    /// For each step of a video line, on which side of its run the display is.
    pub fn line_toward(&self, line: &Line, beside: &Beside) -> Vec<Toward> {
        let source = self.side(line.source, beside);
        // From the far ends inwards: a step stands behind the one before it.
        let mut beyond: Vec<Side> = vec![Side::default(); line.steps.len()];
        let mut total = source;
        for at in (0..line.steps.len()).rev() {
            let own = self.side(line.steps[at].end, beside);
            total = total.with(own);
            beyond[at] = own.with(beyond[at]);
            if let Some(before) = line.steps[at].before {
                let this = beyond[at];
                beyond[before as usize] = beyond[before as usize].with(this);
            }
        }
        let steps = line.steps.iter().zip(beyond);
        steps
            .map(|(step, far)| {
                // The source stands for all that is not beyond: with a display beyond it does not matter.
                let near = Side {
                    displays: total.displays - far.displays,
                    unknown: source.unknown,
                };
                match self.ends(step.run as usize) {
                    Some((from, _)) if from == step.end => toward(far, near),
                    _ => toward(near, far),
                }
            })
            .collect()
    }

    /// The same for a run by itself, such as a spare.
    pub fn run_toward(&self, run: usize, beside: &Beside) -> Toward {
        match self.ends(run) {
            Some((from, to)) => toward(self.side(from, beside), self.side(to, beside)),
            None => Toward::To,
        }
    }
}
