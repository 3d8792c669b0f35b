//! Every figure of a plan, for whoever wants them all.

use super::line::SIGNAL_CELSIUS;
use super::topology::House;
use crate::figures::Figure;
use crate::findings::{Gap, Id, Lack};
use crate::plan::Service;
use crate::units::figure3;

/// One computed figure.
#[derive(Debug, Clone, PartialEq)]
pub struct Quantity {
    /// Its name in the table of figures.
    pub figure: &'static str,
    /// What it is a figure of; a channel is the runs from its source on.
    pub on: Vec<Id>,
    /// In `unit`.
    pub value: f64,
    pub unit: &'static str,
    pub working: String,
    /// A length in it is estimated.
    pub estimated: bool,
}

/// Collects figures, and what keeps others from being computed.
pub(super) struct Collector<'h, 'p> {
    pub(super) house: &'h House<'p>,
    pub(super) quantities: Vec<Quantity>,
    gaps: Vec<Gap>,
}

impl House<'_> {
    /// Every figure that the plan allows, and for the rest what is missing. `compression` is the
    /// ratio that a compressed picture is taken to have, if it is known; `rise`, in kelvin, what the
    /// air that cools a rack may warm up by.
    pub fn quantities(
        &self,
        compression: Result<f64, Lack>,
        rise: Result<f64, Lack>,
    ) -> (Vec<Quantity>, Vec<Gap>) {
        let mut all = Collector {
            house: self,
            quantities: Vec::new(),
            gaps: Vec::new(),
        };
        all.runs();
        all.channels();
        all.coax();
        all.data();
        all.separations();
        all.fed();
        all.corners();
        all.circuits();
        all.conduits();
        all.pictures(compression);
        all.throws();
        all.seats();
        all.loudspeakers();
        all.rack_rooms(rise);
        (all.quantities, all.gaps)
    }
}

impl Collector<'_, '_> {
    pub(super) fn add<F: Figure>(&mut self, on: Vec<Id>, estimated: bool, figure: Result<F, Lack>) {
        match figure {
            Ok(figure) => self.quantities.push(Quantity {
                figure: F::NAME,
                on,
                value: figure.value(),
                unit: F::UNIT,
                working: figure.working(),
                estimated,
            }),
            Err(lack) => self.lacks(F::NAME, on, lack),
        }
    }

    pub(super) fn lacks(&mut self, figure: &'static str, on: Vec<Id>, lack: Lack) {
        if let Lack::Absent(what) = lack {
            self.gaps.push(Gap {
                rule: figure,
                on,
                lacks: what.into_owned(),
                loud: false,
            });
        }
    }

    pub(super) fn estimated(&self, runs: &[usize]) -> bool {
        runs.iter().any(|run| {
            self.house
                .length(*run)
                .is_ok_and(|length| length.is_estimated())
        })
    }

    fn runs(&mut self) {
        let house = self.house;
        for (index, run) in house.plan.runs.iter().enumerate() {
            let on = || vec![run.id.clone()];
            let estimated = self.estimated(&[index]);
            self.add(on(), estimated, house.length(index).cloned());
            let celsius = match house.service(index) {
                Some(Service::Speaker | Service::Data) => Ok(SIGNAL_CELSIUS),
                Some(Service::Power) => house.power_celsius(),
                _ => continue,
            };
            let service = house.service(index).unwrap_or(Service::Power);
            let resistance =
                celsius.and_then(|celsius| house.loop_resistance(&[index], service, celsius));
            self.add(on(), estimated, resistance);
            if let Some(figure) = house.equivalent_size(index).transpose() {
                if let Ok(figure) = &figure {
                    self.quantities.push(Quantity {
                        figure: "equivalent-size",
                        on: on(),
                        value: figure.awg(),
                        unit: "AWG",
                        working: format!("{} = {} AWG", figure.working(), figure3(figure.awg())),
                        estimated: false,
                    });
                }
                self.add(on(), false, figure);
            }
        }
    }

    fn channels(&mut self) {
        let house = self.house;
        // Data runs do not branch: their channels are others ([`Self::data`]).
        let lines = house.lines().lines.iter();
        for line in lines.filter(|line| line.service != Service::Data) {
            let beyond = (line.service == Service::Speaker).then(|| house.beyond(line));
            for channel in line.channels() {
                let on = || {
                    channel
                        .runs
                        .iter()
                        .map(|run| house.plan.runs[*run].id.clone())
                        .collect::<Vec<_>>()
                };
                let estimated = self.estimated(&channel.runs);
                if channel.runs.len() > 1 {
                    let length = house
                        .follow(line)
                        .and_then(|()| house.channel_length(&channel.runs));
                    let joined = length.is_ok();
                    self.add(on(), estimated, length);
                    if joined && line.service == Service::Speaker {
                        let resistance =
                            house.loop_resistance(&channel.runs, line.service, SIGNAL_CELSIUS);
                        self.add(on(), estimated, resistance);
                    }
                }
                if let Some(beyond) = &beyond {
                    let found = house.speaker_loop(&channel, beyond);
                    match found {
                        Ok(found) => {
                            self.add(on(), estimated, found.share());
                            self.add(on(), estimated, found.loss());
                        }
                        Err(lack) => self.lacks("loop-share", on(), lack),
                    }
                }
            }
        }
    }
}
