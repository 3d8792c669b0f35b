//! A loudspeaker that is not where its place wants it, seen from the seat.

use serde::Deserialize;

use crate::figures::Figure;
use crate::figures::direction::{Azimuth, Elevation};
use crate::findings::{Finding, Report};
use crate::house::{House, bed};
use crate::plan::EndpointKind as Kind;
use crate::rules::{Limit, Sheet, over, shown};
use crate::tables::loudspeakers::{Range, Target, target};
use crate::units::{Degrees, figure3, plain};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    /// How far outside its range a loudspeaker may stand sideways.
    azimuth_tolerance: Limit<Degrees>,
    /// The same upwards and downwards.
    elevation_tolerance: Limit<Degrees>,
}

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    for (room, theatre) in house.theatres().iter().enumerate() {
        if theatre.speakers.is_empty() {
            continue;
        }
        let listening = house.listening(room);
        let bed = bed(house, theatre);
        for speaker in theatre.speakers.iter().map(|speaker| *speaker as usize) {
            let entry = &house.plan.endpoints[speaker];
            let found = listening.clone().and_then(|(seat, front)| {
                // The centre loudspeaker stands straight ahead where it is what tells the front.
                Ok((seat, front, house.direction(seat, front, speaker)?))
            });
            let (seat, front, direction) = match found {
                Ok(found) => found,
                Err(lack) => {
                    out.gap(sheet.id, &entry.id, lack);
                    continue;
                }
            };
            // Every place has a target in the bed that its room has.
            let place = entry.place.value().map_or("", |place| place.word());
            if let Some(target) = target(place, bed) {
                out.checked();
                let case = Case {
                    house,
                    sheet,
                    limits,
                    speaker,
                    seat,
                    front,
                    target,
                };
                out.findings.extend(case.judge(direction));
            }
        }
    }
    unplaced(house, sheet, out);
}

/// Loudspeakers of which it is not known where they belong, or whether they are any.
fn unplaced(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    for index in house.endpoints_of(Kind::Speaker) {
        let entry = &house.plan.endpoints[index];
        let room = house.want_room(index);
        let lack = match (entry.place.want("place", &entry.id), room) {
            (Ok(_), Err(lack)) => lack,
            // Without a seat and a picture a room has no places.
            (Err(lack), Ok(room))
                if !house.theatres()[room].seats.is_empty()
                    && !matches!(house.picture_in(room), Ok(None)) =>
            {
                lack
            }
            _ => continue,
        };
        out.gap(sheet.id, &entry.id, lack);
    }
    for index in house.kindless() {
        let entry = &house.plan.endpoints[index];
        if !entry.place.is_absent()
            && let Err(lack) = entry.kind.want("kind", &entry.id)
        {
            out.gap(sheet.id, &entry.id, lack);
        }
    }
}

struct Case<'a, 'p> {
    house: &'a House<'p>,
    sheet: &'a Sheet,
    limits: &'a Limits,
    speaker: usize,
    seat: usize,
    front: usize,
    target: Target,
}

impl Case<'_, '_> {
    fn judge(&self, (azimuth, elevation): (Azimuth, Elevation)) -> Option<Finding> {
        let off = |range: Range, degrees: f64, tolerance: &Limit<Degrees>| {
            let off = range.off(degrees) - tolerance.value.base();
            if over(off, 1e-9) { off } else { 0.0 }
        };
        let sideways = off(
            self.target.azimuth,
            azimuth.value(),
            &self.limits.azimuth_tolerance,
        );
        let upwards = off(
            self.target.elevation,
            elevation.value(),
            &self.limits.elevation_tolerance,
        );
        if sideways == 0.0 && upwards == 0.0 {
            return None;
        }
        // One finding a loudspeaker: it is moved once.
        Some(if sideways >= upwards {
            self.finding(
                &azimuth,
                self.target.azimuth,
                &self.limits.azimuth_tolerance,
                aside,
            )
        } else {
            self.finding(
                &elevation,
                self.target.elevation,
                &self.limits.elevation_tolerance,
                above,
            )
        })
    }

    fn finding<F: Figure>(
        &self,
        figure: &F,
        range: Range,
        tolerance: &Limit<Degrees>,
        words: fn(f64) -> String,
    ) -> Finding {
        let entry = |index: usize| &self.house.plan.endpoints[index];
        let (speaker, seat, front) = (entry(self.speaker), entry(self.seat), entry(self.front));
        let place = speaker.place.value().map_or("", |place| place.word());
        let wanted = if range.least == range.greatest {
            words(range.nominal)
        } else {
            // From the smaller turn to the larger one.
            let (from, to) = if range.least.abs() <= range.greatest.abs() {
                (range.least, range.greatest)
            } else {
                (range.greatest, range.least)
            };
            format!("{} to {}", plain(from.abs()), words(to))
        };
        let says = format!(
            "seen from {}, {} stands {}; {place} belongs {wanted}, give or take {}",
            seat.id,
            speaker.id,
            words(figure.value()),
            tolerance.value
        );
        let value = figure.value();
        let bound = if value < range.least {
            range.least - tolerance.value.base()
        } else {
            range.greatest + tolerance.value.base()
        };
        let at = speaker.at.span().unwrap_or(speaker.span);
        let mut finding = self
            .sheet
            .finding(&speaker.id, says, at, words(value))
            .with_on(&seat.id)
            .with_on(&front.id);
        for (thing, label) in [(seat, "seen from here"), (front, "straight ahead")] {
            finding = finding.with_mark(thing.at.span().unwrap_or(thing.span), label);
        }
        // A plan drawn with y the other way finds every loudspeaker on the wrong side.
        let mirrored = F::NAME == "azimuth" && value * range.nominal < 0.0;
        let or_turn = if mirrored {
            "; or turn the plan's y axis round, if all of them are found on the wrong side"
        } else {
            ""
        };
        finding
            .with_figure(shown(figure), bound)
            .with_authority(format!(
                "ITU-R BS.2051, layout {}; {}",
                self.target.layout, tolerance.authority
            ))
            .with_put_right(format!(
                "stand {} where {} finds it {}{or_turn}",
                speaker.id,
                seat.id,
                words(range.nominal)
            ))
    }
}

/// An azimuth in words.
fn aside(degrees: f64) -> String {
    let size = figure3(degrees.abs());
    match degrees {
        d if d > 0.0 => format!("{size} deg to the left"),
        d if d < 0.0 => format!("{size} deg to the right"),
        _ => "straight ahead".to_owned(),
    }
}

/// An elevation in words.
fn above(degrees: f64) -> String {
    let size = figure3(degrees.abs());
    match degrees {
        d if d > 0.0 => format!("{size} deg above the ear"),
        d if d < 0.0 => format!("{size} deg below the ear"),
        _ => "at the height of the ear".to_owned(),
    }
}
