//! Reaction-to-fire classes of EN 13501-6: the order Aca > B1ca > B2ca > Cca > Dca > Eca > Fca and the criteria s, d, a are
//! rows of the rulebook's facts, read from several pages on EN 50575.

use nailplate::findings::Level::Hazard;

use super::{edited, exactly, found, gaps, reviewed};

const RULE: &str = "fire.underclassed";

/// One run D1 in stock s, as `rating`, through w.
fn plan(head: &str, rating: &str, ways: &str, run: &str) -> String {
    let ways = ways.replace("; ", "\n  ");
    format!(
        "nailplate: 1\n{}\nstock:\n  s: {{for: data, grade: cat6{rating}}}\npathways:\n  {ways}\nendpoints:\n  a: {{kind: switch}}\n  b: {{kind: camera}}\n\
         runs:\n  D1: {{from: a, to: b, stock: s{run}}}\n",
        head.replace("; ", "\n")
    )
}

#[track_caller]
fn is(text: &str, wrong: bool) {
    let expected: &[_] = if wrong { &[("D1", Hazard)] } else { &[] };
    exactly(text, RULE, expected, &[]);
}

#[track_caller]
fn lacks(text: &str, what: &str) {
    exactly(text, RULE, &[], &[what]);
}

const IN: &str = ", through: [w]";
const WALL: &str = "w: {kind: wall}";

#[test]
fn classes_and_criteria_are_held_against_what_is_asked() {
    let order = ["Aca", "B1ca", "B2ca", "Cca", "Dca", "Eca", "Fca"];
    for (at, asked) in order.into_iter().enumerate() {
        for (has, class) in order.into_iter().enumerate() {
            for region in ["gb", "eu", "au", "us", "ca"] {
                let head = format!("region: {region}; fire-class: {asked}");
                is(&plan(&head, &format!(", rating: {class}"), WALL, IN), has > at);
            }
        }
    }
    for (asked, rating, wrong) in [
        ("Cca-s1b,d1,a1", "\"Cca-s1b,d1,a1\"", false),
        ("Cca-s1b,d1,a1", "\"Cca-s1a,d0,a1\"", false),
        ("Cca-s1b,d1,a1", "\"B2ca-s1a,d1,a1\"", false),
        ("Cca-s1b,d1,a1", "\"Cca-s1,d1,a1\"", true),
        ("Cca-s1b,d1,a1", "\"Cca-s1b,d2,a1\"", true),
        ("Cca-s1b,d1,a1", "\"Cca-s1b,d1,a2\"", true),
        ("Cca-s1b,d1,a1", "\"Dca-s1a,d0,a1\"", true),
        ("Cca-s1b,d1,a1", "Eca", true),
        ("Cca-s1b,d1,a1", "none", true),
        ("Cca", "\"Cca-s3,d2,a3\"", false),
        ("Cca-s1b,d1,a1", "[Eca, \"B2ca-s1a,d1,a1\"]", false),
        ("Cca-s1b,d1,a1", "[CL3, \"Cca-s2,d1,a1\"]", true),
    ] {
        let head = format!("region: eu; fire-class: \"{asked}\"");
        is(&plan(&head, &format!(", rating: {rating}"), WALL, IN), wrong);
    }
    let says = |rating: &str| {
        reviewed(&plan("region: eu; fire-class: \"Cca-s1b,d1,a1\"", rating, WALL, IN), RULE).findings[0].says.clone()
    };
    assert_eq!(says(", rating: Eca"), "D1 is of class Eca where the plan asks for Cca-s1b,d1,a1");
    assert_eq!(says(", rating: none"), "D1 is of no class where the plan asks for Cca-s1b,d1,a1");
}

#[test]
fn a_pathway_asks_for_itself_and_the_plan_for_the_rest() {
    let eu = |more: &str| format!("region: eu{more}");
    let eca = ", rating: Eca";
    is(&plan(&eu("; fire-class: Cca"), eca, "w: {kind: wall, fire-class: Eca}", IN), false);
    is(&plan(&eu("; fire-class: Eca"), eca, "w: {kind: wall, fire-class: Cca}", IN), true);
    is(&plan(&eu(""), eca, "w: {kind: wall, fire-class: Cca}", IN), true);
    is(&plan(&eu("; fire-class: Cca"), eca, "w: {kind: wall, fire-class: Eca}; v: {kind: wall}", ", through: [w, v]"), true);
    // Around a conduit; in the open; a spare.
    is(&plan(&eu("; fire-class: Eca"), eca, "w: {kind: conduit, inside: v}; v: {kind: ceiling, fire-class: Cca}", IN), true);
    is(&plan(&eu("; fire-class: Cca"), eca, WALL, ", surface: yes"), true);
    is(&plan(&eu("; fire-class: Cca"), eca, WALL, ", through: [w], spare: yes"), true);
    is(&plan(&eu("; fire-class: Cca"), eca, WALL, ""), true);
    // Outside the building the plan's own class is not meant; a pathway's is.
    for kind in ["outdoors", "underground"] {
        let text = |more: &str, run: &str| {
            plan(&eu("; fire-class: Cca"), eca, &format!("w: {{kind: {kind}{more}}}; v: {{kind: wall}}; c: {{kind: conduit, inside: w}}"), run)
        };
        lacks(&text("", IN), "fire-class of a pathway outdoors or in the ground (that of the plan is for indoors)");
        assert_eq!(found(&text("", ", through: [c]"), RULE), []);
        is(&text(", fire-class: Cca", IN), true);
        is(&text("", ", through: [w, v]"), true);
    }
    // Power cable is cable.
    let power = plan("region: gb; fire-class: Cca", eca, WALL, IN).replace("for: data, grade: cat6", "for: power");
    is(&power, true);
}

