//! Every quantity that the plan language knows, in every shipped house, with values that are absurd: reading reports it where it
//! stands, or a rule has another finding or gap than before, or it is on a list with the reason why it may pass.

use std::collections::BTreeSet;
use std::ops::Range;
use std::path::Path;

use nailplate::plan::{self, Date};
use nailplate::review::{Review, Selection, review_text};
use nailplate::units::{
    AirFlowDim, AngleDim, ApparentPowerDim, CapacitancePerLengthDim, CurrentDim, DataRateDim,
    DecibelDim, Dimension, ForceDim, FrequencyDim, HoursDim, LengthDim, LevelDim, MassDim,
    MassPerLengthDim, PowerDim, RatioDim, ResistanceDim, TemperatureDim, Unit, VoltageDim,
    VolumeDim,
};
use nailplate::yaml::{Source, Sources};
use regex::Regex;

use super::keys::{entries, house, quantities, sound, with};
use super::{Disk, HOUSES};

/// Key, a pattern of values, and why they are no absurd ones, or may pass.
const ALLOWED: &[(&str, &str, &str)] = &[
    ("circuits.feeder-drop", "0 %", "the feeder is short"),
    ("endpoints.level", "0 dB.*", "a level like another"),
    ("endpoints.needs", "-5 dB.*", "a level like another"),
    (
        "endpoints.load",
        "0 W",
        "it is plugged in and draws nothing",
    ),
    ("endpoints.loss", "0 dB", "a splitter that amplifies"),
    (
        "endpoints.ports",
        "9999",
        "the exchange of a large building",
    ),
    ("endpoints.yokes", "-?0", "a box with nothing in it"),
    (
        "pathways.bends",
        r"\[\]|\[.*\b0 deg.*\]",
        "it goes straight on",
    ),
    ("pathways.fire-hours", "-?0", "not rated"),
    (
        "pathways.framing.from-end",
        "0 .*",
        "at the end of the member",
    ),
    ("pathways.route", r"\[.*\b0 deg.*\]", "it goes straight on"),
    (
        "pathways.route",
        ".*",
        "a straight or a bend in the place of the other is another route, and lengths and angles are all it has",
    ),
    ("rooms.exhaust", "0 .*", "no fan"),
    ("rooms.floor", "-?[05]", "below the ground"),
    ("runs.beside.apart", "99999 in", "far away is no harm"),
    ("runs.beside.over", "0 .*", "they only cross"),
    ("runs.cords", "0 .*", "no cords"),
    (
        "runs.depth",
        "0 mm",
        "on the face of the wall, within a zone",
    ),
    (
        "stock.capacitance",
        "0 .*",
        "a gap, once it is known what the line comes from",
    ),
    ("stock.shields", "-?0", "not shielded"),
];

/// In the place of a number.
const NUMBERS: &[&str] = &[
    "0", "-5", "1e300", "-1e300", "1e-300", "1e999", ".nan", "NaN", ".inf", "-.inf", "inf", "0x",
    "0x1F", "0b1", "1_000", "--5", "5e", "1/0", "0/0", "٣", "²", "5 5", "-500", "99999",
];

/// In the place of a whole value.
const WHOLES: &[&str] = &[
    ".nan", ".NaN", ".inf", "-.inf", "0", "-5", "-0", "1e300", "1e999", "0x10", "0o17", "~", "''",
    "[]", "{}", "[[]]", "{zz: 1}", "true", "'\\'", "-500", "9999", "99999", "5 zz", "*lost",
];

fn units<D: Dimension>() -> &'static [Unit] {
    D::UNITS
}

/// The units of every dimension.
fn dimensions() -> Vec<&'static [Unit]> {
    vec![
        units::<AirFlowDim>(),
        units::<AngleDim>(),
        units::<ApparentPowerDim>(),
        units::<CapacitancePerLengthDim>(),
        units::<CurrentDim>(),
        units::<DataRateDim>(),
        units::<DecibelDim>(),
        units::<ForceDim>(),
        units::<FrequencyDim>(),
        units::<HoursDim>(),
        units::<LengthDim>(),
        units::<LevelDim>(),
        units::<MassDim>(),
        units::<MassPerLengthDim>(),
        units::<PowerDim>(),
        units::<RatioDim>(),
        units::<ResistanceDim>(),
        units::<TemperatureDim>(),
        units::<VoltageDim>(),
        units::<VolumeDim>(),
    ]
}

