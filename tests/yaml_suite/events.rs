//! A document as the suite's events, as far as our tree keeps them: collections and how they are written, scalars with their
//! text and style, what an alias stands for. Anchors are counted, not named; tags are not kept.

use std::collections::HashMap;

use nailplate::yaml::{Kind, NodeId, Source};
use serde_json::{Map, Number, Value};

/// Events of the first document in the suite's notation. An anchor is known by which node of the document it stands at.
pub fn expected(tree: &str) -> Vec<String> {
    let mut anchors = HashMap::new();
    let mut nodes = 0;
    let mut out = Vec::new();
    for line in tree.lines().map(str::trim_start) {
        if line.starts_with("-DOC") {
            break;
        }
        let (event, mut rest) = line.split_at(4.min(line.len()));
        if matches!(event, "+STR" | "-STR" | "+DOC") {
            continue;
        }
        rest = rest.trim_start();
        let mut bracketed = "";
        loop {
            let word = rest.split(' ').next().unwrap_or("");
            match word.chars().next() {
                Some('{' | '[') => bracketed = " bracketed",
                Some('&') => {
                    anchors.insert(&word[1..], nodes);
                }
                Some('<') => {}
                _ => break,
            }
            rest = rest[word.len()..].trim_start();
        }
        out.push(match event {
            "=ALI" => format!("alias of {}", anchors[&rest[1..]]),
            "=VAL" => {
                let style = match &rest[..1] {
                    ":" => "plain",
                    "'" | "\"" => "quoted",
                    _ => "block",
                };
                format!("{style} {:?}", unescaped(&rest[1..]))
            }
            _ => format!("{event}{bracketed}"),
        });
        nodes += usize::from(!event.starts_with('-'));
    }
    out
}

fn unescaped(text: &str) -> String {
    let mut out = String::new();
    let mut signs = text.chars();
    while let Some(sign) = signs.next() {
        out.push(match sign {
            '\\' => match signs.next() {
                Some('n') => '\n',
                Some('t') => '\t',
                Some('r') => '\r',
                Some('b') => '\u{8}',
                Some('\\') => '\\',
                other => panic!("{text}: {other:?} is no escape of the suite"),
            },
            sign => sign,
        });
    }
    out
}

/// The same of the tree that our reader has built.
pub fn given(source: &Source) -> Vec<String> {
    let mut walk = Walk {
        source,
        numbers: HashMap::new(),
        nodes: 0,
        out: Vec::new(),
    };
    if let Some(root) = source.tree.root() {
        walk.node(root);
    }
    walk.out
}

struct Walk<'s> {
    source: &'s Source,
    numbers: HashMap<NodeId, usize>,
    nodes: usize,
    out: Vec<String>,
}

impl Walk<'_> {
    fn node(&mut self, node: NodeId) {
        let tree = &self.source.tree;
        self.numbers.insert(node, self.nodes);
        self.nodes += 1;
        let style = match tree.kind(node) {
            Kind::Alias => {
                let target = tree.target(node).expect("an anchor");
                self.out.push(format!("alias of {}", self.numbers[&target]));
                return;
            }
            Kind::LostAlias => "lost alias",
            Kind::Plain => "plain",
            Kind::Quoted => "quoted",
            Kind::Block => "block",
            Kind::Seq | Kind::FlowMap | Kind::BlockMap => {
                let kind = if tree.is_map(node) { "MAP" } else { "SEQ" };
                let flow = match tree.kind(node) {
                    Kind::FlowMap => true,
                    Kind::BlockMap => false,
                    _ => tree.is_bracketed(node, &self.source.text),
                };
                let bracketed = if flow { " bracketed" } else { "" };
                self.out.push(format!("+{kind}{bracketed}"));
                for child in tree.children(node) {
                    self.node(child);
                }
                self.out.push(format!("-{kind}"));
                return;
            }
        };
        let text = self.source.text_of(node);
        self.out.push(format!("{style} {text:?}"));
    }
}

/// What a document comes to under the core schema of YAML 1.2 (10.3.2), its tags left out; a key that is no text as what the
/// suite's JSON has for it, its text.
pub fn value(source: &Source) -> Value {
    source
        .tree
        .root()
        .map_or(Value::Null, |root| of(source, root))
}

fn of(source: &Source, node: NodeId) -> Value {
    let tree = &source.tree;
    match tree.kind(node) {
        Kind::Plain => core(source.text_of(node)),
        Kind::Quoted | Kind::Block => source.text_of(node).into(),
        Kind::Seq => tree.children(node).map(|item| of(source, item)).collect(),
        Kind::Alias => of(source, tree.target(node).expect("an anchor")),
        Kind::LostAlias => "a lost alias".into(),
        Kind::FlowMap | Kind::BlockMap => {
            let entry = |(key, value)| {
                let key = match of(source, key) {
                    Value::String(text) => text,
                    Value::Null => String::new(),
                    other => other.to_string(),
                };
                (key, of(source, value))
            };
            Value::Object(tree.entries(node).map(entry).collect::<Map<_, _>>())
        }
    }
}

/// A plain scalar by the core schema.
fn core(text: &str) -> Value {
    match text {
        "" | "~" | "null" | "Null" | "NULL" => return Value::Null,
        "true" | "True" | "TRUE" => return true.into(),
        "false" | "False" | "FALSE" => return false.into(),
        _ => {}
    }
    let radix = |prefix, radix| {
        let digits = text.strip_prefix(prefix)?;
        i64::from_str_radix(digits, radix).ok()
    };
    if let Some(whole) = radix("0x", 16)
        .or_else(|| radix("0o", 8))
        .or_else(|| text.parse().ok())
    {
        return whole.into();
    }
    let numeric = text.starts_with(|c: char| c.is_ascii_digit() || "+-.".contains(c));
    let number = text.parse().ok().filter(|_| numeric);
    number
        .and_then(Number::from_f64)
        .map_or_else(|| text.into(), Value::Number)
}

/// All numbers as decimal ones: 450 and 450.00 are one value.
pub fn decimal(value: Value) -> Value {
    match value {
        Value::Number(number) => number.as_f64().into(),
        Value::Array(items) => items.into_iter().map(decimal).collect(),
        Value::Object(map) => {
            let entries = map.into_iter().map(|(key, value)| (key, decimal(value)));
            Value::Object(entries.collect())
        }
        other => other,
    }
}
