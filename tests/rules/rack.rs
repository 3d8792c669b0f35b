//! Panels and what lands on them (counting; a panel between: common practice, no source).

use nailplate::findings::Level::{Advice, Fault};

use super::{edited, found, gaps};

const PORTS: &str = "rack.ports-short";
const PANEL: &str = "rack.no-patch-panel";

/// A rack with a panel in it, and runs.
fn plan(panel: &str, runs: &str) -> String {
    let runs = runs.split("; ").fold(String::new(), |all, run| all + "  " + run + "\n");
    format!(
        "nailplate: 1\nregion: gb\nstock:\n  d: {{for: data}}\n  s: {{for: speaker}}\n  v: {{for: video}}\n  c: {{for: coax}}\n  \
         l: {{for: line}}\n  p: {{for: power}}\n  x: {{rating: CM}}\ncircuits:\n  C: {{breaker: 16 A}}\nendpoints:\n  rack: {{kind: rack}}\n  \
         amp: {{kind: amplifier, in: rack}}\n  panel: {{{panel}}}\n  a: {{kind: display}}\n  b: {{kind: speaker}}\nruns:\n{runs}"
    )
}

#[track_caller]
fn ports(panel: &str, runs: &str, is_short: bool, lacks: &[&str]) {
    let text = plan(panel, runs);
    let expected = if is_short { vec![("panel".to_owned(), Fault)] } else { vec![] };
    assert_eq!(found(&text, PORTS), expected, "{text}");
    assert_eq!(gaps(&text, PORTS), lacks, "{text}");
}

#[test]
fn each_run_a_port() {
    let two = "D1: {from: panel, to: a, stock: d}; D2: {from: a, to: panel, stock: c, spare: yes}";
    for kind in ["patch-panel", "switch", "distribution"] {
        ports(&format!("kind: {kind}, ports: 2"), two, false, &[]);
        ports(&format!("kind: {kind}, ports: 1"), two, true, &[]);
        ports(&format!("kind: {kind}"), two, false, &["ports of panel"]);
        ports(&format!("kind: {kind}, ports: 0"), two, false, &[]);
    }
    // Nothing lands on it, or nothing that takes a port.
    ports("kind: switch", "P1: {from: C, to: panel, stock: p}", false, &[]);
    ports("kind: switch, ports: 1", &format!("{two}; P1: {{from: C, to: panel, stock: p}}"), true, &[]);
    // Other kinds have no ports to count; no kind, no telling.
    ports("kind: rack, ports: 1", two, false, &[]);
    ports("ports: 1", two, false, &["kind of panel"]);
}

#[test]
fn what_a_run_carries_may_decide() {
    let unknown = "D1: {from: panel, to: a, stock: d}; D2: {from: panel, to: a, stock: x}; D3: {from: panel, to: a}";
    ports("kind: switch, ports: 3", unknown, false, &[]);
    ports("kind: switch, ports: 2", unknown, false, &["`for` of x"]);
    let three = format!("{unknown}; D4: {{from: panel, to: a, stock: d}}; D5: {{from: panel, to: a, carries: video}}");
    ports("kind: switch, ports: 2", &three, true, &[]);
}

#[test]
fn cords_within_the_rack_take_no_port_of_a_patch_panel() {
    let through = "S1: {from: amp, to: panel, stock: s}; S2: {from: panel, to: b, stock: s}";
    ports("kind: patch-panel, ports: 1, in: rack", through, false, &[]);
    ports("kind: patch-panel, ports: 1", through, true, &[]);
    // A switch has no back.
    ports("kind: switch, ports: 1, in: rack", through, true, &[]);
}

#[track_caller]
fn panel(text: &str, expected: &[&str], lacks: &[&str]) {
    let expected: Vec<_> = expected.iter().map(|id| ((*id).to_owned(), Advice)).collect();
    assert_eq!(found(text, PANEL), expected, "{text}");
    assert_eq!(gaps(text, PANEL), lacks, "{text}");
}

#[test]
fn lines_that_end_on_the_rack() {
    for (stock, lands) in [("d", true), ("s", true), ("l", true), ("c", true), ("v", false), ("p", false)] {
        for (from, to) in [("rack", "a"), ("a", "rack")] {
            for spare in ["", ", spare: yes"] {
                let run = format!("R: {{from: {from}, to: {to}, stock: {stock}{spare}}}");
                panel(&plan("kind: box", &run), if lands { &["rack"] } else { &[] }, &[]);
            }
        }
    }
    panel(&plan("kind: patch-panel, in: rack", "R: {from: panel, to: a, stock: d}"), &[], &[]);
    // Equipment in the rack is not the rack.
    panel(&plan("kind: box", "R: {from: amp, to: b, stock: s}"), &[], &[]);
    // One finding, whatever the number of lines.
    let six = (1..7).map(|n| format!("R{n}: {{from: rack, to: a, stock: d}}")).collect::<Vec<_>>().join("; ");
    panel(&plan("kind: box", &six), &["rack"], &[]);
    panel(&plan("kind: box", "R: {from: rack, to: a, stock: x}"), &[], &["`for` of x"]);
    panel(&plan("kind: box", "R: {from: rack, to: a, stock: x}; Q: {from: rack, to: a, stock: d}"), &["rack"], &[]);
    let kindless = plan("kind: box", "R: {from: rack, to: a, stock: d}").replace("rack: {kind: rack}", "rack: {load: 9 W}");
    panel(&kindless, &[], &["kind of rack"]);
}

