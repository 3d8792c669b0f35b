//! Data outlets, the rack's lines, displays, the panel's room. No published numbers: common practice, and
//! TIA-570's star.

use super::{found, gaps, reviewed};
use nailplate::findings::Level::{Advice, Fault};

const HOME: &str = "data.not-home-run";
const RACK: &str = "data.rack-lines-few";
const DISPLAY: &str = "data.display-line-missing";
const PANEL: &str = "data.panel-uncooled";

fn plan(region: &str, endpoints: &[&str], runs: &[&str]) -> String {
    let list = |lines: &[&str]| lines.iter().map(|line| format!("  {line}\n")).collect::<String>();
    format!(
        "nailplate: 1\nregion: {region}\nrooms:\n  warm: {{cooled: no}}\n  cool: {{cooled: yes}}\n  aired: {{cooled: no, exhaust: 60 CFM}}\n  still: {{cooled: no, exhaust: 0 CFM}}\n  vague: {{floor: 0}}\n\
         stock:\n  cat6: {{for: data, grade: cat6}}\n  relay: {{for: control}}\n  glass: {{for: fibre}}\n  spk: {{for: speaker}}\n  what: {{rating: CM}}\n\
         endpoints:\n{}runs:\n{}",
        list(endpoints),
        list(runs),
    )
}

const HOUSE: &[&str] = &[
    "panel: {kind: distribution}",
    "rack: {kind: rack}",
    "patch: {kind: patch-panel, in: rack}",
    "hub: {kind: switch}",
    "a: {kind: data-outlet}",
    "b: {kind: data-outlet}",
    "plate: {kind: wall-plate}",
    "bx: {kind: box}",
    "by: {kind: box}",
    "tv: {kind: display}",
    "pc: {kind: source}",
    "odd: {notes: who knows}",
];

fn house(runs: &[&str]) -> String {
    plan("us", HOUSE, runs)
}

/// Runs, and the outlets found with the run of each.
type Wiring = (&'static [&'static str], &'static [(&'static str, &'static str)]);

#[test]
fn outlets_are_a_star() {
    let cases: &[Wiring] = &[
        // From the panel, a patch panel, the rack itself, a switch; written either way round.
        (&["D1: {from: panel, to: a, stock: cat6}", "D2: {from: b, to: patch, stock: cat6}"], &[]),
        (&["D1: {from: rack, to: a, stock: cat6}", "D2: {from: hub, to: b, stock: cat6}"], &[]),
        // A device behind an outlet is no matter; an outlet behind an outlet is.
        (&["D1: {from: panel, to: a, stock: cat6}", "D2: {from: a, to: tv, stock: cat6}"], &[]),
        (&["D1: {from: panel, to: a, stock: cat6}", "D2: {from: a, to: b, stock: cat6}"], &[("b", "D2")]),
        (&["D1: {from: panel, to: a, stock: cat6}", "D2: {from: a, to: plate, stock: cat6}"], &[("plate", "D2")]),
        // A box that joins two runs is passed, in a row too.
        (&["D1: {from: panel, to: bx, stock: cat6}", "D2: {from: bx, to: by, stock: cat6}", "D3: {from: by, to: a, stock: cat6}"], &[]),
        (&["D1: {from: bx, to: a, stock: cat6}"], &[("a", "D1")]),
        (&["D1: {from: panel, to: a, stock: cat6}", "D2: {from: a, to: bx, stock: cat6}", "D3: {from: bx, to: b, stock: cat6}"], &[("b", "D3")]),
        // Of two branches and one run to the panel, the first has it; of three and two, the first two.
        (&["D1: {from: panel, to: bx, stock: cat6}", "D2: {from: bx, to: a, stock: cat6}", "D3: {from: bx, to: b, stock: cat6}"], &[("b", "bx")]),
        (
            &["D1: {from: panel, to: bx, stock: cat6}", "D2: {from: bx, to: b, stock: cat6}", "D3: {from: a, to: bx, stock: cat6}", "D4: {from: a, to: hub, stock: cat6}"],
            &[],
        ),
        (
            &["D1: {from: bx, to: panel, stock: cat6}", "D2: {from: bx, to: b, stock: cat6}", "D3: {from: a, to: bx, stock: cat6}", "D4: {from: plate, to: bx, stock: cat6}", "D5: {from: hub, to: bx, stock: cat6}"],
            &[("plate", "bx")],
        ),
        // Boxes in a circle; a run whose other end reading has reported.
        (&["D1: {from: a, to: bx, stock: cat6}", "D2: {from: bx, to: a, stock: cat6}"], &[("a", "D1")]),
        (&["D1: {from: a, to: a, stock: cat6}"], &[]),
        (&["D1: {from: cupboard, to: a, stock: cat6}"], &[]),
        // Spares are connected to nothing; a plate with nothing but a spare is no data outlet.
        (&["D1: {from: panel, to: a, stock: cat6, spare: yes}"], &[("a", "D1")]),
        (&["D1: {from: panel, to: plate, stock: cat6, spare: yes}"], &[]),
        // Not reached at all is a loose end; a plate for speakers is no data plate.
        (&["S1: {from: rack, to: plate, stock: spk}"], &[]),
        // No panel anywhere.
        (&["D1: {from: pc, to: a, stock: cat6}"], &[("a", "D1")]),
    ];
    for (runs, expected) in cases {
        let text = house(runs);
        let named: Vec<_> = reviewed(&text, HOME).findings.iter().map(|found| (found.on[0].to_string(), found.on[1].to_string(), found.level)).collect();
        let expected: Vec<_> = expected.iter().map(|(on, run)| ((*on).to_owned(), (*run).to_owned(), Fault)).collect();
        assert_eq!(named, expected, "{runs:?}");
        assert!(gaps(&text, HOME).is_empty(), "{runs:?}");
    }
    let inside = plan("gb", &["panel: {kind: distribution}", "port: {kind: data-outlet, in: panel}"], &[]);
    assert!(found(&inside, HOME).is_empty() && gaps(&inside, HOME).is_empty());
    let none = plan("gb", &["panel: {kind: distribution}"], &[]);
    assert_eq!(reviewed(&inside, HOME).checks, reviewed(&none, HOME).checks + 1);
}

