//! Constant-voltage loudspeaker lines: which they are, and what load a tapped speaker is on one.

use super::channel::Line;
use super::kinds::is_passive_speaker;
use super::topology::House;
use crate::figures::constant_voltage::tap_impedance;
use crate::findings::{Id, Lack};
use crate::plan::{Endpoint, Entry, Field, Positive};
use crate::units::{Ohms, VoltageDim, Volts};

/// What feeds a constant-voltage line: the nominal voltage, where the amplifier's side states it.
#[derive(Debug)]
pub struct Supply<'p> {
    volts: &'p Field<Positive<VoltageDim>>,
    source: &'p Id,
}

impl<'p> House<'p> {
    /// What feeds a line of constant voltage: one from a source with `line-volts`, or with a
    /// speaker on it that has a `tap` or `line-volts`. `None` for an ordinary speaker line.
    pub fn constant_voltage(&self, line: &Line) -> Option<Supply<'p>> {
        let stated = |endpoint: &&'p Entry<Endpoint>| !endpoint.line_volts.is_absent();
        let source = line.source.endpoint().and_then(|at| {
            let hosts = self.hosts(at).map(|host| &self.plan.endpoints[host]);
            hosts
                .filter(|host| !is_passive_speaker(host))
                .find(|host| stated(host))
        });
        let tapped = || {
            let ends = line.steps.iter().filter_map(|step| self.endpoint(step.end));
            ends.into_iter()
                .any(|end| !end.tap.is_absent() || stated(&end))
        };
        if source.is_none() && !tapped() {
            return None;
        }
        static ABSENT: Field<Positive<VoltageDim>> = Field::Absent;
        Some(Supply {
            volts: source.map_or(&ABSENT, |source| &source.line_volts),
            source: self.id(line.source),
        })
    }

    /// Whether an end of a run says by itself that the run is of a constant-voltage line.
    pub fn is_tapped(&self, run: usize) -> bool {
        self.ends_at(run, |end| {
            !end.tap.is_absent() || !end.line_volts.is_absent()
        })
    }

    /// Impedance of a passive speaker on a line: its nominal one, or that of its tap.
    ///
    /// # Errors
    /// The impedance, the tap or the line's voltage is missing.
    pub fn speaker_load(
        &self,
        speaker: &Entry<Endpoint>,
        supply: Option<&Supply<'_>>,
    ) -> Result<Ohms, Lack> {
        let Some(supply) = supply else {
            return Ok(**speaker.impedance.want("impedance", &speaker.id)?.to_owned());
        };
        let tap = speaker.tap.want("tap", &speaker.id)?;
        tap_impedance(self.line_volts(speaker, supply)?, ***tap).ok_or(Lack::Reported)
    }

    /// The nominal voltage of a constant-voltage line at a speaker: its own word, else the source's.
    ///
    /// # Errors
    /// Neither states it.
    pub fn line_volts(
        &self,
        speaker: &Entry<Endpoint>,
        supply: &Supply<'_>,
    ) -> Result<Volts, Lack> {
        let own = &speaker.line_volts;
        let volts = if own.is_absent() { supply.volts } else { own };
        Ok(***volts.want("line-volts", supply.source)?)
    }
}
