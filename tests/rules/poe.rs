//! Power over the data cable (IEEE 802.3 clauses 33 and 145) and its bundles (NEC 725.144, 722.135).

use nailplate::findings::Level::{self, Fault, Hazard};

use nailplate::house::House;

use super::{edited, exactly, found, gaps, reviewed};

const STARVED: &str = "data.poe-starved";
const HOT: &str = "data.poe-bundle-hot";

/// A source of a type, a device of a type with a load, and the run between.
fn plan(region: &str, source: &str, device: &str, run: &str) -> String {
    format!(
        "nailplate: 1\nregion: {region}\nstock:\n  c24: {{for: data, grade: cat6, cores: 8 x 24 AWG, conductor: solid, rating: CM}}\n  \
         c23: {{for: data, grade: cat6, cores: 8 x 23 AWG, conductor: solid, rating: CM}}\n  c26: {{for: data, grade: cat6, cores: 8 x 26 AWG, rating: CM}}\n  \
         half: {{for: data, grade: cat6, cores: 4 x 24 AWG, rating: CM}}\n  bare: {{for: data, grade: cat6, rating: CM}}\n  \
         clad: {{for: data, grade: cat6, cores: 8 x 23 AWG, material: copper-clad-aluminium, rating: CM}}\n  \
         lp: {{for: data, grade: cat6, cores: 8 x 24 AWG, rating: CMR-LP (0.6A)}}\n\
         endpoints:\n  rack: {{kind: rack}}\n  patch: {{kind: patch-panel, in: rack}}\n  panel: {{kind: distribution}}\n  pot: {{kind: box}}\n  sw: {{kind: switch, {source}}}\n  \
         cam: {{kind: camera, {device}}}\nruns:\n  D1: {{from: sw, to: cam, {run}}}\n"
    )
}

#[track_caller]
fn starves(text: &str, expected: &[(&str, Level)], lacks: &[&str]) {
    exactly(text, STARVED, expected, lacks);
}

#[test]
fn the_standards_own_channel_just_serves() {
    // IEEE 802.3 (PO04, PO05, PO06, class 3): the greatest load of each type over the greatest resistance of its channel. Solid 24 AWG at
    // 20 °C has 84.2 ohm/km (ASTM B258, IACS): 148.4 m are 12.5 ohm of two pairs, 6.25 of four; 237.5 m are 20 ohm.
    for (number, load, metres) in [(1, 12.95, 237.4), (2, 25.5, 148.4), (3, 51.0, 148.4), (4, 71.3, 148.4)] {
        let at = |metres: f64| {
            plan("eu", &format!("poe-supply: type {number}"), &format!("poe: type {number}, load: {load} W"),
                &format!("stock: c24, length: {metres} m, cords: 0 m, ambient: 20 degC"))
        };
        starves(&at(metres), &[], &[]);
        starves(&at(metres * 1.03), &[("cam", Fault)], &[]);
    }
    // Above what the type may draw.
    for (number, load) in [(1, 12.96), (2, 25.6), (3, 51.1), (4, 71.4)] {
        let text = plan("eu", &format!("poe-supply: type {number}"), &format!("poe: type {number}, load: {load} W"), "stock: c24, length: 5 m");
        starves(&text, &[("cam", Fault)], &[]);
    }
}

#[test]
fn voltage_and_power_are_told_apart() {
    // A small load over a very long line: enough power, too low a voltage; a collapsed line is one of power.
    let at = |load: &str, metres: u32| {
        plan("eu", "poe-supply: type 1", &format!("poe: type 1, load: {load}"), &format!("stock: c24, length: {metres} m, cords: 0 m, ambient: 20 degC"))
    };
    let says = |text: &str| reviewed(text, STARVED).findings[0].says.clone();
    assert_eq!(says(&at("5 W", 700)), "cam gets 35.8 V over D1, a type 1 device needs 37 V at least");
    assert_eq!(says(&at("12.9 W", 700)), "cam gets 8.18 W at most over D1, it draws 12.9 W");
    assert_eq!(says(&at("12.9 W", 9000)), "cam gets 0.639 W at most over D1, it draws 12.9 W");
}

