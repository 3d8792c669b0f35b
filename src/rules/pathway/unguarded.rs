//! Cables in a hole near the edge of the frame, or in a notch, without a steel plate.

use std::cell::OnceCell;

use serde::Deserialize;

use crate::findings::{Finding, Lack, Level, Report, Shown};
use crate::house::{Edge, Framed, House, edge_of};
use crate::plan::{Entry, Field, Framing, Member, Pathway, Region, Stated, YesNo};
use crate::rules::{Limit, Sheet};
use crate::tables::framing::plate_thickness;
use crate::units::{Distance, figure3};
use crate::yaml::NodeId;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    /// Least wood between a hole with power in it and the edge.
    power: Limit<Distance>,
    /// The same in a joist, where a region's rule is about joists alone.
    power_in_joist: Limit<Distance>,
    /// For what carries no power.
    signal: Limit<Distance>,
}

/// A rounding between inches and millimetres.
const ROUNDING: f64 = 1e-9;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    let Ok(region) = house.region() else { return };
    for (index, way) in house.plan.pathways.iter().enumerate() {
        if way.is_raceway() || way.framing.is_bad() || house.runs_in(index).is_empty() {
            continue;
        }
        let case = Case {
            house,
            sheet,
            limits,
            region,
            way,
            nodes: OnceCell::new(),
        };
        match case.way.framing.value() {
            Some(framing) => {
                let framed = house.framed(index, false);
                if framed.passed {
                    case.judge(&framing.0, &framed, out);
                }
            }
            None => case.unframed(index, out),
        }
    }
}

struct Case<'a, 'p> {
    house: &'a House<'p>,
    sheet: &'a Sheet,
    limits: &'a Limits,
    region: Region,
    way: &'a Entry<Pathway>,
    /// Its entries of `framing` in the text, looked for once one is at fault.
    nodes: OnceCell<Vec<NodeId>>,
}

/// What brings a nail near.
enum Danger {
    Notch,
    Hole(Edge),
}

impl Case<'_, '_> {
    /// A pathway that does not say how it is bored: only a wall, floor or ceiling is asked.
    fn unframed(&self, index: usize, out: &mut Report) {
        let (id, way) = (self.sheet.id, self.way);
        match way.kind.want("kind", &way.id) {
            Ok(kind) if !House::is_framed(**kind) => return,
            Ok(_) => {}
            Err(lack) => return out.gap(id, &way.id, lack),
        }
        let framed = self.house.framed(index, true);
        if framed.power.is_some() || framed.signal.is_some() {
            out.gap(id, &way.id, Lack::absent(format!("framing of {}", way.id)));
        } else if let Some(lack) = framed.lack {
            out.gap(id, &way.id, lack);
        } else if framed.passed {
            out.checked();
        }
    }

    fn judge(&self, entries: &[Stated<Framing>], framed: &Framed, out: &mut Report) {
        let (id, way) = (self.sheet.id, self.way);
        // What lacks is told once for all holes of a pathway.
        let mut lacks: Vec<Lack> = Vec::new();
        let bare = framed.power.is_some() || framed.signal.is_some();
        if !bare {
            match &framed.lack {
                Some(lack) => lacks.push(lack.clone()),
                None => out.checked(),
            }
        }
        if bare && entries.is_empty() {
            out.checked();
        }
        for (nth, entry) in entries.iter().enumerate().filter(|_| bare) {
            match self.entry(nth, entry, framed, &mut lacks) {
                Ok(finding) => {
                    out.checked();
                    if let Some(finding) = finding {
                        out.find(finding);
                    }
                }
                Err(lack) => lacks.push(lack),
            }
        }
        for (at, lack) in lacks.iter().enumerate() {
            if lacks[..at].contains(lack) {
                continue;
            }
            if framed.power.is_some() {
                out.loud_gap(id, &way.id, lack.clone());
            } else {
                out.gap(id, &way.id, lack.clone());
            }
        }
    }

