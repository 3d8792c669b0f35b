//! Coaxial cable: shields, bonding, and the level that is left at the end.

use nailplate::findings::Level::{Advice, Fault, Hazard};
use nailplate::house::House;

use super::{edited, found, gaps, reviewed};

const THIN: &str = "coax.thin-shield";
const BOND: &str = "coax.antenna-unearthed";

fn plan(region: &str, rest: &str) -> String {
    format!("nailplate: 1\nregion: {region}\n{rest}")
}

/// A house with one coaxial run X1 from `from` to tv, and these keys of the stock and the source.
fn line(region: &str, stock: &str, kind: &str, keys: &str) -> String {
    plan(region, &format!(
        "stock:\n  s: {{for: coax{stock}}}\nrooms:\n  loft: {{kind: room}}\n  roof: {{kind: outdoors}}\n  hall: {{floor: 0}}\nendpoints:\n  a: {{kind: {kind}{keys}}}\n  tv: {{kind: display}}\nruns:\n  X1: {{from: a, to: tv, stock: s, length: 10 m}}\n"
    ))
}

#[test]
fn shields_of_the_stock_that_is_pulled() {
    // Common practice, no source: foil and braid, two shields at least.
    for region in ["us", "ca", "gb", "eu", "au"] {
        let of = |shields: &str| found(&line(region, shields, "entry", ""), THIN);
        assert_eq!(of(", shields: 0"), [("s".to_owned(), Advice)]);
        assert_eq!(of(", shields: 1"), [("s".to_owned(), Advice)]);
        assert_eq!(of(", shields: 2"), []);
        assert_eq!(of(", shields: 4"), []);
    }
    assert_eq!(gaps(&line("us", "", "entry", ""), THIN), ["shields of s"]);
    // Stock of another service that carries it, stock that nothing pulls, a run without stock.
    let odd = plan("eu", "stock:\n  d: {for: data, shields: 1}\n  unused: {for: coax, shields: 1}\nendpoints: {a: {kind: entry}, b: {kind: display}}\nruns:\n  X1: {from: a, to: b, stock: d, carries: coax, spare: yes}\n  X2: {from: a, to: b, carries: coax}\n  D1: {from: a, to: b, stock: d}\n");
    assert_eq!(found(&odd, THIN), [("d".to_owned(), Advice)]);
    assert_eq!(gaps(&odd, THIN), ["stock of X2"]);
    // A cable with more shields but of another series carries the signal another way.
    let other = line("us", ", shields: 1, series: RG-11", "entry", "").replace("rooms:", "  t: {for: coax, shields: 4, series: RG-59}\nrooms:");
    assert_eq!(edited(&other, THIN), other);
    let same = other.replace("RG-59", "rg-11");
    assert!(edited(&same, THIN).contains("stock: t"));
    assert_eq!(found(&edited(&same, THIN), THIN), []);
}

#[test]
fn antennas_and_entries_are_bonded() {
    let hazard = [("a".to_owned(), Hazard)];
    for region in ["us", "ca", "gb", "eu"] {
        for kind in ["antenna", "entry"] {
            assert_eq!(found(&line(region, "", kind, ", bonded: no"), BOND), hazard);
            assert_eq!(found(&line(region, "", kind, ", bonded: yes"), BOND), []);
            assert_eq!(gaps(&line(region, "", kind, ""), BOND), ["bonded of a"]);
        }
    }
    assert_eq!(gaps(&line("au", "", "entry", ", bonded: no"), BOND), ["a limit for au"]);
    assert_eq!(gaps(&line("au", "", "entry", ", bonded: yes"), BOND), [""; 0]);
    // Indoors lightning does not strike; where a room has no kind, the antenna counts as outdoors.
    let room = |room: &str| found(&line("us", "", "antenna", &format!(", bonded: no, room: {room}")), BOND);
    assert_eq!(room("loft"), []);
    assert_eq!(room("roof"), hazard);
    assert_eq!(room("hall"), hazard);
    // What no coaxial cable reaches is no antenna system yet; what stands in it counts for it.
    let none = plan("us", "endpoints: {a: {kind: antenna, bonded: no}}\n");
    assert_eq!((found(&none, BOND), gaps(&none, BOND)), (vec![], vec![]));
    let inner = plan("us", "endpoints: {a: {kind: entry, bonded: no}, p: {kind: patch-panel, in: a}, tv: {kind: display}}\nruns: {X1: {from: p, to: tv, carries: coax}}\n");
    assert_eq!(found(&inner, BOND), hazard);
}

