//! The mistakes that reading can report, one method each. Their sheets stand in `rules/reading/`.

use super::reader::{Reader, Slot};
use super::record::Key;
use super::refs::{Sort, Thing};
use super::spelling::nearest;
use crate::findings::{Finding, Level, Mark, Redline, RedlineKind};
use crate::units::{Misspelling, plain};
use crate::yaml::{Edit, Kind, NodeId, Span};

/// A text shortened for a message.
fn shown(text: &str) -> String {
    let mut short: String = text.chars().take(40).collect();
    if short.len() < text.len() {
        short.push('…');
    }
    short.replace(['\n', '\r'], " ")
}

impl Reader<'_> {
    /// Adds a mistake unless the same one was reported at the same bytes before.
    fn report(&mut self, rule: &'static str, node: NodeId, says: String, label: &str) -> Option<&mut Finding> {
        let span = self.span(node);
        self.report_at(rule, self.source.span(node), span, says, label)
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

    /// The key being read: `length of S4`.
    fn key_of(&self) -> String {
        match self.slot {
            Some(slot) => format!("`{}` of {}", shown(self.source.text_of(slot.key)), self.on),
            None => self.on.to_string(),
        }
    }

    /// An edit that replaces a node; none where the node is shared through an alias.
    fn replacing(&self, node: NodeId, text: &str, kind: RedlineKind, title: String) -> Option<Redline> {
        if self.is_shared() || self.source.tree.target(node).is_some() {
            return None;
        }
        let bytes = self.source.tree.bytes(node);
        Some(Redline {
            kind,
            title,
            edits: vec![Edit { at: self.source.spot_of(bytes), text: text.into() }],
        })
    }

    /// One slip from a single known word is a misspelling of it; more is a guess.
    fn kind_of_guess(slips: usize) -> RedlineKind {
        if slips <= 1 { RedlineKind::Same } else { RedlineKind::Change }
    }

    pub(super) fn unknown_key(&mut self, key: &str, slot: Slot, what: &str, keys: &[Key]) {
        if self.fell_apart(key, slot) {
            return;
        }
        let says = format!("unknown key `{}` in {what}", shown(key));
        let near = nearest(key, keys.iter().map(|key| key.name));
        let redline = near.and_then(|(word, slips)| {
            self.replacing(slot.key, word, Self::kind_of_guess(slips), format!("write `{word}`"))
        });
        if let Some(finding) = self.report("plan.unknown-key", slot.key, says, "not a key of the plan language") {
            finding.put_right = Some(match near {
                Some((word, _)) => format!("did you mean `{word}`?"),
                None => format!(
                    "{what} takes: {}",
                    keys.iter().map(|key| key.name).collect::<Vec<_>>().join(", ")
                ),
            });
            finding.redlines.extend(redline);
        }
    }

    /// A fire class such as `Cca-s1b,d1,a1` without quotes inside braces becomes `Cca-s1b` and two
    /// empty keys, `d1` and `a1`.
    fn fell_apart(&mut self, key: &str, slot: Slot) -> bool {
        let piece = key.len() == 2
            && matches!(key.as_bytes(), [b'd' | b'a', b'0'..=b'3'])
            && self.source.tree.is_empty_scalar(slot.value);
        if !piece {
            return false;
        }
        let says = format!("the fire class of {} fell apart at its commas: `{key}` stands alone", self.on);
        if let Some(finding) =
            self.report("plan.unquoted-class", slot.key, says, "belongs to the class before it")
        {
            finding.put_right = Some("put the class in quotes: rating: \"Cca-s1b,d1,a1\"".into());
        }
        true
    }

    pub(super) fn unknown_word(&mut self, node: NodeId, text: &str, what: &str, words: &[&'static str]) {
        let says = format!("{} is `{}`, which is not {what}", self.key_of(), shown(text));
        let near = nearest(text, words.iter().copied());
        let redline = near.and_then(|(word, slips)| {
            let word = if word.contains(':') { format!("\"{word}\"") } else { word.to_owned() };
            self.replacing(node, &word, Self::kind_of_guess(slips), format!("write {word}"))
        });
        if let Some(finding) = self.report("plan.unknown-word", node, says, "not a known word") {
            finding.put_right = Some(match near {
                Some((word, _)) => format!("did you mean {word}? Known: {}", words.join(", ")),
                None => format!("known: {}", words.join(", ")),
            });
            finding.redlines.extend(redline);
        }
    }

    pub(super) fn missing_key(&mut self, key: &'static str, what: &str, map: NodeId) {
        let says = format!("{} has no `{key}`: {what} needs one", self.on);
        let own = self.at;
        let edit = (key == "nailplate" && !self.is_shared())
            .then(|| self.source.tree.entries(map).next())
            .flatten()
            .map(|(first, _)| {
                let start = self.source.tree.bytes(first).start;
                Edit { at: self.source.spot_of(start..start), text: format!("nailplate: 1{}", self.source.line_end()) }
            })
            .filter(|_| self.source.tree.kind(map) == Kind::BlockMap);
        if !self.reported.insert((key, own)) {
            return;
        }
        let mut finding = Finding::new("plan.missing-key", Level::Fault, self.on.clone(), says, own, format!("no `{key}` here"));
        finding.put_right = Some(match key {
            "nailplate" => "add `nailplate: 1`, the version of the plan language".into(),
            "region" => "add `region:` with us, ca, gb, eu or au; it chooses the limits and tables".into(),
            _ => format!("add `{key}:`"),
        });
        finding.redlines.extend(edit.map(|edit| Redline {
            kind: RedlineKind::Same,
            title: "add the version".into(),
            edits: vec![edit],
        }));
        self.findings.push(finding);
    }

    pub(super) fn no_value(&mut self, key: &str, slot: Slot, wants: &str) {
        let says = format!("`{}` of {} has no value", shown(key), self.on);
        if let Some(finding) = self.report("plan.wrong-kind", slot.key, says, "nothing behind this key") {
            finding.put_right = Some(format!("give it {wants}, or take the key out"));
        }
    }

    pub(super) fn wrong_kind(&mut self, node: NodeId, wanted: &str) {
        let tree = &self.source.tree;
        let found = match tree.kind(node) {
            Kind::Seq => "a list",
            Kind::FlowMap | Kind::BlockMap => "a mapping",
            _ => "a single value",
        };
        let says = format!("{} is {found}, where {wanted} is wanted", self.key_of());
        // A long block is not worth marking whole: its key says enough.
        let at = match self.slot {
            Some(slot) if tree.bytes(node).len() > 200 || tree.is_empty_scalar(node) => slot.key,
            _ => node,
        };
        if let Some(finding) = self.report("plan.wrong-kind", at, says, "wrong kind of value") {
            finding.put_right = Some(format!("write {wanted}"));
        }
    }

    pub(super) fn unreadable(&mut self, node: NodeId, text: &str, wanted: &str) {
        let says = format!("{} is `{}`, which cannot be read", self.key_of(), shown(text));
        if let Some(finding) = self.report("plan.unreadable", node, says, "cannot be read") {
            finding.put_right = Some(format!("write {wanted}"));
        }
    }

    pub(super) fn out_of_range(&mut self, node: NodeId, found: &str, allowed: &str) {
        let says = format!("{} is {}, allowed is {allowed}", self.key_of(), shown(found));
        if let Some(finding) = self.report("plan.out-of-range", node, says, "outside what it can be") {
            finding.put_right = Some(format!("write a value that is {allowed}"));
        }
    }

    /// A quantity that is spelled wrong; `likely` is the unit suggested for a bare number.
    pub(super) fn misspelt(
        &mut self,
        node: NodeId,
        text: &str,
        slip: &Misspelling,
        dimension: &str,
        likely: &str,
        units: &[&'static str],
    ) {
        match slip {
            Misspelling::NotANumber => {
                self.unreadable(node, text, &format!("{dimension} with its unit ({})", units.join(", ")));
            }
            Misspelling::NoUnit { number } => {
                let says = format!("{} is {} without a unit", self.key_of(), shown(text));
                let whole = self.source.text_of(node) == text;
                let written = format!("{} {likely}", text.trim());
                let redline = whole
                    .then(|| self.replacing(node, &written, RedlineKind::Change, format!("write {written}")))
                    .flatten();
                if let Some(finding) = self.report("plan.no-unit", node, says, "a bare number") {
                    finding.put_right = Some(format!("write {} {likely}, if that is what is meant", plain(*number)));
                    finding.redlines.extend(redline);
                }
            }
            Misspelling::NoSuchUnit { unit } => {
                let says = format!("{} is {}: `{}` is no unit of {dimension}", self.key_of(), shown(text), shown(unit));
                if let Some(finding) = self.report("plan.wrong-unit", node, says, "wrong unit") {
                    let dimension = dimension.trim_start_matches("an ").trim_start_matches("a ");
                    finding.put_right = Some(format!("units of {dimension}: {}", units.join(", ")));
                }
            }
            Misspelling::Unthinkable => {
                let says = format!("{} is {}, which no house could hold", self.key_of(), shown(text));
                if let Some(finding) = self.report("plan.out-of-range", node, says, "beyond reason") {
                    finding.put_right = Some("check the number and its unit".into());
                }
            }
        }
    }

    pub(super) fn duplicate_key(&mut self, key: &str, slot: Slot) {
        let says = format!("`{}` is given twice in {}; the first is used", shown(key), self.on);
        if let Some(finding) = self.report("plan.duplicate-key", slot.key, says, "given before") {
            finding.put_right = Some("keep one of the two".into());
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
            let says = format!("{} is `{}`, which is {is}, not {wants}", self.key_of(), shown(name));
            if let Some(finding) = self.report("plan.no-such-id", node, says, "wrong sort of thing") {
                finding.put_right = Some(format!("name {wants} of this plan"));
            }
            return;
        }
        let says = format!("{} is `{}`, and no such thing is in the plan", self.key_of(), shown(name));
        let near = self.near_name(name, sorts);
        let redline = near.as_ref().and_then(|word| {
            self.replacing(node, word, RedlineKind::Change, format!("write `{word}`"))
        });
        if let Some(finding) = self.report("plan.no-such-id", node, says, "names nothing") {
            finding.put_right = Some(match near {
                Some(word) => format!("did you mean `{word}`?"),
                None => format!("name {wants} of this plan, or add it"),
            });
            finding.redlines.extend(redline);
        }
    }

    /// The name nearest to a wrong one, as long as there is patience left for comparing.
    fn near_name(&mut self, name: &str, sorts: &'static [Sort]) -> Option<String> {
        let known = self.things.len();
        if known > self.guesses {
            return None;
        }
        self.guesses -= known;
        // The table of names has no order of its own; the answer must not depend on chance.
        let mut names: Vec<_> = self.things.names(sorts).collect();
        names.sort_unstable();
        nearest(name, names).map(|(word, _)| word.to_owned())
    }

    pub(super) fn lost_alias(&mut self, node: NodeId) {
        let text = self.source.tree.bytes(node);
        let name = shown(self.source.text.get(text).unwrap_or(""));
        let says = format!("{} is the alias `{name}`, and no such anchor stands before it", self.key_of());
        if let Some(finding) = self.report("plan.lost-alias", node, says, "no such anchor") {
            finding.put_right = Some("put the anchor before its alias, or write the value itself".into());
        }
    }

    pub(super) fn too_many_aliases(&mut self, node: NodeId, most: u32) {
        let own = self.source.span_of(0..0);
        let span = self.source.span(node);
        let says = format!("aliases unfold to more than {most} values; the rest was not read");
        if let Some(finding) = self.report_at("plan.too-many-aliases", own, span, says, "reading stopped here") {
            finding.put_right = Some("write the values themselves".into());
        }
    }

    pub(super) fn second_document(&mut self, byte: usize) {
        let end = (byte + 3).min(self.source.text.len());
        let start = byte.min(end.saturating_sub(1));
        let span = self.source.span_of(start..end);
        let says = "a second document starts here; only the first was read".to_owned();
        if let Some(finding) = self.report_at("plan.second-document", span, span, says, "not read from here on") {
            finding.put_right = Some("one file holds one plan: move the rest to a file of its own".into());
        }
    }

    pub(super) fn bad_id(&mut self, node: NodeId) {
        let says = "an id is 1 to 64 characters without line breaks or control characters".to_owned();
        if let Some(finding) = self.report("plan.unreadable", node, says, "no id") {
            finding.put_right = Some("write a short name, such as S4".into());
        }
    }

    /// A mistake at a node that its own method does not fit.
    pub(super) fn mistake(&mut self, rule: &'static str, node: NodeId, says: String, label: &str, put_right: &str) {
        if let Some(finding) = self.report(rule, node, says, label) {
            finding.put_right = Some(put_right.into());
        }
    }
}