#[test]
fn outlets_that_cannot_be_followed() {
    assert_eq!(gaps(&house(&["D1: {from: odd, to: a, stock: cat6}"]), HOME), ["kind of odd", "kind of odd"]);
    assert_eq!(gaps(&house(&["D1: {from: panel, to: a, stock: what}"]), HOME), ["`for` of what"]);
    assert_eq!(gaps(&house(&["D1: {from: panel, to: a}"]), HOME), ["stock of D1"]);
    let three = house(&["D1: {from: panel, to: by, stock: cat6}", "D2: {from: by, to: bx, stock: cat6}", "D3: {from: bx, to: a, stock: cat6}", "D4: {from: bx, to: b, stock: cat6}"]);
    assert_eq!(gaps(&three, HOME), ["which run goes on as which at bx", "which run goes on as which at bx"]);
    assert!(found(&three, HOME).is_empty());
    // An unread kind has been reported.
    let bad = plan("us", &["a: {kind: data-outlet}", "x: {kind: gizmo}"], &["D1: {from: x, to: a, stock: cat6}"]);
    assert!(found(&bad, HOME).is_empty() && gaps(&bad, HOME).is_empty());
}

/// Two lines at the least: common practice, no source.
#[test]
fn two_runs_to_the_rack() {
    let few = |runs: &[&str]| (found(&house(runs), RACK), gaps(&house(runs), RACK));
    let advice = vec![("rack".to_owned(), Advice)];
    let kind = vec!["kind of odd".to_owned()];
    let cases: &[(&[&str], bool, &[&str])] = &[
        (&["D1: {from: panel, to: patch, stock: cat6}", "D2: {from: panel, to: rack, stock: cat6}"], false, &[]),
        (&["D1: {from: panel, to: patch, stock: cat6}", "F1: {from: rack, to: panel, stock: glass}"], false, &[]),
        (&["D1: {from: panel, to: patch, stock: cat6}"], true, &[]),
        (&["D1: {from: panel, to: patch, stock: cat6}", "D2: {from: panel, to: patch, stock: cat6, spare: yes}"], true, &[]),
        // Those to a display serve it; those within the rack bring nothing.
        (&["D1: {from: panel, to: patch, stock: cat6}", "D2: {from: patch, to: tv, stock: cat6}"], true, &[]),
        (&["D1: {from: panel, to: patch, stock: cat6}", "D2: {from: patch, to: rack, stock: cat6}"], true, &[]),
        // Nor does an outlet that the rack feeds, with others behind it; one that a run goes on from to the panel may.
        (&["D1: {from: panel, to: patch, stock: cat6}", "D2: {from: patch, to: a, stock: cat6}", "D3: {from: a, to: b, stock: cat6}"], true, &[]),
        (&["D1: {from: panel, to: patch, stock: cat6}", "D2: {from: patch, to: bx, stock: cat6}", "D3: {from: bx, to: b, stock: cat6}"], true, &[]),
        (&["D1: {from: panel, to: patch, stock: cat6}", "D2: {from: patch, to: bx, stock: cat6}", "D3: {from: bx, to: by, stock: cat6}", "D4: {from: by, to: panel, stock: cat6}"], false, &[]),
        (&["D1: {from: panel, to: patch, stock: cat6}", "D2: {from: patch, to: a, stock: cat6}"], true, &[]),
        (&["D1: {from: panel, to: a, stock: cat6}", "D2: {from: a, to: patch, stock: cat6}", "D3: {from: panel, to: patch, stock: cat6}"], false, &[]),
        (&[], true, &[]),
        (&["D1: {from: panel, to: patch, stock: cat6}", "D2: {from: odd, to: patch, stock: cat6}"], false, &["kind of odd"]),
        (&["D1: {from: panel, to: patch, stock: cat6}", "D2: {from: panel, to: patch, stock: what}"], false, &["`for` of what"]),
        // One that is not known makes none of two.
        (&["D2: {from: odd, to: patch, stock: cat6}"], true, &[]),
    ];
    for (runs, advised, lacks) in cases {
        let lacks: Vec<String> = lacks.iter().map(|lack| (*lack).to_owned()).chain(kind.clone()).collect();
        let expected = if *advised { advice.clone() } else { vec![] };
        assert_eq!(few(runs), (expected, lacks), "{runs:?}");
    }
    for held in ["kind: router", "kind: distribution"] {
        let text = plan("eu", &["rack: {kind: rack}", &format!("held: {{{held}, in: rack}}")], &[]);
        assert!(found(&text, RACK).is_empty(), "the network starts in the rack: {held}");
    }
    // A lamp that lives off its data cable is fed.
    let lamp = plan("us", &["panel: {kind: distribution}", "rack: {kind: rack}", "lamp: {kind: light}"], &["D1: {from: panel, to: rack, stock: cat6}", "D2: {from: rack, to: lamp, stock: cat6}"]);
    assert_eq!(found(&lamp, RACK), advice);
    // Where no panel is drawn the network may come from any outlet.
    let ends = ["rack: {kind: rack}", "a: {kind: data-outlet}", "b: {kind: data-outlet}"];
    let drawn = plan("gb", &ends, &["D1: {from: a, to: rack, stock: cat6}", "D2: {from: b, to: rack, stock: cat6}"]);
    assert!(found(&drawn, RACK).is_empty());
    let two = plan("au", &["outer: {kind: rack}", "inner: {kind: rack, in: outer}"], &[]);
    assert_eq!(found(&two, RACK), [("outer".into(), Advice)]);
}

