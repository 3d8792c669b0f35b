//! Subwoofers and motors that nothing reaches, and media rooms with one subwoofer place. No published numbers:
//! common practice.

use super::{found, gaps, reviewed};
use nailplate::findings::Level::{Advice, Fault};

const LINE: &str = "line.no-line";
const ONE: &str = "line.one-subwoofer";
const MOTOR: &str = "control.no-line";

fn plan(endpoints: &[&str], runs: &[&str]) -> String {
    let list = |lines: &[&str]| lines.iter().map(|line| format!("  {line}\n")).collect::<String>();
    format!(
        "nailplate: 1\nregion: gb\nrooms:\n  media: {{floor: 0}}\n  den: {{floor: 0}}\ncircuits:\n  C1: {{breaker: 16 A}}\n\
         stock:\n  mic: {{for: line, balanced: yes}}\n  spk: {{for: speaker}}\n  cat6: {{for: data}}\n  relay: {{for: control}}\n  twin: {{for: power}}\n  what: {{rating: CM}}\n\
         endpoints:\n  rack: {{kind: rack}}\n{}runs:\n{}",
        list(endpoints),
        list(runs),
    )
}

/// Things found and lacks, of a plan.
fn both(rule: &str, endpoints: &[&str], runs: &[&str]) -> (Vec<String>, Vec<String>) {
    let text = plan(endpoints, runs);
    (found(&text, rule).into_iter().map(|(on, _)| on).collect(), gaps(&text, rule))
}

#[track_caller]
fn check(rule: &str, endpoints: &[&str], runs: &[&str], on: &[&str], lacks: &[&str]) {
    let owned = |list: &[&str]| list.iter().map(|item| (*item).to_owned()).collect::<Vec<_>>();
    assert_eq!(both(rule, endpoints, runs), (owned(on), owned(lacks)), "{endpoints:?} {runs:?}");
}

#[test]
fn a_line_to_what_has_an_amplifier() {
    let sub = &["sub: {kind: subwoofer}"][..];
    check(LINE, sub, &[], &["sub"], &[]);
    check(LINE, sub, &["L1: {from: rack, to: sub, stock: mic}"], &[], &[]);
    check(LINE, sub, &["D1: {from: sub, to: rack, stock: cat6}"], &[], &[]);
    check(LINE, sub, &["D1: {from: rack, to: sub, stock: cat6, carries: line}"], &[], &[]);
    check(LINE, sub, &["L1: {from: rack, to: sub, stock: mic, spare: yes}"], &["sub"], &[]);
    check(LINE, sub, &["S1: {from: rack, to: sub, stock: spk}"], &["sub"], &[]);
    check(LINE, sub, &["L1: {from: rack, to: sub, stock: what}"], &[], &["`for` of what"]);
    check(LINE, sub, &["L1: {from: rack, to: sub}"], &[], &["stock of L1"]);
    check(LINE, &["sub: {kind: subwoofer, active: yes}"], &["P1: {from: C1, to: sub, stock: twin}"], &["sub"], &[]);
    // speaker.no-line has the passive ones.
    check(LINE, &["sub: {kind: subwoofer, active: no}"], &[], &[], &[]);
    check(LINE, &["sub: {kind: subwoofer, active: perhaps}"], &[], &[], &[]);
    check(LINE, &["left: {kind: speaker}"], &[], &[], &[]);
    check(LINE, &["left: {kind: speaker, active: yes}"], &[], &["left"], &[]);
    // By a plate beside it, or by what stands in it.
    check(LINE, &["plate: {kind: wall-plate}", "sub: {kind: subwoofer, beside: plate}"], &["L1: {from: rack, to: plate, stock: mic}"], &[], &[]);
    check(LINE, &["sub: {kind: subwoofer}", "in1: {kind: amplifier, in: sub}"], &["L1: {from: rack, to: in1, stock: mic}"], &[], &[]);
    check(LINE, &["odd: {load: 5 W}"], &[], &[], &["kind of odd"]);
    check(LINE, &["odd: {load: 5 W}"], &["L1: {from: rack, to: odd, stock: mic}"], &[], &[]);
    check(LINE, &["odd: {active: no}"], &[], &[], &[]);
    assert_eq!(found(&plan(sub, &[]), LINE), [("sub".into(), Fault)]);
    let says = |runs: &[&str]| reviewed(&plan(sub, runs), LINE).findings[0].says.clone();
    assert_eq!(says(&["S1: {from: rack, to: sub, stock: spk}"]), "sub has an amplifier of its own and no line run, only the speaker run S1");
}