fn is_of(unit: &str, dimension: &[Unit]) -> bool {
    dimension
        .iter()
        .any(|known| known.spelling == unit || known.also.contains(&unit))
}

/// A sound value with one of its numbers, one of its units or all of it absurd.
pub fn absurd(sound: &str) -> Vec<String> {
    let numbers = Regex::new(r"[0-9]+(\.[0-9]+)?(-[0-9]+/[0-9]+)?").expect("fixed");
    let words = Regex::new(r"[A-Za-z°Ωµ%/]+([0-9]*[A-Za-z/]+)?[0-9]?").expect("fixed");
    let mut out: Vec<String> = WHOLES.iter().map(|whole| (*whole).to_owned()).collect();
    out.push("9".repeat(400));
    let put = |at: regex::Match<'_>, new: &str| {
        format!("{}{new}{}", &sound[..at.start()], &sound[at.end()..])
    };
    for number in numbers.find_iter(sound) {
        out.extend(NUMBERS.iter().map(|new| put(number, new)));
        out.push(put(number, &"9".repeat(400)));
    }
    for unit in words.find_iter(sound) {
        let dimensions = dimensions();
        let others = dimensions
            .iter()
            .filter(|units| !is_of(unit.as_str(), units));
        out.extend(others.map(|units| put(unit, units[0].spelling)));
        out.extend(["AWG", "mm2"].map(|size| put(unit, size)));
    }
    out.retain(|text| text != sound);
    out
}

/// Rounds in which each quantity of a house has another absurd value.
fn rounds(source: &Source) -> Vec<Vec<(String, String)>> {
    // Where there is no variance there is nothing to put one of its keys into.
    let variances = entries(source)
        .iter()
        .any(|(path, ..)| path.starts_with("variances."));
    let mut rounds: Vec<Vec<(String, String)>> = Vec::new();
    for (path, text) in sound() {
        if path.starts_with("variances.") && !variances {
            continue;
        }
        for (round, value) in absurd(&text).into_iter().enumerate() {
            if rounds.len() <= round {
                rounds.push(Vec::new());
            }
            rounds[round].push((path.clone(), value));
        }
    }
    rounds
}

/// Texts of houses with nothing but absurd quantities: a few of the rounds of each, and of each others.
pub fn all_at_once() -> Vec<String> {
    let mut texts = Vec::new();
    for (number, name) in HOUSES.iter().enumerate() {
        let (sources, file) = house(name);
        let source = sources.file(file);
        let some = rounds(source).into_iter().skip(number).step_by(25);
        texts.extend(some.map(|round| with(source, &round, 0).0));
    }
    texts
}

/// Which of the places reading reports a mistake at; `None` for what is no YAML.
fn reported(text: &str, places: &[Range<usize>]) -> Option<Vec<bool>> {
    let mut sources = Sources::default();
    let (file, read) = sources.add(Path::new("examples/house.plan.yaml"), text.to_owned());
    read.ok()?;
    let (_, findings) = plan::read(&mut sources, file, &Disk);
    let spots: Vec<_> = findings
        .iter()
        .map(|finding| sources.spots(finding.marks[0].span).0)
        .filter(|spot| spot.file == file)
        .collect();
    let here = |place: &Range<usize>| {
        let meets = |spot: &nailplate::yaml::Spot| spot.start < place.end && spot.end > place.start;
        spots.iter().any(meets)
    };
    Some(places.iter().map(here).collect())
}

fn reviewed(text: String) -> Review {
    let scope = Selection::All.on_day(Date::parse("2026-11-25").expect("a day"));
    review_text(Path::new("examples/house.plan.yaml"), text, &Disk, scope).expect("it is YAML")
}

