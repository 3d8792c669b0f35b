//! Every value points at the text that it was read from.

use std::fmt::Write as _;

use nailplate::plan::{Field, Plan, Stated, Thing};
use nailplate::units::{Dimension, Measured};
use nailplate::yaml::{Sources, Span};
use proptest::prelude::*;

use super::{Read, SAMPLE, read};

/// How a generated plan is laid out.
#[derive(Debug, Clone, Copy)]
struct Layout {
    flow: bool,
    quote: usize,
    comment: bool,
    end: usize,
    mark: bool,
}

fn layout() -> impl Strategy<Value = Layout> {
    (
        any::<bool>(),
        0usize..3,
        any::<bool>(),
        0usize..3,
        any::<bool>(),
    )
        .prop_map(|(flow, quote, comment, end, mark)| Layout {
            flow,
            quote,
            comment,
            end,
            mark,
        })
}

impl Layout {
    fn scalar(self, text: &str) -> String {
        match self.quote {
            0 => text.to_owned(),
            1 => format!("\"{text}\""),
            _ => format!("'{text}'"),
        }
    }

    fn entry(self, out: &mut String, id: &str, keys: &[(&str, String)]) {
        let comment = if self.comment {
            "  # {ein: Kommentar}"
        } else {
            ""
        };
        if self.flow {
            let keys: Vec<_> = keys
                .iter()
                .map(|(key, value)| format!("{key}: {value}"))
                .collect();
            let _ = writeln!(out, "  {id}: {{{}}}{comment}", keys.join(", "));
        } else {
            let _ = writeln!(out, "  {id}:{comment}");
            for (key, value) in keys {
                let _ = writeln!(out, "    {key}: {value}{comment}");
            }
        }
    }

    fn finish(self, text: &str) -> String {
        let end = ["\n", "\r\n", "\r"][self.end];
        let mark = if self.mark { "\u{feff}" } else { "" };
        format!("{mark}{}", text.replace('\n', end))
    }
}

/// Length in hundredths, unit, tie: one run of a generated plan.
type Pull = (u32, usize, u32, bool);

fn plan_text(layout: Layout, pulls: &[Pull], names: &[String]) -> String {
    let mut text = String::from("nailplate: 1\nregion: us\nstock:\n");
    layout.entry(
        &mut text,
        "spk",
        &[
            ("for", layout.scalar("speaker")),
            ("cores", layout.scalar("8 x 12 AWG")),
        ],
    );
    text += "endpoints:\n";
    layout.entry(
        &mut text,
        "rack",
        &[
            ("kind", layout.scalar("rack")),
            ("load", layout.scalar("900 W")),
        ],
    );
    for (index, name) in names.iter().enumerate() {
        let at = format!(
            "[{}, {}, {}]",
            layout.scalar("1 ft"),
            layout.scalar("2.5 m"),
            layout.scalar("30 in")
        );
        layout.entry(
            &mut text,
            &format!("{name}{index}"),
            &[("kind", layout.scalar("speaker")), ("at", at)],
        );
    }
    text += "runs:\n";
    for (index, (length, unit, tie, spare)) in pulls.iter().enumerate() {
        let to = index % names.len();
        let length = format!(
            "{}.{:02} {}",
            length / 100,
            length % 100,
            ["ft", "m", "yd", "in"][unit % 4]
        );
        let keys = [
            ("from", layout.scalar("rack")),
            ("to", layout.scalar(&format!("{}{to}", names[to]))),
            ("stock", layout.scalar("spk")),
            ("length", layout.scalar(&length)),
            ("tie", layout.scalar(&(1 + tie % 4).to_string())),
            ("spare", layout.scalar(if *spare { "yes" } else { "no" })),
        ];
        layout.entry(&mut text, &format!("R{index}"), &keys);
    }
    layout.finish(&text)
}

/// The text at a place, without its quotes.
fn bare(sources: &Sources, span: Span) -> &str {
    let text = sources.slice(sources.spots(span).0);
    let quoted = text.len() >= 2
        && (text.starts_with('"') && text.ends_with('"')
            || text.starts_with('\'') && text.ends_with('\''));
    if quoted {
        &text[1..text.len() - 1]
    } else {
        text
    }
}

fn check_words<T: std::fmt::Display>(read: &Read, field: &Field<T>) {
    if let Some(stated) = field.stated() {
        assert_eq!(bare(&read.sources, stated.span), stated.value.to_string());
    }
}

