//! Fire ratings. What is demanded where: NEC 722.135 / 725.154, 800.113, 800.154, 770.154, 300.22, all from memory;
//! flame marks: CE Code 2-130, from memory. The practice "cable behind drywall carries at least CL2" is common practice.
//!
//! Long because every branch of three rules has its case here, with data only.

use nailplate::findings::Level::Hazard;

use super::{edited, found, gaps};

/// A plan with one signal run, S1.
struct Case<'a> {
    head: &'a str,
    stock: &'a str,
    ways: &'a str,
    run: &'a str,
}

const SPEAKER: &str = "for: speaker, rating: CL3";
const US: &str = "region: us, building: one-family";
const WALL: &str = "w: {kind: wall}";

impl Default for Case<'_> {
    fn default() -> Self {
        Self { head: US, stock: SPEAKER, ways: WALL, run: "through: [w]" }
    }
}

impl Case<'_> {
    fn text(&self) -> String {
        let Self { head, stock, ways, run } = self;
        let head = head.replace(", ", "\n");
        let ways = ways.replace("; ", "\n  ");
        format!(
            "nailplate: 1\n{head}\nstock:\n  s: {{{stock}}}\npathways:\n  {ways}\nendpoints:\n  a: {{kind: rack}}\n  b: {{kind: keypad}}\n\
             runs:\n  S1: {{from: a, to: b, stock: s, {run}}}\n"
        )
    }

    /// One hazard on S1, or none; and no gap either way.
    #[track_caller]
    fn is(&self, rule: &str, wrong: bool) {
        let text = self.text();
        let expected = if wrong { vec![("S1".to_owned(), Hazard)] } else { Vec::new() };
        assert_eq!(found(&text, rule), expected, "{text}");
        assert_eq!(gaps(&text, rule), [""; 0], "{text}");
    }

    #[track_caller]
    fn lacks(&self, rule: &str, what: &str) {
        let text = self.text();
        assert_eq!(found(&text, rule), [], "{text}");
        assert_eq!(gaps(&text, rule), [what], "{text}");
    }
}

const UNRATED: &str = "fire.unrated-in-wall";
const UNDER: &str = "fire.underrated";
const DWELLING: &str = "fire.dwelling-only-cable";
const BARE: &str = "for: speaker, rating: none";

#[test]
fn a_cable_of_no_rating_is_a_hazard_wherever_it_is_hidden() {
    for kind in ["wall", "ceiling", "floor", "attic", "crawl-space", "plenum", "riser", "conduit", "raceway"] {
        let ways = &format!("w: {{kind: {kind}}}");
        Case { stock: BARE, ways, ..Case::default() }.is(UNRATED, true);
        Case { ways, ..Case::default() }.is(UNRATED, false);
    }
    for kind in ["tray", "slab", "underground", "outdoors", "cabinet", "surface"] {
        let ways = &format!("w: {{kind: {kind}}}");
        Case { stock: BARE, ways, ..Case::default() }.is(UNRATED, false);
    }
}

#[test]
fn a_conduit_is_as_hidden_as_what_it_lies_in() {
    let pipe = |inside: &str| format!("w: {{kind: conduit, make: EMT, inside: o}}; o: {{kind: {inside}}}");
    Case { stock: BARE, ways: &pipe("attic"), ..Case::default() }.is(UNRATED, true);
    for open in ["surface", "cabinet", "tray", "slab", "outdoors"] {
        Case { stock: BARE, ways: &pipe(open), ..Case::default() }.is(UNRATED, false);
    }
    let deep = "w: {kind: conduit, inside: t}; t: {kind: tray, inside: [v, o]}; v: {kind: surface}; o: {kind: ceiling}";
    Case { stock: BARE, ways: deep, ..Case::default() }.is(UNRATED, true);
}

