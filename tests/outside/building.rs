//! Separation, framing, boxes, bundles, protection by room, working space.

use super::{inches, near};
use nailplate::figures::Figure;
use nailplate::figures::apart::Separation;
use nailplate::figures::boxfill::{BoxFill, Content};
use nailplate::figures::bundle::BundledAmpacity;
use nailplate::figures::framing::{EdgeDistance, joist_limits, stud_limits};
use nailplate::tables::ampacity::{Column, next_standard_breaker};
use nailplate::tables::boxes::{boxes, conductor_volume};
use nailplate::tables::conductors::Material;
use nailplate::tables::edition::Edition;
use nailplate::tables::framing::{needs_no_plate, plate_thickness};
use nailplate::tables::protection::{
    Listed, arc_fault, ground_fault, ground_fault_volts, names, sink_distance, working_space,
};
use nailplate::tables::separation::{Class, Containment, circuit_factor, circuits_of, class_of};
use nailplate::units::{Distance, Space, WireSize::Awg};

#[test]
fn separation_table() {
    // EN 50174-2:2009 on, table 4, as the Swedish electrical handbook 2017, p. 526/528, prints it; class a from memory. Last
    // column, 45 circuits: P = 3 (table 5). Over 75 circuits the book prints 400 mm for the wire tray; S × P gives 450.
    #[rustfmt::skip]
    let rows = [
        (Class::A, [300.0, 225.0, 150.0, 0.0]), (Class::B, [100.0, 75.0, 50.0, 0.0]),
        (Class::C, [50.0, 38.0, 25.0, 0.0]), (Class::D, [10.0, 8.0, 5.0, 0.0]),
    ];
    use Containment::{None as Plastic, OpenMetal, PerforatedMetal, SolidMetal};
    for (class, basic) in rows {
        for (containment, millimetres) in [Plastic, OpenMetal, PerforatedMetal, SolidMetal]
            .into_iter()
            .zip(basic)
        {
            let found = Separation::of(class, containment, 45).expect("a row");
            near("S × 3", found.value(), millimetres * 3.0, 1e-12);
            assert_eq!(found.is_from_memory(), class == Class::A);
        }
    }
    for (least, most, factor) in [
        (1, 3, 0.2),
        (4, 6, 0.4),
        (7, 9, 0.6),
        (10, 12, 0.8),
        (13, 15, 1.0),
        (16, 30, 2.0),
        (31, 45, 3.0),
        (46, 60, 4.0),
        (61, 75, 5.0),
        (76, 500, 6.0),
    ] {
        assert_eq!(
            (circuit_factor(least), circuit_factor(most)),
            (Some(factor), Some(factor))
        );
    }
    assert_eq!(circuit_factor(0), None);
    let tray = Separation::of(Class::B, OpenMetal, 80).expect("a row");
    near("printed 400, formula 450", tray.value(), 450.0, 1e-12);
}

#[test]
fn separation_worked_examples() {
    let of = |grade, screened, containment, circuits| {
        let class = class_of(grade, screened).expect("a class");
        Separation::of(class, containment, circuits).expect("a row")
    };
    // SP01, SP03, SP05: cells of the same handbook's table.
    near(
        "SP01",
        of("cat6", false, Containment::None, 5).value(),
        40.0,
        1e-12,
    );
    near(
        "SP03",
        of("cat6a", true, Containment::OpenMetal, 20).value(),
        76.0,
        1e-12,
    );
    near(
        "SP05",
        of("cat7", true, Containment::None, 3).value(),
        2.0,
        1e-9,
    );
    assert_eq!(
        of("cat6", false, Containment::None, 1).working(),
        "100 mm (class b) × 0.2 (1 circuit of at most 20 A) = 20 mm"
    );
    assert_eq!(class_of("cat7", false), None);
    // Notes to table 5, from memory: three phases count three times, circuits over 20 A by multiples of 20 A.
    assert_eq!(circuits_of(16.0, 3), Some(3));
    assert_eq!(circuits_of(32.0, 1), Some(2));
    assert_eq!(circuits_of(f64::NAN, 1), None);
    assert_eq!(circuits_of(0.0, 1), None);
}

