//! Low voltage beside power: in one conduit or box (NEC 725.136, 800.133, read in forum and handbook reprints), and close for
//! long (common practice, no source: about 12 in, 6 in the least that is quoted).

use nailplate::findings::Level::{Advice, Hazard};

use super::{edited, exactly, found, gaps, reviewed};

const SHARES: &str = "power.shares-conduit";
const HUM: &str = "power.hum-distance";

/// One power run P1 and one other run S1, and whatever more.
pub fn plan(head: &str, stock: &str, ways: &str, p: &str, s: &str) -> String {
    let ways = ways.replace("; ", "\n  ");
    let ways = if ways.is_empty() { String::new() } else { format!("pathways:\n  {ways}\n") };
    format!(
        "nailplate: 1\n{}\nstock:\n  nm: {{for: power, rating: NM-B}}\n  s: {{{stock}}}\n{ways}circuits:\n  C1: {{breaker: 15 A, volts: 120 V}}\n\
         endpoints:\n  a: {{kind: rack}}\n  b: {{kind: keypad}}\n  m: {{kind: box}}\n\
         runs:\n  P1: {{from: C1, to: a, stock: nm{p}}}\n  S1: {{from: a, to: b, stock: s{s}}}\n",
        head.replace("; ", "\n")
    )
}

const US: &str = "region: us";
const SPEAKER: &str = "for: speaker";
const IN: &str = ", through: [w]";

#[track_caller]
fn shares(text: &str, on: Option<&str>) {
    let expected: Vec<_> = on.map(|on| (on.to_owned(), Hazard)).into_iter().collect();
    assert_eq!(found(text, SHARES), expected, "{text}");
    assert_eq!(gaps(text, SHARES), [""; 0], "{text}");
}

#[track_caller]
fn lacks(text: &str, rule: &str, what: &[&str]) {
    exactly(text, rule, &[], what);
}

#[test]
fn power_and_low_voltage_need_a_barrier_in_a_raceway() {
    for region in ["us", "ca"] {
        let head = &format!("region: {region}");
        for (way, wrong) in [
            ("kind: conduit", true),
            ("kind: raceway", true),
            ("kind: raceway, barrier: no", true),
            ("kind: raceway, barrier: yes", false),
            ("kind: wall", false),
            ("kind: tray", false),
        ] {
            let ways = &format!("w: {{{way}}}");
            shares(&plan(head, SPEAKER, ways, IN, IN), wrong.then_some("w"));
        }
    }
    let pipe = "w: {kind: conduit}";
    for (service, wrong) in
        [("speaker", true), ("line", true), ("video", true), ("data", true), ("coax", true), ("control", true), ("fibre", false), ("power", false)]
    {
        shares(&plan(US, &format!("for: {service}"), pipe, IN, IN), wrong.then_some("w"));
    }
    shares(&plan(US, SPEAKER, pipe, ", surface: yes", IN), None);
    shares(&plan(US, SPEAKER, pipe, IN, ", surface: yes"), None);
    // A spare is pulled through the same pipe.
    shares(&plan(US, SPEAKER, pipe, IN, ", through: [w], spare: yes"), Some("w"));
    // A conduit of its own inside the large one parts them.
    let inner = "w: {kind: conduit}; i: {kind: conduit, inside: w}";
    shares(&plan(US, SPEAKER, inner, IN, ", through: [i]"), None);
    shares(&plan(US, SPEAKER, "w: {kind: conduit, barrier: perhaps}", IN, IN), None);
    let says = &reviewed(&plan(US, SPEAKER, pipe, IN, IN), SHARES).findings[0].says;
    assert_eq!(says, "w holds P1, which is power, together with S1, and no barrier");
}

