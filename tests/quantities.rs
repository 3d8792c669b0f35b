//! How quantities are spelled: what is taken, what is refused, and that what is shown reads back.

use nailplate::units::{
    AngleDim, CapacitancePerLengthDim, CurrentDim, DataRateDim, Dimension, LengthDim, Measured,
    Misspelling, PowerDim, RatioDim, ResistanceDim, VoltageDim, WireSize, figure3, plain,
    split_number,
};
use proptest::prelude::*;

/// Spelling, number and unit.
type Taken = (&'static str, f64, &'static str);

#[track_caller]
fn takes<D: Dimension>(spellings: &[Taken]) {
    for (text, number, unit) in spellings {
        let read = Measured::<D>::parse(text).unwrap_or_else(|slip| panic!("{text}: {slip:?}"));
        assert!((read.number() - number).abs() < 1e-9, "{text}: {read}");
        assert_eq!(read.unit().spelling, *unit, "{text}");
    }
}

#[test]
fn spellings_that_are_taken() {
    takes::<LengthDim>(&[
        ("42 ft", 42.0, "ft"),
        ("42ft", 42.0, "ft"),
        (" 42  ft ", 42.0, "ft"),
        ("42 feet", 42.0, "ft"),
        ("1 foot", 1.0, "ft"),
        ("12.8 m", 12.8, "m"),
        (".5 in", 0.5, "in"),
        ("5. in", 5.0, "in"),
        ("16 in", 16.0, "in"),
        ("1-1/4 in", 1.25, "in"),
        ("1 1/4 in", 1.25, "in"),
        ("3/4 in", 0.75, "in"),
        ("3/4\"", 0.75, "in"),
        ("8 ft 6 in", 8.5, "ft"),
        ("8ft6in", 8.5, "ft"),
        ("8' 6\"", 8.5, "ft"),
        ("8'-6\"", 8.5, "ft"),
        ("8 ft 6-1/2 in", 8.0 + 6.5 / 12.0, "ft"),
        ("-8 ft 6 in", -8.5, "ft"),
        ("2 m 50 cm", 2.5, "m"),
        ("+3 m", 3.0, "m"),
        ("1e2 m", 100.0, "m"),
        ("1.5E-1 m", 0.15, "m"),
        ("-0 m", 0.0, "m"),
        ("35 mm", 35.0, "mm"),
    ]);
    takes::<CurrentDim>(&[
        ("20 A", 20.0, "A"),
        ("20A", 20.0, "A"),
        ("30 mA", 30.0, "mA"),
    ]);
    takes::<VoltageDim>(&[("120 V", 120.0, "V"), ("0.23 kV", 0.23, "kV")]);
    takes::<PowerDim>(&[("600 W", 600.0, "W"), ("1.5 kW", 1.5, "kW")]);
    takes::<ResistanceDim>(&[
        ("8 ohm", 8.0, "ohm"),
        ("8 \u{3a9}", 8.0, "ohm"),
        ("8 \u{2126}", 8.0, "ohm"),
        ("2 k\u{3a9}", 2.0, "kohm"),
    ]);
    takes::<AngleDim>(&[("90 deg", 90.0, "deg"), ("45°", 45.0, "deg")]);
    takes::<RatioDim>(&[("5 %", 5.0, "%"), ("5%", 5.0, "%")]);
    takes::<DataRateDim>(&[("1 Gbit/s", 1.0, "Gbit/s"), ("100 Mbit/s", 100.0, "Mbit/s")]);
    takes::<CapacitancePerLengthDim>(&[
        ("50 pF/m", 50.0, "pF/m"),
        ("30 pF/ft", 30.0, "pF/ft"),
        ("50 nF/km", 50.0, "nF/km"),
    ]);
}

#[test]
fn spellings_that_are_refused() {
    let refused = |text: &str| Measured::<LengthDim>::parse(text).expect_err(text);
    for text in [
        "", " ", "ft", "long", "NaN ft", "nan", "inf ft", "-inf m", "1e999 ft", "ft 42", "- 5 ft",
        "--5 ft", "½ in", ".",
    ] {
        assert_eq!(refused(text), Misspelling::NotANumber, "{text:?}");
    }
    for (text, number) in [
        ("42", 42.0),
        ("-1.5", -1.5),
        ("3/4", 0.75),
        ("1e300", 1e300),
        ("-0", 0.0),
    ] {
        assert_eq!(refused(text), Misspelling::NoUnit { number }, "{text:?}");
    }
    for text in [
        "42 A",
        "42 f t",
        "42 FT",
        "1,000 ft",
        "4 ft 2",
        "4 in 2 ft",
        "4 ft 2 ft",
        "4 ft -2 in",
        "4 ft x",
        "1_000 ft",
        "0x10 ft",
        "4 m2",
        "1/0 in",
    ] {
        assert!(
            matches!(refused(text), Misspelling::NoSuchUnit { .. }),
            "{text:?}: {:?}",
            refused(text)
        );
    }
    for text in ["1e300 ft", "-1e300 m", "1e9 m"] {
        assert_eq!(refused(text), Misspelling::Unthinkable, "{text:?}");
    }
    let digits = format!("{} ft", "9".repeat(400));
    assert_eq!(
        refused(&digits),
        Misspelling::NotANumber,
        "more than a number holds"
    );
}

