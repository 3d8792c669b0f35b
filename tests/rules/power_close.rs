//! Low voltage beside power conductors. us: 2 in (50 mm), NEC 725.136(I) and 800.133(A)(2), which fall away beside NM, UF, MC
//! and AC cable and for raceway (read in forum reprints of the code). gb, eu: EN 50174-2 from 2009 on, A = S × P, tables 4
//! and 5 as printed in a Swedish handbook of 2017 (worked_examples.csv rows SP01, SP03, SP05); class a from memory.

use nailplate::findings::Level::{self, Fault, Hazard};
use nailplate::house::House;


use super::power_apart::plan;
use super::{edited, exactly, reviewed};

const CLOSE: &str = "power.signal-too-close";
const US: &str = "region: us";
const IN: &str = ", through: [w]";
const WALL: &str = "w: {kind: wall}";
/// Single conductors.
const THHN: &str = "for: power, rating: THHN";

/// S1 in stock `stock` so beside P1, which is pulled as `power`, both in a wall.
fn beside(head: &str, power: &str, stock: &str, beside: &str) -> String {
    plan(head, stock, WALL, IN, &format!("{IN}, beside: {beside}")).replace("for: power, rating: NM-B", power)
}

#[track_caller]
fn is(text: &str, level: Option<Level>) {
    let expected: Vec<_> = level.map(|level| ("S1", level)).into_iter().collect();
    exactly(text, CLOSE, &expected, &[]);
}

#[track_caller]
fn lacks(text: &str, what: &[&str]) {
    exactly(text, CLOSE, &[], what);
}

#[test]
fn two_inches_beside_what_has_no_jacket() {
    for region in ["us", "ca"] {
        let head = &format!("region: {region}");
        for (apart, wrong) in [
            ("1 in", true), ("0 in", true), ("1.99 in", true), ("2 in", false), ("49 mm", true), ("50 mm", false), ("5 cm", false), ("0.049 m", true), ("1 ft", false),
        ] {
            let entry = &format!("{{run: P1, apart: {apart}, over: 1 ft}}");
            for service in ["speaker", "line", "video", "data", "coax", "control"] {
                is(&beside(head, THHN, &format!("for: {service}"), entry), wrong.then_some(Hazard));
            }
            for service in ["fibre", "power"] {
                is(&beside(head, THHN, &format!("for: {service}"), entry), None);
            }
        }
    }
    // P1 may say it as well, and a spare signal run counts.
    let by_power = plan(US, "for: data", WALL, ", through: [w], beside: {run: S1, apart: 1 in}", IN).replace("rating: NM-B", "jacketed: no");
    is(&by_power, Some(Hazard));
    is(&by_power.replace("stock: s, ", "stock: s, spare: yes, "), Some(Hazard));
    is(&by_power.replace("stock: nm, ", "stock: nm, spare: yes, "), None);
}

#[test]
fn a_jacket_or_raceway_lifts_the_code_rule() {
    let entry = "{run: P1, apart: 0 in}";
    for (power, wrong) in [
        ("for: power, rating: NM-B", false),
        ("for: power, rating: UF-B", false),
        ("for: power, rating: MC", false),
        ("for: power, rating: AC", false),
        ("for: power, rating: MI", false),
        ("for: power, rating: SER", false),
        ("for: power, rating: SJT", false),
        ("for: power, jacketed: yes", false),
        ("for: power, rating: none, jacketed: yes", false),
        ("for: power, rating: THHN, jacketed: yes", false),
        ("for: power, jacketed: no", true),
        ("for: power, rating: NM-B, jacketed: no", true),
        ("for: power, rating: XHHW-2", true),
    ] {
        is(&beside(US, power, "for: data", entry), wrong.then_some(Hazard));
    }
    let pipe = "w: {kind: wall}; c: {kind: conduit, inside: w}; r: {kind: raceway, inside: w}";
    let text = |p: &str, s: &str| {
        plan(US, "for: data", pipe, &format!(", through: [{p}]"), &format!(", through: [{s}], beside: {{run: P1, apart: 1 in}}")).replace("rating: NM-B", "jacketed: no")
    };
    is(&text("w", "w"), Some(Hazard));
    is(&text("c", "w"), None);
    is(&text("w", "c"), None);
    is(&text("w", "r"), None);
    // Bare for a part of the way is bare.
    is(&text("c, w", "w"), Some(Hazard));
    is(&text("w", "w, c"), Some(Hazard));
}

