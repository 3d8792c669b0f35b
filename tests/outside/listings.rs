//! Which listing may stand for which. Sources: NEC 725.154 (2020) / 722.135 (2023), 760.154, 770.154, 800.154, 820.154
//! (2014-17); all from memory.

use nailplate::tables::listings::{Grade, Listing, read_printed, stands_for};

/// Demanded type, then every type that may stand for it.
const PERMITTED: &[(&str, &str)] = &[
    ("CATV", "CATVP CATVR CM CMG CMP CMR"),
    ("CATVP", "CMP"),
    ("CATVR", "CATVP CMP CMR"),
    ("CATVX", "CATV CATVP CATVR CM CMG CMP CMR CMX"),
    ("CL2", "CL2P CL2R CL3 CL3P CL3R CM CMG CMP CMR PLTC"),
    ("CL2P", "CL3P CMP"),
    ("CL2R", "CL2P CL3P CL3R CMP CMR"),
    (
        "CL2X",
        "CL2 CL2P CL2R CL3 CL3P CL3R CL3X CM CMG CMP CMR CMX PLTC",
    ),
    ("CL3", "CL3P CL3R CM CMG CMP CMR PLTC"),
    ("CL3P", "CMP"),
    ("CL3R", "CL3P CMP CMR"),
    ("CL3X", "CL3 CL3P CL3R CM CMG CMP CMR CMX PLTC"),
    ("CM", "CMG CMP CMR"),
    ("CMG", "CM CMP CMR"),
    ("CMR", "CMP"),
    ("CMX", "CM CMG CMP CMR"),
    ("FPL", "CM CMG CMP CMR FPLP FPLR"),
    ("FPLP", "CMP"),
    ("FPLR", "CMP CMR FPLP"),
    ("OFC", "OFCP OFCR OFN OFNG OFNP OFNR"),
    ("OFCG", "OFCP OFCR OFN OFNG OFNP OFNR"),
    ("OFCP", "OFNP"),
    ("OFCR", "OFCP OFNP OFNR"),
    ("OFN", "OFNP OFNR"),
    ("OFNG", "OFNP OFNR"),
    ("OFNR", "OFNP"),
    ("CMP", ""),
    ("PLTC", ""),
    ("OFNP", ""),
];

/// Rows of tables 800.154(b) and 770.154(b) that name two types at one level, from memory.
const SAME_LEVEL: &[(&str, &str)] = &[
    ("CM", "CMG"),
    ("CMG", "CM"),
    ("OFN", "OFNG"),
    ("OFNG", "OFN"),
    ("OFC", "OFCG"),
    ("OFCG", "OFC"),
];

#[test]
fn every_ordered_pair_is_permitted_or_refused_as_the_tables_say() {
    assert_eq!(Listing::all().count(), PERMITTED.len());
    for (demanded, permitted) in PERMITTED {
        for (printed, _) in PERMITTED {
            let expected = printed == demanded
                || permitted.split(' ').any(|one| one == *printed)
                || SAME_LEVEL.contains(&(*demanded, *printed));
            let judged = stands_for(printed, demanded);
            assert_eq!(judged, Some(expected), "{printed} for {demanded}");
        }
    }
}

#[test]
fn what_is_printed_beside_the_type_does_not_change_it() {
    let cases = [
        ("CL3R-OF", "CL3R"),
        ("CMP-LP (0.5A)", "CMP"),
        ("c(UL)us CL2", "CL2"),
        ("CMR FT4", "CMR"),
        ("CMX Outdoor-CMR", "CMR"),
        ("CL3/CM", "CM"),
        ("cl2", "CL2"),
    ];
    for (printed, base) in cases {
        let listing = read_printed(printed).and_then(|printed| printed.listing);
        assert_eq!(listing.map(Listing::name), Some(base), "{printed}");
    }
}

#[test]
fn canadian_flame_marks_are_known_but_stand_for_no_listing() {
    // CSA C22.2 No. 0.3: from memory.
    for (printed, grade) in [
        ("FT6", Grade::Plenum),
        ("FT4", Grade::Riser),
        ("FT1", Grade::General),
    ] {
        let known = read_printed(printed);
        assert!(
            known.is_some_and(|known| known.listing.is_none()),
            "{printed}"
        );
        assert_eq!(
            known
                .and_then(|known| known.flame_mark)
                .map(|mark| mark.near),
            Some(grade)
        );
        assert_eq!(stands_for(printed, "CL2"), None);
    }
}

#[test]
fn what_is_not_known_is_not_judged() {
    for printed in [
        "",
        "  ",
        "CL4",
        "THHN",
        "CL2 or so",
        "(0.5A)",
        "CATV OFNP",
        "-",
        "🙂",
    ] {
        assert_eq!(stands_for(printed, "CL2"), None, "{printed}");
    }
    assert_eq!(stands_for("CL2", "CL9"), None);
}

#[test]
fn grades_follow_the_last_letter() {
    let cases = [
        ("CMP", Grade::Plenum),
        ("CL2R", Grade::Riser),
        ("CMG", Grade::General),
        ("PLTC", Grade::General),
        ("CATVX", Grade::DwellingOnly),
        ("OFNP", Grade::Plenum),
    ];
    for (name, grade) in cases {
        assert_eq!(
            Listing::named(name).map(Listing::grade),
            Some(grade),
            "{name}"
        );
    }
}