#[test]
fn sizes_of_wire() {
    let awg = |text: &str| WireSize::parse(text);
    for (text, size) in [
        ("14 AWG", WireSize::Awg(14)),
        ("14AWG", WireSize::Awg(14)),
        ("14 awg", WireSize::Awg(14)),
        ("0 AWG", WireSize::Awg(0)),
        ("1/0 AWG", WireSize::Awg(0)),
        ("4/0 AWG", WireSize::Awg(-3)),
        ("2.5 mm2", WireSize::Metric(2.5)),
        ("2.5 mm²", WireSize::Metric(2.5)),
        ("2.5mm^2", WireSize::Metric(2.5)),
    ] {
        assert_eq!(awg(text), Ok(size), "{text}");
    }
    for text in [
        "41 AWG",
        "-3 AWG",
        "5/0 AWG",
        "12.5 AWG",
        "0 mm2",
        "1e300 mm2",
        "-2.5 mm2",
    ] {
        assert_eq!(awg(text), Err(Misspelling::Unthinkable), "{text}");
    }
    for text in ["12", "2.5", "1/0"] {
        assert!(
            matches!(awg(text), Err(Misspelling::NoUnit { .. })),
            "{text}"
        );
    }
    for text in ["AWG", "", "x/0 AWG", "nan AWG"] {
        assert_eq!(awg(text), Err(Misspelling::NotANumber), "{text}");
    }
    for size in (-3..=40)
        .map(WireSize::Awg)
        .chain([0.75, 1.5, 2.5, 10.0, 120.0].map(WireSize::Metric))
    {
        assert_eq!(WireSize::parse(&size.to_string()), Ok(size));
    }
}

/// What is shown reads back as what it was.
fn comes_back<D: Dimension>(hundredths: i32, unit: usize) {
    let unit = D::UNITS[unit % D::UNITS.len()].spelling;
    let value = Measured::<D>::new(f64::from(hundredths) / 100.0, unit).expect("a unit of its own");
    match Measured::<D>::parse(&value.to_string()) {
        Ok(again) => assert_eq!(again, value),
        Err(slip) => assert_eq!(slip, Misspelling::Unthinkable, "{value}"),
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn what_is_shown_reads_back(hundredths in any::<i32>(), unit in 0usize..8) {
        comes_back::<LengthDim>(hundredths, unit);
        comes_back::<CurrentDim>(hundredths, unit);
        comes_back::<VoltageDim>(hundredths, unit);
        comes_back::<PowerDim>(hundredths, unit);
        comes_back::<ResistanceDim>(hundredths, unit);
        comes_back::<AngleDim>(hundredths, unit);
        comes_back::<RatioDim>(hundredths, unit);
        comes_back::<DataRateDim>(hundredths, unit);
        comes_back::<CapacitancePerLengthDim>(hundredths, unit);
    }

    /// Showing rounds at most once: shown, read and shown again is the same.
    #[test]
    fn showing_settles(number in -1e5f64..1e5) {
        let value = Measured::<LengthDim>::new(number, "m").expect("a unit");
        if let Ok(again) = Measured::<LengthDim>::parse(&value.to_string()) {
            prop_assert_eq!(again.to_string(), value.to_string());
            prop_assert!((again.number() - number).abs() <= 5e-7 * 1.0001);
        }
    }

    #[test]
    fn any_text_is_answered(text in "\\PC{0,24}") {
        let _ = Measured::<LengthDim>::parse(&text);
        let _ = WireSize::parse(&text);
        if let Some((number, rest)) = split_number(&text) {
            prop_assert!(number.is_finite());
            prop_assert!(text.trim_end().ends_with(rest));
        }
    }

    #[test]
    fn texts_like_quantities_are_answered(text in "[-+0-9./ e'\"xftinmA\u{2126}]{0,16}") {
        if let Ok(value) = Measured::<LengthDim>::parse(&text) {
            prop_assert!(value.base().is_finite() && value.base().abs() <= LengthDim::GREATEST);
        }
        let _ = WireSize::parse(&text);
    }

    /// Numbers are shown as the standard library rounds them, those on the middle between two
    /// neighbours and next to it included.
    #[test]
    fn numbers_round_as_exact_decimals_do(number in -1e15f64..1e15, small in -100f64..100.0, halves in -2_000_000i64..2_000_000, by in 0i32..9, ulps in -3i64..4) {
        let middle = (halves as f64 + 0.5) / 10f64.powi(by);
        let beside = f64::from_bits((middle.to_bits() as i64 + ulps) as u64);
        for number in [number, small, small / 1e4, middle, beside, halves as f64, halves as f64 / 1e3] {
            let exact = format!("{number:.6}");
            let exact = exact.trim_end_matches('0').trim_end_matches('.');
            let shown = plain(number);
            if number == 0.0 || (1e-6..1e15).contains(&number.abs()) {
                prop_assert_eq!(&shown, if exact == "-0" { "0" } else { exact });
            }
            let rounded: f64 = figure3(number).parse().expect("a number");
            prop_assert!((rounded - number).abs() <= number.abs() * 5.01e-3 || number.abs() < 1e-9, "{number} is shown as {rounded}");
        }
    }
}
