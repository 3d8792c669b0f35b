//! Very many things of one kind: what is kept, shared or bounded says the same as for few.

use std::fmt::Write as _;
use std::path::Path;

use nailplate::house::House;
use nailplate::plan;
use nailplate::yaml::{Lines, Sources};

use super::{Shelf, edited, found, gaps, reviewed};

const HEAD: &str = "nailplate: 1\nregion: us\nrooms:\n  den: {kind: room}\n";

/// Circuits that feed one chain of lights, each at a link of its own.
fn chain(links: usize) -> String {
    let (mut circuits, mut ends, mut runs) = (String::new(), String::new(), String::new());
    for n in 0..links {
        let _ = writeln!(circuits, "  C{n}: {{breaker: 20 A, volts: 120 V}}");
        let _ = writeln!(ends, "  e{n}: {{kind: light, room: den, load: 10 W}}");
        let _ = writeln!(runs, "  q{n}: {{from: C{n}, to: e{n}, stock: nm}}");
        if n > 0 {
            let _ = writeln!(runs, "  r{n}: {{from: e{}, to: e{n}, stock: nm}}", n - 1);
        }
    }
    format!(
        "{HEAD}stock:\n  nm: {{for: power}}\ncircuits:\n{circuits}endpoints:\n{ends}runs:\n{runs}"
    )
}

#[test]
fn trees_are_the_same_whether_kept_or_walked() {
    const LINKS: usize = 30;
    let mut sources = Sources::default();
    let (file, _) = sources.add(Path::new("case.plan.yaml"), chain(LINKS));
    let (plan, _) = plan::read(&mut sources, file, &Shelf);
    let house = House::build(&plan, &sources);
    for circuit in 0..LINKS {
        let tree = house.tree(circuit);
        let ends: Vec<_> = tree.iter().filter_map(|at| at.node.endpoint()).collect();
        assert_eq!(ends, (circuit..LINKS).collect::<Vec<_>>());
        let before: Vec<_> = tree.iter().map(|at| at.before).collect();
        let expected: Vec<_> = (0..ends.len()).map(|at| at.checked_sub(1)).collect();
        assert_eq!(before, expected);
        let names = house.runs_below(circuit);
        let names: Vec<_> = names
            .iter()
            .map(|run| plan.runs[*run].id.as_str())
            .collect();
        let more = (circuit + 1..LINKS).map(|n| format!("r{n}"));
        let expected: Vec<_> = std::iter::once(format!("q{circuit}")).chain(more).collect();
        assert_eq!(names, expected);
    }
}

/// What a run lacks is told once, not once for each circuit that feeds it.
#[test]
fn a_run_that_many_circuits_feed_is_one_gap() {
    let runs = (0..30).chain(1..30).count();
    let lacks = gaps(&chain(30), "power.breaker-over-wire");
    assert_eq!(lacks, vec!["cores of nm"; runs]);
}

/// Where two feeds meet, each takes half: the first circuit carries all of its own light, half of the
/// next and a quarter of the third, 10 W × (1 + 1/2 + 1/4).
#[test]
fn a_circuit_carries_its_share_of_what_several_feed() {
    let mut sources = Sources::default();
    let (file, _) = sources.add(Path::new("case.plan.yaml"), chain(3));
    let (plan, _) = plan::read(&mut sources, file, &Shelf);
    let house = House::build(&plan, &sources);
    let carried = |circuit| house.carried(circuit).expect("its volts are stated");
    let watts = |circuit| {
        let watts = |load: &nailplate::house::CarriedLoad| load.load.power.base() * load.load.share;
        carried(circuit).iter().map(watts).sum::<f64>()
    };
    assert_eq!([watts(0), watts(1), watts(2)], [17.5, 7.5, 5.0]);
}

#[test]
fn a_long_line_of_speakers_is_named_once_each() {
    let (mut ends, mut runs) = (String::new(), String::new());
    for n in 0..40 {
        let from = if n == 0 {
            "amp".to_owned()
        } else {
            format!("e{}", n - 1)
        };
        let _ = writeln!(ends, "  e{n}: {{kind: wall-plate}}");
        let _ = writeln!(
            runs,
            "  r{n}: {{from: {from}, to: e{n}, stock: cat, length: 20 m}}"
        );
    }
    let text = format!(
        "{HEAD}stock:\n  cat: {{for: data, grade: cat6a}}\nendpoints:\n  amp: {{kind: switch}}\n{ends}runs:\n{runs}"
    );
    let review = reviewed(&text, "data.over-length");
    let [finding] = &review.findings[..] else {
        panic!("one channel, {} findings", review.findings.len());
    };
    let on: Vec<_> = finding.on.iter().map(|id| id.as_str().to_owned()).collect();
    let expected: Vec<_> = (0..40).map(|n| format!("r{n}")).collect();
    assert_eq!(on[..40], expected[..]);
}

/// A plate of so many runs does not tell which of them are of the speaker beside it.
#[test]
fn runs_at_a_crowded_plate_are_a_gap() {
    let plan = |runs: usize| {
        let runs = (0..runs).fold(String::new(), |all, n| {
            all + &format!("  r{n}: {{from: amp, to: plate, stock: two}}\n")
        });
        format!(
            "{HEAD}stock:\n  two: {{for: speaker, cores: 2 x 14 AWG}}\nendpoints:\n  amp: {{kind: amplifier}}\n  plate: {{kind: wall-plate}}\n  left: {{kind: speaker, room: den, place: left, beside: plate}}\nruns:\n{runs}"
        )
    };
    const CORES: &str = "speaker.few-cores";
    assert_eq!(gaps(&plan(64), CORES), [""; 0]);
    assert_eq!(found(&plan(64), CORES).len(), 1);
    assert_eq!(gaps(&plan(65), CORES), ["which runs at plate are of left"]);
    assert_eq!(found(&plan(65), CORES), []);
}

/// Holes of one wall, every third of them guarded: each of the others is to be guarded in its own entry.
#[test]
fn each_hole_of_many_is_guarded_in_its_own_entry() {
    const BARE: &str = "pathway.unguarded";
    let wall = |plate: &str| {
        let holes = (0..300).fold(String::new(), |all, n| {
            let plate = if n % 3 == 0 { ", guarded: yes" } else { plate };
            all + &format!("      - {{member: stud, edge: 1 in{plate}}}\n")
        });
        format!(
            "{HEAD}stock:\n  nm: {{for: power}}\npathways:\n  w:\n    kind: wall\n    framing:\n{holes}endpoints:\n  a: {{kind: rack}}\n  b: {{kind: light}}\nruns:\n  r: {{from: a, to: b, stock: nm, through: w}}\n"
        )
    };
    assert_eq!(found(&wall(""), BARE).len(), 200);
    assert_eq!(edited(&wall(""), BARE), wall(", guarded: yes"));
}

#[test]
fn columns_of_a_long_line_are_counted_as_of_a_short_one() {
    let text =
        "\u{feff}a: ü\n".to_owned() + &"x書\u{feff}é😀".repeat(1500) + "\r\nlast: \u{feff}書";
    let lines = Lines::of(&text);
    for (byte, _) in text.char_indices().chain([(text.len(), ' ')]) {
        let start = text[..byte].rfind('\n').map_or(0, |end| end + 1);
        // The mark before the text has no column; inside of it it is a character like others.
        let before = text[start..byte]
            .trim_start_matches(|c| start == 0 && c == '\u{feff}')
            .chars()
            .count();
        let found = lines.position(byte, &text);
        assert_eq!((found.byte, found.column), (byte, before + 1));
    }
}