#[test]
fn what_is_in_the_open_or_carries_power_is_not_judged() {
    for rule in [UNRATED, UNDER, DWELLING] {
        Case { stock: BARE, run: "surface: yes", ..Case::default() }.is(rule, false);
        Case { stock: BARE, run: "surface: yes, through: [w]", ..Case::default() }.is(rule, false);
        Case { stock: "for: power, rating: none", ..Case::default() }.is(rule, false);
        Case { stock: "for: power", ..Case::default() }.is(rule, false);
        Case { stock: "for: power, rating: none", run: "carries: speaker, through: [w]", ..Case::default() }
            .is(rule, false);
        Case { stock: BARE, run: "carries: power, through: [w]", ..Case::default() }.is(rule, false);
    }
    // The air of a plenum reaches what lies in the open, too.
    Case { stock: BARE, ways: "w: {kind: plenum}", run: "surface: yes, through: [w]", ..Case::default() }
        .is(UNRATED, true);
    Case { ways: "w: {kind: plenum}", run: "surface: yes, through: [w]", ..Case::default() }.is(UNDER, true);
}

#[test]
fn every_signal_and_every_spare_counts() {
    for service in ["speaker", "line", "video", "data", "control", "coax", "fibre"] {
        let stock = &format!("for: {service}, rating: none");
        Case { stock, ..Case::default() }.is(UNRATED, true);
    }
    Case { stock: BARE, run: "through: [w], spare: yes", ..Case::default() }.is(UNRATED, true);
    Case { ways: "w: {kind: plenum}", run: "through: [w], spare: yes", ..Case::default() }.is(UNDER, true);
}

#[test]
fn only_us_and_ca_are_judged_here() {
    for region in ["gb", "eu", "au"] {
        let head = &format!("region: {region}");
        for stock in [BARE, "for: speaker", "for: speaker, rating: \"Dca-s2,d2,a2\""] {
            for rule in [UNRATED, UNDER, DWELLING] {
                Case { head, stock, ..Case::default() }.is(rule, false);
            }
        }
    }
    Case { head: "region: ca", stock: BARE, ..Case::default() }.is(UNRATED, true);
}

#[test]
fn what_the_plan_leaves_out_is_a_gap() {
    for rule in [UNRATED, UNDER] {
        Case { stock: "for: speaker", ..Case::default() }.lacks(rule, "rating of s");
        Case { run: "length: 9 ft", ..Case::default() }.lacks(rule, "through of S1");
        Case { run: "through: []", ..Case::default() }.lacks(rule, "through of S1");
        Case { stock: "rating: CL3", ..Case::default() }.lacks(rule, "`for` of s");
    }
    Case { ways: "w: {fire-hours: 0}", ..Case::default() }.lacks(UNRATED, "kind of w");
    Case { stock: "for: speaker, rating: CL9", ..Case::default() }
        .lacks(UNDER, "a known listing for s (no table has CL9)");
    Case { stock: "for: speaker, rating: NM-B", ..Case::default() }
        .lacks(UNDER, "a known listing for s (no table has NM-B)");
    Case { stock: "for: speaker, rating: FT4", ..Case::default() }
        .lacks(UNDER, "a known listing for s (no table has FT4)");
    let riser = "w: {kind: riser}";
    Case { head: "region: us", ways: riser, ..Case::default() }.lacks(UNDER, "building of the plan");
    Case { head: "region: us", stock: "for: speaker, rating: CL3R", ways: riser, ..Case::default() }.is(UNDER, false);
    let pipe = "w: {kind: conduit, bore: 35 mm, inside: p}; p: {kind: plenum}";
    Case { ways: pipe, ..Case::default() }.lacks(UNDER, "make of w");
    Case { stock: "for: speaker, rating: CL3P", ways: pipe, ..Case::default() }.is(UNDER, false);
    // A pipe of which it is not said what is around it may lie in the plenum that there is.
    let pipe = |make: &str| format!("w: {{kind: conduit, {make}}}; p: {{kind: plenum}}");
    Case { ways: &pipe("make: ENT"), ..Case::default() }.lacks(UNDER, "inside of w");
    Case { ways: &pipe("bore: 35 mm"), ..Case::default() }.lacks(UNDER, "inside of w");
    Case { ways: &pipe("make: EMT"), ..Case::default() }.is(UNDER, false);
    Case { stock: "for: speaker, rating: CL3P", ways: &pipe("make: ENT"), ..Case::default() }.is(UNDER, false);
    Case { stock: "for: speaker, rating: CL2X", run: "length: 9 ft", ..Case::default() }
        .lacks(DWELLING, "through of S1");
    Case { stock: "for: speaker, rating: CL2X", ..Case::default() }.lacks(DWELLING, "diameter of s");
    let thin = "for: speaker, rating: CL2X, diameter: 0.2 in";
    Case { head: "region: us", stock: thin, ..Case::default() }.lacks(DWELLING, "building of the plan");
    Case { head: "region: us", stock: thin, ..Case::default() }.lacks(UNDER, "building of the plan");
}