#[test]
fn power_and_low_voltage_need_a_barrier_in_a_box() {
    let both = |kind: &str, more: &str| {
        plan(US, SPEAKER, "", "", "").replace("to: a,", "to: m,").replace("to: b,", "to: m,").replace("kind: box", &format!("kind: {kind}{more}"))
    };
    for kind in ["box", "outlet", "wall-plate", "data-outlet", "inlet", "wall-switch"] {
        shares(&both(kind, ""), Some("m"));
        shares(&both(kind, ", barrier: yes"), None);
        shares(&both(kind, ", barrier: no"), Some("m"));
    }
    for kind in ["rack", "projector", "distribution"] {
        shares(&both(kind, ""), None);
    }
    // What stands in the box is in the box.
    let inside = plan(US, SPEAKER, "", "", "").replace("to: a,", "to: o,").replace("to: b,", "to: d,")
        .replace("  m: {kind: box}", "  m: {kind: box}\n  o: {kind: outlet, in: m}\n  d: {kind: data-outlet, in: m}");
    shares(&inside, Some("m"));
    shares(&inside.replace("kind: box", "kind: box, barrier: yes"), None);
    let after = edited(&inside, SHARES);
    assert!(after.contains("m: {kind: box, barrier: yes}"), "{after}");
    shares(&after, None);
    shares(&edited(&plan(US, SPEAKER, "w: {kind: raceway}", IN, IN), SHARES), None);
    // Nothing parts the inside of a pipe.
    let pipe = plan(US, SPEAKER, "w: {kind: conduit}", IN, IN);
    assert_eq!(edited(&pipe, SHARES), pipe);
}

#[test]
fn what_is_not_known_of_sharing_is_a_gap() {
    let pipe = "w: {kind: conduit}";
    lacks(&plan(US, "rating: CL2", pipe, IN, IN), SHARES, &["`for` of s"]);
    lacks(&plan(US, SPEAKER, pipe, IN, IN).replace("for: power", "rating: NM-B").replace("rating: NM-B, rating: NM-B", "rating: NM-B"), SHARES, &["`for` of nm"]);
    shares(&plan(US, "rating: CL2", "w: {kind: conduit, barrier: yes}", IN, IN), None);
    shares(&plan(US, "rating: CL2", pipe, ", surface: yes", IN), None);
    // What hides its way may lie in the pipe, and what has no kind may be a pipe or a box.
    lacks(&plan(US, SPEAKER, pipe, "", IN), SHARES, &["through of P1"]);
    lacks(&plan(US, SPEAKER, pipe, IN, ""), SHARES, &["through of S1"]);
    shares(&plan(US, "for: fibre", pipe, IN, ""), None);
    shares(&plan(US, SPEAKER, "w: {kind: raceway, barrier: yes}", IN, ""), None);
    lacks(&plan(US, SPEAKER, "w: {size: 1}", IN, IN), SHARES, &["kind of w"]);
    shares(&plan(US, SPEAKER, "w: {size: 1, barrier: yes}", IN, IN), None);
    shares(&plan(US, SPEAKER, "w: {size: 1}", IN, ", surface: yes"), None);
    let nameless = plan(US, SPEAKER, "", "", "").replace("to: a,", "to: m,").replace("to: b,", "to: m,").replace("m: {kind: box}", "m: {access: yes}");
    lacks(&nameless, SHARES, &["kind of m"]);
    for region in ["gb", "eu", "au"] {
        let what = format!("a limit for {region} on sharing with power (there the insulation of both decides)");
        lacks(&plan(&format!("region: {region}"), SPEAKER, pipe, IN, IN), SHARES, &[&what]);
        shares(&plan(&format!("region: {region}"), SPEAKER, "w: {kind: raceway, barrier: yes}", IN, IN), None);
    }
}

/// Whether S1 is advised against, lying so beside P1; whichever of the two says so.
#[track_caller]
fn hum(stock: &str, beside: &str, wrong: bool) {
    for region in ["us", "ca", "gb", "eu", "au"] {
        let head = &format!("region: {region}");
        let expected = if wrong { vec![("S1".to_owned(), Advice)] } else { Vec::new() };
        for (p, s) in [(String::new(), format!(", beside: {beside}")), (format!(", beside: {}", beside.replace("run: P1", "run: S1")), String::new())] {
            let text = plan(head, stock, "w: {kind: wall}", &format!("{IN}{p}"), &format!("{IN}{s}"));
            assert_eq!(found(&text, HUM), expected, "{text}");
            assert_eq!(gaps(&text, HUM), [""; 0], "{text}");
        }
    }
}

