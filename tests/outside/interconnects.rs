//! Line-level cables, 100 V lines.

use super::{metres, near, volts, watts};
use nailplate::figures::Figure;
use nailplate::figures::conductor::{Material, from_geometry};
use nailplate::figures::constant_voltage::{LineVoltageLoss, tap_impedance};
use nailplate::figures::corner::{CornerFrequency, Stretch};
use nailplate::figures::line::{Part, Segment};
use nailplate::units::{FaradsPerMetre, Ohms, WireSize};

fn ohms(number: f64) -> Ohms {
    Ohms::new(number, "ohm").expect("ohm is a resistance")
}

fn picofarads(number: f64) -> FaradsPerMetre {
    FaradsPerMetre::new(number, "pF/m").expect("pF/m is a capacitance")
}

#[test]
fn treble_corner() {
    // IC03, computed: 1 kohm into 10 m of 100 pF/m.
    let cable = Stretch {
        length: metres(10.0),
        capacitance: picofarads(100.0),
    };
    let corner = CornerFrequency::of(ohms(1000.0), vec![cable]).expect("a corner");
    near("IC03", corner.value(), 159_155.0, 0.0001);
    assert_eq!(
        corner.working(),
        "1 ÷ (2π × 1000 ohm × (10 m × 100 pF/m)) = 159155 Hz"
    );
    // IC04, computed: 2.2 kohm, 100 pF/m, −3 dB at 60 kHz.
    let kohm = Ohms::new(2.2, "kohm").expect("kohm is a resistance");
    let longest = Stretch {
        length: metres(12.06),
        ..cable
    };
    let corner = CornerFrequency::of(kohm, vec![longest]).expect("a corner");
    near("IC04", corner.value(), 60_000.0, 0.001);
    assert!(CornerFrequency::of(ohms(1000.0), vec![]).is_none());
    assert!(CornerFrequency::of(ohms(0.0), vec![cable]).is_none());
}

#[test]
fn distributed_lines() {
    // LL03: "Power loss caused by wire length, 70/100 V lines": 300 m, 100 W, 100 V, 10 % lost need 0.945 mm². The line
    // loses 10 % but for the handbook's 0.0175 against copper's 0.017241 ohm mm²/m.
    let wire = from_geometry(WireSize::Metric(0.945), Material::Copper, 20.0).expect("a size");
    let load = tap_impedance(volts(100.0), watts(100.0)).expect("a load");
    let segment = Segment {
        part: Part {
            length: metres(300.0),
            wire,
            tied: 1,
        },
        beyond: load,
    };
    let loss = LineVoltageLoss::of(vec![segment]).expect("a line");
    near("LL03", loss.value(), 10.0, 0.015);
    assert_eq!(loss.working(), "10.95 Ω ÷ 110.9 Ω = 9.87 % at 20 °C");
    // The same page prints 100 and 49.98 ohm for 100 W at 100 V and 70.7 V.
    near("100 V", load.base(), 100.0, 1e-12);
    near(
        "70.7 V",
        tap_impedance(volts(70.7), watts(100.0)).map_or(0.0, |load| load.base()),
        49.98,
        0.0002,
    );
    assert!(LineVoltageLoss::of(vec![]).is_none());
}