#[test]
fn a_known_hazard_is_found_beside_what_is_not_known() {
    let ways = "w: {kind: wall}; v: {fire-hours: 0}";
    Case { stock: BARE, ways, run: "through: [v, w]", ..Case::default() }.is(UNRATED, true);
    let ways = "w: {kind: plenum}; v: {fire-hours: 0}";
    Case { ways, run: "through: [v, w]", ..Case::default() }.is(UNDER, true);
}

#[test]
fn a_bad_value_has_been_reported_and_makes_no_gap() {
    for rule in [UNRATED, UNDER, DWELLING] {
        for (stock, ways, run) in [
            ("for: speaker, rating: []", WALL, "surface: maybe"),
            (SPEAKER, "w: {kind: wallpaper}", "through: [w]"),
            (SPEAKER, WALL, "through: [nowhere]"),
            ("for: nothing, rating: CL3", WALL, "through: [w]"),
            (SPEAKER, "w: {kind: conduit, inside: w}", "through: [w]"),
            (SPEAKER, "w: {kind: plenum, air: thick}", "through: [w]"),
        ] {
            Case { stock, ways, run, ..Case::default() }.is(rule, false);
        }
    }
}

#[test]
fn demand_follows_service_place_and_building() {
    let table = [
        // Service; what does in a plain hidden space of a small dwelling, of another building, in a riser of
        // another building, in a plenum. Each row the least, which the one before it must not satisfy.
        ("speaker", ["CL2X", "CL2", "CL2R", "CL2P"]),
        ("line", ["CMX", "CM", "CMR", "CMP"]),
        ("video", ["CL3X", "CL3", "CL3R", "CL3P"]),
        ("data", ["CMX", "CMG", "CMR", "CMP"]),
        ("control", ["CL2X", "PLTC", "CL2R", "CL2P"]),
        ("coax", ["CATVX", "CATV", "CATVR", "CATVP"]),
        ("fibre", ["OFC", "OFN", "OFNR", "OFNP"]),
    ];
    let places = [
        (US, WALL),
        ("region: us, building: multi-family", WALL),
        ("region: us, building: commercial", "w: {kind: riser}"),
        (US, "w: {kind: plenum, air: space}"),
    ];
    for (service, listings) in table {
        for (at, (head, ways)) in places.into_iter().enumerate() {
            for (given, rating) in listings.into_iter().enumerate() {
                let stock = &format!("for: {service}, rating: {rating}");
                // There is no X type of fibre: OFC does wherever nothing more is asked.
                let wrong = given < at && !(service == "fibre" && at == 1);
                Case { head, stock, ways, ..Case::default() }.is(UNDER, wrong);
            }
        }
    }
    // Families do not stand for each other except as the tables say.
    for (service, rating, wrong) in [
        ("coax", "CL3", false),
        ("coax", "CM", false),
        ("coax", "OFN", true),
        ("video", "CATV", true),
        ("speaker", "CATV", true),
        ("speaker", "OFNP", true),
        ("fibre", "CMP", true),
        ("data", "CL2", false),
    ] {
        let stock = &format!("for: {service}, rating: {rating}");
        Case { head: "region: us, building: commercial", stock, ..Case::default() }.is(UNDER, wrong);
    }
}