#[test]
fn the_finding_says_what_to_do() {
    let text = beside(US, THHN, "for: data", "[{run: P1, apart: 1.5 in}, {run: P1, apart: 25 mm}]");
    let review = reviewed(&text, CLOSE);
    let finding = &review.findings[0];
    assert_eq!(finding.says, "S1 lies 25 mm beside P1, which has no jacket, where 50 mm is the least");
    let after = edited(&text, CLOSE);
    assert!(after.contains("apart: 2 in") && after.contains("apart: 50 mm"), "{after}");
    is(&after, None);
    let eu = beside("region: eu", THHN, "for: data, grade: cat6, shields: 0", "{run: P1, apart: 15 mm}").replace("120 V", "230 V");
    let review = reviewed(&eu, CLOSE);
    let finding = &review.findings[0];
    assert_eq!(finding.says, "S1 lies 15 mm beside P1, where EN 50174-2 (2009 edition on) asks for 20 mm");
    let figure = finding.figure.as_ref().expect("its distance");
    assert_eq!(figure.working, "15 mm as stated; least 100 mm (class b) × 0.2 (1 circuit of at most 20 A) = 20 mm");
    is(&edited(&eu, CLOSE), None);
    // 20 mm is 0.787 in: what one can measure, and no less.
    let inches = edited(&eu.replace("15 mm", "0.5 in"), CLOSE);
    assert!(inches.contains("apart: 1 in"), "{inches}");
    is(&inches, None);
}

#[test]
fn what_is_not_known_is_a_gap() {
    let entry = "{run: P1, apart: 1 in}";
    lacks(&beside(US, "for: power", "for: data", entry), &["jacketed of nm"]);
    lacks(&beside(US, "for: power, rating: none", "for: data", entry), &["jacketed of nm"]);
    lacks(&beside(US, "for: power", "for: data", "{run: P1, apart: 3 in}"), &[]);
    lacks(&beside(US, "for: power", "for: data", "{run: P1}"), &["jacketed of nm"]);
    lacks(&beside(US, THHN, "for: data", "{run: P1}"), &["apart of S1 beside P1"]);
    lacks(&beside(US, "rating: THHN", "for: data", entry), &["`for` of nm"]);
    lacks(&beside(US, THHN, "rating: CL2", entry), &["`for` of s"]);
    lacks(&beside(US, THHN, "for: data", "{run: P1, apart: close}"), &[]);
    lacks(&beside(US, "for: power, jacketed: perhaps", "for: data", entry), &[]);
    let text = |power: &str, p: &str, s: &str| plan(US, "for: data", "w: {kind: wall}; v: {kind: wall}", p, s).replace("for: power, rating: NM-B", power);
    lacks(&text(THHN, IN, IN), &["beside of S1 (P1 passes the same way)"]);
    lacks(&text("for: power", IN, IN), &["jacketed of nm"]);
    lacks(&text("for: power, rating: NM-B", IN, IN), &[]);
    lacks(&text(THHN, IN, ", through: [w], beside: []"), &[]);
    lacks(&text(THHN, IN, ", through: [v]"), &[]);
    lacks(&text(THHN, IN, ""), &["through of S1"]);
    lacks(&text(THHN, "", IN), &["through of P1"]);
    lacks(&text("for: power, rating: NM-B", "", ""), &[]);
    // One stock, one gap.
    let two = text("for: power", IN, IN).replace("  S1:", "  S2: {from: a, to: m, stock: s, through: [w]}\n  S1:");
    lacks(&two, &["jacketed of nm"]);
    // Nothing is held for au.
    for (p, s) in [(IN, ", through: [w], beside: {run: P1, apart: 1 in}"), (IN, IN)] {
        let au = text(THHN, p, s).replace("region: us", "region: au");
        lacks(&au, &["a limit for au on low voltage beside power"]);
        lacks(&au.replace("  S1:", "  S2: {from: a, to: m, stock: s, through: [w]}\n  S1:"), &["a limit for au on low voltage beside power"]);
    }
    lacks(&text("for: power, rating: NM-B", IN, IN).replace("region: us", "region: au"), &[]);
}

/// S1 beside the last of so many circuits in region eu, `apart` mm from it.
fn eu(stock: &str, ways: &str, s: &str, circuits: usize, circuit: &str, apart: &str) -> String {
    let mut text = format!("nailplate: 1\nregion: eu\nstock:\n  nm: {{for: power}}\n  s: {{for: {stock}}}\npathways:\n  w: {{kind: ceiling}}\n{ways}circuits:\n");
    for n in 1..=circuits {
        text += &format!("  C{n}: {{{circuit}}}\n");
    }
    text += "endpoints:\n  a: {kind: rack}\n  b: {kind: keypad}\nruns:\n";
    for n in 1..=circuits {
        text += &format!("  P{n}: {{from: C{n}, to: a, stock: nm, through: [w]}}\n");
    }
    text + &format!("  S1: {{from: a, to: b, stock: s, through: [{s}], beside: {{run: P1, apart: {apart}}}}}\n")
}