fn check_measured<D: Dimension>(
    read: &Read,
    stated: Option<&Stated<impl std::ops::Deref<Target = Measured<D>>>>,
) {
    let Some(stated) = stated else { return };
    let again = Measured::<D>::parse(bare(&read.sources, stated.span));
    assert_eq!(
        again,
        Ok(*stated.value),
        "{}",
        bare(&read.sources, stated.span)
    );
}

fn check_thing(read: &Read, plan: &Plan, thing: Option<(Thing, Span)>) {
    if let Some((thing, span)) = thing {
        assert_eq!(bare(&read.sources, span), plan.id(thing).as_str());
    }
}

macro_rules! check_refs {
    ($read:expr, $($field:expr),*) => {
        $(check_thing($read, &$read.plan, $field.stated().map(|stated| (stated.value.thing, stated.span)));)*
    };
}

fn check(read: &Read) -> usize {
    let plan = &read.plan;
    let mut values = 0;
    for run in &plan.runs {
        assert_eq!(bare(&read.sources, run.span), run.id.as_str());
        check_refs!(read, run.from, run.to, run.stock);
        check_measured(read, run.length.stated());
        for through in run.through.value().into_iter().flat_map(|list| list.iter()) {
            check_thing(read, plan, Some((through.value.thing, through.span)));
        }
        if let Some(tie) = run.tie.stated() {
            assert_eq!(bare(&read.sources, tie.span), tie.0.to_string());
        }
        if let Some(spare) = run.spare.stated() {
            assert_eq!(
                bare(&read.sources, spare.span),
                if spare.0 { "yes" } else { "no" }
            );
        }
        check_words(read, &run.carries);
        values += 6;
    }
    for endpoint in &plan.endpoints {
        assert_eq!(bare(&read.sources, endpoint.span), endpoint.id.as_str());
        check_words(read, &endpoint.kind);
        check_words(read, &endpoint.place);
        check_measured(read, endpoint.load.stated());
        check_refs!(read, endpoint.room, endpoint.within);
        if let Some(at) = endpoint.at.stated() {
            let inner = bare(&read.sources, at.span)
                .strip_prefix('[')
                .and_then(|text| text.strip_suffix(']'));
            let axes: Vec<_> = inner
                .expect("a point is a list")
                .split(',')
                .map(|axis| axis.trim().trim_matches(['"', '\'']))
                .collect();
            for (text, axis) in axes.iter().zip(at.value.0) {
                assert_eq!(Measured::parse(text), Ok(*axis));
            }
        }
        values += 5;
    }
    for stock in &plan.stock {
        assert_eq!(bare(&read.sources, stock.span), stock.id.as_str());
        check_words(read, &stock.service);
        check_words(read, &stock.grade);
        // The size of an earthing conductor is read and not kept.
        if let Some(cores) = stock.cores.stated() {
            let text = bare(&read.sources, cores.span);
            assert_eq!(
                text.split(" + ").next(),
                cores.to_string().split(" + ").next()
            );
            assert_eq!(text.ends_with("earth"), cores.earth);
        }
        values += 4;
    }
    for room in &plan.rooms {
        assert_eq!(bare(&read.sources, room.span), room.id.as_str());
    }
    for circuit in &plan.circuits {
        check_measured(read, circuit.breaker.stated());
        check_measured(read, circuit.volts.stated());
    }
    values
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn generated_plans(
        layout in layout(),
        pulls in prop::collection::vec((1u32..100_000, 0usize..4, 0u32..4, any::<bool>()), 0..12),
        names in prop::collection::vec("[a-zäöü書]{1,6}", 1..4),
    ) {
        let text = plan_text(layout, &pulls, &names);
        let text = if pulls.is_empty() { text.replace("runs:", "notes: none") } else { text };
        let read = read(&text);
        prop_assert!(read.findings.is_empty(), "{}{text}", read.says());
        prop_assert_eq!(read.plan.runs.len(), pulls.len());
        for (run, pull) in read.plan.runs.iter().zip(&pulls) {
            let length = run.length.value().expect("a length");
            prop_assert!((length.number() * 100.0 - f64::from(pull.0)).abs() < 1e-6);
            prop_assert_eq!(run.spare.value().map(|spare| spare.0), Some(pull.3));
        }
        check(&read);
    }
}

#[test]
fn the_shipped_house() {
    assert!(check(&read(SAMPLE)) > 100);
}