/// Coax by its line: `a` is the far end of it and `m` a joint on the way; a spare counts by its own ends.
#[test]
fn coax_from_outside_is_listed_catv_and_the_rest_as_class_2_does() {
    let plan = |rating: &str, a: &str, m: &str, tail: &str| {
        format!(
            "nailplate: 1\nregion: us\nbuilding: commercial\nstock:\n  s: {{for: coax, rating: {rating}}}\npathways:\n  w: {{kind: wall}}\n\
             endpoints:\n  a: {{{a}}}\n  m: {{{m}}}\n  b: {{kind: display}}\nruns:\n  S1: {{from: a, to: m, stock: s, surface: yes}}\n\
             \x20 S2: {{from: m, to: b, stock: s, through: [w]{tail}}}\n"
        )
    };
    let hazard = vec![("S2".to_owned(), Hazard)];
    for (rating, a, m, tail, wrong) in [
        ("CL3", "kind: entry", "kind: splitter", "", true),
        ("CL3", "kind: antenna", "kind: splitter", "", true),
        ("PLTC", "kind: antenna", "kind: splitter", "", true),
        ("CATV", "kind: entry", "kind: splitter", "", false),
        ("CM", "kind: entry", "kind: splitter", "", false),
        ("CL2R", "kind: source", "kind: splitter", "", false),
        ("PLTC", "kind: source", "kind: splitter", "", false),
        ("CATV", "kind: source", "kind: splitter", "", false),
        ("CL2X", "kind: source", "kind: splitter", "", true),
        // A receiver ends the line that comes from outside.
        ("CL3", "kind: entry", "kind: receiver", "", false),
        ("CL3", "kind: entry", "kind: splitter", ", spare: yes", false),
        ("CL3", "kind: source", "kind: antenna", ", spare: yes", true),
    ] {
        let text = plan(rating, a, m, tail);
        assert_eq!(found(&text, UNDER), if wrong { hazard.clone() } else { Vec::new() }, "{text}");
        assert_eq!(gaps(&text, UNDER), [""; 0], "{text}");
    }
    // What an end is may decide; where it does not, it need not be known.
    assert_eq!(gaps(&plan("CL3", "room: r", "kind: splitter", "").replace("room: r", ""), UNDER), ["kind of a"]);
    assert_eq!(gaps(&plan("CATV", "", "kind: splitter", ""), UNDER), [""; 0]);
    let text = plan("CL2X", "", "kind: splitter", "");
    assert_eq!(found(&text, UNDER), hazard);
    // The offered edit is judged the same way.
    let after = edited(&plan("CL2X", "kind: source", "kind: splitter", ""), UNDER);
    assert!(after.contains("rating: CL2}"), "{after}");
    let after = edited(&plan("CL3X", "kind: entry", "kind: splitter", ""), UNDER);
    assert!(after.contains("rating: CATV}"), "{after}");
}

/// The listing that the sentence names is the one that the advice names.
#[test]
fn sentence_and_advice_name_the_same_listing() {
    for (head, stock, ways, wanted, near) in [
        (US, SPEAKER, "w: {kind: plenum}", "CL2P", " such as CL3P"),
        (US, "for: speaker, rating: CL2", "w: {kind: plenum}", "CL2P", ""),
        (US, "for: fibre, rating: CMP", "w: {kind: plenum}", "OFCP", " such as OFNP"),
        ("region: us", "for: speaker, rating: CATV", WALL, "CL2", ""),
        ("region: us, building: commercial", "for: coax, rating: CATVX", WALL, "CATV", ""),
    ] {
        let text = Case { head, stock, ways, ..Case::default() }.text();
        let review = super::reviewed(&text, UNDER);
        let (says, advice) = (&review.findings[0].says, review.findings[0].put_right.as_deref().unwrap_or(""));
        let start = format!("pull a cable listed {wanted}, or one that may stand for it{near}");
        let rest = advice.strip_prefix(&start);
        assert!(rest.is_some_and(|rest| rest.is_empty() || rest.starts_with(", or run")), "{advice}");
        assert!(says.contains(&format!(" {wanted}")), "{says}");
    }
    for head in ["region: us", US] {
        let text = Case { head, stock: "for: speaker, rating: CATV", ..Case::default() }.text();
        let says = &super::reviewed(&text, UNDER).findings[0].says;
        assert!(says.ends_with("asks for CL2 (a thin one in a small dwelling for CL2X)"), "{says}");
    }
    let pipe = "w: {kind: wall}; c: {kind: conduit, inside: p}; p: {kind: plenum}";
    let head = "region: us, building: commercial";
    let text = Case { head, stock: "for: speaker, rating: CATV", ways: pipe, run: "through: [w, c]" }.text();
    let says = &super::reviewed(&text, UNDER).findings[0].says;
    assert!(says.ends_with("asks for CL2, and CL2P is wanted while make of c is not stated"), "{says}");
}

