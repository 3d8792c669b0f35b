//! Circuit loads, and conduit fill.

use super::{inches, near, volts, watts};
use nailplate::figures::Figure;
use nailplate::figures::fill::Fill;
use nailplate::figures::load::{BreakerLoad, ContinuousLoad, Load};
use nailplate::figures::phases::Phases;
use nailplate::tables::conduit::{bore, greatest_fill};
use nailplate::units::Distance;

fn load(power: f64, nominal: f64) -> Load {
    Load {
        power: watts(power),
        volts: volts(nominal),
        phases: Phases::One,
        share: 1.0,
    }
}

#[test]
fn loads_add_up() {
    // LD02: NEC 210.23(A)(2): fixed equipment on a mixed 20 A circuit at most 10 A, which is 1200 W at 120 V.
    let fixed = BreakerLoad::of(vec![load(1200.0, 120.0)]).expect("a load");
    near("LD02", fixed.value(), 20.0 * 0.5, 1e-12);
    let two = BreakerLoad::of(vec![load(900.0, 120.0), load(430.0, 120.0)]).expect("loads");
    near("two", two.value(), 1330.0 / 120.0, 1e-12);
    assert_eq!(two.working(), "900 W ÷ 120 V + 430 W ÷ 120 V = 11.08 A");
    // Three phases, P = √3 × V × I (definition, power factor 1): 16 A at 400 V is 11.1 kW.
    let three = Load {
        phases: Phases::Three,
        ..load(11_085.0, 400.0)
    };
    let three = BreakerLoad::of(vec![three]).expect("a load");
    near("three phases", three.value(), 16.0, 1e-4);
    assert_eq!(three.working(), "11085 W ÷ (√3 × 400 V) = 16 A");
    let half = Load {
        share: 0.6,
        ..load(900.0, 120.0)
    };
    let half = ContinuousLoad::of(vec![half]).expect("a load");
    near("split", half.value(), 4.5, 1e-12);
    assert_eq!(half.working(), "60 % of 900 W ÷ 120 V = 4.5 A");
    assert_eq!(BreakerLoad::of(vec![]).map(|none| none.value()), Some(0.0));
    assert_eq!(BreakerLoad::of(vec![load(900.0, 0.0)]), None);
    assert_eq!(BreakerLoad::of(vec![load(-1.0, 120.0)]), None);
    assert_eq!(
        BreakerLoad::of(vec![Load {
            share: 1.5,
            ..load(900.0, 120.0)
        }]),
        None
    );
}

#[test]
fn fill_worked_examples() {
    let millimetres = |number| Distance::new(number, "mm").expect("mm is a length");
    let pipe = |make, size| bore(make, size).expect("a printed size").diameter;
    // CD06, computed: 6 cables of 6.0 mm in EMT 1 in (table 4: 1.049 in).
    let six = Fill::of(pipe("EMT", 1.0), vec![millimetres(6.0); 6]).expect("a fill");
    near("CD06", six.value(), 30.43, 0.001);
    assert_eq!(six.working(), "6 × (6 mm)² ÷ (1.049 in)² = 30.4 %");
    // CD07, computed: 2 cables of 7.5 mm in ENT 3/4 in (table 4: 0.760 in); passes 31 % only just.
    let two = Fill::of(pipe("ENT", 0.75), vec![millimetres(7.5); 2]).expect("a fill");
    near("CD07", two.value(), 30.17, 0.01);
    assert!(two.value() <= greatest_fill(2).unwrap_or(0.0));
}

#[test]
fn room_for_one_more() {
    let fill = Fill::of(inches(1.0), vec![inches(0.3), inches(0.4)]).expect("a fill");
    near("fill", fill.value(), 25.0, 1e-9);
    let limit = greatest_fill(fill.cables() + 1).unwrap_or(0.0);
    assert!(fill.room_for_one_more(inches(0.38), limit));
    assert!(!fill.room_for_one_more(inches(0.39), limit));
    assert!(!fill.room_for_one_more(inches(0.0), limit));
    assert!(!fill.room_for_one_more(inches(f64::NAN), limit));
    assert_eq!(
        fill.working(),
        "(0.3 in)² ÷ (1 in)² + (0.4 in)² ÷ (1 in)² = 25 %"
    );
    assert_eq!(Fill::of(inches(0.0), vec![]), None);
    assert_eq!(
        Fill::of(inches(1.0), vec![]).map(|empty| empty.value()),
        Some(0.0)
    );
}
