//! The hidden spaces that runs lie in, and what raceway encloses them there.

use super::topology::{House, small};
use crate::findings::Lack;
use crate::plan::{Entry, Make, Pathway, PathwayKind as Kind};

/// What lies between a cable and the space around it, the weakest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Shell {
    /// Nothing: the cable is in the space itself.
    Open,
    /// Raceway that is not of metal.
    Plastic,
    /// Raceway, this pathway, whose make the plan does not state.
    Unknown(u32),
    /// FMC: metal, but bendable.
    FlexibleMetal,
    /// EMT, IMC, RMC.
    RigidMetal,
}

/// A space that nobody sees into once the house is finished, and how a run lies in it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Space {
    /// The wall, ceiling, floor, attic, crawl-space, plenum or riser; or a conduit or raceway of
    /// which the plan does not say what is around it.
    pub way: u32,
    pub shell: Shell,
}

/// Spaces of every pathway of a house.
#[derive(Debug)]
pub struct Spaces {
    of: Vec<Behind>,
    any_plenum: bool,
}

/// The hidden spaces behind one pathway, each kind with each shell once, and what is missing to
/// know them all.
#[derive(Debug, Default, Clone)]
struct Behind {
    spaces: Vec<Space>,
    lack: Option<Lack>,
}

impl House<'_> {
    /// The hidden spaces behind every pathway: its own, and those that it is `inside`.
    ///
    /// One walk over all of them, the outer before the inner, so that pathways inside pathways
    /// stay linear at any depth.
    pub fn spaces(&self) -> &Spaces {
        self.spaces.get_or_init(|| self.build_spaces())
    }

    fn build_spaces(&self) -> Spaces {
        let count = self.plan.pathways.len();
        let mut of = vec![Behind::default(); count];
        let mut state = vec![Walk::Unseen; count];
        for start in 0..count {
            let mut path = if state[start] == Walk::Unseen {
                vec![(start, 0)]
            } else {
                Vec::new()
            };
            while let Some((way, child)) = path.last_mut() {
                state[*way] = Walk::Open;
                if let Some(outer) = self.outer(*way, *child) {
                    *child += 1;
                    if state[outer] == Walk::Unseen {
                        path.push((outer, 0));
                    }
                    continue;
                }
                let way = *way;
                of[way] = self.behind(way, &of, &state);
                state[way] = Walk::Done;
                path.pop();
            }
        }
        let plenum = |way: &Entry<Pathway>| way.kind.value() == Some(&Kind::Plenum);
        Spaces {
            of,
            any_plenum: self.plan.pathways.iter().any(plenum),
        }
    }

    fn outer(&self, way: usize, nth: usize) -> Option<usize> {
        Some(self.plan.pathways[way].inside.value()?.0.get(nth)?.at())
    }

    fn behind(&self, way: usize, of: &[Behind], state: &[Walk]) -> Behind {
        let pathway = &self.plan.pathways[way];
        let shell = own_shell(pathway, small(way));
        let mut behind = Behind::default();
        match pathway.kind.want("kind", &pathway.id) {
            Ok(kind) if is_hidden(**kind) || kind.is_raceway() && pathway.inside.is_absent() => {
                behind.spaces.push(Space {
                    way: small(way),
                    shell,
                });
            }
            Ok(_) => {}
            Err(lack) => behind.lack = Some(lack),
        }
        if pathway.inside.is_bad() {
            behind.lack.get_or_insert(Lack::Reported);
        }
        for outer in (0..).map_while(|nth| self.outer(way, nth)) {
            // A circle of `inside` has been reported.
            let circle = (state[outer] != Walk::Done).then_some(Lack::Reported);
            behind.lack = behind.lack.or(circle).or_else(|| of[outer].lack.clone());
            for space in &of[outer].spaces {
                let space = Space {
                    shell: space.shell.max(shell),
                    ..*space
                };
                if behind
                    .spaces
                    .iter()
                    .all(|known| !self.is_alike(*known, space))
                {
                    behind.spaces.push(space);
                }
            }
        }
        behind
    }

    /// Whether two spaces ask the same of a cable.
    fn is_alike(&self, a: Space, b: Space) -> bool {
        let kind = |space: Space| {
            let way = &self.plan.pathways[space.way as usize];
            (way.kind.value(), way.air.value(), way.air.is_bad())
        };
        std::mem::discriminant(&a.shell) == std::mem::discriminant(&b.shell) && kind(a) == kind(b)
    }
}

