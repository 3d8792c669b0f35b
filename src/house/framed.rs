//! Holes and notches in the frame, and which runs lie in them without a shell.

use super::topology::House;
use crate::figures::Figure;
use crate::figures::framing::EdgeDistance;
use crate::findings::Lack;
use crate::plan::{DEEPEST, Entry, Framing, Pathway, PathwayKind as Kind, Run, Service};
use crate::tables::framing::needs_no_plate;
use crate::units::Distance;
use crate::yaml::{Edit, NodeId, entry_edit};

/// Wood between a hole and the nearest edge of its member.
#[derive(Debug, Clone, Copy)]
pub struct Edge {
    /// In metres.
    pub metres: f64,
    /// In the unit of the plan.
    pub shown: Distance,
    /// A centred hole has this much; no other has more.
    pub at_most: bool,
    figure: Option<EdgeDistance>,
}

impl Edge {
    pub fn working(&self) -> String {
        match &self.figure {
            Some(figure) => figure.working(),
            None => format!("{} as stated", self.shown),
        }
    }

    /// "0.9 in", "at most 0.9 in".
    pub fn says(&self) -> String {
        let most = if self.at_most { "at most " } else { "" };
        format!("{most}{}", self.shown.rounded_words())
    }
}

/// What lies in the frame of a pathway.
#[derive(Debug, Default)]
pub struct Framed {
    /// A run whose cable, or whose conduit, a nail can reach.
    pub power: Option<usize>,
    pub signal: Option<usize>,
    /// A run of which that is not known.
    pub lack: Option<Lack>,
    /// Anything at all passes.
    pub passed: bool,
}

impl House<'_> {
    /// Whether a pathway is of wood or stone that runs are taken through: a wall, floor or ceiling.
    pub fn is_framed(kind: Kind) -> bool {
        matches!(kind, Kind::Wall | Kind::Floor | Kind::Ceiling)
    }

    /// What lies in the frame of a pathway, without runs in the open, runs in raceway that nails do
    /// not pass (RMC, IMC, PVC, EMT), and runs that are marked as guarded on site. Looked for until
    /// there is power and signal, or only until there is `any`.
    pub fn framed(&self, pathway: usize, any: bool) -> Framed {
        let mut framed = Framed::default();
        for index in self.runs_in(pathway) {
            let index = *index as usize;
            let run = &self.plan.runs[index];
            if run.lies_open() {
                continue;
            }
            framed.passed = true;
            if is_guarded(run) {
                continue;
            }
            match self.is_bare_in(run, pathway) {
                Ok(false) => continue,
                Ok(true) => {}
                Err(lack) => {
                    framed.lack = framed.lack.or(Some(lack));
                    continue;
                }
            }
            match self.service(index) {
                Some(Service::Power) => framed.power = framed.power.or(Some(index)),
                Some(_) => framed.signal = framed.signal.or(Some(index)),
                None => {
                    let lack = self.want_service(index).err().unwrap_or(Lack::Reported);
                    framed.lack = framed.lack.or(Some(lack));
                    // Whatever it is, it is a cable.
                    framed.signal = framed.signal.or(Some(index));
                }
            }
            if any || framed.power.is_some() && framed.signal.is_some() {
                break;
            }
        }
        framed
    }

    /// The entries of a pathway's `framing` in the text, in their order. None where they stand elsewhere,
    /// behind an alias.
    pub fn framing_nodes(&self, way: &Entry<Pathway>) -> Vec<NodeId> {
        let (spot, _) = self.sources.spots(way.span);
        let source = self.sources.file(spot.file);
        let mut keys = way.map.into_iter().flat_map(|map| source.tree.entries(map));
        let Some((_, list)) = keys.find(|(name, _)| source.text_of(*name) == "framing") else {
            return Vec::new();
        };
        if source.tree.is_map(list) {
            return vec![list];
        }
        source.tree.children(list).collect()
    }

    /// The edit that makes `key` of an entry of a pathway's `framing` be `value`, where it is not stated.
    pub fn framing_edit(
        &self,
        way: &Entry<Pathway>,
        entry: NodeId,
        key: &str,
        value: &str,
    ) -> Option<Edit> {
        let (spot, _) = self.sources.spots(way.span);
        let source = self.sources.file(spot.file);
        let (at, text) = entry_edit(source, entry, key, value)?;
        Some(Edit {
            at: source.spot_of(at..at),
            text,
        })
    }

    /// Whether any run passes a pathway concealed.
    pub fn is_passed(&self, pathway: usize) -> bool {
        self.runs_in(pathway)
            .iter()
            .any(|run| !self.plan.runs[*run as usize].lies_open())
    }

    /// Whether a run lies in a pathway by way of no raceway that needs no plate.
    fn is_bare_in(&self, run: &Run, pathway: usize) -> Result<bool, Lack> {
        let named = || {
            run.through
                .value()
                .into_iter()
                .flat_map(|list| list.values())
        };
        if named().any(|way| way.at() == pathway) {
            return Ok(true);
        }
        let mut lack = None;
        for way in named() {
            // Where, and how many steps of `inside` from the way that the run names.
            let mut open = vec![(way.at(), 1)];
            while let Some((at, depth)) = open.pop() {
                if at == pathway {
                    return Ok(true);
                }
                let entry = &self.plan.pathways[at];
                if matches!(entry.kind.value(), Some(Kind::Conduit | Kind::Raceway)) {
                    match entry.make.want("make", &entry.id) {
                        Ok(make) if needs_no_plate(make.word()) => continue,
                        Ok(_) => {}
                        Err(missing) => {
                            lack = lack.or(Some(missing));
                            continue;
                        }
                    }
                }
                if depth < DEEPEST {
                    let inside = entry
                        .inside
                        .value()
                        .into_iter()
                        .flat_map(|list| list.values());
                    open.extend(inside.map(|outer| (outer.at(), depth + 1)));
                }
            }
        }
        lack.map_or(Ok(false), Err)
    }
}

fn is_guarded(run: &Run) -> bool {
    let done = run.done.value();
    done.and_then(|done| done.guarded.value())
        .is_some_and(|guarded| guarded.0)
}

/// Wood between the hole of an entry and the nearest edge of its member: as stated, else of a centred
/// hole, which no other exceeds. `None` where neither can be told.
pub fn edge_of(entry: &Framing) -> Option<Edge> {
    if let Some(edge) = entry.edge.value() {
        return Some(Edge {
            metres: edge.base(),
            shown: **edge,
            at_most: false,
            figure: None,
        });
    }
    let (depth, hole) = (**entry.depth.value()?, **entry.hole.value()?);
    let figure = EdgeDistance::of(depth, hole, None)?;
    let metres = figure.value() / 1000.0;
    Some(Edge {
        metres,
        shown: Distance::new(metres / depth.unit().size, depth.unit().spelling)?,
        at_most: true,
        figure: Some(figure),
    })
}
