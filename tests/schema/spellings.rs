//! Every unit in every spelling, alone and in pairs: what the reader takes is in the pattern.

use jsonschema::Validator;
use nailplate::plan::Bounded;
use nailplate::schema::{Defs, Schema};
use nailplate::units::{
    AirFlowDim, AngleDim, CapacitancePerLengthDim, CurrentDim, DataRateDim, DecibelDim, Dimension,
    ForceDim, FrequencyDim, LengthDim, LevelDim, MassDim, MassPerLengthDim, Measured, Misspelling,
    PowerDim, RatioDim, ResistanceDim, TemperatureDim, VoltageDim, VolumeDim,
};
use serde_json::json;

const NUMBERS: &[&str] = &[
    "0", "-0", "-0.0", "5", "+5", "-5", "-0.5", "05", "5.", ".5", "2.50", "2e1", "2E-1", "1/4",
    "-1/4", "1-1/4", "1 1/4",
];
const JOINTS: &[&str] = &["", " ", "-", "- ", " -", ", "];

fn of<D: Dimension, const BOUND: u8>() -> Validator {
    let mut defs = Defs::default();
    let schema = Bounded::<D, BOUND>::schema(&mut defs);
    let def = defs.get(&schema).expect("a quantity is defined");
    jsonschema::draft202012::new(def).expect("a schema")
}

/// Reader and pattern on texts of one dimension: how many both take, and how many neither.
fn agree<D: Dimension>() -> (usize, usize) {
    let (signed, from_zero, over_zero) = (of::<D, 0>(), of::<D, 1>(), of::<D, 2>());
    let spellings: Vec<_> = D::UNITS
        .iter()
        .flat_map(|unit| std::iter::once(&unit.spelling).chain(unit.also))
        .collect();
    let mut texts = vec!["5".to_owned(), "5 zz".to_owned(), "ft".to_owned()];
    for unit in &spellings {
        for number in NUMBERS {
            texts.push(format!("{number} {unit}"));
        }
        texts.extend([
            format!("5{unit}"),
            format!(" 5  {unit}\n"),
            format!("5 {unit}s zz"),
        ]);
        for second in &spellings {
            for joint in JOINTS {
                texts.push(format!("8 {unit}{joint}6{second}"));
            }
            texts.push(format!("0{unit} 1/2 {second}"));
            texts.push(format!("-8 {unit} 2.5 {second}"));
        }
    }
    let (mut both, mut neither) = (0, 0);
    for text in texts {
        let value = json!(text);
        let read = Measured::<D>::parse(&text);
        let number = read.as_ref().map(|measured| measured.number()).ok();
        // Size is for the reader alone.
        let sound = number.is_some() || read == Err(Misspelling::Unthinkable);
        assert_eq!(signed.is_valid(&value), sound, "{}: `{text}`", D::NAME);
        let Some(number) = number else {
            neither += usize::from(!sound);
            continue;
        };
        both += 1;
        assert_eq!(
            from_zero.is_valid(&value),
            number >= 0.0,
            "{}: `{text}`",
            D::NAME
        );
        let over = over_zero.is_valid(&value);
        assert!(over || number <= 0.0, "{}: `{text}`", D::NAME);
        // A figure in the unit (`m3/h`) hides a nought.
        let hidden = number == 0.0 && text.contains(|c: char| matches!(c, '1'..='9'));
        assert!(!over || number > 0.0 || hidden, "{}: `{text}`", D::NAME);
    }
    (both, neither)
}

#[test]
fn every_spelling_of_every_unit_is_in_its_pattern() {
    macro_rules! all {
        ($($dimension:ident)*) => {
            [$((stringify!($dimension), agree::<$dimension>())),*]
        };
    }
    for (dimension, (both, neither)) in all! {
        LengthDim CurrentDim VoltageDim PowerDim ResistanceDim AngleDim RatioDim DataRateDim FrequencyDim
        CapacitancePerLengthDim ForceDim MassDim MassPerLengthDim VolumeDim AirFlowDim TemperatureDim DecibelDim LevelDim
    } {
        assert!(
            both >= 18 && neither >= 3,
            "{dimension}: {both} read, {neither} not"
        );
    }
}
