//! Absurd inputs to the figures of signals, pulls, pictures and rooms: finite and sayable, or none.

use nailplate::figures::Figure;
use nailplate::figures::apart::Separation;
use nailplate::figures::boxfill::{BoxFill, Content};
use nailplate::figures::bundle::BundledAmpacity;
use nailplate::figures::coax::{CoaxLoss, Part as CoaxPart};
use nailplate::figures::conductor::{Material, Stranding};
use nailplate::figures::constant_voltage::{LineVoltageLoss, smallest_area, tap_impedance};
use nailplate::figures::corner::{CornerFrequency, Stretch, greatest_length};
use nailplate::figures::damping::DampingFactor;
use nailplate::figures::dip::lamp_flux_loss;
use nailplate::figures::direction::{Azimuth, Elevation};
use nailplate::figures::framing::{EdgeDistance, joist_limits, stud_limits};
use nailplate::figures::heat::{Airflow, ApparentPower, Heat, amplifier_draw};
use nailplate::figures::insertion::{DataChannel, InsertionLoss, greatest_cords};
use nailplate::figures::jam::JamRatio;
use nailplate::figures::line::{LoopResistance, Segment};
use nailplate::figures::picture::{
    ImageWidth, ThrowDistance, ViewAngle, design_distance, distance_for_angle,
};
use nailplate::figures::poe::{ConductorCurrent, PoePower, PoeVoltage, leg};
use nailplate::figures::pull::{Lay, Pull, Section, even_spread};
use nailplate::figures::tension::{PullTension, SidewallPressure};
use nailplate::tables::ampacity::Column;
use nailplate::tables::separation::{Class, Containment, circuits_of};
use nailplate::tables::{
    bends, boxes, categories, coax, cpr, edition::Edition, loudspeakers, poe, pulling,
};
use nailplate::units::{
    Decibels, Degrees, Dimension, FaradsPerMetre, ForceDim, Hertz, KilogramsPerMetre, LevelDim,
    Measured, Newtons, Ohms, Space, TemperatureDim, WireSize,
};
use proptest::prelude::*;

use super::absurd::{any_length, any_number, any_size, check};
use super::{copper, inches, volts, watts};

fn ohms(number: f64) -> Ohms {
    Ohms::new(number, "ohm").expect("a unit")
}

fn degrees(number: f64) -> Degrees {
    Degrees::new(number, "deg").expect("a unit")
}

/// An angle with its sign.
fn check_angle<F: Figure>(figure: Option<F>) {
    if let Some(figure) = figure {
        assert!(
            (-180.0..=180.0).contains(&figure.value()),
            "{}: {}",
            F::NAME,
            figure.value()
        );
        let working = figure.working();
        assert!(
            !working.contains("NaN") && !working.contains("inf"),
            "{working}"
        );
    }
}

fn any_section() -> impl Strategy<Value = Section> {
    prop_oneof![
        (any_length(), any_number()).prop_map(|(length, rise)| Section::Straight { length, rise }),
        any_length().prop_map(|length| Section::Straight { length, rise: 0.0 }),
        (any_number(), prop::option::of(any_length())).prop_map(|(angle, radius)| Section::Bend {
            angle: degrees(angle),
            radius
        }),
        (0.0..180.0f64).prop_map(|angle| Section::Bend {
            angle: degrees(angle),
            radius: Some(inches(6.0))
        }),
    ]
}

fn any_lay() -> impl Strategy<Value = Lay> {
    prop_oneof![
        Just(Lay::One),
        any_number().prop_map(Lay::Cradled),
        any_number().prop_map(Lay::Triangular),
        any::<usize>().prop_map(Lay::Uncorrected),
    ]
}

