//! Texts that mean harm, or none at all: reading ends, and ends with an answer.

use proptest::prelude::*;

use super::{SAMPLE, SHELF, read, read_with};

const HEAD: &str = "nailplate: 1\nregion: us\n";

/// `read_with` holds every answer against what has to be true of all.
fn ends(text: &str) -> bool {
    read_with(text, &SHELF).is_ok()
}

#[test]
fn a_plan_cut_off_anywhere() {
    let mut read = 0;
    for (at, _) in SAMPLE.char_indices() {
        read += usize::from(ends(&SAMPLE[..at]));
    }
    assert!(read > 100, "many a beginning of a plan is a plan");
}

#[test]
fn a_plan_with_a_piece_missing_at_its_start() {
    for (at, _) in SAMPLE.char_indices().step_by(7) {
        ends(&SAMPLE[at..]);
    }
}

/// Signs that mean something to YAML or to the plan language.
const SIGNS: &str = " \n\r\t:,-{}[]&*!|>'\"#%@`?~<=.0123456789xfeé€😀\u{feff}\u{0}\u{85}\u{2028}";

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_plan_with_signs_changed(changes in prop::collection::vec((0..SAMPLE.len(), 0usize..3, 0usize..48), 1..8)) {
        let mut text = SAMPLE.to_owned();
        let signs: Vec<char> = SIGNS.chars().collect();
        for (at, what, sign) in changes {
            let mut at = at.min(text.len());
            while !text.is_char_boundary(at) {
                at -= 1;
            }
            match what {
                0 => text.insert(at, signs[sign % signs.len()]),
                1 if at < text.len() => drop(text.remove(at)),
                _ => {
                    let end = text[at..].find('\n').map_or(text.len(), |end| at + end);
                    text.replace_range(at..end, &signs[sign % signs.len()].to_string());
                }
            }
        }
        ends(&text);
    }

    #[test]
    fn no_plan_at_all(text in "[ \n:,\\-{}\\[\\]&*a-c|>'\"#?~<!0-2é]{0,60}") {
        ends(&text);
        ends(&format!("{HEAD}rooms: {{a: &a {{floor: 1}}}}\nendpoints: {text}"));
    }
}

/// Ten aliases of ten aliases of ten …: `levels` deep.
fn bomb(levels: usize, merge: &str) -> String {
    let mut text = format!("{HEAD}notes:\n  - &l0 {{a0: {{}}, b0: {{}}}}\n");
    for level in 1..=levels {
        let before = vec![format!("*l{}", level - 1); 10].join(", ");
        text += &format!("  - &l{level} {{a{level}: {{}}, <<: [{before}]}}\n");
    }
    format!("{text}{merge}")
}

#[test]
fn aliases_that_unfold_without_end() {
    for section in [
        "rooms: {<<: *l7}\n",
        "stock: {a: {<<: *l7}}\n",
        "rooms: *l7\n",
        "<<: *l7\n",
        "endpoints: {a: *l7, b: *l7}\n",
    ] {
        let read = read(&bomb(7, section));
        let stopped = read
            .findings
            .iter()
            .filter(|f| f.rule == "plan.too-many-aliases")
            .count();
        assert_eq!(stopped, 1, "{section}{}", read.says());
    }
}

/// Names that are known and things that were read are the same, wherever the aliases ran out.
#[test]
fn a_reference_into_what_was_not_read() {
    let text = bomb(
        7,
        "stock: {a: {<<: *l7}}\nendpoints: &e {x: {}, y: {}}\nruns: &r {R1: {from: x, to: y}}\n",
    );
    let aliased = text
        .replace("endpoints: &e {", "building: &e {")
        .replace("runs: &r", "endpoints: *e\nruns: &r");
    for text in [text, aliased] {
        let read = read(&text);
        for run in &read.plan.runs {
            for end in [run.from.value(), run.to.value()].into_iter().flatten() {
                assert!(!read.plan.id(end.thing).as_str().is_empty());
            }
        }
        assert_eq!(read.plan.runs.len(), 1);
    }
}

#[test]
fn things_that_hold_themselves() {
    for text in [
        "stock: {a: &a {for: data, <<: *a}}",
        "rooms: &r {<<: *r, x: *r}",
        "notes: &n [*n]",
        "catalogue: &c [*c]",
        "endpoints: {a: &a {in: *a}}",
        "runs: &r {R: {from: *r, to: *r, beside: *r}}",
        "&a title: *a",
    ] {
        ends(&format!("{HEAD}{text}\n"));
    }
}

#[test]
fn very_many_of_everything() {
    let many =
        |count: usize, one: &dyn Fn(usize) -> String| (0..count).map(one).collect::<String>();
    let aliases = many(100_000, &|n| format!("  r{n}: {{size: *s}}\n"));
    let read_aliases = read(&format!(
        "{HEAD}rooms:\n  m: {{size: &s [22 ft, 15 ft, 9]}}\n{aliases}"
    ));
    assert_eq!(
        read_aliases.findings.len(),
        1,
        "a mistake behind an anchor is told once"
    );
    let merges = vec!["*a"; 100_000].join(", ");
    assert_eq!(
        read(&format!(
            "{HEAD}stock:\n  a: &a {{for: data}}\n  b: {{<<: [{merges}]}}\n"
        ))
        .findings
        .len(),
        0
    );
    let twice = many(20_000, &|_| "    floor: 1\n".into());
    assert_eq!(
        read(&format!("{HEAD}rooms:\n  m:\n{twice}")).findings.len(),
        19_999
    );
    let unknown = many(20_000, &|n| format!("    flor{n}: 1\n"));
    assert_eq!(
        read(&format!("{HEAD}rooms:\n  m:\n{unknown}"))
            .findings
            .len(),
        20_000
    );
    let wrong = many(20_000, &|n| format!("  e{n}: {{room: medai{n}}}\n"));
    assert_eq!(
        read(&format!(
            "{HEAD}rooms: {{media: {{}}}}\nendpoints:\n{wrong}"
        ))
        .findings
        .len(),
        20_000
    );
    let circle = many(20_000, &|n| {
        format!("  e{n}: {{in: e{}}}\n", (n + 1) % 20_000)
    });
    assert_eq!(
        read(&format!("{HEAD}endpoints:\n{circle}")).findings.len(),
        1
    );
    let catalogues = many(5_000, &|n| format!("  - lost{n}.yaml\n"));
    assert_eq!(
        read(&format!("{HEAD}catalogue:\n{catalogues}"))
            .findings
            .len(),
        5_000
    );
}

#[test]
fn very_long_and_very_deep() {
    let long = "9".repeat(1_000_000);
    let read = read(&format!(
        "{HEAD}title: {long}\nrooms: {{a: {{size: [{long} ft, {long}, x{long}], floor: {long}}}}}\n"
    ));
    assert_eq!(read.findings.len(), 4, "{}", read.says());
    assert!(read.findings.iter().all(|finding| finding.says.len() < 300
        && finding.put_right.as_ref().is_none_or(|t| t.len() < 300)));
    let sides = vec!["1 in"; 100_000].join(" x ");
    ends(&format!(
        "{HEAD}stock: {{a: {{head: {sides}, diameter: {sides}, cores: {sides}}}}}\n"
    ));
    for deep in [
        "[".repeat(100_000),
        "{a: ".repeat(100_000),
        "- ".repeat(100_000),
    ] {
        assert!(!ends(&format!("a: {deep}")) || deep.starts_with('-'));
    }
    let steps: String = (0..2000)
        .map(|n| format!("{}a:\n", " ".repeat(n)))
        .collect();
    assert!(!ends(&steps));
}