#[test]
fn types_of_source_and_device() {
    let at = |source: &str, device: &str| plan("us", source, device, "stock: c23, length: 150 ft, ambient: 20 degC");
    // The lower of the two grants the power; the voltage is the source's.
    starves(&at("poe-supply: type 2", "poe: type 3, load: 40 W"), &[("cam", Fault)], &[]);
    starves(&at("poe-supply: type 2", "poe: type 3, load: 25 W"), &[], &[]);
    starves(&at("poe-supply: type 4", "poe: type 1, load: 12 W"), &[], &[]);
    starves(&at("ports: 8", "poe: type 1, load: 12 W"), &[], &["poe-supply of sw"]);
    starves(&at("poe-supply: type 1", "poe: type 1"), &[], &["load of cam"]);
    starves(&at("poe-supply: type 1", "load: 12 W"), &[], &[]);
}

#[test]
fn what_the_plan_leaves_open() {
    let at = |run: &str| plan("eu", "poe-supply: type 2", "poe: type 2, load: 25.5 W", run);
    starves(&at("stock: c24, length: 90 m"), &[], &[]);
    // 127 m at 60 °C are over what 148.4 m are at 20 °C (0.393 % a kelvin).
    starves(&at("stock: c24, length: 130 m, cords: 0 m"), &[], &["ambient of D1"]);
    starves(&at("stock: c24, length: 130 m, cords: 0 m, ambient: 30 degC"), &[], &[]);
    starves(&at("stock: c24, length: 130 m, cords: 0 m, ambient: 60 degC"), &[("cam", Fault)], &[]);
    starves(&at("stock: c24"), &[], &["length of D1"]);
    starves(&at("carries: data, length: 9 m"), &[], &["stock of D1"]);
    starves(&at("stock: bare, length: 9 m"), &[], &["cores of bare"]);
    starves(&at("stock: c24, length: 9 m, spare: yes"), &[], &["a data run to cam"]);
    // Cords count: 20 m of stranded 24 AWG.
    starves(&at("stock: c24, length: 140 m, cords: 20 m, ambient: 20 degC"), &[("cam", Fault)], &[]);
}

#[test]
fn copper_clad_cable() {
    let at = |length: &str| plan("us", "poe-supply: type 2", "poe: type 2, load: 25 W", &format!("stock: clad, length: {length}, ambient: 20 degC"));
    // It resists more; that no category knows it is data.not-copper's to say.
    starves(&at("60 ft"), &[], &[]);
    starves(&at("375 ft"), &[("cam", Fault)], &[]);
    assert!(edited(&at("375 ft"), STARVED).contains("stock: c23, length: 375 ft"));
}

#[test]
fn pairs() {
    let at = |kind: u8, run: &str| plan("gb", "poe-supply: type 4", &format!("poe: type {kind}, load: 12 W"), run);
    starves(&at(2, "stock: half, length: 20 m"), &[], &[]);
    starves(&at(3, "stock: half, length: 20 m"), &[("cam", Fault)], &[]);
    let says = reviewed(&at(3, "stock: half, length: 20 m"), STARVED).findings[0].says.clone();
    assert_eq!(says, "D1 has 2 pairs to cam, power of type 3 uses 4");
}

