//! Adding a key to a mapping: the text reads back with the key in it and everything else as it was.

use std::fmt::Write as _;
use std::path::Path;

use nailplate::yaml::{
    Edit, FileId, Kind, NodeId, Source, Sources, apply, entry_edit, has_comment,
};
use proptest::prelude::*;

/// A document without its layout.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
enum Value {
    Scalar(String),
    List(Vec<Value>),
    Map(Vec<(Value, Value)>),
    Alias(String),
}

fn value(source: &Source, node: NodeId) -> Value {
    let tree = &source.tree;
    match tree.kind(node) {
        Kind::Plain | Kind::Quoted | Kind::Block => Value::Scalar(source.text_of(node).to_owned()),
        Kind::Alias | Kind::LostAlias => Value::Alias(source.text[tree.bytes(node)].to_owned()),
        Kind::Seq => Value::List(
            tree.children(node)
                .map(|child| value(source, child))
                .collect(),
        ),
        Kind::FlowMap | Kind::BlockMap => Value::Map(
            tree.entries(node)
                .map(|(key, held)| (value(source, key), value(source, held)))
                .collect(),
        ),
    }
}

fn open(text: &str) -> (Sources, FileId) {
    let mut sources = Sources::default();
    let (file, read) = sources.add(Path::new("x.yaml"), text.to_owned());
    read.unwrap_or_else(|broken| panic!("no YAML: {} at {}\n{text}", broken.reason, broken.byte));
    (sources, file)
}

/// The first value behind a key of this name, anywhere.
fn find(source: &Source, node: NodeId, name: &str) -> Option<NodeId> {
    let tree = &source.tree;
    for (key, held) in tree.entries(node) {
        if source.text_of(key) == name {
            return Some(held);
        }
    }
    tree.children(node)
        .find_map(|child| find(source, child, name))
}

/// Adds `added: new` to the mapping behind `target`; `None` where no edit is offered.
fn add(text: &str) -> Option<String> {
    let (sources, file) = open(text);
    let source = sources.file(file);
    let map = find(source, source.tree.root()?, "target")?;
    let (at, put) = entry_edit(source, map, "added", "new")?;
    let after = apply(
        text,
        &[Edit {
            at: source.spot_of(at..at),
            text: put,
        }],
    )
    .expect("it fits");
    // Nothing that was there is gone, comments included.
    assert!(after.starts_with(&text[..at]) && after.ends_with(&text[at..]));

    let (sources_after, file_after) = open(&after);
    let source_after = sources_after.file(file_after);
    let mut left = value(source_after, source_after.tree.root()?);
    let took = take(&mut left, "target", &Value::Scalar("added".into()));
    assert_eq!(
        took,
        Some(Value::Scalar("new".into())),
        "the key is in its place:\n{after}"
    );
    assert_eq!(
        left,
        value(source, source.tree.root()?),
        "everything else is as it was:\n{after}"
    );
    Some(after)
}

/// Takes `key` out of the mapping behind `name`.
fn take(from: &mut Value, name: &str, key: &Value) -> Option<Value> {
    match from {
        Value::Map(entries) => {
            for (held_by, held) in entries.iter_mut() {
                if *held_by == Value::Scalar(name.into()) {
                    let Value::Map(inner) = held else { return None };
                    let at = inner.iter().position(|(other, _)| other == key)?;
                    return Some(inner.remove(at).1);
                }
            }
            entries
                .iter_mut()
                .find_map(|(_, held)| take(held, name, key))
        }
        Value::List(items) => items.iter_mut().find_map(|item| take(item, name, key)),
        _ => None,
    }
}

