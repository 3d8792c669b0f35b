//! Absurd inputs: a figure is finite and can be written out, or there is none.

use nailplate::figures::Figure;
use nailplate::figures::conductor::{Material, Stranding, from_geometry, one_way};
use nailplate::figures::dip::LampDip;
use nailplate::figures::drop::{Feeder, Segment, VoltageDrop};
use nailplate::figures::fill::Fill;
use nailplate::figures::line::{self, LineLoss, LoopResistance, LoopShare, Part, parallel};
use nailplate::figures::load::{BreakerLoad, ContinuousLoad, Load};
use nailplate::figures::phases::Phases;
use nailplate::figures::ring::{Leg, Ring};
use nailplate::figures::route::{Level, RouteLength, Slack, straight_line};
use nailplate::figures::tied::EquivalentSize;
use nailplate::figures::video::{Chroma, VideoRate};
use nailplate::tables::ampacity::{adjustment, most_generous, next_standard_breaker};
use nailplate::tables::conduit::{bore, greatest_fill};
use nailplate::tables::listings::{read_printed, stands_for};
use nailplate::tables::timings::timing;
use nailplate::tables::video_grades::weakest_for;
use nailplate::units::unit::megahertz;
use nailplate::units::{Distance, Frequency, Ohms, Percent, WireSize};
use proptest::prelude::*;

use super::{amperes, copper, inches, volts, watts};

/// Any number, and often one that breaks arithmetic.
pub fn any_number() -> impl Strategy<Value = f64> {
    prop_oneof![
        any::<f64>(),
        0.0..100.0f64,
        prop::sample::select(vec![
            0.0,
            -0.0,
            -1.0,
            f64::NAN,
            f64::INFINITY,
            f64::NEG_INFINITY,
            1e300,
            -1e300,
            1e-300,
            f64::MIN_POSITIVE,
            f64::MAX
        ]),
    ]
}

pub fn any_length() -> impl Strategy<Value = Distance> {
    let unit = prop::sample::select(vec!["ft", "in", "m", "mm", "yd"]);
    (any_number(), unit).prop_map(|(number, unit)| Distance::new(number, unit).expect("a unit"))
}

pub fn any_size() -> impl Strategy<Value = WireSize> {
    prop_oneof![
        any::<i8>().prop_map(WireSize::Awg),
        any_number().prop_map(WireSize::Metric)
    ]
}

pub fn check<F: Figure>(figure: Option<F>) {
    if let Some(figure) = figure {
        let value = figure.value();
        assert!(value.is_finite() && value >= 0.0, "{}: {value}", F::NAME);
        let working = figure.working();
        assert!(
            !working.contains("NaN") && !working.contains("inf"),
            "{}: {working}",
            F::NAME
        );
    }
}