#[test]
fn where_the_source_stands() {
    let at = |device: &str, source: &str, runs: &str| {
        let text = plan("us", source, device, "stock: c23, length: 9 m");
        let head = text.split("runs:").next().unwrap_or_default();
        format!("{head}runs:\n{runs}")
    };
    let patch = "  D1: {from: patch, to: cam, stock: c23, length: 90 ft}\n";
    let cam = "poe: type 2, load: 20 W";
    // The switch in the rack feeds by way of the panel in it.
    starves(&at(cam, "in: rack, poe-supply: type 2", patch), &[], &[]);
    starves(&at(cam, "in: rack, poe-supply: type 1", patch), &[("cam", Fault)], &[]);
    starves(&at(cam, "in: rack", patch), &[], &["poe-supply of rack"]);
    let two = at(cam, "in: rack, poe-supply: type 2", patch).replace("  pot:", "  sw2: {kind: switch, in: rack, poe-supply: type 1}\n  pot:");
    starves(&two, &[], &["which source in rack feeds it"]);
    // What the weakest of them can feed any can; what not even the strongest can is starved.
    starves(&two.replace("load: 20 W", "load: 12 W"), &[], &[]);
    starves(&two.replace("type 2, load: 20 W", "type 3, load: 40 W"), &[("cam", Fault)], &[]);
    // A feeder in a panel; a device in a box that the run ends at; a run on through the box.
    let fed = at(cam, "ports: 8", "  D1: {from: panel, to: pot, stock: c23, length: 90 ft}\n").replace("kind: distribution", "kind: distribution, poe-supply: type 2").replace("kind: camera", "kind: camera, in: pot");
    starves(&fed, &[], &[]);
    let through = at(cam, "poe-supply: type 2", "  D1: {from: sw, to: pot, stock: c23, length: 90 ft}\n  D2: {from: pot, to: cam, stock: c23, length: 2000 ft, ambient: 20 degC}\n");
    starves(&through, &[("cam", Fault)], &[]);
    // The line on to another device is not one of supply.
    let on = at(cam, "poe-supply: type 2", "  D1: {from: sw, to: cam, stock: c23, length: 90 ft}\n  D2: {from: cam, to: rack, stock: c23, length: 9 ft}\n");
    starves(&on, &[], &[]);
}

#[track_caller]
fn bundle(region: &str, code: &str, device: &str, run: &str, expected: &[&str], lacks: &[&str]) {
    let text = plan(region, "poe-supply: type 4", device, run).replacen("region:", &format!("{code}region:"), 1);
    let expected: Vec<_> = expected.iter().map(|id| ((*id).to_owned(), Hazard)).collect();
    assert_eq!(found(&text, HOT), expected, "{text}");
    assert_eq!(gaps(&text, HOT), lacks, "{text}");
}

#[test]
fn bundles_over_the_table() {
    // NEC 2017 table 725.144, from memory: 90 W from 52 V over four pairs are 0.433 A; 24 AWG 0.5 A to 61 cables, 0.4 A to 91; 23 AWG 0.5 to 91, 0.4 to 192.
    let four = "poe: type 4, load: 62 W";
    for code in ["", "code: NEC 2017\n", "code: NEC 2020\n", "code: NEC 2023\n"] {
        bundle("us", code, four, "stock: c24, length: 9 m, bundle: 61", &[], &[]);
        bundle("us", code, four, "stock: c24, length: 9 m, bundle: 62", &["D1"], &[]);
        bundle("us", code, four, "stock: c23, length: 9 m, bundle: 91", &[], &[]);
        bundle("us", code, four, "stock: c23, length: 9 m, bundle: 92", &["D1"], &[]);
    }
    bundle("us", "", four, "stock: c24, length: 9 m", &[], &["bundle of D1"]);
    bundle("us", "", four, "stock: c24, length: 9 m, bundle: 193", &[], &["an ampacity of 24 AWG of c24 in a bundle of 193"]);
    bundle("us", "", four, "stock: c26, length: 9 m, bundle: 2", &[], &["an ampacity of 26 AWG of c26"]);
    bundle("us", "", four, "stock: bare, length: 9 m, bundle: 2", &[], &["cores of bare"]);
    bundle("us", "", four, "stock: clad, length: 9 m, bundle: 2", &[], &["an ampacity of copper-clad-aluminium of clad"]);
    bundle("us", "", four, "stock: c24, length: 9 m, bundle: 2, ambient: 30 degC", &[], &[]);
    bundle("us", "", four, "stock: c24, length: 9 m, bundle: 2, ambient: 45 degC", &[], &["a correction of the ampacity for 45 °C around D1"]);
    bundle("us", "", four, "stock: c24, length: 9 m, bundle: 80, ambient: 45 degC", &["D1"], &[]);
    // Listed for its own current in any bundle (NEC 725.179(I), from memory).
    bundle("us", "", four, "stock: lp, length: 9 m, bundle: 150", &[], &[]);
    // Up to 60 W a cable no bundle counts.
    bundle("us", "", "poe: type 3, load: 40 W", "stock: c24, length: 9 m", &[], &[]);
    for region in ["ca", "gb", "eu", "au"] {
        bundle(region, "", four, "stock: c24, length: 9 m, bundle: 100", &[], &[&format!("a limit for {region}")]);
        bundle(region, "", "poe: type 3, load: 40 W", "stock: c24, length: 9 m, bundle: 100", &[], &[]);
    }
}