#[test]
fn layouts() {
    for (text, expected) in [
        ("target: {}", Some("target: {added: new}")),
        ("target: { }", Some("target: {added: new }")),
        ("target: {a: 1}", Some("target: {a: 1, added: new}")),
        ("target: {a: 1 }", Some("target: {a: 1, added: new }")),
        ("target: {a: 1,}", Some("target: {a: 1, added: new,}")),
        ("target: {a}", Some("target: {a, added: new}")),
        ("target: {a: }", Some("target: {a:, added: new }")),
        ("target: {\"a\":}", Some("target: {\"a\":, added: new}")),
        (
            "target: {a: {b: c}}",
            Some("target: {a: {b: c}, added: new}"),
        ),
        (
            "target: {a: [b: c]}",
            Some("target: {a: [b: c], added: new}"),
        ),
        (
            "target: {a: 1, # one\n  b: 2 # two\n  }",
            Some("target: {a: 1, # one\n  b: 2, added: new # two\n  }"),
        ),
        (
            "t: &x 1\nu: {target: {a: *x }}",
            Some("t: &x 1\nu: {target: {a: *x, added: new }}"),
        ),
        ("target:\n  a: 1", Some("target:\n  a: 1\n  added: new")),
        ("target:\n  a: 1\n", Some("target:\n  a: 1\n  added: new\n")),
        (
            "target:\r\n  a: 1\r\n",
            Some("target:\r\n  a: 1\r\n  added: new\r\n"),
        ),
        (
            "target:\n  a: 1 # one\nb: 2\n",
            Some("target:\n  a: 1 # one\n  added: new\nb: 2\n"),
        ),
        (
            "target:\n  a:\nb: 2\n",
            Some("target:\n  a:\n  added: new\nb: 2\n"),
        ),
        (
            "target:\n  a:   # nothing\n\nb: 2\n",
            Some("target:\n  a:   # nothing\n  added: new\n\nb: 2\n"),
        ),
        (
            "target:\n  a: |\n    text\n\nb: 2\n",
            Some("target:\n  added: new\n  a: |\n    text\n\nb: 2\n"),
        ),
        (
            "target:\n  a:\n    c: 1\nb: 2\n",
            Some("target:\n  added: new\n  a:\n    c: 1\nb: 2\n"),
        ),
        (
            "target:\n  a:\n  - 1\nb: 2\n",
            Some("target:\n  added: new\n  a:\n  - 1\nb: 2\n"),
        ),
        (
            "target:\n  a: [1,\n    2] # x\nb: 2\n",
            Some("target:\n  a: [1,\n    2] # x\n  added: new\nb: 2\n"),
        ),
        (
            "target:\n  a: one\n    two\nb: 2\n",
            Some("target:\n  a: one\n    two\n  added: new\nb: 2\n"),
        ),
        (
            "target:\n  &k a: {b: 1}\n",
            Some("target:\n  &k a: {b: 1}\n  added: new\n"),
        ),
        (
            "target:\n  &k a:\n    b: 1\n",
            Some("target:\n  added: new\n  &k a:\n    b: 1\n"),
        ),
        (
            "- x: 1\n- target:\n    a: 1\n",
            Some("- x: 1\n- target:\n    a: 1\n    added: new\n"),
        ),
        (
            "target: &t\n  a: 1\n",
            Some("target: &t\n  a: 1\n  added: new\n"),
        ),
        ("target: [a: 1]", None),
        ("target: 1", None),
        ("target:\n  ? a\n  : 1\n", None),
    ] {
        let found = add(text);
        assert_eq!(found.as_deref(), expected, "{text}");
    }
}

/// A map in the list itself, behind its dash; a file that starts with a byte-order mark.
#[test]
fn margins() {
    let edit = |text: &str, path: &[usize]| {
        let (sources, file) = open(text);
        let source = sources.file(file);
        let root = source.tree.root().expect("there is something");
        let map = path.iter().fold(root, |node, at| {
            source.tree.children(node).nth(*at).expect("a child")
        });
        let (at, put) = entry_edit(source, map, "added", "new").expect("an edit");
        let after = apply(
            text,
            &[Edit {
                at: source.spot_of(at..at),
                text: put,
            }],
        )
        .expect("it fits");
        open(&after);
        after
    };
    assert_eq!(
        edit("- a: 1\n- b: 2\n", &[0]),
        "- a: 1\n  added: new\n- b: 2\n"
    );
    assert_eq!(
        edit("- - a:\n      - 1\n- b: 2\n", &[0, 0]),
        "- - added: new\n    a:\n      - 1\n- b: 2\n"
    );
    assert_eq!(edit("\u{feff}a: 1\n", &[]), "\u{feff}a: 1\nadded: new\n");
    assert_eq!(
        edit("\u{feff}a:\n  b: 1\n", &[]),
        "\u{feff}added: new\na:\n  b: 1\n"
    );
}