#[test]
fn two_places_for_subwoofers() {
    let one = &["sub: {kind: subwoofer, room: media}"][..];
    let two = &["sub: {kind: subwoofer, room: media}", "rear: {kind: subwoofer, room: media}"][..];
    let lines = &["L1: {from: rack, to: sub, stock: mic}", "L2: {from: rack, to: rear, stock: mic}"][..];
    check(ONE, one, &lines[..1], &["sub"], &[]);
    check(ONE, two, lines, &[], &[]);
    check(ONE, two, &lines[..1], &["sub"], &[]);
    check(ONE, two, &[], &["sub"], &[]);
    check(ONE, two, &["L1: {from: rack, to: sub, stock: mic}", "L2: {from: rack, to: rear, stock: what}"], &[], &["`for` of what"]);
    // A passive one lives off a speaker run.
    let passive = &["sub: {kind: subwoofer, room: media}", "rear: {kind: subwoofer, room: media, active: no}"][..];
    check(ONE, passive, &["L1: {from: rack, to: sub, stock: mic}", "S1: {from: rack, to: rear, stock: spk}"], &[], &[]);
    check(ONE, passive, lines, &["sub"], &[]);
    // A plate made ready, by a spare too; not the one that the subwoofer itself is beside, nor one that is passed.
    let plate = |more: &'static str| ["sub: {kind: subwoofer, room: media}", more];
    check(ONE, &plate("at: {kind: wall-plate, room: media}"), &["L1: {from: rack, to: sub, stock: mic}", "L2: {from: rack, to: at, stock: mic, spare: yes}"], &[], &[]);
    check(ONE, &plate("at: {kind: wall-plate, room: media, beside: sub}"), &["L2: {from: rack, to: at, stock: mic}"], &["sub"], &[]);
    check(ONE, &plate("at: {kind: wall-plate, room: media}"), &["L1: {from: rack, to: at, stock: mic}", "L2: {from: at, to: sub, stock: mic}"], &["sub"], &[]);
    check(ONE, &plate("at: {kind: wall-plate, room: den}"), &["L1: {from: rack, to: sub, stock: mic}", "L2: {from: rack, to: at, stock: mic}"], &["sub"], &[]);
    // Only rooms for films.
    check(ONE, &["side: {kind: speaker, room: media, place: surround-left}"], &[], &["side"], &[]);
    check(ONE, &["top: {kind: speaker, room: media, place: overhead-rear-left}"], &[], &["top"], &[]);
    check(ONE, &["left: {kind: speaker, room: media, place: left}"], &[], &[], &[]);
    // Each room for itself.
    let apart = &["sub: {kind: subwoofer, room: media}", "rear: {kind: subwoofer, room: den}"];
    check(ONE, apart, lines, &["sub", "rear"], &[]);
    // No rooms: one place is too few wherever it is; two may be in two rooms.
    check(ONE, &["sub: {kind: subwoofer}"], &lines[..1], &["sub"], &[]);
    check(ONE, &["sub: {kind: subwoofer}", "rear: {kind: subwoofer}"], lines, &[], &["room of sub"]);
    check(ONE, &["sub: {kind: subwoofer, room: media}", "rear: {kind: subwoofer}"], lines, &[], &["room of rear", "room of rear"]);
    check(ONE, &["odd: {room: media}"], &["L1: {from: rack, to: odd, stock: mic}"], &[], &["kind of odd"]);
    check(ONE, &["odd: {room: media}"], &[], &[], &[]);
    assert_eq!(found(&plan(one, &[]), ONE), [("sub".into(), Advice)]);
    let says = |text: &str| reviewed(text, ONE).findings[0].says.clone();
    assert_eq!(says(&plan(one, &lines[..1])), "media has 1 place wired for a subwoofer, advised are 2");
}

#[test]
fn power_or_control_to_a_motor() {
    let motor = &["m: {kind: motor}"][..];
    check(MOTOR, motor, &[], &["m"], &[]);
    check(MOTOR, motor, &["P1: {from: C1, to: m, stock: twin}"], &[], &[]);
    check(MOTOR, motor, &["K1: {from: rack, to: m, stock: relay}"], &[], &[]);
    check(MOTOR, motor, &["D1: {from: rack, to: m, stock: cat6}"], &[], &[]);
    check(MOTOR, motor, &["S1: {from: rack, to: m, stock: spk}"], &["m"], &[]);
    check(MOTOR, motor, &["K1: {from: rack, to: m, stock: relay, spare: yes}"], &["m"], &[]);
    check(MOTOR, motor, &["K1: {from: rack, to: m, stock: what}"], &[], &["`for` of what"]);
    check(MOTOR, &["o: {kind: outlet}", "m: {kind: motor, at-outlet: o}"], &[], &[], &[]);
    check(MOTOR, &["o: {kind: outlet}", "m: {kind: motor, beside: o}"], &["P1: {from: C1, to: o, stock: twin}"], &[], &[]);
    // A screen and its motor are one thing, whichever of them the run ends at.
    let within = &["s: {kind: screen}", "m: {kind: motor, in: s}"][..];
    check(MOTOR, within, &[], &["m"], &[]);
    check(MOTOR, within, &["K1: {from: rack, to: s, stock: relay}"], &[], &[]);
    check(MOTOR, &["s: {kind: screen, beside: m}", "m: {kind: motor}"], &["P1: {from: C1, to: s, stock: twin}"], &[], &[]);
    // A screen with a load has its motor inside; one without is fixed.
    check(MOTOR, &["s: {kind: screen, load: 150 W}"], &[], &["s"], &[]);
    check(MOTOR, &["s: {kind: screen}"], &[], &[], &[]);
    check(MOTOR, &["odd: {room: den}"], &[], &[], &["kind of odd"]);
    assert_eq!(found(&plan(motor, &[]), MOTOR), [("m".into(), Advice)]);
    assert_eq!(reviewed(&plan(within, &[]), MOTOR).findings[0].on.len(), 2);
}
