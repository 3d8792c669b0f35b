//! Coaxial cable: shields, bonding, and the level that is left at the end.

use nailplate::findings::Level::{Advice, Hazard};

use super::{edited, found, gaps};

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
