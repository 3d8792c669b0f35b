//! Heat and air.

use super::{near, watts};
use nailplate::figures::Figure;
use nailplate::figures::heat::{Airflow, Heat};
use nailplate::tables::heat::air_heat_per_volume;

fn heat(drawn: f64) -> Heat {
    Heat::of(vec![watts(drawn)], vec![]).expect("a heat")
}

#[test]
fn heat_of_equipment() {
    // HT01: "Amplifier heat and consumption page": draws 1440 W, delivers 1000 W.
    let amplifier = Heat::of(vec![watts(1440.0)], vec![watts(1000.0)]).expect("a heat");
    near("HT01", amplifier.value(), 440.0, 1e-12);
    assert_eq!(
        amplifier.working(),
        "1440 W − (1000 W) = 440 W (1501 BTU/h)"
    );
    // HT04, computed: 153 W.
    near("HT04", heat(153.0).btu_per_hour(), 522.1, 0.0002);
    assert!(Heat::of(vec![watts(100.0)], vec![watts(101.0)]).is_none());
}

#[test]
fn air_that_takes_it_away() {
    // HT05: 500 W, 20 °F (11.11 K), k = 3.16 as rounded up in print; computed from air at 20 °C k is 3.152.
    let flow = Airflow::of(&heat(500.0), 20.0 / 1.8).expect("a flow");
    near("HT05", flow.cubic_feet_per_minute(), 79.0, 0.005);
    near(
        "k",
        flow.cubic_feet_per_minute() * 20.0 / 500.0,
        3.152,
        0.0005,
    );
    let kelvin = Airflow::of(&heat(100.0), 1.0).expect("a flow");
    near(
        "k in kelvin",
        kelvin.cubic_feet_per_minute() / 100.0,
        1.751,
        0.0005,
    );
    near(
        "metric",
        kelvin.value(),
        100.0 * 3600.0 / (1.204 * 1005.0),
        1e-9,
    );
    near("air", air_heat_per_volume(), 1210.0, 0.001);
    assert_eq!(
        Airflow::of(&heat(500.0), 10.0)
            .map(|flow| flow.working())
            .unwrap_or_default(),
        "500 W × 3600 s/h ÷ (1210 J/(m3 K) × 10 K) = 148.8 m3/h (87.6 CFM)"
    );
    assert!(Airflow::of(&heat(500.0), 0.0).is_none());
}