#[test]
fn a_riser_of_a_small_dwelling_asks_nothing_more() {
    for (building, wrong) in
        [("one-family", false), ("two-family", false), ("multi-family", true), ("commercial", true)]
    {
        let head = &format!("region: us, building: {building}");
        Case { head, ways: "w: {kind: riser}", ..Case::default() }.is(UNDER, wrong);
    }
}

#[test]
fn metal_raceway_lifts_what_plastic_does_not() {
    for (make, plenum, duct) in [
        ("EMT", false, false),
        ("RMC", false, false),
        ("IMC", false, false),
        ("FMC", false, true),
        ("ENT", true, true),
        ("PVC-40", true, true),
        ("LFNC", true, true),
    ] {
        let ways = |air: &str| format!("w: {{kind: conduit, make: {make}, inside: p}}; p: {{kind: {air}}}");
        let head = "region: us, building: commercial";
        Case { head, ways: &ways("plenum"), ..Case::default() }.is(UNDER, plenum);
        Case { head, ways: &ways("riser"), ..Case::default() }.is(UNDER, plenum);
        Case { head, ways: &ways("plenum, air: duct"), ..Case::default() }.is(UNDER, duct);
    }
    // A liner of plastic in a pipe of metal is in metal.
    let nested =
        "w: {kind: conduit, make: ENT, inside: m}; m: {kind: conduit, make: EMT, inside: p}; p: {kind: plenum}";
    Case { ways: nested, ..Case::default() }.is(UNDER, false);
    // Bare for part of the way is bare.
    let part = "w: {kind: conduit, make: EMT, inside: p}; p: {kind: plenum}";
    Case { ways: part, run: "through: [w, p]", ..Case::default() }.is(UNDER, true);
}

#[test]
fn a_duct_takes_no_cable_and_a_joist_bay_may_be_crossed() {
    Case { stock: "for: speaker, rating: CMP", ways: "w: {kind: plenum, air: duct}", ..Case::default() }
        .is(UNDER, true);
    let bay = "w: {kind: plenum, air: joist-bay}";
    Case { ways: bay, ..Case::default() }.is(UNDER, true);
    Case { ways: bay, run: "through: [w], crosses: along", ..Case::default() }.is(UNDER, true);
    Case { ways: bay, run: "through: [w], crosses: square", ..Case::default() }.is(UNDER, false);
    // Square or not, a plenum that is no joist bay of a dwelling asks for P.
    Case { ways: "w: {kind: plenum}", run: "through: [w], crosses: square", ..Case::default() }.is(UNDER, true);
    let head = "region: us, building: commercial";
    Case { head, ways: bay, run: "through: [w], crosses: square", ..Case::default() }.is(UNDER, true);
}

#[test]
fn one_of_several_listings_is_enough() {
    let plenum = "w: {kind: plenum}";
    for (rating, wrong) in [
        ("[CL3, CMP]", false),
        ("[CL3, CMR]", true),
        ("CMP-LP (0.5A)", false),
        ("c(UL)us CL3P", false),
        ("[CL2, RoHS]", true),
        ("[none, CMP]", false),
    ] {
        let stock = &format!("for: data, rating: {rating}");
        Case { stock, ways: plenum, ..Case::default() }.is(UNDER, wrong);
    }
}

