//! Devices that are fed over their data cable, and what feeds them.

use std::collections::HashMap;

use super::data::{CORD_GAUGE, DataChannel};
use super::kinds::is_passive;
use super::topology::{House, Node};
use crate::figures::conductor::{Material, OneWay, Stranding, one_way};
use crate::figures::line::{LoopResistance, Part};
use crate::figures::poe::leg;
use crate::findings::Lack;
use crate::plan::{Endpoint, Entry, Poe, Run, Service};
use crate::tables::poe::{Type, of_type};
use crate::units::{Distance, Volts, Watts, WireSize};

/// For an endpoint, the sources of power over the data cable of the least and of the greatest type that are in it or that
/// it is itself.
pub(super) type Held = HashMap<usize, [usize; 2]>;

/// A data channel by which a device is fed.
#[derive(Debug, Clone, Copy)]
pub struct PoeWay<'h, 'p> {
    pub device: &'p Entry<Endpoint>,
    pub channel: DataChannel<'h>,
    /// What states the supply.
    pub source: &'p Entry<Endpoint>,
    /// Type of the supply, and of the device.
    pub supplies: Type,
    pub takes: Type,
    /// Where sources of several types stand together and it is not known which feeds it, this way is that from the
    /// weakest.
    pub strongest: Option<Strongest<'p>>,
}

/// The strongest of several sources.
#[derive(Debug, Clone, Copy)]
pub struct Strongest<'p> {
    source: &'p Entry<Endpoint>,
    supplies: Type,
    /// What they stand in.
    within: &'p Entry<Endpoint>,
}

impl Strongest<'_> {
    /// What is missing to know which of them feeds the device.
    pub fn doubt(&self) -> Lack {
        Lack::absent(format!("which source in {} feeds it", self.within.id))
    }
}

/// The standard's numbers for a type.
pub fn poe_type(poe: Poe) -> Option<Type> {
    of_type(poe as u8 + 1)
}

fn kind_of(poe: Poe) -> Result<Type, Lack> {
    poe_type(poe).ok_or(Lack::Reported)
}

impl<'p> PoeWay<'_, 'p> {
    /// The same way from the strongest source that may feed it.
    #[must_use]
    pub fn at_best(&self) -> Self {
        let best = self.strongest.map_or((self.source, self.supplies), |best| {
            (best.source, best.supplies)
        });
        Self {
            source: best.0,
            supplies: best.1,
            ..*self
        }
    }

    /// Least voltage at the source.
    pub fn volts(&self) -> Volts {
        self.supplies.source_volts
    }

    /// What the source grants: what both types know.
    pub fn power(&self) -> Watts {
        let (supply, device) = (self.supplies.source_power, self.takes.source_power);
        if supply.base() < device.base() {
            supply
        } else {
            device
        }
    }

    /// Powered pairs, by the type that has fewer.
    pub fn pairs(&self) -> u8 {
        self.supplies.pairs.min(self.takes.pairs)
    }

    /// Pairs of the channel's thinnest cable.
    ///
    /// # Errors
    /// A stock or its cores are not stated.
    pub fn pairs_of_cable(&self, house: &House<'p>) -> Result<u8, Lack> {
        let mut pairs = u8::MAX;
        for run in self.channel.runs {
            let stock = house.want_stock(&house.plan.runs[*run])?;
            let cores = stock.cores.want("cores", &stock.id)?;
            pairs = pairs.min(u8::try_from(cores.count / 2).unwrap_or(u8::MAX));
        }
        Ok(pairs)
    }

    /// Resistance of the powered line, cords included, and the first of its runs without an ambient temperature, for which
    /// `celsius` is taken.
    ///
    /// # Errors
    /// A length, a stock or its cores are missing.
    pub fn line(
        &self,
        house: &House<'p>,
        celsius: f64,
    ) -> Result<(LoopResistance, Option<&'p Entry<Run>>), Lack> {
        self.line_as(house, celsius, |run, celsius| {
            house.wire(run, Service::Data, celsius)
        })
    }

    /// The same, where each run may be of another cable.
    ///
    /// # Errors
    /// A length is missing, or whatever keeps a conductor from being known.
    pub fn line_as(
        &self,
        house: &House<'p>,
        celsius: f64,
        wire: impl Fn(usize, f64) -> Result<OneWay, Lack>,
    ) -> Result<(LoopResistance, Option<&'p Entry<Run>>), Lack> {
        let (mut parts, mut cool) = (Vec::new(), None);
        for index in self.channel.runs {
            let run = &house.plan.runs[*index];
            if run.ambient.is_bad() {
                return Err(Lack::Reported);
            }
            if run.ambient.is_absent() {
                cool = cool.or(Some(run));
            }
            let celsius = run
                .ambient
                .value()
                .map_or(celsius, |ambient| ambient.base());
            let length = house.length(*index)?.distance();
            parts.push(self.part(length, wire(*index, celsius)?)?);
        }
        let cords = house.cords(&self.channel)?.length;
        if cords.base() > 0.0 {
            let size = WireSize::Awg(CORD_GAUGE);
            let cord = one_way(
                size,
                Material::Copper,
                Stranding::Stranded,
                super::DATA_CELSIUS,
            );
            parts.push(self.part(cords, cord.ok_or(Lack::Reported)?)?);
        }
        let line = LoopResistance::of(parts).ok_or(Lack::Reported)?;
        Ok((line, cool))
    }

    fn part(&self, length: Distance, wire: OneWay) -> Result<Part, Lack> {
        leg(length, wire, self.pairs()).ok_or(Lack::Reported)
    }
}

