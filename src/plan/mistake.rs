//! The mistakes that reading can report, one method each. Their sheets stand in `rules/reading/`.

use super::reader::{Reader, Slot};
use super::record::Key;
use super::refs::{Sort, Thing};
use super::spelling::{Near, near};
use crate::findings::{Finding, Level, Mark, Redline, RedlineKind};
use crate::units::Misspelling;
use crate::yaml::{Edit, Kind, NodeId, Span};

/// A text shortened for a message, without anything that a terminal would act on.
pub(super) fn shown(text: &str) -> String {
    let mut short: String = text.chars().take(40).map(|c| if is_unseen(c) { '·' } else { c }).collect();
    if text.chars().nth(40).is_some() {
        short.push('…');
    }
    short
}

/// Characters that show nothing, or change how others show.
pub(super) fn is_unseen(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}')
}

/// `a word such as …` for a long list of words.
fn briefly(wants: &str) -> String {
    match wants.strip_prefix("one of: ") {
        Some(words) if words.split(", ").count() > 10 => {
            let some: Vec<_> = words.split(", ").take(3).collect();
            format!("one of its words, such as {}", some.join(", "))
        }
        _ => wants.to_owned(),
    }
}

/// The longest id, in characters: it has to fit on a label.
pub(super) const LONGEST_ID: usize = 64;

/// Whether a word can stand in a plan without quotes.
fn is_plain(word: &str) -> bool {
    let inner = |c: char| c.is_alphanumeric() || matches!(c, '-' | '_' | '.' | '/' | ' ');
    word.starts_with(char::is_alphanumeric) && word.chars().all(inner) && !word.ends_with(' ')
}

