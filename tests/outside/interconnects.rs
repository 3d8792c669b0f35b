//! Line-level cables, 100 V lines, damping.

use super::{copper, feet, metres, near, volts, watts};
use nailplate::figures::Figure;
use nailplate::figures::conductor::{Material, Stranding, from_geometry};
use nailplate::figures::constant_voltage::{LineVoltageLoss, smallest_area, tap_impedance};
use nailplate::figures::corner::{CornerFrequency, Stretch, greatest_length};
use nailplate::figures::damping::DampingFactor;
use nailplate::figures::line::{LoopResistance, Part, Segment};
use nailplate::units::unit::{meter, square_millimeter};
use nailplate::units::{FaradsPerMetre, Hertz, Ohms, WireSize};

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
    let longest = greatest_length(
        kohm,
        picofarads(100.0),
        Hertz::new(60.0, "kHz").expect("kHz"),
    );
    near(
        "IC04",
        longest.map_or(0.0, |length| length.get::<meter>()),
        12.06,
        0.001,
    );
    assert!(CornerFrequency::of(ohms(1000.0), vec![]).is_none());
    assert!(CornerFrequency::of(ohms(0.0), vec![cable]).is_none());
}

#[test]
fn distributed_lines() {
    // LL03: "Power loss caused by wire length, 70/100 V lines": 300 m, 100 W, 100 V, 10 % lost.
    let area = smallest_area(metres(300.0), watts(100.0), volts(100.0), 10.0);
    let area = area.map_or(0.0, |area| area.get::<square_millimeter>());
    near("LL03", area, 0.945, 1e-9);
    // The same line computed forwards loses 10 %, but for the handbook's 0.0175 against copper's 0.017241 ohm mm²/m.
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
    near("LL03 forwards", loss.value(), 10.0, 0.015);
    assert_eq!(loss.working(), "10.95 Ω ÷ 110.9 Ω = 9.87 % at 20 °C");
    // The same page prints 100 and 49.98 ohm for 100 W at 100 V and 70.7 V.
    near("100 V", load.base(), 100.0, 1e-12);
    near(
        "70.7 V",
        tap_impedance(volts(70.7), watts(100.0)).map_or(0.0, |load| load.base()),
        49.98,
        0.0002,
    );
    assert!(smallest_area(metres(300.0), watts(100.0), volts(100.0), 100.0).is_none());
    assert!(LineVoltageLoss::of(vec![]).is_none());
}

#[test]
fn damping() {
    // SK12, computed: 50 ft of 14 AWG, 8 ohm, amplifier output 0.04 ohm.
    let wire = from_geometry(WireSize::Awg(14), Material::Copper, 20.0).expect("14 AWG");
    let line = |wire| {
        LoopResistance::of(vec![Part {
            length: feet(50.0),
            wire,
            tied: 1,
        }])
        .expect("a line")
    };
    let factor = DampingFactor::of(ohms(8.0), ohms(0.04), line(wire)).expect("a factor");
    near("SK12", factor.value(), 27.35, 0.001);
    let stranded = copper(WireSize::Awg(14), Stranding::Stranded, 20.0);
    assert!(
        DampingFactor::of(ohms(8.0), ohms(0.04), line(stranded))
            .is_some_and(|f| f.value() < factor.value())
    );
    assert!(DampingFactor::of(ohms(0.0), ohms(0.04), line(wire)).is_none());
}