#[test]
fn joists_and_studs() {
    // IRC R602.6, R502.8.1, read. FR02, FR03: a 2×10 is 9.25 in deep; FR05: a 2×4 is 3.5 in wide.
    let joist = joist_limits(inches(9.25)).expect("a joist");
    near("FR02", joist.notch_length.number(), 3.08, 0.003);
    near("FR03", joist.end_notch_depth.number(), 2.31, 0.003);
    near("hole", joist.hole.number(), 9.25 / 3.0, 1e-12);
    near("notch", joist.notch_depth.number(), 9.25 / 6.0, 1e-12);
    assert_eq!(joist.clear, inches(2.0));
    let bearing = stud_limits(inches(3.5), true, false).expect("a stud");
    near("FR05", bearing.hole.number(), 1.40, 1e-12);
    near("bearing notch", bearing.notch.number(), 0.875, 1e-12);
    assert_eq!(bearing.edge, inches(0.625));
    let free = stud_limits(inches(3.5), false, false).expect("a stud");
    near("free hole", free.hole.number(), 2.1, 1e-12);
    near("free notch", free.notch.number(), 1.4, 1e-12);
    let doubled = stud_limits(inches(3.5), true, true).expect("a stud");
    near("doubled hole", doubled.hole.number(), 2.1, 1e-12);
    assert_eq!(stud_limits(inches(0.0), true, false), None);
}

#[test]
fn steel_plates() {
    // FR07, FR08: NEC 300.4(A)(1), 2×4 stud, centred hole.
    let edge = |hole| EdgeDistance::of(inches(3.5), inches(hole), None).expect("a hole");
    near("FR07", edge(1.0).value(), 1.25 * 25.4, 1e-9);
    assert!(!edge(1.0).wants_plate());
    near("FR08", edge(1.125).value(), 1.1875 * 25.4, 1e-9);
    assert!(edge(1.125).wants_plate() && !edge(1.125).weakens_stud());
    assert_eq!(
        edge(1.2).working(),
        "(3.5 in − 1.2 in) ÷ 2 = 1.15 in, centred"
    );
    let aside = EdgeDistance::of(inches(3.5), inches(1.0), Some(inches(2.5))).expect("a hole");
    near("aside", aside.value(), 0.5 * 25.4, 1e-9);
    assert!(aside.weakens_stud());
    // 63.5 mm is 2.5 in: 1.25 in and 31.75 mm are one and the same.
    let millimetres = |number| Distance::new(number, "mm").expect("mm is a length");
    let metric = EdgeDistance::of(millimetres(88.9), millimetres(25.4), None).expect("a hole");
    assert!(!metric.wants_plate());
    assert!(EdgeDistance::of(inches(3.5), inches(1.0), Some(inches(0.4))).is_none());
    assert!(needs_no_plate("EMT") && !needs_no_plate("ENT"));
    assert_eq!(plate_thickness(), Some(inches(0.0625)));
}

#[test]
fn box_fill() {
    // NEC table 314.16(B)(1), from memory.
    for (gauge, volume) in [
        (18, 1.5),
        (16, 1.75),
        (14, 2.0),
        (12, 2.25),
        (10, 2.5),
        (8, 3.0),
        (6, 5.0),
    ] {
        assert_eq!(conductor_volume(Awg(gauge)), Some(volume));
    }
    assert_eq!(conductor_volume(Awg(4)), None);
    // Two 12/2 cables, one receptacle, internal clamps: 4 + 1 + 2 + 1 allowances of 2.25 in³ (NEC 314.16(B), from memory).
    let content = Content {
        conductors: vec![(Awg(12), 4)],
        earths: vec![(Awg(12), 2)],
        yokes: vec![Awg(12)],
        clamps: true,
    };
    let fill = BoxFill::of(&content, Edition::E2023).expect("a fill");
    near("two cables", fill.cubic_inches(), 8.0 * 2.25, 1e-12);
    near("metric", fill.value(), 18.0 * 16.387_064, 1e-12);
    assert_eq!(
        fill.working(),
        "4 × 2.25 in3 (conductors) + 1 × 2.25 in3 (clamps) + 2 × 2.25 in3 (device) + 1 × 2.25 in3 (earths) = 18 in3 (295 cm3)"
    );
    let volume = |wanted: &str| boxes().find(|known| known.0 == wanted).map(|known| known.1);
    let deep = volume("3 x 2 x 3-1/2 device").expect("a box");
    assert!(fill.fits(deep));
    assert!(!fill.fits(Space::new(17.9, "in3").expect("in3")));
    assert!(fill.fits(Space::new(295.0, "cm3").expect("cm3")));
    // From the 2020 edition on each earthing conductor beyond four counts a quarter.
    let many = Content {
        earths: vec![(Awg(12), 6)],
        ..content
    };
    let of = |edition| BoxFill::of(&many, edition).map_or(0.0, |fill| fill.cubic_inches());
    near("2017", of(Edition::E2017), 18.0, 1e-12);
    near("2020", of(Edition::E2020), 18.0 + 0.5 * 2.25, 1e-12);
    assert!(
        BoxFill::of(
            &Content {
                yokes: vec![Awg(4)],
                ..Content::default()
            },
            Edition::E2020
        )
        .is_none()
    );
}

