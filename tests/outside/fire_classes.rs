//! Reaction to fire of cables: EN 13501-6, EN 50575 (read on several trade pages).

use nailplate::tables::cpr::{Euroclass, meets};

fn class(text: &str) -> Euroclass {
    Euroclass::parse(text).unwrap_or_else(|| panic!("no class: {text}"))
}

#[test]
fn order_of_classes() {
    // Aca > B1ca > B2ca > Cca > Dca > Eca > Fca.
    let order = ["Aca", "B1ca", "B2ca", "Cca", "Dca", "Eca", "Fca"];
    for (better, has) in order.iter().enumerate() {
        for (worse, wanted) in order.iter().enumerate() {
            assert_eq!(
                meets(class(has), class(wanted)),
                Some(better <= worse),
                "{has} for {wanted}"
            );
        }
    }
}

#[test]
fn additional_criteria() {
    let cases = [
        ("Cca-s1b,d1,a1", "Cca-s1b,d1,a1", Some(true)),
        // BS 6701, from memory: Cca-s1b,d2,a2 for permanently installed communications cable.
        ("Cca-s1b,d1,a1", "Cca-s1b,d2,a2", Some(true)),
        ("B2ca-s1a,d1,a1", "Cca-s1b,d2,a2", Some(true)),
        // s1a and s1b are s1 with more; s1 is neither.
        ("Cca-s1a,d1,a1", "Cca-s1,d1,a1", Some(true)),
        ("Cca-s1,d1,a1", "Cca-s1b,d1,a1", Some(false)),
        ("Cca-s1b,d1,a1", "Cca-s1a,d1,a1", Some(false)),
        ("Cca-s2,d1,a1", "Cca-s1,d1,a1", Some(false)),
        ("Cca-s1,d2,a1", "Cca-s1,d1,a1", Some(false)),
        ("Cca-s1,d1,a3", "Cca-s1,d1,a2", Some(false)),
        ("Dca-s1a,d0,a1", "Cca", Some(false)),
        ("Dca-s2,d2,a2", "Eca", Some(true)),
        // The class is good enough; of the smoke nothing is said.
        ("Cca", "Cca-s1b,d1,a1", None),
        ("B2ca-d1,a1", "Cca-s1b,d2,a2", None),
        ("B2ca-d2,a1", "Cca-s1b,d1,a2", Some(false)),
    ];
    for (has, wanted, answer) in cases {
        assert_eq!(
            meets(class(has), class(wanted)),
            answer,
            "{has} for {wanted}"
        );
    }
}

#[test]
fn spelling() {
    assert_eq!(class("cca - S1B, D1, A1"), class("Cca-s1b,d1,a1"));
    for wrong in [
        "",
        "C",
        "Cca-",
        "Cca-s4",
        "Cca-s1,s2",
        "Eca-s1,d1,a1",
        "Aca-s1",
        "CM",
        "Cca,s1",
    ] {
        assert_eq!(Euroclass::parse(wrong), None, "{wrong}");
    }
}