#[test]
fn lines_move_to_the_panel_that_is_there() {
    let text = plan("kind: patch-panel, in: rack, ports: 2", "R: {from: rack, to: a, stock: d}; Q: {from: b, to: rack, stock: s}");
    let after = edited(&text, PANEL);
    assert!(after.contains("R: {from: panel, to: a") && after.contains("Q: {from: b, to: panel"), "{after}");
    panel(&after, &[], &[]);
    // Not where they would find no port, or where it is not known.
    for has in ["ports: 1, in: rack", "in: rack", "ports: 9"] {
        let text = plan(&format!("kind: patch-panel, {has}"), "R: {from: rack, to: a, stock: d}; Q: {from: b, to: rack, stock: s}");
        assert_eq!(edited(&text, PANEL), text);
    }
}

const HOT: &str = "rack.too-hot";

/// A closet in one region with things in it.
fn closet(region: &str, room: &str, things: &[&str]) -> String {
    let things = things.iter().fold(String::new(), |all, thing| all + "  " + &thing.replace('@', "room: closet") + "\n");
    format!("nailplate: 1\nregion: {region}\nrooms:\n  closet: {{{room}}}\n  den: {{kind: room}}\nendpoints:\n{things}")
}

#[track_caller]
fn hot(room: &str, things: &[&str], expected: bool, lacks: &[&str]) {
    for region in ["us", "ca", "gb", "eu", "au"] {
        let text = closet(region, room, things);
        let expected = if expected { vec![("closet".to_owned(), Fault)] } else { vec![] };
        assert_eq!(found(&text, HOT), expected, "{text}");
        assert_eq!(gaps(&text, HOT), lacks, "{text}");
    }
}

/// 400 W and 10 K: common practice, no source.
#[test]
fn a_closet_that_keeps_its_heat() {
    let rack = |watts: &str| format!("rack: {{kind: rack, @, load: {watts}}}");
    hot("cooled: no", &[&rack("400 W")], false, &[]);
    hot("cooled: no", &[&rack("401 W")], true, &[]);
    hot("cooled: yes", &[&rack("9 kW")], false, &[]);
    hot("kind: utility", &[&rack("9 kW")], false, &["cooled of closet"]);
    hot("cooled: perhaps", &[&rack("9 kW")], false, &[]);
    // Air at 20 °C: 1.751 CFM K/W (computed; usual 1.76), so 500 W and 10 K want 87.6 CFM or 148.8 m3/h.
    for (exhaust, expected) in [("87.7 CFM", false), ("87.4 CFM", true), ("148.9 m3/h", false), ("148.5 m3/h", true), ("0 CFM", true)] {
        hot(&format!("cooled: no, exhaust: {exhaust}"), &[&rack("500 W")], expected, &[]);
    }
    hot("cooled: no, exhaust: much", &[&rack("500 W")], false, &[]);
}

#[test]
fn what_warms_a_closet() {
    let rack = "rack: {kind: rack, @}";
    // Members and whatever else stands there; what stands elsewhere does not.
    let amp = "amp: {kind: amplifier, in: rack, load: 300 W}";
    hot("cooled: no", &[rack, amp, "ups: {kind: appliance, @, load: 90 W}"], false, &[]);
    hot("cooled: no", &[rack, amp, "ups: {kind: appliance, @, load: 110 W}"], true, &[]);
    hot("cooled: no", &[rack, amp, "ups: {kind: appliance, room: den, load: 990 W}"], false, &[]);
    // The load of a rack counts what stands in it.
    hot("cooled: no", &["rack: {kind: rack, @, load: 350 W}", amp], false, &[]);
    // A missing load: what is known may be too much already.
    let source = "source: {kind: source, in: rack}";
    hot("cooled: no", &[rack, amp, source], false, &["load of source"]);
    hot("cooled: no", &[rack, "amp: {kind: amplifier, in: rack, load: 600 W}", source], true, &[]);
    hot("cooled: no, exhaust: 300 CFM", &[rack, "amp: {kind: amplifier, in: rack, load: 600 W}", source], false, &["load of source"]);
    hot("cooled: no", &[rack], false, &["load of rack"]);
    // No rack, no closet of racks.
    hot("cooled: no", &["oven: {kind: appliance, @, load: 3 kW}"], false, &[]);
    hot("cooled: no", &["rack: {@, load: 900 W}"], false, &["kind of rack"]);
    hot("cooled: no", &["rack: {kind: rack, load: 900 W}"], false, &["room of rack"]);
}

#[test]
fn a_fan_is_sized_in_the_units_of_the_region() {
    for (region, exhaust) in [("us", "exhaust: 160 CFM"), ("gb", "exhaust: 270 m3/h")] {
        let after = edited(&closet(region, "cooled: no", &["rack: {kind: rack, @, load: 900 W}"]), HOT);
        assert!(after.contains(exhaust), "{after}");
        assert_eq!(found(&after, HOT), []);
    }
}
