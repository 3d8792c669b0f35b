//! Where the treble of an analogue line begins to fall.

use super::channel::Line;
use super::kinds::{is_active, is_passive};
use super::topology::{House, Node};
use crate::figures::corner::{CornerFrequency, Stretch};
use crate::findings::{Id, Lack};
use crate::plan::EndpointKind;
use crate::units::Ohms;

/// What a line leads to.
#[derive(Debug, Clone, PartialEq)]
pub enum Heard {
    /// Subwoofers only, which have no treble to lose.
    Bass,
    /// Something that is no subwoofer, among others.
    Whole,
    /// It cannot be told.
    Unknown(Lack),
}

impl<'p> House<'p> {
    /// What the far ends of a line are to its treble.
    pub fn heard(&self, line: &Line) -> Heard {
        let mut goes_on = vec![false; line.steps.len()];
        for before in line.steps.iter().filter_map(|step| step.before) {
            goes_on[before as usize] = true;
        }
        let mut heard = Heard::Bass;
        for (step, _) in line.steps.iter().zip(goes_on).filter(|(_, on)| !on) {
            let Some(index) = step.end.endpoint() else {
                continue;
            };
            let kind = |at: usize| self.plan.endpoints[at].kind.value();
            if self
                .hosts(index)
                .any(|at| kind(at) == Some(&EndpointKind::Subwoofer))
            {
                continue;
            }
            let end = &self.plan.endpoints[index];
            match end.kind.want("kind", &end.id) {
                Err(lack) => heard = Heard::Unknown(lack),
                Ok(_) if is_passive(end) == Some(true) && self.joins(step.end, line.service) => {
                    heard = Heard::Unknown(Lack::absent(format!("what {} leads to", end.id)));
                }
                Ok(_) => return Heard::Whole,
            }
        }
        heard
    }

    /// The corner of a line: its source's output against all the cable that hangs on it, which is
    /// the cable of every branch.
    ///
    /// # Errors
    /// Everything that is missing, each with the thing that lacks it: never empty.
    pub fn corner(&self, line: &Line) -> Result<CornerFrequency, Vec<(&'p Id, Lack)>> {
        let first = &self.plan.runs[line.steps[0].run as usize].id;
        if let Err(lack) = self.follow(line) {
            return Err(vec![(first, lack)]);
        }
        let mut lacks = Vec::new();
        let source = self.output_impedance(line.source, first);
        let mut cables = Vec::with_capacity(line.steps.len());
        for step in &line.steps {
            let run = &self.plan.runs[step.run as usize];
            let capacitance = self
                .want_stock(run)
                .map_err(|lack| (&run.id, lack))
                .and_then(|stock| {
                    let stated = stock.capacitance.want("capacitance", &stock.id);
                    stated.map_err(|lack| (&stock.id, lack))
                });
            let length = self.length(step.run as usize);
            match (capacitance, length) {
                (Ok(capacitance), Ok(length)) => cables.push(Stretch {
                    length: length.distance(),
                    capacitance: capacitance.value.0,
                }),
                (capacitance, length) => {
                    lacks.extend(capacitance.err());
                    lacks.extend(length.err().map(|lack| (&run.id, lack)));
                }
            }
        }
        match source {
            Err(lack) => lacks.insert(0, lack),
            Ok(source) if lacks.is_empty() => {
                let none = || Lack::absent(format!("a capacitance above zero on {first}"));
                return CornerFrequency::of(source, cables).ok_or_else(|| vec![(first, none())]);
            }
            Ok(_) => {}
        }
        Err(lacks)
    }

    /// Output impedance of what stands at the start of a line: of the endpoint itself, or the
    /// nearest that it stands in which states one.
    fn output_impedance(&self, source: Node, run: &'p Id) -> Result<Ohms, (&'p Id, Lack)> {
        let Some(index) = source.endpoint() else {
            return Err((run, Lack::Reported));
        };
        let mut hosts = self.hosts(index).map(|at| &self.plan.endpoints[at]);
        if let Some(stated) = hosts.find(|host| !host.output_impedance.is_absent()) {
            let stated = stated.output_impedance.want("output-impedance", &stated.id);
            return stated
                .map(|stated| stated.value.0)
                .map_err(|lack| (run, lack));
        }
        let mut hosts = self.hosts(index).map(|at| &self.plan.endpoints[at]);
        match hosts.find(|host| is_active(host) || host.kind.is_absent()) {
            Some(host) => Err((
                &host.id,
                Lack::absent(format!("output-impedance of {}", host.id)),
            )),
            None => Err((run, Lack::absent(format!("a device that {run} comes from")))),
        }
    }
}
