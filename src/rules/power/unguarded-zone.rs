//! A cable near the face of a wall that lacks its zone or its RCD.

use serde::Deserialize;

use crate::findings::{Finding, Lack, Redline, Report};
use crate::house::{FeedKind, House, Shell, Space};
use crate::plan::{PathwayKind, Protection, Service, Zone};
use crate::rules::{Limit, Sheet, over};
use crate::units::Distance;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    depth: Limit<Distance>,
}

/// What feeds a run: its circuit, and whether an RCD guards it.
type Fed = (usize, Result<bool, Lack>);

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    let spaces = house.spaces();
    let mut fed: Option<Vec<Option<Fed>>> = None;
    for index in house.runs_of(Service::Power) {
        if house.is_spare(index) {
            continue;
        }
        let run = &house.plan.runs[index];
        let (spaces, lack) = spaces.of_run(house, index);
        let wall = match in_wall(house, &spaces) {
            Ok(Some(Wall::Metal)) if lack.is_none() => {
                out.checked();
                continue;
            }
            Ok(None) if lack.is_none() => continue,
            Ok(Some(Wall::Exposed(way))) => Ok(way),
            Ok(_) => Err(lack.unwrap_or(Lack::Reported)),
            Err(lack) => Err(lack),
        };
        let fed = fed.get_or_insert_with(|| feeds(house))[index].clone();
        let (circuit, rcd) = match fed {
            Some((circuit, rcd)) => (Some(circuit), rcd),
            None => {
                let lack = Lack::absent(format!("a circuit that feeds {}", run.id));
                (None, Err(lack))
            }
        };
        let found = Found {
            index,
            circuit,
            limit: &limits.depth,
        };
        let deep = run.depth.want("depth", &run.id).map(|depth| {
            // As deep as the limit is deep enough, to the rounding of its unit.
            !over(limits.depth.value.base(), depth.base())
        });
        let zone = run.zone.want("zone", &run.id).map(|zone| **zone);
        let plates = run.done.value().and_then(|done| done.guarded.value());
        if deep == Ok(true)
            || (zone == Ok(Zone::Inside) && rcd == Ok(true))
            || plates.is_some_and(|plates| plates.0)
        {
            out.checked();
            continue;
        }
        // What is missing first: where the run lies, then how deep, then what guards it.
        let verdict = wall.and_then(|way| deep.map(|_| way)).and_then(|way| {
            if zone == Ok(Zone::Outside) {
                Ok(found.outside(house, sheet, way))
            } else if !rcd? {
                Ok(found.no_rcd(house, sheet, way, zone.is_ok()))
            } else {
                Err(zone.err().unwrap_or(Lack::Reported))
            }
        });
        match verdict {
            Err(lack) => out.loud_gap(sheet.id, &run.id, lack),
            Ok(finding) => {
                out.checked();
                out.find(finding);
            }
        }
    }
}

/// How a run lies in walls.
enum Wall {
    /// In metal raceway in all of them.
    Metal,
    /// Bare, or in plastic, in this one.
    Exposed(u32),
}

/// The worst of the walls that a run lies in.
///
/// # Errors
/// What raceway it lies in, or what the raceway lies in, where that is not known.
fn in_wall(house: &House<'_>, spaces: &[Space]) -> Result<Option<Wall>, Lack> {
    let (mut metal, mut lack) = (false, None);
    for space in spaces {
        let way = &house.plan.pathways[space.way as usize];
        let kind = way.kind.value();
        let unknown = way.is_raceway();
        if kind != Some(&PathwayKind::Wall) && !unknown {
            continue;
        }
        match space.shell {
            Shell::FlexibleMetal | Shell::RigidMetal => metal = true,
            Shell::Unknown(raceway) => {
                let raceway = &house.plan.pathways[raceway as usize];
                let missing = raceway.make.want("make", &raceway.id).err();
                lack = lack.or(missing);
            }
            Shell::Open | Shell::Plastic if unknown => {
                lack = lack.or_else(|| Some(Lack::absent(format!("inside of {}", way.id))));
            }
            Shell::Open | Shell::Plastic => return Ok(Some(Wall::Exposed(space.way))),
        }
    }
    match lack {
        Some(lack) => Err(lack),
        None => Ok(metal.then_some(Wall::Metal)),
    }
}

/// For each run, the circuit that feeds it and whether an RCD guards it: in the breaker, or in an
/// endpoint ahead of the run.
fn feeds(house: &House<'_>) -> Vec<Option<Fed>> {
    let device = Protection::Rcd30;
    let mut fed: Vec<Option<Fed>> = vec![None; house.plan.runs.len()];
    for circuit in 0..house.plan.circuits.len() {
        let own = house.circuit_has(circuit, device);
        for run in house.runs_below(circuit) {
            // A run between two circuits is as unguarded as under the worse of them.
            let worse = !matches!(&fed[run], Some((_, rcd)) if *rcd != Ok(true));
            if worse {
                fed[run] = Some((circuit, own.clone()));
            }
        }
        if own == Ok(true) {
            continue;
        }
        let tree = house.tree(circuit);
        let guarded = house.guarded(&tree, device);
        for reached in tree.iter() {
            if let FeedKind::Run(run) = reached.by
                && reached.before.is_some_and(|before| guarded[before])
            {
                fed[run] = Some((circuit, Ok(true)));
            }
        }
    }
    fed
}

/// A run near the face of a wall.
struct Found<'l> {
    index: usize,
    circuit: Option<usize>,
    limit: &'l Limit<Distance>,
}

impl Found<'_> {
    fn outside(&self, house: &House<'_>, sheet: &Sheet, way: u32) -> Finding {
        let run = &house.plan.runs[self.index];
        let what = "outside the zones where a cable is expected";
        self.finding(house, sheet, way, &format!("{what}, least is {}", self.limit.value))
            .with_mark(run.zone.span().unwrap_or(run.span), "outside the zones")
            .with_put_right(format!(
                "take {} up, down or across from its socket or switch, or {} deep, or into earthed metal conduit",
                run.id, self.limit.value
            ))
    }

    fn no_rcd(&self, house: &House<'_>, sheet: &Sheet, way: u32, in_zone: bool) -> Finding {
        let what = format!(
            "without a 30 mA RCD, least without one is {}",
            self.limit.value
        );
        let mut finding = self.finding(house, sheet, way, &what);
        let Some(circuit) = self.circuit.map(|at| &house.plan.circuits[at]) else {
            return finding;
        };
        let at = circuit.protection.span().unwrap_or(circuit.span);
        finding = finding.with_on(&circuit.id).with_mark(at, "no `rcd-30ma`");
        // Where the zone is not known the RCD alone would leave a gap.
        let redline: Option<Redline> = house.fit_device(
            circuit,
            &circuit.protection,
            Protection::Rcd30,
            format!("put {} behind a 30 mA RCD", circuit.id),
        );
        finding.with_redline(redline.filter(|_| in_zone))
    }

    fn finding(&self, house: &House<'_>, sheet: &Sheet, way: u32, what: &str) -> Finding {
        let run = &house.plan.runs[self.index];
        let way = &house.plan.pathways[way as usize];
        let depth = run.depth.value().map_or(self.limit.value, |depth| **depth);
        let says = format!("{} lies {depth} deep in {} {what}", run.id, way.id);
        let at = run.depth.span().unwrap_or(run.span);
        sheet
            .finding(&run.id, says, at, "this near to the face of the wall")
            .with_on(&way.id)
            .with_authority(self.limit.authority.clone())
    }
}