/// The column of NM cable's insulation, and that which it never gets more than.
const NM: [Column; 2] = [Column::C90, Column::C60];

#[test]
fn bundled_cables() {
    // AM01 to AM04: "Code Q&A Sept 2004: bundled NM cables"; NEC 334.80 keeps to the 60 °C column, from memory.
    let of = |gauge, conductors| {
        BundledAmpacity::of(Awg(gauge), Material::Copper, conductors, NM, None).expect("a row")
    };
    for (gauge, conductors, adjusted, value, breaker) in [
        (14, 9, 17.5, 15.0, 15.0),
        (12, 9, 21.0, 20.0, 20.0),
        (10, 9, 28.0, 28.0, 30.0),
        (14, 10, 12.5, 12.5, 15.0),
    ] {
        near(
            "adjusted",
            of(gauge, conductors).adjusted(),
            adjusted,
            1e-12,
        );
        near("final", of(gauge, conductors).value(), value, 1e-12);
        assert_eq!(
            next_standard_breaker(of(gauge, conductors).value()),
            Some(breaker)
        );
    }
    assert_eq!(
        of(14, 9).working(),
        "25 A (14 AWG, 90 °C column) × 70 % for 9 conductors = 17.5 A, at most 15 A of the 60 °C column"
    );
    assert!(BundledAmpacity::of(Awg(14), Material::Copper, 0, NM, None).is_none());
}

#[test]
fn protection_by_room() {
    // NEC 210.12(A): rooms read for 2014; 210.8(A) from memory.
    for edition in Edition::ALL {
        assert_eq!(arc_fault(edition, "room"), Some(Listed::Yes));
        assert_eq!(arc_fault(edition, "laundry"), Some(Listed::Yes));
        assert_eq!(arc_fault(edition, "garage"), Some(Listed::No));
        assert_eq!(arc_fault(edition, "basement"), Some(Listed::Depends));
        assert_eq!(ground_fault(edition, "outdoors"), Some(Listed::Yes));
        assert_eq!(ground_fault(edition, "room"), Some(Listed::No));
        // Kitchens in the list of 210.12(A) since 2014, read; bathrooms in 210.8(A) only.
        assert_eq!(arc_fault(edition, "kitchen"), Some(Listed::Yes));
        assert_eq!(arc_fault(edition, "bathroom"), Some(Listed::No));
        assert_eq!(ground_fault(edition, "bathroom"), Some(Listed::Yes));
        let kitchen = match edition {
            Edition::E2017 | Edition::E2020 => Listed::Depends,
            Edition::E2023 => Listed::Yes,
        };
        assert_eq!(ground_fault(edition, "kitchen"), Some(kitchen));
        let [arc, ground] = names(edition).expect("an edition");
        assert!(
            arc.iter().any(|name| name == "kitchen")
                && ground.iter().any(|name| name == "bathroom")
        );
        assert_eq!(Edition::of_year(edition.year()), Some(edition));
    }
    assert_eq!(
        ground_fault(Edition::E2017, "basement"),
        Some(Listed::Depends)
    );
    assert_eq!(ground_fault(Edition::E2020, "basement"), Some(Listed::Yes));
    let volts = |edition| ground_fault_volts(edition).map_or(0.0, |volts| volts.base());
    assert_eq!(
        (volts(Edition::E2017), volts(Edition::E2023)),
        (125.0, 250.0)
    );
    assert_eq!(Edition::of_year(1999), None);
    assert_eq!(
        sink_distance().map(|distance| distance.to_string()),
        Some("6 ft".into())
    );
    // NEC 110.26(A), from memory.
    assert_eq!(
        working_space(),
        Some([inches(30.0), inches(36.0), inches(78.0)])
    );
}