impl<'p> House<'p> {
    /// Endpoints that are fed over their data cable.
    pub fn poe_devices(&self) -> impl Iterator<Item = usize> + '_ {
        let endpoints = self.plan.endpoints.iter().enumerate();
        endpoints
            .filter(|(_, endpoint)| endpoint.poe.value().is_some())
            .map(|(at, _)| at)
    }

    fn poe_held(&self) -> &Held {
        self.poe_held.get_or_init(|| {
            let mut held = Held::new();
            let states = |at: usize| self.plan.endpoints[at].poe_supply.value().copied();
            let of = |at: usize| states(at).map(|poe| poe as u8);
            for source in 0..self.plan.endpoints.len() {
                if of(source).is_none() {
                    continue;
                }
                for host in self.hosts(source) {
                    let [least, most] = held.entry(host).or_insert([source; 2]);
                    if of(source) < of(*least) {
                        *least = source;
                    }
                    if of(source) > of(*most) {
                        *most = source;
                    }
                }
            }
            held
        })
    }

    /// The ways by which a device is fed: data channels with a source at their other end.
    ///
    /// # Errors
    /// No data run ends at it, or nothing is known to supply it at the other end of those that do.
    pub fn poe_ways(&self, device: usize) -> Result<Vec<PoeWay<'_, 'p>>, Lack> {
        let endpoint = &self.plan.endpoints[device];
        let takes = kind_of(**endpoint.poe.want("poe", &endpoint.id)?)?;
        let mut here = self.with_members(device);
        let mut runs = self.live_runs_at(device, Service::Data);
        // A camera in a box is fed by the run to the box, one without a run by that to the outlet beside it.
        let passive = |at: &usize| is_passive(&self.plan.endpoints[*at]) == Some(true);
        let has_own = !runs.is_empty();
        let next = self
            .beside()
            .of(device)
            .filter(|at| !has_own && passive(at));
        for host in self.hosts(device).skip(1).take_while(passive).chain(next) {
            here.push(host);
            let at_host = self.runs_at(Node::of_endpoint(host));
            let live =
                |run: &usize| self.service(*run) == Some(Service::Data) && !self.is_spare(*run);
            runs.extend(at_host.filter(live));
        }
        let (mut ways, mut lacks) = (Vec::new(), None);
        for run in runs {
            let Some(channel) = self.data_channel_of(run) else {
                // Its other end has been reported.
                lacks = lacks.or(self.ends(run).is_none().then_some(Lack::Reported));
                continue;
            };
            let is_here = |node: Node| node.endpoint().is_some_and(|at| here.contains(&at));
            let far = if is_here(channel.end) {
                channel.source
            } else {
                channel.end
            };
            match self.poe_supply(far) {
                Err(lack) => lacks = lacks.or(Some(lack)),
                Ok((source, supplies, strongest)) => ways.push(PoeWay {
                    device: endpoint,
                    channel,
                    source,
                    supplies,
                    takes,
                    strongest,
                }),
            }
        }
        if ways.is_empty() {
            // A run that is not known to carry data may be the one.
            let known = self
                .runs_at(Node::of_endpoint(device))
                .try_for_each(|run| self.want_service(run).map(|_| ()));
            let no_run = || Lack::absent(format!("a data run to {}", endpoint.id));
            return Err(lacks.or(known.err()).unwrap_or_else(no_run));
        }
        Ok(ways)
    }

    /// What supplies at the far end of a channel: the thing itself, what it stands in, or what stands there with it; of
    /// several the weakest, and the strongest beside it.
    fn poe_supply(
        &self,
        far: Node,
    ) -> Result<(&'p Entry<Endpoint>, Type, Option<Strongest<'p>>), Lack> {
        let endpoints = &self.plan.endpoints;
        let at = far.endpoint().ok_or(Lack::Reported)?;
        let mut outermost = at;
        for host in self.hosts(at) {
            outermost = host;
            let endpoint = &endpoints[host];
            if endpoint.poe_supply.is_bad() {
                return Err(Lack::Reported);
            }
            if let Some(own) = endpoint.poe_supply.value() {
                return Ok((endpoint, kind_of(*own)?, None));
            }
            if let Some(held) = self.poe_held().get(&host) {
                let [least, most] = held.map(|source| &endpoints[source]);
                let of = |source: &'p Entry<Endpoint>| {
                    kind_of(**source.poe_supply.want("poe-supply", &source.id)?)
                };
                let strongest = Strongest {
                    source: most,
                    supplies: of(most)?,
                    within: endpoint,
                };
                let several = held[0] != held[1];
                return Ok((least, of(least)?, several.then_some(strongest)));
            }
        }
        Err(Lack::absent(format!(
            "poe-supply of {}",
            endpoints[outermost].id
        )))
    }
}