#[test]
fn what_is_not_known_is_a_gap() {
    let cca = "region: eu; fire-class: \"Cca-s1b,d1,a1\"";
    lacks(&plan(cca, "", WALL, IN), "rating of s");
    lacks(&plan(cca, ", rating: CL3", WALL, IN), "a class of EN 13501-6 for s (its rating is CL3)");
    lacks(&plan(cca, ", rating: \"Cca-s9,d1,a1\"", WALL, IN), "a class of EN 13501-6 for s (its rating is Cca-s9,d1,a1)");
    lacks(&plan(cca, ", rating: Cca", WALL, IN), "the criteria of the class of s that are asked for (s, d, a)");
    lacks(&plan(cca, ", rating: \"Cca-s1b,d1\"", WALL, IN), "the criteria of the class of s that are asked for (s, d, a)");
    let unread = |who: &str| format!("a class of EN 13501-6 that {who} asks for (`fire-class` is good)");
    lacks(&plan("region: eu; fire-class: good", ", rating: Cca", WALL, IN), &unread("the plan"));
    lacks(&plan("region: eu", ", rating: Cca", "w: {kind: wall, fire-class: good}", IN), &unread("w"));
    // One that cannot be read hides nothing that can.
    is(&plan("region: eu", ", rating: Eca", "w: {kind: wall, fire-class: good}; v: {kind: wall, fire-class: Cca}", ", through: [w, v]"), true);
    // Only where some pathway asks does it matter which are passed.
    let ways = "w: {kind: wall, fire-class: Cca}";
    lacks(&plan("region: eu; fire-class: Eca", ", rating: Eca", ways, ""), "through of D1");
    is(&plan("region: eu; fire-class: Eca", ", rating: Eca", WALL, ""), false);
    for (region, why) in [("eu", "no class holds in every country"), ("gb", "no class is laid down for every cable in gb")] {
        let what = format!("fire-class of the plan or of a pathway ({why})");
        let text = plan(&format!("region: {region}"), ", rating: Eca", WALL, IN);
        lacks(&text, &what);
        // Once, and not loud: no rule is known to be broken.
        assert!(!reviewed(&text, RULE).gaps[0].loud);
        let two = text.replace("  D1:", "  D0: {from: a, to: b, stock: s, surface: yes}\n  D1:");
        lacks(&two, &what);
    }
    for region in ["us", "ca", "au"] {
        is(&plan(&format!("region: {region}"), ", rating: CL3", WALL, IN), false);
    }
    // Reading has reported these.
    is(&plan("region: eu; fire-class: [a, b]", ", rating: Cca", WALL, IN), false);
    assert_eq!(gaps(&plan("region: eu; fire-class: Cca", ", rating: Cca-s1b,d1,a1", WALL, IN), RULE), [""; 0]);
}

/// Two runs in stock s, one of them where more is asked for.
#[test]
fn the_offered_edit_is_enough_for_every_run_of_the_stock() {
    let plan = |stock: &str, way: &str| {
        format!(
            "nailplate: 1\nregion: eu\nfire-class: Dca\nstock:\n  s: {{for: data, rating: Eca}}\n{stock}pathways:\n  w: {{kind: wall}}\n  v: {{kind: riser, fire-class: {way}}}\n\
             endpoints:\n  a: {{kind: rack}}\n  b: {{kind: camera}}\nruns:\n  D1: {{from: a, to: b, stock: s, through: [w]}}\n\
             \x20 D2: {{from: a, to: b, stock: s, through: [v]}}\n"
        )
    };
    let bought = edited(&plan("", "B2ca"), RULE);
    assert!(bought.contains("s: {for: data, rating: \"B2ca\"}"), "{bought}");
    assert_eq!(found(&bought, RULE), []);
    let pulled = edited(&plan("  x: {for: data, rating: Dca}\n  y: {for: data, rating: Cca}\n", "Cca"), RULE);
    assert!(pulled.contains("D1: {from: a, to: b, stock: x") && pulled.contains("D2: {from: a, to: b, stock: y"), "{pulled}");
    assert_eq!(found(&pulled, RULE), []);
    // Cca says nothing of smoke, and Dca-s1,d1,a1 is below it: neither of the two that are asked for does for both.
    let neither = plan("", "\"Eca\"").replace("fire-class: Dca", "fire-class: \"Dca-s1,d1,a1\"").replace("\"Eca\"", "Cca");
    assert_eq!(edited(&neither, RULE), neither);
}
