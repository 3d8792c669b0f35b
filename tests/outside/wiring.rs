//! Types of power cable and wire. Sources: NEC table 400.4 (cords), table 310.4(A) (conductors), articles 320, 330, 332,
//! 334, 336, 338, 340 (cables), HD 21 and HD 22 (harmonized cords); all from memory.

use nailplate::tables::wiring::Wiring;

#[test]
fn types_are_what_their_articles_say() {
    for (printed, sort) in [
        // Article 334 and 340; 725.136(I)(1) names nonmetallic-sheathed and UF cable.
        ("NM-B", Some(Wiring::Sheathed)),
        ("nm", Some(Wiring::Sheathed)),
        ("UF-B", Some(Wiring::Sheathed)),
        // Articles 320, 330, 332.
        ("AC", Some(Wiring::Armoured)),
        ("MC", Some(Wiring::Armoured)),
        ("MI", Some(Wiring::Armoured)),
        // Articles 336 and 338: whether 2 in applies to SER is argued both ways.
        ("SER", Some(Wiring::Jacketed)),
        ("TC-ER", Some(Wiring::Jacketed)),
        // Table 310.4(A).
        ("THHN/THWN-2", Some(Wiring::Conductor)),
        ("XHHW-2 600V", Some(Wiring::Conductor)),
        // Table 400.4.
        ("SJTW", Some(Wiring::Cord)),
        ("S", Some(Wiring::Cord)),
        ("SPT-2", Some(Wiring::Cord)),
        ("UL SVT 300V", Some(Wiring::Cord)),
        ("H05VV-F", Some(Wiring::Cord)),
        // Signal cable, nonsense, two sorts at once.
        ("CL3", None),
        ("CMP", None),
        ("", None),
        ("UL", None),
        ("NM-B SJT", None),
        ("NM-B XY", None),
    ] {
        assert_eq!(Wiring::parse(printed), sort, "{printed}");
    }
}

#[test]
fn each_type_is_of_one_sort() {
    for (sort, name) in Wiring::all() {
        assert_eq!(Wiring::parse(name), Some(sort), "{name}");
        assert_eq!(
            Wiring::all().filter(|(_, other)| *other == name).count(),
            1,
            "{name} stands twice"
        );
    }
}