const LEVEL: &str = "coax.underfed";

/// Stocks by series, and endpoints and runs.
fn level(endpoints: &str, runs: &str) -> String {
    plan("us", &format!(
        "stock:\n  s6: {{for: coax, series: series-6}}\n  s59: {{for: coax, series: RG-59}}\n  s11: {{for: coax, series: RG-11}}\n  odd: {{for: coax, series: RG-58}}\n  none: {{for: coax}}\nendpoints:\n{endpoints}runs:\n{runs}"
    ))
}

/// An entry of a level and a display with a need, one run between them.
fn straight(entry: &str, display: &str, stock: &str, length: &str) -> String {
    level(
        &format!("  e: {{kind: entry{entry}}}\n  tv: {{kind: display{display}}}\n"),
        &format!("  X1: {{from: e, to: tv, stock: {stock}, length: {length}}}\n"),
    )
}

/// Loss of each coaxial channel that the figures list, in dB.
fn losses(text: &str) -> Vec<f64> {
    let review = reviewed(text, LEVEL);
    let house = House::build(&review.plan, &review.sources);
    let (all, _) = house.quantities(Ok(1.0), Ok(10.0));
    all.iter().filter(|figure| figure.figure == "coax-loss").map(|figure| figure.value).collect()
}

#[test]
fn what_is_left_of_the_level() {
    let fault = [("tv".to_owned(), Fault)];
    // CX02: Series 6, 75 ft at 2150 MHz lose 7.275 dB (support article's row × 0.75), to 2 %.
    let cx02 = |needs: &str| straight(", level: 0 dBmV", &format!(", needs: {needs} dBmV, frequency: 2150 MHz"), "s6", "75 ft");
    assert_eq!(found(&cx02("-7.1"), LEVEL), fault);
    assert_eq!(found(&cx02("-7.43"), LEVEL), []);
    assert!((losses(&cx02("0"))[0] / 7.275 - 1.0).abs() < 0.02);
    // CX03: 6.424 dB in 100 ft at 950 MHz. 60 dBµV is 0 dBmV by definition; 0.95 GHz is the same frequency.
    let cx03 = |needs: &str| straight(", level: 70 dBuV", &format!(", needs: {needs} dBuV, frequency: 0.95 GHz"), "s6", "100 ft");
    assert_eq!(found(&cx03("63.58"), LEVEL), fault);
    assert_eq!(found(&cx03("63.57"), LEVEL), []);
    assert_eq!(found(&straight(", level: 10 dBmV", ", needs: 63.58 dBuV, frequency: 950 MHz", "s6", "30.48 m"), LEVEL), fault);
    // Less comes in than is needed, whatever is lost.
    assert_eq!(found(&straight(", level: 1 dBmV", ", needs: 2 dBmV, frequency: 100 MHz", "s11", "1 in"), LEVEL), fault);
    for (entry, display, stock, lack) in [
        ("", ", needs: 0 dBmV, frequency: 1 GHz", "s6", "level of e"), (", level: 9 dBmV", ", frequency: 1 GHz", "s6", "needs of tv"), (", level: 9 dBmV", ", needs: 0 dBmV", "s6", "frequency of tv"),
        (", level: 9 dBmV", ", needs: 0 dBmV, frequency: 1 GHz", "none", "series of none"), (", level: 9 dBmV", ", needs: 0 dBmV, frequency: 1 GHz", "odd", "a table of the loss of RG-58"),
        (", level: 9 dBmV", ", needs: 0 dBmV, frequency: 1.2 GHz", "s59", "the loss of RG-59 at 1200 MHz"),
    ] {
        let text = straight(entry, display, stock, "9 m");
        assert_eq!((gaps(&text, LEVEL), found(&text, LEVEL)), (vec![lack.to_owned()], vec![]), "{entry}{display} {stock}");
    }
    assert_eq!(gaps(&straight(", level: 9 dBmV", ", needs: 0 dBmV, frequency: 1 GHz", "s6", "9 m").replace(", length: 9 m", ""), LEVEL), ["length of X1"]);
    // The frequency may stand at the source; a run may be written from the display.
    let turned = straight(", level: 0 dBmV, frequency: 950 MHz", ", needs: -6 dBmV", "s6", "100 ft").replace("from: e, to: tv", "from: tv, to: e");
    assert_eq!(found(&turned, LEVEL), fault);
    assert_eq!(found(&turned.replace("display", "receiver"), LEVEL), fault);
    // A level nobody may be missing: mistakes are reported once and leave no gap.
    assert_eq!(gaps(&straight(", level: 9", ", needs: 0 dBmV, frequency: 1 GHz", "s6", "9 m"), LEVEL), [""; 0]);
}