/// How far the walk is with a pathway.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Walk {
    Unseen,
    Open,
    Done,
}

impl Spaces {
    /// Whether any pathway of the plan is a plenum.
    pub fn any_plenum(&self) -> bool {
        self.any_plenum
    }

    /// The hidden spaces behind a pathway, each with what lies between it and a cable in the
    /// pathway, and what is missing to know them all.
    pub fn behind(&self, way: usize) -> (&[Space], Option<&Lack>) {
        let behind = &self.of[way];
        (&behind.spaces, behind.lack.as_ref())
    }

    /// The hidden spaces that a run lies in, and what is missing to know them all. A run in the
    /// open is hidden by nothing, but the air of a plenum and the draught of a riser reach it too.
    pub fn of_run(&self, house: &House<'_>, run: usize) -> (Vec<Space>, Option<Lack>) {
        let mut spaces = Vec::new();
        let lack = self.visit(house, run, |space| spaces.push(space));
        (spaces, lack)
    }

    /// The first hidden space of a run that is `wanted`; as for [`Self::of_run`].
    ///
    /// # Errors
    /// None of those known is, and something is missing to know them all.
    pub fn find(
        &self,
        house: &House<'_>,
        run: usize,
        wanted: impl Fn(&Space) -> bool,
    ) -> Result<Option<Space>, Lack> {
        let mut found = None;
        let lack = self.visit(house, run, |space| {
            if found.is_none() && wanted(&space) {
                found = Some(space);
            }
        });
        match (found, lack) {
            (None, Some(lack)) => Err(lack),
            (found, _) => Ok(found),
        }
    }

    fn visit(&self, house: &House<'_>, run: usize, mut see: impl FnMut(Space)) -> Option<Lack> {
        let run = &house.plan.runs[run];
        let open = match run.surface.or(crate::plan::YesNo(false)) {
            Ok(open) => open.0,
            Err(lack) => return Some(lack),
        };
        let named = match run.through.want("through", &run.id) {
            Ok(through) if !through.0.is_empty() => through,
            Err(Lack::Reported) => return Some(Lack::Reported),
            _ if open => return None,
            _ => return Some(Lack::absent(format!("through of {}", run.id))),
        };
        let mut lack = None;
        for way in named.values() {
            let behind = &self.of[way.at()];
            let reached =
                |space: &&Space| !open || is_draughty(&house.plan.pathways[space.way as usize]);
            behind
                .spaces
                .iter()
                .filter(reached)
                .for_each(|space| see(*space));
            lack = lack.or_else(|| behind.lack.clone());
        }
        lack
    }
}

fn is_hidden(kind: Kind) -> bool {
    matches!(
        kind,
        Kind::Wall
            | Kind::Ceiling
            | Kind::Floor
            | Kind::Attic
            | Kind::CrawlSpace
            | Kind::Plenum
            | Kind::Riser
    )
}

fn is_draughty(way: &Pathway) -> bool {
    matches!(way.kind.value(), Some(Kind::Plenum | Kind::Riser))
}

fn own_shell(way: &Entry<Pathway>, index: u32) -> Shell {
    if !way.is_raceway() {
        return Shell::Open;
    }
    match way.make.value() {
        Some(Make::Fmc) => Shell::FlexibleMetal,
        Some(make) if make.is_metal() => Shell::RigidMetal,
        Some(_) => Shell::Plastic,
        None => Shell::Unknown(index),
    }
}