const C16: &str = "breaker: 16 A, volts: 230 V";
const CAT6: &str = "data, grade: cat6, shields: 0";

#[test]
fn en_50174_2_as_worked_out_in_print() {
    let tray = "  t: {kind: tray, containment: open-metal, inside: w}\n";
    let trunking = "  t: {kind: raceway, containment: none, inside: w}\n";
    for (row, stock, way, circuits, least) in [
        ("SP01", CAT6, trunking, 5, 40),
        ("SP03", "data, grade: cat6a, shields: 1", tray, 20, 76),
        ("SP05", "data, grade: cat7, shields: 2", trunking, 3, 2),
        // Table 4 and 5 at their bounds.
        ("3 circuits", CAT6, trunking, 3, 20),
        ("4 circuits", CAT6, trunking, 4, 40),
        ("13 circuits", CAT6, trunking, 13, 100),
        // The formula, where the print says 400 mm: 75 mm × 6.
        ("76 circuits", CAT6, tray, 76, 450),
    ] {
        is(&eu(stock, way, "t", circuits, C16, &format!("{least} mm")), None);
        let text = eu(stock, way, "t", circuits, C16, &format!("{} mm", least - 1));
        is(&text, Some(Fault));
        is(&text.replace("region: eu", "region: gb"), Some(Fault));
        let limit = reviewed(&text, CLOSE).findings[0].limit.as_ref().expect("a limit").value;
        assert!((limit - f64::from(least)).abs() < 1e-9, "{row}: {limit}");
    }
    // Class a, from memory: 300 mm × 0.2.
    is(&eu("coax", "", "w", 1, C16, "59 mm"), Some(Fault));
    is(&eu("coax", "", "w", 1, C16, "60 mm"), None);
    let authority = reviewed(&eu("coax", "", "w", 1, C16, "59 mm"), CLOSE).findings[0].authority.clone();
    assert!(authority.is_some_and(|text| text.ends_with("from memory")));
    // Only cabling of the standard.
    for service in ["speaker", "line", "video", "control", "fibre"] {
        is(&eu(service, "", "w", 1, C16, "0 mm"), None);
    }
}

#[test]
fn metal_and_circuits_count_as_the_plan_tells() {
    let way = |more: &str| format!("  t: {{{more}, inside: w}}\n");
    for (more, least) in [
        ("kind: conduit, make: EMT", 0),
        ("kind: conduit, make: ENT", 20),
        ("kind: raceway, containment: solid-metal", 0),
        ("kind: tray, containment: perforated-metal", 10),
        ("kind: cabinet, containment: open-metal", 15),
    ] {
        is(&eu(CAT6, &way(more), "t", 1, C16, &format!("{least} mm")), None);
        if least > 0 {
            is(&eu(CAT6, &way(more), "t", 1, C16, &format!("{} mm", least - 1)), Some(Fault));
        }
        // The weakest place counts.
        is(&eu(CAT6, &way(more), "t, w", 1, C16, "19 mm"), Some(Fault));
    }
    // Metal that both lie in does not part them, unless it has a barrier.
    let both = |more: &str| eu(CAT6, &way(more), "t", 1, C16, "19 mm").replace("stock: nm, through: [w]", "stock: nm, through: [t]");
    is(&both("kind: tray, containment: perforated-metal"), Some(Fault));
    is(&both("kind: tray, containment: perforated-metal, barrier: yes"), None);
    // Power in metal is as good.
    let power = eu(CAT6, &way("kind: tray, containment: perforated-metal"), "w", 1, C16, "10 mm").replace("stock: nm, through: [w]", "stock: nm, through: [t]");
    is(&power, None);
    is(&power.replace("10 mm", "9 mm"), Some(Fault));
    // 63 A is as four circuits, three phases as three; both as twelve.
    is(&eu(CAT6, "", "w", 1, "breaker: 63 A, volts: 230 V", "39 mm"), Some(Fault));
    is(&eu(CAT6, "", "w", 1, "breaker: 63 A, volts: 230 V", "40 mm"), None);
    is(&eu(CAT6, "", "w", 2, "breaker: 16 A, poles: 3, volts: 400 V", "39 mm"), Some(Fault));
    is(&eu(CAT6, "", "w", 2, "breaker: 16 A, poles: 3, volts: 400 V", "40 mm"), None);
    // Two runs of one circuit are one circuit.
    let chain = eu(CAT6, "", "w", 1, C16, "20 mm").replace("  S1:", "  P9: {from: a, to: b, stock: nm, through: [w]}\n  P8: {from: b, to: d, stock: nm, through: [w]}\n  S1:").replace("  b: {", "  d: {kind: light}\n  b: {");
    is(&chain, None);
}

