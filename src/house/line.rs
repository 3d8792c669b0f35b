//! Figures of signal lines: loop resistance, its share of the load, length of a channel.

use super::channel::{Channel, Line};
use super::kinds::is_passive_speaker;
use super::topology::{House, Node};
use crate::figures::conductor::{self, OneWay, one_way};
use crate::figures::line::{LineLoss, LoopResistance, LoopShare, Part, Segment, parallel};
use crate::figures::route::RouteLength;
use crate::figures::tied::EquivalentSize;
use crate::findings::Lack;
use crate::plan::{Conductor, Entry, Material, Service, Stock};
use crate::units::{Ohms, WireSize};

/// Signal cable is reckoned at room temperature, in degrees Celsius.
pub const SIGNAL_CELSIUS: f64 = 20.0;

/// Loop resistance of a speaker channel, and the impedances beyond each of its runs.
#[derive(Debug)]
pub struct ChannelLoop {
    pub segments: Vec<Segment>,
}

impl ChannelLoop {
    pub fn share(&self) -> Result<LoopShare, Lack> {
        LoopShare::of(self.segments.clone()).ok_or(Lack::Reported)
    }

    pub fn loss(&self) -> Result<LineLoss, Lack> {
        LineLoss::of(self.segments.clone()).ok_or(Lack::Reported)
    }
}

/// Two loads in parallel, where either may be none or unknown.
fn beside(
    a: Result<Option<Ohms>, Lack>,
    b: Result<Option<Ohms>, Lack>,
) -> Result<Option<Ohms>, Lack> {
    Ok(match (a?, b?) {
        (Some(a), Some(b)) => Some(parallel([a, b]).ok_or(Lack::Reported)?),
        (a, b) => a.or(b),
    })
}

impl<'p> House<'p> {
    /// The physics' word for a stock's material; copper unless it says otherwise.
    ///
    /// # Errors
    /// A value that could not be read.
    pub fn material(&self, stock: &Stock) -> Result<conductor::Material, Lack> {
        Ok(match stock.material.or(Material::Copper)? {
            Material::Copper => conductor::Material::Copper,
            Material::Aluminium => conductor::Material::Aluminium,
            Material::CopperCladAluminium => conductor::Material::CopperCladAluminium,
        })
    }

    /// Whether a stock's conductors are of copper, as they are taken to be where the plan does not say.
    pub fn is_taken_as_copper(&self, stock: &Stock) -> bool {
        stock
            .material
            .value()
            .is_none_or(|material| *material == Material::Copper)
    }

    /// How a stock's conductors are made up. Unless the stock says so: fine strands where it is
    /// flexible, building wire up to 10 AWG (and metric up to 4 mm2) solid, other cable stranded.
    ///
    /// # Errors
    /// A value that could not be read.
    pub fn stranding(&self, stock: &Stock, service: Service) -> Result<conductor::Stranding, Lack> {
        if stock.flexible.is_bad() || stock.conductor.is_bad() {
            return Err(Lack::Reported);
        }
        if stock.flexible.value().is_some_and(|flexible| flexible.0) {
            return Ok(conductor::Stranding::Flexible);
        }
        Ok(match stock.conductor.value() {
            Some(Conductor::Solid) => conductor::Stranding::Solid,
            Some(Conductor::Stranded) => conductor::Stranding::Stranded,
            None if service == Service::Power => {
                match stock.cores.value().map(|cores| cores.size) {
                    Some(WireSize::Awg(n)) if n >= 10 => conductor::Stranding::Solid,
                    Some(WireSize::Metric(area)) if area <= 4.0 => conductor::Stranding::Solid,
                    _ => conductor::Stranding::Stranded,
                }
            }
            None => conductor::Stranding::Stranded,
        })
    }

    /// One conductor of a run at a temperature.
    ///
    /// # Errors
    /// The run's stock or the stock's cores are not stated.
    pub fn wire(&self, run: usize, service: Service, celsius: f64) -> Result<OneWay, Lack> {
        let stock = self.want_stock(&self.plan.runs[run])?;
        self.wire_of(stock, service, celsius)
    }

    /// One conductor of a stock at a temperature.
    ///
    /// # Errors
    /// The stock's cores are not stated.
    pub fn wire_of(
        &self,
        stock: &Entry<Stock>,
        service: Service,
        celsius: f64,
    ) -> Result<OneWay, Lack> {
        let cores = stock.cores.want("cores", &stock.id)?;
        let stranding = self.stranding(stock, service)?;
        one_way(cores.size, self.material(stock)?, stranding, celsius).ok_or(Lack::Reported)
    }

    /// A run as a part of a line, with its tied cores.
    ///
    /// # Errors
    /// Length, stock or cores are missing.
    pub fn part(&self, run: usize, service: Service, celsius: f64) -> Result<Part, Lack> {
        let wire = self.wire(run, service, celsius)?;
        let length = self.length(run)?.distance();
        let tied = self.plan.runs[run].tie.or(crate::plan::Count(1))?.0;
        Ok(Part {
            length,
            wire,
            tied: u8::try_from(tied).unwrap_or(u8::MAX),
        })
    }

