//! Spellings of the trade: core counts, flat cables, connectors, trade sizes, pictures, dates.

use std::fmt;
use std::sync::LazyLock;

use regex::Regex;

use super::quantity;
use super::reader::Reader;
use super::shape::Shape;
use crate::units::{
    AngleDim, Degrees, Distance, LengthDim, Misspelling, WireSize, plain, split_number,
};
use crate::yaml::NodeId;

macro_rules! pattern {
    ($name:ident, $pattern:literal) => {
        pub(super) static $name: LazyLock<Regex> =
            LazyLock::new(|| Regex::new($pattern).expect("the pattern is fixed and tested"));
    };
}

pattern!(
    CORES,
    r"^([0-9]{1,4}) *[xX×] *([^+]+?) *(\+ *(?:(.+?) +)?earth)?$"
);
pattern!(
    PICTURE,
    r"^([0-9]{2,5}) *[xX×] *([0-9]{2,5})([ip]?) *@ *([0-9]{1,3}(?:\.[0-9]{1,3})?) *[Hh]z$"
);
pattern!(DATE, r"^([0-9]{4})-([0-9]{2})-([0-9]{2})$");

/// `2 x 12 AWG + earth`: conductors that carry the service, and an earthing conductor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cores {
    pub count: u32,
    pub size: WireSize,
    pub earth: bool,
}

impl Shape for Cores {
    const WANTS: &'static str = "a number of cores and their size: 2 x 12 AWG + earth";
    fn read(reader: &mut Reader<'_>, node: NodeId) -> Option<Self> {
        let text = reader.scalar(node, Self::WANTS)?;
        let Some(found) = CORES.captures(text.trim()) else {
            reader.unreadable(
                node,
                text,
                "the number of cores, x and their size: 2 x 12 AWG + earth",
            );
            return None;
        };
        let size = reader.wire_size(node, &found[2])?;
        if let Some(earth) = found.get(4) {
            reader.wire_size(node, earth.as_str())?;
        }
        let count: u32 = found[1].parse().ok()?;
        // A trunk cable of 200 pairs (common sense, no source).
        if !(1..=400).contains(&count) {
            reader.out_of_range(node, &format!("{count} cores"), "1 to 400");
            return None;
        }
        Some(Self {
            count,
            size,
            earth: found.get(3).is_some(),
        })
    }
}

impl fmt::Display for Cores {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let earth = if self.earth { " + earth" } else { "" };
        write!(f, "{} x {}{earth}", self.count, self.size)
    }
}

/// Outside size of a cable: a diameter, or width and height of a flat one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Breadth {
    pub wide: Distance,
    /// Of a flat cable.
    pub high: Option<Distance>,
}

impl Breadth {
    /// The diameter that counts for conduit fill: a flat cable's larger side (NEC chapter 9,
    /// note 9).
    pub fn larger(self) -> Distance {
        match self.high {
            Some(high) if high.base() > self.wide.base() => high,
            _ => self.wide,
        }
    }
}

impl Shape for Breadth {
    const WANTS: &'static str = "a diameter, or W x H for a flat cable";
    fn read(reader: &mut Reader<'_>, node: NodeId) -> Option<Self> {
        let sides = sides(reader, node, "a diameter")?;
        match sides[..] {
            [wide] => Some(Self { wide, high: None }),
            [wide, high] => Some(Self {
                wide,
                high: Some(high),
            }),
            _ => {
                let text = reader.source.text_of(node);
                reader.unreadable(
                    node,
                    text,
                    "one diameter, or width x height of a flat cable",
                );
                None
            }
        }
    }
}

/// A connector: the two sides that must pass the pathway, and how long it is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Head {
    pub wide: Distance,
    pub high: Distance,
    pub long: Distance,
}

impl Shape for Head {
    const WANTS: &'static str = "a connector's size: 0.8 in x 0.45 in x 1.9 in";
    fn read(reader: &mut Reader<'_>, node: NodeId) -> Option<Self> {
        let sides = sides(reader, node, "a connector's size")?;
        if let [wide, high, long] = sides[..] {
            return Some(Self { wide, high, long });
        }
        let text = reader.source.text_of(node);
        reader.unreadable(
            node,
            text,
            "width x height x length, such as 0.8 in x 0.45 in x 1.9 in",
        );
        None
    }
}

/// A straight or a bend of a conduit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Stretch {
    Straight(Distance),
    Bend(Degrees),
}

impl Shape for Stretch {
    const WANTS: &'static str = "a length or an angle: 12 ft, 90 deg";
    fn read(reader: &mut Reader<'_>, node: NodeId) -> Option<Self> {
        let text = reader.scalar(node, Self::WANTS)?;
        if Degrees::parse(text).is_ok() {
            let angle = reader.quantity::<AngleDim>(node, text, quantity::FROM_ZERO, 0)?;
            return Some(Self::Bend(angle));
        }
        let length = reader.quantity::<LengthDim>(node, text, quantity::OVER_ZERO, 0)?;
        Some(Self::Straight(length))
    }
}

impl fmt::Display for Stretch {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Straight(length) => write!(f, "{length}"),
            Self::Bend(angle) => write!(f, "{angle}"),
        }
    }
}

/// Lengths with `x` between them, each more than zero.
fn sides(reader: &mut Reader<'_>, node: NodeId, wanted: &str) -> Option<Vec<Distance>> {
    let text = reader.scalar(node, wanted)?;
    let mut sides = Vec::new();
    for part in text.split(['x', 'X', '×']) {
        if sides.len() == 3 {
            reader.unreadable(node, text, "at most three lengths with x between them");
            return None;
        }
        sides.push(reader.quantity::<LengthDim>(
            node,
            part.trim(),
            quantity::SMALL,
            quantity::SMALL_MOST,
        )?);
    }
    Some(sides)
}