proptest! {
    #[test]
    fn interconnects(source in any_number(), cables in prop::collection::vec((any_length(), any_number()), 0..7), corner in any_number(), length in any_length(), percent in any_number()) {
        let farads = |number| FaradsPerMetre::new(number, "pF/m").expect("a unit");
        let cables: Vec<_> = cables.into_iter().map(|(length, number)| Stretch { length, capacitance: farads(number) }).collect();
        check(CornerFrequency::of(ohms(source), cables));
        if let Some(longest) = greatest_length(ohms(source), farads(percent), Hertz::new(corner, "Hz").expect("a unit")) {
            prop_assert!(longest.value.is_finite());
        }
        if let Some(area) = smallest_area(length, watts(source), volts(corner), percent) {
            prop_assert!(area.value.is_finite());
        }
        let wire = copper(WireSize::Awg(14), Stranding::Stranded, 20.0);
        let part = leg(length, wire, 2).expect("two pairs");
        let beyond = tap_impedance(volts(corner), watts(source)).unwrap_or(ohms(source));
        check(LineVoltageLoss::of(vec![Segment { part, beyond }; 6]));
        if let Some(line) = LoopResistance::of(vec![part]) {
            check(DampingFactor::of(ohms(source), ohms(corner), line));
        }
    }

    #[test]
    fn powered_devices(source in any_number(), load in any_number(), length in any_length(), pairs in any::<u8>(), cables in any::<u32>(), size in any_size()) {
        let wire = copper(WireSize::Awg(24), Stranding::Solid, 20.0);
        for pairs in [pairs, 2, 4] {
            if let Some(line) = leg(length, wire, pairs).and_then(|part| LoopResistance::of(vec![part])) {
                let power = PoePower::of(volts(source), watts(load), line.clone());
                let voltage = PoeVoltage::of(volts(source), watts(load), line);
                if let Some(voltage) = &voltage {
                    prop_assert!(voltage.amperes().is_finite());
                    prop_assert!(voltage.value() <= source && voltage.value() >= source / 2.0 * (1.0 - 1e-9));
                }
                check(power);
                check(voltage);
            }
            check(ConductorCurrent::of(volts(source), watts(load), pairs));
        }
        poe::of_type(pairs);
        poe::of_class(pairs);
        for edition in Edition::ALL {
            poe::bundle_ampacity(edition, size, cables);
        }
        pulling::by_conductors(cables, size, Material::Copper);
    }

    #[test]
    fn data_channels(link in any_length(), cords in any_length(), gauge in any::<i8>(), connectors in any::<u8>(), celsius in any_number(), screened in any::<bool>(), megahertz in any_number()) {
        for category in categories::all() {
            let channel = DataChannel { category, link, cords, cord_gauge: gauge, connectors, celsius, screened };
            check(InsertionLoss::at_top(channel));
            check(InsertionLoss::at(channel, megahertz));
            category.reach(megahertz, screened);
        }
        if let Some(cords) = greatest_cords(link, gauge) {
            prop_assert!(cords.is_finite());
        }
        if let Some(factor) = categories::warmth(celsius, screened) {
            prop_assert!((1.0..2.0).contains(&factor));
        }
    }

    #[test]
    fn coaxial_channels(lengths in prop::collection::vec(any_length(), 0..7), ways in any::<u8>(), stated in any_number(), megahertz in any_number()) {
        for series in coax::all() {
            let mut parts: Vec<_> = lengths.iter().map(|&length| CoaxPart::Cable { series, length }).collect();
            for at in [megahertz, 1000.0] {
                check(CoaxLoss::of(parts.clone(), at));
            }
            parts.push(CoaxPart::Splitter(ways));
            parts.push(CoaxPart::Stated(Decibels(stated)));
            if let Some(loss) = CoaxLoss::of(parts, 500.0) {
                let start = Measured::<LevelDim>::new(60.0, "dBuV").expect("a unit");
                prop_assert!(loss.level_from(start).base().is_finite());
                check(Some(loss));
            }
        }
    }

    #[test]
    fn pulls(sections in prop::collection::vec(any_section(), 0..12), weight in any_number(), friction in any_number(), start in any_number(), lay in any_lay()) {
        for (weight, friction, start) in [(weight, friction, start), (0.1, 0.5, start.abs()), (weight.abs(), 0.5, 0.0)] {
            for unit in ["lb/ft", "kg/m"] {
                let pull = Pull {
                    sections: sections.clone(),
                    weight: KilogramsPerMetre::new(weight, unit).expect("a unit"),
                    friction,
                    lay,
                    start: Newtons::new(start, "N").expect("a unit"),
                };
                check(SidewallPressure::of(pull.clone()));
                check(PullTension::of(pull.clone()));
                if let Some((better, _)) = PullTension::better(pull.clone()) {
                    prop_assert!(better.value() <= PullTension::of(pull).map_or(f64::INFINITY, |forth| forth.value()));
                }
            }
        }
    }

    #[test]
    fn conduits(bore in any_length(), cables in prop::collection::vec(any_length(), 0..5), angles in prop::collection::vec(any_number(), 0..5)) {
        if let Some(correction) = Lay::of(bore, &cables).and_then(Lay::weight_correction) {
            prop_assert!(correction.is_finite() && correction >= 1.0);
        }
        for &cable in &cables {
            check(JamRatio::of(bore, cable));
            JamRatio::of(bore, cable).map(|ratio| ratio.may_jam());
        }
        let angles: Vec<_> = angles.into_iter().map(degrees).collect();
        if let Some(sections) = even_spread(bore, &angles, None) {
            prop_assert_eq!(sections.len(), 2 * angles.len() + 1);
        }
        if let Some(radius) = bends::telecommunications_radius(bore, false) {
            prop_assert!(!radius.base().is_nan());
        }
        bends::conduit_radius(bore.number(), true);
    }

    #[test]
    fn places(points in prop::array::uniform9(any_length()), ratio in any_number(), lines in any::<u32>(), place in "[a-z-]{0,20}") {
        let [a, b, c, d, e, f, g, h, i] = points;
        let (seat, front, speaker) = ([a, b, c], [d, e, f], [g, h, i]);
        check_angle(Azimuth::of(seat, front, speaker));
        check_angle(Elevation::of(seat, speaker));
        check(ThrowDistance::of(ratio, a));
        check(ImageWidth::of_throw(a, ratio));
        check(ImageWidth::of_diagonal(a, ratio, 9.0));
        check(ImageWidth::of_diagonal(a, 16.0, ratio));
        check(ImageWidth::of_angle(a, ratio));
        check(ViewAngle::of(a, b));
        for number in [design_distance(lines), distance_for_angle(a, ratio).map(|length| length.value)].into_iter().flatten() {
            prop_assert!(number.is_finite());
        }
        if let Some(target) = loudspeakers::target(&place, loudspeakers::Bed::Seven) {
            prop_assert!(target.azimuth.off(ratio) >= 0.0);
        }
    }

    #[test]
    fn rooms(powers in prop::collection::vec(any_number(), 0..7), delivered in any_number(), rise in any_number(), channels in any::<u32>()) {
        let drawn: Vec<_> = powers.into_iter().map(watts).collect();
        check(ApparentPower::of(drawn.clone(), rise));
        check(Heat::of(drawn.clone(), vec![watts(delivered)]));
        if let Some(heat) = Heat::of(drawn, vec![]) {
            prop_assert!(heat.btu_per_hour().is_finite());
            check(Airflow::of(&heat, rise));
            check(Some(heat));
        }
        for draw in [amplifier_draw(channels, watts(delivered), 0.125, rise, watts(rise)), lamp_flux_loss(rise)].into_iter().flatten() {
            prop_assert!(draw.is_finite() && draw >= 0.0);
        }
    }

    #[test]
    fn buildings(width in any_length(), hole in any_length(), centre in prop::option::of(any_length()), sizes in prop::collection::vec((any_size(), any::<u32>()), 0..5), count in any::<u32>(), breaker in any_number(), phases in any::<u8>()) {
        if let Some(edge) = EdgeDistance::of(width, hole, centre) {
            edge.wants_plate();
            edge.weakens_stud();
            check(Some(edge));
        }
        for length in [stud_limits(width, true, false).map(|stud| stud.hole), joist_limits(width).map(|joist| joist.hole)].into_iter().flatten() {
            prop_assert!(length.base().is_finite() && length.base() >= 0.0);
        }
        let yokes = sizes.iter().map(|size| size.0).collect();
        let content = Content { conductors: sizes.clone(), earths: sizes.clone(), yokes, clamps: true };
        for edition in Edition::ALL {
            let fill = BoxFill::of(&content, edition);
            if let Some(fill) = &fill {
                fill.fits(Space::new(breaker, "in3").expect("a unit"));
            }
            check(fill);
        }
        for (size, _) in sizes {
            boxes::conductor_volume(size);
            check(BundledAmpacity::of(size, Material::Aluminium, count, [Column::C90, Column::C60], None));
        }
        for class in [Class::A, Class::D] {
            check(Separation::of(class, Containment::None, count));
        }
        circuits_of(breaker, phases);
    }

    #[test]
    fn jackets_and_quantities(text in "\\PC{0,16}", class in "(Aca|B2ca|cca|Eca)(-[sda][0-4][ab]?(,[sda][0-4]){0,3})?", number in any_number()) {
        cpr::Euroclass::parse(&text);
        if let Some(class) = cpr::Euroclass::parse(&class) {
            prop_assert_eq!(cpr::meets(class, class), Some(true));
        }
        for unit in TemperatureDim::UNITS {
            let written = format!("{number} {}", unit.spelling);
            if let Ok(read) = Measured::<TemperatureDim>::parse(&written) {
                prop_assert!(read.base().is_finite());
            }
        }
        if let Ok(read) = Measured::<ForceDim>::parse(&text) {
            prop_assert!(read.base().is_finite());
        }
    }
}
