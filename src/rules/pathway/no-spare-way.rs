//! A projector, display, powered screen or rack that no later cable can be pulled to.

use std::collections::HashMap;

use crate::findings::{Finding, Lack, Report};
use crate::house::{Beside, House, Node};
use crate::plan::{EndpointKind as Kind, PathwayKind, Region};
use crate::rules::Sheet;

pub use crate::rules::FillLimits as Limits;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    let Ok(region) = house.region() else { return };
    let mut ways = Ways {
        house,
        limits,
        region,
        beside: house.beside(),
        ends: house.conduit_ends(),
        room: HashMap::new(),
    };
    for (index, endpoint) in house.plan.endpoints.iter().enumerate() {
        if !ways.is_concerned(index) {
            continue;
        }
        match ways.spare_at(index) {
            Err(lack) => out.gap(sheet.id, &endpoint.id, lack),
            Ok(spare) => {
                out.checked();
                if let Spare::None { full } = spare {
                    out.find(finding(house, sheet, index, full));
                }
            }
        }
    }
}

enum Spare {
    Way,
    /// There is none; this conduit ends there and is full.
    None {
        full: Option<usize>,
    },
}

struct Ways<'h, 'p> {
    house: &'h House<'p>,
    limits: &'h Limits,
    region: Region,
    beside: &'h Beside,
    ends: Vec<Vec<u32>>,
    /// Whether a conduit has room, looked up once.
    room: HashMap<usize, Result<bool, Lack>>,
}

impl Ways<'_, '_> {
    /// What stands in a rack is reached by way of the rack, which counts once.
    fn is_concerned(&self, index: usize) -> bool {
        let kind = |at: usize| self.house.plan.endpoints[at].kind.value();
        match kind(index) {
            Some(Kind::Projector | Kind::Display | Kind::Rack) => {}
            Some(Kind::Screen) if self.house.is_powered_screen(index, self.beside) => {}
            _ => return false,
        }
        self.house
            .hosts(index)
            .skip(1)
            .all(|host| host == index || kind(host) != Some(&Kind::Rack))
    }

    fn spare_at(&mut self, index: usize) -> Result<Spare, Lack> {
        let house = self.house;
        let landings = house.landings(index, self.beside);
        let runs = |at: &usize| house.runs_at(Node::of_endpoint(*at));
        if landings
            .iter()
            .flat_map(runs)
            .any(|run| house.is_spare(run))
        {
            return Ok(Spare::Way);
        }
        if self.shows_by_lines_in_the_open(index) {
            return Ok(Spare::Way);
        }
        let (mut full, mut lack) = (None, None);
        let conduits: Vec<u32> = landings
            .iter()
            .flat_map(|at| &self.ends[*at])
            .copied()
            .collect();
        for conduit in conduits {
            match self.has_room(conduit as usize) {
                Ok(true) => return Ok(Spare::Way),
                Ok(false) => full = Some(conduit as usize),
                Err(missing) => lack = lack.or(Some(missing)),
            }
        }
        // A conduit on the way of a run that ends here may end here too, if it does not say where.
        for way in landings
            .iter()
            .flat_map(runs)
            .flat_map(|run| house.passes(run))
        {
            let way = &house.plan.pathways[*way as usize];
            if lack.is_none() && way.kind.value() == Some(&PathwayKind::Conduit) {
                let ends = way
                    .from
                    .want("from", &way.id)
                    .and(way.to.want("to", &way.id));
                lack = ends.err();
            }
        }
        lack.map_or(Ok(Spare::None { full }), Err)
    }

    /// Whether the picture comes in the open alone: a later line can be laid beside it.
    fn shows_by_lines_in_the_open(&self, index: usize) -> bool {
        let house = self.house;
        if house.plan.endpoints[index].kind.value() == Some(&Kind::Rack) {
            return false;
        }
        let lines = house.display_lines(index, self.beside).runs;
        let open = |run: &usize| house.is_in_the_open(*run) == Ok(true);
        !lines.is_empty() && lines.iter().all(open)
    }

    fn has_room(&mut self, conduit: usize) -> Result<bool, Lack> {
        let Self {
            house,
            limits,
            region,
            room,
            ..
        } = self;
        let compute = || {
            if house.runs_in(conduit).is_empty() {
                return Ok(true);
            }
            let filling = house.filling(conduit)?;
            // Signal cable may not join power in a conduit.
            if filling.has_power {
                return Ok(false);
            }
            limits.has_room(&house.plan.pathways[conduit], &filling, *region)
        };
        room.entry(conduit).or_insert_with(compute).clone()
    }
}

fn finding(house: &House<'_>, sheet: &Sheet, index: usize, full: Option<usize>) -> Finding {
    let endpoint = &house.plan.endpoints[index];
    let says = match full {
        Some(_) => format!(
            "{} has no spare run, and no conduit that ends at it has room for one more cable",
            endpoint.id
        ),
        None => format!(
            "{} has no spare run, and no conduit ends at it",
            endpoint.id
        ),
    };
    let finding = sheet.finding(
        &endpoint.id,
        says,
        endpoint.span,
        "no way for another cable",
    );
    match full.map(|full| &house.plan.pathways[full]) {
        Some(full) => finding
            .with_on(&full.id)
            .with_mark(full.span, "no room in this one"),
        None => finding,
    }
}
