//! A video channel longer than its cable carries the picture.
//!
//! Long because reach has several sources (the maker's figure, the grade, the rate), each with its
//! own limit, authority and gap, and a rule is one file.

use serde::Deserialize;

use crate::figures::Figure;
use crate::figures::route::RouteLength;
use crate::figures::video::VideoRate;
use crate::findings::{Finding, Lack, Level, Redline, Report, Shown};
use crate::house::{House, Node};
use crate::plan::{Build, Entry, PathwayKind, Service, Stock};
use crate::rules::{Limit, Sheet, over};
use crate::tables::video_grades::named;
use crate::units::{Distance, Rate, figure3};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    low_rate: Limit<Rate>,
    low_reach: Limit<Distance>,
    middle_rate: Limit<Rate>,
    middle_reach: Limit<Distance>,
    high_rate: Limit<Rate>,
    high_advised: Limit<Distance>,
    high_reach: Limit<Distance>,
    highest_rate: Limit<Rate>,
    highest_advised: Limit<Distance>,
    highest_reach: Limit<Distance>,
    /// What an active or optical cable does is its maker's word.
    stated_reach: Limit<String>,
    /// What compression divides a picture by.
    compression: Limit<f64>,
    /// How grave a spare that is too long is.
    spare: Limit<String>,
}

/// What passive cable carries a rate.
#[derive(Clone, Copy)]
struct Class<'l> {
    advised: Option<&'l Limit<Distance>>,
    reach: &'l Limit<Distance>,
    /// The rate is above every class: too long for the last is too long for it, and no more is known.
    beyond: bool,
}

impl Limits {
    fn class(&self, gigabits: f64) -> Class<'_> {
        let classes = [
            (&self.low_rate, None, &self.low_reach),
            (&self.middle_rate, None, &self.middle_reach),
            (&self.high_rate, Some(&self.high_advised), &self.high_reach),
            (
                &self.highest_rate,
                Some(&self.highest_advised),
                &self.highest_reach,
            ),
        ];
        let found = classes
            .into_iter()
            .find(|(rate, ..)| !over(gigabits, rate.value.base()));
        match found {
            Some((_, advised, reach)) => Class {
                advised,
                reach,
                beyond: false,
            },
            None => Class {
                advised: None,
                reach: &self.highest_reach,
                beyond: true,
            },
        }
    }
}

/// Runs to judge as one, and where they end.
struct Way {
    runs: Vec<usize>,
    end: Node,
    spare: bool,
}

/// The rate that a way has to carry, and where it is known from.
enum Carried {
    Picture { rate: VideoRate, display: usize },
    Grade(&'static str, f64),
}

impl Carried {
    fn gigabits(&self) -> f64 {
        match self {
            Self::Picture { rate, .. } => rate.value(),
            Self::Grade(_, gigabits) => *gigabits,
        }
    }
}

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    let judge = Judge {
        house,
        sheet,
        limits,
    };
    for (on, lack) in house.hidden_runs(Service::Video, |_| true) {
        out.gap(sheet.id, on, lack);
    }
    for line in house.lines_of(Service::Video) {
        for channel in line.channels() {
            match house.follow(line) {
                Err(lack) => out.gap(sheet.id, &house.plan.runs[channel.runs[0]].id, lack),
                Ok(()) => judge.way(
                    &Way {
                        runs: channel.runs,
                        end: channel.end,
                        spare: false,
                    },
                    out,
                ),
            }
        }
    }
    for run in house.runs_of(Service::Video) {
        if house.is_spare(run)
            && let Some((from, to)) = house.ends(run)
        {
            let end = if house.display_at(to).is_none() && house.display_at(from).is_some() {
                from
            } else {
                to
            };
            judge.way(
                &Way {
                    runs: vec![run],
                    end,
                    spare: true,
                },
                out,
            );
        }
    }
}

struct Judge<'a, 'p> {
    house: &'a House<'p>,
    sheet: &'a Sheet,
    limits: &'a Limits,
}

/// A length over its limit.
struct Excess<'l> {
    runs: Vec<usize>,
    length: RouteLength,
    limit: Distance,
    level: Level,
    authority: String,
    reach: Option<&'l crate::plan::Stated<crate::plan::Long>>,
}