#[test]
fn a_data_run_to_each_display() {
    let run = |runs: &[&str]| (found(&house(runs), DISPLAY).len(), gaps(&house(runs), DISPLAY));
    let odd = || vec!["kind of odd".to_owned()];
    assert_eq!(run(&[]), (1, odd()));
    assert_eq!(run(&["D1: {from: panel, to: tv, stock: cat6}"]), (0, odd()));
    assert_eq!(run(&["K1: {from: rack, to: tv, stock: relay}"]), (0, odd()));
    assert_eq!(run(&["D1: {from: panel, to: tv, stock: cat6, spare: yes}"]), (1, odd()));
    assert_eq!(run(&["D1: {from: panel, to: odd, stock: cat6}"]), (1, vec![]));
    assert_eq!(run(&["D1: {from: panel, to: tv, stock: what}"]), (0, vec!["`for` of what".into(), "kind of odd".into()]));
    let beside = plan("gb", &["panel: {kind: distribution}", "port: {kind: data-outlet}", "pj: {kind: projector, beside: port}"], &["D1: {from: panel, to: port, stock: cat6}"]);
    assert!(found(&beside, DISPLAY).is_empty());
    assert_eq!(found(&plan("eu", &["pj: {kind: projector}"], &[]), DISPLAY), [("pj".into(), Advice)]);
}

#[test]
fn air_for_the_panel() {
    let run = |endpoint: &str| {
        let text = plan("us", &[endpoint], &[]);
        (found(&text, PANEL), gaps(&text, PANEL))
    };
    let advice = |on: &str| (vec![(on.to_owned(), Advice)], vec![]);
    let none = (vec![], vec![]);
    assert_eq!(run("p: {kind: distribution, room: warm}"), advice("p"));
    assert_eq!(run("p: {kind: router, room: still}"), advice("p"));
    assert_eq!(run("p: {kind: router, room: cool}"), none);
    assert_eq!(run("p: {kind: distribution, room: aired}"), none);
    assert_eq!(run("p: {kind: switch, room: warm}"), none);
    assert_eq!(run("p: {kind: router, room: vague}").1, ["cooled of vague"]);
    assert_eq!(run("p: {kind: router}").1, ["room of p"]);
    assert_eq!(run("p: {room: warm}").1, ["kind of p"]);
    assert_eq!(run("p: {room: cool}"), none);
    // By way of the rack, and once for each room.
    let rack = plan("us", &["rack: {kind: rack, room: warm}", "p: {kind: router, in: rack}"], &[]);
    assert_eq!(found(&rack, PANEL), [("p".into(), Advice)]);
    let two = plan("us", &["p: {kind: router, room: vague}", "q: {kind: distribution, room: vague}"], &[]);
    assert_eq!(gaps(&two, PANEL), ["cooled of vague"]);
}