    /// Out-and-back resistance of runs in series.
    ///
    /// # Errors
    /// Any of them lacks length, stock or cores.
    pub fn loop_resistance(
        &self,
        runs: &[usize],
        service: Service,
        celsius: f64,
    ) -> Result<LoopResistance, Lack> {
        let parts: Result<Vec<_>, _> = runs
            .iter()
            .map(|run| self.part(*run, service, celsius))
            .collect();
        LoopResistance::of(parts?).ok_or(Lack::Reported)
    }

    /// Length of runs in series.
    ///
    /// # Errors
    /// Any of them has no length and none can be estimated.
    pub fn channel_length(&self, runs: &[usize]) -> Result<RouteLength, Lack> {
        if let [run] = runs {
            return self.length(*run).cloned();
        }
        let lengths: Result<Vec<_>, _> =
            runs.iter().map(|run| self.length(*run).cloned()).collect();
        RouteLength::channel(&lengths?).ok_or(Lack::Reported)
    }

    /// A speaker channel's segments with the impedance of the speakers beyond each, which is
    /// [`Self::beyond`] of its line.
    ///
    /// # Errors
    /// A tangled line, a missing length, stock, core or impedance, or a far end that is no speaker.
    pub fn speaker_loop(
        &self,
        channel: &Channel<'_>,
        beyond: &[Result<Ohms, Lack>],
    ) -> Result<ChannelLoop, Lack> {
        self.follow(channel.line)?;
        self.loop_alone(channel, beyond)
    }

    /// The same for a channel taken by itself, whatever else is in its line.
    ///
    /// # Errors
    /// A missing length, stock, core or impedance, or a far end that is no speaker.
    pub(super) fn loop_alone(
        &self,
        channel: &Channel<'_>,
        beyond: &[Result<Ohms, Lack>],
    ) -> Result<ChannelLoop, Lack> {
        let end = self
            .endpoint(channel.end)
            .filter(|end| is_passive_speaker(end));
        if end.is_none() {
            return Err(Lack::absent(format!(
                "a speaker at the end of {}",
                self.plan.runs[channel.runs[channel.runs.len() - 1]].id
            )));
        }
        let mut segments = Vec::with_capacity(channel.steps.len());
        for (step, run) in channel.steps.iter().zip(&channel.runs) {
            let part = self.part(*run, Service::Speaker, SIGNAL_CELSIUS)?;
            segments.push(Segment {
                part,
                beyond: beyond[*step].clone()?,
            });
        }
        Ok(ChannelLoop { segments })
    }

    /// Impedance of all speakers beyond each run of a line, in parallel: nominal, or that of their
    /// taps on a constant-voltage line. Cable beyond is left out.
    /// One pass from the far ends inwards, so that a chain of any length stays linear.
    pub fn beyond(&self, line: &Line) -> Vec<Result<Ohms, Lack>> {
        let supply = self.constant_voltage(line);
        let mut sums: Vec<Result<Option<Ohms>, Lack>> = vec![Ok(None); line.steps.len()];
        for at in (0..line.steps.len()).rev() {
            if let Some(speaker) = self
                .endpoint(line.steps[at].end)
                .filter(|end| is_passive_speaker(end))
            {
                let own = self.speaker_load(speaker, supply.as_ref());
                sums[at] = beside(std::mem::replace(&mut sums[at], Ok(None)), own.map(Some));
            }
            if let Some(before) = line.steps[at].before {
                let this = sums[at].clone();
                let that = std::mem::replace(&mut sums[before as usize], Ok(None));
                sums[before as usize] = beside(that, this);
            }
        }
        let none = |run: u32| {
            Lack::absent(format!(
                "a speaker beyond {}",
                self.plan.runs[run as usize].id
            ))
        };
        sums.into_iter()
            .zip(&line.steps)
            .map(|(sum, step)| sum?.ok_or_else(|| none(step.run)))
            .collect()
    }

    /// What the tied cores of a run amount to; none where nothing is tied.
    ///
    /// # Errors
    /// The stock or its cores are missing.
    pub fn equivalent_size(&self, run: usize) -> Result<Option<EquivalentSize>, Lack> {
        let run = &self.plan.runs[run];
        let tied = run.tie.or(crate::plan::Count(1))?.0;
        if tied < 2 {
            return Ok(None);
        }
        let stock: &Entry<Stock> = self.want_stock(run)?;
        let cores = stock.cores.want("cores", &stock.id)?;
        Ok(EquivalentSize::of(
            cores.size,
            u8::try_from(tied).unwrap_or(u8::MAX),
        ))
    }

    /// Where a channel ends, as an id.
    pub fn end_id(&self, channel: &Channel<'_>) -> &'p crate::findings::Id {
        self.id(channel.end)
    }

    /// The node at the other end of a run.
    pub fn other_end(&self, run: usize, node: Node) -> Option<Node> {
        let (from, to) = self.ends(run)?;
        Some(if from == node { to } else { from })
    }
}