#[test]
fn what_en_50174_2_needs_and_the_plan_lacks_is_a_gap() {
    let tray = "  t: {kind: tray, inside: w}\n";
    lacks(&eu("data, grade: cat6", "", "w", 1, C16, "15 mm"), &["shields of s"]);
    is(&eu("data, grade: cat6", "", "w", 1, C16, "20 mm"), None);
    is(&eu("data, grade: cat6", "", "w", 1, C16, "9 mm"), Some(Fault));
    lacks(&eu("data", "", "w", 1, C16, "15 mm"), &["grade of s"]);
    is(&eu("data", "", "w", 1, C16, "1 mm"), Some(Fault));
    is(&eu("data", "", "w", 1, C16, "60 mm"), None);
    lacks(&eu(CAT6, tray, "t", 1, C16, "15 mm"), &["containment of t"]);
    is(&eu(CAT6, tray, "t", 1, C16, "20 mm"), None);
    lacks(&eu(CAT6, "  t: {kind: conduit, inside: w}\n", "t", 1, C16, "15 mm"), &["make of t"]);
    lacks(&eu(CAT6, "", "w", 1, "volts: 230 V", "25 mm"), &["breaker of C1"]);
    is(&eu(CAT6, "", "w", 1, "volts: 230 V", "15 mm"), Some(Fault));
    lacks(&eu(CAT6, "", "w", 1, "breaker: 16 A", "25 mm"), &["poles of C1"]);
    lacks(&eu(CAT6, "", "w", 1, "breaker: 16 A, volts: 400 V", "25 mm"), &["poles of C1"]);
    let unfed = eu(CAT6, "", "w", 1, C16, "25 mm").replace("from: C1, to: a", "from: b, to: a");
    lacks(&unfed, &["a circuit that feeds P1"]);
    // A power run that hides its way may be one circuit more there.
    let hidden = eu(CAT6, "", "w", 1, C16, "25 mm").replace("  S1:", "  P9: {from: a, to: b, stock: nm}\n  S1:");
    lacks(&hidden, &["through of P9"]);
    is(&hidden.replace("25 mm", "19 mm"), Some(Fault));
    is(&hidden.replace("P9: {from: a, to: b, stock: nm", "P9: {from: a, to: b, stock: nm, surface: yes"), None);
    lacks(&eu(CAT6, "", "w", 1, C16, "25 mm").replace("stock: s, through: [w]", "stock: s"), &["through of S1"]);
    lacks(&eu(CAT6, "  t: {kind: conduit, make: ENT}\n", "t", 1, C16, "25 mm"), &["inside of t"]);
    let silent = |text: String| text.replace(", beside: {run: P1, apart: 25 mm}", "");
    lacks(&silent(eu(CAT6, "", "w", 1, C16, "25 mm")), &["beside of S1 (P1 passes the same way)"]);
    // In closed metal it does not matter what lies beside it.
    is(&silent(eu(CAT6, "  t: {kind: conduit, make: EMT, inside: w}\n", "t", 1, C16, "25 mm")), None);
    lacks(&eu(CAT6, "", "w", 1, C16, "25 mm").replace(", apart: 25 mm", ""), &["apart of S1 beside P1"]);
}


#[test]
fn the_separation_is_among_the_figures() {
    let figures = |text: &str| {
        let review = reviewed(text, CLOSE);
        let house = House::build(&review.plan, &review.sources);
        let (all, gaps) = house.quantities(Ok(1.0), Ok(10.0));
        let found: Vec<_> = all.into_iter().filter(|figure| figure.figure == "separation").map(|figure| (figure.on.len(), figure.value, figure.unit)).collect();
        let gaps: Vec<_> = gaps.into_iter().filter(|gap| gap.rule == "separation").map(|gap| gap.lacks).collect();
        (found, gaps)
    };
    assert_eq!(figures(&eu(CAT6, "", "w", 5, C16, "1 mm")), (vec![(2, 40.0, "mm")], vec![]));
    assert_eq!(figures(&eu("data, grade: cat6", "", "w", 5, C16, "1 mm")), (vec![], vec!["shields of s".to_owned()]));
    assert_eq!(figures(&beside(US, THHN, "for: data", "{run: P1, apart: 1 in}")), (vec![], vec![]));
}