/// What a review says, without places.
fn said(review: &Review) -> Vec<String> {
    let found = review.findings.iter();
    let found = found.map(|found| format!("{} {:?} {}", found.rule, found.on, found.says));
    let gaps = review.gaps.iter().map(|gap| format!("{gap:?}"));
    let mut said: Vec<_> = found.chain(gaps).collect();
    said.sort();
    said
}

/// What is said of a house with a value is text that can be read.
#[track_caller]
fn legible(review: &Review, value: &(String, String)) {
    for finding in &review.findings {
        let working = finding.figure.as_ref().map_or("", |figure| &figure.working);
        let says = format!("{} {working}", finding.says);
        assert!(
            !says.contains("NaN") && !says.contains(" inf "),
            "{value:?}: {says}"
        );
    }
}

/// Tries every absurd value of every quantity in a house: how many there are, and how many get past reading.
#[track_caller]
fn try_house(name: &str) -> (usize, usize) {
    let (sources, file) = house(name);
    let source = sources.file(file);
    let own = entries(source);
    let (mut tried, mut past) = (0, Vec::new());
    // One value of each key at a time, as far as that is YAML.
    for round in rounds(source) {
        let (text, places) = with(source, &round, 0);
        let reported = reported(&text, &places).unwrap_or_else(|| {
            let alone = |value: &(String, String)| {
                let (text, places) = with(source, std::slice::from_ref(value), 0);
                reported(&text, &places).is_none_or(|reported| reported[0])
            };
            round.iter().map(alone).collect()
        });
        tried += round.len();
        let here = round
            .into_iter()
            .zip(reported)
            .filter(|(_, reported)| !reported);
        past.extend(here.map(|(value, _)| value));
    }
    let before = said(&reviewed(source.text.clone()));
    let mut silent = Vec::new();
    for value in &past {
        let (path, text) = value;
        let places = own.iter().filter(|(other, ..)| other == path).count();
        let heard = |nth| {
            let (text, places) = with(source, std::slice::from_ref(value), nth);
            let review = reviewed(text.clone());
            legible(&review, value);
            said(&review) != before || reported(&text, &places).is_some_and(|reported| reported[0])
        };
        let is_allowed = ALLOWED.iter().any(|(key, pattern, _)| {
            let whole = Regex::new(&format!("^(?:{pattern})$")).expect("a pattern");
            key == path && whole.is_match(text)
        });
        if heard(0) || is_allowed {
            continue;
        }
        // At one of the places where the house has the key. Where it has none, it hangs on the thing that was given the key
        // whether a rule asks for it.
        if places > 0 && !(1..places).any(heard) {
            silent.push(format!("`{path}: {text}`"));
        }
    }
    assert!(
        silent.is_empty(),
        "{name} passes in silence with {}",
        silent.join(", ")
    );
    (tried, past.len())
}

/// A test of its own for each house, so that they run side by side.
macro_rules! houses {
    ($($test:ident $name:literal)*) => {
        $(
            #[test]
            fn $test() {
                let (tried, past) = try_house($name);
                assert!(tried > 5000 && past > 50, "{tried} tried, {past} read");
            }
        )*

        #[test]
        fn every_house_is_tried() {
            assert_eq!(HOUSES, [$($name),*]);
        }
    };
}

houses! {
    kestrel_row "kestrel-row"
    kestrel_row_submitted "kestrel-row-submitted"
    heron_mill "heron-mill"
    heron_mill_submitted "heron-mill-submitted"
    plover_lane "plover-lane"
    tern_quay "tern-quay"
    tern_quay_submitted "tern-quay-submitted"
}

#[test]
fn the_quantities_are_those_of_the_language() {
    let quantities = quantities();
    assert!(quantities.len() >= 60, "{quantities:?}");
    let keys: BTreeSet<_> = ALLOWED.iter().map(|(key, ..)| (*key).to_owned()).collect();
    assert!(
        keys.is_subset(&quantities),
        "{:?}",
        keys.difference(&quantities)
    );
}
