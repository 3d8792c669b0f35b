//! No spelling that the reader takes is rejected by the schema.

use std::path::Path;

use proptest::prelude::*;

use super::values::plans;
use super::{loaded, rejected};

/// Pieces of which quantities and spellings of the trade are made.
const PIECES: &[&str] = &[
    "0",
    "00",
    "1",
    "12",
    "8",
    "2.5",
    ".5",
    "5.",
    "-",
    "+",
    "- ",
    " ",
    " ",
    " ",
    "/",
    "1/4",
    "-1/4",
    "0/4",
    "e3",
    "e",
    "E-2",
    ",",
    "ft",
    "'",
    "in",
    "\"",
    "m",
    "mm",
    "yd",
    "A",
    "V",
    "kV",
    "W",
    "ohm",
    "°",
    "deg",
    "%",
    "Gbit/s",
    "Hz",
    "@ 60 Hz",
    "pF/ft",
    "dB",
    "dBmV",
    "°C",
    "F",
    "lb/1000 ft",
    "g/m",
    "in3",
    "cu. in.",
    "l",
    "cm3",
    "CFM",
    "N",
    "kg",
    "x",
    "X",
    "×",
    " x ",
    "AWG",
    "ga",
    "/0 AWG",
    "mm2",
    "mm²",
    "+ earth",
    "earth",
    "bit",
    "-bit",
    "i",
    "1920",
    "2026-11-02",
    "yes",
    "true",
    "\t",
];

/// A key by its place in the list, and a text in quotes or without.
fn value() -> impl Strategy<Value = (usize, String)> {
    let piece = proptest::sample::select(PIECES);
    let text = proptest::collection::vec(piece, 1..7).prop_map(|pieces| pieces.concat());
    (0..10_000usize, text, any::<bool>()).prop_map(|(key, text, quoted)| {
        let plain = |c: char| c.is_ascii_alphanumeric() || " ./+-".contains(c);
        if quoted || !text.chars().all(plain) {
            let text = text.replace('"', "\\\"").replace('\t', "\\t");
            (key, format!("\"{text}\""))
        } else {
            (key, text)
        }
    })
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(1500) })]

    #[test]
    fn the_schema_is_never_alone((key, value) in value()) {
        let plans = plans(|key| key.name.to_owned(), &value);
        let (_, _, text) = &plans[key % plans.len()];
        // What is no YAML is neither read nor loaded.
        if loaded(text).is_some() {
            rejected(Path::new("random.plan.yaml"), text);
        }
    }
}