#[test]
fn edits_are_made_whole_or_not() {
    let (sources, file) = open("abcdef: ü");
    let at = |start: usize, end: usize, text: &str| Edit {
        at: sources.file(file).spot_of(start..end),
        text: text.into(),
    };
    let made = |edits: &[Edit]| apply("abcdef: ü", edits);
    assert_eq!(made(&[]).as_deref(), Some("abcdef: ü"));
    assert_eq!(
        made(&[at(0, 1, "x"), at(1, 1, "y"), at(1, 1, "z"), at(3, 4, "")]).as_deref(),
        Some("xyzbcef: ü")
    );
    assert_eq!(made(&[at(2, 4, "x"), at(3, 5, "y")]), None, "they overlap");
    assert_eq!(made(&[at(4, 5, "x"), at(0, 1, "y")]), None, "out of order");
    assert_eq!(made(&[at(8, 9, "x")]), None, "half a letter");
    assert_eq!(made(&[at(8, 99, "x")]), None, "past the end");
    assert_eq!(made(&[at(3, 2, "x")]), None, "backwards");
}

#[test]
fn comments_are_noticed() {
    for text in ["# x", "a # x", "a\n# x", "a\t#"] {
        assert!(has_comment(text), "{text:?}");
    }
    for text in ["", "a", "a#b", "C#"] {
        assert!(!has_comment(text), "{text:?}");
    }
}

/// Values of a generated mapping.
#[derive(Debug, Clone)]
enum Made {
    Plain(String),
    Quoted(String),
    Nothing,
    Block(String),
    List(Vec<String>),
    Map(Vec<(String, Made)>),
}

fn made() -> impl Strategy<Value = Made> {
    let leaf = prop_oneof![
        "[a-zé]{1,5}( [0-9]{1,2})?".prop_map(Made::Plain),
        "[a-z#:,{} é]{0,8}".prop_map(Made::Quoted),
        Just(Made::Nothing),
        "[a-z#: ]{0,6}[a-z]".prop_map(Made::Block),
        prop::collection::vec("[a-z]{1,3}", 0..3).prop_map(Made::List),
    ];
    leaf.prop_recursive(3, 16, 4, |inner| {
        prop::collection::vec(("[a-zü]{1,4}", inner), 0..4).prop_map(Made::Map)
    })
}

/// Lays a value out behind its key: in braces, or indented.
fn lay(value: &Made, flow: bool, deep: usize, comment: &str) -> String {
    let indent = " ".repeat(deep);
    match value {
        Made::Plain(text) => format!(" {text}{comment}\n"),
        Made::Quoted(text) => format!(" \"{text}\"{comment}\n"),
        Made::Nothing => format!("{comment}\n"),
        Made::Block(text) => format!(" |{comment}\n{indent}{}\n", text.trim_start()),
        Made::List(items) if flow || items.is_empty() => {
            format!(" [{}]{comment}\n", items.join(", "))
        }
        Made::List(items) => items.iter().fold(format!("{comment}\n"), |mut text, item| {
            let _ = writeln!(text, "{indent}- {item}");
            text
        }),
        Made::Map(entries) if flow || entries.is_empty() => {
            format!(" {}{comment}\n", braces(entries))
        }
        Made::Map(entries) => {
            entries
                .iter()
                .enumerate()
                .fold(format!("{comment}\n"), |mut text, (n, (key, held))| {
                    let _ = write!(
                        text,
                        "{indent}{key}{n}:{}",
                        lay(held, flow, deep + 2, comment)
                    );
                    text
                })
        }
    }
}

fn braces(entries: &[(String, Made)]) -> String {
    let inner: Vec<_> = entries
        .iter()
        .enumerate()
        .map(|(n, (key, held))| match held {
            Made::Plain(text) | Made::Block(text) => {
                format!("{key}{n}: {}", text.trim().replace(['#', ':'], "x"))
            }
            Made::Quoted(text) => format!("{key}{n}: \"{text}\""),
            Made::Nothing => format!("{key}{n}: "),
            Made::List(items) => format!("{key}{n}: [{}]", items.join(", ")),
            Made::Map(entries) => format!("{key}{n}: {}", braces(entries)),
        })
        .collect();
    format!("{{{}}}", inner.join(", "))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 500, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn generated_mappings(
        entries in prop::collection::vec(("[a-zü]{1,4}", made()), 0..5),
        flow in any::<bool>(),
        commented in any::<bool>(),
        in_list in any::<bool>(),
        end in 0usize..3,
    ) {
        let comment = if commented { " # {x: y}" } else { "" };
        let body = lay(&Made::Map(entries), flow, 4, comment);
        let dash = if in_list { "- " } else { "  " };
        let text = format!("before:\n{dash}target:{body}after: [1, 2]\n").replace('\n', ["\n", "\r\n", "\r"][end]);
        let added = add(&text);
        prop_assert!(added.is_some(), "no edit for\n{text}");
    }
}