#[test]
fn audio_keeps_its_distance_from_power_over_length() {
    for stock in [SPEAKER, "for: line", "for: line, balanced: yes"] {
        for (apart, over, wrong) in [
            ("4 in", "20 ft", true),
            ("0 in", "20 ft", true),
            ("11.9 in", "5 ft", true),
            ("12 in", "20 ft", false),
            ("1 ft", "20 ft", false),
            ("4 in", "4.9 ft", false),
            ("4 in", "5 ft", true),
            ("299 mm", "1.5 m", true),
            ("300 mm", "10 m", false),
            ("0.3 m", "10 m", false),
            ("29 cm", "1.4 m", false),
        ] {
            hum(stock, &format!("{{run: P1, apart: {apart}, over: {over}}}"), wrong);
        }
    }
    // Video, data and the rest carry nothing that one hears.
    for service in ["video", "data", "coax", "control", "fibre", "power"] {
        hum(&format!("for: {service}"), "{run: P1, apart: 1 in, over: 20 ft}", false);
    }
    // Several stretches: the nearest counts, and a square crossing does no harm.
    hum(SPEAKER, "[{run: P1, apart: 14 in, over: 20 ft}, {run: P1, apart: 2 in, over: 1 ft}]", false);
    hum(SPEAKER, "[{run: P1, apart: 14 in, over: 20 ft}, {run: P1, apart: 2 in, over: 9 ft}]", true);
    let text = plan(US, SPEAKER, "w: {kind: wall}", IN, ", through: [w], beside: [{run: P1, apart: 9 in, over: 9 ft}, {run: P1, apart: 2 in, over: 9 ft}]");
    let review = reviewed(&text, HUM);
    assert_eq!(review.findings[0].says, "S1 is a speaker line and lies 2 in from P1 for 9 ft, where 12 in is usual");
    assert!((review.findings[0].figure.as_ref().expect("its distance").value - 50.8).abs() < 1e-9);
    let after = edited(&text, HUM);
    assert!(!after.contains("apart: 9 in") && !after.contains("apart: 2 in"), "{after}");
    assert_eq!(found(&after, HUM), []);
    let metric = edited(&text.replace("9 in", "90 mm"), HUM);
    assert!(metric.contains("apart: 300 mm") && metric.contains("apart: 12 in"), "{metric}");
}

#[test]
fn what_is_not_known_of_hum_is_a_gap() {
    let wall = "w: {kind: wall}; v: {kind: wall}";
    let text = |p: &str, s: &str| plan(US, SPEAKER, wall, p, s);
    lacks(&text(IN, IN), HUM, &["beside of S1 (P1 passes the same way)"]);
    lacks(&text(IN, ", through: [w], beside: {run: P1, over: 20 ft}"), HUM, &["apart of S1 beside P1"]);
    lacks(&text(IN, ", through: [w], beside: {run: P1, apart: 4 in}"), HUM, &["over of S1 beside P1"]);
    lacks(&text(IN, ", through: [w], beside: {run: P1, apart: 14 in}"), HUM, &[]);
    lacks(&text(IN, ", through: [w], beside: {run: P1, over: 1 ft}"), HUM, &[]);
    lacks(&text(IN, ", through: [w], beside: []"), HUM, &[]);
    lacks(&text(IN, ", through: [v]"), HUM, &[]);
    lacks(&text(IN, ""), HUM, &["through of S1"]);
    lacks(&text("", IN), HUM, &["through of P1"]);
    lacks(&text(IN, ", surface: yes"), HUM, &[]);
    lacks(&text(", through: [w], spare: yes", IN), HUM, &[]);
    lacks(&text(", through: [w], spare: yes", ", through: [w], beside: {run: P1, apart: 1 in, over: 9 ft}"), HUM, &[]);
    // Bad values have been reported.
    lacks(&text(IN, ", through: [w], beside: {run: P1, apart: close, over: 9 ft}"), HUM, &[]);
    lacks(&text(IN, ", through: [w], beside: {run: P9, apart: 1 in, over: 9 ft}"), HUM, &[]);
    let unknown = text(IN, ", through: [w], beside: {run: P1, apart: 1 in, over: 9 ft}").replace("{for: power, rating", "{rating");
    lacks(&unknown, HUM, &["`for` of nm"]);
    // Beside one and silent on the other: it names all that it lies beside.
    let two = text(IN, ", through: [w], beside: {run: P1, apart: 14 in}").replace("  S1:", "  P2: {from: a, to: m, stock: nm, through: [w]}\n  S1:");
    lacks(&two, HUM, &[]);
    let by_power = text(", through: [w], beside: {run: S1, apart: 14 in}", IN).replace("  S1:", "  P2: {from: a, to: m, stock: nm, through: [w]}\n  S1:");
    lacks(&by_power, HUM, &["beside of S1 (P2 passes the same way)"]);
}