proptest! {
    #[test]
    fn conductors(size in any_size(), celsius in any_number(), tied in any::<u8>()) {
        for material in [Material::Copper, Material::Aluminium, Material::CopperCladAluminium] {
            for stranding in [Stranding::Solid, Stranding::Stranded, Stranding::Flexible] {
                for wire in [one_way(size, material, stranding, celsius), from_geometry(size, material, celsius)].into_iter().flatten() {
                    prop_assert!(wire.ohm_per_metre().is_finite() && wire.ohm_per_metre() > 0.0);
                }
            }
        }
        check(EquivalentSize::of(size, tied));
        if let Some(tied) = EquivalentSize::of(size, tied) {
            prop_assert!(tied.awg().is_finite());
        }
        most_generous(size);
    }

    #[test]
    fn lines(lengths in prop::collection::vec(any_length(), 0..7), load in any_number(), tied in 0u8..5, limit in any_number()) {
        let wire = copper(WireSize::Awg(14), Stranding::Stranded, 20.0);
        let parts: Vec<Part> = lengths.iter().map(|&length| Part { length, wire, tied }).collect();
        check(LoopResistance::of(parts.clone()));
        let load = Ohms::new(load, "ohm").expect("a unit");
        if let Some(load) = parallel([load, load]) {
            prop_assert!(load.base() > 0.0);
        }
        let segments: Vec<_> = parts.into_iter().map(|part| line::Segment { part, beyond: load }).collect();
        let within = |segments| LoopShare::of(segments).is_some_and(|share| share.value() <= limit);
        line::smallest_size(&segments, &line::AWG_SIZES, Stranding::Stranded, tied, within);
        line::tied_cores(&segments, within);
        check(LoopShare::of(segments.clone()));
        check(LineLoss::of(segments));
    }

    #[test]
    fn drops(runs in prop::collection::vec((any_length(), any_number()), 0..7), nominal in any_number(), feeder in any_number()) {
        let wire = copper(WireSize::Metric(2.5), Stranding::Stranded, 70.0);
        let segments: Vec<_> = runs.iter().map(|&(length, current)| Segment { length, wire, current: amperes(current), phases: Phases::Three }).collect();
        let share = Percent::new(feeder, "%").expect("a unit");
        for feeder in [None, Some(Feeder::Share(share)), Some(Feeder::Drop(volts(feeder)))] {
            check(VoltageDrop::of(segments.clone(), volts(nominal), feeder));
        }
        let legs: Vec<Leg> = runs.iter().map(|&(length, _)| Leg { length, wire }).collect();
        let taps: Vec<_> = runs.iter().skip(1).map(|&(_, current)| amperes(current)).collect();
        if let Some(ring) = Ring::solve(legs, &taps) {
            for tap in 0..taps.len() {
                let path = ring.path_to(tap).expect("a tap of the ring");
                check(VoltageDrop::of(path, volts(230.0), None));
            }
        }
    }

    #[test]
    fn loads(list in prop::collection::vec((any_number(), any_number(), any_number()), 0..7)) {
        let list: Vec<Load> = list.into_iter().map(|(power, nominal, share)| Load { power: watts(power), volts: volts(nominal), phases: Phases::One, share }).collect();
        check(BreakerLoad::of(list.clone()));
        check(ContinuousLoad::of(list));
    }

    #[test]
    fn dips(peak in any_number(), load in any_number(), nominal in any_number(), length in any_length()) {
        let wire = copper(WireSize::Awg(12), Stranding::Solid, 75.0);
        if let Some(shared) = LoopResistance::of(vec![Part { length, wire, tied: 1 }]) {
            check(LampDip::of(watts(peak), watts(load), volts(nominal), shared));
        }
    }

    #[test]
    fn pictures(clock in any_number(), depth in any::<u8>(), ratio in prop::option::of(any_number()), width in any::<u32>(), refresh in any_number()) {
        for chroma in [Chroma::C444, Chroma::C422, Chroma::C420] {
            for depth in [depth, 8, 10, 12, 16] {
                check(VideoRate::of(Frequency::new::<megahertz>(clock), depth, chroma, ratio));
            }
        }
        prop_assert_eq!(timing(width.saturating_add(20_000), 1080, refresh, false), None);
        if let Some(found) = timing(1920, 1080, refresh, false) {
            prop_assert!(found.clock.value.is_finite());
        }
        weakest_for(clock);
    }

    #[test]
    fn conduits(inside in any_length(), cables in prop::collection::vec(any_length(), 0..7), limit in any_number(), count in any::<usize>()) {
        let fill = Fill::of(inside, cables);
        if let Some(fill) = &fill {
            fill.room_for_one_more(inches(0.3), limit);
        }
        check(fill);
        bore("EMT", limit);
        greatest_fill(count);
        next_standard_breaker(limit);
        adjustment(u32::try_from(count % 100).unwrap_or(0));
    }

    #[test]
    fn routes(from in prop::array::uniform3(any_length()), to in prop::array::uniform3(any_length()), level in any_length(), conduits in prop::collection::vec(any_length(), 0..3), share in any_number()) {
        for level in [Level::Direct, Level::Ceiling(level, level), Level::Floor(level, level)] {
            let route = RouteLength::estimated(from, to, level, &conduits, Slack { share, fixed: inches(10.0) });
            if let Some(route) = &route {
                check(RouteLength::channel(&[route.clone(), route.clone()]));
            }
            check(route);
        }
        check(RouteLength::stated(from[0]));
        if let Some(line) = straight_line(from, to) {
            prop_assert!(line.value.is_finite());
        }
    }

    #[test]
    fn jackets(printed in "\\PC{0,12}", demanded in "[A-Z0-9]{0,6}") {
        read_printed(&printed);
        stands_for(&printed, &demanded);
    }
}
