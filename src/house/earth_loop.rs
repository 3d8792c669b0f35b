//! Loops of shields and earths that an unbalanced line closes.
//!
//! A forest grows over the graph of [`Shields`], sure edges first. An edge that finds its two ends
//! joined already closes one loop.

use std::collections::HashSet;

use super::channel::Line;
use super::earth_tree::{Part, Tree, other};
use super::shield::{Edge, Joint, Shielding, Shields};
use super::topology::{House, Node, small};
use crate::findings::{Id, Lack};
use crate::plan::Service;

/// A loop through the earths of two devices on different circuits.
#[derive(Debug)]
pub struct EarthLoop<'a> {
    /// The unbalanced line that closes it, and its runs in the loop from the source on.
    pub line: &'a Line,
    pub runs: Vec<usize>,
    /// The two devices that are earthed, that on the line's far side first.
    pub devices: [usize; 2],
    /// The circuits whose earths those are; none for one that is bonded where a cable comes in.
    pub circuits: [Option<usize>; 2],
    /// Every member of the loop, and how many there are.
    pub members: String,
    pub count: usize,
}

/// All loops of a plan.
#[derive(Debug, Default)]
pub struct EarthLoops<'a, 'p> {
    pub found: Vec<EarthLoop<'a>>,
    /// What keeps further lines from being judged, each once, with the thing that lacks it.
    pub lacks: Vec<(&'p Id, Lack)>,
    /// Lines that could be judged.
    pub judged: usize,
}

/// Members of a way that are told; the way of a chain without end is cut.
const TOLD: usize = 12;
/// Runs of a line that are followed back.
const FOLLOWED: usize = 64;

impl<'p> House<'p> {
    /// Looks for loops; lines whose runs are all balanced cost next to nothing.
    pub fn earth_loops(&self) -> EarthLoops<'_, 'p> {
        let mut loops = EarthLoops::default();
        let mut unbalanced = Vec::new();
        for (index, line) in self.lines().lines.iter().enumerate() {
            if line.service != Service::Line {
                continue;
            }
            match Shields::shielding(self, line) {
                Shielding::Balanced => loops.judged += 1,
                Shielding::Unbalanced(doubt) => unbalanced.push((small(index), line, doubt)),
            }
        }
        if unbalanced.is_empty() {
            return loops;
        }
        let mut shields = Shields::new(self);
        shields.add_others();
        for (index, line, doubt) in &unbalanced {
            shields.add(line, |run| Joint::Line { line: *index, run }, *doubt);
        }
        shields.add_earths();
        let (tree, closers) = Tree::grow(&shields);
        let mut unsure = HashSet::new();
        for (rank, edge) in &closers {
            match rank {
                2 => loops.found.extend(tree.closed_by(edge)),
                3.. => unsure.extend(tree.doubts(edge)),
                _ => {}
            }
        }
        let (mut doubts, mut doubted) = (Vec::new(), HashSet::new());
        for part in unsure {
            match part {
                Part::Doubt(doubt) => doubts.push(doubt),
                Part::Line(line) => {
                    doubted.insert(line);
                }
            }
        }
        doubts.sort_unstable();
        // Several runs may be of the one stock that lacks something.
        let mut told = HashSet::new();
        loops.lacks = doubts.into_iter().map(|doubt| self.doubt(doubt)).collect();
        loops.lacks.retain(|lack| told.insert(lack.clone()));
        let found: HashSet<_> = loops
            .found
            .iter()
            .map(|found| std::ptr::from_ref(found.line))
            .collect();
        let judged = unbalanced.iter().filter(|(index, line, _)| {
            !doubted.contains(index) || found.contains(&std::ptr::from_ref(*line))
        });
        loops.judged += judged.count();
        loops
    }
}

impl<'h> Tree<'_, 'h, '_> {
    /// The loop that a line's shield closes at its end, if it passes two earths.
    fn closed_by(&self, edge: &Edge) -> Option<EarthLoop<'h>> {
        let Joint::Line { line, run } = edge.joint else {
            return None;
        };
        if !self.is_loop(edge.ends) {
            return None;
        }
        let house = self.shields.house;
        let line = &house.lines().lines[line as usize];
        let at = line.steps.iter().position(|step| step.run == run)?;
        let back = |at: &usize| line.steps[*at].before.map(|before| before as usize);
        let mut runs: Vec<usize> = std::iter::successors(Some(at), back)
            .take(FOLLOWED)
            .map(|at| line.steps[at].run as usize)
            .collect();
        runs.reverse();
        let [net, end] = edge.ends;
        let ends = [self.device[end as usize], self.device[net as usize]];
        let names: Vec<&str> = runs
            .iter()
            .map(|run| house.plan.runs[*run].id.as_str())
            .collect();
        let mut there = self.way(net);
        there[0] = names.join(" - ");
        let mut back = self.way(end);
        let start = back[0].clone();
        back.reverse();
        let branches = [self.branch[net as usize], self.branch[end as usize]];
        let circuits = branches.map(|branch| self.shields.circuit_at(branch));
        let mut members = vec![start];
        members.extend(there);
        members.push(self.earth(branches[0]));
        members.extend(self.panels(circuits));
        members.push(self.earth(branches[1]));
        members.extend(back);
        Some(EarthLoop {
            line,
            devices: ends.map(|knot| self.shields.device_at(knot).unwrap_or_default()),
            circuits: [circuits[1], circuits[0]],
            count: members.len() - 1 + (runs.len() - 1),
            runs,
            members: members.join(" - "),
        })
    }