    fn entry(
        &self,
        nth: usize,
        entry: &Stated<Framing>,
        framed: &Framed,
        lacks: &mut Vec<Lack>,
    ) -> Result<Option<Finding>, Lack> {
        let guarded = entry.guarded.or(YesNo(false))?;
        if guarded.0 {
            return Ok(None);
        }
        let of = |what: &str| Lack::absent(format!("{what} of {}", self.way.id));
        let unread = entry.notch.is_bad()
            || entry.hole.is_bad()
            || entry.edge.is_bad()
            || entry.depth.is_bad();
        let danger = match edge_of(entry) {
            _ if entry.notch.value().is_some() => Danger::Notch,
            Some(edge) => Danger::Hole(edge),
            None if unread => return Err(Lack::Reported),
            None if entry.hole.is_absent() => return Err(of("hole or notch in the framing")),
            None => return Err(of("edge of a hole in the framing")),
        };
        if let Some(run) = framed.power {
            match self.power_limit(&entry.member) {
                Ok(limit) => {
                    let hazard = self.against(nth, entry, &danger, limit, (run, Level::Hazard))?;
                    if hazard.is_some() {
                        return Ok(hazard);
                    }
                }
                // What carries no power may still be told.
                Err(lack) if framed.signal.is_some() => lacks.push(lack),
                Err(lack) => return Err(lack),
            }
        }
        match framed.signal {
            Some(run) => {
                let level = self.limits.signal.level.unwrap_or(self.sheet.level);
                self.against(nth, entry, &danger, &self.limits.signal, (run, level))
            }
            None => Ok(None),
        }
    }

    fn power_limit(&self, member: &Field<Member>) -> Result<&Limit<Distance>, Lack> {
        let Limits {
            power,
            power_in_joist,
            ..
        } = self.limits;
        let region = self.region;
        if power.holds_in(region) {
            return Ok(power);
        }
        if power_in_joist.holds_in(region) {
            let member = member.want("member in the framing", &self.way.id)?;
            if matches!(
                **member,
                Member::Joist | Member::Rafter | Member::EngineeredJoist
            ) {
                return Ok(power_in_joist);
            }
        }
        Err(Lack::absent(format!(
            "a limit for {region} on power in the framing of {}",
            self.way.id
        )))
    }

    /// The finding where the danger is too near for what a run carries.
    fn against(
        &self,
        nth: usize,
        entry: &Stated<Framing>,
        danger: &Danger,
        limit: &Limit<Distance>,
        (run, level): (usize, Level),
    ) -> Result<Option<Finding>, Lack> {
        let allowed = limit.value.base();
        let edge = match danger {
            Danger::Hole(edge) if edge.metres < allowed - ROUNDING => Some(edge),
            Danger::Hole(edge) if edge.at_most => {
                return Err(Lack::absent(format!(
                    "edge of a hole in the framing of {}",
                    self.way.id
                )));
            }
            Danger::Hole(_) => return Ok(None),
            Danger::Notch => None,
        };
        let (house, way) = (self.house, self.way);
        let run = &house.plan.runs[run];
        let member = entry
            .member
            .value()
            .map_or("framing member", |member| member.word());
        let says = match edge {
            Some(edge) => {
                let enough = edge.shown.same_unit(limit.value.quantity());
                format!(
                    "{} takes {} through a {member} {} from its edge without a steel plate, {} {} needs none",
                    way.id,
                    run.id,
                    edge.says(),
                    figure3(enough.number()),
                    enough.unit().spelling,
                )
            }
            None => format!(
                "{} takes {} through a notch in a {member} without a steel plate",
                way.id, run.id
            ),
        };
        let (span, label) = match danger {
            Danger::Notch => (entry.notch.span(), "this notch"),
            Danger::Hole(_) => (entry.edge.span().or(entry.hole.span()), "near the edge"),
        };
        let mut finding = self
            .sheet
            .finding(&way.id, says, span.unwrap_or(entry.span), label)
            .with_on(&run.id)
            .with_mark(run.through.span().unwrap_or(run.span), "passes here")
            .with_authority(limit.authority.clone());
        finding.level = level;
        if let Some(edge) = edge {
            let figure = Shown {
                name: "edge-distance",
                value: edge.metres * 1000.0,
                unit: "mm",
                working: edge.working(),
            };
            finding = finding.with_figure(figure, allowed * 1000.0);
        }
        let edit = match &entry.guarded {
            Field::Absent => {
                let nodes = self.nodes.get_or_init(|| house.framing_nodes(way));
                let node = nodes.get(nth).copied();
                node.and_then(|node| house.framing_edit(way, node, "guarded", "yes"))
            }
            // A stated word is replaced where it stands.
            stated => house.edit(way, stated, "guarded", "yes"),
        };
        let plate =
            plate_thickness().map_or_else(String::new, |plate| format!(" of {plate} or more"));
        let advice = match danger {
            Danger::Notch => format!("nail a steel plate{plate} over the notch"),
            Danger::Hole(_) => format!(
                "nail a steel plate{plate} over the edge that the hole is near, or bore again in the middle"
            ),
        };
        let finding = finding.with_put_right(advice);
        Ok(Some(finding.with_redline(house.change(
            format!("guard the {member} of {} with a steel plate", way.id),
            edit,
        ))))
    }
}