impl<'p> Judge<'_, 'p> {
    fn way(&self, way: &Way, out: &mut Report) {
        let house = self.house;
        let mut passive = Vec::new();
        for run in &way.runs {
            let id = &house.plan.runs[*run].id;
            let built = house
                .want_stock(&house.plan.runs[*run])
                .map(|stock| (stock.build.want("build", &stock.id), stock));
            match built {
                Err(lack) => out.gap(self.sheet.id, id, lack),
                Ok((Ok(build), stock)) if build.value != Build::Passive => {
                    let found = match stock.reach.want("reach", &stock.id) {
                        Ok(reach) => self.by_reach(*run, reach),
                        // What would do as a passive cable does as an active one.
                        Err(lack) => match self.passive(way, &[*run]) {
                            Ok((None, _)) => Ok(None),
                            _ => Err(lack),
                        },
                    };
                    self.conclude(way, id, found, None, out);
                }
                Ok((built, _)) => passive.push((*run, built.err())),
            }
        }
        if passive.is_empty() {
            return;
        }
        let runs: Vec<usize> = passive.iter().map(|(run, _)| *run).collect();
        let unknown = passive.into_iter().find_map(|(_, lack)| lack);
        let id = &house.plan.runs[runs[0]].id;
        match (self.passive(way, &runs), unknown) {
            // It may be active or optical.
            (Ok((Some(_), _)), Some(lack)) => out.gap(self.sheet.id, id, lack),
            (Ok((found, carried)), _) => self.conclude(way, id, Ok(found), Some(&carried), out),
            (Err(lack), _) => out.gap(self.sheet.id, id, lack),
        }
    }

    fn conclude(
        &self,
        way: &Way,
        id: &crate::findings::Id,
        found: Result<Option<Excess<'_>>, Lack>,
        carried: Option<&Carried>,
        out: &mut Report,
    ) {
        match found {
            Err(lack) => out.gap(self.sheet.id, id, lack),
            Ok(found) => {
                out.checked();
                if let Some(excess) = found {
                    out.find(self.finding(way, &excess, carried));
                }
            }
        }
    }

    fn by_reach<'s>(
        &self,
        run: usize,
        reach: &'s crate::plan::Stated<crate::plan::Long>,
    ) -> Result<Option<Excess<'s>>, Lack> {
        let length = self.house.length(run)?.clone();
        let found = over(length.value(), reach.base());
        Ok(found.then(|| Excess {
            runs: vec![run],
            length,
            limit: ***reach,
            level: self.limits.stated_reach.level.unwrap_or(self.sheet.level),
            authority: self.limits.stated_reach.authority.clone(),
            reach: Some(reach),
        }))
    }

    /// Runs as one passive cable, by the rate that they have to carry.
    fn passive(
        &self,
        way: &Way,
        runs: &[usize],
    ) -> Result<(Option<Excess<'static>>, Carried), Lack> {
        let carried = self.carried(way)?;
        let class = self.limits.class(carried.gigabits());
        let length = self.house.channel_length(runs)?;
        let is_over = |limit: &&Limit<Distance>| over(length.value(), limit.value.base());
        let limit = Some(class.reach)
            .filter(is_over)
            .or(class.advised.filter(is_over));
        if limit.is_none() && class.beyond {
            let what = format!(
                "a reach known for {} Gbit/s over passive cable",
                figure3(carried.gigabits())
            );
            return Err(Lack::absent(what));
        }
        let excess = limit.map(|limit| Excess {
            runs: runs.to_vec(),
            length,
            limit: limit.value,
            level: limit.level.unwrap_or(self.sheet.level),
            authority: limit.authority.clone(),
            reach: None,
        });
        Ok((excess, carried))
    }

    /// The rate of the picture at the end; without one, that of the weakest cable on the way.
    fn carried(&self, way: &Way) -> Result<Carried, Lack> {
        let house = self.house;
        let mut lack = None;
        if let Some(display) = house.display_at(way.end) {
            match house.video_rate(
                &house.plan.endpoints[display],
                self.limits.compression.value,
            ) {
                Ok((rate, _)) => return Ok(Carried::Picture { rate, display }),
                Err(Lack::Reported) => return Err(Lack::Reported),
                Err(missing) => lack = Some(missing),
            }
        }
        let mut weakest: Option<(&'static str, f64)> = None;
        for run in &way.runs {
            let stock = house.want_stock(&house.plan.runs[*run])?;
            let grade = match stock.grade.want("grade", &stock.id) {
                Ok(grade) => named(grade.word()),
                Err(missing) => return Err(lack.unwrap_or(missing)),
            };
            let none = || Lack::absent(format!("a video grade of {}", stock.id));
            let grade = grade.ok_or_else(none)?;
            if weakest.is_none_or(|(_, gigabits)| grade.carries.base() < gigabits) {
                weakest = Some((grade.name, grade.carries.base()));
            }
        }
        weakest
            .map(|(name, gigabits)| Carried::Grade(name, gigabits))
            .ok_or(lack.unwrap_or(Lack::Reported))
    }

    fn finding(&self, way: &Way, excess: &Excess<'_>, carried: Option<&Carried>) -> Finding {
        let house = self.house;
        let shown = excess.length.distance();
        let several = excess.runs.len() > 1;
        let length = excess.length.words();
        let spare = if way.spare { "the spare " } else { "" };
        let advice = excess.level == Level::Advice || way.spare;
        let rate = carried.map_or_else(String::new, |carried| {
            format!(" for {} Gbit/s", figure3(carried.gigabits()))
        });
        let says = format!(
            "{spare}{} is {length} long{rate}, {} {} is {}",
            house.named(&excess.runs),
            if excess.reach.is_some() {
                "its stated"
            } else {
                "passive cable's"
            },
            if advice && excess.reach.is_none() {
                "advised length"
            } else {
                "reach"
            },
            excess.limit.beside(shown),
        );
        let longest = house.longest(&excess.runs).unwrap_or(excess.runs[0]);
        let run = &house.plan.runs[longest];
        let (at, label) = house.length_mark(longest, !several);
        let first = &house.plan.runs[excess.runs[0]].id;
        let mut finding = self.sheet.finding(first, says, at, label);
        finding.level = if way.spare {
            self.limits
                .spare
                .level
                .unwrap_or(Level::Advice)
                .min(excess.level)
        } else {
            excess.level
        };
        finding = house.with_lengths(finding, &excess.runs, longest);
        finding = finding.with_each_on(way.runs.iter().map(|run| &house.plan.runs[*run].id));
        finding = finding.with_on(house.id(way.end));
        let stock = house.want_stock(run).ok();
        if let Some(reach) = excess.reach {
            finding = finding.with_lesser_mark(reach.span, "reach that its maker states");
        } else if let Some(build) = stock.and_then(|stock| stock.build.span()) {
            finding = finding.with_lesser_mark(build, "passive");
        }
        let mut working = excess.length.working();
        match carried {
            Some(Carried::Picture { rate, display }) => {
                working += &format!("; the picture: {}", rate.working());
                if let Some(picture) = house.plan.endpoints[*display].picture.span() {
                    finding = finding.with_lesser_mark(picture, "the picture");
                }
            }
            Some(Carried::Grade(name, gigabits)) => {
                working += &format!(
                    "; no picture stated, so the rate of its grade: {name}, {} Gbit/s",
                    figure3(*gigabits)
                );
                if let Some(grade) = stock.and_then(|stock| stock.grade.span()) {
                    finding = finding.with_lesser_mark(grade, "rate of this grade");
                }
            }
            None => {}
        }
        let figure = Shown {
            name: RouteLength::NAME,
            value: excess.length.value(),
            unit: RouteLength::UNIT,
            working,
        };
        let put_right = format!(
            "pull an active or optical cable that states a reach of {} or more, or shorten the way",
            length.trim_start_matches("about ")
        );
        finding
            .with_put_right(put_right)
            .with_figure(figure, excess.limit.base())
            .with_authority(excess.authority.clone())
            .with_redline(self.redline(way, excess, longest))
    }

    /// An active or optical stock of the plan that reaches, where it is all that the run needs.
    fn redline(&self, way: &Way, excess: &Excess<'_>, longest: usize) -> Option<Redline> {
        let house = self.house;
        let run = &house.plan.runs[longest];
        // A cable with a source end must start at the source; and a part of a channel cannot be
        // changed without knowing the rest.
        let (_, to) = house.ends(longest)?;
        if way.runs.len() != 1 || excess.runs.len() != 1 || to != way.end {
            return None;
        }
        let conduit = house.passes(longest).iter().any(|at| {
            house.plan.pathways[*at as usize].kind.value() == Some(&PathwayKind::Conduit)
        });
        let old_head = house.want_stock(run).ok()?.head.value();
        let reaches = |stock: &Entry<Stock>| {
            let head = match (old_head, stock.head.value()) {
                (_, None) => true,
                (Some(old), Some(new)) => {
                    new.wide.base() <= old.wide.base() && new.high.base() <= old.high.base()
                }
                (None, Some(_)) => !conduit,
            };
            let active = stock
                .build
                .value()
                .is_some_and(|build| *build != Build::Passive);
            let reach = stock
                .reach
                .value()
                .is_some_and(|reach| !over(excess.length.value(), reach.base()));
            active && reach && head && stock.grade.value().is_some()
        };
        let stock = house.rebuilt(longest, Service::Video, reaches).next()?;
        let edit = house.edit(run, &run.stock, "stock", stock.id.as_str());
        house.change(format!("pull {} as {}", run.id, stock.id), edit)
    }
}