    /// The members of the way from a knot to the device by which it is earthed.
    fn way(&self, knot: u32) -> Vec<String> {
        let house = self.shields.house;
        let (mut names, mut at, mut came) = (Vec::new(), knot, None);
        loop {
            let up = self.up[at as usize];
            let run = |joint: Option<Joint>| match joint {
                Some(Joint::Shield { run } | Joint::Line { run, .. }) => Some(run),
                _ => None,
            };
            match self.shields.device_at(at) {
                Some(device) => names.push(house.plan.endpoints[device].id.to_string()),
                None => {
                    let (inwards, out) = (run(came), run(up.map(|up| up.joint)));
                    let runs = inwards
                        .into_iter()
                        .chain(out.filter(|out| Some(*out) != inwards));
                    let runs = runs.map(|run| house.plan.runs[run as usize].id.as_str());
                    names.push(runs.collect::<Vec<_>>().join(" - "));
                }
            }
            let Some(up) = up.filter(|_| at != self.device[knot as usize]) else {
                return names;
            };
            if names.len() == TOLD {
                names.push("…".to_owned());
                let last = self.shields.device_at(self.device[knot as usize]);
                names.extend(last.map(|last| house.plan.endpoints[last].id.to_string()));
                return names;
            }
            at = other(&up, at);
            came = Some(up.joint);
        }
    }

    fn earth(&self, branch: u32) -> String {
        let house = self.shields.house;
        match (
            self.shields.circuit_at(branch),
            self.shields.device_at(branch),
        ) {
            (Some(circuit), _) => format!("earth of {}", house.plan.circuits[circuit].id),
            (None, Some(device)) => format!("bond of {}", house.plan.endpoints[device].id),
            (None, None) => "earth".to_owned(),
        }
    }

    /// The panel by which two earths meet, or the two panels.
    fn panels(&self, circuits: [Option<usize>; 2]) -> Vec<String> {
        let house = self.shields.house;
        let panel = |circuit: usize| house.standing_endpoint(Node::of_circuit(circuit)).ok();
        let mut panels: Vec<usize> = circuits.into_iter().flatten().filter_map(panel).collect();
        panels.dedup();
        if panels.is_empty() {
            return vec!["breaker panel".to_owned()];
        }
        let id = |panel: &usize| house.plan.endpoints[*panel].id.to_string();
        panels.iter().map(id).collect()
    }
}