/// Of several sources in one rack the strongest decides whether a bundle may be too hot.
#[test]
fn a_bundle_that_several_sources_may_feed() {
    let at = |least: &str, device: &str, bundle: u32| {
        plan("us", "in: rack, poe-supply: type 4", device, &format!("stock: c24, length: 9 m, bundle: {bundle}"))
            .replace("  pot:", &format!("  sw2: {{kind: switch, in: rack, poe-supply: {least}}}\n  pot:"))
            .replace("from: sw,", "from: patch,")
    };
    for least in ["type 2", "type 3"] {
        let both = |text: &str| (found(text, HOT), gaps(text, HOT));
        assert_eq!(both(&at(least, "poe: type 4, load: 62 W", 61)), (vec![], vec![]));
        assert_eq!(both(&at(least, "poe: type 4, load: 62 W", 62)), (vec![], vec!["which source in rack feeds it".to_owned()]));
        assert_eq!(both(&at(least, "poe: type 2, load: 20 W", 190)), (vec![], vec![]));
    }
    assert_eq!(found(&at("type 4", "poe: type 4, load: 62 W", 62), HOT), [("D1".to_owned(), Hazard)]);
}

#[test]
fn the_edition_is_named() {
    let run = "stock: c24, length: 9 m, bundle: 80";
    let text = plan("us", "poe-supply: type 4", "poe: type 4, load: 62 W", run);
    let seen = |text: &str| {
        let finding = reviewed(text, HOT).findings.remove(0);
        (finding.figure.map(|figure| figure.working).unwrap_or_default(), finding.authority.unwrap_or_default(), finding.put_right.unwrap_or_default())
    };
    let (working, authority, put_right) = seen(&text);
    assert_eq!(working, "90 W ÷ 52 V ÷ 4 conductors a leg = 0.433 A in each; NEC 2023, the plan names no code");
    assert!(authority.starts_with("NEC 2023 722.135"), "{authority}");
    assert_eq!(put_right, "part the cables into bundles of 61 at most");
    let (working, authority, _) = seen(&text.replacen("region:", "code: NEC 2020\nregion:", 1));
    assert!(working.ends_with("; NEC 2020") && authority.starts_with("NEC 2020 725.144"), "{working} {authority}");
}

#[test]
fn figures_of_fed_devices_and_channels() {
    // PO04: 50 V, 12.5 ohm, 25.5 W give 42.5 V; the 30 W of the source leave 25.5 W.
    let text = plan("eu", "poe-supply: type 2", "poe: type 2, load: 25.5 W", "stock: c24, length: 148.43 m, cords: 0 m, ambient: 20 degC");
    let review = reviewed(&text, STARVED);
    let house = House::build(&review.plan, &review.sources);
    let (all, _) = house.quantities(Ok(1.0), Ok(10.0));
    let of = |name: &str| all.iter().find(|figure| figure.figure == name).map_or((Vec::new(), f64::NAN), |figure| (figure.on.clone(), figure.value));
    let (on, volts) = of("poe-voltage");
    assert_eq!(on.iter().map(|id| id.as_str()).collect::<Vec<_>>(), ["cam", "D1"]);
    assert!((volts - 42.5).abs() < 0.05, "{volts}");
    assert!((of("poe-power").1 - 25.5).abs() < 0.01);
    // TIA-568.2-D, from memory: 100 m of Cat 6 lose 32.85 dB at 250 MHz, mismatch 0.0003 × 250^1.5 dB.
    let loss = of("insertion-loss").1;
    assert!((loss - 1.4843 * 32.85 - 1.186).abs() < 0.05, "{loss}");
}