#[test]
fn flame_marks_count_in_canada() {
    for (rating, head, ways, wrong) in [
        ("FT6", "region: ca", "w: {kind: plenum}", false),
        ("FT4", "region: ca", "w: {kind: plenum}", true),
        ("FT4", "region: ca, building: commercial", "w: {kind: riser}", false),
        ("FT1", "region: ca, building: commercial", "w: {kind: riser}", true),
        ("FT1", "region: ca, building: commercial", WALL, false),
        ("[CL2, FT6]", "region: ca", "w: {kind: plenum}", false),
        ("[CL2, FT6]", "region: us", "w: {kind: plenum}", true),
        ("CMR FT4", "region: ca, building: commercial", "w: {kind: riser}", false),
    ] {
        let stock = &format!("for: data, rating: {rating}");
        Case { head, stock, ways, ..Case::default() }.is(UNDER, wrong);
    }
    let stock = "for: data, rating: CMX FT4, diameter: 0.3 in";
    Case { head: "region: ca, building: commercial", stock, ..Case::default() }.is(DWELLING, false);
    Case { head: "region: us, building: commercial", stock, ..Case::default() }.is(DWELLING, true);
}

#[test]
fn x_types_are_thin_and_for_small_dwellings() {
    // NEC 725.154 and 800.113, from memory: under 1/4 in (6.35 mm); CATVX under 3/8 in.
    for (rating, diameter, wrong) in [
        ("CL2X", "0.24 in", false),
        ("CL2X", "0.25 in", true),
        ("CL2X", "6.34 mm", false),
        ("CL2X", "6.35 mm", true),
        ("CL3X", "0.2 in x 0.31 in", true),
        ("CMX", "0.3 in", true),
        ("CATVX", "0.3 in", false),
        ("CATVX", "0.375 in", true),
        ("CL2", "0.4 in", false),
        ("[CL2X, CM]", "0.4 in", false),
        ("CMX Outdoor-CMR", "0.4 in", false),
    ] {
        let service = if rating == "CATVX" { "coax" } else { "data" };
        let stock = &format!("for: {service}, rating: {rating}, diameter: {diameter}");
        Case { stock, ..Case::default() }.is(DWELLING, wrong);
        // There an X type does not also raise the other.
        Case { stock, ..Case::default() }.is(UNDER, false);
    }
    let thin = "for: speaker, rating: CL2X, diameter: 0.2 in";
    for (building, wrong) in [("two-family", false), ("multi-family", true), ("commercial", true)] {
        let head = &format!("region: us, building: {building}");
        Case { head, stock: thin, ..Case::default() }.is(DWELLING, wrong);
        // Whatever its size, which need not be known.
        Case { head, stock: "for: speaker, rating: CL2X, diameter: 0.9 in", ..Case::default() }.is(DWELLING, true);
        let pipe = "w: {kind: conduit, make: ENT, inside: v}; v: {kind: wall}";
        Case { head, stock: "for: speaker, rating: CL2X", ways: pipe, ..Case::default() }.is(DWELLING, false);
        Case { head, stock: "for: speaker, rating: CL2X", ways: pipe, ..Case::default() }.is(UNDER, false);
    }
    // Thick is wrong whatever the building.
    Case { head: "region: us", stock: "for: speaker, rating: CL2X, diameter: 0.3 in", ..Case::default() }
        .is(DWELLING, true);
    Case { head: "region: us, building: commercial", stock: "for: speaker, rating: CL2X", ..Case::default() }
        .is(DWELLING, true);
    // A plenum asks for more than thinness.
    Case { stock: thin, ways: "w: {kind: plenum}", ..Case::default() }.is(DWELLING, false);
    Case { stock: thin, ways: "w: {kind: plenum}", ..Case::default() }.is(UNDER, true);
}