/// A conduit's trade size: a name in inches, not a measure of anything.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TradeSize(pub f64);

impl Shape for TradeSize {
    const WANTS: &'static str = "a trade size, such as 1-1/4";
    fn read(reader: &mut Reader<'_>, node: NodeId) -> Option<Self> {
        let text = reader.scalar(node, Self::WANTS)?;
        match split_number(text) {
            Some((size, "" | "in" | "\"" | "inch")) if size > 0.0 && size <= 12.0 => {
                Some(Self(size))
            }
            Some((size, "mm")) if size > 0.0 => {
                reader.unreadable(
                    node,
                    text,
                    "a trade size in inches, such as 1-1/4; give the inside diameter of a metric conduit as `bore`",
                );
                None
            }
            Some((_, "" | "in" | "\"" | "inch")) => {
                reader.out_of_range(node, text, "more than 0 to 12");
                None
            }
            _ => {
                reader.unreadable(node, text, Self::WANTS);
                None
            }
        }
    }
}

impl fmt::Display for TradeSize {
    /// As the trade says it: `1-1/4`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let eighths = self.0 * 8.0;
        if (eighths - eighths.round()).abs() > 1e-9 || eighths.round() % 8.0 == 0.0 {
            return f.write_str(&plain(self.0));
        }
        let (mut part, mut of) = (eighths.round() % 8.0, 8.0);
        while part % 2.0 == 0.0 {
            part /= 2.0;
            of /= 2.0;
        }
        if self.0 < 1.0 {
            write!(f, "{part}/{of}")
        } else {
            write!(f, "{}-{part}/{of}", self.0.floor())
        }
    }
}

/// A picture: pixels and frames (or fields, when interlaced) per second.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Picture {
    pub width: u32,
    pub height: u32,
    pub interlaced: bool,
    pub hertz: f64,
}

impl Shape for Picture {
    const WANTS: &'static str = "a picture, such as 3840x2160 @ 60 Hz";
    fn read(reader: &mut Reader<'_>, node: NodeId) -> Option<Self> {
        let text = reader.scalar(node, Self::WANTS)?;
        let read: Option<Self> = PICTURE.captures(text.trim()).and_then(|found| {
            Some(Self {
                width: found[1].parse().ok()?,
                height: found[2].parse().ok()?,
                interlaced: &found[3] == "i",
                hertz: found[4].parse().ok()?,
            })
        });
        if read.is_none() {
            reader.unreadable(
                node,
                text,
                "a picture as WIDTHxHEIGHT @ RATE Hz, such as 3840x2160 @ 60 Hz",
            );
        }
        if read.is_some_and(|picture| {
            picture.width == 0 || picture.height == 0 || picture.hertz <= 0.0
        }) {
            reader.out_of_range(node, text, "more than zero pixels and pictures");
            return None;
        }
        read
    }
}

impl fmt::Display for Picture {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let scan = if self.interlaced { "i" } else { "" };
        write!(
            f,
            "{}x{}{scan} @ {} Hz",
            self.width,
            self.height,
            plain(self.hertz)
        )
    }
}

/// Bits per colour: `8 bit`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct BitDepth(pub u8);

impl Shape for BitDepth {
    const WANTS: &'static str = "8 bit, 10 bit, 12 bit or 16 bit";
    fn read(reader: &mut Reader<'_>, node: NodeId) -> Option<Self> {
        let text = reader.scalar(node, Self::WANTS)?;
        match split_number(text) {
            Some((bits, "bit" | "bits" | "-bit")) => {
                for known in [8, 10, 12, 16] {
                    if bits == f64::from(known) {
                        return Some(Self(known));
                    }
                }
                reader.out_of_range(node, text, Self::WANTS);
                None
            }
            Some((number, "")) => {
                let slip = Misspelling::NoUnit { number };
                let likely = [8.0, 10.0, 12.0, 16.0].contains(&number).then_some("bit");
                reader.misspelt(node, text, &slip, "a depth", likely, &["bit"]);
                None
            }
            _ => {
                reader.unreadable(node, text, Self::WANTS);
                None
            }
        }
    }
}

/// A day of the calendar.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Date {
    pub year: u16,
    pub month: u8,
    pub day: u8,
}

impl Date {
    /// Reads `2026-11-02`; `None` for days that no calendar has.
    pub fn parse(text: &str) -> Option<Self> {
        let found = DATE.captures(text.trim())?;
        let (year, month, day): (u16, u8, u8) = (
            found[1].parse().ok()?,
            found[2].parse().ok()?,
            found[3].parse().ok()?,
        );
        let leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
        let days = match month {
            2 if leap => 29,
            2 => 28,
            4 | 6 | 9 | 11 => 30,
            1..=12 => 31,
            _ => return None,
        };
        (1..=days)
            .contains(&day)
            .then_some(Self { year, month, day })
    }
}

impl Shape for Date {
    const WANTS: &'static str = "a date, such as 2026-11-02";
    fn read(reader: &mut Reader<'_>, node: NodeId) -> Option<Self> {
        let text = reader.scalar(node, Self::WANTS)?;
        let Some(date) = Self::parse(text) else {
            reader.unreadable(node, text, "a date as YEAR-MONTH-DAY, such as 2026-11-02");
            return None;
        };
        // No plan speaks of other years (common sense, no source).
        if !(1900..2200).contains(&date.year) {
            reader.out_of_range(node, text, "of the years 1900 to 2199");
            return None;
        }
        Some(date)
    }
}

impl fmt::Display for Date {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}