#[test]
fn splitters_and_outlets_on_the_way() {
    let ends = |splitter: &str| format!("  e: {{kind: entry, level: 10 dBmV}}\n  s: {{kind: splitter{splitter}}}\n  a: {{kind: receiver, needs: 0 dBmV, frequency: 1 GHz}}\n  b: {{kind: display, needs: 0 dBmV, frequency: 1 GHz}}\n");
    let runs = "  X1: {from: e, to: s, stock: s6, length: 10 ft}\n  X2: {from: s, to: a, stock: s6, length: 10 ft}\n  X3: {from: s, to: b, stock: s6, length: 10 ft}\n";
    let of = |splitter: &str| level(&ends(splitter), runs);
    // 20 ft of series 6 at 1000 MHz: 0.2 × (0.2034 × 31.6228 + 0.163) = 1.319 dB; splitters 3.5 and 11 dB (practice, from memory).
    let both = [("a".to_owned(), Fault), ("b".to_owned(), Fault)];
    for (splitter, expected, lacks) in [
        (", ways: 2", &[][..], &[][..]), (", ways: 8", &both, &[]), (", loss: 8.6 dB", &[], &[]), (", loss: 8.7 dB", &both, &[]), (", ways: 8, loss: 1 dB", &[], &[]),
        ("", &[], &["ways of s"]), (", ways: 5", &[], &["loss of s"]), (", ways: 1", &[], &["a splitter with 2 outputs at s"]),
    ] {
        assert_eq!((found(&of(splitter), LEVEL).as_slice(), gaps(&of(splitter), LEVEL)), (expected, lacks.iter().map(|l| (*l).to_owned()).collect()), "{splitter}");
    }
    let lost = losses(&of(", ways: 2"));
    assert!(lost.len() == 2 && lost.iter().all(|lost| (lost - 4.819).abs() < 0.001), "{lost:?}");
    // Runs written in any direction; two outputs into one device are two channels.
    let turned = of(", ways: 8").replace("from: e, to: s", "from: s, to: e").replace("from: s, to: a", "from: a, to: s");
    assert_eq!(found(&turned, LEVEL), both);
    let twice = of(", ways: 8").replace("from: s, to: b", "from: s, to: a");
    assert_eq!((found(&twice, LEVEL).len(), gaps(&twice, LEVEL).len()), (2, 0));
    // A plate is no splitter, and passes one run on; what it loses, and an outlet at the end, count where stated.
    assert_eq!(gaps(&of("").replace("splitter", "wall-plate"), LEVEL), ["a splitter at s, where one run goes on as 2"]);
    let plate = |loss: &str, outlet: &str| level(
        &format!("  e: {{kind: entry, level: 10 dBmV}}\n  p: {{kind: wall-plate{loss}}}\n  o: {{kind: data-outlet{outlet}, needs: 8 dBmV, frequency: 1 GHz}}\n"),
        "  X1: {from: e, to: p, stock: s6, length: 10 ft}\n  X2: {from: p, to: o, stock: s6, length: 10 ft}\n",
    );
    let fault = [("o".to_owned(), Fault)];
    assert_eq!(found(&plate("", ""), LEVEL), []);
    assert_eq!(found(&plate(", loss: 1 dB", ""), LEVEL), fault);
    assert_eq!(found(&plate("", ", loss: 1 dB"), LEVEL), fault);
    // A level that is known further down counts from there.
    assert_eq!(found(&plate(", level: 9 dBmV, loss: 5 dB", ""), LEVEL), []);
    assert_eq!(found(&plate(", level: 8.5 dBmV", ""), LEVEL), fault);
    // An amplifier ends one line and starts the next: 10 dBmV are enough for it, its 20 dBmV for what is behind.
    let amplified = level(
        "  e: {kind: entry, level: 10 dBmV}\n  m: {kind: amplifier, needs: 5 dBmV, level: 20 dBmV, frequency: 1 GHz}\n  s: {kind: splitter, ways: 8}\n  tv: {kind: display, needs: 5 dBmV, frequency: 1 GHz}\n",
        "  X1: {from: e, to: m, stock: s6, length: 30 ft}\n  X2: {from: m, to: s, stock: s6, length: 10 ft}\n  X3: {from: s, to: tv, stock: s6, length: 30 ft}\n",
    );
    assert_eq!((found(&amplified, LEVEL), gaps(&amplified, LEVEL)), (vec![], vec![]));
    assert_eq!(found(&amplified.replace("ways: 8", "loss: 14 dB"), LEVEL), [("tv".to_owned(), Fault)]);
    // Two antennas on one line; two cables from the entry that meet again.
    let two = level("  e: {kind: antenna, level: 9 dBmV}\n  f: {kind: antenna, level: 9 dBmV}\n  s: {kind: splitter, ways: 2}\n  tv: {kind: display, needs: 0 dBmV, frequency: 1 GHz}\n",
        "  X1: {from: e, to: s, stock: s6, length: 9 m}\n  X2: {from: f, to: s, stock: s6, length: 9 m}\n  X3: {from: s, to: tv, stock: s6, length: 9 m}\n");
    assert_eq!((gaps(&two, LEVEL), found(&two, LEVEL)), (vec!["which of e and f is wanted behind the place where they meet".to_owned()], vec![]));
    let knot = plate("", "") + "  X3: {from: e, to: p, stock: s6, length: 9 m}\n";
    assert_eq!((gaps(&knot, LEVEL), found(&knot, LEVEL)), (vec!["which run goes on as which at p".to_owned()], vec![]));
    // Nothing is served by a splitter alone.
    let idle = level("  e: {kind: entry, level: 9 dBmV}\n  s: {kind: splitter, ways: 2}\n", "  X1: {from: e, to: s, stock: s6, length: 9 m}\n");
    assert_eq!((gaps(&idle, LEVEL), found(&idle, LEVEL)), (vec![], vec![]));
}

#[test]
fn a_stock_of_less_loss_is_offered() {
    let text = straight(", level: 0 dBmV", ", needs: -7 dBmV, frequency: 1 GHz", "s59", "100 ft");
    let better = edited(&text, LEVEL);
    assert!(better.contains("stock: s6,"), "the first that is enough:\n{better}");
    assert_eq!(found(&better, LEVEL), []);
    let says = &reviewed(&text, LEVEL).findings[0];
    assert_eq!(says.says, "tv is left with -8.38 dBmV of the 0 dBmV at e, needed are -7 dBmV");
    assert_eq!(says.put_right.as_deref(), Some("pull RG-6 all the way, or put an amplifier of 1.4 dB or more at e"));
    let working = &says.figure.as_ref().expect("a figure").working;
    assert_eq!(working, "100 ft of RG-59 × 27.5 dB/100 m = 8.38 dB at 1000 MHz");
}