impl Reader<'_> {
    /// Adds a mistake unless the same one was reported at the same bytes before.
    fn report(&mut self, rule: &'static str, node: NodeId, says: String, label: &str) -> Option<&mut Finding> {
        let (own, span) = (self.solid(node), self.span(node));
        self.report_at(rule, own, span, says, label)
    }

    /// `own` are the bytes themselves, `span` the way by which they were reached.
    fn report_at(
        &mut self,
        rule: &'static str,
        own: Span,
        span: Span,
        says: String,
        label: &str,
    ) -> Option<&mut Finding> {
        if !self.reported.insert((rule, own)) {
            return None;
        }
        self.findings.push(Finding::new(rule, Level::Fault, self.on.clone(), says, span, label));
        self.findings.last_mut()
    }

    /// The thing being read, or the file.
    fn thing(&self) -> String {
        if self.in_section { shown(self.on.as_str()) } else { format!("the {}", self.on) }
    }

    /// The key being read: `length` of S4, `apart` in `beside` of S4.
    fn subject(&self) -> String {
        let keys: Vec<_> = self.path.iter().rev().map(|slot| format!("`{}`", shown(self.source.text_of(slot.key)))).collect();
        if keys.is_empty() { self.thing() } else { format!("{} of {}", keys.join(" in "), self.thing()) }
    }

    /// An edit that replaces a node; none where the node is shared through an alias.
    fn replacing(&self, node: NodeId, text: &str, kind: RedlineKind, title: String) -> Option<Redline> {
        if self.is_shared() || !self.source.tree.is_scalar(node) {
            return None;
        }
        let bytes = self.source.tree.bytes(node);
        Some(Redline {
            kind,
            title,
            edits: vec![Edit { at: self.source.spot_of(bytes), text: text.into() }],
        })
    }

    fn kind_of_guess(near: &Near<'_>, wrong: &str) -> RedlineKind {
        if near.is_sure(wrong) { RedlineKind::Same } else { RedlineKind::Change }
    }

    /// `meant` is the key that it is read as.
    pub(super) fn unknown_key(
        &mut self,
        key: &str,
        slot: Slot,
        what: &str,
        keys: &[Key],
        near: Option<Near<'_>>,
        meant: Option<&'static str>,
    ) {
        let says = format!("{} has the key `{}`, which {what} does not take", self.subject(), shown(key));
        let redline = near.as_ref().zip(meant).and_then(|(near, word)| {
            self.replacing(slot.key, word, Self::kind_of_guess(near, key), format!("write `{word}`"))
        });
        if let Some(finding) = self.report("plan.unknown-key", slot.key, says, "unknown key") {
            finding.put_right = Some(match (near, meant) {
                (Some(near), Some(_)) => format!("{} It was read as that", near.question()),
                (Some(near), None) => near.question(),
                (None, _) => {
                    let names: Vec<_> = keys.iter().map(|key| key.name).collect();
                    format!("take it out, or use one of the keys of {what}: {}", names.join(", "))
                }
            });
            finding.redlines.extend(redline);
        }
    }

    /// A key that is itself a list, a mapping or an alias.
    pub(super) fn no_key(&mut self, key: NodeId) {
        let says = format!("{} has a key that is {}, not a word", self.subject(), self.found(key));
        if let Some(finding) = self.report("plan.wrong-kind", key, says, "no key") {
            finding.put_right = Some("write the key as a plain word".into());
        }
    }

    /// A `<<` that has no mapping behind it.
    pub(super) fn no_merge(&mut self, node: NodeId) {
        let says = format!("{} merges {}, not the keys of another", self.subject(), self.found(node));
        if let Some(finding) = self.report("plan.wrong-kind", node, says, "nothing to merge") {
            finding.put_right = Some("write an alias of a set of `key: value` pairs behind `<<:`, or a list of them".into());
        }
    }

    /// Whether an entry of a mapping is the rest of a fire class that stands without quotes inside
    /// braces: `rating: Cca-s1b,d1,a1` becomes `rating: Cca-s1b` and two keys without values.
    pub(super) fn is_piece(&self, slot: Slot, (key, value): (NodeId, NodeId)) -> bool {
        let tree = &self.source.tree;
        tree.is_empty_scalar(value) && self.is_class_piece(key) && self.is_class_start(slot.value)
    }

    /// `d1`, `a1`: the drops and acidity of EN 13501-6.
    fn is_class_piece(&self, node: NodeId) -> bool {
        self.source.tree.kind(node) == Kind::Plain
            && matches!(self.source.text_of(node).as_bytes(), [b'd' | b'a', b'0'..=b'3'])
    }

    /// `Cca-s1b`: the class and smoke of EN 13501-6.
    fn is_class_start(&self, node: NodeId) -> bool {
        self.source.tree.kind(node) == Kind::Plain
            && self.source.text_of(node).split('-').next().is_some_and(|class| class.ends_with("ca"))
    }

    /// The same in a list: `[Cca-s1b,d1,a1]` becomes three items.
    pub(super) fn fell_apart_in(&mut self, items: &[NodeId]) -> bool {
        let Some(at) = items.windows(2).position(|pair| self.is_class_start(pair[0]) && self.is_class_piece(pair[1])) else {
            return false;
        };
        let last = items[at + 1..].iter().take_while(|item| self.is_class_piece(**item)).last();
        self.class_fell_apart(items[at], *last.unwrap_or(&items[at]));
        true
    }

    /// A fire class of which the rest, up to `last`, stands in keys of their own.
    pub(super) fn fell_apart(&mut self, slot: Slot, last: NodeId) {
        self.path.push(slot);
        self.class_fell_apart(slot.value, last);
        self.path.pop();
    }

    fn class_fell_apart(&mut self, first: NodeId, last: NodeId) {
        let tree = &self.source.tree;
        let bytes = tree.bytes(first).start..tree.bytes(last).end;
        let class: String = self.source.text[bytes.clone()].chars().filter(|c| !c.is_whitespace()).collect();
        let says = format!("{} is the fire class {}, which falls apart at its commas", self.subject(), shown(&class));
        let written = format!("\"{class}\"");
        let redline = (!self.is_shared()).then(|| Redline {
            kind: RedlineKind::Same,
            title: "put the class in quotes".into(),
            edits: vec![Edit { at: self.source.spot_of(bytes), text: written.clone() }],
        });
        if let Some(finding) = self.report("plan.unquoted-class", first, says, "only this much was read") {
            finding.put_right = Some(format!("put the class in quotes: {written}"));
            finding.redlines.extend(redline);
        }
    }

    pub(super) fn unknown_word(&mut self, node: NodeId, text: &str, what: &str, words: &[&'static str]) {
        let says = format!("{} is `{}`, which is not {what}", self.subject(), shown(text));
        let near = self.near(text, words.iter().copied());
        let redline = near.as_ref().and_then(|near| {
            let word = near.only()?;
            let written = if word.contains(':') { format!("\"{word}\"") } else { word.to_owned() };
            self.replacing(node, &written, Self::kind_of_guess(near, text), format!("write `{word}`"))
        });
        if let Some(finding) = self.report("plan.unknown-word", node, says, "not a known word") {
            finding.put_right = Some(match near {
                Some(near) => near.question(),
                None => format!("write one of: {}", words.join(", ")),
            });
            finding.redlines.extend(redline);
        }
    }

    pub(super) fn missing_key(&mut self, key: &'static str, what: &str, keys: &[Key], map: NodeId) {
        let says = format!("{} has no `{key}`: {what} needs one", self.subject());
        // A thing is pointed at by its id, an entry of a list by itself.
        let (own, span) = if self.path.is_empty() {
            (self.at, self.at)
        } else {
            (self.solid(map), self.span(map))
        };
        if !self.reported.insert((key, own)) {
            return;
        }
        let tree = &self.source.tree;
        let first = tree.entries(map).next().filter(|_| tree.kind(map) == Kind::BlockMap && !self.is_shared());
        let redline = first.filter(|_| key == "nailplate").map(|(first, _)| {
            let start = tree.bytes(first).start;
            let text = format!("nailplate: 1{}", self.source.line_end());
            Redline {
                kind: RedlineKind::Same,
                title: "add the version".into(),
                edits: vec![Edit { at: self.source.spot_of(start..start), text }],
            }
        });
        let wants = keys.iter().find(|known| known.name == key).map_or("", |known| known.wants);
        let mut finding = Finding::new("plan.missing-key", Level::Fault, self.on.clone(), says, span, format!("no `{key}` here"));
        finding.put_right = Some(match key {
            "nailplate" => "add `nailplate: 1`, the version of the plan language".into(),
            "region" => "add `region:` with us, ca, gb, eu or au; it chooses the limits and tables".into(),
            _ => format!("add `{key}:` with {}", briefly(wants)),
        });
        finding.redlines.extend(redline);
        self.findings.push(finding);
    }

    pub(super) fn no_value(&mut self, node: NodeId, wants: &str) {
        let says = format!("{} has no value", self.subject());
        let key = self.path.last().map_or("", |slot| self.source.text_of(slot.key));
        let needed = matches!(key, "nailplate" | "region" | "from" | "to" | "run");
        if let Some(finding) = self.report("plan.wrong-kind", node, says, "nothing behind this") {
            let out = if needed { "" } else { "; or take it out" };
            finding.put_right = Some(format!("give it {}{out}", briefly(wants)));
        }
    }

    /// A name with nothing behind it.
    pub(super) fn nothing_stated(&mut self, key: NodeId, what: &str) {
        let says = format!("{} has nothing behind it", self.thing());
        if let Some(finding) = self.report("plan.wrong-kind", key, says, "nothing behind this") {
            finding.put_right = Some(format!("say what it is, with the keys of {what}, or take it out"));
        }
    }

    /// What a node is, in words.
    fn found(&self, node: NodeId) -> String {
        let tree = &self.source.tree;
        match tree.kind(node) {
            Kind::Seq => "a list".into(),
            Kind::FlowMap | Kind::BlockMap => "a set of `key: value` pairs".into(),
            Kind::Alias | Kind::LostAlias => "an alias".into(),
            _ if tree.is_empty_scalar(node) => "nothing".into(),
            _ => format!("`{}`", shown(self.source.text_of(node))),
        }
    }

    /// `wanted` is what it should be, `write` the same in more words.
    pub(super) fn wrong_kind(&mut self, node: NodeId, wanted: &str, write: &str) {
        let says = format!("{} is {}, not {wanted}", self.subject(), self.found(node));
        // A long block is not worth marking whole: its key says enough.
        let long = self.source.tree.bytes(node).len() > 200;
        let at = self.path.last().filter(|_| long).map_or(node, |slot| slot.key);
        let finding = if long && self.path.is_empty() {
            self.report_at("plan.wrong-kind", self.at, self.at, says, "wrong kind of value")
        } else {
            self.report("plan.wrong-kind", at, says, "wrong kind of value")
        };
        if let Some(finding) = finding {
            finding.put_right = Some(format!("write {}", briefly(write)));
        }
    }

    pub(super) fn unreadable(&mut self, node: NodeId, text: &str, wanted: &str) {
        let says = format!("{} is `{}`, which cannot be read", self.subject(), shown(text));
        if let Some(finding) = self.report("plan.unreadable", node, says, "cannot be read") {
            finding.put_right = Some(format!("write {wanted}"));
        }
    }

    pub(super) fn out_of_range(&mut self, node: NodeId, found: &str, allowed: &str) {
        let says = format!("{} is {}, allowed is {allowed}", self.subject(), shown(found));
        if let Some(finding) = self.report("plan.out-of-range", node, says, "outside what it can be") {
            finding.put_right = Some(format!("write a value that is {allowed}"));
        }
    }

    /// A quantity that is spelled wrong. `likely` is the unit suggested for a bare number, none
    /// where the number itself cannot be right.
    pub(super) fn misspelt(
        &mut self,
        node: NodeId,
        text: &str,
        slip: &Misspelling,
        dimension: &str,
        likely: Option<&str>,
        units: &[&'static str],
    ) {
        let all = self.source.text_of(node);
        // A part of a longer value is shown in its place.
        let is = if all.trim() == text.trim() {
            format!("{} is {}", self.subject(), shown(text))
        } else {
            format!("{} is {}, in which {}", self.subject(), shown(all), shown(text))
        };
        let whole = all.trim() == text.trim();
        match slip {
            Misspelling::NotANumber => {
                self.unreadable(node, all, &format!("{dimension} with its unit ({})", units.join(", ")));
            }
            Misspelling::NoUnit { .. } => {
                let says = if whole { format!("{is} without a unit") } else { format!("{is} has no unit") };
                let written = likely.map(|unit| format!("{} {unit}", text.trim()));
                let redline = written.as_ref().filter(|_| whole).and_then(|written| {
                    self.replacing(node, written, RedlineKind::Change, format!("write {written}"))
                });
                if let Some(finding) = self.report("plan.no-unit", node, says, "a bare number") {
                    finding.put_right = Some(match written {
                        Some(written) => format!("write {written}, if that is what is meant"),
                        None => format!("write the number with its unit: {}", units.join(", ")),
                    });
                    finding.redlines.extend(redline);
                }
            }
            Misspelling::NoSuchUnit { unit } if unit.starts_with(',') => {
                self.unreadable(node, all, "numbers with a decimal point and without thousands' commas: 12.5, 1200");
            }
            Misspelling::NoSuchUnit { unit } => {
                let says = if whole {
                    format!("{is}: `{}` is no unit of {dimension}", shown(unit))
                } else {
                    format!("{is} has no unit of {dimension}")
                };
                if let Some(finding) = self.report("plan.wrong-unit", node, says, "wrong unit") {
                    let dimension = dimension.trim_start_matches("an ").trim_start_matches("a ");
                    finding.put_right = Some(format!("units of {dimension}: {}", units.join(", ")));
                }
            }
            Misspelling::Unthinkable => {
                let says = format!("{is}{} more or less than any house could hold", if whole { ", which is" } else { " is" });
                if let Some(finding) = self.report("plan.out-of-range", node, says, "beyond reason") {
                    finding.put_right = Some("check the number and its unit".into());
                }
            }
        }
    }

    pub(super) fn duplicate_key(&mut self, key: &str, slot: Slot, first: Option<Span>) {
        let says = format!("{} has `{}` twice; the first is used", self.subject(), shown(key));
        if let Some(finding) = self.report("plan.duplicate-key", slot.key, says, "given before") {
            finding.put_right = Some("keep one of the two".into());
            finding.marks.extend(first.map(|span| Mark { span, label: "the first, which is used".into() }));
        }
    }

    pub(super) fn duplicate_id(&mut self, key: NodeId, name: &str, first: Span) {
        let says = format!("the id `{}` is given to two things; references go to the first", shown(name));
        if let Some(finding) = self.report("plan.duplicate-id", key, says, "second use of the id") {
            finding.put_right = Some("one id names one thing in the whole plan: rename one of them".into());
            if finding.marks.iter().all(|mark| mark.span != first) {
                finding.marks.push(Mark { span: first, label: "first use of the id".into() });
            }
        }
    }

    pub(super) fn no_such_id(
        &mut self,
        node: NodeId,
        name: &str,
        wants: &str,
        sorts: &'static [Sort],
        found: Option<Thing>,
    ) {
        if let Some(found) = found {
            let (_, is) = found.sort.words();
            let says = format!("{} is `{}`, which is {is}, not {wants}", self.subject(), shown(name));
            if let Some(finding) = self.report("plan.no-such-id", node, says, "wrong sort of thing") {
                finding.put_right = Some(format!("name {wants} of this plan"));
            }
            return;
        }
        let says = format!("{} is `{}`, and no such thing is in the plan", self.subject(), shown(name));
        let things = self.things;
        // All names are looked through, whatever their sort.
        self.guesses = self.guesses.saturating_sub(things.len());
        let near = if self.guesses == 0 { None } else { near(name, things.names(sorts)) };
        let redline = near.as_ref().and_then(|near| near.only()).filter(|word| is_plain(word)).and_then(|word| {
            self.replacing(node, word, RedlineKind::Change, format!("write `{word}`"))
        });
        if let Some(finding) = self.report("plan.no-such-id", node, says, "names nothing") {
            finding.put_right = Some(match near {
                Some(near) => near.question(),
                None => format!("name {wants} of this plan, or add it"),
            });
            finding.redlines.extend(redline);
        }
    }

    pub(super) fn lost_alias(&mut self, node: NodeId) {
        let text = self.source.tree.bytes(node);
        let name = shown(self.source.text.get(text).unwrap_or(""));
        let says = format!("{} is the alias `{name}`, and no such anchor stands before it", self.subject());
        if let Some(finding) = self.report("plan.lost-alias", node, says, "no such anchor") {
            finding.put_right = Some("put the anchor before its alias, or write the value itself".into());
        }
    }

    /// Reported once for each file: `what` went beyond a limit at `node`.
    pub(super) fn too_many_aliases(&mut self, node: NodeId, what: &str) {
        let own = self.source.span_of(0..0);
        if self.reported.contains(&("plan.too-many-aliases", own)) {
            return;
        }
        let span = self.span(node);
        let says = format!("{what}; not all of them were read");
        if let Some(finding) = self.report_at("plan.too-many-aliases", own, span, says, "reading stopped here") {
            finding.put_right = Some("write the values themselves".into());
        }
    }

    pub(super) fn second_document(&mut self, byte: usize) {
        let rest = self.source.text.get(byte..).unwrap_or("");
        let sign: usize = rest.chars().take_while(|c| !c.is_whitespace()).take(3).map(char::len_utf8).sum();
        let span = if sign == 0 { self.at } else { self.source.span_of(byte..byte + sign) };
        let says = "a second document starts here; only the first was read".to_owned();
        if let Some(finding) = self.report_at("plan.second-document", span, span, says, "not read from here on") {
            finding.put_right = Some("one file holds one plan: move the rest to a file of its own".into());
        }
    }

    pub(super) fn bad_id(&mut self, node: NodeId, name: &str) {
        let fault = if name.is_empty() {
            "is empty".to_owned()
        } else if name.chars().any(is_unseen) {
            format!("`{}` has characters in it that cannot be seen", shown(name))
        } else {
            format!("`{}` is longer than {LONGEST_ID} characters", shown(name))
        };
        let says = format!("an id {fault}");
        if let Some(finding) = self.report("plan.unreadable", node, says, "this id") {
            finding.put_right = Some("write a short name, such as S4".into());
        }
    }

    pub(super) fn wrong_version(&mut self, node: NodeId, text: &str) {
        let says = format!("{} is in version {} of the plan language; version 1 is read", self.thing(), shown(text));
        if let Some(finding) = self.report("plan.wrong-version", node, says, "a version not known here") {
            finding.put_right = Some("write `nailplate: 1`, or use a newer nailplate".into());
        }
    }

    /// A point or a box without its three lengths.
    pub(super) fn not_three(&mut self, node: NodeId, found: usize) {
        let says = format!("{} has {found} of the three lengths", self.subject());
        if let Some(finding) = self.report("plan.wrong-kind", node, says, "not three lengths") {
            finding.put_right = Some("write three lengths in brackets, such as [4 ft, 2 ft, 1 ft]".into());
        }
    }
}