#[test]
fn edits_put_it_right_for_every_run_of_the_stock() {
    let plan = |stock: &str| {
        format!(
            "nailplate: 1\nregion: us\nbuilding: commercial\nstock:\n{stock}pathways:\n  w: {{kind: wall}}\n  p: {{kind: plenum}}\n\
             endpoints:\n  a: {{kind: rack}}\n  b: {{kind: keypad}}\nruns:\n  S1: {{from: a, to: b, stock: s, through: [w]}}\n\
             \x20 S2: {{from: a, to: b, stock: s, through: [p]}}\n"
        )
    };
    // No other stock: another listing for this one, enough for its run in the plenum as well.
    let after = edited(&plan("  s: {for: data, rating: none}\n"), UNRATED);
    assert!(after.contains("rating: CL2P"), "{after}");
    let after = edited(&plan("  s: {for: data, rating: CM}\n"), UNDER);
    assert!(after.contains("rating: CMP"), "{after}");
    // The least of the stocks that do.
    let three = "  s: {for: data, rating: none}\n  x: {for: data, rating: CMP}\n  q: {for: data, rating: CM}\n";
    let after = edited(&plan(three), UNRATED);
    assert!(
        after.contains("S1: {from: a, to: b, stock: q") && after.contains("S2: {from: a, to: b, stock: x"),
        "{after}"
    );
    for rule in [UNRATED, UNDER, DWELLING] {
        assert_eq!(found(&after, rule), []);
    }
    // No listing lets a cable into a duct.
    let duct = plan("  s: {for: data, rating: none}\n").replace("kind: plenum", "kind: plenum, air: duct");
    assert_eq!(edited(&duct, UNRATED), duct);
}

#[test]
fn an_edit_leaves_the_room_that_a_conduit_has() {
    let plan = |diameter: &str| {
        format!(
            "nailplate: 1\nregion: us\nstock:\n  s: {{for: data, rating: none, diameter: 5 mm}}\n  x: {{for: data, rating: CM, diameter: {diameter}}}\n\
             pathways:\n  c: {{kind: conduit, bore: 14 mm, pull-string: yes}}\nendpoints:\n  a: {{kind: rack}}\n  b: {{kind: keypad}}\n\
             runs:\n  S1: {{from: a, to: b, stock: s, through: [c]}}\n"
        )
    };
    // 2 × 5.4² ÷ 14² is 29.8 % of 31 %, and 2 × 6.5² ÷ 14² is 43.1 %: one cable, and one more as thick.
    assert!(edited(&plan("5.4 mm"), UNRATED).contains("stock: x"));
    let after = edited(&plan("6.5 mm"), UNRATED);
    assert!(after.contains("stock: s, through") && after.contains("rating: CL2,"), "{after}");
    assert_eq!(found(&after, "pathway.no-pull-string"), []);
}

#[test]
fn a_catalogue_is_read_and_left_as_it_is() {
    let plan = "nailplate: 1\nregion: us\ncatalogue: shelf.yaml\npathways:\n  w: {kind: wall}\n  p: {kind: plenum}\nstock:\n  \
                own: {for: video, rating: CL3}\nendpoints:\n  a: {kind: rack}\n  b: {kind: keypad}\nruns:\n  \
                S1: {from: a, to: b, stock: shelf-bare, through: [w]}\n  S2: {from: a, to: b, stock: own, through: [p]}\n";
    assert_eq!(found(plan, UNRATED), [("S1".to_owned(), Hazard)]);
    assert_eq!(edited(plan, UNRATED), plan);
    // A stock of the catalogue may take the place of one of the plan.
    assert!(edited(plan, UNDER).contains("stock: shelf-p"));
    // Without its catalogue the plan has lost the stock, which is reported once.
    let lost = plan.replace("shelf.yaml", "lost.yaml");
    assert_eq!((found(&lost, UNRATED), gaps(&lost, UNRATED)), (Vec::new(), Vec::new()));
}

#[test]
fn pathways_in_each_other_to_any_depth_are_walked_once() {
    let mut text = String::from(
        "nailplate: 1\nregion: us\nbuilding: commercial\nstock:\n  s: {for: data, rating: none}\npathways:\n",
    );
    for n in 0..20_000 {
        text += &format!("  w{n}: {{kind: surface, inside: w{}}}\n", n + 1);
    }
    text += "  w20000: {kind: plenum}\nendpoints:\n  a: {kind: rack}\n  b: {kind: keypad}\nruns:\n  S1: {from: a, to: b, stock: s, through: [w0]}\n";
    assert_eq!(found(&text, UNRATED), [("S1".to_owned(), Hazard)]);
}
